//! Ageing of insulation: twice as fast for so many kelvin more.
//!
//! rate = exp[ (E/R) (1/T_ref - 1/T) ],  E/R = ln 2 T_ref (T_ref - step) / step
//!
//! The activation energy is that which doubles the life `step` kelvin below the reference, so that a
//! class and a rule of thumb are enough to draw Arrhenius's line.
//!
//! Range    About the reference; a polymer's mechanism changes where it melts or far below its class.
//! Source   Arrhenius; that insulation lasts half as long for 10 K more is common practice (Montsinger 1930,
//!          memory). 3000 h at the class temperature are the basis of ISO 6722-1 (memory).
//! Caveat   An indication of order: vibration, oil and damp are not in it.

/// How many times faster than at the reference.
pub fn rate(temperature_c: f64, reference_c: f64, halves_k: f64) -> f64 {
    assert!(0.0 < halves_k && halves_k < reference_c + 273.15);
    let (t, reference) = ((temperature_c + 273.15).max(1.0), reference_c + 273.15);
    // E/R = ln 2 T_ref (T_ref - step) / step
    let energy_k = std::f64::consts::LN_2 * reference * (reference - halves_k) / halves_k;
    // rate = exp[ (E/R) (1/T_ref - 1/T) ]
    libm::exp(energy_k * (1.0 / reference - 1.0 / t))
}

/// Activation energy in J/mol that goes with a step.
pub fn energy_j_mol(reference_c: f64, halves_k: f64) -> f64 {
    let reference = reference_c + 273.15;
    8.314_462_618 * std::f64::consts::LN_2 * reference * (reference - halves_k) / halves_k
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_below_the_reference_doubles_the_life() {
        assert!((rate(115.0, 125.0, 10.0) - 0.5).abs() < 1e-12);
        assert!((rate(125.0, 125.0, 10.0) - 1.0).abs() < 1e-12);
        let above = rate(135.0, 125.0, 10.0);
        assert!((1.8..2.0).contains(&above), "{above}");
    }

    #[test]
    fn val_energy_of_the_rule_is_that_of_polymers() {
        // 10 K at 125 degC is 0.92 eV; IEC 60216 speaks of 80 to 150 kJ/mol for common polymers (memory).
        let energy = energy_j_mol(125.0, 10.0);
        assert!((80e3..150e3).contains(&energy), "{energy}");
    }
}
