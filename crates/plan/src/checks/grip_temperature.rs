//! The cable is not hotter than the seal of its grip bears.
//!
//! A seal that is too hot hardens and takes a set; the box is then open to water. The surface of the cable
//! along the run is taken: the plate usually makes it a little cooler.
//!
//! Source: the limit is that of the grip on the shelf, its maker's.

use super::end_warmth::{Warm, bears};
use super::{Check, Designed};
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "grip-temperature",
    rule: "the cable's surface stays below what the seal of its grip bears",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let warm = Warm {
        what: "the surface",
        reaches_c: |heat| heat.surface_c,
        of: "its grip",
        limit_c: |end| end.grip.as_ref().map(|g| g.limit_c),
        given: |given| &given.grip,
        hint: "take a grip with a seal for more, or a thicker cable",
    };
    bears(check, designed, &warm, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, merge, planned};
    use crate::finding::Verdict;

    fn verdicts(patch: &str) -> Vec<Verdict> {
        let plan = planned(&merge(BASE, patch));
        let mine = plan.findings.iter().filter(|f| f.code == "grip-temperature");
        mine.filter(|f| f.about.run.as_deref() == Some("dc")).map(|f| f.verdict).collect()
    }

    #[test]
    fn a_cool_cable_holds() {
        let verdicts = verdicts("[run.dc]\ncurrent = \"60 A\"");
        assert!(!verdicts.is_empty() && verdicts.iter().all(|v| *v == Verdict::Holds));
    }

    #[test]
    fn a_hot_cable_fails() {
        let verdicts =
            verdicts("[run.dc]\nconductor = \"6 AWG\"\ncurrent = \"130 A\"\nair = \"75 degC\"");
        assert!(!verdicts.is_empty() && verdicts.iter().all(|v| *v == Verdict::Fails));
    }
}
