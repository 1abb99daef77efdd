//! What each cable is cut to.
//!
//! cut = path + inside lengths - what the lugs reach beyond the cable's end + trim, rounded up to the
//! shop's step. All cables of a run get the same length, so that no phase lags in impedance and any
//! cable fits any terminal.

/// The cut of one run.
#[derive(Clone, Debug, PartialEq)]
pub struct RunCut {
    /// Run id.
    pub run: String,
    /// Path from face to face.
    pub path_mm: Option<f64>,
    /// Inside lengths at both ports.
    pub inside_mm: [Option<f64>; 2],
    /// From the bottom of the lug's barrel to its hole, at both ends: the cable ends this much before the terminal.
    pub lug_mm: [Option<f64>; 2],
    /// Extra for trimming, both ends together.
    pub trim_mm: f64,
    /// Cut length of each cable.
    pub cut_mm: Option<f64>,
    /// From lug hole to lug hole when made up.
    pub made_mm: Option<f64>,
}

use physics::units::Dimension;

use super::ends::{End, Side};
use super::length::RunLength;
use crate::finding::{About, Notes, Quantity, Worked};
use crate::given::parts::Parts;
use crate::given::shelf::Lug;

/// Settles the cut length of every run.
pub fn settle(
    parts: &Parts<'_>,
    lengths: &[RunLength],
    ends: &[End],
    notes: &mut Notes,
) -> Vec<RunCut> {
    let step_mm = positive_or(parts.shop.cut_step_mm, 1.0);
    let trim_mm = 2.0 * parts.shop.trim_mm.max(0.0);
    lengths
        .iter()
        .map(|length| {
            let lug_mm = [Side::From, Side::To].map(|side| reach_mm(ends, &length.run, side));
            let cut = cut(length, lug_mm, trim_mm, step_mm);
            note(&cut, step_mm, notes);
            cut
        })
        .collect()
}

fn positive_or(value: f64, otherwise: f64) -> f64 {
    if value > 0.0 && value.is_finite() { value } else { otherwise }
}

/// How far the hole of a lug lies beyond the bottom of its barrel.
fn lug_reach_mm(lug: &Lug) -> f64 {
    (lug.length_mm - lug.barrel_depth_mm - lug.hole_to_tip_mm).max(0.0)
}

/// The shortest reach of the lugs at one side: with it every cable of the run is long enough.
fn reach_mm(ends: &[End], run: &str, side: Side) -> Option<f64> {
    let mut reach: Option<f64> = None;
    for end in ends.iter().filter(|e| e.run == run && e.side == side) {
        let mm = lug_reach_mm(end.lug.as_ref()?);
        reach = Some(reach.map_or(mm, |least| least.min(mm)));
    }
    reach
}

/// Up to the next step. A length that is a step but for rounding noise stays where it is.
fn up_to_step(mm: f64, step_mm: f64) -> f64 {
    (mm / step_mm - 1e-9).ceil() * step_mm
}

fn cut(length: &RunLength, lug_mm: [Option<f64>; 2], trim_mm: f64, step_mm: f64) -> RunCut {
    let mut cut = RunCut {
        run: length.run.clone(),
        path_mm: length.path_mm,
        inside_mm: length.inside_mm,
        lug_mm,
        trim_mm,
        cut_mm: None,
        made_mm: None,
    };
    if let (Some(path), [Some(inside_a), Some(inside_b)], [Some(lug_a), Some(lug_b)]) =
        (length.path_mm, length.inside_mm, lug_mm)
    {
        let hole_to_hole_mm = path + (inside_a + inside_b);
        let lugs_mm = lug_a + lug_b;
        // The trim is cut off again; lugs longer than the whole way leave no cable at all.
        let cable_mm = (hole_to_hole_mm - lugs_mm).max(0.0);
        let cut_mm = up_to_step(cable_mm + trim_mm, step_mm);
        let made_mm = cut_mm - trim_mm + lugs_mm;
        assert!(
            made_mm >= hole_to_hole_mm - 1e-6 * step_mm,
            "a made-up cable reaches its terminals"
        );
        cut.cut_mm = Some(cut_mm);
        cut.made_mm = Some(made_mm);
    }
    cut
}

