//! Magnetic field of straight conductors beside a point.
//!
//! B = μ₀ I / (4π d) (cos θ₁ − cos θ₂),  d square to the line, θ between the current and the ways from its ends
//! long:  B = μ₀ I / (2π r);  phases are summed as phasors, B = √(Bx² + By² + Bz²) of rms values
//!
//! Range   Outside the conductors, nothing of iron near, quasi-static (metres against kilometres of wave).
//! Source  Law of Biot and Savart, exact for straight segments.
//! Caveat  A straight run alone: what leads on from its ends is left out, and so are screens and sheet steel, which
//!         mostly lower the field of alternating currents and hardly that of direct ones.

/// μ₀ / 2π with lengths in mm and fields in µT: 0.2 µT at 1 m for each ampere (SI of 2019: equal to 1e-9).
const UT_MM_PER_A: f64 = 200.0;

/// A straight conductor with its current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wire {
    /// Where it begins, mm.
    pub from_mm: [f64; 3],
    /// Where it ends, mm.
    pub to_mm: [f64; 3],
    /// Its current, rms, counted from begin to end.
    pub current_a_rms: f64,
    /// The current's phase.
    pub phase_deg: f64,
}

/// How the conductors of a run lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrangement {
    /// One alone, its return far away.
    Single,
    /// There and back.
    Pair,
    /// Three phases in one plane.
    Flat,
    /// Three phases at the corners of a triangle of equal sides.
    Trefoil,
}

impl Arrangement {
    /// Phase of each current.
    fn phases_deg(self) -> &'static [f64] {
        match self {
            Arrangement::Single => &[0.0],
            Arrangement::Pair => &[0.0, 180.0],
            Arrangement::Flat | Arrangement::Trefoil => &[0.0, -120.0, 120.0],
        }
    }

    /// Places of the axes about the middle of the run, mm.
    fn places_mm(self, spacing_mm: f64) -> Vec<(f64, f64)> {
        let s = spacing_mm;
        match self {
            Arrangement::Single => vec![(0.0, 0.0)],
            Arrangement::Pair => vec![(-0.5 * s, 0.0), (0.5 * s, 0.0)],
            Arrangement::Flat => vec![(-s, 0.0), (0.0, 0.0), (s, 0.0)],
            Arrangement::Trefoil => {
                let out = s / 3.0_f64.sqrt();
                vec![(0.0, out), (-0.5 * s, -0.5 * out), (0.5 * s, -0.5 * out)]
            }
        }
    }

    /// Distance of the outermost axis from the middle, mm.
    pub fn reach_mm(self, spacing_mm: f64) -> f64 {
        let far = |p: &(f64, f64)| (p.0 * p.0 + p.1 * p.1).sqrt();
        self.places_mm(spacing_mm).iter().map(far).fold(0.0, f64::max)
    }
}

/// A straight run of parallel conductors along the third axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StraightRun {
    /// How they lie.
    pub arrangement: Arrangement,
    /// Between neighbouring axes.
    pub spacing_mm: f64,
    /// Current of each, rms.
    pub current_a_rms: f64,
    /// How far it reaches to both sides of the point's foot; none where it never ends.
    pub reach_mm: Option<[f64; 2]>,
}

impl StraightRun {
    /// Field beside the run, µT rms, at a distance from its middle; 0 degrees lies in the plane of flat conductors.
    pub fn field_ut_rms(&self, distance_mm: f64, angle_deg: f64) -> f64 {
        assert!(self.arrangement.reach_mm(self.spacing_mm) < distance_mm);
        let turn = angle_deg.to_radians();
        let at_mm = [distance_mm * libm::cos(turn), distance_mm * libm::sin(turn), 0.0];
        let places = self.arrangement.places_mm(self.spacing_mm);
        let phases = self.arrangement.phases_deg();
        let Some([back_mm, on_mm]) = self.reach_mm else {
            return self.long_ut_rms(&places, phases, at_mm);
        };
        let wire = |((x, y), phase_deg): (&(f64, f64), &f64)| Wire {
            from_mm: [*x, *y, -back_mm],
            to_mm: [*x, *y, on_mm],
            current_a_rms: self.current_a_rms,
            phase_deg: *phase_deg,
        };
        let wires: Vec<Wire> = places.iter().zip(phases).map(wire).collect();
        field_ut_rms(&wires, at_mm)
    }

