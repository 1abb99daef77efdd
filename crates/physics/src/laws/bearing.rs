//! Pressure under a bolt head, washer or lug.
//!
//! p = F / (π/4 (d_o² − d_h²))
//!
//! Range   A ring: outer diameter larger than the hole. Hole no larger than the part above leaves.
//! Source  Definition; VDI 2230-1 table of limiting pressures (memory).
//! Caveat  A washer thinner than about its overhang does not spread the load to its rim.

use std::f64::consts::PI;

/// Mean pressure on a ring.
pub fn pressure_mpa(force_n: f64, outer_mm: f64, hole_mm: f64) -> f64 {
    assert!(outer_mm > hole_mm && hole_mm >= 0.0);
    force_n / ring_area_mm2(outer_mm, hole_mm) // p = F/A
}

/// Area of a ring.
pub fn ring_area_mm2(outer_mm: f64, hole_mm: f64) -> f64 {
    PI / 4.0 * (outer_mm * outer_mm - hole_mm * hole_mm)
}

/// Outer diameter that brings the pressure down to a limit.
pub fn outer_needed_mm(force_n: f64, hole_mm: f64, limit_mpa: f64) -> f64 {
    assert!(force_n >= 0.0 && limit_mpa > 0.0);
    (hole_mm * hole_mm + 4.0 * force_n / (PI * limit_mpa)).sqrt()
}

/// Pressure under which a surface does not creep away, MPa, with where the number comes from.
pub const LIMITS_MPA: [(&str, f64, &str); 6] = [
    ("steel-s235", 490.0, "memory: VDI 2230 table of limiting pressures"),
    ("steel-heat-treated", 850.0, "memory: VDI 2230 table of limiting pressures"),
    ("cast-iron-gjl-250", 850.0, "memory: VDI 2230 table of limiting pressures"),
    ("aluminium-6061-t6", 260.0, "memory: VDI 2230, wrought AlMgSi of 310 MPa"),
    (
        "aluminium-99.5",
        60.0,
        "read: a contact textbook, initial stress below about 60 N/mm2 so that the joint does not creep",
    ),
    ("copper", 200.0, "common practice: not above the tensile strength of annealed copper"),
];

/// The limit of a material by name.
pub fn limit_mpa(material: &str) -> Option<f64> {
    LIMITS_MPA.iter().find(|row| row.0.eq_ignore_ascii_case(material.trim())).map(|row| row.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn m8_head_at_full_preload_overloads_soft_aluminium() {
        // 18.6 kN under an M8 hexagon (11.63/9): 436.6 MPa by hand, above any aluminium's limit.
        let p = pressure_mpa(18_600.0, 11.63, 9.0);
        assert!((p - 436.6).abs() < 0.5, "{p}");
        assert!(p > limit_mpa("aluminium-6061-t6").unwrap());
    }

    proptest! {
        #[test]
        fn prop_the_needed_washer_just_meets_the_limit(
            force in 10.0f64..1e5, hole in 3.0f64..20.0, limit in 20.0f64..900.0,
        ) {
            let outer = outer_needed_mm(force, hole, limit);
            prop_assert!((pressure_mpa(force, outer, hole) / limit - 1.0).abs() < 1e-9);
        }
    }
}
