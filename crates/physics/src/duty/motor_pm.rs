//! Permanent-magnet synchronous machine: the least current for a torque within voltage and current limits.
//!
//! u_d = R i_d − ω L_q i_q,  u_q = R i_q + ω (L_d i_d + ψ),  ω = p Ω,  I_rms = |i|/√2
//! T = 3/2 p [ψ i_q + (L_d − L_q) i_d i_q],  P = 3/2 (u_d i_d + u_q i_q)
//! |u| ≤ Vdc/√3,  |i| ≤ I_max
//!
//! On the curve of one torque both |i|² and |u|² are convex in i_d, for |u|² = R²|i|² + ω²[(L_d i_d + ψ)² + L_q² i_q²]
//! and a constant, so each has one least value and the first crossing of the voltage limit is found by halving:
//! maximum torque per ampere where the voltage allows, field weakening beyond, and where |u| has its least value
//! above the limit (beyond maximum torque per volt) the torque is not reachable.
//!
//! Range   Constant inductances (no saturation), sinusoidal currents, linear modulation.
//! Source  Morimoto et al., IEEE Trans. Industry Applications 26 (1990), doi 10.1109/28.60058 (cited from
//!         motulator's source); equations as in gym-electric-motor 3.0.3.
//! Caveat  Saturation raises the current at high torque; iron and windage losses are not in the power.

use super::machine::{Held, Point, Unreachable, crossing, reached, voltage_v_peak_most};

/// A machine with constant parameters, amplitude-invariant (peak values).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pm {
    /// Pole pairs.
    pub pole_pairs: f64,
    /// Inductance along the magnet.
    pub ld_h: f64,
    /// Inductance across it.
    pub lq_h: f64,
    /// Flux linkage of the magnet, peak.
    pub flux_wb: f64,
    /// Resistance of a phase.
    pub resistance_ohm: f64,
}

impl Pm {
    /// The point of least current.
    ///
    /// `current_a_peak_max` may be infinite. An unreachable torque is answered with the torque that is left.
    pub fn point(
        &self,
        torque_nm: f64,
        speed_rpm: f64,
        dc_v: f64,
        current_a_peak_max: f64,
    ) -> Result<Point, Unreachable> {
        reached(torque_nm, |t| self.try_point(t, speed_rpm, dc_v, current_a_peak_max))
    }

    /// Peak current of the least current for a torque: no voltage limit.
    pub fn current_a_peak_least(&self, torque_nm: f64) -> Option<f64> {
        let id = self.id_least_current(torque_nm)?;
        let iq = self.iq(id, torque_nm);
        Some((id * id + iq * iq).sqrt())
    }

    /// The same, without looking for the torque that is left.
    pub(super) fn try_point(
        &self,
        torque_nm: f64,
        speed_rpm: f64,
        dc_v: f64,
        current_a_peak_max: f64,
    ) -> Result<Point, Held> {
        let omega = self.pole_pairs * speed_rpm * std::f64::consts::PI / 30.0;
        let u_max = voltage_v_peak_most(dc_v);
        // Without saliency and magnet there is no torque at all, whatever the current.
        let least = self.id_least_current(torque_nm).ok_or(Held::Current)?;
        let over = |id: f64| self.voltage_squared(id, torque_nm, omega) - u_max * u_max;
        let mut id = least;
        let weakened = 0.0 < over(least);
        if weakened {
            let bottom = self.id_least_voltage(least, torque_nm, omega);
            if 0.0 < over(bottom) {
                return Err(Held::Voltage);
            }
            // |u| grows with i_d between the two, and the crossing nearest the least current is the answer.
            id = crossing(bottom, least, over);
        }
        let point = self.at(id, torque_nm, omega, weakened);
        let current = (point.id_a * point.id_a + point.iq_a * point.iq_a).sqrt();
        // Within rounding of the limit counts as at the limit.
        if current_a_peak_max * (1.0 + 1e-12) < current {
            return Err(
                if weakened && self.current_a_peak_least(torque_nm) <= Some(current_a_peak_max)
                {
                    Held::Voltage
                } else {
                    Held::Current
                },
            );
        }
        Ok(point)
    }

    /// i_q on the curve of a torque: T / [3/2 p (ψ + (L_d − L_q) i_d)].
    fn iq(&self, id: f64, torque_nm: f64) -> f64 {
        if torque_nm == 0.0 {
            return 0.0;
        }
        torque_nm / (1.5 * self.pole_pairs * self.linked(id))
    }

    fn linked(&self, id: f64) -> f64 {
        self.flux_wb + (self.ld_h - self.lq_h) * id
    }

    /// How i_q changes along that curve.
    fn iq_slope(&self, id: f64, iq: f64) -> f64 {
        if iq == 0.0 { 0.0 } else { -iq * (self.ld_h - self.lq_h) / self.linked(id) }
    }

