//! Crimped lugs: the pull they must bear, and the hexagon that leaves no void.
//!
//! F = 60 A (copper), 40 A (aluminium), at most 20 000 N       IEC 61238-1, A in mm²
//! AF = √(2 A/√3)                                              hexagon of area A
//!
//! Range   UL 486A values by gauge, 18 AWG to 4/0 AWG; IEC 61238-1 from 16 mm² up.
//! Source  IEC 61238-1 rule read in a connector maker's summary; UL 486A read in a crimp instruction
//!         sheet (its pound column; its newton column is misprinted for 2/0) and from memory where
//!         marked.
//! Caveat  A pull test proves the crimp that was pulled, not the next one. Clamp terminals (UL
//!         486E) have far lower values and must not be used for crimps.

use super::conductor::Material;

const POUND_FORCE_N: f64 = 4.448_221_615_260_5;

/// UL 486A pull-out of copper crimps: (gauge number, 1/0 = 0 and 4/0 = −3, force in lbf, read).
const UL_486A_LBF: [(i32, f64, bool); 14] = [
    (18, 20.0, true),
    (16, 30.0, true),
    (14, 50.0, true),
    (12, 70.0, true),
    (10, 80.0, true),
    (8, 90.0, true),
    (6, 100.0, true),
    (4, 140.0, true),
    (2, 180.0, true),
    (1, 200.0, false),
    (0, 250.0, true),
    (-1, 300.0, true),
    (-2, 350.0, false),
    (-3, 450.0, false),
];

/// A pull force of UL 486A.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Force held for one minute.
    pub force_n: f64,
    /// Whether the value was read in a source, or is from memory.
    pub read: bool,
}

/// UL 486A pull force for a gauge: 14 is 14 AWG, 0 is 1/0, −1 is 2/0, −3 is 4/0.
pub fn ul_486a(gauge: i32) -> Option<Pull> {
    UL_486A_LBF
        .iter()
        .find(|row| row.0 == gauge)
        .map(|row| Pull { force_n: row.1 * POUND_FORCE_N, read: row.2 })
}

/// IEC 61238-1 pull force.
pub fn iec_61238_1_n(area_mm2: f64, material: Material) -> f64 {
    assert!(area_mm2 > 0.0);
    let per_mm2 = match material {
        Material::Copper => 60.0,
        Material::Aluminium => 40.0,
    };
    (per_mm2 * area_mm2).min(20_000.0) // F = 60 A or 40 A, at most 20 kN
}

/// Metal area of a tubular barrel.
pub fn barrel_area_mm2(outside_mm: f64, inside_mm: f64) -> f64 {
    super::bearing::ring_area_mm2(outside_mm, inside_mm)
}

/// Across-flats of the hexagon whose area is exactly the metal in it: an upper bound for the die, since
/// any wider hexagon must leave voids. A real die is a little smaller and lengthens the barrel.
pub fn void_free_hexagon_mm(conductor_mm2: f64, barrel_mm2: f64) -> f64 {
    assert!(conductor_mm2 > 0.0 && barrel_mm2 >= 0.0);
    (2.0 * (conductor_mm2 + barrel_mm2) / 3.0_f64.sqrt()).sqrt() // AF = √(2 A/√3)
}

/// Share of the hexagon filled with metal, above 1 where metal must flow out along the barrel.
pub fn hexagon_fill(across_flats_mm: f64, conductor_mm2: f64, barrel_mm2: f64) -> f64 {
    assert!(across_flats_mm > 0.0);
    (conductor_mm2 + barrel_mm2) / (3.0_f64.sqrt() / 2.0 * across_flats_mm * across_flats_mm)
}

/// Palm of a tube lug from its barrel: (thickness, least width). The flattened tube is two walls
/// thick and half the mean circumference wide. Checked against a read lug sheet.
pub fn palm_mm(outside_mm: f64, inside_mm: f64) -> (f64, f64) {
    assert!(outside_mm > inside_mm && inside_mm > 0.0);
    let mean = (outside_mm + inside_mm) / 2.0;
    (outside_mm - inside_mm, std::f64::consts::FRAC_PI_2 * mean)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn val_pull_forces() {
        // UL 486A 2/0: 300 lbf = 1334 N (read). The sheet's own newton figure, 1235, is a misprint.
        assert!((ul_486a(-1).unwrap().force_n - 1334.47).abs() < 0.01);
        // IEC 61238-1: 60 N/mm² copper, 40 N/mm² aluminium, never above 20 kN (read).
        assert_eq!(iec_61238_1_n(70.0, Material::Copper), 4200.0);
        assert_eq!(iec_61238_1_n(70.0, Material::Aluminium), 2800.0);
        assert_eq!(iec_61238_1_n(400.0, Material::Copper), 20_000.0);
        assert_eq!(ul_486a(7), None);
    }

    #[test]
    fn val_palm_of_a_2_0_tube_lug() {
        // Read sheet: barrel 11.71/14.30 mm, palm 2.59 thick and 21.08 wide. The width is a lower
        // bound.
        let (thick, wide) = palm_mm(14.30, 11.71);
        assert!((thick - 2.59).abs() < 0.01);
        assert!(wide <= 21.08 && wide > 20.0, "{wide}");
    }

    #[test]
    fn a_void_free_hexagon_is_full() {
        let barrel = barrel_area_mm2(16.5, 11.5);
        let af = void_free_hexagon_mm(70.0, barrel);
        assert!((hexagon_fill(af, 70.0, barrel) - 1.0).abs() < 1e-12);
        assert!((af - 14.4).abs() < 0.05, "{af}");
    }

    #[test]
    fn thicker_wire_never_needs_less_pull() {
        for pair in UL_486A_LBF.windows(2) {
            assert!(pair[0].1 <= pair[1].1);
        }
    }
}
