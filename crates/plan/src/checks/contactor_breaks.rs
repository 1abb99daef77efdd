//! The contactor opens against whatever the fuse leaves to it.
//!
//! The control opens after its time. What the fuse has cleared by then is gone; the greatest current it has not is
//! what the contacts meet. A fast control meets the short circuit itself, and contacts that cannot break it burn.
//!
//! Source: both curves over each other; the maker's breaking current, that of a generic row is typical.

use super::contactor_known::{Words, judge_demand};
use super::{Check, Designed, below};
use crate::design::contactor::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "contactor-breaks",
    rule: "the contactor opens against the greatest current that the fuse has not cleared by then",
    source: "typical-contactor",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |contactor, judged, show| {
            format!(
                "opening may meet {}, {} the {} that contactor {} breaks",
                show(judged.value),
                below(judged.verdict, judged.value, judged.limit),
                show(judged.limit),
                contactor.row.id,
            )
        },
        to_do: "a control that waits for the fuse at such currents, `trip-time`; or a contactor that breaks more",
    };
    judge_demand(check, designed, Demand::Breaks, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_control_that_waits_for_the_fuse_holds() {
        holds("contactor-breaks", "");
    }

    #[test]
    fn a_control_faster_than_the_fuse_fails() {
        check(
            r#"
            [protection]
            contactor = "contactor-450 250 A"   #! fails contactor-breaks
            trip-time = "5 ms"
            "#,
        );
    }
}
