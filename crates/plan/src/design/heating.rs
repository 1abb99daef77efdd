//! One size of cable in the arrangement of one run, ready to be heated.
//!
//! Up to six cables are heated along their length (see `along`); more as a group that is the same all along.

use physics::heat::{self, Group, Point, State, Surroundings};
use physics::laws::conductor;
use physics::laws::convection::Correlation;
use physics::network::{self, Precision};

use super::along::{self, Along, Guess, Lying};
use super::duty::Series;
use crate::given::build::Lie;
use crate::given::parts::{Parts, RunParts};
use crate::given::shelf::Cable;

/// A steady state of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Steady {
    /// The hottest cable, by its place in the run.
    pub hottest: usize,
    /// Its conductor.
    pub conductor_c: f64,
    /// Its surface.
    pub surface_c: f64,
    /// Its ratio of AC to DC resistance.
    pub ac_ratio: f64,
    /// Its loss.
    pub loss_w_per_m: f64,
    /// Resistance of every cable as warm as it is, AC.
    pub ohm_per_m: Vec<f64>,
    state: Warm,
}

/// Temperatures all over a run.
#[derive(Clone, Debug, PartialEq)]
enum Warm {
    /// The same all along.
    Even(State),
    /// Differing from place to place.
    Along(network::State),
}

/// The course of a peak.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Conductor at the end.
    pub end_c: f64,
    /// Seconds and conductor temperature.
    pub curve: Vec<(f64, f64)>,
    /// All of it, where it is heated along its length.
    pub(super) whole: Option<network::Course>,
}

/// The conductor over a duty.
#[derive(Clone, Debug, PartialEq)]
pub struct Driven {
    /// The hottest conductor at the hottest moment.
    pub hottest_c: f64,
    /// In which stretch.
    pub stretch: String,
    /// When in it.
    pub at_s: f64,
    /// Seconds and hottest conductor, stretch by stretch; the drive that is repeated in its periodic state.
    pub curves: Vec<(String, Vec<(f64, f64)>)>,
    /// All of it, stretch by stretch, where the run is heated along its length.
    pub(super) courses: Vec<network::Course>,
}

/// What a run carries for ever at a limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Rating {
    /// Current of each cable.
    pub current_a: f64,
    /// The state then.
    pub steady: Steady,
}

/// One size in one run.
pub struct Heating {
    group: Group,
    /// Along its length; none for more cables than the network takes.
    along: Option<Along>,
    /// Axis to axis of neighbours.
    pub pitch_mm: f64,
}

impl Heating {
    /// Prepares a size; none where its insulation is not on the shelf or its dimensions are no cable.
    pub fn of(
        parts: &Parts<'_>,
        run: &RunParts<'_>,
        cable: &Cable,
        lying: &Lying,
        length_m: Option<f64>,
    ) -> Option<Heating> {
        let one = along::one(parts, cable, &Guess::USED).filter(|_| lying.count > 0)?;
        let apart = match lying.lie {
            Lie::Flat | Lie::Trefoil => 1.0,
            Lie::Spaced | Lie::Vertical => 2.0,
        };
        let along = Along::of(parts, run, cable, lying, length_m, (&Guess::USED, None));
        Some(Heating {
            pitch_mm: apart * one.outer_diameter_mm,
            group: Group {
                cables: vec![one; lying.count],
                arrangement: lying.arrangement(lying.lie),
                frequency_hz: lying.frequency_hz,
                harmonics: Vec::new(),
                surroundings: Surroundings {
                    air_c: lying.air_c,
                    altitude_m: lying.altitude_m,
                    air_speed_m_s: lying.air_speed_m_s,
                    correlation: Correlation::ChurchillChu,
                    fixed_k_m_per_w: None,
                },
            },
            along,
        })
    }

    fn carrying(&self, current_a: f64) -> Group {
        let mut group = self.group.clone();
        for cable in &mut group.cables {
            cable.current_a_rms = current_a;
        }
        group
    }

    /// Steady state; none where it runs away.
    pub fn steady(&self, current_a: f64) -> Option<Steady> {
        if let Some(along) = &self.along {
            return along.settled(current_a).map(|state| uneven(along, state, current_a));
        }
        let group = self.carrying(current_a);
        heat::steady(&group).ok().map(|steady| summary(&group, &steady))
    }

    /// What every cable may carry for ever; none where the air is as hot as the limit.
    pub fn rating(&self, limit_c: f64) -> Option<Rating> {
        if let Some(along) = &self.along {
            let found = along.network().rating(&along.load(100.0), limit_c)?;
            let state = along.settled(found.current_a)?;
            let steady = uneven(along, state, found.current_a);
            return Some(Rating { current_a: found.current_a, steady });
        }
        heat::rating(&self.group, limit_c).map(|rating| Rating {
            current_a: rating.current_a,
            steady: summary(&self.carrying(rating.current_a), &rating.steady),
        })
    }

