//! The groove is wider than the squeezed ring.
//!
//! The ring is pressed to an oblong with flat sides: width = t + pi/4 (d^2 - t^2) / t, at the thickest section and
//! the least depth. A groove that pinches it rolls and nips it as the plate comes down.
//!
//! Source: geometry of a section that keeps its area (common practice, no source).

use std::f64::consts::FRAC_PI_4;

use physics::units::Dimension;

use super::view::plates;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "groove-width",
    rule: "the groove is wider than the squeezed ring",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let Some(seal) = &fitted.plate.seal else { continue };
        let section = seal.oring.section_mm + seal.oring.section_tol_mm;
        let depth = seal.groove_depth_mm - seal.groove_tolerance_mm;
        let squeezed = squeezed_width_mm(section, depth);
        let message = format!(
            "groove of {} at {}, the squeezed ring is {} wide",
            fitted.mm(seal.groove_width_mm),
            fitted.name(),
            fitted.mm(squeezed)
        );
        let wide = seal.groove_width_mm >= squeezed;
        notes.find(
            fitted
                .find(
                    check,
                    Verdict::kept(wide),
                    fitted.at(&fitted.given.groove_width_mm),
                    message,
                )
                .judged(seal.groove_width_mm, squeezed, Dimension::Length)
                .hint("cut the groove wider"),
        );
    }
}

/// Width of a round section pressed to a depth: an oblong of the same area.
fn squeezed_width_mm(section_mm: f64, depth_mm: f64) -> f64 {
    if depth_mm >= section_mm || depth_mm <= 0.0 {
        return section_mm;
    }
    // w = t + pi/4 (d^2 - t^2) / t
    depth_mm + FRAC_PI_4 * (section_mm * section_mm - depth_mm * depth_mm) / depth_mm
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::fails;
    use super::squeezed_width_mm;
    use physics::laws::oring::FACE_GROOVES;

    #[test]
    fn a_wide_groove_holds() {
        holds("groove-width", "");
    }

    #[test]
    fn a_groove_that_pinches_fails() {
        let patch = "[device.inverter.port.dc.plate]\ngroove-width = \"4 mm\"";
        fails("groove-width", "groove-width", patch);
    }

    #[test]
    fn published_grooves_are_wider_than_their_squeezed_rings() {
        // Face grooves of a seal maker's design table (read): no published groove may pinch its ring.
        for row in FACE_GROOVES {
            let squeezed = squeezed_width_mm(row.section_mm, row.depth_mm.0);
            assert!(squeezed < row.width_mm.0, "{}: {squeezed}", row.section_mm);
        }
    }

    #[test]
    fn the_oblong_keeps_the_area() {
        use std::f64::consts::FRAC_PI_4;
        let (d, t) = (3.53, 2.64);
        let w = squeezed_width_mm(d, t);
        let area = t * (w - t) + FRAC_PI_4 * t * t;
        assert!((area - FRAC_PI_4 * d * d).abs() < 1e-12);
    }
}
