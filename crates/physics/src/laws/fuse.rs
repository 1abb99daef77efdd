//! Loading of a fuse: heat around it, repeated load, short peaks.
//!
//! A1 = √((a − θ)/(a − θ₀))
//!
//! Range   Ambient below a; a = 130 to 150 degC, θ₀ = 25 to 30 degC by fuse family.
//! Source  Semiconductor fuse guide (read; its root sign is garbled there and the form
//!         reconstructed); cycling shares of melting I²t from an application note (read); "load
//!         profile below 50 % of the melting curve" (read).
//! Caveat  The maker's own curves rule. A time-current curve is a mean: melting scatters by some 10
//!         % in current.

/// Constants of a fuse family for the ambient factor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Family {
    /// Ambient at which the fuse carries nothing, a.
    pub top_c: f64,
    /// Ambient of the rating, θ₀.
    pub reference_c: f64,
}

/// The more cautious pair of the guide's range.
pub const CAUTIOUS: Family = Family { top_c: 130.0, reference_c: 25.0 };

/// Factor on the rated current at an ambient; 1 below the reference, 0 above the top.
pub fn ambient_factor(ambient_c: f64, family: Family) -> f64 {
    assert!(family.top_c > family.reference_c);
    let share = (family.top_c - ambient_c) / (family.top_c - family.reference_c);
    share.clamp(0.0, 1.0).sqrt() // A1 = √((a − θ)/(a − θ₀))
}

/// Share of the melting I²t that one pulse may have, by the number of pulses in its life (read):
/// (pulses, share).
pub const PULSE_SHARES: [(f64, f64); 4] =
    [(100.0, 0.48), (1_000.0, 0.38), (10_000.0, 0.29), (100_000.0, 0.22)];

/// Share for a number of pulses, linear in the logarithm between the rows, held at both ends;
/// nothing above 100 000 pulses.
pub fn pulse_share(pulses: f64) -> Option<f64> {
    assert!(pulses >= 1.0);
    if pulses <= PULSE_SHARES[0].0 {
        return Some(PULSE_SHARES[0].1);
    }
    PULSE_SHARES.windows(2).find(|pair| pulses <= pair[1].0).map(|pair| {
        let (low, high) = (pair[0], pair[1]);
        let x = libm::log10(pulses / low.0) / libm::log10(high.0 / low.0);
        low.1 + (high.1 - low.1) * x
    })
}

/// Share of the melting current at a given time that a repeated load may reach (read).
pub const CYCLIC_SHARE: f64 = 0.5;

/// A fuse's melting curve: (time in s, current in A), time rising, current falling.
pub type Curve<'a> = &'a [(f64, f64)];

/// Melting current at a time, on straight lines in log-log paper; nothing outside the curve.
pub fn melting_current_a(curve: Curve<'_>, time_s: f64) -> Option<f64> {
    let (x, pair) = position(curve, time_s)?;
    Some(libm::exp(libm::log(pair[0].1) + x * libm::log(pair[1].1 / pair[0].1)))
}

fn position<'a>(curve: Curve<'a>, time_s: f64) -> Option<(f64, &'a [(f64, f64)])> {
    curve
        .windows(2)
        .find(|pair| pair[0].0 <= time_s && time_s <= pair[1].0)
        .map(|pair| (libm::log(time_s / pair[0].0) / libm::log(pair[1].0 / pair[0].0), pair))
}

/// Continuous current a fuse may carry: rating times the ambient factor times the share kept for
/// continuous load (1 for fuses rated so, 0.8 common practice for vehicle bolt-in fuses).
pub fn continuous_a(rated_a: f64, ambient_c: f64, family: Family, share: f64) -> f64 {
    assert!(rated_a > 0.0 && share > 0.0);
    rated_a * ambient_factor(ambient_c, family) * share
}

/// I²t of common pulse shapes, over peak squared times length (read).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pulse {
    /// Constant.
    Rectangle,
    /// Half a sine.
    HalfSine,
    /// Triangle or ramp.
    Triangle,
    /// e^(−t/τ), with τ as the length.
    Exponential,
}

/// I²t of a pulse, A²s.
pub fn pulse_i2t_a2s(shape: Pulse, peak_a: f64, length_s: f64) -> f64 {
    let share = match shape {
        Pulse::Rectangle => 1.0,
        Pulse::HalfSine | Pulse::Exponential => 0.5,
        Pulse::Triangle => 1.0 / 3.0,
    };
    share * peak_a * peak_a * length_s
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn val_ambient_factor() {
        // By the guide's form: a 130, θ₀ 25: 0.926, 0.816, 0.690, 0.535; a 150, θ₀ 30: 0.957,
        // 0.866, 0.764, 0.645.
        let wide = Family { top_c: 150.0, reference_c: 30.0 };
        for (t, cautious, other) in [
            (40.0, 0.926, 0.957),
            (60.0, 0.816, 0.866),
            (80.0, 0.690, 0.764),
            (100.0, 0.535, 0.645),
        ] {
            assert!((ambient_factor(t, CAUTIOUS) - cautious).abs() < 6e-4, "{t}");
            assert!((ambient_factor(t, wide) - other).abs() < 6e-4, "{t}");
        }
    }

    #[test]
    fn val_pulse_shares() {
        assert_eq!(pulse_share(100.0), Some(0.48));
        assert!((pulse_share(10_000.0).unwrap() - 0.29).abs() < 1e-12);
        assert_eq!(pulse_share(1e6), None);
        let between = pulse_share(31_623.0).unwrap();
        assert!((between - 0.255).abs() < 1e-4, "{between}");
    }

    #[test]
    fn a_curve_is_read_on_log_paper() {
        let curve = [(0.1, 1000.0), (10.0, 100.0)];
        assert!((melting_current_a(&curve, 1.0).unwrap() - 316.23).abs() < 0.01);
        assert_eq!(melting_current_a(&curve, 100.0), None);
    }

    proptest! {
        #[test]
        fn prop_hotter_never_carries_more(t in -40.0f64..140.0, more in 0.0f64..40.0) {
            prop_assert!(ambient_factor(t + more, CAUTIOUS) <= ambient_factor(t, CAUTIOUS));
        }

        #[test]
        fn prop_more_pulses_never_a_larger_share(n in 1.0f64..9e4, more in 0.0f64..1e4) {
            prop_assert!(pulse_share(n + more).unwrap() <= pulse_share(n).unwrap() + 1e-15);
        }
    }
}
