//! Stiffness of a bolted joint, and what preload it loses by settling and by heat.
//!
//! 1/k_b = l_d/(A_d E) + l_t/(A_t E)
//! k = π E d tan φ / ln[ (2 t tan φ + D − d)(D + d) / ((2 t tan φ + D + d)(D − d)) ],  φ = 30°
//! δ_S = δ_head + Σ δ_free + δ_engaged + δ_thread,  δ = l/(A E)
//! F_Z = f_Z/(δ_S + δ_P)
//! ΔF = (Σ α_P l_P − α_S l_P) ΔT/(δ_S + δ_P)
//!
//! Range   Pressure cones that stay within the plies; elastic bolt and plies.
//! Source  Frusta of 30 degrees: a machine-design textbook (memory), checked against a published
//!         five-layer joint (read, the test of an open library). Resilience of head and engaged
//!         thread and the amounts of settling: VDI 2230-1 (memory).
//! Caveat  The amounts of settling are guides for clean steel at high preload. Creep of soft copper,
//!         aluminium and plastics comes on top and is not in them.

use std::f64::consts::PI;

/// Tangent of the half-angle of a pressure cone, 30 degrees.
pub const CONE: f64 = 0.577_350_269_189_625_8;
/// Young's modulus of a steel bolt, MPa.
pub const BOLT_MPA: f64 = 205_000.0;
/// Thermal expansion of a steel bolt, 1e-6/K (memory).
pub const BOLT_UM_PER_MK: f64 = 11.5;

/// One ply under the head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ply {
    /// Thickness.
    pub thickness_mm: f64,
    /// Young's modulus.
    pub modulus_mpa: f64,
    /// Thermal expansion, 1e-6/K.
    pub expansion_um_per_mk: f64,
}

/// Stiffness of a bolt with a shank and a threaded part under load.
pub fn bolt_n_per_mm(shank: (f64, f64), threaded: (f64, f64), modulus_mpa: f64) -> f64 {
    let [(shank_mm2, shank_mm), (thread_mm2, thread_mm)] = [shank, threaded];
    assert!(shank_mm2 > 0.0 && thread_mm2 > 0.0 && modulus_mpa > 0.0);
    assert!(shank_mm >= 0.0 && thread_mm >= 0.0 && shank_mm + thread_mm > 0.0);
    // k_b = E / (l_d/A_d + l_t/A_t)
    modulus_mpa / (shank_mm / shank_mm2 + thread_mm / thread_mm2)
}

/// Stiffness of one cone's slice that begins at a diameter.
fn slice_n_per_mm(modulus_mpa: f64, thickness_mm: f64, start_mm: f64, hole_mm: f64) -> f64 {
    let end_mm = 2.0 * CONE * thickness_mm + start_mm;
    let ratio =
        (end_mm - hole_mm) * (start_mm + hole_mm) / ((end_mm + hole_mm) * (start_mm - hole_mm));
    PI * modulus_mpa * hole_mm * CONE / libm::log(ratio)
}

/// Stiffness of plies between two bearing faces of equal diameter: cones from both, meeting in the middle.
pub fn plies_n_per_mm(plies: &[Ply], diameter_mm: f64, bearing_mm: f64) -> f64 {
    assert!(0.0 < diameter_mm && diameter_mm < bearing_mm);
    let middle_mm = plies.iter().map(|p| p.thickness_mm).sum::<f64>() / 2.0;
    assert!(middle_mm > 0.0);
    let mut resilience = 0.0;
    let halves: [Vec<&Ply>; 2] = [plies.iter().collect(), plies.iter().rev().collect()];
    for half in halves {
        let mut depth_mm = 0.0;
        for ply in half {
            let slice_mm = ply.thickness_mm.min(middle_mm - depth_mm);
            if slice_mm <= 0.0 {
                break;
            }
            let start_mm = bearing_mm + 2.0 * CONE * depth_mm;
            resilience +=
                1.0 / slice_n_per_mm(ply.modulus_mpa, slice_mm, start_mm, diameter_mm);
            depth_mm += slice_mm;
        }
    }
    1.0 / resilience
}

