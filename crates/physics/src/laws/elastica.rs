//! The large bending of a stiff cable: the planar elastica, exact.
//!
//! cantilever, load P across its tip, α = P L²/EI, k² = (1 + sin θ₀)/2, sin φ = 1/(k√2):
//!   √α = K − F(φ) · w/L = 1 − 2 (E − E(φ))/√α · (L − u)/L = √(2 sin θ₀/α)
//! clamped at both ends in line, ends pushed together to d:
//!   d/L = 2 E/K − 1 · P = 16 K² EI/L² · rise/L = k/K · greatest curvature 8 k K/L
//! cantilever sagging under its own weight w, γ = w L³/EI: θ″ = −γ s cos θ from its free end
//!
//! Range   α up to 100; d from L down to 0; γ up to 30 (beyond, coiled shapes exist too).
//! Source  Bisshopp and Drucker 1945; Mattiasson 1981 table 1 (read); complete integrals by
//!         Carlson's method.
//! Caveat  A cable's bending stiffness is known within a factor only: measure it by the droop of a
//!         clamped length. The bowed shape between two clamps in line may swing around their line
//!         unless a third point holds it.

use std::f64::consts::{FRAC_PI_2, PI};

/// Largest load for [`tip_load`], α.
pub const ALPHA_MAX: f64 = 100.0;
/// Largest weight for [`droop`], γ.
pub const GAMMA_MAX: f64 = 30.0;

/// A cantilever bent by a load across its tip, all over its length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tip {
    /// Deflection across, w/L.
    pub across: f64,
    /// How far the tip draws back, u/L.
    pub back: f64,
    /// Angle of the tip, rad.
    pub angle_rad: f64,
    /// Moment at the clamp, M L/EI.
    pub root_moment: f64,
}

/// A cantilever with the load α = P L²/EI across its tip.
pub fn tip_load(alpha: f64) -> Tip {
    assert!((0.0..=ALPHA_MAX).contains(&alpha));
    if alpha < 1e-6 {
        // The small-deflection beam; the next terms are beyond 12 figures.
        return Tip {
            across: alpha / 3.0,
            back: alpha * alpha / 15.0,
            angle_rad: alpha / 2.0,
            root_moment: alpha,
        };
    }
    // Bisection on the logarithm of k'² = (1 − sin θ₀)/2: α falls as it rises to 1/2 (no load).
    let root = alpha.sqrt();
    let (mut low, mut high) = (libm::log(1e-12), libm::log(0.5));
    for _ in 0..200 {
        let middle = (low + high) / 2.0;
        if incomplete(libm::exp(middle)).0 > root {
            low = middle;
        } else {
            high = middle;
        }
    }
    let kc2 = libm::exp((low + high) / 2.0);
    let sine = 1.0 - 2.0 * kc2;
    let second = incomplete(kc2).1;
    let root_moment = (2.0 * alpha * sine).sqrt(); // M = √(2 α sin θ₀)
    Tip {
        across: 1.0 - 2.0 * second / root, // w/L = 1 − 2 (E − E(φ))/√α
        back: 1.0 - root_moment / alpha,   // u/L = 1 − M/(P L)
        angle_rad: libm::asin(sine.clamp(0.0, 1.0)),
        root_moment,
    }
}

/// K − F(φ) and E − E(φ) at sin φ = 1/(k√2), by the complementary modulus squared.
fn incomplete(kc2: f64) -> (f64, f64) {
    let k2 = 1.0 - kc2;
    let (first, second) = complete(kc2);
    let sine2 = 0.5 / k2;
    let sine = sine2.sqrt();
    let (cosine2, delta2) = ((1.0 - sine2).max(0.0), 0.5);
    let rf = carlson_rf(cosine2, delta2, 1.0);
    let rd = carlson_rd(cosine2, delta2, 1.0);
    let (f, e) = (sine * rf, sine * rf - k2 / 3.0 * sine * sine2 * rd);
    (first - f, second - e)
}

/// Complete elliptic integrals K and E by the complementary modulus squared k'².
fn complete(kc2: f64) -> (f64, f64) {
    let rf = carlson_rf(0.0, kc2, 1.0);
    (rf, rf - (1.0 - kc2) / 3.0 * carlson_rd(0.0, kc2, 1.0))
}