fn note(cut: &RunCut, step_mm: f64, notes: &mut Notes) {
    let (Some(cut_mm), Some(made_mm), Some(path)) = (cut.cut_mm, cut.made_mm, cut.path_mm)
    else {
        return;
    };
    let length = |mm: f64| Quantity::new(mm, Dimension::Length);
    let known = |mm: Option<f64>| length(mm.expect("a cut has all its parts"));
    notes.work(Worked {
        what: "cut length".to_owned(),
        about: About::run(&cut.run),
        value: length(cut_mm),
        law: "cut = path + inside (both ends) - lug reach (both ends) + trim, up to the next step",
        inputs: vec![
            ("path", length(path)),
            ("inside, from", known(cut.inside_mm[0])),
            ("inside, to", known(cut.inside_mm[1])),
            ("lug reach, from", known(cut.lug_mm[0])),
            ("lug reach, to", known(cut.lug_mm[1])),
            ("trim, both ends", length(cut.trim_mm)),
            ("step", length(step_mm)),
        ],
        source: "common-practice",
    });
    notes.work(Worked {
        what: "made-up length, hole to hole".to_owned(),
        about: About::run(&cut.run),
        value: length(made_mm),
        law: "made = cut - trim + lug reach (both ends)",
        inputs: vec![
            ("cut", length(cut_mm)),
            ("trim, both ends", length(cut.trim_mm)),
            ("lug reach, from", known(cut.lug_mm[0])),
            ("lug reach, to", known(cut.lug_mm[1])),
        ],
        source: "common-practice",
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn length(path: f64, inside: [Option<f64>; 2]) -> RunLength {
        RunLength {
            run: "phases".to_owned(),
            path_mm: Some(path),
            spread_mm: 0.0,
            inside_mm: inside,
        }
    }

    #[test]
    fn the_sum_is_rounded_up_to_the_step() {
        // 1420 + 90 + 110 - 18 - 18 + 10 = 1594, so 1595 on a 5 mm step.
        let way = length(1420.0, [Some(90.0), Some(110.0)]);
        let cut = cut(&way, [Some(18.0), Some(18.0)], 10.0, 5.0);
        assert_eq!(cut.cut_mm, Some(1595.0));
        assert_eq!(cut.made_mm, Some(1621.0));
    }

    #[test]
    fn rounding_noise_costs_no_step() {
        assert_eq!(up_to_step(1_595.000_000_000_2, 5.0), 1595.0);
        assert_eq!(up_to_step(1595.01, 5.0), 1600.0);
    }

    #[test]
    fn what_is_not_known_is_not_cut() {
        let way = length(1420.0, [Some(90.0), None]);
        assert_eq!(cut(&way, [Some(18.0), Some(18.0)], 10.0, 5.0).cut_mm, None);
        let way = length(1420.0, [Some(90.0), Some(110.0)]);
        assert_eq!(cut(&way, [None, Some(18.0)], 10.0, 5.0).cut_mm, None);
    }

    proptest! {
        #[test]
        fn prop_reversing_a_run_keeps_its_cut(
            path in 50.0..9000.0f64, a in 0.0..400.0f64, b in 0.0..400.0f64,
            lug_a in 5.0..60.0f64, lug_b in 5.0..60.0f64, step in 0.5..50.0f64,
        ) {
            let there =
                cut(&length(path, [Some(a), Some(b)]), [Some(lug_a), Some(lug_b)], 10.0, step);
            let back =
                cut(&length(path, [Some(b), Some(a)]), [Some(lug_b), Some(lug_a)], 10.0, step);
            prop_assert_eq!(there.cut_mm, back.cut_mm);
        }

        #[test]
        fn prop_what_is_left_over_is_less_than_a_step(
            path in 200.0..9000.0f64, inside in 0.0..400.0f64, step in 0.5..50.0f64,
        ) {
            let way = length(path, [Some(inside), Some(inside)]);
            let made = cut(&way, [Some(18.0), Some(18.0)], 10.0, step).made_mm.unwrap();
            let over = made - (path + 2.0 * inside);
            prop_assert!((-1e-6..step + 1e-6).contains(&over), "{over}");
        }
    }
}
