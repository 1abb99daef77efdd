//! A run as the heat network sees it: its sections, terminals, joints and screens.
//!
//! The laws know cells and bodies, not runs; here the one becomes the other, and what they find becomes places
//! and words again.

use physics::heat::{self, Arrangement, Surroundings};
use physics::laws::axial;
use physics::laws::conductor::{self, Material};
use physics::laws::convection::Correlation;
use physics::laws::multipole::{self, Core, Jacket, Rim};
use physics::network::{
    Bonding, Course, Cut, Gap, Load, Network, Panel, Piece, Precision, Run, Screen, Section,
    State, Terminal, Tube, Within,
};

use super::duty::{SCREEN_MM, Series};
use crate::given::build::{EndGiven, Inside, Lie, Screen as ScreenEnd, SectionGiven};
use crate::given::parts::{Parts, RunParts};
use crate::given::shelf::Cable;

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

/// A wind of 50 m/s is a slip; beyond the laws' range nothing is gained.
const AIR_SPEED_M_S_MAX: f64 = 50.0;

impl Lying {
    /// As the run says.
    pub fn of(parts: &Parts<'_>, run: &RunParts<'_>, air_c: f64, frequency_hz: f64) -> Lying {
        let air_speed = run.run.air_speed_m_per_s.as_ref().map_or(0.0, |v| v.value);
        Lying {
            lie: run.lie,
            count: run.cables.len(),
            air_c,
            air_speed_m_s: air_speed.clamp(0.0, AIR_SPEED_M_S_MAX),
            altitude_m: parts.around.altitude_m.clamp(-1000.0, 9000.0),
            frequency_hz,
        }
    }

    /// The arrangement of that many cables lying so.
    pub fn arrangement(&self, lie: Lie) -> Arrangement {
        match (lie, self.count) {
            (_, 0 | 1) => Arrangement::Single,
            (Lie::Spaced, _) => Arrangement::FlatSpaced,
            (Lie::Vertical, _) => Arrangement::VerticalSpaced,
            (Lie::Flat | Lie::Trefoil, 2) => Arrangement::PairTouching,
            (Lie::Flat, _) => Arrangement::FlatTouching,
            (Lie::Trefoil, _) => Arrangement::Trefoil,
        }
    }
}

/// What is taken for granted, as far as the answer moves with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess {
    /// Added to the shelf's emissivity.
    pub emissivity: f64,
    /// Relation for still air.
    pub correlation: Correlation,
    /// A draught where no air speed is stated; times the stated speed, if one is.
    pub draught_m_s: f64,
    /// Share of a stated air speed.
    pub air_speed: f64,
    /// Strands from insulated (0) to one piece (1).
    pub lay: f64,
    /// Outer diameter within the family's range, least (-1) to most (1).
    pub diameter: f64,
}

impl Guess {
    /// What the plan is made with.
    pub const USED: Guess = Guess {
        emissivity: 0.0,
        correlation: Correlation::ChurchillChu,
        draught_m_s: 0.0,
        air_speed: 1.0,
        lay: 1.0,
        diameter: 0.0,
    };
}

/// One cable for the laws; none where its insulation is not on the shelf or its dimensions are no cable.
pub fn one(parts: &Parts<'_>, cable: &Cable, guess: &Guess) -> Option<heat::Cable> {
    let insulation = parts.shelf.insulations.iter().find(|i| i.row.id == cable.insulation)?;
    let half = (cable.diameter_mm_max - cable.diameter_mm_min) / 2.0;
    let outer_diameter_mm = cable.diameter_mm() + guess.diameter * half;
    let is_cable = 0.0 < cable.conductor_diameter_mm
        && cable.conductor_diameter_mm <= outer_diameter_mm
        && 0.0 < cable.resistance_ohm_per_km
        && (0.0..=1.0).contains(&insulation.emissivity);
    is_cable.then(|| heat::Cable {
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
        emissivity: (insulation.emissivity + guess.emissivity).clamp(0.0, 0.98),
        current_a_rms: 1.0,
    })
}

