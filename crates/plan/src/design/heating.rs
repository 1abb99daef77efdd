//! One size of cable in the arrangement of one run, ready to be heated.
//!
//! The laws know groups of cables, not runs; here the one becomes the other.

use physics::duty::windows::Piece;
use physics::heat::{self, Arrangement, Group, Point, State, Surroundings};
use physics::laws::conductor::{self, Material};
use physics::laws::convection::Correlation;

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
    state: State,
}

/// The course of a peak.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Conductor at the end.
    pub end_c: f64,
    /// When the limit is reached, if ever.
    pub to_limit_s: Option<f64>,
    /// Seconds and conductor temperature.
    pub curve: Vec<(f64, f64)>,
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
}

/// What a run carries for ever at a limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Rating {
    /// Current of each cable.
    pub current_a: f64,
    /// The state then.
    pub steady: Steady,
}

/// Where a run lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lying {
    /// How.
    pub lie: Lie,
    /// How many cables.
    pub count: usize,
    /// Hottest air.
    pub air_c: f64,
    /// Speed of the air across the cables.
    pub air_speed_m_s: f64,
    /// Height above the sea.
    pub altitude_m: f64,
    /// Frequency; zero for direct current.
    pub frequency_hz: f64,
}

impl Lying {
    /// As the run says.
    pub fn of(parts: &Parts<'_>, run: &RunParts<'_>, air_c: f64, frequency_hz: f64) -> Lying {
        let air_speed = run.run.air_speed_m_per_s.as_ref().map_or(0.0, |v| v.value);
        Lying {
            lie: run.lie,
            count: run.cables.len(),
            air_c,
            // A wind of 50 m/s is a slip; beyond the laws' range nothing is gained.
            air_speed_m_s: air_speed.clamp(0.0, 50.0),
            altitude_m: parts.around.altitude_m.clamp(-1000.0, 9000.0),
            frequency_hz,
        }
    }

    fn arrangement(&self) -> Arrangement {
        match (self.lie, self.count) {
            (_, 0 | 1) => Arrangement::Single,
            (Lie::Spaced, _) => Arrangement::FlatSpaced,
            (Lie::Vertical, _) => Arrangement::VerticalSpaced,
            (Lie::Flat | Lie::Trefoil, 2) => Arrangement::PairTouching,
            (Lie::Flat, _) => Arrangement::FlatTouching,
            (Lie::Trefoil, _) => Arrangement::Trefoil,
        }
    }
}

/// One size in one run.
#[derive(Clone, Debug)]
pub struct Heating {
    group: Group,
    /// Axis to axis of neighbours.
    pub pitch_mm: f64,
}

