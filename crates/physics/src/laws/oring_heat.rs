//! An O-ring in its groove when cold and when hot: rubber shrinks and grows ten times as much as metal.
//!
//! d' = d √(1 + 3 α ΔT)      section, its length held by the groove's wall, so that all the volume goes there
//! t' = t (1 + α_m ΔT)       groove
//!
//! Range   −60 to 200 °C, away from the compound's glass transition.
//! Source  "A volumetric shrinkage of six percent results in only three percent linear shrinkage when the inside
//!         diameter is held" (a seal handbook, read); expansions of compounds from memory: NBR 112, EPDM and HNBR
//!         120 to 160, FKM 160, silicone 180 to 210, all 1e-6/K.
//! Caveat  Swell in oil and coolant adds to the fill; set, which a ring takes with time, takes from the squeeze.

use super::oring;
use std::f64::consts::FRAC_PI_4;

/// Linear expansion taken where the compound is not known: FKM, more than most (memory).
pub const EXPANSION_PER_K: f64 = 160e-6;
/// Temperatures between which a vehicle's seal is judged, degC (common practice, no source).
pub const BETWEEN_C: (f64, f64) = (-40.0, 100.0);
/// Temperature of the drawing.
const DRAWN_C: f64 = 20.0;

/// A seal cold and hot, with every tolerance against it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// Least squeeze, cold.
    pub squeeze_cold: f64,
    /// Most fill, hot.
    pub fill_hot: f64,
}

/// Section at a temperature, from that at 20 degC.
pub fn section_mm(section_mm: f64, expansion_per_k: f64, at_c: f64) -> f64 {
    section_mm * (1.0 + 3.0 * expansion_per_k * (at_c - DRAWN_C)).max(0.0).sqrt() // d √(1 + 3 α ΔT)
}

/// Squeeze when cold and fill when hot. `section_mm` with its tolerance; the groove's depth, tolerance and width;
/// the ring's stretch; the metal's expansion per K. None where a size makes no sense.
pub fn swing(
    (section, section_tol): (f64, f64),
    (depth, depth_tol, width): (f64, f64, f64),
    stretch: f64,
    metal_per_k: f64,
) -> Option<Swing> {
    let sound = section > section_tol && depth > depth_tol && width > 0.0 && stretch > -1.0;
    if !sound || section_tol < 0.0 || depth_tol < 0.0 {
        return None;
    }
    let (cold_c, hot_c) = BETWEEN_C;
    let thin = 1.0 - oring::section_loss(stretch);
    let metal = |mm: f64, at_c: f64| mm * (1.0 + metal_per_k * (at_c - DRAWN_C)); // t (1 + α_m ΔT)
    let least = section_mm((section - section_tol) * thin, EXPANSION_PER_K, cold_c);
    let most = section_mm((section + section_tol) * thin, EXPANSION_PER_K, hot_c);
    let deep = metal(depth + depth_tol, cold_c);
    let room = metal(depth - depth_tol, hot_c) * metal(width, hot_c);
    Some(Swing {
        squeeze_cold: (least - deep) / least,
        fill_hot: FRAC_PI_4 * most * most / room,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn val_six_percent_of_volume_is_three_of_section() {
        // Read: 6 % by volume is 3 % linear when the inside diameter is held. 3 α ΔT = −0.06 over 60 K.
        let thinner = section_mm(1.0, 0.06 / 180.0, -40.0);
        assert!((1.0 - thinner - 0.03).abs() < 0.001, "{thinner}");
    }

    #[test]
    fn a_usual_groove_stays_tight_and_is_not_filled() {
        // 3.53 in 2.64 by 4.95 of aluminium: by hand 18.2 % cold of 19.6, and 83.9 % hot of 80.9.
        let s = swing((3.53, 0.10), (2.64, 0.05, 4.95), 0.0, 23e-6).unwrap();
        assert!((s.squeeze_cold - 0.2050).abs() < 0.001, "{s:?}");
        assert!((s.fill_hot - 0.8358).abs() < 0.001, "{s:?}");
        assert_eq!(swing((0.1, 0.2), (2.64, 0.05, 4.95), 0.0, 0.0), None);
    }

    proptest! {
        #[test]
        fn prop_cold_squeezes_less_and_hot_fills_more(t in 2.3f64..2.9, e in 0.0f64..0.05) {
            let s = swing((3.53, 0.1), (t, 0.05, 4.9), e, 23e-6).unwrap();
            let thin = (1.0 - oring::section_loss(e)) * 3.43;
            prop_assert!(s.squeeze_cold < 1.0 - (t + 0.05) / thin);
            let thick = (1.0 - oring::section_loss(e)) * 3.63;
            prop_assert!(s.fill_hot > FRAC_PI_4 * thick * thick / ((t - 0.05) * 4.9));
        }
    }
}