/// Share of an outside load that the bolt takes.
pub fn joint_constant(bolt_n_per_mm: f64, plies_n_per_mm: f64) -> f64 {
    bolt_n_per_mm / (bolt_n_per_mm + plies_n_per_mm) // C = k_b/(k_b + k_m)
}

/// A screw in a hole, or a stud under a nut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screw {
    /// Nominal diameter.
    pub diameter_mm: f64,
    /// Root diameter of its thread.
    pub root_mm: f64,
    /// Free length: from under the head to where thread meets thread.
    pub free_mm: f64,
    /// Young's modulus of the screw or stud.
    pub modulus_mpa: f64,
    /// Young's modulus of what the thread is cut in, or of the nut.
    pub threaded_mpa: f64,
}

impl Screw {
    /// Lengthening per force: head, free thread, engaged thread and the thread's own give.
    pub fn resilience_mm_per_n(&self) -> f64 {
        assert!(0.0 < self.root_mm && self.root_mm < self.diameter_mm);
        assert!(self.free_mm >= 0.0 && self.modulus_mpa > 0.0 && self.threaded_mpa > 0.0);
        let d = self.diameter_mm;
        let area = |mm: f64| PI / 4.0 * mm * mm;
        let (nominal, root) =
            (self.modulus_mpa * area(d), self.modulus_mpa * area(self.root_mm));
        0.5 * d / nominal                              // δ_head = 0.5 d/(E A_N)
            + self.free_mm / root                      // δ_free = l/(E A_d3)
            + 0.5 * d / root                           // δ_engaged = 0.5 d/(E A_d3)
            + 0.33 * d / (self.threaded_mpa * area(d)) // δ_thread = 0.33 d/(E_M A_N)
    }
}

/// How rough the faces are: mean depth Rz.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Roughness {
    /// Below 10 µm: ground, drawn, fine-turned.
    Below10Um,
    /// 10 to 40 µm: milled, turned, cast and machined.
    To40Um,
}

impl Roughness {
    /// The row of the table for a mean depth Rz.
    pub fn of_mean_depth_um(rz_um: f64) -> Roughness {
        if rz_um < 10.0 { Roughness::Below10Um } else { Roughness::To40Um }
    }
}

/// Settling of the thread, under the head, and of each inner interface, for tension, in mm.
pub fn settling_mm(roughness: Roughness, inner_faces: u32) -> f64 {
    let (thread, head, inner) = match roughness {
        Roughness::Below10Um => (3.0, 2.5, 1.5),
        Roughness::To40Um => (3.0, 3.0, 2.0),
    };
    (thread + head + inner * f64::from(inner_faces)) / 1000.0
}

/// Preload lost when the plies settle by a way.
pub fn settling_loss_n(settling_mm: f64, resilience_mm_per_n: f64) -> f64 {
    assert!(settling_mm >= 0.0 && resilience_mm_per_n > 0.0);
    settling_mm / resilience_mm_per_n // F_Z = f_Z/(δ_S + δ_P)
}