    fn voltage_squared(&self, id: f64, torque_nm: f64, omega: f64) -> f64 {
        let iq = self.iq(id, torque_nm);
        let ud = self.resistance_ohm * id - omega * self.lq_h * iq; // u_d
        let uq = self.resistance_ohm * iq + omega * (self.ld_h * id + self.flux_wb); // u_q
        ud * ud + uq * uq
    }

    /// Maximum torque per ampere; none if the machine makes no torque.
    fn id_least_current(&self, torque_nm: f64) -> Option<f64> {
        if torque_nm == 0.0 {
            return Some(0.0);
        }
        let saliency = self.lq_h - self.ld_h;
        if saliency == 0.0 {
            return (0.0 < self.flux_wb).then_some(0.0);
        }
        // Half the slope of |i|²; it grows with i_d, and the torque's own sign does not matter.
        let slope = |id: f64| {
            let iq = self.iq(id, torque_nm);
            id + iq * self.iq_slope(id, iq)
        };
        // i_d is on the side where reluctance helps, and there no larger than the i_q of 45 degrees.
        let far = (torque_nm.abs() / (1.5 * self.pole_pairs * saliency.abs())).sqrt();
        Some(if 0.0 < saliency {
            crossing(-far, 0.0, slope)
        } else {
            crossing(0.0, far, slope)
        })
    }

    /// Maximum torque per volt at this torque, at or below `from`.
    fn id_least_voltage(&self, from: f64, torque_nm: f64, omega: f64) -> f64 {
        let r2 = self.resistance_ohm * self.resistance_ohm;
        let slope = |id: f64| {
            let iq = self.iq(id, torque_nm);
            let turned = iq * self.iq_slope(id, iq);
            r2 * (id + turned)
                + omega
                    * omega
                    * ((self.ld_h * id + self.flux_wb) * self.ld_h
                        + self.lq_h * self.lq_h * turned)
        };
        let mut span = (self.flux_wb / self.ld_h).max(1.0);
        // Where L_d is the larger, the curve ends at the current that cancels the magnet.
        let end = match self.lq_h < self.ld_h {
            true => -self.flux_wb / (self.ld_h - self.lq_h),
            false => f64::NEG_INFINITY,
        };
        let mut low = (from - span).max(end);
        while 0.0 < slope(low) && end < low && span < 1e9 {
            span *= 2.0;
            low = (from - span).max(end);
        }
        crossing(low, from, slope)
    }

