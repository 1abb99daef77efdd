//! The cables of a run are measured about equally long.
//!
//! All are cut to the longest, so what a shorter way does not need hangs slack and chafes; a large
//! difference is most often a slip of the tape. Three per cent of the way is what laying a bundle
//! round a corner takes.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "length-spread",
    rule: "the cables of a run are measured within 3 % of each other",
    source: "common-practice",
    judge,
};

const SPREAD_MAX: f64 = 0.03;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let measured = &run.parts.run.lengths_mm;
        let (Some(path), [first, _, ..]) = (run.length.path_mm, measured.as_slice()) else {
            continue;
        };
        let (spread, limit) = (run.length.spread_mm, SPREAD_MAX * path);
        let verdict = Verdict::at_most(spread, limit);
        let message = format!(
            "the cables of run {} differ by {}, {} the usual {}",
            run.id,
            designed.show(spread, Dimension::Length),
            below(verdict, spread, limit),
            designed.show(limit, Dimension::Length),
        );
        let mut finding = check
            .finding(verdict, first.0.at, message)
            .judged(spread, limit, Dimension::Length)
            .about(About::run(run.id));
        if verdict != Verdict::Holds {
            finding = finding.hint("measure again; all cables of a run are cut to the longest");
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_bundle_round_a_corner_holds() {
        holds("length-spread", "");
    }

    #[test]
    fn a_slip_of_the_tape_fails() {
        check(
            r#"
            [run.phases]
            lengths = { U = "2.24 m", V = "2.35 m", W = "2.36 m" }   #! fails length-spread
            "#,
        );
    }
}
