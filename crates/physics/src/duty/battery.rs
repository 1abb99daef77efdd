//! A battery as an open-circuit voltage behind a resistance, giving or taking a power.
//!
//! I = [Voc − √(Voc² − 4 R P)] / (2R),  V = Voc − I R,  P_max = Voc²/(4R)
//!
//! Range   Seconds to minutes: the resistance is that of the time asked about; P < 0 charges.
//! Source  Exact solution of P = (Voc − I R) I, the branch of the smaller current.
//! Caveat  Voltage falls with charge and resistance rises with cold and age; the state is the caller's.

/// A battery.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Battery {
    /// Voltage at no current.
    pub open_v: f64,
    /// Resistance, leads included; zero for a stiff source.
    pub resistance_ohm: f64,
}

/// What a battery gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn {
    /// Current; negative while charging.
    pub current_a: f64,
    /// Voltage at its terminals.
    pub voltage_v: f64,
}

impl Battery {
    /// Greatest power there is.
    pub fn power_w_max(&self) -> f64 {
        self.open_v * self.open_v / (4.0 * self.resistance_ohm) // P_max = Voc²/(4R)
    }

    /// Current and voltage at a power; none beyond the greatest.
    pub fn draw(&self, power_w: f64) -> Option<Drawn> {
        // The same relation without taking the difference of two near numbers.
        let inner = self.open_v * self.open_v - 4.0 * self.resistance_ohm * power_w;
        if !(0.0 <= inner) {
            return None;
        }
        let current_a = 2.0 * power_w / (self.open_v + inner.sqrt());
        Some(Drawn { current_a, voltage_v: self.open_v - current_a * self.resistance_ohm })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A pack of 96 cells in series, two in parallel, at half charge; cell data measured by Oak Ridge National
    /// Laboratory (doi 10.5281/zenodo.2580327): 375.3 V, 75.2 mohm. Currents worked in an independent script.
    #[test]
    fn val_measured_cells() {
        let pack = Battery { open_v: 375.3, resistance_ohm: 0.0752 };
        for (kw, a, v) in
            [(20.0, 53.87, 371.25), (60.0, 165.35, 362.87), (100.0, 282.44, 354.06)]
        {
            let drawn = pack.draw(kw * 1e3).unwrap();
            assert!((drawn.current_a - a).abs() < 0.006 && (drawn.voltage_v - v).abs() < 0.006);
        }
        assert!((pack.power_w_max() - 468e3).abs() < 500.0);
        assert_eq!(pack.draw(469e3), None);
    }

    #[test]
    fn a_stiff_source_holds_its_voltage() {
        let drawn = Battery { open_v: 350.0, resistance_ohm: 0.0 }.draw(35e3).unwrap();
        assert_eq!((drawn.current_a, drawn.voltage_v), (100.0, 350.0));
    }

    proptest! {
        #[test]
        fn prop_power_is_voltage_times_current(r in 0.0f64..0.5, p in -50e3f64..60e3) {
            let pack = Battery { open_v: 380.0, resistance_ohm: r };
            if let Some(drawn) = pack.draw(p) {
                prop_assert!((drawn.current_a * drawn.voltage_v - p).abs() < 1e-6 * p.abs().max(1.0));
            }
        }
    }
}
