//! Repeated peaks stay below half of what melts the fuse in their time.
//!
//! Each peak near the melting curve stretches the element a little; after thousands it opens at a current it
//! once carried. The curve is a mean: single fuses melt some 10 % earlier.
//!
//! Source: "load profile below 50 % of the melting curve", an article on choosing fuses.

use super::fuses::{Words, judge_demand};
use super::{Check, Designed, below};
use crate::design::fuse::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-peak",
    rule: "a peak is at most half of the current that melts the fuse in the same time",
    source: "fuse-load-profile",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |fuse, judged, show| {
            format!(
                "the peak of {} lies {} what fuse {} bears again and again for that time, {}",
                show(judged.value),
                below(judged.verdict, judged.value, judged.limit),
                fuse.row.id,
                show(judged.limit)
            )
        },
        unknown: "whether the peaks tire the fuse",
        to_know: "state the peak of the run and its length: `peak`, `peak-time`",
        to_do: "a larger fuse, or shorter peaks",
    };
    judge_demand(check, designed, Demand::Peak, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_fuse_chosen_holds() {
        holds("fuse-peak", "");
    }

    #[test]
    fn a_peak_too_high_fails() {
        check(
            r#"
            [protection]
            fuse = "gR 200 A"   #! fails fuse-peak; fails fuse-carries; fails fuse-duty
            "#,
        );
    }
}
