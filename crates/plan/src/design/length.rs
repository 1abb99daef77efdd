//! How long each run's path is, as measured.
//!
//! Three ways to say it: one `length`, a length for each cable (`lengths`), or straight `legs` between
//! `corners` that are rounded to the bend radius. Where more than one is given the longest counts,
//! because a cable too short cannot be mended.

/// Lengths of one run.
#[derive(Clone, Debug, PartialEq)]
pub struct RunLength {
    /// Run id.
    pub run: String,
    /// Path from sealing face to sealing face; the longest of the cables.
    pub path_mm: Option<f64>,
    /// Difference between the longest and the shortest measured cable.
    pub spread_mm: f64,
    /// Along the cable inside the boxes, sealing face to terminal centre, at the from- and the to-port.
    pub inside_mm: [Option<f64>; 2],
}

use physics::units::{Dimension, show_both};
use space::curve::{self, NoWay};

use crate::finding::{About, Finding, Notes, Place, Quantity, Verdict, Worked};
use crate::given::build::At;
use crate::given::parts::{Parts, PortParts, RunParts};

const COMMON_PRACTICE: &str = "common-practice";

/// Measures the paths of all runs.
pub fn measure(parts: &Parts<'_>, notes: &mut Notes) -> Vec<RunLength> {
    parts.runs.iter().map(|run| one(parts, run, notes)).collect()
}

fn one(parts: &Parts<'_>, run: &RunParts<'_>, notes: &mut Notes) -> RunLength {
    let id = &run.run.id.value;
    let stated_mm =
        run.run.length_mm.as_ref().and_then(|l| positive(parts, id, "length", l, notes));
    let (cables_mm, spread_mm) = by_cable(parts, run, notes);
    let legs_mm = along_legs(parts, run, notes);

    let ways: Vec<f64> = [stated_mm, cables_mm, legs_mm].into_iter().flatten().collect();
    let path_mm = ways.iter().copied().reduce(f64::max);
    if ways.len() > 1
        && let Some(longest) = path_mm
    {
        notes.assume(
            &format!("path of run {id}"),
            &show_both(longest, Dimension::Length, parts.units),
            "the longest of the ways it is stated, because a cable too short cannot be mended",
            &format!("run.{id}.length"),
        );
    }
    if path_mm.is_none() && !states_a_way(run) {
        notes.find(
            Finding::new(
                "length-unknown",
                Verdict::Unknown,
                run.run.id.at,
                COMMON_PRACTICE,
                format!("the path of run {id} is not stated"),
            )
            .hint(
                "lay a rope of the cable's stiffness where the cable shall go and measure from sealing \
                 face to sealing face: `length`; it settles cut length, voltage drop and cost",
            )
            .about(About::run(id)),
        );
    }
    let inside =
        [run.from, run.to].map(|port| inside_mm(parts, run, &parts.ports[port], notes));
    RunLength { run: id.clone(), path_mm, spread_mm, inside_mm: inside }
}

/// Whether the document tries to say how long the run is; if so its mistakes are findings already.
fn states_a_way(run: &RunParts<'_>) -> bool {
    run.run.length_mm.is_some() || !run.run.lengths_mm.is_empty() || run.run.legs_mm.is_some()
}

/// A stated length that is one, or a finding.
fn positive(
    parts: &Parts<'_>,
    id: &str,
    key: &str,
    length: &At<f64>,
    notes: &mut Notes,
) -> Option<f64> {
    // A kilometre of traction cable is a slip of the unit, not a vehicle.
    let limit_mm = 1.0e6;
    if length.value > 0.0 && length.value <= limit_mm {
        return Some(length.value);
    }
    let text = show_both(length.value, Dimension::Length, parts.units);
    let limit = show_both(limit_mm, Dimension::Length, parts.units);
    notes.find(
        Finding::new(
            "length-range",
            Verdict::Fails,
            length.at,
            COMMON_PRACTICE,
            format!("the {key} of run {id}, {text}, is not between 0 and {limit}"),
        )
        .judged(length.value, limit_mm, Dimension::Length)
        .hint("measure it again, and check the unit")
        .about(About::run(id)),
    );
    None
}

