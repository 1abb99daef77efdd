//! The heat of a group of cables in air: steady, at its rating, and over time.
//!
//! Every cable is a conductor of one temperature inside a round insulation; its loss follows the
//! temperature (R(T), skin and proximity effect), and its surface gives heat to the air and to what lies
//! around. What neighbours change is argued from geometry, not fitted:
//!
//! - **Radiation.** View factors between parallel cylinders are exact (crossed strings); the exchange of grey
//!   surfaces is solved once for the group, reflections included.
//! - **Convection of touching cables.** Air does not reach the cusps, so a cable convects with the share of
//!   its girth that a string around the group would leave it (the share it radiates with), and the layer
//!   of rising air is that of a body of the group's girth, not of one cable.
//! - **Plume.** A cable above others meets air they have warmed. The rise is that of the laminar plume of a
//!   line of heat (similarity solution, Pr 0.7), averaged over the upper cable's width. The plume's speed would
//!   help a little; that is not counted.
//! - **Side by side with room between.** The row draws air between the cables, which gains about what the
//!   neighbours take from radiation: IEC 60287-2-2 (memory) makes no reduction from a gap of 0.75 diameters
//!   on, and neither do we.
//!
//! # How far that holds
//!
//! Rating over that of spaced cables, 70 mm2 XLPE, 90/30 degC, against IEC 60364-5-52 methods F and G (tables
//! from measurement, read); the test `val_ratios_of_touching_to_spaced` bounds them by 4 %:
//!
//! | group                            | here  | table |
//! |----------------------------------|-------|-------|
//! | two touching                     | 0.898 | 0.878 |
//! | three touching, side by side     | 0.813 | 0.790 |
//! | trefoil                          | 0.775 | 0.759 |
//! | three spaced, one above the other| 0.909 | 0.901 |
//!
//! Every ratio is 1 to 3 % high (three side by side of 25 mm2: 4.0 % XLPE, 4.4 % PVC, of which rounding to whole
//! amperes may be 0.6 and 0.8 %; `validation/ampacity.toml` has all sizes), and the single cable they start from is 1 to 5 % low (Churchill-Chu), so the
//! currents themselves come out on the cautious side. Independently, a numerical study of three attached
//! cylinders in air finds 39 to 59 % less convection than from three alone (Thermal Science 26, 2022,
//! 4797, abstract only); the trefoil here has about 50 %.
//!
//! Tried and left: reduced girth but the layer of a single cable (two touching 0.922, 5 % high); a plume at
//! its centre temperature all across the upper cable (trefoil 0.713, 6 % low); no plume in the trefoil
//! (0.809, 7 % high); radiation blocking in the spaced row without the gain in convection (all ratios
//! 3 % higher still).
//!
//! Range    Still or blown air, -60 degC to [`CEILING_C`]; touching cables of about the same diameter. Where
//!          the laws have no steady state below the ceiling the answer is [`Runaway`], not a number.
//! Caveat   Sun, a closed box, and heat along the cable are not in it; see [`crate::laws::axial`].

pub(crate) mod group;
mod course;

use self::group::{Surround, exchange, losses, places, plume_rise_k, surround, views};
use crate::laws::air::{self, Air};
use crate::laws::conductor::{Material, resistance_factor};
use crate::laws::convection::{Correlation, Cylinder, convection};
use crate::laws::radial;
use crate::laws::radiation;

/// No insulation in question lives above this, and the laws are not meant for it.
pub const CEILING_C: f64 = 400.0;

/// Between these a temperature may be tried on the way to a solution; with any air the film between then stays
/// within the air law.
const TRIAL_C: (f64, f64) = (-200.0, 3000.0);