/// Carlson's R_F by duplication.
fn carlson_rf(x: f64, y: f64, z: f64) -> f64 {
    let (mut x, mut y, mut z) = (x, y, z);
    loop {
        let mean = (x + y + z) / 3.0;
        let (a, b) = (1.0 - x / mean, 1.0 - y / mean);
        let c = -(a + b);
        if a.abs().max(b.abs()).max(c.abs()) < 2e-3 {
            let (e2, e3) = (a * b - c * c, a * b * c);
            let series = 1.0 - e2 / 10.0 + e3 / 14.0 + e2 * e2 / 24.0 - 3.0 * e2 * e3 / 44.0;
            return series / mean.sqrt();
        }
        let step = (x * y).sqrt() + (y * z).sqrt() + (z * x).sqrt();
        (x, y, z) = ((x + step) / 4.0, (y + step) / 4.0, (z + step) / 4.0);
    }
}

/// Carlson's R_D by duplication.
fn carlson_rd(x: f64, y: f64, z: f64) -> f64 {
    let (mut x, mut y, mut z) = (x, y, z);
    let (mut sum, mut power) = (0.0, 1.0);
    loop {
        let mean = (x + y + 3.0 * z) / 5.0;
        let (a, b, c) = (1.0 - x / mean, 1.0 - y / mean, 1.0 - z / mean);
        if a.abs().max(b.abs()).max(c.abs()) < 1e-3 {
            let (ea, eb) = (a * b, c * c);
            let (ec, ed) = (ea - eb, ea - 6.0 * eb);
            let ee = ed + ec + ec;
            let series = 1.0
                + ed * (-3.0 / 14.0 + 9.0 / 88.0 * ed - 9.0 / 52.0 * c * ee)
                + c * (ee / 6.0 + c * (-9.0 / 22.0 * ec + c * 3.0 / 26.0 * ea));
            return 3.0 * sum + power * series / (mean * mean.sqrt());
        }
        let step = (x * y).sqrt() + (y * z).sqrt() + (z * x).sqrt();
        sum += power / (z.sqrt() * (z + step));
        power /= 4.0;
        (x, y, z) = ((x + step) / 4.0, (y + step) / 4.0, (z + step) / 4.0);
    }
}

/// A bowed length between two clamps in line, all over its length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bow {
    /// Force along the line, P L²/EI.
    pub force: f64,
    /// Height of the middle over the line, over L.
    pub rise: f64,
    /// Greatest curvature times L.
    pub curvature_max: f64,
}

/// A length whose clamped ends, in line, stand at `distance` (0 to below 1) of it.
pub fn clamped_bow(distance: f64) -> Bow {
    assert!((0.0..1.0).contains(&distance));
    // d/L = 2 E/K − 1 falls from 1 at k² = 0 to 0 at k² = 0.826.
    let (mut low, mut high) = (0.0, 0.85);
    for _ in 0..200 {
        let middle = (low + high) / 2.0;
        let (first, second) = complete(1.0 - middle);
        if 2.0 * second / first - 1.0 > distance {
            low = middle;
        } else {
            high = middle;
        }
    }
    let k = ((low + high) / 2.0).sqrt();
    let (first, _) = complete(1.0 - k * k);
    Bow { force: 16.0 * first * first, rise: k / first, curvature_max: 8.0 * k * first }
}

/// A clamped length hanging out level under its own weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Droop {
    /// γ = w L³/EI.
    pub weight: f64,
    /// Droop of the tip over L.
    pub droop: f64,
    /// Angle of the tip below level, rad.
    pub angle_rad: f64,
}

/// The droop at a weight γ.
pub fn droop(weight: f64) -> Droop {
    assert!(0.0 < weight && weight <= GAMMA_MAX);
    shape_where(|shape| shape.weight < weight)
}

/// The weight γ at which the tip droops by a share of the length, up to 0.85: its stiffness is then
/// w L³/γ.
pub fn weight_from_droop(share: f64) -> Droop {
    assert!(0.0 < share && share <= 0.85);
    shape_where(|shape| shape.droop < share)
}