    /// The network along the run; none for more cables than it takes.
    pub fn along(&self) -> Option<&Along> {
        self.along.as_ref()
    }

    /// A peak from a warm start.
    pub fn peak(&self, warm: &Steady, peak_a: f64, seconds: f64) -> Course {
        let state = match (&self.along, &warm.state) {
            (Some(along), Warm::Along(state)) => {
                let course = along.constant(state, peak_a, seconds);
                let until_s = course.stopped_s.unwrap_or(seconds);
                return Course {
                    end_c: along.network().hottest(&course.end).0,
                    curve: sampled(&points(&course), until_s, PEAK_POINTS),
                    whole: Some(course),
                };
            }
            (_, Warm::Even(state)) => state,
            (None, Warm::Along(_)) => panic!("{MIXED}"),
        };
        let course = heat::step(&self.carrying(peak_a), state, seconds);
        Course {
            end_c: course.end.hottest_c(),
            curve: sampled(&course.curve, course.stopped_s.unwrap_or(seconds), PEAK_POINTS),
            whole: None,
        }
    }

    /// How long a current takes to the limit from a warm start; none where it never gets there.
    pub fn time_to_limit_s(&self, warm: &Steady, current_a: f64, limit_c: f64) -> Option<f64> {
        match (&self.along, &warm.state) {
            (Some(along), Warm::Along(state)) => along.network().time_to_limit_s(
                state,
                &along.load(current_a),
                limit_c,
                &Precision::USUAL,
            ),
            (_, Warm::Even(state)) => {
                heat::time_to_limit_s(&self.carrying(current_a), state, limit_c)
            }
            (None, Warm::Along(_)) => panic!("{MIXED}"),
        }
    }

    /// The conductor over a duty: what repeats until it no longer changes, then each hard case from there.
    pub fn driven(&self, warm: &Steady, series: &[Series]) -> Driven {
        let (curves, courses) = match (&self.along, &warm.state) {
            (Some(along), Warm::Along(state)) => {
                let courses = along::courses(along, state, series, &Precision::USUAL);
                (courses.iter().map(points).collect(), courses)
            }
            (_, Warm::Even(state)) => (self.driven_even(state, series), Vec::new()),
            (None, Warm::Along(_)) => panic!("{MIXED}"),
        };
        let mut driven = Driven {
            hottest_c: f64::NEG_INFINITY,
            stretch: String::new(),
            at_s: 0.0,
            curves: Vec::new(),
            courses,
        };
        for (one, curve) in series.iter().zip::<Vec<Vec<Point>>>(curves) {
            for point in &curve {
                if driven.hottest_c < point.hottest_c {
                    (driven.hottest_c, driven.at_s) = (point.hottest_c, point.time_s);
                    driven.stretch.clone_from(&one.name);
                }
            }
            let end_s = curve.last().map_or(0.0, |p| p.time_s);
            driven.curves.push((one.name.clone(), peaked(&curve, end_s, DRIVEN_POINTS)));
        }
        driven
    }

    fn driven_even(&self, warm: &State, series: &[Series]) -> Vec<Vec<Point>> {
        let group = self.carrying(1.0);
        let mut state = warm.clone();
        let mut curves = Vec::new();
        for one in series {
            let pieces = merged(&one.pieces);
            let mut course = heat::course(&group, &state, &pieces);
            if one.repeats {
                for _ in 0..PASSES_MAX {
                    let off = course.end.hottest_c() - state.hottest_c();
                    state = course.end.clone();
                    if course.stopped_s.is_some() || off.abs() < PERIODIC_K {
                        break;
                    }
                    course = heat::course(&group, &state, &pieces);
                }
            }
            curves.push(course.curve);
        }
        curves
    }

    /// The way from the air's temperature to nearly the steady state.
    pub fn warming(&self, current_a: f64) -> Vec<(f64, f64)> {
        let (curve, stopped_s) = match &self.along {
            Some(along) => {
                let course = along.constant(&along.network().cold(), current_a, WARMING_S);
                (points(&course), course.stopped_s)
            }
            None => {
                let group = self.carrying(current_a);
                let start = State::uniform(&group, group.surroundings.air_c);
                let course = heat::step(&group, &start, WARMING_S);
                (course.curve, course.stopped_s)
            }
        };
        let first_c = curve.first().map_or(f64::NAN, |p| p.hottest_c);
        let last_c = curve.last().map_or(f64::NAN, |p| p.hottest_c);
        // Shown until the conductor is within a hundredth of its rise; the rest is a straight line.
        let near_c = first_c + 0.99 * (last_c - first_c);
        let end_s = match stopped_s {
            Some(stopped_s) => stopped_s,
            None => curve
                .iter()
                .find(|p| near_c <= p.hottest_c)
                .map_or(WARMING_S, |p| p.time_s.max(60.0)),
        };
        sampled(&curve, end_s, WARMING_POINTS)
    }
}

