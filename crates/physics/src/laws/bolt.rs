//! Tightening of a bolted joint: torque, preload and what the bolt bears.
//!
//! T = K F d
//! M_A = F (0.16 P + 0.58 d2 µ_G + D_Km/2 µ_K),  D_Km = (d_w + d_h)/2
//! F_M = A_0 ν Rp0.2 / √(1 + 3 [n (d2/d0) (P/(π d2) + 1.155 µ_G)]²),  d0 = (d2 + d3)/2
//! n = 3/2 when the whole section yields in torsion (editions from 2001), 2 when only its rim does
//! (1986); the older form also keeps the tangent of the sum of helix and friction angle
//!
//! Range   Friction 0.04 to 0.5; utilisation above 0 to 1; threads of [`super::thread`].
//! Source  VDI 2230-1 (form from memory, checked against printed rows in the tests); ISO 898-1 and
//!         ISO 3506-1 strengths (memory); ISO 8839 brass (read).
//! Caveat  Friction scatters: one torque wrench leaves a preload between F/α_A and F. The nut
//!         factor hides the geometry and suits only the finish it was measured on.

use super::thread::Thread;
use std::f64::consts::PI;

/// Tightening factors α_A = F_max/F_min for a torque wrench, (least, most). 1.4 to 1.6 where friction
/// was measured on the joint (read in a secondary source); to 2.5 where it is estimated (memory).
pub const TIGHTENING_FACTOR_MEASURED: (f64, f64) = (1.4, 1.6);
/// The same for estimated friction.
pub const TIGHTENING_FACTOR_ESTIMATED: (f64, f64) = (1.6, 2.5);

/// Share of the yield stress that tightening may use by VDI 2230.
pub const UTILISATION: f64 = 0.9;

/// Strength of a bolt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PropertyClass {
    /// Name as stamped: "8.8", "A2-70", "CU2".
    pub name: &'static str,
    /// Tensile strength, minimum.
    pub tensile_mpa: f64,
    /// Yield or 0.2 % proof stress, minimum.
    pub yield_mpa: f64,
    /// Stress under proof load, where the standard sets one.
    pub proof_mpa: Option<f64>,
}

/// (name, over d mm, to d mm, Rm, Rp0.2, Sp). A row holds for "over" < d <= "to".
type ClassRow = (&'static str, f64, f64, f64, f64, Option<f64>);

const CLASSES: [ClassRow; 20] = [
    ("4.6", 0.0, 39.0, 400.0, 240.0, Some(225.0)),
    ("4.8", 0.0, 39.0, 420.0, 340.0, Some(310.0)),
    ("5.8", 0.0, 39.0, 520.0, 420.0, Some(380.0)),
    ("6.8", 0.0, 39.0, 600.0, 480.0, Some(440.0)),
    ("8.8", 0.0, 16.0, 800.0, 640.0, Some(580.0)),
    ("8.8", 16.0, 39.0, 830.0, 660.0, Some(600.0)),
    ("10.9", 0.0, 39.0, 1040.0, 940.0, Some(830.0)),
    ("12.9", 0.0, 39.0, 1220.0, 1100.0, Some(970.0)),
    ("A2-50", 0.0, 39.0, 500.0, 210.0, None),
    ("A2-70", 0.0, 24.0, 700.0, 450.0, None),
    ("A2-80", 0.0, 24.0, 800.0, 600.0, None),
    ("A4-50", 0.0, 39.0, 500.0, 210.0, None),
    ("A4-70", 0.0, 24.0, 700.0, 450.0, None),
    ("A4-80", 0.0, 24.0, 800.0, 600.0, None),
    ("CU2", 0.0, 6.0, 440.0, 340.0, None),
    ("CU2", 6.0, 39.0, 370.0, 250.0, None),
    ("CU3", 0.0, 6.0, 440.0, 340.0, None),
    ("CU3", 6.0, 39.0, 370.0, 250.0, None),
    ("AL1", 0.0, 10.0, 270.0, 230.0, None),
    ("AL1", 10.0, 20.0, 250.0, 180.0, None),
];

/// The names of the classes, each once.
pub fn class_names() -> Vec<&'static str> {
    let mut names: Vec<&str> = CLASSES.iter().map(|row| row.0).collect();
    names.dedup();
    names
}