/// One cable of a group.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cable {
    /// Direct-current resistance at 20 degC.
    pub resistance_20_ohm_per_m: f64,
    /// Metal, for R(T) and heat capacity.
    pub material: Material,
    /// Metal that stores heat (see `conductor::effective_area_mm2`).
    pub conductor_area_mm2_effective: f64,
    /// Diameter over the conductor.
    pub conductor_diameter_mm: f64,
    /// Diameter over everything.
    pub outer_diameter_mm: f64,
    /// Thermal resistivity of what is between the two diameters, K m/W.
    pub insulation_resistivity_k_m_per_w: f64,
    /// Heat capacity of the same, J/(m3 K).
    pub insulation_heat_j_m3k: f64,
    /// Emissivity of the surface.
    pub emissivity: f64,
    /// Current, rms.
    pub current_a_rms: f64,
}

/// Usual heat capacity of cable insulation, J/(m3 K): IEC 60853-2 for polyethylene and EPR (memory).
pub const INSULATION_HEAT_J_M3K: f64 = 2.4e6;
/// Usual emissivity of a dull plastic or rubber surface (common practice).
pub const EMISSIVITY: f64 = 0.9;

/// How the cables of a group lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Arrangement {
    /// Each alone, far from the others.
    Single,
    /// Two side by side, touching.
    PairTouching,
    /// Side by side, touching.
    FlatTouching,
    /// Side by side, one diameter between.
    FlatSpaced,
    /// One above the other, one diameter between; the first is the lowest.
    VerticalSpaced,
    /// Threes in a triangle, touching, the third on top of the first two.
    Trefoil,
}

impl Arrangement {
    /// Every arrangement with its name.
    pub const ALL: [(Arrangement, &'static str); 6] = [
        (Arrangement::Single, "single"),
        (Arrangement::PairTouching, "pair-touching"),
        (Arrangement::FlatTouching, "flat-touching"),
        (Arrangement::FlatSpaced, "flat-spaced"),
        (Arrangement::VerticalSpaced, "vertical-spaced"),
        (Arrangement::Trefoil, "trefoil"),
    ];

    /// The arrangement of that name.
    pub fn parse(name: &str) -> Option<Arrangement> {
        Arrangement::ALL.iter().find(|(_, n)| *n == name).map(|(a, _)| *a)
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        Arrangement::ALL[self as usize].1
    }
}

/// What surrounds the group.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surroundings {
    /// Air, and what the cables radiate to.
    pub air_c: f64,
    /// Height above the sea.
    pub altitude_m: f64,
    /// Speed of the air across the cables; zero if nothing keeps it moving.
    pub air_speed_m_s: f64,
    /// Relation for natural convection.
    pub correlation: Correlation,
    /// A known thermal resistance per cable from surface to air in K m/W, in place of the laws.
    pub fixed_k_m_per_w: Option<f64>,
}

impl Surroundings {
    /// Still air at sea level.
    pub fn still_air(air_c: f64) -> Surroundings {
        Surroundings {
            air_c,
            altitude_m: 0.0,
            air_speed_m_s: 0.0,
            correlation: Correlation::ChurchillChu,
            fixed_k_m_per_w: None,
        }
    }
}

/// Current of another frequency that flows besides, as a share of the main one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Harmonic {
    /// Frequency.
    pub frequency_hz: f64,
    /// Its rms over that of the main current.
    pub share: f64,
}

/// Cables that lie together.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// The cables in the order of the arrangement.
    pub cables: Vec<Cable>,
    /// How they lie.
    pub arrangement: Arrangement,
    /// Frequency of the current; zero for direct current. Two cables are go and return, three and more the
    /// phases in order.
    pub frequency_hz: f64,
    /// Carrier ripple and the like.
    pub harmonics: Vec<Harmonic>,
    /// What surrounds them.
    pub surroundings: Surroundings,
}