    /// The same where the run lies turned in the most unlucky way.
    pub fn worst_ut_rms(&self, distance_mm: f64) -> f64 {
        // All arrangements repeat within half a turn, and their field turns smoothly.
        const STEPS: u32 = 36;
        (0..STEPS)
            .map(|k| self.field_ut_rms(distance_mm, 180.0 * f64::from(k) / f64::from(STEPS)))
            .fold(0.0, f64::max)
    }

    /// The same beside the most unlucky place of the run, however far from its ends.
    ///
    /// The middle need not be it: beside a run of known length a balanced field is strongest where the near end is
    /// some √2 distances away, up to a ninth above that of a run that never ends.
    pub fn anywhere_ut_rms(&self, distance_mm: f64) -> f64 {
        let Some([back_mm, on_mm]) = self.reach_mm else {
            return self.worst_ut_rms(distance_mm);
        };
        let length_mm = back_mm + on_mm;
        // Both halves of the run mirror each other. Near an end the field follows how many distances away it is.
        const DISTANCES: [f64; 9] =
            [0.4, 0.7, 1.0, 1.2, std::f64::consts::SQRT_2, 1.7, 2.0, 2.6, 4.0];
        const EVEN: u32 = 8;
        let near_end = DISTANCES.map(|d| d * distance_mm).into_iter();
        let even = (0..=EVEN).map(|k| 0.5 * length_mm * f64::from(k) / f64::from(EVEN));
        near_end
            .filter(|back_mm| *back_mm < 0.5 * length_mm)
            .chain(even)
            .map(|back_mm| StraightRun {
                reach_mm: Some([back_mm, length_mm - back_mm]),
                ..*self
            })
            .map(|run| run.worst_ut_rms(distance_mm))
            .fold(0.0, f64::max)
    }

    fn long_ut_rms(&self, places: &[(f64, f64)], phases: &[f64], at_mm: [f64; 3]) -> f64 {
        let mut sum = Phasors::default();
        for ((x, y), phase_deg) in places.iter().zip(phases) {
            let (dx, dy) = (at_mm[0] - x, at_mm[1] - y);
            // B = μ₀ I / (2π r), square to r
            let per_mm = UT_MM_PER_A * self.current_a_rms / (dx * dx + dy * dy);
            sum.add([-per_mm * dy, per_mm * dx, 0.0], *phase_deg);
        }
        sum.resultant()
    }
}

/// Sums of a vector's parts with their phases.
#[derive(Clone, Copy, Debug, Default)]
struct Phasors {
    real: [f64; 3],
    imaginary: [f64; 3],
}

impl Phasors {
    fn add(&mut self, part: [f64; 3], phase_deg: f64) {
        let (sin, cos) = libm::sincos(phase_deg.to_radians());
        for (k, value) in part.into_iter().enumerate() {
            self.real[k] += value * cos;
            self.imaginary[k] += value * sin;
        }
    }

    fn resultant(&self) -> f64 {
        let squares = self.real.iter().chain(&self.imaginary).map(|v| v * v);
        squares.sum::<f64>().sqrt() // B = √(Bx² + By² + Bz²)
    }
}

/// Field of straight conductors at a point off them, µT rms.
pub fn field_ut_rms(wires: &[Wire], at_mm: [f64; 3]) -> f64 {
    let mut sum = Phasors::default();
    for wire in wires {
        sum.add(segment_ut(wire, at_mm), wire.phase_deg);
    }
    sum.resultant()
}

