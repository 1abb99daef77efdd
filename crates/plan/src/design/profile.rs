//! What the heat of a run amounts to: where it is hottest and when, what it carries for how long, how far the
//! answer moves with what is taken for granted, and what its insulation pays.

use physics::laws::ageing;
use physics::laws::convection::Correlation;
use physics::network::{Course, Network, Precision, State};
use physics::units::{Dimension, System, show};

use super::along::{self, Along, Guess, Lying};
use super::duty::{AT_LIMIT_HOURS, HALVES_K, SERVICE_HOURS, Series};
use super::together::together;
use crate::given::parts::{Parts, RunParts};
use crate::given::shelf::Cable;

/// The heat of a run along its length.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// Conductor of the hottest cable from the first terminal to the last.
    pub spots: Vec<Spot>,
    /// Section by section.
    pub sections: Vec<SectionHeat>,
    /// The conductor where it meets each terminal, and the terminal, if its temperature is stated.
    pub ends: [EndHeat; 2],
    /// The steady conductor over the bounds of what is taken for granted.
    pub band: Band,
    /// Currents for ever and for a time.
    pub ratings: Vec<RatingFor>,
    /// From cold and from warm to the limit at the peak, or at the continuous current where there is none.
    pub to_limit: ToLimit,
    /// What the insulation pays.
    pub ageing: Ageing,
    /// Heat of the whole run, its joints included, W.
    pub made_w: f64,
    /// Of it, into the bodies behind the terminals; negative where they heat the run.
    pub into_ends_w: f64,
}

/// One place along a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// From the first terminal.
    pub at_m: f64,
    /// Steady, at the continuous current.
    pub steady_c: f64,
    /// At the hottest moment of duty or peak, if there is one.
    pub hottest_c: Option<f64>,
    /// Steady, over what is taken for granted.
    pub low_c: Option<f64>,
    /// The same.
    pub high_c: Option<f64>,
}

/// One section of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionHeat {
    /// "section 2, in conduit".
    pub name: String,
    /// Which of the document's sections; none for what they leave of the run.
    pub given: Option<usize>,
    /// From and to, m from the first terminal.
    pub from_m: f64,
    /// The same.
    pub to_m: f64,
    /// Its hottest conductor, steady.
    pub steady_c: f64,
    /// Where that is.
    pub at_m: f64,
    /// Which cable.
    pub cable: String,
}

/// One end of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndHeat {
    /// The terminal, if stated.
    pub terminal_c: Option<f64>,
    /// The conductor next to it, steady.
    pub conductor_c: f64,
}

/// A temperature over the bounds of assumptions.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// All assumptions as cool as they may be.
    pub low_c: Option<f64>,
    /// All as hot as they may be; none where that never settles.
    pub high_c: Option<f64>,
    /// The conductor at the hottest moment of duty or peak, if there is one: as cool as it may be, as planned, as
    /// hot as it may be.
    pub hottest_c: Option<[f64; 3]>,
    /// One by one.
    pub parts: Vec<Bound>,
}

/// One assumption.
#[derive(Clone, Debug, PartialEq)]
pub struct Bound {
    /// What.
    pub what: &'static str,
    /// Its two ends, the cooler first, as people write them.
    pub between: [String; 2],
    /// The conductor with the cooler end.
    pub low_c: Option<f64>,
    /// The conductor with the hotter end.
    pub high_c: Option<f64>,
}

/// A current that brings the conductor to its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatingFor {
    /// In this time; none for ever.
    pub seconds: Option<f64>,
    /// From the air's temperature.
    pub cold_a: Option<f64>,
    /// From the continuous current; none where that is at the limit already.
    pub warm_a: Option<f64>,
}

/// How long to the limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToLimit {
    /// With this current.
    pub current_a: f64,
    /// From the air's temperature; none where it is never reached.
    pub cold_s: Option<f64>,
    /// From the continuous current.
    pub warm_s: Option<f64>,
}

/// What the insulation pays at the hottest place, an indication.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ageing {
    /// Hours of such service that use it up.
    pub hours: f64,
    /// Hours it is to serve.
    pub service_hours: f64,
    /// Hours it lasts at its limit.
    pub at_limit_hours: f64,
    /// Kelvin that halve them, at the limit.
    pub halves_k: f64,
    /// Whether over the duty, or at the continuous current all the time.
    pub is_driven: bool,
}

impl Ageing {
    /// Hours to two digits; nobody knows more.
    pub fn text(hours: f64) -> String {
        if hours >= 1e6 {
            return "a million hours or more".to_owned();
        }
        let mut unit = 1.0;
        while 100.0 * unit <= hours {
            unit *= 10.0;
        }
        format!("{:.0} h", (hours / unit).round() * unit)
    }
}