/// One stretch of a run with surroundings of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch<'a> {
    /// As written; none for what is left of the run.
    pub given: Option<&'a SectionGiven>,
    /// Which of the document's sections.
    pub index: Option<usize>,
    /// What to call it: "section 2, in conduit", "the rest".
    pub name: String,
    /// From the first terminal.
    pub from_m: f64,
    /// Its length.
    pub length_m: f64,
}

/// Shorter than this is no stretch.
const LEAST_M: f64 = 1e-3;

/// The stretches of a run in order. Sections that are longer than the run are cut off at its end; what they
/// leave is as for the run.
pub fn stretches<'a>(run: &RunParts<'a>, length_m: Option<f64>) -> Vec<Stretch<'a>> {
    let given = &run.run.sections;
    let stated: f64 = given.iter().filter_map(|s| s.length_mm.as_ref()).map(|l| l.value).sum();
    let whole_m = length_m.unwrap_or(if stated > 0.0 { stated / 1000.0 } else { 1.0 });
    let mut all = Vec::new();
    let mut from_m = 0.0;
    for (index, section) in given.iter().enumerate() {
        let Some(length) = &section.length_mm else { continue };
        let length_m = (length.value / 1000.0).min(whole_m - from_m);
        if length_m < LEAST_M {
            continue;
        }
        let within = match section.within.as_ref().map(|w| w.value) {
            None | Some(Inside::Open) => "",
            Some(Inside::Conduit | Inside::MetalConduit) => ", in conduit",
            Some(Inside::OnPanel) => ", on a panel",
            Some(Inside::Jacket) => ", in a jacket",
        };
        let name = format!("section {}{within}", index + 1);
        all.push(Stretch { given: Some(section), index: Some(index), name, from_m, length_m });
        from_m += length_m;
    }
    if LEAST_M <= whole_m - from_m || all.is_empty() {
        let name = if all.is_empty() { "the run" } else { "the rest" }.to_owned();
        let length_m = (whole_m - from_m).max(LEAST_M);
        all.push(Stretch { given: None, index: None, name, from_m, length_m });
    }
    all
}

fn screen(run: &RunParts<'_>, cable: &Cable) -> Option<Screen> {
    let room = cable.conductor_diameter_mm < cable.core_diameter_mm
        && cable.core_diameter_mm + 2.0 * SCREEN_MM < cable.diameter_mm_min;
    if !cable.screened || !room {
        return None;
    }
    let landed = |end: &EndGiven| {
        let how = end.screen.as_ref().map(|s| s.value);
        !matches!(how, Some(ScreenEnd::None))
    };
    let both = landed(&run.run.from_end) && landed(&run.run.to_end);
    let diameter_mm = cable.core_diameter_mm + SCREEN_MM;
    let area_mm2 = std::f64::consts::PI * diameter_mm * SCREEN_MM;
    Some(Screen {
        diameter_mm,
        area_mm2,
        resistance_20_ohm_per_m: Material::Copper.resistivity_20_ohm_m() / (area_mm2 * 1e-6),
        bonding: if both { Bonding::BothEnds } else { Bonding::OneEnd },
    })
}

/// Cables that the network takes.
const CABLES_MAX: usize = 6;
/// Lorenz's number, W ohm/K2: what conducts current in a joint conducts heat (Wiedemann and Franz).
const LORENZ: f64 = 2.44e-8;
/// What a joint is taken to have where none is stated, in lengths of its own cable: the drop rule of boat wiring.
const JOINT_MM: f64 = physics::laws::contact::DROP_RULE_MM;
/// Sunshine across a cable on a clear noon, W/m2, and what a dull surface takes up (common practice).
const SUN_W_M2: f64 = 1000.0 * 0.9;
/// Heat a plastic wall stores, J/(m3 K) (memory: 1.5e6 to 2.4e6).
const WALL_HEAT_J_M3K: f64 = 2.0e6;
/// Conductivity of a jacket's filler, W/mK (memory: 0.2 to 0.3 for PVC and rubber).
const FILLER_W_MK: f64 = 0.2;
/// Air between a panel and a cable in its clips, mm.
const CLIP_GAP_MM: f64 = 1.0;

