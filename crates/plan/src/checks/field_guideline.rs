//! The magnetic field at a named point stays below the reference level of today's guideline.
//!
//! ICNIRP 2010 for what alternates, summed over frequencies as shares of their levels; ICNIRP 2009 for what stands.
//! Above a level nothing is broken yet: it is where measuring and a closer look begin, and the book waits for that.
//!
//! Source: ICNIRP 2010 and 2009.

use super::field_levels::judge_levels;
use super::{Check, Designed};
use crate::design::field::Levels;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "field-guideline",
    rule: "the magnetic field at a named point stays below the reference levels of ICNIRP 2010 and 2009",
    source: "icnirp-2010",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    judge_levels(check, designed, Levels::Guideline, notes);
}

#[cfg(test)]
mod tests {
    use super::super::field_known::tests::SEAT;
    use super::super::marked::{BASE, merge, planned};
    use super::super::view::seen::fails;
    use crate::finding::Verdict;

    #[test]
    fn far_away_holds() {
        let plan = planned(&merge(BASE, SEAT));
        let found = plan.findings.iter().find(|f| f.code == "field-guideline").unwrap();
        assert_eq!(found.verdict, Verdict::Holds, "{}", found.message);
        assert!(found.value.unwrap().value > 0.0);
    }

    #[test]
    fn against_the_cables_fails() {
        let patch = format!(
            "{SEAT}\n[field.point.seat]\ndistances = {{ phases = \"60 mm\", dc = \"0.9 m\" }}"
        );
        fails("field-guideline", "[field.point.seat]", &patch);
    }
}
