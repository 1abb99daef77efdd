//! Conduction across the layers of a round cable.
//!
//! T1 = rho / (2 pi) ln(D/d), per metre; critical radius k / h
//!
//! Range    Concentric layers, steady heat.
//! Source   Fourier's law (IEC 60287-2-1, 4.1.2 for the cable); critical radius in any textbook.
//!          Resistivities of materials: IEC 60287-2-1 table, from memory.
//! Caveat   Strands and their voids belong to the conductor, which is taken as of one temperature.

/// Thermal resistance of one layer per metre, K m/W.
pub fn layer_k_m_per_w(resistivity_k_m_per_w: f64, inner_mm: f64, outer_mm: f64) -> f64 {
    assert!(0.0 < inner_mm && inner_mm <= outer_mm && 0.0 <= resistivity_k_m_per_w);
    // T = rho / (2 pi) ln(D/d)
    resistivity_k_m_per_w / (2.0 * std::f64::consts::PI) * libm::log(outer_mm / inner_mm)
}

/// Radius in mm at which a thicker layer stops helping, for a constant coefficient.
pub fn critical_radius_mm(resistivity_k_m_per_w: f64, coefficient_w_m2k: f64) -> f64 {
    assert!(0.0 < resistivity_k_m_per_w && 0.0 < coefficient_w_m2k);
    // r = k / h
    1000.0 / (resistivity_k_m_per_w * coefficient_w_m2k)
}

/// Thermal resistivity of an insulation in K m/W by its usual name, IEC 60287-2-1 (memory).
pub fn resistivity_k_m_per_w(name: &str) -> Option<f64> {
    match name {
        "xlpe" | "pe" | "epr" => Some(3.5),
        "pvc" | "rubber" | "silicone" => Some(5.0),
        "polychloroprene" => Some(5.5),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn val_textbook_wire() {
        // Cengel, example 3-9: 3 mm wire, 2 mm plastic of 0.15 W/mK, 80 W over 5 m, h 12, air 30 degC:
        // interface 105 degC, critical radius 12.5 mm.
        let inside = layer_k_m_per_w(1.0 / 0.15, 3.0, 7.0);
        let outside = 1.0 / (12.0 * std::f64::consts::PI * 7e-3);
        assert!((30.0 + 16.0 * (inside + outside) - 105.0).abs() < 0.1);
        assert!((critical_radius_mm(1.0 / 0.15, 12.0) - 12.5).abs() < 1e-9);
    }

    #[test]
    fn val_thermal_resistance_of_the_example_cable() {
        assert!((layer_k_m_per_w(3.5, 12.0, 17.0) - 0.194_022).abs() < 1e-6);
    }

    #[test]
    fn val_least_resistance_is_at_the_critical_radius() {
        // dc 12 mm, rho 3.5, h 16: 1.5749 at 13 mm, 1.1646 least at 35.7 mm, 1.1929 at 50 mm (computed).
        let total = |d: f64| {
            layer_k_m_per_w(3.5, 12.0, d) + 1.0 / (16.0 * std::f64::consts::PI * d * 1e-3)
        };
        assert!((total(13.0) - 1.5749).abs() < 1e-4 && (total(50.0) - 1.1929).abs() < 1e-4);
        let least = 2.0 * critical_radius_mm(3.5, 16.0);
        assert!((total(least) - 1.1646).abs() < 1e-4);
        assert!(total(least) < total(least - 1.0) && total(least) < total(least + 1.0));
    }
}