/// A run ready to be heated along its length.
pub struct Along {
    network: Network,
    frequency_hz: f64,
    stretches: Vec<Span>,
}

/// Where a stretch lies.
#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    /// Its name.
    pub name: String,
    /// Which of the document's sections; none for what they leave of the run.
    pub given: Option<usize>,
    /// From and to, m from the first terminal.
    pub from_m: f64,
    /// The same.
    pub to_m: f64,
}

impl Along {
    /// Makes a run ready, beside one that may be like it; none where its cable is none or there are more cables than the network takes.
    pub fn of(
        parts: &Parts<'_>,
        run: &RunParts<'_>,
        cable: &Cable,
        lying: &Lying,
        length_m: Option<f64>,
        (guess, near): (&Guess, Option<&Along>),
    ) -> Option<Along> {
        let one = one(parts, cable, guess)?;
        if !(1..=CABLES_MAX).contains(&lying.count) {
            return None;
        }
        let stretches = stretches(run, length_m);
        let sections: Vec<Section> =
            stretches.iter().map(|s| section(s, lying, &one, guess)).collect();
        let ends =
            [(run.from, &run.run.from_end), (run.to, &run.run.to_end)].map(|(port, end)| {
                let terminal_c = parts.ports[port].port.terminal_c.as_ref().map(|t| t.value);
                terminal(terminal_c, end, cable)
            });
        let is_even = sections.len() == 1 && ends == [Terminal::FREE; 2];
        let cut = if is_even { Cut { least_mm: 1e9, ..Cut::USUAL } } else { Cut::USUAL };
        let network = Network::near(
            &Run {
                cables: vec![one; lying.count],
                screen: screen(run, cable).filter(|s| {
                    0.0 < lying.frequency_hz && s.diameter_mm < one.outer_diameter_mm
                }),
                conductivity_w_mk: axial::COPPER_W_MK,
                lay: guess.lay,
                frequency_hz: (lying.frequency_hz, lying.frequency_hz),
                sections,
                ends: vec![ends; lying.count],
                harmonics: Vec::new(),
            },
            &cut,
            near.map(Along::network),
        );
        let stretches = stretches
            .into_iter()
            .map(|s| Span {
                given: s.index,
                from_m: s.from_m,
                to_m: s.from_m + s.length_m,
                name: s.name,
            })
            .collect();
        Some(Along { network, frequency_hz: lying.frequency_hz, stretches })
    }

    /// The network.
    pub fn network(&self) -> &Network {
        &self.network
    }

    /// Every stretch in order.
    pub fn stretches(&self) -> &[Span] {
        &self.stretches
    }

    /// A current for ever.
    pub fn load(&self, current_a: f64) -> Load {
        Load::constant(current_a, self.frequency_hz)
    }

    /// Currents over time: seconds and A.
    pub fn pieces(&self, pieces: &[(f64, f64)]) -> Load {
        let pieces = pieces
            .iter()
            .filter(|(seconds, _)| 0.0 < *seconds)
            .map(|(seconds, a)| Piece {
                seconds: *seconds,
                current_a: a.abs(),
                frequency_hz: self.frequency_hz,
            })
            .collect();
        Load { pieces }
    }

    /// State for ever at a current; none where it runs away.
    pub fn settled(&self, current_a: f64) -> Option<State> {
        self.network.steady(&self.load(current_a)).ok().map(|s| s.state)
    }