/// The longest of the cables measured one by one, and how far they are apart.
fn by_cable(parts: &Parts<'_>, run: &RunParts<'_>, notes: &mut Notes) -> (Option<f64>, f64) {
    let id = &run.run.id.value;
    let mut measured: Vec<f64> = Vec::new();
    for (label, length) in &run.run.lengths_mm {
        if !run.cables.iter().any(|c| c.from == label.value) {
            let known: Vec<&str> = run.cables.iter().map(|c| c.from.as_str()).collect();
            notes.find(
                Finding::new(
                    "length-cable",
                    Verdict::Fails,
                    label.at,
                    COMMON_PRACTICE,
                    format!("run {id} has no cable `{}`", label.value),
                )
                .hint(format!("cables go by their from-terminal: {}", known.join(", ")))
                .about(About::run(id)),
            );
        } else if let Some(mm) = positive(parts, id, &label.value, length, notes) {
            measured.push(mm);
        }
    }
    let longest = measured.iter().copied().reduce(f64::max);
    let shortest = measured.iter().copied().reduce(f64::min);
    (longest, longest.unwrap_or(0.0) - shortest.unwrap_or(0.0))
}

/// The way along legs with their corners rounded.
fn along_legs(parts: &Parts<'_>, run: &RunParts<'_>, notes: &mut Notes) -> Option<f64> {
    let id = &run.run.id.value;
    let legs = run.run.legs_mm.as_ref()?;
    let none = Vec::new();
    let corners = run.run.corners_deg.as_ref().map_or(&none, |c| &c.value);
    let legs_mm: Vec<f64> = legs.value.iter().map(|l| l.value).collect();
    let corners_deg: Vec<f64> = corners.iter().map(|c| c.value).collect();
    let radius_mm = run.run.bend_radius_mm.as_ref().map_or(0.0, |r| r.value);
    if run.run.bend_radius_mm.is_none() && !corners.is_empty() {
        notes.assume(
            &format!("corners of run {id}"),
            "sharp",
            "no bend radius is stated; a rounded corner is shorter, so the cut is not short for it",
            &format!("run.{id}.bend-radius"),
        );
    }
    let way = match curve::round(&legs_mm, &corners_deg, radius_mm) {
        Ok(way) => way,
        Err(why) => {
            notes.find(no_way(parts, run, why));
            return None;
        }
    };
    for (leg, straight_mm) in legs.value.iter().zip(&way.straights_mm) {
        if *straight_mm < 0.0 {
            notes.find(leg_too_short(parts, run, leg, *straight_mm));
        }
    }
    let length = |value| Quantity::new(value, Dimension::Length);
    notes.work(Worked {
        what: "path along its legs".to_owned(),
        about: About::run(id),
        value: length(way.length_mm),
        law: "L = sum(legs) - sum(2 R tan(a/2) - R a)",
        inputs: vec![("sum(legs)", length(legs_mm.iter().sum())), ("R", length(radius_mm))],
        source: "exact",
    });
    positive(parts, id, "legs", &At { value: way.length_mm, at: legs.at }, notes)
}

fn leg_too_short(
    parts: &Parts<'_>,
    run: &RunParts<'_>,
    leg: &At<f64>,
    straight_mm: f64,
) -> Finding {
    let id = &run.run.id.value;
    let show = |mm| show_both(mm, Dimension::Length, parts.units);
    let needed_mm = leg.value - straight_mm;
    Finding::new(
        "legs-too-short",
        Verdict::Fails,
        leg.at,
        "exact",
        format!(
            "a leg of {} in run {id} is too short for its bends, which take {}",
            show(leg.value),
            show(needed_mm)
        ),
    )
    .judged(leg.value, needed_mm, Dimension::Length)
    .hint("move a corner, turn less, or bend tighter if the cable may")
    .about(About::run(id))
}

fn no_way(parts: &Parts<'_>, run: &RunParts<'_>, why: NoWay) -> Finding {
    let id = &run.run.id.value;
    let here = run.run.id.at;
    let legs_at = run.run.legs_mm.as_ref().map_or(here, |l| l.at);
    let corners_at = run.run.corners_deg.as_ref().map_or(legs_at, |c| c.at);
    let leg_at = |i: usize| {
        run.run.legs_mm.as_ref().and_then(|l| l.value.get(i)).map_or(legs_at, |l| l.at)
    };
    let corner_at = |i: usize| {
        run.run.corners_deg.as_ref().and_then(|c| c.value.get(i)).map_or(corners_at, |c| c.at)
    };
    let (at, message, hint): (Place, String, &str) = match why {
        NoWay::Count { legs, corners } => (
            corners_at,
            format!("run {id} has {legs} legs and {corners} corners"),
            "there is one corner between each two legs: one corner fewer than legs",
        ),
        NoWay::Leg { index } => (
            leg_at(index),
            format!("leg {} of run {id} has no length", index + 1),
            "measure from corner to corner, or leave the leg and its corner out",
        ),
        NoWay::Corner { index } => (
            corner_at(index),
            format!("corner {} of run {id} does not turn by 0 to 180 deg", index + 1),
            "state the angle the way turns by: 0 is straight on, 90 deg is square",
        ),
        NoWay::Radius => (
            run.run.bend_radius_mm.as_ref().map_or(here, |r| r.at),
            format!(
                "the bend radius of run {id}, {}, is no radius",
                show_both(
                    run.run.bend_radius_mm.as_ref().map_or(0.0, |r| r.value),
                    Dimension::Length,
                    parts.units
                )
            ),
            "measure the bend to the cable's axis",
        ),
    };
    Finding::new("legs-corners", Verdict::Fails, at, "exact", message)
        .hint(hint)
        .about(About::run(id))
}

