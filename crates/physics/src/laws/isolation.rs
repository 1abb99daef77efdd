//! Insulation resistance, bonding and stored energy of a high-voltage bus.
//!
//! R_min = 100 V (DC), 500 V (AC, or DC joined to AC), in ohm with V in volt
//! R_i = R_o V_b (1/V2' − 1/V2)
//! C_Y = 2 E/V²
//!
//! Range   Buses of 60 to 1500 V DC.
//! Source  UN R100 5.1.3 (100 and 500 ohm per volt, read) and 5.1.2.2 (bonding below 0.1 ohm at 0.2
//!         A or more, read); ISO 6469-3 8.2.2 (test voltage at least the working voltage, read);
//!         ISO 6469-4 5.2.3 (0.2 J, read); the measuring formula of the UN R100 annex on isolation
//!         measurement (read).
//! Caveat  These are limits of approval, not of good health: a sound cable set measures hundreds of
//!         megohm.

/// Bonding resistance between exposed conductive parts, most (UN R100 5.1.2.2, read).
pub const BONDING_OHM_MAX: f64 = 0.1;
/// Current at which bonding is measured, least (read).
pub const BONDING_CURRENT_A_MIN: f64 = 0.2;
/// Energy that Y-capacitors may hold, most (ISO 6469-4 5.2.3, read).
pub const TOUCH_ENERGY_J_MAX: f64 = 0.2;
/// DC voltage regarded as low enough to touch, most (read).
pub const TOUCH_DC_V_MAX: f64 = 60.0;
/// AC voltage regarded as low enough to touch, most (read).
pub const TOUCH_AC_V_RMS_MAX: f64 = 30.0;

/// What kind of bus is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bus {
    /// DC, galvanically apart from AC.
    Dc,
    /// AC.
    Ac,
    /// DC and AC galvanically joined, as through an inverter.
    Joined,
    /// Joined, but the AC side has double insulation or sits in robust housings.
    JoinedProtected,
}

/// Least insulation resistance to the chassis.
pub fn least_resistance_ohm(working_voltage_v: f64, bus: Bus) -> f64 {
    assert!(working_voltage_v > 0.0);
    let per_volt = match bus {
        Bus::Dc | Bus::JoinedProtected => 100.0,
        Bus::Ac | Bus::Joined => 500.0,
    };
    per_volt * working_voltage_v // R = 100 V or 500 V
}

/// DC test voltages an insulation tester offers.
pub const TESTER_V: [f64; 5] = [100.0, 250.0, 500.0, 1000.0, 2500.0];

/// Test voltage for the insulation resistance of made-up cables, apart from electronics: the next
/// tester step at or above the working voltage, and 500 V at least.
pub fn test_voltage_v(working_voltage_v: f64) -> Option<f64> {
    assert!(working_voltage_v > 0.0);
    TESTER_V.into_iter().find(|v| *v >= working_voltage_v.max(500.0))
}

/// Insulation resistance by the two-reading method: V2 is the greater of the two voltages from a
/// pole to chassis, V2' the same with the known resistor across it.
pub fn measured_resistance_ohm(bus_v: f64, v2: f64, v2_loaded: f64, resistor_ohm: f64) -> f64 {
    assert!(bus_v > 0.0 && resistor_ohm > 0.0 && v2_loaded > 0.0 && v2 >= v2_loaded);
    resistor_ohm * bus_v * (1.0 / v2_loaded - 1.0 / v2) // R_i = R_o V_b (1/V2' − 1/V2)
}

/// Energy held by a capacitance.
pub fn energy_j(capacitance_f: f64, voltage_v: f64) -> f64 {
    0.5 * capacitance_f * voltage_v * voltage_v // E = ½ C V²
}

/// Capacitance that holds at most an energy.
pub fn capacitance_f_max(energy_j: f64, voltage_v: f64) -> f64 {
    assert!(voltage_v > 0.0);
    2.0 * energy_j / (voltage_v * voltage_v) // C = 2 E/V²
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn val_un_r100_limits_at_400_v() {
        assert_eq!(least_resistance_ohm(400.0, Bus::Dc), 40_000.0);
        assert_eq!(least_resistance_ohm(400.0, Bus::Joined), 200_000.0);
        assert_eq!(least_resistance_ohm(400.0, Bus::JoinedProtected), 40_000.0);
    }

    #[test]
    fn val_two_reading_method() {
        // The form of UN R100 (read), worked by hand: 400 V, 150 V and 100 V with 200 kohm gives
        // 266.7 kohm.
        assert!((measured_resistance_ohm(400.0, 150.0, 100.0, 200e3) - 266_666.7).abs() < 0.1);
    }

    #[test]
    fn y_capacitance_at_400_v() {
        assert!((capacitance_f_max(TOUCH_ENERGY_J_MAX, 400.0) - 2.5e-6).abs() < 1e-18);
    }

    #[test]
    fn tester_steps() {
        assert_eq!(test_voltage_v(48.0), Some(500.0));
        assert_eq!(test_voltage_v(400.0), Some(500.0));
        assert_eq!(test_voltage_v(800.0), Some(1000.0));
        assert_eq!(test_voltage_v(3000.0), None);
    }

    proptest! {
        /// The method finds the resistance of a simulated bus: R_i on one side of both poles' leakage.
        #[test]
        fn prop_two_readings_recover_the_leak(
            bus in 60.0f64..900.0, ri in 1e4f64..1e7, other in 1.0f64..100.0, ro in 1e5f64..1e6,
        ) {
            let good = ri * other;
            // V2 is across the better side, which the resistor then loads; ri leaks on the other pole.
            let v2 = bus * good / (good + ri);
            let loaded = good * ro / (good + ro);
            let v2_loaded = bus * loaded / (loaded + ri);
            let got = measured_resistance_ohm(bus, v2, v2_loaded, ro);
            prop_assert!((got / ri - 1.0).abs() < 1e-6, "{got} against {ri}");
        }
    }
}
