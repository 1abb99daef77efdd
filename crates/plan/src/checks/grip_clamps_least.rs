//! The grip still clamps the thinnest the cable may be.
//!
//! Under its lower limit the seal does not touch all round: it neither holds nor keeps water out. Ranges of
//! grips of one thread differ by a whole size between makers.
//!
//! Source: common practice, no source; the standard for grips sets no clamping ranges.

use physics::units::Dimension;

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "grip-clamps-least",
    rule: "the cable at its thinnest is no thinner than the grip's lower limit",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let (Some(grip), Some(cable)) = (&side.end.grip, side.site.cable) else { continue };
        let at = side.site.at_end(&side.site.given.given.grip);
        let (thinnest, limit) = (cable.diameter_mm_min, grip.clamp_mm_min);
        let message = format!(
            "cable of {} at its thinnest in a grip from {} at {}",
            side.mm(thinnest),
            side.mm(limit),
            side.port()
        );
        notes.find(
            side.find(check, Verdict::kept(thinnest >= limit), at, message)
                .judged(thinnest, limit, Dimension::Length)
                .hint(
                    "take a grip with a lower range, or its reducing seal if the maker has one",
                ),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_grip_over_the_whole_range_holds() {
        holds("grip-clamps-least", "");
    }

    #[test]
    fn a_grip_one_size_up_misses_the_thin_cable() {
        check(
            r#"
            [device.inverter.port.dc.plate]
            grip-pitch = "75 mm"
            [run.dc.to-end]
            grip = "M32x1.5 polyamide 18-25"   #! fails grip-clamps-least
            "#,
        );
    }
}
