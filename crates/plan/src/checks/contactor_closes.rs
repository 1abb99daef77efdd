//! The contactor closes on no more than it can close on.
//!
//! What voltage the pre-charge leaves drives a current through the bouncing contacts that only the pack's resistance
//! limits; above what they make, they weld. A discharge resistor that stays across the link leaves some for ever.
//!
//! Source: Ohm's law; the maker's making current, that of a generic row is typical.

use super::contactor_known::{Words, judge_demand};
use super::{Check, Designed, below};
use crate::design::contactor::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "contactor-closes",
    rule: "what the pre-charge leaves drives no more current through the closing contacts than they make",
    source: "typical-contactor",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |contactor, judged, show| {
            format!(
                "closing meets {}, {} the {} that contactor {} makes",
                show(judged.value),
                below(judged.verdict, judged.value, judged.limit),
                show(judged.limit),
                contactor.row.id,
            )
        },
        to_do: "a longer pre-charge, or a smaller pre-charge resistor beside the discharge resistor",
    };
    judge_demand(check, designed, Demand::Closes, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{holds, verdicts};
    use crate::finding::Verdict;

    #[test]
    fn a_complete_precharge_holds() {
        holds("contactor-closes", "");
    }

    #[test]
    fn a_short_precharge_welds() {
        let patch = "[protection]\nprecharge-time = \"30 ms\"";
        assert_eq!(verdicts("contactor-closes", patch), [Verdict::Fails]);
    }

    #[test]
    fn a_discharge_resistor_alone_can_do_it() {
        // 47 ohm and 300 ohm divide 403 V so that 54.6 V stand for ever: 642 A through 85 mohm.
        let patch =
            "[protection]\ndischarge-resistance = \"300 ohm\"\nprecharge-time = \"10 s\"";
        assert_eq!(verdicts("contactor-closes", patch), [Verdict::Fails]);
    }
}
