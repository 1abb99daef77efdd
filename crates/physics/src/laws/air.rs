//! Dry air: density, viscosity, conductivity, heat capacity; and the standard atmosphere.
//!
//! eta    = 0.0266958 sqrt(M T) / (sigma^2 Omega(T/103.3 K)) + a term linear in density, uPa s
//! lambda = 1.308 eta0 + 1.405 tau^-1.1 - 1.036 tau^-0.3 + a term linear in density, mW/mK
//! cp     = that of the ideal gas, plus a small term linear in pressure
//! p(H)   = 101325 Pa (1 - 0.0065 H/288.15)^5.25588, above 11 km exponential
//!
//! Range    -80 to 500 degC, up to 2 bar; geometric altitude -500 to 20 000 m.
//! Source   Lemmon and Jacobsen 2004 (viscosity, conductivity), Lemmon et al. 2000 (heat capacity),
//!          ISO 2533 (atmosphere); coefficients from memory, confirmed below against CoolProp 8.0.0, the
//!          pressure term of cp fitted to it.
//! Caveat   Humidity is left out: it changes the loss of a cable by less than 1 %.

/// Air at a temperature and pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// kg/m3
    pub density_kg_m3: f64,
    /// Kinematic, m2/s.
    pub viscosity_m2_s: f64,
    /// W/mK
    pub conductivity_w_mk: f64,
    /// J/kgK at constant pressure.
    pub heat_j_kgk: f64,
    /// Prandtl number.
    pub prandtl: f64,
}

/// Pressure at sea level in Pa.
pub const SEA_LEVEL_PA: f64 = 101_325.0;

/// ln(132.6312 / 103.3)
const LN_132_OVER_103: f64 = 0.249_934_968_066_497;

const MOLAR_G: f64 = 28.9586;
const GAS_J_KGK: f64 = 8.314_472 / MOLAR_G * 1000.0;

/// Dry air.
pub fn air(temperature_c: f64, pressure_pa: f64) -> Air {
    assert!((-150.0..2000.0).contains(&temperature_c) && 0.0 < pressure_pa);
    let t = temperature_c + 273.15;
    let density = pressure_pa / (GAS_J_KGK * t);
    // delta and tau are reduced by the maxcondentherm of air, 10.4477 mol/l and 132.6312 K.
    let delta = density / (10.4477 * MOLAR_G);
    let ln_tau = libm::log(132.6312 / t);
    let tau_to = |power: f64| libm::exp(power * ln_tau);
    // ln(T / 103.3 K) from the logarithm at hand
    let l = LN_132_OVER_103 - ln_tau;
    let omega =
        libm::exp(0.431 + l * (-0.4623 + l * (0.08406 + l * (0.005_341 + l * -0.003_31))));
    let eta0 = 0.026_695_8 * (MOLAR_G * t).sqrt() / (0.36 * 0.36 * omega);
    let eta = eta0 + delta * (10.72 * tau_to(0.2) - 8.876 * tau_to(0.6));
    let lambda = 1.308 * eta0 + 1.405 * tau_to(-1.1) - 1.036 * tau_to(-0.3)
        + delta * 8.743 * tau_to(0.1);
    let heat = ideal_heat(t) + 1.2 * pressure_pa / SEA_LEVEL_PA * cube(318.15 / t);
    Air {
        density_kg_m3: density,
        viscosity_m2_s: eta * 1e-6 / density,
        conductivity_w_mk: lambda * 1e-3,
        heat_j_kgk: heat,
        prandtl: heat * eta * 1e-6 / (lambda * 1e-3),
    }
}

fn cube(x: f64) -> f64 {
    x * x * x
}

/// Heat capacity of air as an ideal gas, J/kgK: translation, rotation and the vibration of nitrogen and
/// oxygen.
fn ideal_heat(t: f64) -> f64 {
    let vibration = |u: f64| {
        let e = libm::exp(-u);
        u * u * e / ((1.0 - e) * (1.0 - e))
    };
    let over_r = 3.490_888_032
        + t * (2.395_525_583e-6 + t * (7.172_111_248e-9 - t * 3.115_413_101e-13))
        + 0.223_806_688 / (t * t.sqrt())
        + 0.791_309_509 * vibration(3364.011 / t)
        + 0.212_236_768 * vibration(2242.45 / t);
    over_r * GAS_J_KGK
}

/// Pressure in Pa at a geometric altitude in m by the standard atmosphere.
pub fn pressure_pa(altitude_m: f64) -> f64 {
    assert!((-2000.0..=20_000.0).contains(&altitude_m));
    // The earth's radius of the standard turns a height into one of constant gravity.
    let h = 6_356_766.0 * altitude_m / (6_356_766.0 + altitude_m);
    if h <= 11_000.0 {
        SEA_LEVEL_PA * libm::pow(1.0 - 0.0065 * h / 288.15, 5.255_88)
    } else {
        22_632.06 * libm::exp(-(h - 11_000.0) / 6_341.62)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, expected: f64, relative: f64) {
        assert!((got / expected - 1.0).abs() < relative, "{got} against {expected}");
    }

    #[test]
    fn val_air_as_coolprop_has_it() {
        // CoolProp 8.0.0, Air, 101325 Pa, at 45, 60 and 75 degC.
        for (t, k, nu, pr) in [
            (45.0, 0.0277195, 1.74833e-5, 0.70492),
            (60.0, 0.0288041, 1.89681e-5, 0.70338),
            (75.0, 0.0298726, 2.04988e-5, 0.70205),
        ] {
            let a = air(t, SEA_LEVEL_PA);
            near(a.conductivity_w_mk, k, 1e-4);
            near(a.viscosity_m2_s, nu, 5e-4);
            near(a.prandtl, pr, 3e-4);
        }
    }

    #[test]
    fn val_standard_atmosphere() {
        // ISO 2533, geometric altitude: 70 121 Pa at 3000 m, 5 529.3 Pa at 20 000 m (memory).
        near(pressure_pa(0.0), 101_325.0, 1e-12);
        near(pressure_pa(3000.0), 70_121.0, 1e-4);
        near(pressure_pa(20_000.0), 5_529.3, 1e-4);
    }
}
