//! The magnetic field at a named point stays below what active implants are held to bear.
//!
//! 0.5 mT standing, and 1999/519/EC alternating: up to there a pacemaker is expected to work undisturbed, though only
//! its maker knows. Above, nobody with an implant sits there before its maker was asked.
//!
//! Source: ICNIRP 2009; that implants are tested up to 1999/519/EC is from memory.

use physics::units::Dimension;

use super::view::percent;
use super::{Check, Designed};
use crate::design::field::Levels;
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "field-implants",
    rule: "the magnetic field at a named point stays below 0.5 mT standing and 1999/519/EC alternating, for people with implants",
    source: "icnirp-2009",
    judge,
};

/// What is said whether or not the numbers are low.
const ASK: &str =
    "a person with a pacemaker or another implant keeps away until its maker has been asked";

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for point in designed.field {
        let share = point.implants();
        let judged = Verdict::at_most(share, 1.0);
        let known = point.is_known() || judged == Verdict::Fails;
        let message = format!(
            "implants at {}: {}{} standing, where 0.5 mT disturb none as a rule, and {} of 1999/519/EC alternating",
            point.name,
            if known { "" } else { "at least " },
            designed.show(point.standing_ut(), Dimension::FluxDensity),
            percent(point.alternating(Levels::Recommendation)),
        );
        let verdict = if known { judged } else { Verdict::Unknown };
        notes.find(
            check
                .finding(verdict, point.at, message)
                .judged(share, 1.0, Dimension::Ratio)
                .hint(ASK),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::field_known::tests::SEAT;
    use super::super::marked::{BASE, merge, planned};
    use super::super::view::seen::{fails, unknown};
    use crate::finding::Verdict;

    #[test]
    fn far_away_holds() {
        let plan = planned(&merge(BASE, SEAT));
        let found = plan.findings.iter().find(|f| f.code == "field-implants").unwrap();
        assert_eq!(found.verdict, Verdict::Holds, "{}", found.message);
    }

    #[test]
    fn direct_current_against_the_chest_fails() {
        let patch = format!(
            "{SEAT}\n[field.point.seat]\ndistances = {{ phases = \"1.2 m\", dc = \"35 mm\" }}"
        );
        let found = fails("field-implants", "[field.point.seat]", &patch);
        assert!(found.hint.unwrap().contains("pacemaker"));
    }

    #[test]
    fn an_unknown_run_leaves_it_unknown() {
        let patch = format!("{SEAT}\n[field.point.seat]\ndistances = {{ dc = \"0.9 m\" }}");
        unknown("field-implants", "[field.point.seat]", &patch);
    }
}