/// The strength of a class at a nominal diameter, or nothing if the class or size is unknown.
pub fn property_class(name: &str, diameter_mm: f64) -> Option<PropertyClass> {
    let row = CLASSES.iter().find(|row| {
        row.0.eq_ignore_ascii_case(name.trim()) && row.1 < diameter_mm && diameter_mm <= row.2
    })?;
    Some(PropertyClass { name: row.0, tensile_mpa: row.3, yield_mpa: row.4, proof_mpa: row.5 })
}

/// Torque for a preload by the nut-factor form.
pub fn torque_nm(nut_factor: f64, preload_n: f64, diameter_mm: f64) -> f64 {
    assert!(nut_factor > 0.0 && diameter_mm > 0.0);
    nut_factor * preload_n * diameter_mm / 1000.0 // T = K F d
}

/// Preload from a torque by the nut-factor form.
pub fn preload_n(torque_nm: f64, nut_factor: f64, diameter_mm: f64) -> f64 {
    assert!(nut_factor > 0.0 && diameter_mm > 0.0);
    torque_nm * 1000.0 / (nut_factor * diameter_mm) // F = T/(K d)
}

/// Coefficients of friction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Friction {
    /// In the thread, µ_G.
    pub thread: f64,
    /// Under the head or nut, µ_K.
    pub head: f64,
}

/// What the head turns on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    /// Outer diameter of the bearing ring, d_w.
    pub head_diameter_mm: f64,
    /// Hole under the head, d_h.
    pub hole_mm: f64,
}

impl Seat {
    /// Mean diameter at which head friction acts, D_Km.
    pub fn friction_diameter_mm(&self) -> f64 {
        (self.head_diameter_mm + self.hole_mm) / 2.0 // D_Km = (d_w + d_h)/2
    }
}

/// (d, least bearing diameter of the ISO 4014/4017 hexagon grade A, medium hole of ISO 273), mm.
/// M8, M10 and M12 were read; the rest is from memory.
const HEX_SEATS: [(f64, f64, f64); 12] = [
    (4.0, 5.88, 4.5),
    (5.0, 6.88, 5.5),
    (6.0, 8.88, 6.6),
    (8.0, 11.63, 9.0),
    (10.0, 14.63, 11.0),
    (12.0, 16.63, 13.5),
    (14.0, 19.64, 15.5),
    (16.0, 22.49, 17.5),
    (18.0, 25.34, 20.0),
    (20.0, 28.19, 22.0),
    (22.0, 31.71, 24.0),
    (24.0, 33.61, 26.0),
];

/// The seat of a plain hexagon head in a medium hole.
pub fn hex_seat(diameter_mm: f64) -> Option<Seat> {
    let row = HEX_SEATS.iter().find(|row| row.0 == diameter_mm)?;
    Some(Seat { head_diameter_mm: row.1, hole_mm: row.2 })
}

/// Lever arm of the preload, torque over preload in mm: geometry and friction in one number.
pub fn torque_arm_mm(thread: &Thread, friction: Friction, seat: Seat) -> f64 {
    assert!(friction.thread >= 0.0 && friction.head >= 0.0);
    // M_A/F = 0.16 P + 0.58 d2 µ_G + D_Km/2 µ_K
    0.16 * thread.pitch_mm
        + 0.58 * thread.pitch_diameter_mm() * friction.thread
        + seat.friction_diameter_mm() / 2.0 * friction.head
}

/// Torque that gives a preload.
pub fn torque_from_friction_nm(
    thread: &Thread,
    friction: Friction,
    seat: Seat,
    preload_n: f64,
) -> f64 {
    preload_n * torque_arm_mm(thread, friction, seat) / 1000.0
}

/// Preload that a torque gives.
pub fn preload_from_friction_n(
    thread: &Thread,
    friction: Friction,
    seat: Seat,
    torque_nm: f64,
) -> f64 {
    torque_nm * 1000.0 / torque_arm_mm(thread, friction, seat)
}

