//! The contactor carries the load, for ever and in every window.
//!
//! Closed contacts are a resistor: too warm, their springs soften, their force falls and they grow warmer still.
//!
//! Source: the maker's carrying curve; that of a generic row is typical.

use super::contactor_known::{Words, judge_demand};
use super::{Check, Designed, below};
use crate::design::contactor::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "contactor-carries",
    rule: "the continuous current and every window of the duty are at most what the contactor carries so long",
    source: "typical-contactor",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |contactor, judged, show| {
            format!(
                "the load of {} lies {} the {} that contactor {} carries so long",
                show(judged.value),
                below(judged.verdict, judged.value, judged.limit),
                show(judged.limit),
                contactor.row.id,
            )
        },
        to_do: "a larger contactor",
    };
    judge_demand(check, designed, Demand::Carries, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_contactor_named_holds() {
        holds("contactor-carries", "");
    }

    #[test]
    fn a_small_one_fails() {
        check(
            r#"
            [protection]
            contactor = "contactor-450 150 A"   #! fails contactor-carries
            "#,
        );
    }
}
