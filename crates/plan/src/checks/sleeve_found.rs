//! An adhesive-lined sleeve exists that passes over the cable and the barrel and shrinks onto both.
//!
//! Source: common practice, no source.

use super::view::sides;
use super::{Check, Designed};
use crate::design::ends::sleeve_span_mm;
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "sleeve-found",
    rule: "every crimp has a sleeve that passes over cable and barrel and shrinks onto both",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let given = &side.site.given.given.sleeve;
        let at = side.site.at_end(given);
        if let Some(fit) = &side.end.sleeve {
            let message = format!("sleeve {} at {}", fit.sleeve.row.id, side.port());
            notes.find(side.find(check, Verdict::Holds, at, message));
            continue;
        }
        let Some(lug) = &side.end.lug else { continue };
        let Some([passed, gripped]) = sleeve_span_mm(&side.site, lug) else { continue };
        if given.is_some() {
            // A name that leads nowhere is a finding of the look-up.
            continue;
        }
        let message = format!(
            "no lined sleeve on the shelf passes over {} and shrinks to {} at {}",
            side.mm(passed),
            side.mm(gripped),
            side.port()
        );
        notes.find(
            side.find(check, Verdict::Fails, at, message)
                .hint("add one with a higher ratio to parts.toml and name it in `sleeve`"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, holds, merge, planned};
    use crate::given::document::read;
    use crate::given::shelf_read::standard;

    #[test]
    fn a_sleeve_is_found() {
        holds("sleeve-found", "");
    }

    #[test]
    fn a_shelf_without_lined_sleeves_fails() {
        let mut shelf = standard().clone();
        shelf.sleeves.retain(|s| !s.adhesive);
        let plan = crate::plan(&read(BASE).build, &shelf);
        let failing = plan.findings.iter().filter(|f| f.code == "sleeve-found");
        assert_eq!(failing.filter(|f| f.verdict.word() == "fails").count(), 4);
        assert!(plan.ends.iter().all(|e| e.sleeve.is_none()));
        // A thin sleeve may still be named, and is judged as one.
        let named = planned(&merge(BASE, "[run.dc.from-end]\nsleeve = \"2:1 25.4/12.7\""));
        assert!(named.ends.iter().any(|e| {
            e.sleeve.as_ref().is_some_and(|s| s.sleeve.row.id == "2:1 25.4/12.7")
        }));
    }
}
