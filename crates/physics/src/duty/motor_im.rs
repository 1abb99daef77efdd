//! Induction machine in rotor-flux coordinates, in steady state.
//!
//! ψ_r = L_m i_d,  T = 3/2 p (L_m²/L_r) i_d i_q,  ω_slip = (R_r/L_r) i_q/i_d,  ω_e = p Ω + ω_slip
//! u_d = R_s i_d − ω_e σL_s i_q,  u_q = R_s i_q + ω_e L_s i_d,  σ = 1 − L_m²/(L_s L_r)
//! Least current of a linear machine: i_d = i_q; i_d no more than the rated magnetising current;
//! less i_d where the voltage |u| ≤ Vdc/√3 asks for it.
//!
//! Range   Constant parameters, sinusoidal currents, linear modulation.
//! Source  Textbook relations, as in gym-electric-motor 3.0.3, into whose equations the points below were put.
//! Caveat  Main-flux saturation is in it only as the limit of i_d; iron and windage losses are not in the power.

use super::machine::{Held, Point, Unreachable, crossing, reached, voltage_v_peak_most};

/// A machine with constant parameters, amplitude-invariant (peak values).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Im {
    /// Pole pairs.
    pub pole_pairs: f64,
    /// Resistance of a stator phase.
    pub stator_ohm: f64,
    /// Resistance of the rotor, as seen from the stator.
    pub rotor_ohm: f64,
    /// Magnetising inductance.
    pub magnetising_h: f64,
    /// Leakage of the stator.
    pub stator_leakage_h: f64,
    /// Leakage of the rotor, as seen from the stator.
    pub rotor_leakage_h: f64,
    /// Greatest magnetising current, peak; infinite if none is known.
    pub magnetising_a_peak_max: f64,
}

impl Im {
    fn stator_h(&self) -> f64 {
        self.magnetising_h + self.stator_leakage_h
    }

    fn rotor_h(&self) -> f64 {
        self.magnetising_h + self.rotor_leakage_h
    }

    /// N m for one ampere each of i_d and i_q.
    fn torque_nm_per_a2(&self) -> f64 {
        1.5 * self.pole_pairs * self.magnetising_h * self.magnetising_h / self.rotor_h()
    }

    /// The point of least current; an unreachable torque is answered with the torque that is left.
    pub fn point(
        &self,
        torque_nm: f64,
        speed_rpm: f64,
        dc_v: f64,
        current_a_peak_max: f64,
    ) -> Result<Point, Unreachable> {
        reached(torque_nm, |t| self.try_point(t, speed_rpm, dc_v, current_a_peak_max))
    }

    /// The same, without looking for the torque that is left.
    pub(super) fn try_point(
        &self,
        torque_nm: f64,
        speed_rpm: f64,
        dc_v: f64,
        current_a_peak_max: f64,
    ) -> Result<Point, Held> {
        let u_max = voltage_v_peak_most(dc_v);
        let least = (torque_nm.abs() / self.torque_nm_per_a2())
            .sqrt() // i_d = i_q
            .min(self.magnetising_a_peak_max);
        let mut point = self.at(least, torque_nm, speed_rpm);
        if u_max < point.voltage_v_peak {
            let over = |ln_id: f64| {
                self.at(libm::exp(ln_id), torque_nm, speed_rpm).voltage_v_peak - u_max
            };
            let top = libm::log(least);
            let bottom = lowest(top - 12.0, top, over);
            if 0.0 < over(bottom) {
                return Err(Held::Voltage);
            }
            point = self.at(libm::exp(crossing(bottom, top, over)), torque_nm, speed_rpm);
            point.weakened = true;
        }
        let current = point.current_a_rms * 2f64.sqrt();
        if current_a_peak_max * (1.0 + 1e-12) < current {
            return Err(if point.weakened { Held::Voltage } else { Held::Current });
        }
        Ok(point)
    }