fn segment_ut(wire: &Wire, at_mm: [f64; 3]) -> [f64; 3] {
    let dot = |u: [f64; 3], v: [f64; 3]| u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
    let less = |u: [f64; 3], v: [f64; 3]| [u[0] - v[0], u[1] - v[1], u[2] - v[2]];
    let along = less(wire.to_mm, wire.from_mm);
    let length_mm = dot(along, along).sqrt();
    let unit = along.map(|c| c / length_mm);
    let (a, b) = (less(at_mm, wire.from_mm), less(at_mm, wire.to_mm));
    let (a_on, b_on) = (dot(a, unit), dot(b, unit));
    let off = less(a, unit.map(|c| c * a_on));
    let off2_mm2 = dot(off, off);
    // On its own line a segment makes no field.
    if off2_mm2 == 0.0 || length_mm == 0.0 {
        return [0.0; 3];
    }
    let around = [
        unit[1] * off[2] - unit[2] * off[1],
        unit[2] * off[0] - unit[0] * off[2],
        unit[0] * off[1] - unit[1] * off[0],
    ];
    // B = μ₀ I / (4π d) (cos θ₁ − cos θ₂); μ₀/4π is half of μ₀/2π
    let ends = a_on / dot(a, a).sqrt() - b_on / dot(b, b).sqrt();
    let per = 0.5 * UT_MM_PER_A * wire.current_a_rms * ends / off2_mm2;
    around.map(|c| c * per)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn long(arrangement: Arrangement, spacing_mm: f64, current_a_rms: f64) -> StraightRun {
        StraightRun { arrangement, spacing_mm, current_a_rms, reach_mm: None }
    }

    #[test]
    fn val_one_long_wire() {
        // Textbooks: 48 A at 3 m make 3.2 µT (a homework collection, read).
        let field = long(Arrangement::Single, 0.0, 48.0).field_ut_rms(3000.0, 20.0);
        assert!((field - 3.2).abs() < 1e-12, "{field}");
    }

    #[test]
    fn val_flat_three_far_away() {
        // A research body of the electricity trade (read): 0.35 I d / s² for 350 A, 5 m apart, 70 m away: 0.13 µT. Its
        // 0.35 is 0.2 √3 = 0.3464 rounded up, and the exact sum lies 0.5 % above that at fourteen spacings.
        let field = long(Arrangement::Flat, 5000.0, 350.0).field_ut_rms(70_000.0, 0.0);
        assert!((field - 0.13).abs() < 0.008, "{field}");
        let far = 0.2e6 * 3.0_f64.sqrt() * 350.0 * 5000.0 / (70_000.0 * 70_000.0) / 1000.0;
        assert!((field / far - 1.0).abs() < 0.01, "{field} {far}");
    }

    #[test]
    fn far_away_each_arrangement_has_its_known_factor() {
        // To first order in s/r: pair 1, trefoil √(3/2), flat √3, each times µ₀ I s / (2π r²).
        let first = 200.0 * 300.0 * 18.0 / (2e4 * 2e4);
        for (arrangement, factor) in [
            (Arrangement::Pair, 1.0),
            (Arrangement::Trefoil, 1.5_f64.sqrt()),
            (Arrangement::Flat, 3.0_f64.sqrt()),
        ] {
            for angle in [0.0, 37.0, 90.0] {
                let field = long(arrangement, 18.0, 300.0).field_ut_rms(2e4, angle);
                assert!((field / (first * factor) - 1.0).abs() < 2e-3, "{arrangement:?}");
            }
        }
    }

    #[test]
    fn val_finite_wire() {
        // Closed form µ₀ I / (4π r) (sin α₁ + sin α₂): 10 A, both ends seen under 45 degrees at 100 mm: 10 √2 µT.
        let run = StraightRun {
            reach_mm: Some([100.0, 100.0]),
            ..long(Arrangement::Single, 0.0, 10.0)
        };
        let field = run.field_ut_rms(100.0, 0.0);
        assert!((field - 10.0 * 2.0_f64.sqrt()).abs() < 1e-9, "{field}");
    }

    #[test]
    fn val_above_the_middle_of_a_flat_three() {
        // By hand, each current's field taken apart: across I d²/(y (y² + d²)), upwards √3 I d/(y² + d²). The way is
        // that of a paper of a grid's operator on three-phase circuits (read), which stops short of this place.
        let (d, y, i) = (18.0, 150.0, 240.0);
        let square = d * d + y * y;
        let (across, up) = (i * d * d / (y * square), 3.0_f64.sqrt() * i * d / square);
        let field = long(Arrangement::Flat, d, i).field_ut_rms(y, 90.0);
        let exact = UT_MM_PER_A * (across * across + up * up).sqrt();
        assert!((field / exact - 1.0).abs() < 1e-12, "{field} {exact}");
    }

    #[test]
    fn val_short_pair_far_away_is_a_dipole() {
        // Textbooks: on the axis of a small loop B = µ₀ m / (2π r³), m = I s L. A run there and back, closed at its ends
        // in the boxes, is such a loop, and its strongest field far away is that on the axis.
        let run = StraightRun {
            reach_mm: Some([100.0, 100.0]),
            ..long(Arrangement::Pair, 10.0, 100.0)
        };
        let dipole = UT_MM_PER_A * 100.0 * 10.0 * 200.0 / (2e4 * 2e4 * 2e4);
        let field = run.anywhere_ut_rms(2e4);
        assert!((field / dipole - 1.0).abs() < 1e-3, "{field} {dipole}");
    }

    #[test]
    fn a_run_that_ends_may_have_more_than_one_that_does_not() {
        // Pair, first order in s: each half adds a (a² + 2 d²) / (a² + d²)^1.5 / 2, greatest at a = √2 d: 1.0887 / 2.
        let endless = long(Arrangement::Pair, 2.0, 100.0);
        let half = 2.0_f64.sqrt() * 400.0;
        let run = StraightRun { reach_mm: Some([half, half]), ..endless };
        let ratio = run.worst_ut_rms(400.0) / endless.worst_ut_rms(400.0);
        let exact = 2.0 * 2.0_f64.sqrt() * 2.0 / (3.0 * 3.0_f64.sqrt());
        assert!((ratio / exact - 1.0).abs() < 1e-4, "{ratio} {exact}");
    }

    proptest! {
        /// The most unlucky place is never better than any other.
        #[test]
        fn prop_anywhere_is_the_worst(r in 60.0f64..3000.0, length in 100.0f64..80_000.0, foot in 0.0f64..5.0) {
            for arrangement in [Arrangement::Pair, Arrangement::Flat, Arrangement::Trefoil] {
                let run = StraightRun {
                    // Counted in distances from an end, where the field is greatest.
                    reach_mm: Some([length.min(foot * r), length - length.min(foot * r)]),
                    ..long(arrangement, 20.0, 200.0)
                };
                // The places looked at miss less than a hundredth of a field this smooth.
                prop_assert!(run.worst_ut_rms(r) <= 1.01 * run.anywhere_ut_rms(r));
                let endless = long(arrangement, 20.0, 200.0).worst_ut_rms(r);
                prop_assert!(run.anywhere_ut_rms(r) < 1.12 * endless);
            }
        }

        /// A square loop's middle: 2√2 µ₀ I / (π a), from four segments.
        #[test]
        fn prop_square_loop(a in 10.0f64..5000.0, i in 1.0f64..1000.0) {
            let corner = |k: usize| [[0.0, 0.0, 0.0], [a, 0.0, 0.0], [a, a, 0.0], [0.0, a, 0.0]][k % 4];
            let wires: Vec<Wire> = (0..4).map(|k| Wire {
                from_mm: corner(k), to_mm: corner(k + 1), current_a_rms: i, phase_deg: 0.0,
            }).collect();
            let field = field_ut_rms(&wires, [0.5 * a, 0.5 * a, 0.0]);
            let exact = 2.0 * 2.0_f64.sqrt() * 2.0 * UT_MM_PER_A * i / a;
            prop_assert!((field / exact - 1.0).abs() < 1e-12);
        }

        /// A very long run has the field of one that never ends; a short one alone has less.
        #[test]
        fn prop_longer_tends_to_long(r in 60.0f64..2000.0, half in 50.0f64..5000.0) {
            let endless = long(Arrangement::Flat, 20.0, 200.0);
            let of = |run: StraightRun, h: f64| {
                StraightRun { reach_mm: Some([h, h]), ..run }.field_ut_rms(r, 30.0)
            };
            prop_assert!((of(endless, 1e7) / endless.field_ut_rms(r, 30.0) - 1.0).abs() < 1e-6);
            let single = long(Arrangement::Single, 0.0, 200.0);
            prop_assert!(of(single, half) < single.field_ut_rms(r, 30.0));
        }

        #[test]
        fn prop_farther_is_weaker(r in 60.0f64..2000.0, more in 1.0f64..500.0) {
            for arrangement in [Arrangement::Pair, Arrangement::Flat, Arrangement::Trefoil] {
                let run = long(arrangement, 20.0, 200.0);
                prop_assert!(run.worst_ut_rms(r + more) < run.worst_ut_rms(r));
            }
        }
    }
}
