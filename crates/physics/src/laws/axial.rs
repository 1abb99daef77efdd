//! Temperature along a cable whose ends are held: heat flows in from a hot terminal, or out to a cold one.
//!
//! k A T'' - G (T - Ta) + I^2 R20 (1 + a (T - 20)) = 0
//! m^2 = (G - I^2 R20 a) / (k A),  Tinf = (G Ta + I^2 R20 (1 - 20 a)) / (G - I^2 R20 a)
//! T = Tinf + (T0 - Tinf) e^(-m x) far from the other end, sinh between two held ends
//!
//! Range    Constant conductance to the air; below the current at which m would vanish there is no steady
//!          state at all beyond it, and none is given.
//! Source   The differential equation of a fin with a source, in any textbook; two held ends checked with
//!          scipy solve_bvp.
//! Caveat   A short cable (m L below 4) never reaches the temperature it would have in free air.

/// A cable between terminals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fin {
    /// Effective area of the metal.
    pub area_mm2: f64,
    /// Conductivity of the metal along it.
    pub conductivity_w_mk: f64,
    /// Conductance from conductor to air per metre of cable.
    pub conductance_w_mk: f64,
    /// Resistance at 20 degC.
    pub resistance_20_ohm_per_m: f64,
    /// Rise of resistance per kelvin from 20 degC.
    pub alpha_per_k: f64,
    /// Current, rms.
    pub current_a: f64,
    /// Air.
    pub air_c: f64,
}

/// Conductivity of copper at working temperature, W/mK (memory: 390 to 401).
pub const COPPER_W_MK: f64 = 390.0;

/// The two numbers that say everything.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decay {
    /// m, per metre.
    pub decay_per_m: f64,
    /// Temperature far from any end.
    pub far_c: f64,
}

/// Decay and far temperature; nothing above the current at which the loss grows faster than the cooling.
pub fn decay(fin: &Fin) -> Option<Decay> {
    let heat = fin.current_a * fin.current_a * fin.resistance_20_ohm_per_m;
    let net = fin.conductance_w_mk - heat * fin.alpha_per_k;
    if net <= 0.0 {
        return None;
    }
    Some(Decay {
        decay_per_m: (net / (fin.conductivity_w_mk * fin.area_mm2 * 1e-6)).sqrt(),
        far_c: (fin.conductance_w_mk * fin.air_c + heat * (1.0 - 20.0 * fin.alpha_per_k)) / net,
    })
}

/// Temperature at a distance from an end held at `near_c`, the other end far away.
pub fn semi_infinite_c(decay: &Decay, near_c: f64, distance_m: f64) -> f64 {
    decay.far_c + (near_c - decay.far_c) * libm::exp(-decay.decay_per_m * distance_m)
}

/// Temperature at a distance from the near end, both ends held.
pub fn finite_c(
    decay: &Decay,
    near_c: f64,
    other_c: f64,
    length_m: f64,
    distance_m: f64,
) -> f64 {
    let (m, t) = (decay.decay_per_m, decay.far_c);
    // T = Tinf + [(T0-Tinf) sinh m(L-x) + (TL-Tinf) sinh mx] / sinh mL, written so that it cannot overflow
    let share = |to: f64, length: f64| {
        libm::exp(m * (to - length)) * (1.0 - libm::exp(-2.0 * m * to))
            / (1.0 - libm::exp(-2.0 * m * length))
    };
    t + (near_c - t) * share(length_m - distance_m, length_m)
        + (other_c - t) * share(distance_m, length_m)
}

/// Heat that enters the cable at the near end, W; the other end far away, or held at `other` =
/// (temperature, length).
pub fn heat_in_w(fin: &Fin, decay: &Decay, near_c: f64, other: Option<(f64, f64)>) -> f64 {
    let (m, t) = (decay.decay_per_m, decay.far_c);
    let kam = fin.conductivity_w_mk * fin.area_mm2 * 1e-6 * m;
    match other {
        None => kam * (near_c - t),
        Some((other_c, length_m)) => {
            // q0 = k A m [ (T0-Tinf) / tanh mL - (TL-Tinf) / sinh mL ]
            let ml = m * length_m;
            kam * ((near_c - t) / libm::tanh(ml) - (other_c - t) / libm::sinh(ml))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fin(air_c: f64) -> Fin {
        Fin {
            area_mm2: 63.39,
            conductivity_w_mk: 390.0,
            conductance_w_mk: 1.0 / 1.2955,
            resistance_20_ohm_per_m: 0.272e-3,
            alpha_per_k: 3.93e-3,
            current_a: 250.0,
            air_c,
        }
    }

    fn near(got: f64, expected: f64) {
        assert!((got / expected - 1.0).abs() < 2e-6, "{got} against {expected}");
    }

    #[test]
    fn val_one_hot_end() {
        let f = fin(30.0);
        let d = decay(&f).unwrap();
        near(d.decay_per_m, 5.34048);
        near(d.far_c, 55.05784);
        near(semi_infinite_c(&d, 120.0, 0.1), 93.12869);
        near(heat_in_w(&f, &d, 120.0, None), 8.57418);
    }

    #[test]
    fn val_two_held_ends() {
        // Also by scipy solve_bvp.
        let f = fin(40.0);
        let d = decay(&f).unwrap();
        for (x, t) in
            [(0.0, 110.0), (0.1, 91.76285), (0.5, 68.62303), (0.9, 62.72113), (1.0, 60.0)]
        {
            near(finite_c(&d, 110.0, 60.0, 1.0, x), t);
        }
        near(heat_in_w(&f, &d, 110.0, Some((60.0, 1.0))), 5.816388);
    }

    #[test]
    fn no_steady_state_above_the_runaway_current() {
        // 1/Rth = I^2 R20 a at 850 A (computed).
        assert!(decay(&Fin { current_a: 848.0, ..fin(30.0) }).is_some());
        assert!(decay(&Fin { current_a: 852.0, ..fin(30.0) }).is_none());
    }

    #[test]
    fn a_resistance_that_does_not_rise_always_settles() {
        // a = 0: the far temperature is the air's and I² R20 / h, at any current.
        for current_a in [250.0, 852.0, 5000.0] {
            let d = decay(&Fin { current_a, alpha_per_k: 0.0, ..fin(30.0) }).unwrap();
            near(d.far_c, 30.0 + current_a * current_a * 0.272e-3 * 1.2955);
        }
    }

    #[test]
    fn reversing_the_cable_changes_nothing() {
        let d = decay(&fin(40.0)).unwrap();
        let (a, b) = (finite_c(&d, 110.0, 60.0, 1.0, 0.3), finite_c(&d, 60.0, 110.0, 1.0, 0.7));
        assert!((a - b).abs() < 1e-10);
    }
}
