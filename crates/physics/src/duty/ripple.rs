//! Ripple that a switching inverter puts on its DC link, and what of it reaches the DC cables.
//!
//! I_C = I √(2M [√3/(4π) + cos²φ (√3/π − 9M/16)]),  M = 2|u|/Vdc
//! I_dc = (3/4) M √2 I cos φ
//! share in the cables = 1/|(f/f0)² − 1|,  f0 = 1/(2π√(LC))
//!
//! Range   Two-level inverter, linear modulation (M ≤ 2/√3), sinusoidal phase currents, carrier far above the
//!         electrical frequency; the share where f is not near f0.
//! Source  Kolar and Round, IEE Proc. Electric Power Applications 153 (2006) 535 (citation from memory; formula
//!         read in a published simulation). The sums below are a brute-force simulation of the switching.
//! Caveat  Without damping the share is infinite at f0; in truth resistance bounds it.

use std::f64::consts::PI;

/// Rms ripple in the link's capacitor.
pub fn capacitor_a_rms(phase_a_rms: f64, modulation: f64, power_factor: f64) -> f64 {
    assert!(0.0 <= modulation);
    let bracket = 3f64.sqrt() / (4.0 * PI)
        + power_factor * power_factor * (3f64.sqrt() / PI - 9.0 * modulation / 16.0);
    // Rounding may leave a hair below zero at the ends of the range.
    phase_a_rms * (2.0 * modulation * bracket).max(0.0).sqrt() // I_C
}

/// Mean current from the link into the inverter, which is taken as lossless.
pub fn dc_a(phase_a_rms: f64, modulation: f64, power_factor: f64) -> f64 {
    0.75 * modulation * 2f64.sqrt() * phase_a_rms * power_factor // (3/4) M √2 I cos φ
}

/// Frequency at which the cables' inductance and the capacitor swing.
pub fn resonance_hz(inductance_h: f64, capacitance_f: f64) -> f64 {
    1.0 / (2.0 * PI * (inductance_h * capacitance_f).sqrt()) // f0
}

/// Of a ripple of one frequency, the part that flows in the cables instead of the capacitor.
pub fn cable_share(frequency_hz: f64, resonance_hz: f64) -> f64 {
    let ratio = frequency_hz / resonance_hz;
    1.0 / (ratio * ratio - 1.0).abs() // 1/|(f/f0)² − 1|
}

/// The most that ripple can be of a phase current, whatever the modulation and the power factor.
///
/// With cos φ = 1 the square is M (5√3/(2π) − 9M/8), greatest at M = 10√3/(9π).
pub fn capacitor_a_rms_most(phase_a_rms: f64) -> f64 {
    capacitor_a_rms(phase_a_rms, 10.0 * 3f64.sqrt() / (9.0 * PI), 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_ripples_more_than_the_most() {
        let most = capacitor_a_rms_most(100.0);
        let mut greatest = 0.0;
        for m in 0..=1154 {
            for cos in 0..=100 {
                greatest = f64::max(
                    greatest,
                    capacitor_a_rms(100.0, f64::from(m) / 1000.0, f64::from(cos) / 100.0),
                );
            }
        }
        assert!(greatest <= most && most < greatest * (1.0 + 1e-5), "{greatest} {most}");
    }

    /// Two-level switching with sinusoidal currents summed over 600 carriers a period, 100 A rms: ripple with sine
    /// modulation, and the mean current.
    #[test]
    fn val_against_the_switching_itself() {
        for (m, cos, ripple, dc) in [
            (0.20, 0.90, 44.425, 19.092),
            (0.50, 0.90, 59.717, 47.730),
            (0.61, 1.00, 64.975, 64.700),
            (0.80, 0.85, 58.109, 72.125),
            (0.90, 0.90, 56.023, 85.913),
            (1.00, 1.00, 50.332, 106.066),
            (0.30, 0.20, 30.316, 6.364),
        ] {
            // The simulation's own grain is 1e-4.
            assert!((capacitor_a_rms(100.0, m, cos) / ripple - 1.0).abs() < 2e-4, "{m} {cos}");
            assert!((dc_a(100.0, m, cos) / dc - 1.0).abs() < 2e-5, "{m} {cos}");
        }
    }

    /// The usual rule of thumb: no more than 0.65 of the phase current.
    #[test]
    fn val_worst_case() {
        let worst = (1..=115)
            .map(|k| capacitor_a_rms(1.0, f64::from(k) / 100.0, 1.0))
            .fold(0.0, f64::max);
        assert!((worst - 0.6497).abs() < 1e-4);
    }

    #[test]
    fn a_long_pair_keeps_the_ripple_out() {
        // 2 uH and 500 uF swing at 5.03 kHz.
        let short = resonance_hz(2e-6, 500e-6);
        assert!((short - 5033.0).abs() < 1.0);
        let long = resonance_hz(6e-6, 500e-6);
        assert!(cable_share(16e3, long) < cable_share(16e3, short));
    }
}
