//! Alternating-current resistance and thermal resistance in free air by IEC 60287.
//!
//! R = R' (1 + ys + yp); T4 = 1 / (pi De h dts^(1/4)), h = Z / De^g + E
//!
//! Range    Round conductors; yp of two and three single cables for xp up to 2.8; free air, no sun.
//! Source   IEC 60287-1-1 and 60287-2-1, from memory. ys is within 0.6 % of the exact solution, yp of
//!          three cables within 0.6 % up to 1200 Hz, both checked in `validation`; yp of two cables is 9 %
//!          high at 800 Hz for 70 mm2. The set Z, E, g reproduces the tables of IEC 60364-5-52 methods F
//!          and G within 5 %, which would show a gross slip of memory, not one of a few per cent.
//! Caveat   A black surface is assumed, which overstates the rating of a single cable by about 4 %. In
//!          flat formation the middle cable loses more than the one number says: see [`super::proximity`].

use crate::laws::skin;

/// Skin effect factor ys of a round stranded conductor, ks = 1.
pub fn skin_factor(xs: f64) -> f64 {
    match xs {
        // ys = xs^4 / (192 + 0.8 xs^4)
        x if x <= 2.8 => quartic(x),
        // ys = -0.136 - 0.0177 xs + 0.0563 xs^2
        x if x <= 3.8 => -0.136 - 0.0177 * x + 0.0563 * x * x,
        // ys = 0.354 xs - 0.733
        x => 0.354 * x - 0.733,
    }
}

fn quartic(x: f64) -> f64 {
    let x4 = x * x * x * x;
    x4 / (192.0 + 0.8 * x4)
}

/// Greatest xp for which the proximity factors are stated.
pub const PROXIMITY_ARGUMENT_MAX: f64 = 2.8;

/// Proximity factor yp of three single cables, kp = 1.
pub fn proximity_factor_three(xp: f64, conductor_mm: f64, spacing_mm: f64) -> f64 {
    let f = quartic(xp);
    let q = (conductor_mm / spacing_mm) * (conductor_mm / spacing_mm);
    // yp = F q (0.312 q + 1.18 / (F + 0.27))
    f * q * (0.312 * q + 1.18 / (f + 0.27))
}

/// Proximity factor yp of two single cables, kp = 1.
pub fn proximity_factor_two(xp: f64, conductor_mm: f64, spacing_mm: f64) -> f64 {
    let q = (conductor_mm / spacing_mm) * (conductor_mm / spacing_mm);
    // yp = 2.9 F q
    2.9 * quartic(xp) * q
}

/// R/R' of one of `cables` (1, 2 or 3) single cables.
pub fn ratio(
    frequency_hz: f64,
    resistance_ohm_per_m: f64,
    cables: usize,
    conductor_mm: f64,
    spacing_mm: f64,
) -> f64 {
    let x = skin::argument(frequency_hz, resistance_ohm_per_m);
    let proximity = match cables {
        1 => 0.0,
        2 => proximity_factor_two(x, conductor_mm, spacing_mm),
        3 => proximity_factor_three(x, conductor_mm, spacing_mm),
        other => panic!("IEC 60287 has 1 to 3 cables, not {other}"),
    };
    1.0 + skin_factor(x) + proximity
}

/// How cables lie in free air.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InAir {
    /// One, or several far apart.
    Single,
    /// Two touching, side by side.
    TwoTouching,
    /// Three touching, two below and one on top or the other way round.
    Trefoil,
    /// Three touching, side by side.
    ThreeTouching,
    /// Two touching, one above the other.
    TwoTouchingVertical,
    /// Two, one above the other, one diameter between.
    TwoSpacedVertical,
    /// Three touching, one above the other.
    ThreeTouchingVertical,
    /// Three, one above the other, one diameter between.
    ThreeSpacedVertical,
}

impl InAir {
    /// Z, E, g for a diameter in metres.
    fn constants(self) -> (f64, f64, f64) {
        match self {
            InAir::Single => (0.21, 3.94, 0.60),
            InAir::TwoTouching => (0.29, 2.35, 0.50),
            InAir::Trefoil => (0.96, 1.25, 0.20),
            InAir::ThreeTouching => (0.62, 1.95, 0.25),
            InAir::TwoTouchingVertical => (1.42, 0.86, 0.25),
            InAir::TwoSpacedVertical => (0.75, 2.80, 0.30),
            InAir::ThreeTouchingVertical => (1.61, 0.42, 0.20),
            InAir::ThreeSpacedVertical => (1.31, 2.00, 0.20),
        }
    }
}

/// One cable without screen or armour, at its limit in free air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeAir {
    /// Sum of the thermal resistances inside the surface.
    pub inside_k_m_per_w: f64,
    /// Overall diameter.
    pub outer_mm: f64,
    /// Arrangement.
    pub arrangement: InAir,
    /// Resistance at the limit, alternating-current effects included.
    pub resistance_ohm_per_m: f64,
    /// Limit less air.
    pub rise_k: f64,
}

