//! Convection from a horizontal cylinder in air, natural and forced.
//!
//! Churchill and Chu    Nu = ( 0.60 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27) )^2
//! Morgan               Nu = C Ra^n in five ranges
//! Churchill, Bernstein Nu = 0.3 + 0.62 Re^(1/2) Pr^(1/3) / [1 + (0.4/Pr)^(2/3)]^(1/4)
//!                           [1 + (Re/282000)^(5/8)]^(4/5)
//!
//! Range    Churchill-Chu 1e-5 to 1e12, Morgan 1e-10 to 1e12 in Ra; Churchill-Bernstein Re Pr above 0.2.
//! Source   Churchill and Chu 1975 and Churchill and Bernstein as in listings of textbook examples; Morgan
//!          1975 as in the source of the `ht` 1.2.0 library.
//! Caveat   One isothermal cylinder alone. At the size of a cable (Ra 1e3 to 1e5) Churchill-Chu lies 9 to
//!          12 % below Morgan and below remembered direct numerical solutions: it is the cautious one,
//!          worth 2.2 to 2.4 % of the current, and the one used where nothing else is asked for.

use crate::laws::air::{self, Air};

/// Standard gravity, m/s2.
pub const GRAVITY_M_S2: f64 = 9.806_65;

/// Where Churchill-Chu is stated.
pub const RAYLEIGH: std::ops::RangeInclusive<f64> = 1e-5..=1e12;

/// Which relation for natural convection.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Correlation {
    /// The cautious one.
    #[default]
    ChurchillChu,
    /// About a tenth higher at the size of a cable.
    Morgan,
}

/// Nusselt number of natural convection.
pub fn nusselt(correlation: Correlation, rayleigh: f64, prandtl: f64) -> f64 {
    match correlation {
        Correlation::ChurchillChu => nusselt_churchill_chu(rayleigh, prandtl),
        Correlation::Morgan => nusselt_morgan(rayleigh),
    }
}

/// Nusselt number by Churchill and Chu.
pub fn nusselt_churchill_chu(rayleigh: f64, prandtl: f64) -> f64 {
    assert!(0.0 <= rayleigh && rayleigh.is_finite() && 0.0 < prandtl);
    let below = libm::pow(1.0 + libm::pow(0.559 / prandtl, 9.0 / 16.0), 8.0 / 27.0);
    let root = 0.60 + 0.387 * libm::pow(rayleigh, 1.0 / 6.0) / below;
    root * root
}

/// Morgan's ranges: greatest Ra, C, n.
const MORGAN: [(f64, f64, f64); 5] = [
    (1e-2, 0.675, 0.058),
    (1e2, 1.02, 0.148),
    (1e4, 0.850, 0.188),
    (1e7, 0.480, 0.250),
    (1e12, 0.125, 0.333),
];

/// Nusselt number by Morgan.
pub fn nusselt_morgan(rayleigh: f64) -> f64 {
    assert!(0.0 <= rayleigh && rayleigh.is_finite());
    let (_, c, n) = *MORGAN
        .iter()
        .find(|(greatest, _, _)| rayleigh < *greatest)
        .unwrap_or(&MORGAN[MORGAN.len() - 1]);
    c * libm::pow(rayleigh, n)
}

/// Nusselt number of air blown across, by Churchill and Bernstein.
pub fn nusselt_churchill_bernstein(reynolds: f64, prandtl: f64) -> f64 {
    assert!(0.0 <= reynolds && reynolds.is_finite() && 0.0 < prandtl);
    let below = libm::pow(1.0 + libm::pow(0.4 / prandtl, 2.0 / 3.0), 0.25);
    let rise = libm::pow(1.0 + libm::pow(reynolds / 282_000.0, 0.625), 0.8);
    0.3 + 0.62 * reynolds.sqrt() * libm::cbrt(prandtl) / below * rise
}

/// A cylinder in air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    /// Diameter.
    pub diameter_mm: f64,
    /// Temperature of the surface.
    pub surface_c: f64,
    /// Temperature of the air.
    pub air_c: f64,
    /// Pressure of the air.
    pub pressure_pa: f64,
    /// Speed of the air across the cylinder; zero in still air.
    pub air_speed_m_s: f64,
    /// Relation for still air.
    pub correlation: Correlation,
}

