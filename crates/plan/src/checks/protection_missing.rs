//! Every DC run is protected by a fuse.
//!
//! The pack drives thousands of amperes into a short, and no electronics stops it. A fuse inside the pack that
//! protects the run counts: state it.
//!
//! Source: common practice, no source.

use super::{Check, Designed};
use crate::finding::{About, Notes, Verdict};
use crate::given::build::Carries;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "protection-missing",
    rule: "every DC run is protected",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs().filter(|r| r.parts.carries == Carries::Dc) {
        let protected = designed.protection.is_some_and(|p| p.run == run.id);
        let (verdict, message) = if protected {
            (Verdict::Holds, format!("run {} is protected", run.id))
        } else {
            (Verdict::Unknown, format!("nothing is said about what protects run {}", run.id))
        };
        let mut finding =
            check.finding(verdict, run.parts.run.id.at, message).about(About::run(run.id));
        if !protected {
            finding = finding
                .hint("describe the fuse it has, or leave it to be chosen: [protection]")
                .safety();
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, holds, planned};
    use crate::finding::Verdict;

    #[test]
    fn a_protected_run_holds() {
        holds("protection-missing", "");
    }

    #[test]
    fn a_run_without_protection_keeps_the_book_back() {
        let (before, after) = BASE.split_once("[protection]").unwrap();
        let prices = after.split_once("[prices]").map_or("", |(_, p)| p);
        let plan = planned(&format!("{before}[prices]{prices}"));
        let found = plan.findings.iter().find(|f| f.code == "protection-missing").unwrap();
        assert!(found.verdict == Verdict::Unknown && found.safety);
        assert!(plan.protection.is_none() && !plan.for_building());
    }
}
