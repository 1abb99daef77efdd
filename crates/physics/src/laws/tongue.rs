//! Bending a flat tongue: how much its outside stretches, and where its ends come to lie.
//!
//! ε = t/(2 r + t)
//! r_min = n t
//! arc = (π/2)(r + t/2) for a right angle
//!
//! Range   Bent once, to 90 degrees, about an axis across the tongue; neutral line in the middle.
//! Source  Strain of the outer fibre: geometry. Least radius of annealed copper: "as a general rule the
//!         minimum bending radius for copper bar is equal to the thickness of the bar" (read on a
//!         page of poor standing; common practice says the same). Annealed copper stretches 35 to 45 %
//!         before it breaks, half-hard 10 to 15 % (memory).
//! Caveat  A tongue pressed flat from a tube has two walls and a seam at each edge: look for cracks there.

use std::f64::consts::FRAC_PI_2;

/// Least radius to the inside over the thickness, annealed copper.
pub const ANNEALED_TIMES: f64 = 1.0;
/// Stretch at which annealed copper is sure not to break yet (memory: it breaks at 0.35 to 0.45).
pub const ANNEALED_STRETCH: f64 = 0.35;

/// Stretch of the outside.
pub fn outer_strain(radius_mm: f64, thickness_mm: f64) -> f64 {
    assert!(radius_mm >= 0.0 && thickness_mm > 0.0);
    thickness_mm / (2.0 * radius_mm + thickness_mm) // ε = t/(2 r + t)
}

/// Least radius to the inside of an annealed tongue.
pub fn radius_mm_min(thickness_mm: f64) -> f64 {
    ANNEALED_TIMES * thickness_mm // r_min = n t
}

/// Length of the middle line in a right-angled bend.
pub fn arc_mm(radius_mm: f64, thickness_mm: f64) -> f64 {
    FRAC_PI_2 * (radius_mm + thickness_mm / 2.0) // arc = (π/2)(r + t/2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_bend_of_one_thickness_stretches_annealed_copper_by_a_third() {
        let strain = outer_strain(radius_mm_min(2.59), 2.59);
        assert!((strain - 1.0 / 3.0).abs() < 1e-12);
        assert!(strain < ANNEALED_STRETCH);
        // Bent sharp, the outside stretches to twice its length: it tears.
        assert_eq!(outer_strain(0.0, 2.59), 1.0);
    }

    #[test]
    fn the_arc_is_a_quarter_of_a_circle() {
        assert!((arc_mm(3.0, 2.0) - std::f64::consts::PI * 2.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn prop_a_wider_bend_never_stretches_more(
            radius in 0.0f64..50.0, more in 0.0f64..10.0, thickness in 0.2f64..8.0,
        ) {
            prop_assert!(outer_strain(radius + more, thickness) <= outer_strain(radius, thickness));
        }
    }
}
