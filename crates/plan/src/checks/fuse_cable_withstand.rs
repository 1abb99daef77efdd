//! The cable survives what the fuse lets through.
//!
//! From its limit, the conductor may reach the short-circuit temperature of its insulation and no more before the
//! fuse has cleared. The clearing integral counts, or the least fault for as long as it melts, whichever is more.
//!
//! Source: IEC 60949, adiabatic heating; IEC 60724 for the temperatures.

use super::fuses::{Words, judge_demand};
use super::{Check, Designed, below};
use crate::design::fuse::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-cable-withstand",
    rule: "what the fuse lets through is at most k2 S2 of the cable",
    source: "iec-60949",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |fuse, judged, show| {
            format!(
                "fuse {} lets through {}, {} the {} the cable withstands",
                fuse.row.id,
                show(judged.value),
                below(judged.verdict, judged.value, judged.limit),
                show(judged.limit)
            )
        },
        unknown: "whether the cable withstands a fault",
        to_know: "settle the cable first: current, air and length of the run",
        to_do: "a thicker cable, or a faster fuse",
    };
    judge_demand(check, designed, Demand::Withstand, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{holds, verdicts};
    use crate::finding::Verdict;

    #[test]
    fn the_fuse_chosen_holds() {
        holds("fuse-cable-withstand", "");
    }

    #[test]
    fn a_thin_cable_behind_a_slow_melt_fails() {
        // 537 A melt gR 250 A in about half a minute: 8e6 A2s against 3e6 A2s of 6 AWG.
        let patch = "[protection]\nsource-resistance = \"750 mohm\"\nfuse = \"gR 250 A\"\n\
                     [run.dc]\nconductor = \"6 AWG\"\ncurrent = \"80 A\"\npeak = \"100 A\"";
        assert_eq!(verdicts("fuse-cable-withstand", patch), [Verdict::Fails]);
    }
}