/// What convection does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Convection {
    /// Rayleigh number on the diameter.
    pub rayleigh: f64,
    /// Nusselt number on the diameter, the greater of natural and forced.
    pub nusselt: f64,
    /// Whether the blown air does more than its own rising.
    pub is_forced: bool,
    /// W/m2K
    pub coefficient_w_m2k: f64,
    /// W/m, negative if the air is the warmer.
    pub loss_w_per_m: f64,
}

/// Convection from a cylinder, air taken at the film temperature.
///
/// Of natural and forced convection the greater counts; mixed flow is a little better than either.
pub fn convection(c: &Cylinder) -> Convection {
    let film_c = (c.surface_c + c.air_c) / 2.0;
    let a = air::air(film_c, c.pressure_pa);
    let d = c.diameter_mm * 1e-3;
    let rayleigh = rayleigh(&a, film_c, (c.surface_c - c.air_c).abs(), d);
    let natural = nusselt(c.correlation, rayleigh, a.prandtl);
    let forced = if 0.0 < c.air_speed_m_s {
        nusselt_churchill_bernstein(c.air_speed_m_s * d / a.viscosity_m2_s, a.prandtl)
    } else {
        0.0
    };
    let nusselt = natural.max(forced);
    let coefficient = nusselt * a.conductivity_w_mk / d;
    Convection {
        rayleigh,
        nusselt,
        is_forced: natural < forced,
        coefficient_w_m2k: coefficient,
        loss_w_per_m: coefficient * std::f64::consts::PI * d * (c.surface_c - c.air_c),
    }
}

/// Ra = g beta dT d^3 Pr / nu^2, beta = 1/T of the film.
fn rayleigh(a: &Air, film_c: f64, rise_k: f64, d: f64) -> f64 {
    GRAVITY_M_S2 / (film_c + 273.15) * rise_k * d * d * d * a.prandtl
        / (a.viscosity_m2_s * a.viscosity_m2_s)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, expected: f64, relative: f64) {
        assert!((got / expected - 1.0).abs() < relative, "{got} against {expected}");
    }

    fn cable(surface_c: f64) -> Cylinder {
        Cylinder {
            diameter_mm: 16.0,
            surface_c,
            air_c: 30.0,
            pressure_pa: air::SEA_LEVEL_PA,
            air_speed_m_s: 0.0,
            correlation: Correlation::ChurchillChu,
        }
    }

    #[test]
    fn val_cable_in_still_air() {
        // Computed with ht 1.2.0 and CoolProp 8.0.0.
        for (ts, ra, h, morgan) in [
            (60.0, 8735.0, 7.3318, 8.1104),
            (90.0, 14142.9, 8.5459, 9.4234),
            (120.0, 17348.8, 9.3114, 10.2852),
        ] {
            let c = convection(&cable(ts));
            near(c.rayleigh, ra, 2e-3);
            near(c.coefficient_w_m2k, h, 5e-4);
            let m = convection(&Cylinder { correlation: Correlation::Morgan, ..cable(ts) });
            near(m.coefficient_w_m2k, morgan, 5e-4);
        }
    }

    #[test]
    fn val_blown_air() {
        // Computed with ht 1.2.0: 90 degC, 1, 2, 5, 10 m/s.
        for (v, h) in [(1.0, 26.37), (2.0, 37.48), (5.0, 60.36), (10.0, 87.60)] {
            let c = convection(&Cylinder { air_speed_m_s: v, ..cable(90.0) });
            assert!(c.is_forced);
            near(c.coefficient_w_m2k, h, 5e-4);
        }
    }

    #[test]
    fn val_textbook_pipe() {
        // Incropera et al., example 9.4: Ra 5.076e6, Pr 0.697, Nu 23.0 printed, 23.09 unrounded.
        near(nusselt_churchill_chu(5.076e6, 0.697), 23.09, 1e-3);
    }
}
