//! Battery, inverter and machine together: currents for a torque and speed, with the battery's sag.
//!
//! P_dc = P_el/η (driving) or P_el η (braking) + P_aux,  V = Voc − I_dc R,  the machine sees V
//!
//! Range   As the machine's and the battery's relations; steady over each interval.
//! Source  Power balance; the cycle of the tests is an independent implementation's.
//! Caveat  The voltage lost in cables and contactors is not in it: state it with the battery's resistance.

use super::battery::{Battery, Drawn};
use super::machine::{Held, Unreachable};
use super::motor_im::Im;
use super::motor_pm::Pm;
use super::nameplate::Nameplate;

/// A machine as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Machine {
    /// Permanent magnets.
    Pm(Pm),
    /// Induction.
    Im(Im),
    /// Nameplate only.
    Nameplate(Nameplate),
}

/// Battery, inverter and machine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// The machine.
    pub machine: Machine,
    /// Greatest phase current; infinite if none is known.
    pub current_a_rms_max: f64,
    /// Of the inverter, and of what the machine's own model leaves out.
    pub inverter_efficiency: f64,
    /// The battery.
    pub battery: Battery,
    /// Steady load beside the inverter.
    pub auxiliary_w: f64,
}

/// The drive at one torque and speed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Operated {
    /// Torque given.
    pub torque_nm: f64,
    /// Phase current; the upper edge where only a band is known.
    pub phase_a_rms: f64,
    /// The lower edge of the band; the same where the current is known.
    pub phase_a_rms_least: f64,
    /// Electrical frequency.
    pub frequency_hz: f64,
    /// Electrical power of the machine.
    pub power_w: f64,
    /// DC current; negative while charging.
    pub dc_a: f64,
    /// DC voltage under load.
    pub dc_v: f64,
    /// 2|u|/Vdc; zero where it is not known.
    pub modulation: f64,
    /// Power over apparent power of the machine; zero where it is not known.
    pub power_factor: f64,
}

/// What holds a drive back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// The DC voltage at that speed.
    Voltage,
    /// The phase current.
    Current,
    /// The battery has no more power.
    Battery,
}

/// Passes after which the voltage of any battery has settled.
const PASSES: u32 = 60;
/// Volts that no longer matter.
const SETTLED_V: f64 = 1e-6;

