//! The spacer block keeps its walls: between bores, slots and edges, and under its threads.
//!
//! Source: 3 mm, common practice, no source; slots by the creepage of IEC 60664-1.

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "block-wall",
    rule: "3 mm of the block stand between bores, slots and edges",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let (Some(block), Some(given)) = (&fitted.plate.block, &fitted.port.port.block) else {
            continue;
        };
        let rules = [Rule::EdgeDistance, Rule::GripWall, Rule::Thickness];
        if let Some(proof) = block.tightest(&rules) {
            let found = fitted.judged(check, proof, given.at);
            notes.find(found.hint("a thicker block, or its bolts farther from the terminals"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    fn block(thickness: &str) -> String {
        format!(
            "{FACED}[device.motor.port.phases.block]\nthickness = \"{thickness}\"\nbolt-at = {{ F1 = \"-72 mm, 6 mm\", F2 = \"76 mm, 2 mm\" }}\n"
        )
    }

    #[test]
    fn a_thick_block_holds() {
        holds("block-wall", &block("22 mm"));
    }

    #[test]
    fn a_block_thinner_than_its_threads_fails() {
        fails("block-wall", "block", &block("12 mm"));
    }
}
