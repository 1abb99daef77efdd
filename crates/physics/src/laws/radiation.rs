//! Radiation from a grey cylinder to surroundings that enclose it, and between parallel cylinders.
//!
//! q = epsilon sigma pi D (Ts^4 - Ta^4)
//! F = [ sqrt(X^2 - 1) + asin(1/X) - X ] / pi, X = pitch / D, two equal parallel cylinders
//!
//! Range    Any temperature above absolute zero; pitch at least the diameter.
//! Source   Stefan-Boltzmann, constant of CODATA 2018; the view factor is Hottel's crossed strings, in any
//!          text on radiation.
//! Caveat   Surroundings at the temperature of the air and large. A hot exhaust nearby is not in it.

/// Stefan-Boltzmann constant, W/(m2 K4).
pub const SIGMA: f64 = 5.670_374_419e-8;

/// sigma T^4 of a temperature in degC, W/m2.
pub fn black_body_w_m2(temperature_c: f64) -> f64 {
    let t = temperature_c + 273.15;
    assert!(0.0 <= t);
    SIGMA * (t * t) * (t * t)
}

/// Loss of a cylinder in W/m, negative if the surroundings are the warmer.
pub fn loss_w_per_m(
    diameter_mm: f64,
    surface_c: f64,
    surroundings_c: f64,
    emissivity: f64,
) -> f64 {
    assert!(0.0 < diameter_mm && (0.0..=1.0).contains(&emissivity));
    // q = epsilon sigma pi D (Ts^4 - Ta^4)
    emissivity
        * std::f64::consts::PI
        * diameter_mm
        * 1e-3
        * (black_body_w_m2(surface_c) - black_body_w_m2(surroundings_c))
}

/// Share of what leaves one cylinder that reaches another equal and parallel one.
pub fn view_factor(pitch_over_diameter: f64) -> f64 {
    let x = pitch_over_diameter.max(1.0);
    // F = [ sqrt(X^2 - 1) + asin(1/X) - X ] / pi
    ((x * x - 1.0).sqrt() + libm::asin(1.0 / x) - x) / std::f64::consts::PI
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn val_cable_radiates() {
        // 16 mm, 30 degC around, emissivity 0.9: 9.9349, 22.949, 39.621 W/m (computed with ht 1.2.0).
        for (ts, q) in [(60.0, 9.9349), (90.0, 22.949), (120.0, 39.621)] {
            assert!((loss_w_per_m(16.0, ts, 30.0, 0.9) / q - 1.0).abs() < 1e-4);
        }
    }

    #[test]
    fn val_textbook_pipe_radiates() {
        // Incropera et al., example 9.4: 441 W/m at 165 degC, 23 degC, 0.85, D 0.1 m. The book rounds to
        // 438 and 296 K, which takes 0.13 % off.
        assert!((loss_w_per_m(100.0, 164.85, 22.85, 0.85) - 441.0).abs() < 0.1);
    }

    #[test]
    fn touching_cylinders_see_what_the_strings_say() {
        // Two touching: the hull is (pi + 2) D of 2 pi D, so each sees 1 - (pi + 2)/(2 pi) of the other.
        let pi = std::f64::consts::PI;
        assert!((view_factor(1.0) - (1.0 - (pi + 2.0) / (2.0 * pi))).abs() < 1e-12);
        assert!(view_factor(50.0) < 0.01);
    }
}