/// Times of the ratings.
pub const RATED_S: [f64; 4] = [10.0, 60.0, 600.0, 3600.0];
/// Precision of ratings, which nobody reads closer than to a per cent.
const ROUGH: Precision = Precision { step_error_k: 0.15, step_s_max: 1e6 };

/// What a profile is worked out from.
pub struct Asked<'a> {
    /// The build's parts.
    pub parts: &'a Parts<'a>,
    /// The run.
    pub run: &'a RunParts<'a>,
    /// Its cable.
    pub cable: &'a Cable,
    /// Where it lies.
    pub lying: Lying,
    /// Its length with what lies in the boxes.
    pub length_m: Option<f64>,
    /// All this made ready.
    pub along: &'a Along,
    /// Continuous current.
    pub current_a: f64,
    /// Limit of the conductor.
    pub limit_c: f64,
    /// Peak current and how long, if there is one.
    pub peak: Option<(f64, f64)>,
    /// How that goes, from the steady state.
    pub peaked: Option<&'a Course>,
    /// The duty, stretch by stretch.
    pub series: &'a [Series],
    /// How each of them goes.
    pub courses: &'a [Course],
}

impl Asked<'_> {
    fn along(&self, guess: &Guess) -> Option<Along> {
        let guess = (guess, Some(self.along));
        Along::of(self.parts, self.run, self.cable, &self.lying, self.length_m, guess)
    }
}

/// Everything about the heat of a run; none where it never settles.
pub fn profile(asked: &Asked<'_>) -> Option<Profile> {
    let along = asked.along;
    let net = along.network();
    let steady = net.steady(&along.load(asked.current_a)).ok()?;
    let (_, _, hottest) = net.hottest(&steady.state);
    let moment = hottest_moment(asked.courses.iter().chain(asked.peaked));
    let edges = together(&[cool(asked), HOT], |guess| Edge::at(asked, guess, hottest));
    let [cool, hot] = &edges[..] else { unreachable!("two guesses, two edges") };
    let edges = [cool, hot].map(Option::as_ref);
    Some(Profile {
        spots: spots(net, &steady.state, moment.map(|c| &c.hottest_state), edges, hottest),
        sections: sections(asked, along, &steady.state),
        ends: ends(asked, net, &steady.state, hottest),
        band: band(asked, moment, edges),
        ratings: ratings(asked, along, &steady.state),
        to_limit: to_limit(asked, along, &steady.state),
        ageing: aged(asked, net, &steady.state),
        made_w: steady.made_w,
        into_ends_w: steady.into_ends_w,
    })
}

/// The course with the hottest moment; the first of equals.
fn hottest_moment<'a>(courses: impl Iterator<Item = &'a Course>) -> Option<&'a Course> {
    courses.reduce(|a, b| if a.hottest.hottest_c < b.hottest.hottest_c { b } else { a })
}

/// One edge of the band.
struct Edge {
    /// Conductor of the hottest cable, steady, cell by cell.
    line_c: Vec<f64>,
    /// The hottest conductor over duty and peak, if there is either.
    moment_c: Option<f64>,
}

impl Edge {
    /// None where it never settles.
    fn at(asked: &Asked<'_>, guess: &Guess, cable: usize) -> Option<Edge> {
        let along = asked.along(guess)?;
        let state = along.settled(asked.current_a)?;
        let mut courses = Vec::new();
        // What was not worked out as planned is not worked out here.
        if !asked.courses.is_empty() {
            courses = along::courses(&along, &state, asked.series, &Precision::USUAL);
        }
        if let (Some((peak_a, seconds)), Some(_)) = (asked.peak, asked.peaked) {
            courses.push(along.constant(&state, peak_a, seconds));
        }
        Some(Edge {
            line_c: conductors(along.network(), &state, cable),
            moment_c: hottest_moment(courses.iter()).map(|c| c.hottest.hottest_c),
        })
    }
}

fn band(asked: &Asked<'_>, moment: Option<&Course>, [cool, hot]: [Option<&Edge>; 2]) -> Band {
    let most = |edge: Option<&Edge>| {
        let line_c = &edge?.line_c;
        Some(line_c.iter().copied().fold(f64::NEG_INFINITY, f64::max))
    };
    let at = |edge: Option<&Edge>| edge?.moment_c;
    let hottest_c = match (at(cool), moment, at(hot)) {
        (Some(low_c), Some(used), Some(high_c)) => {
            Some([low_c, used.hottest.hottest_c, high_c])
        }
        _ => None,
    };
    Band { low_c: most(cool), high_c: most(hot), hottest_c, parts: bounds(asked) }
}