/// Pieces up to this are heated as one of the same loss, where a group is too large for the network: no conductor
/// here moves more than a kelvin or two in it.
const MERGED_S: f64 = 5.0;

/// The same heat in fewer pieces.
fn merged(pieces: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    let (mut time_s, mut heat) = (0.0, 0.0);
    for (dt, i) in pieces {
        if 0.0 < time_s && MERGED_S < time_s + dt {
            all.push((time_s, (heat / time_s).sqrt()));
            (time_s, heat) = (0.0, 0.0);
        }
        time_s += dt;
        heat += dt * i * i;
    }
    if 0.0 < time_s {
        all.push((time_s, (heat / time_s).sqrt()));
    }
    all
}

/// A state comes from the model that is asked to go on with it.
const MIXED: &str = "a group has the state of a group";

fn points(course: &network::Course) -> Vec<Point> {
    course.curve.iter().map(|m| Point { time_s: m.time_s, hottest_c: m.hottest_c }).collect()
}

/// What a network's state says of its hottest place.
fn uneven(along: &Along, state: network::State, current_a: f64) -> Steady {
    let net = along.network();
    let (conductor_c, cell, hottest) = net.hottest(&state);
    let cable = &net.cables()[hottest];
    let ac_ratio = along.ac_ratio(&state, cell, hottest);
    let warm = conductor::resistance_factor(conductor_c, cable.material);
    Steady {
        hottest,
        conductor_c,
        surface_c: net.surface_c(&state, cell, hottest),
        ac_ratio,
        loss_w_per_m: current_a * current_a * cable.resistance_20_ohm_per_m * warm * ac_ratio,
        ohm_per_m: along.ohm_per_m(&state),
        state: Warm::Along(state),
    }
}

/// No cable of a vehicle takes longer to settle.
const WARMING_S: f64 = 4.0 * 3600.0;
const WARMING_POINTS: usize = 25;
const PEAK_POINTS: usize = 20;
const DRIVEN_POINTS: usize = 181;
/// Start and end of a drive that differ by less are the same.
const PERIODIC_K: f64 = 0.1;
const PASSES_MAX: usize = 20;
fn summary(group: &Group, steady: &heat::Steady) -> Steady {
    // The first of equals, so that equal cables are named in the order of the run.
    let mut hottest = 0;
    for (i, cable) in steady.cables.iter().enumerate() {
        if cable.conductor_c > steady.cables[hottest].conductor_c + 1e-6 {
            hottest = i;
        }
    }
    let it = &steady.cables[hottest];
    let ohm_per_m = group
        .cables
        .iter()
        .zip(&steady.cables)
        .map(|(cable, heat)| {
            cable.resistance_20_ohm_per_m
                * conductor::resistance_factor(heat.conductor_c, cable.material)
                * heat.ac_ratio
        })
        .collect();
    Steady {
        hottest,
        conductor_c: it.conductor_c,
        surface_c: it.surface_c,
        ac_ratio: it.ac_ratio,
        loss_w_per_m: it.loss_w_per_m,
        ohm_per_m,
        state: Warm::Even(State::settled(group, steady)),
    }
}

/// A curve at evenly spaced times, straight between the points it has.
fn sampled(curve: &[Point], until_s: f64, points: usize) -> Vec<(f64, f64)> {
    let last = points - 1;
    (0..points)
        .map(|k| {
            let t = until_s * k as f64 / last as f64;
            (t, at(curve, t))
        })
        .collect()
}

/// The same, and the hottest point between them: a drawing must not stay below the number beside it.
fn peaked(curve: &[Point], until_s: f64, points: usize) -> Vec<(f64, f64)> {
    let mut all = sampled(curve, until_s, points);
    let hottest = curve.iter().reduce(|a, b| if a.hottest_c < b.hottest_c { b } else { a });
    if let Some(hottest) = hottest {
        let after = all.partition_point(|(time_s, _)| *time_s < hottest.time_s);
        if all.get(after).is_none_or(|(time_s, _)| hottest.time_s < *time_s) {
            all.insert(after, (hottest.time_s, hottest.hottest_c));
        }
    }
    all
}

fn at(curve: &[Point], time_s: f64) -> f64 {
    let after = curve.partition_point(|p| p.time_s < time_s);
    match (after.checked_sub(1).map(|i| curve[i]), curve.get(after)) {
        (None, Some(first)) => first.hottest_c,
        (Some(last), None) => last.hottest_c,
        (Some(a), Some(b)) => {
            let share = (time_s - a.time_s) / (b.time_s - a.time_s);
            a.hottest_c + share * (b.hottest_c - a.hottest_c)
        }
        (None, None) => f64::NAN,
    }
}