/// How the section is taken to yield in torsion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Torsion {
    /// The whole section: VDI 2230 from 2001 on.
    Plastic,
    /// Only the rim: VDI 2230 of 1986 and the stainless tables made with it, about 6 % lower.
    Elastic,
}

/// Ratio of torsional to tensile stress while tightening.
fn torsion_ratio(thread: &Thread, friction_thread: f64, torsion: Torsion) -> f64 {
    let d2 = thread.pitch_diameter_mm();
    let (helix, rub) = (thread.pitch_mm / (PI * d2), 1.155 * friction_thread);
    let slope = d2 / thread.stress_diameter_mm();
    match torsion {
        // τ/σ = 3/2 (d2/d0) (P/(π d2) + 1.155 µ_G), section modulus π d³/12
        Torsion::Plastic => 1.5 * slope * (helix + rub),
        // τ/σ = 2 (d2/d0) tan(φ + ρ'), section modulus π d³/16
        Torsion::Elastic => 2.0 * slope * (helix + rub) / (1.0 - helix * rub),
    }
}

/// Preload at which the bolt reaches `utilisation` of its yield stress while being tightened.
pub fn rated_preload_n(
    thread: &Thread,
    friction_thread: f64,
    yield_mpa: f64,
    utilisation: f64,
) -> f64 {
    rated_preload_by_n(thread, friction_thread, yield_mpa, utilisation, Torsion::Plastic)
}

/// The same with the torsion of the edition to be met.
pub fn rated_preload_by_n(
    thread: &Thread,
    friction_thread: f64,
    yield_mpa: f64,
    utilisation: f64,
    torsion: Torsion,
) -> f64 {
    assert!(friction_thread >= 0.0 && yield_mpa > 0.0 && utilisation > 0.0);
    let k = torsion_ratio(thread, friction_thread, torsion);
    // F_M = A_0 ν Rp0.2 / √(1 + 3 (τ/σ)²)
    thread.stress_area_mm2() * utilisation * yield_mpa / (1.0 + 3.0 * k * k).sqrt()
}

/// Equivalent (von Mises) stress in the thread while the wrench turns.
pub fn tightening_stress_mpa(thread: &Thread, friction_thread: f64, preload_n: f64) -> f64 {
    let k = torsion_ratio(thread, friction_thread, Torsion::Plastic);
    preload_n / thread.stress_area_mm2() * (1.0 + 3.0 * k * k).sqrt() // σ_red = σ √(1 + 3 (τ/σ)²)
}

/// Tensile stress of a preload on the stress area.
pub fn tensile_stress_mpa(thread: &Thread, preload_n: f64) -> f64 {
    preload_n / thread.stress_area_mm2()
}

