//! The way along the spacer block, from terminal to terminal and from each to the earthed fixings, is long enough.
//!
//! A slot lengthens the way between two pads by twice its depth. To a fixing the way is counted straight, from the pad's
//! edge to the rim of its counterbore.
//!
//! Source: IEC 60664-1, table F.5; basic insulation.

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "block-creepage",
    rule: "the way along a spacer block, between its terminals and to its fixings, is no less than the creepage the voltage needs",
    source: "iec-60664-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let (Some(block), Some(given)) = (&fitted.plate.block, &fitted.port.port.block) else {
            continue;
        };
        if let Some(proof) = block.tightest(&[Rule::Creepage]) {
            let at = given.bolt_at.first().map_or(given.at, |(_, at)| at.at);
            let found = fitted.judged(check, proof, at).safety();
            notes.find(found.hint("put the block's bolts farther from the terminals"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    fn block(fixing: &str) -> String {
        format!(
            "{FACED}[device.motor.port.phases.block]\nthickness = \"22 mm\"\nbolt-at = {{ F1 = \"{fixing}\", F2 = \"76 mm, 2 mm\" }}\n"
        )
    }

    #[test]
    fn fixings_away_from_the_terminals_hold() {
        holds("block-creepage", &block("-72 mm, 6 mm"));
    }

    #[test]
    fn a_fixing_beside_a_terminal_fails() {
        fails("block-creepage", "bolt-at", &block("-66 mm, 6 mm"));
    }
}