    /// Course of a constant current.
    pub fn constant(&self, start: &State, current_a: f64, seconds: f64) -> Course {
        self.network.course(start, &self.pieces(&[(seconds, current_a)]), &Precision::USUAL)
    }

    /// AC over DC resistance of a cable where it is in a cell.
    pub fn ac_ratio(&self, state: &State, cell: usize, cable: usize) -> f64 {
        let t = self.network.conductor_c(state, cell, cable);
        self.network.ac_ratio(cell, cable, self.frequency_hz, t)
    }

    /// Resistance of every cable, AC, its mean along the run.
    pub fn ohm_per_m(&self, state: &State) -> Vec<f64> {
        let cells = self.network.cells();
        let whole: f64 = cells.iter().map(|c| c.length_m).sum();
        (0..self.network.cables().len())
            .map(|cable| {
                let made = &self.network.cables()[cable];
                let sum: f64 = cells
                    .iter()
                    .enumerate()
                    .map(|(cell, c)| {
                        let t = self.network.conductor_c(state, cell, cable);
                        c.length_m
                            * made.resistance_20_ohm_per_m
                            * conductor::resistance_factor(t, made.material)
                            * self.ac_ratio(state, cell, cable)
                    })
                    .sum();
                sum / whole
            })
            .collect()
    }
}

/// Start and end of a drive that differ by no more than this times the error of a step are the same.
const PERIODIC: f64 = 3.0;

/// The course of every stretch of a duty: what repeats in its periodic state, then every hard case warm from
/// there, not from the hard case named before it.
pub(super) fn courses(
    along: &Along,
    warm: &State,
    series: &[Series],
    precision: &Precision,
) -> Vec<Course> {
    let mut state = warm.clone();
    let mut courses = Vec::new();
    for one in series {
        let load = along.pieces(&one.pieces);
        let near_k = PERIODIC * precision.step_error_k;
        let periodic = (one.repeats && !load.pieces.is_empty())
            .then(|| along.network().periodic(&load, precision, near_k));
        let course = match periodic {
            Some(Ok(found)) => found.course,
            _ => along.network().course(&state, &load, precision),
        };
        if one.repeats {
            state = course.end.clone();
        }
        courses.push(course);
    }
    courses
}

fn terminal(terminal_c: Option<f64>, end: &EndGiven, cable: &Cable) -> Terminal {
    let stated = end.joint_ohm.as_ref().map(|r| r.value);
    match (terminal_c, stated) {
        (None, None) => Terminal::FREE,
        // All the joint's heat goes into the cable.
        (None, Some(joint_ohm)) => Terminal { body: None, joint_ohm },
        (Some(c), stated) => {
            let joint_ohm = stated.unwrap_or(cable.resistance_ohm_per_km * JOINT_MM / 1e6);
            // R_heat = R / (L T)
            let k_per_w = joint_ohm / (LORENZ * (c + 273.15));
            Terminal { body: Some((c, k_per_w)), joint_ohm }
        }
    }
}

