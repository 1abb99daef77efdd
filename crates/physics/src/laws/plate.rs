//! Deflection of thin elastic plates: covers and entry plates.
//!
//! D = E t³ / (12 (1 − ν²))
//! clamped circle, uniform load        w = q a⁴/(64 D)
//! supported circle, uniform load      w = (5 + ν)/(1 + ν) q a⁴/(64 D)
//! clamped circle, load at the centre  w = P a²/(16 π D)
//! supported square, uniform load      w = 0.004 062 q b⁴/D         clamped 0.001 265
//! ring load on an annulus supported at its rim and free at its hole (Roark table 11.2, case 1a)
//!
//! Range   Thickness below about a fifth of the radius; deflection below about half the thickness.
//! Source  Clamped circle: a civil engineering handbook (read) and a university exercise (read).
//!         Annulus and square from memory of Roark, each checked against an independent solution
//!         (ordinary differential equation, Navier's series).
//! Caveat  A bolt circle is between clamped and supported: take supported.

use std::f64::consts::PI;

/// A plate's material and thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Young's modulus.
    pub modulus_mpa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Thickness.
    pub thickness_mm: f64,
}

impl Sheet {
    /// Bending stiffness D, N mm.
    pub fn stiffness_n_mm(&self) -> f64 {
        let t = self.thickness_mm;
        self.modulus_mpa * t * t * t / (12.0 * (1.0 - self.poisson * self.poisson)) // E t³/(12 (1 − ν²))
    }
}

/// Centre of a clamped circle under pressure.
pub fn clamped_uniform_mm(sheet: &Sheet, radius_mm: f64, pressure_mpa: f64) -> f64 {
    let a2 = radius_mm * radius_mm;
    pressure_mpa * a2 * a2 / (64.0 * sheet.stiffness_n_mm()) // q a⁴/(64 D)
}

/// Centre of a simply supported circle under pressure.
pub fn supported_uniform_mm(sheet: &Sheet, radius_mm: f64, pressure_mpa: f64) -> f64 {
    let nu = sheet.poisson;
    (5.0 + nu) / (1.0 + nu) * clamped_uniform_mm(sheet, radius_mm, pressure_mpa)
}

/// Centre of a clamped circle under a load at its centre.
pub fn clamped_centre_mm(sheet: &Sheet, radius_mm: f64, load_n: f64) -> f64 {
    load_n * radius_mm * radius_mm / (16.0 * PI * sheet.stiffness_n_mm()) // P a²/(16 π D)
}

/// Centre of a simply supported circle under a load at its centre.
pub fn supported_centre_mm(sheet: &Sheet, radius_mm: f64, load_n: f64) -> f64 {
    let nu = sheet.poisson;
    (3.0 + nu) / (1.0 + nu) * clamped_centre_mm(sheet, radius_mm, load_n)
}

/// Centre of a simply supported square under pressure; side between supports.
pub fn square_supported_uniform_mm(sheet: &Sheet, side_mm: f64, pressure_mpa: f64) -> f64 {
    let b2 = side_mm * side_mm;
    0.004_062_35 * pressure_mpa * b2 * b2 / sheet.stiffness_n_mm() // Navier's series
}

/// Centre of a clamped square under pressure.
pub fn square_clamped_uniform_mm(sheet: &Sheet, side_mm: f64, pressure_mpa: f64) -> f64 {
    let b2 = side_mm * side_mm;
    0.001_265_32 * pressure_mpa * b2 * b2 / sheet.stiffness_n_mm()
}

/// A round plate held at its rim by a bolt circle, with the seal pushing on a ring inside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingLoaded {
    /// Radius of the support.
    pub rim_mm: f64,
    /// Radius of the hole at the middle; 0 for a full plate.
    pub hole_mm: f64,
    /// Radius at which the load acts.
    pub ring_mm: f64,
    /// Load per length of that ring, N/mm.
    pub load_n_per_mm: f64,
}

/// Greatest deflection of a ring-loaded plate, simply supported at its rim: at the hole's edge, or
/// the centre.
pub fn ring_load_mm(sheet: &Sheet, plate: &RingLoaded) -> f64 {
    let RingLoaded { rim_mm: a, hole_mm: b, ring_mm: r, load_n_per_mm: w } = *plate;
    assert!(0.0 <= b && b <= r && 0.0 < r && r <= a);
    let (nu, d) = (sheet.poisson, sheet.stiffness_n_mm());
    if b == 0.0 {
        // Full plate: P/(8 π D) [(3 + ν)/(2 (1 + ν)) (a² − r²) − r² ln(a/r)], P = 2 π r w
        let bracket =
            (3.0 + nu) / (2.0 * (1.0 + nu)) * (a * a - r * r) - r * r * libm::log(a / r);
        return 2.0 * PI * r * w / (8.0 * PI * d) * bracket;
    }
    // Roark 11.2 case 1a: y_b = (w a³/D)(C1 L9/C7 − L3)
    let ring = r / a;
    let c1 = (1.0 + nu) / 2.0 * (b / a) * libm::log(a / b) + (1.0 - nu) / 4.0 * (a / b - b / a);
    let c7 = (1.0 - nu * nu) / 2.0 * (a / b - b / a);
    let l3 = ring / 4.0 * ((ring * ring + 1.0) * libm::log(a / r) + ring * ring - 1.0);
    let l9 =
        ring * ((1.0 + nu) / 2.0 * libm::log(a / r) + (1.0 - nu) / 4.0 * (1.0 - ring * ring));
    w * a * a * a / d * (c1 * l9 / c7 - l3)
}

