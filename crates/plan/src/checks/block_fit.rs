//! The spacer block goes in through the opening of the surveyed face, and has as many bolts as places for them.
//!
//! Half a millimetre of play all around, and three standard deviations of the survey.
//!
//! Source: common practice, no source.

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "block-fit",
    rule: "the spacer block goes in through the opening, with a place for each of its bolts",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let (Some(block), Some(given)) = (&fitted.plate.block, &fitted.port.port.block) else {
            continue;
        };
        if let Some(proof) = block.tightest(&[Rule::Fit]) {
            let at = given.bolt_at.first().map_or(given.at, |(_, at)| at.at);
            let found = fitted.judged(check, proof, at);
            notes.find(found.hint("bring the block's bolts nearer to the terminals"));
        }
        let (Some(count), places) = (&given.bolt_count, given.bolt_at.len() as u32) else {
            continue;
        };
        if places > 0 && places != count.value {
            let message = format!(
                "the block of {} has {places} places for bolts, `bolt-count` says {}",
                fitted.name(),
                count.value
            );
            let found = fitted.find(check, Verdict::Fails, count.at, message);
            notes.find(found.hint("count again, or correct `bolt-at`"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    fn block(second: &str, count: u32) -> String {
        format!(
            "{FACED}[device.motor.port.phases.block]\nbolt-count = {count}\nthickness = \"22 mm\"\nbolt-at = {{ F1 = \"-68 mm, 6 mm\", F2 = \"{second}\" }}\n"
        )
    }

    #[test]
    fn a_block_within_the_opening_holds() {
        holds("block-fit", &block("74 mm, 2 mm", 2));
    }

    #[test]
    fn a_block_wider_than_the_opening_fails() {
        fails("block-fit", "bolt-at", &block("84 mm, 2 mm", 2));
    }

    #[test]
    fn another_number_of_places_fails() {
        fails("block-fit", "bolt-count", &block("74 mm, 2 mm", 4));
    }
}
