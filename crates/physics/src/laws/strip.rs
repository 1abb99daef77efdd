//! Stripping of engaged threads.
//!
//! ASn = π d (Le/P) [P/2 + (d − D2)/√3]      internal (nut) thread, at its major diameter
//! ASs = π D1 (Le/P) [P/2 + (d2 − D1)/√3]    external (bolt) thread, at the nut's bore
//! F_strip = C1 C3 τ ASn
//!
//! Range   Engagement of at least one pitch; longer than about 1.5 d the load no longer spreads evenly.
//! Source  FED-STD-H28/2, ASME B1.1 appendix B (from memory; reproduces a textbook's areas, read,
//!         see the tests); C1, C2, C3 of VDI 2230-1 (memory); engagement rules read in a fastener
//!         catalogue quoting VDI 2230.
//! Caveat  The least outer diameter meets the largest pitch diameter: worst case within tolerance.

use super::thread::Thread;
use std::f64::consts::PI;

const TAN_30: f64 = 0.577_350_269_189_625_8;

/// Shear area of the internal thread per millimetre of engagement, mm²/mm, from the bolt's outer
/// diameter and the nut's pitch diameter.
pub fn internal_area_mm2_per_mm(
    pitch_mm: f64,
    external_diameter_mm: f64,
    internal_pitch_diameter_mm: f64,
) -> f64 {
    assert!(pitch_mm > 0.0 && external_diameter_mm > 0.0);
    // ASn/Le = π d/P [P/2 + (d − D2)/√3]
    let flank = pitch_mm / 2.0 + TAN_30 * (external_diameter_mm - internal_pitch_diameter_mm);
    (PI * external_diameter_mm / pitch_mm * flank).max(0.0)
}

/// Shear area of the external thread per millimetre of engagement, mm²/mm, from the nut's bore and
/// the bolt's pitch diameter.
pub fn external_area_mm2_per_mm(
    pitch_mm: f64,
    internal_minor_diameter_mm: f64,
    external_pitch_diameter_mm: f64,
) -> f64 {
    assert!(pitch_mm > 0.0 && internal_minor_diameter_mm > 0.0);
    // ASs/Le = π D1/P [P/2 + (d2 − D1)/√3]
    let flank =
        pitch_mm / 2.0 + TAN_30 * (external_pitch_diameter_mm - internal_minor_diameter_mm);
    (PI * internal_minor_diameter_mm / pitch_mm * flank).max(0.0)
}

/// Both areas of a thread at the worst of its 6g/6H limits, (internal, external), mm²/mm.
pub fn worst_areas_mm2_per_mm(thread: &Thread) -> (f64, f64) {
    let limits = thread.limits();
    (
        internal_area_mm2_per_mm(
            thread.pitch_mm,
            limits.external_major_mm.0,
            limits.internal_pitch_mm.1,
        ),
        external_area_mm2_per_mm(
            thread.pitch_mm,
            limits.internal_minor_mm.1,
            limits.external_pitch_mm.0,
        ),
    )
}

/// Load that strips a thread.
pub fn strip_load_n(area_mm2_per_mm: f64, engagement_mm: f64, shear_strength_mpa: f64) -> f64 {
    assert!(engagement_mm >= 0.0 && shear_strength_mpa > 0.0);
    area_mm2_per_mm * engagement_mm * shear_strength_mpa // F = τ AS
}

/// Engagement that just bears a load.
pub fn needed_engagement_mm(load_n: f64, area_mm2_per_mm: f64, shear_strength_mpa: f64) -> f64 {
    assert!(area_mm2_per_mm > 0.0 && shear_strength_mpa > 0.0);
    load_n / (area_mm2_per_mm * shear_strength_mpa)
}

/// Shape of the wall around a tapped hole: the nut spreads when thin. `wall_ratio` is the across-flats
/// or boss diameter over the thread's nominal diameter, at least 1.4. VDI 2230 C1 (memory).
pub fn dilation_factor(wall_ratio: f64) -> f64 {
    assert!(wall_ratio >= 1.4);
    if wall_ratio < 1.9 {
        3.8 * wall_ratio - wall_ratio * wall_ratio - 2.61 // C1 = 3.8 s/d − (s/d)² − 2.61
    } else {
        1.0
    }
}