/// Middle of a strip between two bolts under a line load: (ends clamped, ends hinged).
pub fn strip_mm(
    modulus_mpa: f64,
    width_mm: f64,
    thickness_mm: f64,
    span_mm: f64,
    load_n_per_mm: f64,
) -> (f64, f64) {
    assert!(width_mm > 0.0 && thickness_mm > 0.0 && modulus_mpa > 0.0);
    let inertia = width_mm * thickness_mm * thickness_mm * thickness_mm / 12.0;
    let l2 = span_mm * span_mm;
    let clamped = load_n_per_mm * l2 * l2 / (384.0 * modulus_mpa * inertia); // q L⁴/(384 E I)
    (clamped, 5.0 * clamped)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ALUMINIUM: Sheet = Sheet { modulus_mpa: 70_000.0, poisson: 0.33, thickness_mm: 6.0 };

    fn near(ours: f64, theirs: f64, within: f64) {
        assert!((ours / theirs - 1.0).abs() < within, "{ours} against {theirs}");
    }

    #[test]
    fn val_clamped_circles() {
        // Handbook forms (read), evaluated by hand: D = 1.413 983e6 N mm.
        near(ALUMINIUM.stiffness_n_mm(), 1.413_982_7e6, 1e-7);
        near(clamped_uniform_mm(&ALUMINIUM, 40.0, 0.1), 0.002_828_9, 2e-5);
        near(clamped_centre_mm(&ALUMINIUM, 40.0, 200.0), 0.004_502_3, 2e-5);
    }

    #[test]
    fn val_ring_load_against_an_independent_solution() {
        // The plate equation integrated numerically elsewhere gave 0.012 576 6 mm.
        let plate =
            RingLoaded { rim_mm: 40.0, hole_mm: 16.0, ring_mm: 30.0, load_n_per_mm: 2.24 };
        near(ring_load_mm(&ALUMINIUM, &plate), 0.012_576_6, 1e-5);
        let thinner = Sheet { thickness_mm: 5.0, ..ALUMINIUM };
        let plate =
            RingLoaded { rim_mm: 45.0, hole_mm: 20.0, ring_mm: 34.0, load_n_per_mm: 3.38 };
        near(ring_load_mm(&thinner, &plate), 0.048_70, 1e-4);
    }

    #[test]
    fn squares_against_tabled_coefficients() {
        // Roark table 11.4 (memory), nu 0.3: 0.0444 and 0.0138 q b^4/(E t^3), three figures printed.
        let s = Sheet { poisson: 0.3, ..ALUMINIUM };
        let unit = 0.1 * libm::pow(80.0, 4.0) / (s.modulus_mpa * 216.0);
        near(square_supported_uniform_mm(&s, 80.0, 0.1) / unit, 0.0444, 0.0012);
        near(square_clamped_uniform_mm(&s, 80.0, 0.1) / unit, 0.0138, 0.0036);
    }

    #[test]
    fn strip_by_hand() {
        let (clamped, hinged) = strip_mm(70_000.0, 20.0, 6.0, 50.0, 2.24);
        near(clamped, 0.001_447, 1e-3);
        near(hinged, 0.007_234, 1e-3);
    }

    proptest! {
        /// A ring load shrunk to the centre is the centre load.
        #[test]
        fn prop_a_small_ring_is_a_point(load in 1.0f64..1e3) {
            let r = 1e-3;
            let plate = RingLoaded {
                rim_mm: 40.0, hole_mm: 0.0, ring_mm: r, load_n_per_mm: load / (2.0 * PI * r),
            };
            let ring = ring_load_mm(&ALUMINIUM, &plate);
            let point = supported_centre_mm(&ALUMINIUM, 40.0, load);
            prop_assert!((ring / point - 1.0).abs() < 1e-6);
        }

        /// A pin hole hardly changes a full plate, and a hole never stiffens it.
        #[test]
        fn prop_a_pin_hole_is_no_hole(ring in 10.0f64..39.0) {
            let plate = |hole_mm| RingLoaded { rim_mm: 40.0, hole_mm, ring_mm: ring, load_n_per_mm: 2.0 };
            let full = ring_load_mm(&ALUMINIUM, &plate(0.0));
            let pin = ring_load_mm(&ALUMINIUM, &plate(1e-3));
            prop_assert!((pin / full - 1.0).abs() < 1e-4, "{} {}", pin, full);
            prop_assert!(ring_load_mm(&ALUMINIUM, &plate(5.0)) > full);
        }

        #[test]
        fn prop_thicker_never_bends_more(t in 2.0f64..10.0, more in 0.0f64..5.0) {
            let at = |thickness_mm| supported_uniform_mm(&Sheet { thickness_mm, ..ALUMINIUM }, 40.0, 0.1);
            prop_assert!(at(t + more) <= at(t));
        }
    }
}