fn conductors(net: &Network, state: &State, cable: usize) -> Vec<f64> {
    (0..net.cells().len()).map(|cell| net.conductor_c(state, cell, cable)).collect()
}

fn spots(
    net: &Network,
    steady: &State,
    moment: Option<&State>,
    [cool, hot]: [Option<&Edge>; 2],
    cable: usize,
) -> Vec<Spot> {
    let spot = |at_m: f64, cell: usize| Spot {
        at_m,
        steady_c: net.conductor_c(steady, cell, cable),
        hottest_c: moment.map(|s| net.conductor_c(s, cell, cable)),
        low_c: cool.map(|edge| edge.line_c[cell]),
        high_c: hot.map(|edge| edge.line_c[cell]),
    };
    let cells = net.cells();
    if let [only] = cells {
        return vec![spot(0.0, 0), spot(only.length_m, 0)];
    }
    cells.iter().enumerate().map(|(cell, c)| spot(c.at_m, cell)).collect()
}

fn sections(asked: &Asked<'_>, along: &Along, state: &State) -> Vec<SectionHeat> {
    let net = along.network();
    let mut all = Vec::new();
    for (index, stretch) in along.stretches().iter().enumerate() {
        let mut best = (f64::NEG_INFINITY, 0.0, 0);
        for (cell, c) in net.cells().iter().enumerate().filter(|(_, c)| c.section == index) {
            for cable in 0..net.cables().len() {
                let t = net.conductor_c(state, cell, cable);
                if best.0 + 1e-6 < t {
                    best = (t, c.at_m, cable);
                }
            }
        }
        let cable = asked.run.cables.get(best.2).map(|c| c.from.clone()).unwrap_or_default();
        all.push(SectionHeat {
            name: stretch.name.clone(),
            given: stretch.given,
            from_m: stretch.from_m,
            to_m: stretch.to_m,
            steady_c: best.0,
            at_m: best.1,
            cable,
        });
    }
    all
}

fn ends(asked: &Asked<'_>, net: &Network, state: &State, cable: usize) -> [EndHeat; 2] {
    let last = net.cells().len() - 1;
    [(asked.run.from, 0), (asked.run.to, last)].map(|(port, cell)| EndHeat {
        terminal_c: asked.parts.ports[port].port.terminal_c.as_ref().map(|t| t.value),
        conductor_c: net.conductor_c(state, cell, cable),
    })
}

/// Bounds of emissivity about the shelf's.
const EMISSIVITY: (f64, f64) = (-0.1, 0.05);
/// A draught where none is stated; and how far off a stated air speed may be.
const DRAUGHT_M_S: f64 = 0.3;
const AIR_SPEED: (f64, f64) = (0.7, 1.3);
/// IEC 60287-1-1 gives kp 0.8 to 1 for round stranded conductors (memory).
const LAY: f64 = 0.8;

/// Everything as cool as it may be.
fn cool(asked: &Asked<'_>) -> Guess {
    Guess {
        emissivity: EMISSIVITY.1,
        correlation: Correlation::Morgan,
        draught_m_s: DRAUGHT_M_S,
        air_speed: AIR_SPEED.1,
        lay: if asked.lying.frequency_hz > 0.0 { LAY } else { 1.0 },
        diameter: 1.0,
    }
}

/// Everything as hot as it may be.
const HOT: Guess =
    Guess { emissivity: EMISSIVITY.0, air_speed: AIR_SPEED.0, diameter: -1.0, ..Guess::USED };

