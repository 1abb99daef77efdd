//! Inductance of a loop of two parallel round conductors.
//!
//! L = (mu0 l / pi) ( acosh(s/d) + 1/4 ),  low frequency, current filling the conductors
//! L = (mu0 l / pi) acosh(s/d),           current on the surface only
//!
//! Range    Length many times the spacing. The first form uses ln(2s/d), which is exact for uniform
//!          current; acosh is exact for the second.
//! Source   Grover, Inductance Calculations, 1946, chapter 5 (memory).
//! Caveat   Cables far apart near metal have less; a loop through the chassis is another matter.

/// mu0 in H/m.
pub const MU0: f64 = 4e-7 * std::f64::consts::PI;

/// Inductance in H of a go and return pair at low frequency.
pub fn loop_h(length_m: f64, spacing_mm: f64, diameter_mm: f64) -> f64 {
    assert!(0.0 < diameter_mm && diameter_mm <= spacing_mm && 0.0 <= length_m);
    // L = mu0 l / pi (ln(2 s/d) + 1/4)
    MU0 * length_m / std::f64::consts::PI * (libm::log(2.0 * spacing_mm / diameter_mm) + 0.25)
}

/// Inductance in H of the pair when the current is driven to the surface.
pub fn loop_surface_h(length_m: f64, spacing_mm: f64, diameter_mm: f64) -> f64 {
    assert!(0.0 < diameter_mm && diameter_mm <= spacing_mm && 0.0 <= length_m);
    // L = mu0 l / pi acosh(s/d)
    MU0 * length_m / std::f64::consts::PI * libm::acosh(spacing_mm / diameter_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wide_pairs_agree_but_for_the_inside() {
        let (a, b) = (loop_h(1.0, 500.0, 10.0), loop_surface_h(1.0, 500.0, 10.0));
        // The field inside the two conductors is 0.1 uH/m.
        assert!((a - b - 1e-7).abs() < 1e-10);
    }
}
