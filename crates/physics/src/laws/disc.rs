//! Force of a conical disc washer.
//!
//! F = 4 E/(1 − ν²) · t⁴/(K₁ D²) · (s/t) [(h₀/t − s/t)(h₀/t − s/2t) + 1]
//! K₁ = (1/π) ((δ − 1)/δ)² / ((δ + 1)/(δ − 1) − 2/ln δ),  δ = D/d
//!
//! Range   Rectangular section, h₀ up to about 1.3 t, pressed between flats up to flat.
//! Source  Almen and Laszlo 1936 (memory); half of the test force of DIN 6796 (read, four sizes) is
//!         its force at flat, which tells how that column came about.
//! Caveat  At the full preload of its bolt a disc washer is flat: it only gives reserve below its own
//!         force, and belongs between head and plain washer, never on the current's way.

use std::f64::consts::PI;

/// Young's modulus of spring steel, MPa.
pub const STEEL_MPA: f64 = 206_000.0;
const POISSON: f64 = 0.3;

/// A disc washer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disc {
    /// Outside diameter D.
    pub outside_mm: f64,
    /// Inside diameter d.
    pub inside_mm: f64,
    /// Thickness t.
    pub thickness_mm: f64,
    /// Height when free.
    pub height_mm: f64,
}

impl Disc {
    /// Free height of the cone, h₀: the way to flat.
    pub fn cone_mm(&self) -> f64 {
        self.height_mm - self.thickness_mm
    }

    /// Force when pressed down by a way, at most to flat.
    pub fn force_n(&self, way_mm: f64) -> f64 {
        assert!(self.inside_mm > 0.0 && self.outside_mm > self.inside_mm);
        assert!(self.thickness_mm > 0.0 && self.cone_mm() >= 0.0);
        let ratio = self.outside_mm / self.inside_mm;
        let shape = (ratio - 1.0) / ratio;
        // K₁ = (1/π) ((δ − 1)/δ)² / ((δ + 1)/(δ − 1) − 2/ln δ)
        let k1 = shape * shape / PI / ((ratio + 1.0) / (ratio - 1.0) - 2.0 / libm::log(ratio));
        let t = self.thickness_mm;
        let (s, h) = (way_mm.min(self.cone_mm()) / t, self.cone_mm() / t);
        // 4 E/(1 − ν²) t⁴/(K₁ D²) (s/t) [(h₀/t − s/t)(h₀/t − s/2t) + 1]
        4.0 * STEEL_MPA / (1.0 - POISSON * POISSON) * t * t * t * t
            / (k1 * self.outside_mm * self.outside_mm)
            * s
            * ((h - s) * (h - s / 2.0) + 1.0)
    }

    /// Force that presses it flat.
    pub fn flattening_n(&self) -> f64 {
        self.force_n(self.cone_mm())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn val_half_the_test_force_of_din_6796() {
        // Outside, inside, thickness, least height, printed force (read). Three figures are printed.
        for (outside_mm, inside_mm, thickness_mm, height_mm, force) in [
            (5.0, 2.2, 0.4, 0.5, 630.0),
            (6.0, 2.7, 0.5, 0.61, 950.0),
            (7.0, 3.2, 0.6, 0.72, 1320.0),
            (8.0, 3.7, 0.8, 0.92, 2400.0),
        ] {
            let disc = Disc { outside_mm, inside_mm, thickness_mm, height_mm };
            let twice = 2.0 * disc.flattening_n();
            assert!((twice / force - 1.0).abs() < 6e-3, "{twice} against {force}");
        }
    }

    #[test]
    fn m8_is_flat_at_less_than_half_the_preload() {
        let disc =
            Disc { outside_mm: 18.0, inside_mm: 8.4, thickness_mm: 2.0, height_mm: 2.24 };
        let flat = disc.flattening_n();
        assert!((7000.0..8000.0).contains(&flat) && flat < 0.5 * 18_600.0, "{flat}");
    }

    proptest! {
        #[test]
        fn prop_more_way_never_less_force(way in 0.0f64..0.5, more in 0.0f64..0.1) {
            // A cone no higher than √2 of its thickness never snaps through.
            let disc = Disc {
                outside_mm: 18.0, inside_mm: 8.4, thickness_mm: 2.0, height_mm: 2.6,
            };
            prop_assert!(disc.force_n(way) <= disc.force_n(way + more) + 1e-9);
        }
    }
}