/// Each assumption by itself.
fn bounds(asked: &Asked<'_>) -> Vec<Bound> {
    let at = |guess: Guess| {
        let other = asked.along(&guess)?;
        let state = other.settled(asked.current_a)?;
        Some(other.network().hottest(&state).0)
    };
    let insulation =
        asked.parts.shelf.insulations.iter().find(|i| i.row.id == asked.cable.insulation);
    let emissivity = insulation.map_or(0.9, |i| i.emissivity);
    let used = Guess::USED;
    let mut all = vec![
        Bound {
            what: "emissivity of the surface",
            between: [EMISSIVITY.1, EMISSIVITY.0]
                .map(|by| format!("{:.2}", (emissivity + by).clamp(0.0, 0.98))),
            low_c: at(Guess { emissivity: EMISSIVITY.1, ..used }),
            high_c: at(Guess { emissivity: EMISSIVITY.0, ..used }),
        },
        Bound {
            what: "law of rising air",
            between: ["Morgan".to_owned(), "Churchill and Chu".to_owned()],
            low_c: at(Guess { correlation: Correlation::Morgan, ..used }),
            high_c: at(used),
        },
    ];
    let speed = |m_s: f64| show(m_s, Dimension::Speed, System::Metric);
    let stated = asked.lying.air_speed_m_s;
    all.push(if stated > 0.0 {
        Bound {
            what: "air speed",
            between: [speed(stated * AIR_SPEED.1), speed(stated * AIR_SPEED.0)],
            low_c: at(Guess { air_speed: AIR_SPEED.1, ..used }),
            high_c: at(Guess { air_speed: AIR_SPEED.0, ..used }),
        }
    } else {
        Bound {
            what: "air speed",
            between: [speed(DRAUGHT_M_S), "still".to_owned()],
            low_c: at(Guess { draught_m_s: DRAUGHT_M_S, ..used }),
            high_c: at(used),
        }
    });
    if asked.cable.diameter_mm_min < asked.cable.diameter_mm_max {
        let length = |mm: f64| show(mm, Dimension::Length, System::Metric);
        all.push(Bound {
            what: "outer diameter of the cable",
            between: [length(asked.cable.diameter_mm_max), length(asked.cable.diameter_mm_min)],
            low_c: at(Guess { diameter: 1.0, ..used }),
            high_c: at(Guess { diameter: -1.0, ..used }),
        });
    }
    if asked.lying.frequency_hz > 0.0 {
        all.push(Bound {
            what: "lay of the strands, kp",
            between: [format!("{LAY}"), "1".to_owned()],
            low_c: at(Guess { lay: LAY, ..used }),
            high_c: at(used),
        });
    }
    all
}

fn ratings(asked: &Asked<'_>, along: &Along, warm: &State) -> Vec<RatingFor> {
    let net = along.network();
    let load = along.load(asked.current_a.max(1.0));
    let cold = net.cold();
    let short = |start: &State, seconds: f64| {
        net.rating_for(start, &load, seconds, asked.limit_c, &ROUGH).map(|r| r.current_a)
    };
    let for_ever = net.rating(&load, asked.limit_c).map(|r| r.current_a);
    let mut all: Vec<RatingFor> = RATED_S
        .iter()
        .map(|seconds| RatingFor {
            seconds: Some(*seconds),
            cold_a: short(&cold, *seconds),
            warm_a: short(warm, *seconds),
        })
        .collect();
    all.push(RatingFor { seconds: None, cold_a: for_ever, warm_a: for_ever });
    all
}

fn to_limit(asked: &Asked<'_>, along: &Along, warm: &State) -> ToLimit {
    let current_a = asked.peak.map_or(asked.current_a, |(peak_a, _)| peak_a);
    let net = along.network();
    let time = |start: &State| {
        net.time_to_limit_s(start, &along.load(current_a), asked.limit_c, &Precision::USUAL)
    };
    ToLimit { current_a, cold_s: time(&net.cold()), warm_s: time(warm) }
}

/// The insulation at the hottest place: over the repeated duty, or at the continuous current all the time.
fn aged(asked: &Asked<'_>, net: &Network, steady: &State) -> Ageing {
    let number = |given: &Option<crate::given::build::At<f64>>, usual: f64| {
        given.as_ref().map_or(usual, |v| v.value)
    };
    let run = asked.run.run;
    let at_limit_hours = number(&run.ageing_hours, AT_LIMIT_HOURS);
    let halves_k = number(&run.ageing_kelvin, HALVES_K);
    let rate = |t: f64| ageing::rate(t, asked.limit_c, halves_k);
    let repeated = asked.series.iter().zip(asked.courses).find(|(one, _)| one.repeats);
    let driven = repeated.map(|(_, course)| {
        let (mut paid, mut seconds) = (0.0, 0.0);
        for pair in course.curve.windows(2) {
            let dt = pair[1].time_s - pair[0].time_s;
            paid += dt * 0.5 * (rate(pair[0].hottest_c) + rate(pair[1].hottest_c));
            seconds += dt;
        }
        paid / seconds
    });
    let is_driven = driven.is_some();
    let mean = driven.unwrap_or_else(|| rate(net.hottest(steady).0));
    Ageing {
        hours: at_limit_hours / mean.max(1e-12),
        service_hours: number(&run.service_hours, SERVICE_HOURS),
        at_limit_hours,
        halves_k,
        is_driven,
    }
}
