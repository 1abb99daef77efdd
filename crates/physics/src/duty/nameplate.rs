//! The current of a machine of which only the nameplate is known, as a band.
//!
//! below base speed   I_max |T|/T_max  ≤  I  ≤  I_max (|T|/T_max)^0.6
//! above              √(2/3) P_el/Vdc  ≤  I  ≤  √(2/3) P_el/(Vdc cos φ),  cos φ = 0.69,  no more than I_max
//!
//! The straight line is exact for magnets on the surface; a machine with reluctance torque needs more at part
//! load, because its torque grows faster than its current. Above base speed the voltage is at its limit
//! (line to line Vdc/√2), so current follows from power.
//!
//! Range   Traction machines fed with linear modulation; torque up to T_max, power up to P_max.
//! Source  Power balance; the exponent and the power factor from the reference machine of `motor_pm` (0.61 to
//!         0.65, and 0.69 to 0.98 in field weakening there; the usual 0.8 would leave that machine out).
//! Caveat  Current that weakens the field at no torque and high speed is not in it: no nameplate tells it.

use super::machine::{Held, Unreachable};

/// Exponent of the upper edge of the band.
const EXPONENT: f64 = 0.6;
/// Lowest power factor of the reference machine in field weakening.
const POWER_FACTOR_LOW: f64 = 0.69;

/// What a nameplate tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nameplate {
    /// Greatest torque.
    pub torque_nm_max: f64,
    /// Greatest power at the shaft.
    pub power_w_max: f64,
    /// Phase current at the greatest torque.
    pub current_a_rms_max: f64,
    /// Pole pairs.
    pub pole_pairs: f64,
    /// Shaft power over electrical power, without the inverter.
    pub efficiency: f64,
}

/// A point of which the current is only bounded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Banded {
    /// Torque.
    pub torque_nm: f64,
    /// The least phase current that is likely.
    pub current_a_rms_least: f64,
    /// The greatest.
    pub current_a_rms_most: f64,
    /// Electrical frequency, without slip.
    pub frequency_hz: f64,
    /// Electrical power; negative while braking.
    pub power_w: f64,
}

impl Nameplate {
    /// Speed from which the power limits the torque.
    pub fn base_rpm(&self) -> f64 {
        self.power_w_max / self.torque_nm_max * 30.0 / std::f64::consts::PI // n_b = P_max / T_max
    }

    /// The band at a torque and speed.
    pub fn point(
        &self,
        torque_nm: f64,
        speed_rpm: f64,
        dc_v: f64,
    ) -> Result<Banded, Unreachable> {
        let omega = speed_rpm.abs() * std::f64::consts::PI / 30.0;
        let shaft_w = torque_nm * omega;
        let most = if omega * self.torque_nm_max <= self.power_w_max {
            self.torque_nm_max
        } else {
            self.power_w_max / omega
        };
        if most * (1.0 + 1e-12) < torque_nm.abs() {
            // Above base speed it is the voltage that ends the power.
            let by = if most < self.torque_nm_max { Held::Voltage } else { Held::Current };
            return Err(Unreachable { torque_nm_most: most.copysign(torque_nm), by });
        }
        let power_w =
            if shaft_w < 0.0 { shaft_w * self.efficiency } else { shaft_w / self.efficiency };
        let share = (torque_nm.abs() / self.torque_nm_max).min(1.0);
        let (least, upper) = if most < self.torque_nm_max {
            let at_unity = (2f64 / 3.0).sqrt() * power_w.abs() / dc_v; // √(2/3) P_el / Vdc
            (at_unity, at_unity / POWER_FACTOR_LOW)
        } else {
            (
                self.current_a_rms_max * share,
                self.current_a_rms_max * libm::pow(share, EXPONENT),
            )
        };
        Ok(Banded {
            torque_nm,
            current_a_rms_least: least.min(self.current_a_rms_max),
            current_a_rms_most: upper.min(self.current_a_rms_max),
            frequency_hz: self.pole_pairs * speed_rpm.abs() / 60.0,
            power_w,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::motor_pm::Pm;
    use super::*;

    const MACHINE: Pm = Pm {
        pole_pairs: 3.0,
        ld_h: 0.37e-3,
        lq_h: 1.2e-3,
        flux_wb: 0.066,
        resistance_ohm: 0.018,
    };

    /// As if only the nameplate of the reference machine were known: 240 A peak, 160.6 N m, 2829 rpm at 350 V.
    fn plate() -> Nameplate {
        let base = 2829.2 * std::f64::consts::PI / 30.0;
        Nameplate {
            torque_nm_max: 160.612,
            power_w_max: 160.612 * base,
            current_a_rms_max: 240.0 / 2f64.sqrt(),
            pole_pairs: 3.0,
            efficiency: 0.97,
        }
    }

    /// The machine itself lies in the band, below base speed and in field weakening.
    #[test]
    fn val_the_band_holds_the_machine() {
        for (t, n) in
            [(42.0, 1000.0), (100.0, 1000.0), (150.0, 1500.0), (100.0, 4000.0), (50.0, 8000.0)]
        {
            let true_a = MACHINE.point(t, n, 350.0, 1e3).unwrap().current_a_rms;
            let band = plate().point(t, n, 350.0).unwrap();
            assert!(band.current_a_rms_least <= true_a * 1.001, "{t} {n}: {true_a} {band:?}");
            assert!(true_a <= band.current_a_rms_most * 1.001, "{t} {n}: {true_a} {band:?}");
        }
    }

    /// 100 N m at 6000 rpm, 350 V: 64 477.9 W at unity power factor is 150.4 A (reference run of `motor_pm`).
    #[test]
    fn val_current_from_power() {
        let sized = Nameplate { power_w_max: 70e3, efficiency: 62_831.9 / 64_477.9, ..plate() };
        let band = sized.point(100.0, 6000.0, 350.0).unwrap();
        assert!((band.current_a_rms_least - 150.4).abs() < 0.05);
    }

    #[test]
    fn the_plate_ends_the_torque() {
        let missed = plate().point(200.0, 100.0, 350.0).unwrap_err();
        assert_eq!((missed.torque_nm_most, missed.by), (160.612, Held::Current));
        let missed = plate().point(-150.0, 2.0 * 2829.2, 350.0).unwrap_err();
        assert!((missed.torque_nm_most + 80.306).abs() < 1e-3);
        assert_eq!(missed.by, Held::Voltage);
    }
}
