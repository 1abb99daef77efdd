//! Heating of a conductor so short that nothing leaves it.
//!
//! I = K S sqrt( ln[(Tf + b)/(Ti + b)] / t );  k = K sqrt(ln[(Tf + b)/(Ti + b)])
//!
//! Range    Up to about 5 s for the cables in question; longer, the insulation takes up heat and the real
//!          conductor is cooler than said here.
//! Source   IEC 60949 and IEC 60364-5-54 (K and b from memory; the printed factors k, read in two
//!          reprints, come out within 0.3 %); ICEA P-32-382 as in General Cable SPEC F125, read.
//! Caveat   The copper must be there: use the effective area, not the nominal one, for a flexible cable
//!          at its resistance limit.

use crate::laws::conductor::Material;

/// K of IEC 60949, A s^(1/2) / mm2.
pub fn material_constant(material: Material) -> f64 {
    match material {
        Material::Copper => 226.0,
        Material::Aluminium => 148.0,
    }
}

/// ln[(Tf + b)/(Ti + b)]
fn logarithm(material: Material, from_c: f64, to_c: f64) -> f64 {
    let b = material.zero_resistance_c();
    assert!(-b < from_c && from_c <= to_c, "a fault heats");
    libm::log((to_c + b) / (from_c + b))
}

/// Factor k of IEC 60364-5-54, A s^(1/2) / mm2.
pub fn k_factor(material: Material, from_c: f64, to_c: f64) -> f64 {
    material_constant(material) * logarithm(material, from_c, to_c).sqrt()
}

/// Energy let through that takes an area from one temperature to another, A2 s.
pub fn joule_a2s(material: Material, area_mm2: f64, from_c: f64, to_c: f64) -> f64 {
    let k = k_factor(material, from_c, to_c);
    k * k * area_mm2 * area_mm2
}

/// Current that does so in a time, A.
pub fn current_a(
    material: Material,
    area_mm2: f64,
    from_c: f64,
    to_c: f64,
    duration_s: f64,
) -> f64 {
    assert!(0.0 < duration_s);
    (joule_a2s(material, area_mm2, from_c, to_c) / duration_s).sqrt()
}

/// Time in which a current does so, s.
pub fn duration_s(
    material: Material,
    area_mm2: f64,
    from_c: f64,
    to_c: f64,
    current_a: f64,
) -> f64 {
    assert!(0.0 < current_a);
    joule_a2s(material, area_mm2, from_c, to_c) / (current_a * current_a)
}

/// Temperature after an energy let through, degC; infinite where the metal would be gone long before.
pub fn final_c(material: Material, area_mm2: f64, from_c: f64, joule_a2s: f64) -> f64 {
    assert!(0.0 < area_mm2 && 0.0 <= joule_a2s);
    let b = material.zero_resistance_c();
    let ks = material_constant(material) * area_mm2;
    // Tf = (Ti + b) exp(I2t / (K S)^2) - b
    (from_c + b) * libm::exp(joule_a2s / (ks * ks)) - b
}

#[cfg(test)]
mod tests {
    use super::*;
    use Material::{Aluminium, Copper};

    #[test]
    fn val_factors_of_iec_60364_5_54() {
        // NEN 1010 and GOST R 50571.5.54 reprints, read.
        for (material, from, to, k) in [
            (Copper, 70.0, 160.0, 115.0),
            (Copper, 90.0, 250.0, 143.0),
            (Copper, 30.0, 160.0, 143.0),
            (Copper, 30.0, 220.0, 166.0),
            (Copper, 30.0, 250.0, 176.0),
            (Copper, 30.0, 500.0, 228.0),
            (Copper, 60.0, 200.0, 141.0),
            (Aluminium, 70.0, 160.0, 76.0),
            (Aluminium, 90.0, 250.0, 94.0),
        ] {
            let got = k_factor(material, from, to);
            assert!((got / k - 1.0).abs() < 0.006, "{from} {to}: {got}");
        }
    }

    #[test]
    fn val_icea() {
        // ICEA P-32-382: 2/0 AWG (133.1 kcmil), 90 to 250 degC, 1 s: 0.07195 x 133100 = 9577 A.
        let area = 133.1 * crate::laws::conductor::KCMIL_MM2;
        assert!((current_a(Copper, area, 90.0, 250.0, 1.0) / 9577.0 - 1.0).abs() < 0.01);
    }

    #[test]
    fn inverse_forms_agree() {
        let to = final_c(Copper, 70.0, 60.0, 5000.0 * 5000.0);
        assert!((to - 90.937).abs() < 1e-3);
        assert!((current_a(Copper, 70.0, 60.0, to, 1.0) - 5000.0).abs() < 1e-6);
        assert!((duration_s(Copper, 70.0, 60.0, to, 5000.0) - 1.0).abs() < 1e-9);
    }
}