    fn at(&self, id: f64, torque_nm: f64, omega: f64, weakened: bool) -> Point {
        let iq = self.iq(id, torque_nm);
        let ud = self.resistance_ohm * id - omega * self.lq_h * iq;
        let uq = self.resistance_ohm * iq + omega * (self.ld_h * id + self.flux_wb);
        let current = (id * id + iq * iq).sqrt();
        let voltage = (ud * ud + uq * uq).sqrt();
        let power_w = 1.5 * (ud * id + uq * iq); // P = 3/2 (u_d i_d + u_q i_q)
        let apparent = 1.5 * voltage * current;
        Point {
            torque_nm,
            id_a: id,
            iq_a: iq,
            current_a_rms: current / 2f64.sqrt(), // I_rms = |i|/√2
            frequency_hz: omega.abs() / (2.0 * std::f64::consts::PI),
            voltage_v_peak: voltage,
            power_w,
            power_factor: if apparent == 0.0 { 1.0 } else { power_w / apparent },
            weakened,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The traction machine that is gym-electric-motor 3.0.3's default (its file names doi
    /// 10.1109/TPEL.2020.3006779 as the parameters' source).
    pub(in crate::duty) const MACHINE: Pm = Pm {
        pole_pairs: 3.0,
        ld_h: 0.37e-3,
        lq_h: 1.2e-3,
        flux_wb: 0.066,
        resistance_ohm: 0.018,
    };

    /// Points computed with motulator 0.5.0 and put back into gym-electric-motor's equations, residual below 1e-9.
    #[test]
    fn val_points_of_two_libraries() {
        for (dc_v, t, n, id, iq, rms, u, p) in [
            (350.0, 100.0, 1000.0, -108.261, 142.581, 126.590, 56.72, 11_337.3),
            (350.0, 100.0, 5000.0, -174.226, 105.515, 144.028, 202.07, 53_480.1),
            (350.0, 150.0, 3000.0, -148.791, 175.905, 162.913, 202.07, 48_557.1),
            (350.0, 20.0, 10_000.0, -59.263, 38.584, 50.004, 202.07, 21_079.0),
            (350.0, 0.0, 12_000.0, -33.510, 0.0, 23.695, 202.07, 30.3),
            (350.0, -50.0, 8000.0, -124.165, -65.724, 99.339, 202.07, -41_355.0),
            (300.0, 150.0, 4000.0, -302.540, 105.117, 226.473, 173.21, 65_601.5),
        ] {
            let point = MACHINE.point(t, n, dc_v, f64::INFINITY).unwrap();
            let near = |ours: f64, theirs: f64, within: f64| {
                assert!((ours - theirs).abs() <= within, "{t} N m {n} rpm: {ours} {theirs}");
            };
            near(point.id_a, id, 6e-4);
            near(point.iq_a, iq, 6e-4);
            near(point.current_a_rms, rms, 6e-4);
            near(point.voltage_v_peak, u, 6e-3);
            near(point.power_w, p, 0.06);
        }
    }

    /// Maximum torque per ampere of the same machine: motulator and the closed form agree to all digits.
    #[test]
    fn val_maximum_torque_per_ampere() {
        for (t, peak) in
            [(17.036, 50.0), (41.974, 100.0), (160.6123626, 240.0), (385.562, 400.0)]
        {
            let least = MACHINE.current_a_peak_least(t).unwrap();
            // The torques are printed to 0.001 N m.
            assert!((least / peak - 1.0).abs() < 0.0005 / t, "{t}: {least}");
        }
    }

    /// What the voltage allows, from the same reference run over US06 (second 297, 299, 577).
    #[test]
    fn val_torque_that_is_left() {
        for (t, n, left) in
            [(80.65, 8470.5, 72.14), (95.05, 8824.7, 68.53), (140.30, 5697.0, 121.27)]
        {
            let missed = MACHINE.point(t, n, 350.0, f64::INFINITY).unwrap_err();
            assert!((missed.torque_nm_most - left).abs() < 0.01, "{missed:?}");
            assert_eq!(missed.by, Held::Voltage);
        }
        assert!(MACHINE.point(100.0, 6000.0, 300.0, f64::INFINITY).is_err());
        // The current limit alone: 240 A peak is 160.6 N m.
        let missed = MACHINE.point(200.0, 100.0, 350.0, 240.0).unwrap_err();
        assert!((missed.torque_nm_most - 160.612_362_6).abs() < 1e-4);
        assert_eq!(missed.by, Held::Current);
    }

    #[test]
    fn other_rotors_have_their_points_too() {
        // Magnets on the surface: no i_d until the voltage asks for it.
        let round = Pm { ld_h: 0.5e-3, lq_h: 0.5e-3, ..MACHINE };
        assert_eq!(round.point(50.0, 500.0, 350.0, 1e3).unwrap().id_a, 0.0);
        // No magnet: 45 degrees.
        let reluctance = Pm { flux_wb: 0.0, ..MACHINE };
        let point = reluctance.point(50.0, 500.0, 350.0, 1e3).unwrap();
        assert!((point.id_a + point.iq_a).abs() < 1e-6 * point.iq_a);
        // The larger inductance along the magnet: i_d strengthens.
        let inverse = Pm { ld_h: 1.2e-3, lq_h: 0.4e-3, ..MACHINE };
        assert!(inverse.point(50.0, 500.0, 350.0, 1e3).unwrap().id_a > 0.0);
        assert!(inverse.point(20.0, 9000.0, 350.0, 1e3).is_ok());
        // Neither magnet nor saliency.
        let nothing = Pm { flux_wb: 0.0, lq_h: 0.37e-3, ..MACHINE };
        assert_eq!(nothing.point(1.0, 500.0, 350.0, 1e3).unwrap_err().torque_nm_most, 0.0);
    }

    proptest! {
        /// A lower voltage never lowers the current, a greater torque never either.
        #[test]
        fn prop_current_grows(t in 0.0f64..200.0, n in 0.0f64..12_000.0, v in 200.0f64..420.0) {
            let of = |t, v| MACHINE.point(t, n, v, f64::INFINITY).map(|p| p.current_a_rms);
            if let (Ok(low), Ok(high)) = (of(t, v), of(t, v + 10.0)) {
                prop_assert!(high <= low + 1e-6);
            }
            if let (Ok(more), Ok(less)) = (of(t + 5.0, v), of(t, v)) {
                prop_assert!(less <= more + 1e-6);
            }
            if of(t, v).is_ok() { prop_assert!(of(t, v + 10.0).is_ok()); }
        }

        /// No point is better: beside it on the curve of the torque current or voltage is worse.
        #[test]
        fn prop_no_neighbour_is_better(t in 1.0f64..200.0, n in 0.0f64..12_000.0, step in 0.01f64..20.0) {
            if let Ok(point) = MACHINE.point(t, n, 350.0, f64::INFINITY) {
                let omega = 3.0 * n * std::f64::consts::PI / 30.0;
                for id in [point.id_a - step, point.id_a + step] {
                    let other = MACHINE.at(id, t, omega, false);
                    let fits = other.voltage_v_peak <= voltage_v_peak_most(350.0);
                    prop_assert!(!fits || point.current_a_rms <= other.current_a_rms + 1e-9);
                }
                let back = 1.5 * 3.0 * (MACHINE.flux_wb + (MACHINE.ld_h - MACHINE.lq_h) * point.id_a) * point.iq_a;
                prop_assert!((back - t).abs() < 1e-9 * t.max(1.0));
            }
        }
    }
}
