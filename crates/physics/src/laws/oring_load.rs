//! Force to squeeze an O-ring, per length of its centre line.
//!
//! E = 0.0981 (56 + 7.62336 S) / (0.137505 (254 − 2.54 S))       Gent, S in Shore A, E in MPa
//! f = E d (1.25 C^1.5 + 50 C^6)                                 Lindley, f in N/mm, d in mm
//!
//! Range   20 ≤ S ≤ 80 Shore A; squeeze C up to 0.35.
//! Source  Gent 1958 and Lindley 1967 (memory); a seal handbook's range for 0.070 in at 70 Shore A
//!         and 20 % squeeze, 5 to 18 lbf per inch (read), contains the result.
//! Caveat  Compounds of one hardness differ by a factor: the handbook itself prints ranges only.

/// Hardness for which Gent's relation is used.
pub const SHORE_A: std::ops::RangeInclusive<f64> = 20.0..=80.0;
/// Squeeze for which Lindley's relation is used.
pub const SQUEEZE: std::ops::RangeInclusive<f64> = 0.0..=0.35;

/// Young's modulus of rubber from its hardness.
pub fn modulus_mpa(shore_a: f64) -> f64 {
    assert!(shore_a > 0.0 && shore_a < 100.0);
    // E = 0.0981 (56 + 7.62336 S)/(0.137505 (254 − 2.54 S))
    0.0981 * (56.0 + 7.623_36 * shore_a) / (0.137_505 * (254.0 - 2.54 * shore_a))
}

/// Load per length at a squeeze (0.2 is 20 %).
pub fn load_n_per_mm(section_mm: f64, shore_a: f64, squeeze: f64) -> f64 {
    assert!(section_mm > 0.0 && (0.0..1.0).contains(&squeeze));
    let c = squeeze;
    // f = E d (1.25 C^1.5 + 50 C^6)
    modulus_mpa(shore_a) * section_mm * (1.25 * c * c.sqrt() + 50.0 * c * c * c * c * c * c)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn val_lies_in_the_handbook_range() {
        // Read: 0.070 in, 70 Shore A, 20 % squeeze: 5 to 18 lbf per linear inch.
        let load = load_n_per_mm(1.78, 70.0, 0.2);
        let lbf_per_in = load / 4.448_221_615_260_5 * 25.4;
        assert!(5.0 < lbf_per_in && lbf_per_in < 18.0, "{lbf_per_in}");
    }

    #[test]
    fn gent_at_usual_hardness() {
        // By hand from the relation: 2.46, 3.61, 5.52, 9.35 MPa at 50, 60, 70, 80 Shore A.
        for (s, e) in [(50.0, 2.46), (60.0, 3.61), (70.0, 5.52), (80.0, 9.35)] {
            assert!((modulus_mpa(s) - e).abs() < 0.006, "{s}: {}", modulus_mpa(s));
        }
    }

    proptest! {
        #[test]
        fn prop_more_squeeze_never_less_load(c in 0.0f64..0.3, more in 0.0f64..0.05) {
            prop_assert!(load_n_per_mm(3.53, 70.0, c) <= load_n_per_mm(3.53, 70.0, c + more));
        }
    }
}