fn inside_mm(
    parts: &Parts<'_>,
    run: &RunParts<'_>,
    port: &PortParts<'_>,
    notes: &mut Notes,
) -> Option<f64> {
    let about = About::end(&run.run.id.value, None, &port.name);
    let Some(inside) = &port.port.inside_length_mm else {
        notes.find(
            Finding::new(
                "inside-length-unknown",
                Verdict::Unknown,
                port.port.at,
                COMMON_PRACTICE,
                format!(
                    "the way inside {} from sealing face to terminal is not stated",
                    port.name
                ),
            )
            .hint(
                "measure along the cable from the sealing face to the terminal's centre: \
                 `inside-length`; it settles the cut length",
            )
            .about(about),
        );
        return None;
    };
    // Zero is a terminal in the face itself; less is a slip.
    if (0.0..=1.0e5).contains(&inside.value) {
        return Some(inside.value);
    }
    let text = show_both(inside.value, Dimension::Length, parts.units);
    notes.find(
        Finding::new(
            "length-range",
            Verdict::Fails,
            inside.at,
            COMMON_PRACTICE,
            format!("the inside length of {}, {text}, is no length inside a box", port.name),
        )
        .hint("measure it again, and check the unit")
        .about(about),
    );
    None
}

#[cfg(test)]
mod tests {
    use crate::checks::marked::{BASE, check, holds, merge, planned};

    #[test]
    fn the_longest_of_the_cables_counts() {
        let length = &planned(BASE).lengths[0];
        assert_eq!((length.path_mm, length.spread_mm), (Some(2360.0), 20.0));
        assert_eq!(length.inside_mm, [Some(72.0), Some(88.0)]);
    }

    #[test]
    fn the_longest_of_all_ways_counts_and_is_said() {
        let plan = planned(&merge(
            BASE,
            "[run.dc]\nlegs = [\"2 m\", \"1.5 m\"]\ncorners = [\"90 deg\"]",
        ));
        // 3.5 m less what rounding to 120 mm saves is shorter than the 3.65 m stated.
        assert_eq!(plan.lengths[1].path_mm, Some(3650.0));
        assert!(plan.assumed.iter().any(|a| a.what == "path of run dc"));
    }

    #[test]
    fn legs_are_rounded_to_the_bend_radius() {
        let patch =
            "[run.dc]\nlength = absent\nlegs = [\"2 m\", \"1.5 m\"]\ncorners = [\"90 deg\"]";
        let plan = planned(&merge(BASE, patch));
        let saved = 2.0 * 120.0 - 120.0 * std::f64::consts::FRAC_PI_2;
        let path = plan.lengths[1].path_mm.unwrap();
        assert!((path - (3500.0 - saved)).abs() < 1e-9, "{path}");
    }

    #[test]
    fn sharp_corners_are_assumed_aloud() {
        let patch = "[run.dc]\nlength = absent\nbend-radius = absent\nlegs = [\"2 m\", \"1.5 m\"]\n\
                     corners = [\"90 deg\"]";
        let plan = planned(&merge(BASE, patch));
        assert_eq!(plan.lengths[1].path_mm, Some(3500.0));
        assert!(plan.assumed.iter().any(|a| a.what == "corners of run dc"));
    }

    #[test]
    fn legs_too_short_for_their_bends_fail() {
        check(
            r#"
            [run.dc]
            legs = ["1 m", "15 cm", "1 m"]   #! fails legs-too-short
            corners = ["90 deg", "90 deg"]
            "#,
        );
    }

    #[test]
    fn a_corner_too_many_fails() {
        check(
            r#"
            [run.dc]
            legs = ["1 m", "1 m"]
            corners = ["90 deg", "90 deg"]   #! fails legs-corners
            "#,
        );
    }

    #[test]
    fn a_length_of_no_cable_fails() {
        check(
            r#"
            [run.phases]
            lengths = { U = "2.34 m", V = "2.35 m", X = "2.36 m" }   #! fails length-cable
            "#,
        );
    }

    #[test]
    fn an_unmeasured_inside_is_unknown() {
        check(
            r#"
            [device.battery.port.main]   #! unknown inside-length-unknown
            inside-length = absent
            "#,
        );
        holds("length-spread", "");
    }
}