/// Least preload left by a scattering tightening whose most is `preload_n_max`.
pub fn preload_n_min(preload_n_max: f64, tightening_factor: f64) -> f64 {
    assert!(tightening_factor >= 1.0);
    preload_n_max / tightening_factor // F_min = F_max/α_A
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn rated(name: &str, mu: f64) -> (f64, f64) {
        let thread = Thread::parse(name).unwrap();
        let class = property_class("8.8", thread.diameter_mm).unwrap();
        let preload = rated_preload_n(&thread, mu, class.yield_mpa, UTILISATION);
        let seat = hex_seat(thread.diameter_mm).unwrap();
        let friction = Friction { thread: mu, head: mu };
        (preload / 1000.0, torque_from_friction_nm(&thread, friction, seat, preload))
    }

    #[test]
    fn val_vdi_2230_rows_of_a_fastener_catalogue() {
        // Fine threads, class 8.8, 90 % of yield, "based on the 2001 edition of VDI 2230" (read).
        // Tolerance: half a unit of the last figure, and the head of the catalogue is not given.
        for (name, mu, kn, nm) in [
            ("M8x1", 0.10, 20.7, 22.8),
            ("M8x1", 0.12, 20.2, 26.1),
            ("M8x1", 0.14, 19.7, 29.2),
            ("M12x1.25", 0.10, 49.1, 79.0),
            ("M12x1.25", 0.14, 46.8, 101.0),
            ("M14x1.5", 0.12, 64.8, 142.0),
        ] {
            let (preload, torque) = rated(name, mu);
            assert!((preload - kn).abs() <= 0.11, "{name} {mu}: {preload} kN against {kn}");
            assert!(
                (torque / nm - 1.0).abs() <= 0.007,
                "{name} {mu}: {torque} N m against {nm}"
            );
        }
    }

    #[test]
    fn val_vdi_2230_worked_example() {
        // M12, 8.8, µ 0.14: "FM min = FM max/alphaA = 41,9 kN/1,8 = 23,3 kN" (read).
        let (preload, _) = rated("M12", 0.14);
        assert!((preload - 41.9).abs() < 0.11, "{preload}");
        assert!((preload_n_min(preload, 1.8) - 23.3).abs() < 0.06);
    }

    #[test]
    fn val_stainless_table_of_the_1986_edition() {
        // A2-70, µ 0.10, a fastener maker's table (read): M8 12.6 kN, M10 20.0 kN. The 2001 form
        // gives 6 % more; the table turns out to be made with torsion taken elastically.
        for (name, kn) in [("M8", 12.6), ("M10", 20.0)] {
            let thread = Thread::parse(name).unwrap();
            let ours = rated_preload_by_n(&thread, 0.10, 450.0, 0.9, Torsion::Elastic) / 1000.0;
            assert!((ours - kn).abs() < 0.06, "{name}: {ours} against {kn}");
        }
    }

    #[test]
    fn common_practice_m8_at_80_lbf_in() {
        // Common practice, no source: 9.04 N m, K 0.2, M8 gives 5.65 kN.
        let preload = preload_n(9.038_786, 0.2, 8.0);
        assert!((preload - 5649.2).abs() < 0.1, "{preload}");
    }

    #[test]
    fn rated_preload_brings_the_bolt_to_its_share_of_yield() {
        let thread = Thread::parse("M10").unwrap();
        let preload = rated_preload_n(&thread, 0.12, 640.0, 0.9);
        assert!((tightening_stress_mpa(&thread, 0.12, preload) - 576.0).abs() < 1e-9);
    }

    #[test]
    fn classes_by_size() {
        assert_eq!(property_class("8.8", 16.0).unwrap().yield_mpa, 640.0);
        assert_eq!(property_class("8.8", 20.0).unwrap().yield_mpa, 660.0);
        assert_eq!(property_class("cu2", 8.0).unwrap().tensile_mpa, 370.0);
        assert_eq!(property_class("9.9", 8.0), None);
        assert_eq!(class_names().len(), 16);
    }

    proptest! {
        #[test]
        fn prop_more_torque_never_less_preload(
            torque in 0.1f64..100.0, more in 0.0f64..50.0, mu in 0.04f64..0.4,
        ) {
            let thread = Thread::parse("M8").unwrap();
            let seat = hex_seat(8.0).unwrap();
            let friction = Friction { thread: mu, head: mu };
            let f = |t| preload_from_friction_n(&thread, friction, seat, t);
            prop_assert!(f(torque) <= f(torque + more));
            prop_assert!(preload_n(torque, mu, 8.0) <= preload_n(torque + more, mu, 8.0));
        }

        #[test]
        fn prop_torque_and_preload_are_inverse(preload in 1.0f64..1e5, mu in 0.04f64..0.4) {
            let thread = Thread::parse("M10").unwrap();
            let seat = hex_seat(10.0).unwrap();
            let friction = Friction { thread: mu, head: mu };
            let torque = torque_from_friction_nm(&thread, friction, seat, preload);
            let back = preload_from_friction_n(&thread, friction, seat, torque);
            prop_assert!((back / preload - 1.0).abs() < 1e-12);
        }

        #[test]
        fn prop_more_friction_never_more_rated_preload(mu in 0.04f64..0.4, more in 0.0f64..0.1) {
            let thread = Thread::parse("M8").unwrap();
            prop_assert!(rated_preload_n(&thread, mu + more, 640.0, 0.9)
                <= rated_preload_n(&thread, mu, 640.0, 0.9));
        }
    }
}