    /// The point at a given i_d.
    pub fn at(&self, id: f64, torque_nm: f64, speed_rpm: f64) -> Point {
        let iq =
            if torque_nm == 0.0 { 0.0 } else { torque_nm / (self.torque_nm_per_a2() * id) };
        let slip = if iq == 0.0 { 0.0 } else { self.rotor_ohm / self.rotor_h() * iq / id }; // ω_slip
        let omega = self.pole_pairs * speed_rpm * std::f64::consts::PI / 30.0 + slip; // ω_e
        let leakage_h =
            self.stator_h() - self.magnetising_h * self.magnetising_h / self.rotor_h(); // σL_s
        let ud = self.stator_ohm * id - omega * leakage_h * iq;
        let uq = self.stator_ohm * iq + omega * self.stator_h() * id;
        let current = (id * id + iq * iq).sqrt();
        let voltage = (ud * ud + uq * uq).sqrt();
        let power_w = 1.5 * (ud * id + uq * iq);
        let apparent = 1.5 * voltage * current;
        Point {
            torque_nm,
            id_a: id,
            iq_a: iq,
            current_a_rms: current / 2f64.sqrt(),
            frequency_hz: omega.abs() / (2.0 * std::f64::consts::PI),
            voltage_v_peak: voltage,
            power_w,
            power_factor: if apparent == 0.0 { 1.0 } else { power_w / apparent },
            weakened: false,
        }
    }
}

/// The lowest point between two, of a function that falls and then rises.
fn lowest(mut low: f64, mut high: f64, value: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..90 {
        let third = (high - low) / 3.0;
        if value(low + third) < value(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The induction machine that is gym-electric-motor 3.0.3's default (its file names doi
    /// 10.1109/EPEPEMC.2018.8522008 as the parameters' source).
    const MACHINE: Im = Im {
        pole_pairs: 2.0,
        stator_ohm: 2.9338,
        rotor_ohm: 1.355,
        magnetising_h: 0.143_75,
        stator_leakage_h: 5.87e-3,
        rotor_leakage_h: 5.87e-3,
        magnetising_a_peak_max: f64::INFINITY,
    };

    /// Points put into gym-electric-motor's equations, residual zero.
    #[test]
    fn val_points_of_a_library() {
        for (id, t, n, iq, f, rms, u) in [
            (2.0, 2.0, 1000.0, 2.4135, 35.073, 2.2164, 73.02),
            (2.0, 4.0, 1500.0, 4.8271, 53.479, 3.6946, 115.42),
            (1.8, 3.0, 2500.0, 4.0225, 86.554, 3.1162, 159.51),
        ] {
            let point = MACHINE.at(id, t, n);
            assert!((point.iq_a - iq).abs() < 6e-5 && (point.frequency_hz - f).abs() < 6e-4);
            assert!((point.current_a_rms - rms).abs() < 6e-5);
            assert!((point.voltage_v_peak - u).abs() < 6e-3);
        }
    }

    #[test]
    fn val_least_current() {
        for (t, rms) in [(2.0, 2.197_06), (4.0, 3.107_11)] {
            let point = MACHINE.point(t, 500.0, 560.0, 1e3).unwrap();
            assert!((point.current_a_rms - rms).abs() < 6e-6, "{point:?}");
        }
    }

    #[test]
    fn less_flux_where_the_voltage_ends() {
        let slow = MACHINE.point(2.0, 500.0, 300.0, 1e3).unwrap();
        let fast = MACHINE.point(2.0, 4500.0, 300.0, 1e3).unwrap();
        assert!(
            fast.weakened && fast.id_a < slow.id_a && slow.current_a_rms < fast.current_a_rms
        );
        assert!((fast.voltage_v_peak - 300.0 / 3f64.sqrt()).abs() < 1e-6);
        let missed = MACHINE.point(40.0, 4500.0, 300.0, 1e3).unwrap_err();
        assert!(0.0 < missed.torque_nm_most && missed.torque_nm_most < 40.0);
        assert!(MACHINE.point(missed.torque_nm_most, 4500.0, 300.0, 1e3).is_ok());
        assert_eq!(MACHINE.point(0.0, 4500.0, 300.0, 1e3).unwrap().current_a_rms, 0.0);
    }

    proptest! {
        #[test]
        fn prop_current_grows(t in 0.1f64..20.0, n in 0.0f64..5000.0) {
            let of = |t, v| MACHINE.point(t, n, v, f64::INFINITY).map(|p| p.current_a_rms);
            if let (Ok(low), Ok(high)) = (of(t, 300.0), of(t, 330.0)) { prop_assert!(high <= low + 1e-6); }
            if let (Ok(less), Ok(more)) = (of(t, 300.0), of(t + 1.0, 300.0)) { prop_assert!(less <= more + 1e-6); }
        }
    }
}
