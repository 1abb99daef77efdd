//! Under the groove enough plate is left.
//!
//! A floor under 2 mm bulges under the ring's load and the bolts, and a cutter's slip goes through it.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::plates;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "groove-depth",
    rule: "2 mm of plate or more are left under the groove",
    source: "common-practice",
    judge,
};

const FLOOR_MM: f64 = 2.0;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let (Some(depth), Some(thickness)) =
            (&fitted.given.groove_depth_mm, fitted.plate.thickness_mm)
        else {
            continue;
        };
        let floor = thickness - depth.value;
        let message = format!(
            "groove {} deep leaves {} of the plate of {}",
            fitted.mm(depth.value),
            fitted.mm(floor),
            fitted.name()
        );
        notes.find(
            fitted
                .find(check, Verdict::at_least(floor, FLOOR_MM), depth.at, message)
                .judged(floor, FLOOR_MM, Dimension::Length)
                .hint("take a thicker plate or a thinner ring"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::fails;

    #[test]
    fn a_thick_plate_holds() {
        holds("groove-depth", "");
    }

    #[test]
    fn a_thin_plate_fails() {
        let patch = "[device.inverter.port.dc.plate]\nthickness = \"4 mm\"";
        fails("groove-depth", "groove-depth", patch);
    }
}