/// What the chain of IEC 60287 gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeAirRating {
    /// h, W/(m2 K^(5/4)).
    pub h: f64,
    /// Surface less air.
    pub surface_rise_k: f64,
    /// Thermal resistance of surface to air.
    pub outside_k_m_per_w: f64,
    /// Loss of the cable.
    pub loss_w_per_m: f64,
    /// Continuous current.
    pub current_a: f64,
}

/// Continuous current in free air by the chain of IEC 60287-1-1 and 2-1.
pub fn free_air(cable: &FreeAir) -> FreeAirRating {
    assert!(0.0 < cable.rise_k && 0.0 < cable.outer_mm && 0.0 < cable.resistance_ohm_per_m);
    let de = cable.outer_mm * 1e-3;
    let (z, e, g) = cable.arrangement.constants();
    // h = Z / De^g + E
    let h = z / libm::pow(de, g) + e;
    // KA = pi De h (T1 + T3)
    let ka = std::f64::consts::PI * de * h * cable.inside_k_m_per_w;
    let mut root = 2.0;
    for _ in 0..100 {
        // dts^(1/4) = (dTheta / (1 + KA dts^(1/4)))^(1/4)
        let next = libm::pow(cable.rise_k / (1.0 + ka * root), 0.25);
        let done = (next - root).abs() < 1e-12;
        root = next;
        if done {
            break;
        }
    }
    // T4 = 1 / (pi De h dts^(1/4))
    let outside = 1.0 / (std::f64::consts::PI * de * h * root);
    let loss = cable.rise_k / (cable.inside_k_m_per_w + outside);
    FreeAirRating {
        h,
        surface_rise_k: root * root * root * root,
        outside_k_m_per_w: outside,
        loss_w_per_m: loss,
        current_a: (loss / cable.resistance_ohm_per_m).sqrt(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, expected: f64, relative: f64) {
        assert!((got / expected - 1.0).abs() < relative, "{got} against {expected}");
    }

    /// 70 mm2 class 5 at 90 degC with alpha 3.93e-3, XLPE from 12 to 17 mm, air 30 degC.
    fn cable(arrangement: InAir, ratio: f64) -> FreeAirRating {
        free_air(&FreeAir {
            inside_k_m_per_w: 3.5 / (2.0 * std::f64::consts::PI) * libm::log(17.0 / 12.0),
            outer_mm: 17.0,
            arrangement,
            resistance_ohm_per_m: 0.272e-3 * (1.0 + 3.93e-3 * 70.0) * ratio,
            rise_k: 60.0,
        })
    }

    #[test]
    fn val_chain_in_air() {
        // Worked by hand through every step of the formulas (computed, formulas from memory).
        for (arrangement, h, t4, current) in [
            (InAir::Single, 6.36075, 1.10146, 365.43),
            (InAir::TwoTouching, 4.57420, 1.51574, 318.1),
            (InAir::Trefoil, 3.41861, 2.01373, 279.9),
            (InAir::ThreeTouching, 3.66704, 1.88023, 288.8),
        ] {
            let got = cable(arrangement, 1.0);
            near(got.h, h, 1e-5);
            near(got.outside_k_m_per_w, t4, 1e-5);
            near(got.current_a, current, 2e-4);
        }
    }

    #[test]
    fn val_trefoil_with_alternating_current() {
        let r = 0.272e-3 * (1.0 + 3.93e-3 * 70.0);
        let x = skin::argument(1000.0, r);
        near(skin_factor(x), 0.224399, 1e-5);
        near(proximity_factor_three(x, 12.0, 17.0), 0.284246, 1e-5);
        near(cable(InAir::Trefoil, ratio(1000.0, r, 3, 12.0, 17.0)).current_a, 227.9, 2e-4);
        near(cable(InAir::Trefoil, ratio(50.0, r, 3, 12.0, 17.0)).current_a, 279.62, 1e-4);
    }

    #[test]
    fn val_skin_factor_stays_near_the_exact_one() {
        // -0.11 % at 2.8, +0.41 % at 3.8, -0.28 % at 5 (computed with scipy). The branches do not meet at
        // 3.8: just above it the last one is 0.57 % high, the largest error of all.
        let error = |x: f64| 100.0 * ((1.0 + skin_factor(x)) / skin::ratio(x) - 1.0);
        assert!((error(2.8) + 0.11).abs() < 0.01, "{}", error(2.8));
        assert!((error(3.8) - 0.41).abs() < 0.01, "{}", error(3.8));
        assert!((error(5.0) + 0.28).abs() < 0.01, "{}", error(5.0));
        assert!((error(3.800_001) - 0.57).abs() < 0.01, "{}", error(3.800_001));
        for i in 1..=600 {
            let x = 0.01 * f64::from(i);
            assert!(error(x).abs() < 0.58, "{x}: {}", error(x));
        }
    }
}
