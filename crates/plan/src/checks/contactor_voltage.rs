//! The contactor is rated for the voltage.
//!
//! Above it the arc of opening contacts does not go out.
//!
//! Source: common practice, no source.

use super::contactor_known::{Words, judge_demand};
use super::{Check, Designed};
use crate::design::contactor::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "contactor-voltage",
    rule: "the rated voltage of the contactor is at least the highest voltage",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |contactor, judged, show| {
            let verdict = if judged.value < judged.limit { "less" } else { "no less" };
            format!(
                "contactor {} is rated {}, {verdict} than the highest voltage, {}",
                contactor.row.id,
                show(judged.value),
                show(judged.limit),
            )
        },
        to_do: "a contactor for more volts",
    };
    judge_demand(check, designed, Demand::Voltage, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_contactor_named_holds() {
        holds("contactor-voltage", "");
    }

    #[test]
    fn more_volts_than_it_is_made_for_fail() {
        use super::super::marked::verdicts;
        use crate::finding::Verdict;
        assert_eq!(
            verdicts("contactor-voltage", "[system]\nvoltage-max = \"460 V\""),
            [Verdict::Fails]
        );
        check("");
    }
}