fn section(stretch: &Stretch<'_>, lying: &Lying, one: &heat::Cable, guess: &Guess) -> Section {
    let given = stretch.given;
    let value = |of: fn(&SectionGiven) -> &Option<crate::given::build::At<f64>>| {
        given.and_then(|g| of(g).as_ref()).map(|v| v.value)
    };
    let air_c = value(|g| &g.air_c).unwrap_or(lying.air_c);
    let stated = value(|g| &g.air_speed_m_per_s).unwrap_or(lying.air_speed_m_s);
    let speed = if stated > 0.0 { stated * guess.air_speed } else { guess.draught_m_s };
    let lie = given.and_then(|g| g.lie.as_ref()).map_or(lying.lie, |l| l.value);
    let arrangement = lying.arrangement(lie);
    let widest_mm = one.outer_diameter_mm * (1.0 + lying.count as f64);
    let inner_mm = value(|g| &g.tube_inner_mm).unwrap_or(1.2 * widest_mm);
    let outer_mm = value(|g| &g.tube_outer_mm).unwrap_or(inner_mm + 4.0).max(inner_mm);
    let tube = |gap: Gap| Tube {
        inner_diameter_mm: inner_mm.min(outer_mm),
        outer_diameter_mm: outer_mm,
        heat_j_m3k: WALL_HEAT_J_M3K,
        emissivity: (0.9 + guess.emissivity).clamp(0.0, 0.98),
        gap,
    };
    let inside = given.and_then(|g| g.within.as_ref()).map_or(Inside::Open, |w| w.value);
    let within = match inside {
        Inside::Open => Within::Open,
        Inside::OnPanel => Within::Panel(Panel {
            panel_c: value(|g| &g.panel_c).unwrap_or(air_c),
            gap_mm: CLIP_GAP_MM,
        }),
        Inside::Conduit => Within::Conduit(tube(Gap::PLASTIC)),
        Inside::MetalConduit => Within::Conduit(tube(Gap::METAL)),
        Inside::Jacket => {
            let (rows, least_mm) = in_jacket(lying.count, one.outer_diameter_mm, inner_mm);
            let inner = inner_mm.max(least_mm);
            let outer = outer_mm.max(inner);
            let round = Tube {
                inner_diameter_mm: inner,
                outer_diameter_mm: outer,
                ..tube(Gap::PLASTIC)
            };
            Within::Jacket(round, rows)
        }
    };
    let is_sunny = given.and_then(|g| g.sun.as_ref()).is_some_and(|s| s.value);
    Section {
        length_m: stretch.length_m,
        arrangement,
        surroundings: Surroundings {
            air_c,
            altitude_m: lying.altitude_m,
            air_speed_m_s: speed.clamp(0.0, AIR_SPEED_M_S_MAX),
            correlation: guess.correlation,
            fixed_k_m_per_w: None,
        },
        within,
        sun_w_m2: if is_sunny { SUN_W_M2 } else { 0.0 },
    }
}

/// Conductances from each cable's surface to a filled round jacket, W/mK, row by row, and the least jacket that
/// holds them: cables on a ring, as close as they go.
fn in_jacket(count: usize, cable_mm: f64, inner_mm: f64) -> (Vec<f64>, f64) {
    let ring_mm = match count {
        1 => 0.0,
        n => 1.02 * cable_mm / (2.0 * libm::sin(std::f64::consts::PI / n as f64)),
    };
    let least_mm = 2.04 * (ring_mm + cable_mm / 2.0);
    let cores = (0..count)
        .map(|k| {
            let angle = 2.0 * std::f64::consts::PI * k as f64 / count as f64;
            Core {
                x_mm: ring_mm * libm::cos(angle),
                y_mm: ring_mm * libm::sin(angle),
                radius_mm: cable_mm / 2.0,
                film_k_m_per_w: 0.0,
                loss_w_per_m: 0.0,
            }
        })
        .collect();
    let jacket = Jacket {
        radius_mm: inner_mm.max(least_mm) / 2.0,
        filler_w_mk: FILLER_W_MK,
        rim: Rim::Held(0.0),
        cores,
    };
    (inverted(multipole::resistances(&jacket), count), least_mm)
}

/// The inverse of a symmetric, positive matrix.
fn inverted(mut a: Vec<f64>, n: usize) -> Vec<f64> {
    for k in 0..n {
        let pivot = 1.0 / a[k * n + k];
        a[k * n + k] = 1.0;
        for j in 0..n {
            a[k * n + j] *= pivot;
        }
        for i in (0..n).filter(|i| *i != k) {
            let factor = a[i * n + k];
            a[i * n + k] = 0.0;
            for j in 0..n {
                a[i * n + j] -= factor * a[k * n + j];
            }
        }
    }
    a
}

#[cfg(test)]
mod tests;