/// State of one cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CableHeat {
    /// Conductor.
    pub conductor_c: f64,
    /// Surface.
    pub surface_c: f64,
    /// Loss, all frequencies.
    pub loss_w_per_m: f64,
    /// Of it, what leaves to the air.
    pub convected_w_per_m: f64,
    /// Of it, what leaves by radiation.
    pub radiated_w_per_m: f64,
    /// Air that reaches it, warmed by the cables below.
    pub air_c: f64,
    /// Loss over that of direct current of the same rms value; 1 if it carries none.
    pub ac_ratio: f64,
}

/// The steady state of a group.
#[derive(Clone, Debug, PartialEq)]
pub struct Steady {
    /// One for each cable.
    pub cables: Vec<CableHeat>,
}

impl Steady {
    /// The hottest conductor.
    pub fn hottest_c(&self) -> f64 {
        self.cables.iter().map(|c| c.conductor_c).fold(f64::NEG_INFINITY, f64::max)
    }
}

/// There is no steady state below [`CEILING_C`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Runaway {
    /// The first cable to pass the ceiling.
    pub cable: usize,
}

/// What a group carries for ever.
#[derive(Clone, Debug, PartialEq)]
pub struct Rating {
    /// All given currents times this.
    pub factor: f64,
    /// The greatest current of one cable.
    pub current_a: f64,
    /// The state then.
    pub steady: Steady,
}

/// Temperatures across every cable, from the conductor to the surface.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    nodes: Vec<Vec<f64>>,
}

impl State {
    /// Everything at one temperature.
    pub fn uniform(group: &Group, temperature_c: f64) -> State {
        State { nodes: vec![vec![temperature_c; NODES]; group.cables.len()] }
    }

    /// As in a steady state.
    pub fn settled(group: &Group, steady: &Steady) -> State {
        let nodes = group
            .cables
            .iter()
            .zip(&steady.cables)
            .map(|(cable, heat)| {
                let (from, to) = (cable.conductor_diameter_mm, cable.outer_diameter_mm);
                let drop = heat.conductor_c - heat.surface_c;
                let whole = libm::log(to / from).max(1e-12);
                (0..NODES)
                    .map(|k| {
                        let d = from + (to - from) * k as f64 / (NODES - 1) as f64;
                        heat.conductor_c - drop * libm::log(d / from) / whole
                    })
                    .collect()
            })
            .collect();
        State { nodes }
    }

    /// Conductor temperatures in degC.
    pub fn conductors_c(&self) -> impl Iterator<Item = f64> {
        self.nodes.iter().map(|n| n[0])
    }

    /// Surface temperatures in degC.
    pub fn surfaces_c(&self) -> impl Iterator<Item = f64> {
        self.nodes.iter().map(|n| n[NODES - 1])
    }

    /// Whether a temperature was held back on the way to a solution, which this then is not.
    fn at_the_end_of_trial(&self) -> bool {
        self.nodes.iter().flatten().any(|t| *t <= TRIAL_C.0 || TRIAL_C.1 <= *t)
    }

    /// The hottest conductor.
    pub fn hottest_c(&self) -> f64 {
        self.conductors_c().fold(f64::NEG_INFINITY, f64::max)
    }
}

/// One point of a heating curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Time from the start.
    pub time_s: f64,
    /// Hottest conductor.
    pub hottest_c: f64,
}

/// A stretch of time.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// State at the end.
    pub end: State,
    /// The way there, start and end included.
    pub curve: Vec<Point>,
    /// When the ceiling was passed and the course stopped, if it was.
    pub stopped_s: Option<f64>,
}

/// Steady state of a group.
pub fn steady(group: &Group) -> Result<Steady, Runaway> {
    Network::new(group).steady(1.0)
}

/// The currents, in the proportion given (all equal if none is given), at which the hottest conductor is at
/// the limit; nothing if the limit is not above the air.
pub fn rating(group: &Group, limit_c: f64) -> Option<Rating> {
    Network::new(&with_some_current(group)).rating(limit_c)
}

/// Course of the temperatures for a constant current.
pub fn step(group: &Group, start: &State, duration_s: f64) -> Course {
    Network::new(group).course(start, &[(duration_s, 1.0)])
}