impl Drive {
    /// The drive at a torque and speed; the most it gives of the torque, and what holds it back, where it cannot.
    pub fn operate(&self, torque_nm: f64, speed_rpm: f64) -> (Operated, Option<Limit>) {
        let limit = match self.settle(torque_nm, speed_rpm) {
            Ok(operated) => return (operated, None),
            Err(limit) => limit,
        };
        let (mut low, mut high) = (0.0, 1.0);
        let mut best = self
            .settle(0.0, speed_rpm)
            .unwrap_or(Operated { dc_v: self.battery.open_v, ..Operated::default() });
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            match self.settle(middle * torque_nm, speed_rpm) {
                Ok(operated) => (best, low) = (operated, middle),
                Err(_) => high = middle,
            }
        }
        (best, Some(limit))
    }

    /// The greatest torque at a speed, or the least where `guess_nm` is negative, to within a tolerance.
    ///
    /// A good guess, such as the answer at a speed near by, spares most of the work. What has no end below ten times
    /// the largest motor of a road vehicle is given as that end.
    pub fn torque_limit_nm(&self, speed_rpm: f64, guess_nm: f64, within_nm: f64) -> f64 {
        const END_NM: f64 = 50_000.0;
        let sign = 1f64.copysign(guess_nm);
        let can = |nm: f64| self.settle(sign * nm, speed_rpm).is_ok();
        let step = guess_nm.abs().max(8.0 * within_nm);
        // A bracket about the guess, opened until it holds the limit.
        let (mut low, mut high) = (guess_nm.abs(), guess_nm.abs());
        let mut open = 0.02 * step;
        while can(high) && high < END_NM {
            (low, high, open) = (high, high + open, 4.0 * open);
        }
        open = 0.02 * step;
        while low > 0.0 && !can(low) {
            (high, low, open) = (low, (low - open).max(0.0), 4.0 * open);
        }
        while within_nm < high - low {
            let middle = 0.5 * (low + high);
            if can(middle) { low = middle } else { high = middle }
        }
        sign * low
    }

    /// The voltage under load and the current that makes it, found by turns.
    fn settle(&self, torque_nm: f64, speed_rpm: f64) -> Result<Operated, Limit> {
        let mut dc_v = self.battery.open_v;
        for _ in 0..PASSES {
            let mut operated =
                self.at(torque_nm, speed_rpm, dc_v).map_err(|held| match held {
                    Held::Voltage => Limit::Voltage,
                    Held::Current => Limit::Current,
                })?;
            let drawn = self.draw(operated.power_w).ok_or(Limit::Battery)?;
            let moved = drawn.voltage_v - dc_v;
            (operated.dc_a, operated.dc_v) = (drawn.current_a, drawn.voltage_v);
            if moved.abs() <= SETTLED_V {
                return Ok(operated);
            }
            dc_v = drawn.voltage_v;
        }
        // It still swings: more current lowers the voltage, which asks for more current.
        Err(Limit::Voltage)
    }

    fn draw(&self, power_w: f64) -> Option<Drawn> {
        let eta = self.inverter_efficiency;
        let at_link = if power_w < 0.0 { power_w * eta } else { power_w / eta };
        self.battery.draw(at_link + self.auxiliary_w)
    }

    fn at(&self, torque_nm: f64, speed_rpm: f64, dc_v: f64) -> Result<Operated, Held> {
        let peak_max = self.current_a_rms_max * 2f64.sqrt();
        let by = |missed: Unreachable| missed.by;
        let point = match &self.machine {
            Machine::Pm(pm) => pm.try_point(torque_nm, speed_rpm, dc_v, peak_max)?,
            Machine::Im(im) => im.try_point(torque_nm, speed_rpm, dc_v, peak_max)?,
            Machine::Nameplate(plate) => {
                let band = plate.point(torque_nm, speed_rpm, dc_v).map_err(by)?;
                return Ok(Operated {
                    torque_nm,
                    phase_a_rms: band.current_a_rms_most,
                    phase_a_rms_least: band.current_a_rms_least,
                    frequency_hz: band.frequency_hz,
                    power_w: band.power_w,
                    ..Operated::default()
                });
            }
        };
        Ok(Operated {
            torque_nm,
            phase_a_rms: point.current_a_rms,
            phase_a_rms_least: point.current_a_rms,
            frequency_hz: point.frequency_hz,
            power_w: point.power_w,
            modulation: 2.0 * point.voltage_v_peak / dc_v,
            power_factor: point.power_factor,
            ..Operated::default()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn stiff(open_v: f64) -> Drive {
        Drive {
            machine: Machine::Pm(Pm {
                pole_pairs: 3.0,
                ld_h: 0.37e-3,
                lq_h: 1.2e-3,
                flux_wb: 0.066,
                resistance_ohm: 0.018,
            }),
            current_a_rms_max: f64::INFINITY,
            inverter_efficiency: 1.0,
            battery: Battery { open_v, resistance_ohm: 0.0 },
            auxiliary_w: 0.0,
        }
    }

    /// The reference machine's table: DC current of a lossless inverter.
    #[test]
    fn val_dc_currents() {
        for (v, t, n, phase, dc) in [
            (350.0, 100.0, 1000.0, 126.590, 32.39),
            (350.0, 100.0, 6000.0, 174.591, 184.22),
            (400.0, 100.0, 6000.0, 149.917, 160.11),
            (350.0, -50.0, 8000.0, 99.339, -118.16),
        ] {
            let (it, limit) = stiff(v).operate(t, n);
            assert!(limit.is_none() && (it.phase_a_rms - phase).abs() < 6e-4);
            assert!((it.dc_a - dc).abs() < 6e-3, "{it:?}");
        }
    }

    #[test]
    fn the_limit_of_torque_is_that_of_operating() {
        let drive = Drive {
            current_a_rms_max: 280.0,
            battery: Battery { open_v: 350.0, resistance_ohm: 0.1 },
            ..stiff(350.0)
        };
        for speed_rpm in [0.0, 1500.0, 5000.0, 12_000.0] {
            for sign in [1.0, -1.0] {
                let exact = drive.operate(sign * 5000.0, speed_rpm).0.torque_nm;
                for guess in [1.0, 60.0, 900.0] {
                    let found = drive.torque_limit_nm(speed_rpm, sign * guess, 0.05);
                    assert!(
                        (found - exact).abs() <= 0.05,
                        "{speed_rpm} {guess}: {found} {exact}"
                    );
                }
            }
        }
    }

    #[test]
    fn sag_raises_the_phase_current() {
        let weak =
            Drive { battery: Battery { open_v: 350.0, resistance_ohm: 0.1 }, ..stiff(350.0) };
        let (firm, _) = stiff(350.0).operate(100.0, 5500.0);
        let (sagged, limit) = weak.operate(100.0, 5500.0);
        assert!(limit.is_none() && firm.phase_a_rms * 1.05 < sagged.phase_a_rms);
        assert!((sagged.dc_v - (350.0 - 0.1 * sagged.dc_a)).abs() < 1e-6);
    }

    #[test]
    fn what_is_left_of_a_torque_is_given() {
        let (it, limit) = stiff(350.0).operate(140.30, 5697.0);
        assert_eq!(limit, Some(Limit::Voltage));
        assert!((it.torque_nm - 121.27).abs() < 0.01);
        let flat =
            Drive { battery: Battery { open_v: 350.0, resistance_ohm: 1.0 }, ..stiff(350.0) };
        let (it, limit) = flat.operate(120.0, 3000.0);
        assert!(limit.is_some() && it.power_w < 350.0 * 350.0 / 4.0);
    }

    proptest! {
        #[test]
        fn prop_more_torque_never_less_current(t in 0.0f64..200.0, n in 0.0f64..9000.0) {
            let drive = Drive { battery: Battery { open_v: 360.0, resistance_ohm: 0.06 }, ..stiff(360.0) };
            let (less, a) = drive.operate(t, n);
            let (more, b) = drive.operate(t + 5.0, n);
            if a.is_none() && b.is_none() {
                prop_assert!(less.phase_a_rms <= more.phase_a_rms + 1e-5 && less.dc_a <= more.dc_a + 1e-5);
            }
        }
    }
}