/// By how much the plies outgrow the bolt when everything warms by `rise_k`, mm; over the resilience it is
/// the change of preload.
pub fn outgrowth_mm(plies: &[Ply], bolt_um_per_mk: f64, rise_k: f64) -> f64 {
    // Σ (α_P − α_S) l_P ΔT
    plies
        .iter()
        .map(|p| (p.expansion_um_per_mk - bolt_um_per_mk) * p.thickness_mm * rise_k * 1e-6)
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn ply(thickness_mm: f64, modulus_mpa: f64) -> Ply {
        Ply { thickness_mm, modulus_mpa, expansion_um_per_mk: 17.0 }
    }

    fn five() -> Vec<Ply> {
        [(2.0, 200e3), (3.0, 70e3), (3.0, 200e3), (2.0, 200e3), (3.0, 200e3)]
            .map(|(t, e)| ply(t, e))
            .to_vec()
    }

    #[test]
    fn val_joint_of_five_layers() {
        // An open library's test (read): M10, 13 mm of grip, 8 mm of it thread, E 207 GPa, head of 1.5 d:
        // k_b 1 026 695.3 N/mm and C 0.3384. Four figures of C are printed.
        let stress_mm2 = PI / 4.0 * 8.593_122_f64 * 8.593_122;
        let bolt = bolt_n_per_mm((PI / 4.0 * 100.0, 5.0), (stress_mm2, 8.0), 207_000.0);
        assert!((bolt / 1_026_695.3 - 1.0).abs() < 1e-4, "{bolt}");
        let share = joint_constant(bolt, plies_n_per_mm(&five(), 10.0, 15.0));
        assert!((share - 0.3384).abs() < 5e-5, "{share}");
    }

    #[test]
    fn a_short_screw_in_brass_loses_thousands_of_newtons_and_one_in_plastic_hundreds() {
        // By hand: 4 mm/(205e3 x 50.27) + (4.2 + 4)/(205e3 x 32.84) + 2.64/(97e3 x 50.27) = 2.147e-6 mm/N.
        let brass = Screw {
            diameter_mm: 8.0,
            root_mm: 6.466,
            free_mm: 4.2,
            modulus_mpa: BOLT_MPA,
            threaded_mpa: 97_000.0,
        };
        assert!((brass.resilience_mm_per_n() - 2.147e-6).abs() < 1e-9);
        let way = settling_mm(Roughness::To40Um, 2);
        assert!((way - 0.010).abs() < 1e-12);
        let in_brass = settling_loss_n(way, brass.resilience_mm_per_n());
        let plastic = Screw { threaded_mpa: 6_500.0, ..brass };
        let in_plastic = settling_loss_n(way, plastic.resilience_mm_per_n());
        assert!((4500.0..4800.0).contains(&in_brass), "{in_brass}");
        assert!((900.0..1200.0).contains(&in_plastic), "{in_plastic}");
    }

    #[test]
    fn copper_under_a_steel_screw_tightens_when_warm() {
        let copper = [ply(2.6, 117_000.0)];
        let change = outgrowth_mm(&copper, BOLT_UM_PER_MK, 80.0) / 2.3e-6;
        // 5.5e-6 x 2.6 mm x 80 K / 2.3e-6 mm/N = 497 N.
        assert!((change - 497.4).abs() < 0.1, "{change}");
        assert!((outgrowth_mm(&copper, BOLT_UM_PER_MK, -80.0) / 2.3e-6 + change).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn prop_cutting_a_ply_in_two_changes_nothing(
            thickness in 0.5f64..30.0, share in 0.05f64..0.95, modulus in 1e3f64..2.1e5,
        ) {
            let whole = [ply(thickness, modulus), ply(2.0, 2e5)];
            let cut = [
                ply(share * thickness, modulus), ply((1.0 - share) * thickness, modulus), ply(2.0, 2e5),
            ];
            let (a, b) = (plies_n_per_mm(&whole, 8.0, 13.0), plies_n_per_mm(&cut, 8.0, 13.0));
            prop_assert!((a / b - 1.0).abs() < 1e-9, "{a} {b}");
        }

        #[test]
        fn prop_a_softer_joint_loses_less(free in 0.0f64..40.0, more in 0.1f64..20.0) {
            let screw = |free_mm| Screw {
                diameter_mm: 8.0, root_mm: 6.466, free_mm, modulus_mpa: BOLT_MPA, threaded_mpa: 97_000.0,
            };
            let lost = |s: Screw| settling_loss_n(0.01, s.resilience_mm_per_n());
            prop_assert!(lost(screw(free + more)) < lost(screw(free)));
        }
    }
}