impl Heating {
    /// Prepares a size; none where its insulation is not on the shelf or its dimensions are no cable.
    pub fn of(parts: &Parts<'_>, cable: &Cable, lying: &Lying) -> Option<Heating> {
        let insulation =
            parts.shelf.insulations.iter().find(|i| i.row.id == cable.insulation)?;
        let outer_diameter_mm = cable.diameter_mm();
        let is_cable = 0.0 < cable.conductor_diameter_mm
            && cable.conductor_diameter_mm <= outer_diameter_mm
            && 0.0 < cable.resistance_ohm_per_km
            && (0.0..=1.0).contains(&insulation.emissivity)
            && lying.count > 0;
        if !is_cable {
            return None;
        }
        let one = heat::Cable {
            resistance_20_ohm_per_m: cable.resistance_ohm_per_km / 1000.0,
            material: Material::Copper,
            conductor_area_mm2_effective: conductor::effective_area_mm2(
                cable.resistance_ohm_per_km,
                Material::Copper,
            ),
            conductor_diameter_mm: cable.conductor_diameter_mm,
            outer_diameter_mm,
            insulation_resistivity_k_m_per_w: insulation.resistivity_km_per_w.max(0.0),
            insulation_heat_j_m3k: insulation.heat_j_per_m3k.max(0.0),
            emissivity: insulation.emissivity,
            current_a_rms: 1.0,
        };
        let apart = match lying.lie {
            Lie::Flat | Lie::Trefoil => 1.0,
            Lie::Spaced | Lie::Vertical => 2.0,
        };
        Some(Heating {
            pitch_mm: apart * outer_diameter_mm,
            group: Group {
                cables: vec![one; lying.count],
                arrangement: lying.arrangement(),
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
        let group = self.carrying(current_a);
        heat::steady(&group).ok().map(|steady| summary(&group, &steady))
    }

    /// What every cable may carry for ever; none where the air is as hot as the limit.
    pub fn rating(&self, limit_c: f64) -> Option<Rating> {
        heat::rating(&self.group, limit_c).map(|rating| Rating {
            current_a: rating.current_a,
            steady: summary(&self.carrying(rating.current_a), &rating.steady),
        })
    }

    /// A peak from a warm start.
    pub fn peak(&self, warm: &Steady, peak_a: f64, seconds: f64, limit_c: f64) -> Course {
        let group = self.carrying(peak_a);
        let course = heat::step(&group, &warm.state, seconds);
        Course {
            end_c: course.end.hottest_c(),
            to_limit_s: heat::time_to_limit_s(&group, &warm.state, limit_c),
            curve: sampled(&course.curve, course.stopped_s.unwrap_or(seconds), PEAK_POINTS),
        }
    }

    /// The conductor at the end of a peak from a warm start.
    pub fn after_peak_c(&self, warm: &Steady, peak_a: f64, seconds: f64) -> f64 {
        heat::step(&self.carrying(peak_a), &warm.state, seconds).end.hottest_c()
    }

    /// The conductor over a duty: what repeats until it no longer changes, then each hard case from there.
    pub fn driven(&self, warm: Option<&Steady>, series: &[Series]) -> Driven {
        let group = self.carrying(1.0);
        let air = State::uniform(&group, group.surroundings.air_c);
        // Near the periodic state from the start: the steady state of the same loss.
        let mut state = warm.map_or(air, |w| w.state.clone());
        let mut driven = Driven {
            hottest_c: f64::NEG_INFINITY,
            stretch: String::new(),
            at_s: 0.0,
            curves: Vec::new(),
        };
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
            for point in &course.curve {
                if driven.hottest_c < point.hottest_c {
                    (driven.hottest_c, driven.at_s) = (point.hottest_c, point.time_s);
                    driven.stretch.clone_from(&one.name);
                }
            }
            let end_s = course.curve.last().map_or(0.0, |p| p.time_s);
            driven
                .curves
                .push((one.name.clone(), sampled(&course.curve, end_s, DRIVEN_POINTS)));
        }
        driven
    }

    /// The way from the air's temperature to nearly the steady state.
    pub fn warming(&self, current_a: f64) -> Vec<(f64, f64)> {
        let group = self.carrying(current_a);
        let start = State::uniform(&group, group.surroundings.air_c);
        let course = heat::step(&group, &start, WARMING_S);
        let (first_c, last_c) = (start.hottest_c(), course.end.hottest_c());
        // Shown until the conductor is within a hundredth of its rise; the rest is a straight line.
        let near_c = first_c + 0.99 * (last_c - first_c);
        let end_s = match course.stopped_s {
            Some(stopped_s) => stopped_s,
            None => course
                .curve
                .iter()
                .find(|p| near_c <= p.hottest_c)
                .map_or(WARMING_S, |p| p.time_s.max(60.0)),
        };
        sampled(&course.curve, end_s, WARMING_POINTS)
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
/// Pieces up to this are heated as one of the same loss: no conductor here moves more than a kelvin or two in
/// it.
const MERGED_S: f64 = 5.0;

fn merged(pieces: &[Piece]) -> Vec<Piece> {
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
        state: State::settled(group, steady),
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
