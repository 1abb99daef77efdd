//! The spacer block keeps its walls: between bores, slots and edges, and under its threads.
//!
//! Source: 3 mm, common practice, no source; slots by the creepage of IEC 60664-1.

use super::view::plates;
use super::{Check, Designed};
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
        let worst = block.proofs.iter().min_by(|a, b| a.spare_mm().total_cmp(&b.spare_mm()));
        if let Some(proof) = worst {
            let found = fitted.judged(check, proof, given.at);
            notes.find(found.hint("a thicker block, or its bolts farther from the terminals"));
        }
    }
}
