//! Rise of a DC fault current through the resistance and inductance of its loop.
//!
//! i = (V/R)(1 − e^(−t/τ)),  τ = L/R
//! ∫i² dt = (V/R)² [t − 2τ(1 − e^(−t/τ)) + τ/2 (1 − e^(−2t/τ))]
//!
//! Range   Constant source voltage and resistance, no arc. Cells sag and heat: the real current is
//!         lower later on.
//! Source  Exact solution of L di/dt + R i = V.
//! Caveat  A fuse's arc adds voltage and time; its clearing I²t is the maker's figure.

/// A fault loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loop {
    /// Source voltage.
    pub voltage_v: f64,
    /// Resistance of source and loop.
    pub resistance_ohm: f64,
    /// Inductance of the loop.
    pub inductance_h: f64,
}

impl Loop {
    /// Current that the fault would settle at.
    pub fn prospective_a(&self) -> f64 {
        self.voltage_v / self.resistance_ohm // V/R
    }

    /// L/R.
    pub fn time_constant_s(&self) -> f64 {
        self.inductance_h / self.resistance_ohm // τ = L/R
    }

    /// Slope in the first instant, A/s. Infinite without inductance.
    pub fn initial_slope_a_per_s(&self) -> f64 {
        self.voltage_v / self.inductance_h // V/L
    }

    /// Current after a time.
    pub fn current_a(&self, time_s: f64) -> f64 {
        assert!(time_s >= 0.0);
        let tau = self.time_constant_s();
        if tau == 0.0 {
            return self.prospective_a();
        }
        -self.prospective_a() * libm::expm1(-time_s / tau) // i = (V/R)(1 − e^(−t/τ))
    }

    /// Integral of the current squared up to a time, A²s.
    pub fn i2t_a2s(&self, time_s: f64) -> f64 {
        assert!(time_s >= 0.0);
        let (tau, ip) = (self.time_constant_s(), self.prospective_a());
        if tau == 0.0 {
            return ip * ip * time_s;
        }
        let x = time_s / tau;
        if x < 1e-3 {
            // The bracket loses its figures when t is far below τ; its series is τ (x³/3 − x⁴/4 +
            // 7x⁵/60).
            return ip * ip * tau * x * x * x * (1.0 / 3.0 - x / 4.0 + 7.0 * x * x / 60.0);
        }
        // (V/R)² [t − 2τ(1 − e^−x) + τ/2 (1 − e^−2x)]
        let bracket = time_s + 2.0 * tau * libm::expm1(-x) - 0.5 * tau * libm::expm1(-2.0 * x);
        ip * ip * bracket
    }

    /// Time at which the integral of the current squared reaches a value: what a fuse needs to melt, while its
    /// element gives off no heat.
    pub fn time_to_i2t_s(&self, i2t_a2s: f64) -> f64 {
        assert!(0.0 < i2t_a2s && i2t_a2s.is_finite());
        let (tau, ip) = (self.time_constant_s(), self.prospective_a());
        // The current never passes V/R and lags behind it by no more than 3/2 τ of integral.
        let (mut low, mut high) = (0.0, i2t_a2s / (ip * ip) + 1.5 * tau);
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            if self.i2t_a2s(middle) < i2t_a2s {
                low = middle;
            } else {
                high = middle;
            }
        }
        high
    }

    /// Time at which the current reaches a value, or nothing if it never does.
    pub fn time_to_current_s(&self, current_a: f64) -> Option<f64> {
        let share = current_a / self.prospective_a();
        if (0.0..1.0).contains(&share) {
            Some(-self.time_constant_s() * libm::log1p(-share)) // t = −τ ln(1 − i R/V)
        } else {
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const FAULT: Loop = Loop { voltage_v: 400.0, resistance_ohm: 0.02, inductance_h: 10e-6 };

    #[test]
    fn val_400_v_20_mohm_10_uh() {
        // Worked independently in double precision: 3625, 12 642, 17 293 A; 152 302.5 A²s to 1 ms.
        assert!((FAULT.current_a(1e-4) - 3625.4).abs() < 0.1);
        assert!((FAULT.current_a(5e-4) - 12_642.4).abs() < 0.1);
        assert!((FAULT.current_a(1e-3) - 17_293.3).abs() < 0.1);
        assert!((FAULT.i2t_a2s(1e-3) - 152_302.5).abs() < 1.0);
        assert!((FAULT.initial_slope_a_per_s() - 40e6).abs() < 1e-3);
    }

    #[test]
    fn no_inductance_is_a_step() {
        let stiff = Loop { inductance_h: 0.0, ..FAULT };
        assert_eq!(stiff.current_a(0.0), 20_000.0);
        assert!((stiff.i2t_a2s(1e-3) - 4e5).abs() < 1e-6);
    }

    proptest! {
        /// The closed form against Simpson's rule on the current.
        #[test]
        fn prop_i2t_is_the_integral(t in 1e-7f64..5e-3) {
            let n = 2000;
            let h = t / f64::from(n);
            let f = |k: i32| { let i = FAULT.current_a(h * f64::from(k)); i * i };
            let mut sum = f(0) + f(n);
            for k in 1..n { sum += f(k) * if k % 2 == 1 { 4.0 } else { 2.0 }; }
            let simpson = sum * h / 3.0;
            prop_assert!((FAULT.i2t_a2s(t) / simpson - 1.0).abs() < 1e-7);
        }

        #[test]
        fn prop_i2t_and_time_are_inverse(log in -3.0f64..9.0) {
            let i2t = libm::pow(10.0, log);
            let t = FAULT.time_to_i2t_s(i2t);
            prop_assert!((FAULT.i2t_a2s(t) / i2t - 1.0).abs() < 1e-9);
        }

        #[test]
        fn prop_current_and_time_are_inverse(share in 0.001f64..0.999) {
            let i = share * FAULT.prospective_a();
            let t = FAULT.time_to_current_s(i).unwrap();
            prop_assert!((FAULT.current_a(t) / i - 1.0).abs() < 1e-12);
        }
    }
}
