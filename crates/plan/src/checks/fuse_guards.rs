//! At every fault the fuse has cleared before the cable is hurt.
//!
//! The greatest fault is the easy one. Towards the least the fuse grows slower faster than the cable's patience grows
//! longer, and where the curves cross the cable protects the fuse.
//!
//! Source: IEC 60364-4-43 (the device breaks before the conductor reaches its limit, memory); IEC 60949 for what the
//! cable bears.

use physics::units::Dimension;

use super::fuses::fused;
use super::{Check, Designed, below};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-guards",
    rule: "between the least and the greatest fault the slowest fuse of the class clears sooner than the cable is hurt",
    source: "iec-60364-4-43",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for circuit in fused(designed) {
        let Some(sheet) = circuit.coordination else { continue };
        // Without the pack `fuse-clears` says what is missing, without the cable `fuse-overload`.
        let Some(guard) = &sheet.guard else { continue };
        let Some(tightest) = guard.tightest else { continue };
        let time = |s| designed.show(s, Dimension::Time);
        let fault = designed.show(tightest.current_a, Dimension::Current);
        let name = &sheet.fuse;
        let mut finding = match (tightest.clears_s, tightest.bears_s) {
            (Some(clears_s), Some(bears_s)) => {
                let verdict = Verdict::at_most(clears_s, bears_s);
                let from = guard.from_a.map_or_else(String::new, |a| {
                    let from = designed.show(a, Dimension::Current);
                    format!("; it protects the cable from {from} on")
                });
                let message = format!(
                    "fuse {name} clears {fault} within {}, {} the {} its cable bears{from}",
                    time(clears_s),
                    below(verdict, clears_s, bears_s),
                    time(bears_s),
                );
                let finding = circuit.finding(check, verdict, &message);
                finding.judged(clears_s, bears_s, Dimension::Time)
            }
            (None, Some(bears_s)) => {
                let bears = time(bears_s);
                let message = format!(
                    "fuse {name} may never clear {fault}, which its cable bears for {bears}"
                );
                circuit.finding(check, Verdict::Fails, &message)
            }
            (_, None) => {
                let message =
                    format!("every fault is one its cable bears for ever, up to {fault}");
                circuit.finding(check, Verdict::Holds, &message)
            }
        };
        if finding.verdict == Verdict::Fails {
            finding = finding.hint("a smaller or faster fuse, or a thicker cable");
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{holds, verdicts};
    use crate::finding::Verdict;

    #[test]
    fn the_fuse_chosen_holds() {
        holds("fuse-guards", "");
    }

    #[test]
    fn a_weak_pack_leaves_the_cable_to_burn() {
        // 403 V / 0.62 ohm is no more than some 630 A: a fuse of 500 A takes minutes, the cable no longer bears it.
        let patch = "[protection]\nfuse = \"gR 500 A\"\nsource-resistance = \"600 mohm\"";
        assert_eq!(verdicts("fuse-guards", patch), [Verdict::Fails]);
    }

    #[test]
    fn an_unknown_pack_is_asked_for_elsewhere() {
        let patch = "[protection]\nsource-resistance = absent";
        assert_eq!(verdicts("fuse-guards", patch), []);
        assert_eq!(verdicts("fuse-clears", patch), [Verdict::Unknown]);
    }
}