/// Course of the temperatures for a current that changes: each piece is a duration in s and a factor on
/// the currents given.
pub fn course(group: &Group, start: &State, pieces: &[(f64, f64)]) -> Course {
    Network::new(group).course(start, pieces)
}

/// Time after which the hottest conductor reaches a limit, or nothing if it never does.
pub fn time_to_limit_s(group: &Group, start: &State, limit_c: f64) -> Option<f64> {
    Network::new(group).time_to_limit(start, limit_c)
}

fn with_some_current(group: &Group) -> Group {
    let mut group = group.clone();
    if group.cables.iter().all(|c| c.current_a_rms == 0.0) {
        for cable in &mut group.cables {
            cable.current_a_rms = 1.0;
        }
    }
    group
}

/// Nodes across a cable: the conductor, shells of the insulation, the surface.
const NODES: usize = 9;

/// Local error of a time step in K.
const STEP_ERROR_K: f64 = 0.01;

/// A group made ready: geometry, exchange of radiation and alternating-current loss are worked out once.
struct Network<'a> {
    group: &'a Group,
    /// Loss over resistance, A2, at the sample temperatures.
    loss: Vec<[f64; SAMPLES]>,
    /// Thermal resistance of the insulation.
    inside: Vec<f64>,
    surround: Vec<Surround>,
    /// Row i: what of the emission of j reaches i, reflections included; times emissivity and girth.
    exchange: Vec<f64>,
    pressure_pa: f64,
    /// Air of the surroundings, for the plume.
    air: Air,
}

/// What is held while one surface is found.
struct Held<'a> {
    cable: usize,
    scale: f64,
    air_c: f64,
    emitted: &'a [f64],
}

/// Temperatures at which the alternating-current loss is worked out; between them it is interpolated (cubic,
/// error below 6e-4 of the loss).
const SAMPLES: usize = 4;
const SAMPLES_C: [f64; SAMPLES] = [-30.0, 60.0, 150.0, 240.0];

