//! Pre-charge and discharge of a capacitor through a resistor.
//!
//! v = V (1 − e^(−t/RC)) · E = ½ C V² whatever R · i₀ = V/R · P₀ = V²/R
//! discharge: R ≤ t / (C ln(V/V_end))
//! with a resistor B across the bus: V B/(R + B) in place of V in v, and R B/(R + B) in place of R in RC, so that
//! V R/(R + B) is left for ever
//!
//! Range   Constant supply voltage, no other load on the bus while charging.
//! Source  Exact; "complete when 5 tau has passed" and "size the resistor by pulse energy and
//!         length" are read in a published reference design. 60 V is the touch limit of UN R100.
//! Caveat  A load left on the bus may keep it from ever reaching the supply: check before closing
//!         the contactor.

/// Time constants after which pre-charge is called complete (read).
pub const COMPLETE_TIME_CONSTANTS: f64 = 5.0;

/// What one pre-charge asks of its resistor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Precharge {
    /// Capacitance of the bus.
    pub capacitance_f: f64,
    /// Supply voltage.
    pub voltage_v: f64,
    /// Pre-charge resistor.
    pub resistance_ohm: f64,
    /// Resistor across the bus while it charges: a discharge resistor that is always there. None is infinite.
    pub across_ohm: Option<f64>,
}

impl Precharge {
    /// Share of the supply that the bus reaches in the end: B/(R + B).
    fn share(&self) -> f64 {
        self.across_ohm.map_or(1.0, |b| b / (self.resistance_ohm + b))
    }

    /// RC, with the resistor across the bus beside R.
    pub fn time_constant_s(&self) -> f64 {
        self.share() * self.resistance_ohm * self.capacitance_f // τ = R C B/(R + B)
    }

    /// Voltage the bus settles at.
    pub fn settles_v(&self) -> f64 {
        self.voltage_v * self.share() // V B/(R + B)
    }

    /// Energy turned into heat in the resistor by a full charge from empty, nothing across the bus.
    pub fn energy_j(&self) -> f64 {
        0.5 * self.capacitance_f * self.voltage_v * self.voltage_v // E = ½ C V²
    }

    /// Current in the first instant.
    pub fn peak_current_a(&self) -> f64 {
        self.voltage_v / self.resistance_ohm // i₀ = V/R
    }

    /// Power in the first instant.
    pub fn peak_power_w(&self) -> f64 {
        self.voltage_v * self.voltage_v / self.resistance_ohm // P₀ = V²/R
    }

    /// Voltage on the bus after a time.
    pub fn voltage_at_v(&self, time_s: f64) -> f64 {
        assert!(time_s >= 0.0);
        -self.settles_v() * libm::expm1(-time_s / self.time_constant_s()) // v = V (1 − e^(−t/τ))
    }

    /// Energy turned into heat in the resistor up to a time.
    pub fn energy_by_j(&self, time_s: f64) -> f64 {
        assert!(time_s >= 0.0);
        let tau = self.time_constant_s();
        let (ends_v, stands_v) = (self.settles_v(), self.voltage_v - self.settles_v());
        // ∫(V − v)² dt / R, with V − v = s + e·e^(−t/τ)
        let once = -libm::expm1(-time_s / tau);
        let twice = -libm::expm1(-2.0 * time_s / tau);
        let integral = stands_v * stands_v * time_s
            + 2.0 * stands_v * ends_v * tau * once
            + 0.5 * ends_v * ends_v * tau * twice;
        integral / self.resistance_ohm
    }

    /// Time to reach a fraction of the voltage it settles at.
    pub fn time_to_fraction_s(&self, fraction: f64) -> f64 {
        assert!((0.0..1.0).contains(&fraction));
        -self.time_constant_s() * libm::log1p(-fraction) // t = −τ ln(1 − x)
    }
}

/// Largest bleed resistor that brings a bus from one voltage to another in a time.
pub fn bleed_resistance_ohm_max(
    capacitance_f: f64,
    from_v: f64,
    to_v: f64,
    time_s: f64,
) -> f64 {
    assert!(capacitance_f > 0.0 && from_v > to_v && to_v > 0.0 && time_s > 0.0);
    time_s / (capacitance_f * libm::log(from_v / to_v)) // R = t/(C ln(V/V_end))
}

/// Time a bleed resistor takes from one voltage to another.
pub fn bleed_time_s(capacitance_f: f64, resistance_ohm: f64, from_v: f64, to_v: f64) -> f64 {
    assert!(from_v > 0.0 && to_v > 0.0);
    resistance_ohm * capacitance_f * libm::log((from_v / to_v).max(1.0)) // t = R C ln(V/V_end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const BUS: Precharge = Precharge {
        capacitance_f: 1e-3,
        voltage_v: 400.0,
        resistance_ohm: 50.0,
        across_ohm: None,
    };

    #[test]
    fn val_common_bus() {
        // Exact for 1 mF, 400 V, 50 ohm: 80 J, 8 A, 3200 W, 50 ms, 397.305 V after five time constants.
        assert!((BUS.energy_j() - 80.0).abs() < 1e-9);
        assert_eq!(BUS.peak_current_a(), 8.0);
        assert_eq!(BUS.peak_power_w(), 3200.0);
        assert!((BUS.voltage_at_v(0.25) - 397.305).abs() < 0.001);
    }

    #[test]
    fn a_resistor_across_the_bus_leaves_a_standing_difference() {
        // 620 uF, 403 V, 47 ohm, 3.3 kohm across; stepped with Runge-Kutta at 1 us outside this program: 6.0358 V left
        // and 51.138 J in the resistor after 200 ms. The divider keeps 403 x 47 / 3347 = 5.659 V.
        let bus = Precharge {
            capacitance_f: 620e-6,
            voltage_v: 403.0,
            resistance_ohm: 47.0,
            across_ohm: Some(3300.0),
        };
        assert!((bus.voltage_v - bus.settles_v() - 5.6591).abs() < 1e-4);
        assert!((bus.voltage_v - bus.voltage_at_v(0.2) - 6.0358).abs() < 1e-3);
        assert!((bus.energy_by_j(0.2) - 51.138).abs() < 1e-3);
        assert_eq!(bus.peak_current_a(), 403.0 / 47.0);
    }

    #[test]
    fn bleed_to_60_v_in_5_s() {
        let r = bleed_resistance_ohm_max(1e-3, 400.0, 60.0, 5.0);
        assert!((r - 2635.6).abs() < 0.1, "{r}");
        assert!((bleed_time_s(1e-3, r, 400.0, 60.0) - 5.0).abs() < 1e-9);
        assert_eq!(bleed_time_s(1e-3, r, 48.0, 60.0), 0.0);
    }

    proptest! {
        #[test]
        fn prop_time_and_voltage_are_inverse(x in 0.001f64..0.999) {
            let t = BUS.time_to_fraction_s(x);
            prop_assert!((BUS.voltage_at_v(t) / 400.0 - x).abs() < 1e-12);
        }

        /// Energy drawn from the supply is C V v: half of the last joule goes to the resistor.
        #[test]
        fn prop_energy_is_kept(t in 0.0f64..1.0) {
            let v = BUS.voltage_at_v(t);
            let drawn = BUS.capacitance_f * BUS.voltage_v * v;
            let stored = 0.5 * BUS.capacitance_f * v * v;
            prop_assert!((drawn - stored - BUS.energy_by_j(t)).abs() < 1e-9);
        }
    }
}
