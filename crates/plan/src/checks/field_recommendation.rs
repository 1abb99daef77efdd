//! The magnetic field at a named point stays below the reference level that authorities in Europe recommend.
//!
//! 1999/519/EC has the levels of 1998: down to a sixteenth of the guideline of 2010 where motors turn.
//!
//! Source: 1999/519/EC.

use super::field_levels::judge_levels;
use super::{Check, Designed};
use crate::design::field::Levels;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "field-recommendation",
    rule: "the magnetic field at a named point stays below the reference levels of 1999/519/EC",
    source: "ec-1999-519",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    judge_levels(check, designed, Levels::Recommendation, notes);
}

#[cfg(test)]
mod tests {
    use super::super::field_known::tests::SEAT;
    use super::super::marked::{BASE, merge, planned};
    use super::super::view::seen::fails;
    use crate::finding::Verdict;

    fn of(patch: &str, code: &str) -> Verdict {
        let plan = planned(&merge(BASE, patch));
        plan.findings.iter().find(|f| f.code == code).unwrap().verdict
    }

    #[test]
    fn far_away_holds() {
        assert_eq!(of(SEAT, "field-recommendation"), Verdict::Holds);
    }

    #[test]
    fn it_is_stricter_than_the_guideline() {
        let patch = format!(
            "{SEAT}\n[field.point.seat]\ndistances = {{ phases = \"300 mm\", dc = \"0.9 m\" }}"
        );
        fails("field-recommendation", "[field.point.seat]", &patch);
        assert_eq!(of(&patch, "field-guideline"), Verdict::Holds);
    }
}