impl<'a> Network<'a> {
    fn new(group: &'a Group) -> Network<'a> {
        group::check(group);
        let places = places(group);
        let views = views(group, &places);
        Network {
            loss: losses(group, &places),
            inside: group
                .cables
                .iter()
                .map(|c| {
                    radial::layer_k_m_per_w(
                        c.insulation_resistivity_k_m_per_w,
                        c.conductor_diameter_mm,
                        c.outer_diameter_mm,
                    )
                })
                .collect(),
            surround: surround(group, &places, &views),
            exchange: exchange(group, &views),
            pressure_pa: air::pressure_pa(group.surroundings.altitude_m),
            air: air::air(
                group.surroundings.air_c,
                air::pressure_pa(group.surroundings.altitude_m),
            ),
            group,
        }
    }

    fn count(&self) -> usize {
        self.group.cables.len()
    }

    /// Loss over resistance, A2, and its slope.
    fn loss_a2(&self, cable: usize, conductor_c: f64) -> f64 {
        let samples = &self.loss[cable];
        if self.group.frequency_hz == 0.0 && self.group.harmonics.is_empty() {
            return samples[0];
        }
        let t = conductor_c.clamp(SAMPLES_C[0], SAMPLES_C[SAMPLES - 1]);
        let mut sum = 0.0;
        for (i, sample) in samples.iter().enumerate() {
            let mut weight = 1.0;
            for (j, at) in SAMPLES_C.iter().enumerate() {
                if i != j {
                    weight *= (t - at) / (SAMPLES_C[i] - at);
                }
            }
            sum += weight * sample;
        }
        sum
    }

    /// Loss in W/m at a conductor temperature.
    fn loss_w(&self, cable: usize, conductor_c: f64, scale: f64) -> f64 {
        let c = &self.group.cables[cable];
        c.resistance_20_ohm_per_m
            * resistance_factor(conductor_c, c.material)
            * self.loss_a2(cable, conductor_c)
            * scale
            * scale
    }

    /// Conductor above a surface, or nothing if the insulation alone lets it run away.
    fn conductor_c(&self, cable: usize, surface_c: f64, scale: f64) -> Option<f64> {
        let mut t = surface_c;
        for _ in 0..60 {
            let loss = self.loss_w(cable, t, scale);
            // The slope by R(T) alone is enough for Newton's method: the rest is small.
            let k = self.group.cables[cable].material.zero_resistance_c();
            let slope = 1.0 - self.inside[cable] * loss / (k + t);
            if slope <= 1e-3 {
                return None;
            }
            let step = (surface_c + self.inside[cable] * loss - t) / slope;
            t += step;
            if t > 4.0 * CEILING_C {
                return None;
            }
            if step.abs() < 1e-9 {
                break;
            }
        }
        Some(t)
    }

    /// Air that reaches a cable.
    fn air_c(&self, cable: usize, convected: &[f64]) -> f64 {
        let mut air_c = self.group.surroundings.air_c;
        for below in &self.surround[cable].below {
            let heat: f64 = below.cables.iter().map(|j| convected[*j].max(0.0)).sum();
            air_c += plume_rise_k(
                &self.air,
                self.group.surroundings.air_c,
                heat,
                below.height_mm,
                self.group.cables[cable].outer_diameter_mm,
            );
        }
        air_c
    }

    /// Heat to the air and by radiation from a surface, the others as they are.
    fn outward(&self, cable: usize, surface_c: f64, air_c: f64, emitted: &[f64]) -> (f64, f64) {
        let s = &self.group.surroundings;
        if let Some(fixed) = s.fixed_k_m_per_w {
            return ((surface_c - s.air_c) / fixed, 0.0);
        }
        let c = &self.group.cables[cable];
        let place = &self.surround[cable];
        let whole = convection(&Cylinder {
            diameter_mm: place.body_mm,
            surface_c,
            air_c,
            pressure_pa: self.pressure_pa,
            air_speed_m_s: s.air_speed_m_s,
            correlation: s.correlation,
        });
        let girth_m = std::f64::consts::PI * c.outer_diameter_mm * 1e-3;
        let convected = whole.coefficient_w_m2k * place.open * girth_m * (surface_c - air_c);
        let n = self.count();
        let row = &self.exchange[cable * (n + 1)..(cable + 1) * (n + 1)];
        let own = radiation::black_body_w_m2(surface_c);
        let mut received = row[n] * radiation::black_body_w_m2(s.air_c);
        for (j, other) in emitted.iter().enumerate() {
            received += row[j] * if j == cable { own } else { *other };
        }
        (convected, c.emissivity * girth_m * (own - received))
    }

    fn steady(&self, scale: f64) -> Result<Steady, Runaway> {
        let air_c = self.group.surroundings.air_c;
        // A surface that sheds 12 W/m2K is a fair start.
        let start = (0..self.count())
            .map(|i| {
                let girth_m =
                    std::f64::consts::PI * self.group.cables[i].outer_diameter_mm * 1e-3;
                air_c + (self.loss_w(i, air_c, scale) / (12.0 * girth_m)).min(100.0)
            })
            .collect();
        self.steady_from(scale, start)
    }

    /// Gauss-Seidel over the cables: each surface is found with the others held. If a cable seems to run
    /// away, it may be for a guess of its neighbours that was too high: started at the air, surfaces only
    /// rise, and what passes the ceiling then does so in truth.
    fn steady_from(&self, scale: f64, start: Vec<f64>) -> Result<Steady, Runaway> {
        self.relax(scale, start)
            .or_else(|_| self.relax(scale, vec![self.group.surroundings.air_c; self.count()]))
    }

    fn relax(&self, scale: f64, mut surfaces: Vec<f64>) -> Result<Steady, Runaway> {
        let n = self.count();
        let mut convected = vec![0.0; n];
        let mut slopes = vec![0.0; n];
        let mut emitted: Vec<f64> =
            surfaces.iter().map(|t| radiation::black_body_w_m2(*t)).collect();
        for i in 0..n {
            let air_c = self.air_c(i, &convected);
            convected[i] = self.outward(i, surfaces[i], air_c, &emitted).0;
        }
        for _ in 0..300 {
            let mut change = 0.0f64;
            for i in 0..n {
                let air_c = self.air_c(i, &convected);
                let held = Held { cable: i, scale, air_c, emitted: &emitted };
                let surface = self
                    .surface(&held, surfaces[i], &mut slopes[i])
                    .ok_or(Runaway { cable: i })?;
                change = change.max((surface - surfaces[i]).abs());
                surfaces[i] = surface;
                emitted[i] = radiation::black_body_w_m2(surface);
                convected[i] = self.outward(i, surface, air_c, &emitted).0;
            }
            if change < 1e-7 {
                break;
            }
        }
        Ok(self.report(scale, &surfaces, &convected, &emitted))
    }

    /// What a cable makes more than it sheds at a surface temperature, the others held.
    fn surplus(&self, held: &Held, surface_c: f64) -> Option<f64> {
        let conductor = self.conductor_c(held.cable, surface_c, held.scale)?;
        let (convected, radiated) =
            self.outward(held.cable, surface_c, held.air_c, held.emitted);
        Some(self.loss_w(held.cable, conductor, held.scale) - convected - radiated)
    }

    /// The surface temperature without surplus: by the secant, whose slope is kept from sweep to sweep, or
    /// between brackets where that does not settle.
    fn surface(&self, held: &Held, guess: f64, slope: &mut f64) -> Option<f64> {
        let (mut t, mut f) = (guess, self.surplus(held, guess)?);
        for _ in 0..12 {
            if *slope == 0.0 {
                *slope = (self.surplus(held, t + 0.01)? - f) / 0.01;
            }
            let step = -f / *slope;
            if *slope >= 0.0 || 60.0 < step.abs() || CEILING_C < t + step {
                break;
            }
            if step.abs() < 1e-8 {
                return Some(t + step);
            }
            let value = self.surplus(held, t + step)?;
            // Below a thousandth of a kelvin the difference is mostly rounding.
            if 1e-3 < step.abs() {
                *slope = (value - f) / step;
            }
            (t, f) = (t + step, value);
        }
        *slope = 0.0;
        self.surface_between(held, guess)
    }

    fn surface_between(&self, held: &Held, guess: f64) -> Option<f64> {
        let (mut low, mut f_low) = (guess, self.surplus(held, guess)?);
        if f_low == 0.0 {
            return Some(guess);
        }
        let stride = if f_low < 0.0 { -8.0 } else { 8.0 };
        loop {
            let high = low + stride;
            if !(-270.0..=CEILING_C).contains(&high) {
                return None;
            }
            let f_high = self.surplus(held, high)?;
            if (f_high < 0.0) != (f_low < 0.0) {
                let f = |t: f64| self.surplus(held, t).unwrap_or(f64::MAX);
                return Some(illinois(low, f_low, high, f_high, f));
            }
            (low, f_low) = (high, f_high);
        }
    }

    fn report(
        &self,
        scale: f64,
        surfaces: &[f64],
        convected: &[f64],
        emitted: &[f64],
    ) -> Steady {
        let cables = (0..self.count())
            .map(|i| {
                let conductor_c = self
                    .conductor_c(i, surfaces[i], scale)
                    .expect("a settled surface has a settled conductor");
                let air_c = self.air_c(i, convected);
                let (convected, radiated) = self.outward(i, surfaces[i], air_c, emitted);
                let loss = self.loss_w(i, conductor_c, scale);
                let balance = (loss - convected - radiated).abs();
                assert!(
                    balance <= 1e-5 * loss.max(1.0),
                    "heat is lost: {balance} of {loss} W/m"
                );
                let current = self.group.cables[i].current_a_rms;
                CableHeat {
                    conductor_c,
                    surface_c: surfaces[i],
                    loss_w_per_m: loss,
                    convected_w_per_m: convected,
                    radiated_w_per_m: radiated,
                    air_c,
                    ac_ratio: if current == 0.0 {
                        1.0
                    } else {
                        self.loss_a2(i, conductor_c) / (current * current)
                    },
                }
            })
            .collect();
        Steady { cables }
    }

    /// The factor on the currents at which the hottest conductor is at the limit.
    fn rating(&self, limit_c: f64) -> Option<Rating> {
        let air_c = self.group.surroundings.air_c;
        assert!(limit_c <= CEILING_C, "a limit above the ceiling has no meaning here");
        if limit_c <= air_c {
            return None;
        }
        let mut last: Option<Steady> = None;
        let mut over = |square: f64| -> f64 {
            let found = match &last {
                Some(s) => {
                    let surfaces = s.cables.iter().map(|c| c.surface_c).collect();
                    self.steady_from(square.sqrt(), surfaces)
                }
                None => self.steady(square.sqrt()),
            };
            match found {
                Ok(steady) => {
                    let over = steady.hottest_c() - limit_c;
                    last = Some(steady);
                    over
                }
                // Beyond the ceiling: as far over as can be told.
                Err(_) => CEILING_C,
            }
        };
        let greatest = self.group.cables.iter().map(|c| c.current_a_rms).fold(0.0f64, f64::max);
        // The rise goes about with the square of the current, so the search is in squares.
        let (mut low, mut f_low) = (0.0, air_c - limit_c);
        let mut high = self.first_guess(limit_c, greatest);
        let mut f_high = over(high);
        while f_high < 0.0 {
            (low, f_low) = (high, f_high);
            high *= 2.0;
            f_high = over(high);
        }
        let square = illinois(low, f_low, high, f_high, over);
        let steady = self.steady(square.sqrt()).ok()?;
        let factor = square.sqrt();
        Some(Rating { factor, current_a: factor * greatest, steady })
    }

    /// The square of the factor for a surface that sheds 12 W/m2K.
    fn first_guess(&self, limit_c: f64, greatest: f64) -> f64 {
        let i = self
            .group
            .cables
            .iter()
            .position(|c| c.current_a_rms == greatest)
            .expect("the greatest current belongs to a cable");
        let c = &self.group.cables[i];
        let outside = 1.0 / (12.0 * std::f64::consts::PI * c.outer_diameter_mm * 1e-3);
        let loss = (limit_c - self.group.surroundings.air_c) / (self.inside[i] + outside);
        (loss / self.loss_w(i, limit_c, 1.0)).max(1e-12)
    }
}

/// The root between two ends of different sign, by the Illinois form of the false position.
pub(crate) fn illinois(
    mut low: f64,
    mut f_low: f64,
    mut high: f64,
    mut f_high: f64,
    mut f: impl FnMut(f64) -> f64,
) -> f64 {
    if f_high == 0.0 {
        return high;
    }
    for _ in 0..200 {
        let at = (low * f_high - high * f_low) / (f_high - f_low);
        let value = f(at);
        if value == 0.0 || (high - low).abs() <= 1e-12 * low.abs().max(high.abs()) {
            return at;
        }
        if (value < 0.0) == (f_high < 0.0) {
            // The other end stays: halve its weight so that it must move next.
            f_low *= 0.5;
        } else {
            (low, f_low) = (high, f_high);
        }
        let moved = (at - high).abs();
        (high, f_high) = (at, value);
        if moved <= 1e-10 * at.abs() {
            return at;
        }
    }
    high
}

#[cfg(test)]
pub(crate) mod tests;