/// The shape at the tip angle up to which `below` holds; weight and droop both grow with the angle.
fn shape_where(below: impl Fn(&Droop) -> bool) -> Droop {
    let (mut low, mut high) = (0.0, FRAC_PI_2);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if below(&hang(middle)) {
            low = middle;
        } else {
            high = middle;
        }
    }
    hang((low + high) / 2.0)
}

/// One shape by its tip angle. With t = γ^⅓ s the equation loses γ: θ″ = −t cos θ, from θ = tip and
/// θ′ = 0 to θ = 0.
fn hang(tip_rad: f64) -> Droop {
    let mut at = [tip_rad, 0.0, 0.0];
    let (mut t, mut h) = (0.0, 0.005);
    // The root is reached before t = 3.2 for every angle below 87 degrees; steps halve onto it.
    while h > 1e-13 && t < 20.0 {
        let next = runge_kutta(at, t, h);
        if next[0] > 0.0 {
            (at, t) = (next, t + h);
        } else {
            h /= 2.0;
        }
    }
    Droop { weight: t * t * t, droop: at[2] / t, angle_rad: tip_rad }
}

fn runge_kutta(y: [f64; 3], t: f64, h: f64) -> [f64; 3] {
    let slope = |y: [f64; 3], t: f64| [y[1], -t * libm::cos(y[0]), libm::sin(y[0])];
    let ahead = |k: [f64; 3], s: f64| [y[0] + s * k[0], y[1] + s * k[1], y[2] + s * k[2]];
    let k1 = slope(y, t);
    let k2 = slope(ahead(k1, h / 2.0), t + h / 2.0);
    let k3 = slope(ahead(k2, h / 2.0), t + h / 2.0);
    let k4 = slope(ahead(k3, h), t + h);
    let mut next = y;
    for i in 0..3 {
        next[i] += h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]);
    }
    next
}

/// Bounds of a stranded conductor's bending stiffness, N m²: strands slipping freely, and all of it
/// one solid bar of the same metal area. Their ratio is the number of strands; a cable lies near
/// the first.
pub fn stiffness_bounds_n_m2(area_mm2: f64, strand_mm: f64, modulus_mpa: f64) -> (f64, f64) {
    assert!(area_mm2 > 0.0 && strand_mm > 0.0 && modulus_mpa > 0.0);
    let strands = area_mm2 / (PI / 4.0 * strand_mm * strand_mm);
    let d2 = strand_mm * strand_mm;
    let slipping = strands * modulus_mpa * PI / 64.0 * d2 * d2; // N E π d⁴/64
    let solid = modulus_mpa * area_mm2 * area_mm2 / (4.0 * PI); // E A²/(4 π)
    (slipping * 1e-6, solid * 1e-6)
}

/// Bending stiffness of a tube of insulation, N m².
pub fn tube_stiffness_n_m2(outer_mm: f64, inner_mm: f64, modulus_mpa: f64) -> f64 {
    assert!(outer_mm >= inner_mm && inner_mm >= 0.0);
    let fourth = |d: f64| d * d * d * d;
    modulus_mpa * PI / 64.0 * (fourth(outer_mm) - fourth(inner_mm)) * 1e-6 // E π (D⁴ − d⁴)/64
}

/// Lowest natural frequency of a span in Hz, (ends hinged, ends clamped): λ²/(2 π L²) √(EI/m), λ =
/// π and 4.730.
pub fn span_frequency_hz(stiffness_n_m2: f64, mass_kg_m: f64, span_m: f64) -> (f64, f64) {
    assert!(stiffness_n_m2 >= 0.0 && mass_kg_m > 0.0 && span_m > 0.0);
    let base = (stiffness_n_m2 / mass_kg_m).sqrt() / (2.0 * PI * span_m * span_m);
    (PI * PI * base, 22.373_285_4 * base)
}

