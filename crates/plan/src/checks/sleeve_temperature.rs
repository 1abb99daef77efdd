//! The conductor is not hotter than the sleeve over its barrel bears.
//!
//! The sleeve sits on the bare barrel, which is about as warm as the conductor.
//!
//! Source: the limit is that of the sleeve on the shelf, its maker's.

use super::end_warmth::{Warm, bears};
use super::{Check, Designed};
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "sleeve-temperature",
    rule: "the conductor stays below what the sleeve over its barrel bears",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let warm = Warm {
        what: "the conductor",
        reaches_c: |heat| heat.conductor_c,
        of: "its sleeve",
        limit_c: |end| end.sleeve.as_ref().map(|s| s.sleeve.limit_c),
        given: |given| &given.sleeve,
        hint: "take a sleeve for more, or a thicker cable",
    };
    bears(check, designed, &warm, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, merge, planned};
    use crate::finding::Verdict;

    fn verdicts(patch: &str) -> Vec<Verdict> {
        let plan = planned(&merge(BASE, patch));
        let mine = plan.findings.iter().filter(|f| f.code == "sleeve-temperature");
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
