//! The head form exists in the thread, so that the tool is known.
//!
//! A spanner size never follows from the thread: M8 heads of 10, 12 and 13 mm across flats all occur.
//!
//! Source: ISO 4014, ISO 4017, ISO 4162, ISO 4762.

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};
use crate::given::build::Landing;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "bolt-head",
    rule: "the head form is made in the bolt's thread, so that the tool is known",
    source: "iso-4017",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(head(check, &side));
    }
}

fn head(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let thread = side.site.thread()?.designation();
    let shelf = side.site.parts.shelf;
    let given = &side.site.given.given.head;
    let at = side.site.at_end(given);
    if side.site.landing() == Landing::Stud {
        return Some(nut(check, side, &thread));
    }
    let form = given.as_ref().map_or("hex", |h| h.value.as_str());
    let found = shelf.bolts.iter().find(|b| b.form == form && b.thread == thread);
    let Some(bolt) = found else {
        let made: Vec<&str> = shelf
            .bolts
            .iter()
            .filter(|b| b.thread == thread)
            .map(|b| b.form.as_str())
            .collect();
        let message = format!("there is no head `{form}` in {thread} for {}", side.port());
        let hint = if made.is_empty() {
            format!("put a bolt of {thread} into parts.toml")
        } else {
            format!("heads in {thread} are {}", made.join(", "))
        };
        return Some(side.find(check, Verdict::Fails, at, message).hint(hint));
    };
    let tool = if form == "socket" { "key" } else { "spanner" };
    let message =
        format!("{form} {thread} at {}: {tool} {}", side.port(), side.mm(bolt.flats_mm));
    Some(side.find(check, Verdict::Holds, at, message))
}

fn nut(check: &Check, side: &Side<'_>, thread: &str) -> Finding {
    let nuts = &side.site.parts.shelf.nuts;
    let given = &side.site.given.given.head;
    let at = side.site.at_end(given);
    let form = given.as_ref().map_or("hex", |h| h.value.as_str());
    let made: Vec<_> = nuts.iter().filter(|n| n.thread == thread).collect();
    let Some(nut) = made.iter().find(|n| n.form == form) else {
        let message = format!("there is no nut `{form}` in {thread} for {}", side.port());
        let forms: Vec<&str> = made.iter().map(|n| n.form.as_str()).collect();
        let hint = if forms.is_empty() {
            format!("put a nut of {thread} into parts.toml")
        } else {
            format!("nuts in {thread} are {}", forms.join(", "))
        };
        return side.find(check, Verdict::Fails, at, message).hint(hint);
    };
    let message =
        format!("{form} nut {thread} at {}: spanner {}", side.port(), side.mm(nut.flats_mm));
    side.find(check, Verdict::Holds, at, message)
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, check, holds, planned};

    #[test]
    fn a_known_head_names_its_tool() {
        holds("bolt-head", "");
        // Common practice: M8 heads of 12 and of 13 mm across flats both occur.
        let plan = planned(BASE);
        let said = |words: &str| plan.findings.iter().any(|f| f.message.contains(words));
        assert!(said("hex-small M8 at inverter.phases: spanner 12.0 mm"));
        assert!(said("hex M8 at motor.phases: spanner 13.0 mm"));
    }

    #[test]
    fn a_nut_that_is_not_made_fails() {
        check(
            r#"
            [run.dc.from-end]
            head = "socket"   #! fails bolt-head
            "#,
        );
    }

    #[test]
    fn a_head_that_is_not_made_fails() {
        check(
            r#"
            [run.phases.to-end]
            head = "wing"   #! fails bolt-head
            "#,
        );
    }
}
