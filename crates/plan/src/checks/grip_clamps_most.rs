//! The grip goes over the thickest the cable may be.
//!
//! Source: common practice, no source; the standard for grips sets no clamping ranges.

use physics::units::Dimension;

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "grip-clamps-most",
    rule: "the cable at its thickest is no thicker than the grip's upper limit",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let (Some(grip), Some(cable)) = (&side.end.grip, side.site.cable) else { continue };
        let at = side.site.at_end(&side.site.given.given.grip);
        let (thickest, limit) = (cable.diameter_mm_max, grip.clamp_mm_max);
        let message = format!(
            "cable of {} at its thickest in a grip up to {} at {}",
            side.mm(thickest),
            side.mm(limit),
            side.port()
        );
        notes.find(
            side.find(check, Verdict::kept(thickest <= limit), at, message)
                .judged(thickest, limit, Dimension::Length)
                .hint(
                    "take a grip with a higher range, and check its thread against the plate",
                ),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_grip_over_the_whole_range_holds() {
        holds("grip-clamps-most", "");
    }

    #[test]
    fn a_grip_too_small_fails() {
        check(
            r#"
            [run.dc.to-end]
            grip = "M20x1.5 brass 6.5-14"   #! fails grip-clamps-most
            "#,
        );
    }
}