/// Strength ratio of the pair, R_S: the nut's shear strength times its area over the bolt's.
pub fn strength_ratio(
    internal_area: f64,
    internal_shear_mpa: f64,
    external_area: f64,
    external_shear_mpa: f64,
) -> f64 {
    assert!(external_area > 0.0 && external_shear_mpa > 0.0);
    internal_area * internal_shear_mpa / (external_area * external_shear_mpa)
}

/// Bending of the nut's thread, VDI 2230 C3 (memory), for 0.4 < R_S; the fit is held at its ends.
/// It rises a little above 1 for a very weak nut.
pub fn nut_bending_factor(strength_ratio: f64) -> f64 {
    let r = strength_ratio.max(0.4);
    if r < 1.0 {
        0.728 + 1.769 * r - 2.896 * r * r + 1.296 * r * r * r // C3
    } else {
        0.897
    }
}

/// Bending of the bolt's thread, VDI 2230 C2 (memory), for R_S < 2.2; held at its ends, so 1.187
/// from 2.2 on.
pub fn bolt_bending_factor(strength_ratio: f64) -> f64 {
    let r = strength_ratio.min(2.2);
    if r > 1.0 {
        5.594 + r * (-13.682 + r * (14.107 + r * (-6.057 + r * 0.9353))) // C2
    } else {
        0.897
    }
}

/// A material to tap into.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tapped {
    /// Our name.
    pub name: &'static str,
    /// Tensile strength, least.
    pub tensile_mpa: f64,
    /// Shear strength.
    pub shear_mpa: f64,
    /// Least engagement over diameter for a class 8.8 coarse thread, where a rule was read.
    pub engagement_rule: Option<f64>,
    /// Where the numbers come from.
    pub source: &'static str,
}

const RULE: &str = "engagement rule read in a fastener catalogue quoting VDI 2230; shear strength = ratio x tensile strength, ratio from memory";

/// Materials with their shear strength and engagement rule (without countersink, class 8.8, coarse).
pub const TAPPED: [Tapped; 9] = [
    tapped("steel-s235", 360.0, 0.60, Some(1.0), RULE),
    tapped("steel-s355", 500.0, 0.60, Some(0.9), RULE),
    tapped("steel-heat-treated", 800.0, 0.60, Some(0.8), RULE),
    // Grey iron shears above its tensile strength by VDI 2230 (memory); we take 0.9.
    tapped("cast-iron-gjl-250", 220.0, 0.90, Some(1.0), RULE),
    tapped("aluminium-99.5", 180.0, 0.70, Some(2.0), RULE),
    tapped("aluminium-almg3", 180.0, 0.70, Some(2.0), RULE),
    Tapped {
        name: "aluminium-6061-t6",
        tensile_mpa: 310.0,
        shear_mpa: 207.0,
        engagement_rule: None,
        source: "memory: 6061-T6 typical values",
    },
    tapped(
        "brass-cuzn37",
        370.0,
        0.50,
        None,
        "tensile strength ISO 8839 CU2 (read); ratio from memory",
    ),
    tapped("copper", 200.0, 0.60, None, "memory: annealed electrolytic copper"),
];

const fn tapped(
    name: &'static str,
    tensile_mpa: f64,
    ratio: f64,
    engagement_rule: Option<f64>,
    source: &'static str,
) -> Tapped {
    Tapped { name, tensile_mpa, shear_mpa: tensile_mpa * ratio, engagement_rule, source }
}

/// A tapped material by name.
pub fn tapped_material(name: &str) -> Option<&'static Tapped> {
    TAPPED.iter().find(|m| m.name.eq_ignore_ascii_case(name.trim()))
}