/// Sag of a span under its own weight by beam theory in m, (ends hinged, ends clamped).
pub fn span_sag_m(stiffness_n_m2: f64, weight_n_m: f64, span_m: f64) -> (f64, f64) {
    assert!(stiffness_n_m2 > 0.0 && span_m > 0.0);
    let l2 = span_m * span_m;
    let clamped = weight_n_m * l2 * l2 / (384.0 * stiffness_n_m2); // w L⁴/(384 EI)
    (5.0 * clamped, clamped)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn val_mattiasson_table_1() {
        // Mattiasson 1981, reproduced in public test suites (read): α: (w/L, u/L), five figures
        // printed.
        for (alpha, w, u) in [
            (1.0, 0.30172, 0.05643),
            (2.0, 0.49346, 0.16064),
            (5.0, 0.71379, 0.38763),
            (10.0, 0.81061, 0.55500),
        ] {
            let tip = tip_load(alpha);
            assert!((tip.across - w).abs() < 6e-6, "{alpha}: {tip:?}");
            assert!((tip.back - u).abs() < 6e-6, "{alpha}: {tip:?}");
        }
        assert!((tip_load(1.0).angle_rad - 0.46135).abs() < 6e-6);
    }

    #[test]
    fn complete_integrals_at_45_degrees() {
        // K(1/√2) = 1.854 074 677 3, E = 1.350 643 881 0 (standard tables, memory).
        let (k, e) = complete(0.5);
        assert!((k - 1.854_074_677_3).abs() < 1e-10 && (e - 1.350_643_881_0).abs() < 1e-10);
    }

    #[test]
    fn val_bow_starts_at_the_euler_load() {
        let bow = clamped_bow(1.0 - 1e-9);
        assert!((bow.force / (4.0 * PI * PI) - 1.0).abs() < 1e-8, "{}", bow.force);
        // Timoshenko and Gere's column (memory), tip 60 degrees: P/Pcr 1.152; here k = sin 30°.
        let k2 = 0.25;
        let (first, second) = complete(1.0 - k2);
        let bow = clamped_bow(2.0 * second / first - 1.0);
        assert!((bow.force / (4.0 * PI * PI) - 1.152).abs() < 6e-4);
    }

    #[test]
    fn droop_agrees_with_another_solution() {
        // Shooting elsewhere to 1e-12: γ: (droop, tip angle in degrees).
        for (weight, share, angle) in [
            (1.0, 0.12347, 9.460),
            (5.0, 0.49591, 39.935),
            (10.0, 0.70020, 60.312),
            (20.0, 0.82988, 76.748),
        ] {
            let shape = droop(weight);
            assert!((shape.droop - share).abs() < 6e-6, "{weight}: {shape:?}");
            assert!((shape.angle_rad * 180.0 / PI - angle).abs() < 6e-4, "{weight}: {shape:?}");
        }
    }

    #[test]
    fn droop_starts_as_a_beam() {
        let shape = droop(1e-3);
        assert!((shape.droop / (1e-3 / 8.0) - 1.0).abs() < 1e-5, "{shape:?}");
    }

    #[test]
    fn stiffness_of_70_mm2_in_half_millimetre_strands() {
        let area = 356.0 * PI / 4.0 * 0.25;
        let (slip, solid) = stiffness_bounds_n_m2(area, 0.5, 117_000.0);
        assert!((slip - 0.127_79).abs() < 1e-5 && (solid - 45.492).abs() < 1e-3);
        assert!((solid / slip - 356.0).abs() < 1e-9);
    }

    proptest! {
        /// The tip stays within the length, and no load unbends.
        #[test]
        fn prop_more_load_bends_more(alpha in 0.01f64..90.0, more in 0.0f64..10.0) {
            let (a, b) = (tip_load(alpha), tip_load(alpha + more));
            prop_assert!(a.across <= b.across + 1e-12 && a.back <= b.back + 1e-12);
            prop_assert!(a.across * a.across + (1.0 - a.back) * (1.0 - a.back) <= 1.0);
        }

        #[test]
        fn prop_droop_and_weight_are_inverse(weight in 0.01f64..20.0) {
            let there = droop(weight);
            let back = weight_from_droop(there.droop);
            prop_assert!((back.weight / weight - 1.0).abs() < 1e-8);
        }

        #[test]
        fn prop_closer_ends_push_harder(d in 0.0f64..0.99, more in 0.0f64..0.009) {
            // The rise has its greatest, 0.403 L, near d = 0.3 and falls a little as the ends meet.
            prop_assert!(d < 0.35 || clamped_bow(d + more).rise <= clamped_bow(d).rise + 1e-12);
            prop_assert!(clamped_bow(d).rise < 0.4035);
            prop_assert!(clamped_bow(d + more).force <= clamped_bow(d).force + 1e-9);
        }
    }
}
