//! The main contactor is known, and what the checks of it have in common.
//!
//! It is the switch that everything else relies on, and the one part whose failure nobody sees: welded contacts look
//! like closed ones.
//!
//! Source: common practice, no source.

use super::{Check, Designed};
use crate::design::contactor::{Demand, smallest};
use crate::design::fuse::Judged;
use crate::finding::{About, Notes, Verdict};
use crate::given::shelf::Contactor;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "contactor-known",
    rule: "the main contactor is named",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let Some((given, protected)) = designed.protected() else { return };
    let about = About::run(&protected.run);
    if let Some(contactor) = &protected.contactor {
        let at = given.contactor.as_ref().map_or(given.at, |c| c.at);
        let message = format!("run {} is switched by {}", protected.run, contactor.row.id);
        notes.find(check.finding(Verdict::Holds, at, message).about(about));
        return;
    }
    // A name that is on no shelf has been found already.
    if given.contactor.is_some() {
        return;
    }
    let message = format!("the contactor of run {} is not known", protected.run);
    let found = smallest(&designed.parts.shelf.contactors, &protected.contactor_asked);
    let hint = found.map_or_else(
        || "name the battery's: `contactor`; one of its maker's goes into parts.toml".to_owned(),
        |c| {
            format!(
                "name the battery's: `contactor`; what is known here asks for the like of \"{}\"",
                c.row.id
            )
        },
    );
    notes.find(check.finding(Verdict::Unknown, given.at, message).hint(hint).about(about));
}

/// What a check of one demand says.
pub(super) struct Words {
    /// The judgement in one sentence.
    pub(super) says: fn(&Contactor, &Judged, &dyn Fn(f64) -> String) -> String,
    /// What to do where it fails.
    pub(super) to_do: &'static str,
}

/// Judges one demand on the contactor, if one is named.
pub(super) fn judge_demand(
    check: &Check,
    designed: &Designed<'_>,
    demand: Demand,
    words: &Words,
    notes: &mut Notes,
) {
    let Some((given, protected)) = designed.protected() else { return };
    let Some(contactor) = &protected.contactor else { return };
    let at = given.contactor.as_ref().map_or(given.at, |c| c.at);
    let about = About::run(&protected.run);
    let Some(judged) = protected.contactor_asked.judge(demand, contactor) else {
        // All else that may be missing is asked for by the checks of fuse and pre-charge.
        if demand == Demand::Breaks && protected.trip.is_none() {
            let message = "what current the contactor has to break is not known".to_owned();
            let finding = check.finding(Verdict::Unknown, given.at, message);
            let finding =
                finding.hint("state when the control opens it: `trip-current` and `trip-time`");
            notes.find(finding.about(about));
        }
        return;
    };
    let message =
        (words.says)(contactor, &judged, &|value| designed.show(value, judged.dimension));
    let mut finding = check
        .finding(judged.verdict, at, message)
        .judged(judged.value, judged.limit, judged.dimension)
        .about(about);
    if judged.verdict == Verdict::Fails {
        finding = finding.hint(words.to_do);
    }
    notes.find(finding);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, check, holds, merge, planned};

    #[test]
    fn the_contactor_named_holds() {
        holds("contactor-known", "");
    }

    #[test]
    fn none_named_is_unknown_and_one_is_offered() {
        check(
            r#"
            [protection]   #! unknown contactor-known
            contactor = absent
            "#,
        );
        let plan = planned(&merge(BASE, "[protection]\ncontactor = absent"));
        let found = plan.findings.iter().find(|f| f.code == "contactor-known").unwrap();
        assert!(found.hint.as_ref().unwrap().contains("contactor-450 250 A"), "{found:?}");
    }

    #[test]
    fn a_name_on_no_shelf_is_told_once() {
        check(
            r#"
            [protection]
            contactor = "contactor-450 260 A"   #! fails part-exists
            "#,
        );
    }
}