/// Rule of thumb for class 10.9 in pure aluminium, engagement over diameter (read, same catalogue).
pub const ENGAGEMENT_ALUMINIUM_10_9: f64 = 2.5;

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn val_m8_in_soft_aluminium_with_2_d_outlasts_a_10_9_bolt() {
        // Read: M8 10.9 in aluminium of 250 to 270 MPa, shear 180 N/mm², "without insert: thread
        // length min 2 x d". At 16 mm the nut thread must outlast the bolt's breaking load.
        let thread = Thread::parse("M8").unwrap();
        let (internal, _) = worst_areas_mm2_per_mm(&thread);
        let breaking_n = 1040.0 * thread.stress_area_mm2();
        assert!(strip_load_n(internal, 16.0, 180.0) > breaking_n);
        // And one diameter is not enough.
        assert!(strip_load_n(internal, 8.0, 180.0) < breaking_n);
    }

    #[test]
    fn val_strip_areas_of_a_bolted_joints_textbook() {
        // Strip areas of bolt and nut, 6H/6g, over one diameter, in mm² (read in a table reproduced
        // from a textbook on bolted joints). Five figures printed; our limits are rounded to whole
        // micrometres.
        for (name, bolt, nut) in [
            ("M5", 35.366, 49.994),
            ("M6", 51.875, 73.145),
            ("M8", 97.290, 134.63),
            ("M10", 155.80, 214.77),
            ("M12", 227.72, 313.41),
            ("M16", 417.55, 569.12),
        ] {
            let thread = Thread::parse(name).unwrap();
            let (internal, external) = worst_areas_mm2_per_mm(&thread);
            let d = thread.diameter_mm;
            assert!((internal * d / nut - 1.0).abs() < 1e-3, "{name}: {}", internal * d);
            assert!((external * d / bolt - 1.0).abs() < 1e-3, "{name}: {}", external * d);
        }
    }

    #[test]
    fn val_m10_in_soft_aluminium() {
        // Handbook example (read): 69 600 N on M10 in aluminium of 130 MPa shear strength needs
        // 21.6 mm. It takes 9.968 mm for the least outer diameter, which is the largest of 6g; the
        // least is 9.732, and with that the same relation asks for 24.9 mm.
        let as_printed = internal_area_mm2_per_mm(1.5, 9.968, 9.206);
        assert!((needed_engagement_mm(69_600.0, as_printed, 130.0) - 21.6).abs() < 0.06);
        let (worst, _) = worst_areas_mm2_per_mm(&Thread::parse("M10").unwrap());
        assert!((needed_engagement_mm(69_600.0, worst, 130.0) - 24.9).abs() < 0.06);
    }

    #[test]
    fn factors_join_at_their_ends() {
        assert!((nut_bending_factor(0.999_999) - 0.897).abs() < 1e-3);
        assert!((bolt_bending_factor(1.000_001) - 0.897).abs() < 1e-3);
        assert!((dilation_factor(1.9) - dilation_factor(1.899_999)).abs() < 1e-3);
        assert!((dilation_factor(1.4) - 0.75).abs() < 1e-9);
        // The published end value of C2 (memory).
        assert!((bolt_bending_factor(3.0) - 1.187).abs() < 1e-3);
    }

    proptest! {
        #[test]
        fn prop_longer_engagement_never_strips_sooner(
            le in 1.0f64..40.0, more in 0.0f64..20.0, tau in 50.0f64..600.0,
        ) {
            let (area, _) = worst_areas_mm2_per_mm(&Thread::parse("M8").unwrap());
            prop_assert!(strip_load_n(area, le, tau) <= strip_load_n(area, le + more, tau));
        }

        #[test]
        fn prop_needed_engagement_bears_its_load(load in 10.0f64..1e5, tau in 50.0f64..600.0) {
            let (area, _) = worst_areas_mm2_per_mm(&Thread::parse("M10").unwrap());
            let le = needed_engagement_mm(load, area, tau);
            prop_assert!((strip_load_n(area, le, tau) / load - 1.0).abs() < 1e-12);
        }

        #[test]
        fn prop_factors_stay_in_their_published_band(r in 0.1f64..3.0, wall in 1.4f64..4.0) {
            prop_assert!(nut_bending_factor(r) < 1.06 && nut_bending_factor(r) > 0.87);
            prop_assert!(bolt_bending_factor(r) < 1.19 && bolt_bending_factor(r) > 0.87);
            prop_assert!(dilation_factor(wall) <= 1.0001 && dilation_factor(wall) > 0.0);
        }
    }
}
