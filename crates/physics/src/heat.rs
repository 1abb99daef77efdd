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
//! Every ratio is 1 to 3 % high, and the single cable they start from is 1 to 5 % low (Churchill-Chu), so the
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

use crate::complex::Complex;
use crate::laws::air::{self, Air};
use crate::laws::conductor::{Material, resistance_factor};
use crate::laws::convection::{Correlation, Cylinder, GRAVITY_M_S2, convection};
use crate::laws::proximity::{self, Wire};
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

/// What a cable's place in the group means for it.
#[derive(Clone, Debug)]
struct Surround {
    /// Share of the girth that meets moving air.
    open: f64,
    /// Diameter of the body of air that rises along it.
    body_mm: f64,
    /// Cables below: which, and how far.
    below: Vec<Below>,
}

/// What is held while one surface is found.
struct Held<'a> {
    cable: usize,
    scale: f64,
    air_c: f64,
    emitted: &'a [f64],
}

/// Cables at one level below.
#[derive(Clone, Debug)]
struct Below {
    cables: Vec<usize>,
    height_mm: f64,
}

/// Temperatures at which the alternating-current loss is worked out; between them it is interpolated (cubic,
/// error below 1e-5 of the loss).
const SAMPLES: usize = 4;
const SAMPLES_C: [f64; SAMPLES] = [-30.0, 60.0, 150.0, 240.0];

impl<'a> Network<'a> {
    fn new(group: &'a Group) -> Network<'a> {
        check(group);
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
fn illinois(
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

fn check(group: &Group) {
    assert!(!group.cables.is_empty(), "a group has cables");
    for c in &group.cables {
        assert!(0.0 < c.resistance_20_ohm_per_m && 0.0 < c.conductor_area_mm2_effective);
        assert!(
            0.0 < c.conductor_diameter_mm && c.conductor_diameter_mm <= c.outer_diameter_mm
        );
        assert!(0.0 <= c.insulation_resistivity_k_m_per_w && 0.0 <= c.insulation_heat_j_m3k);
        assert!((0.0..=1.0).contains(&c.emissivity) && 0.0 <= c.current_a_rms);
    }
    let s = &group.surroundings;
    assert!((-60.0..CEILING_C).contains(&s.air_c) && 0.0 <= s.air_speed_m_s);
    assert!(0.0 <= group.frequency_hz);
    assert!(s.fixed_k_m_per_w.is_none_or(|fixed| 0.0 < fixed));
}

/// Where the axis of each cable is, mm, and in which bunch it lies; bunches are far apart.
#[derive(Clone, Copy, Debug)]
struct Place {
    bunch: usize,
    x_mm: f64,
    y_mm: f64,
}

/// Mean diameter: touching cables of one group are about the same.
fn diameter_mm(group: &Group) -> f64 {
    group.cables.iter().map(|c| c.outer_diameter_mm).sum::<f64>() / group.cables.len() as f64
}

fn places(group: &Group) -> Vec<Place> {
    let d = diameter_mm(group);
    (0..group.cables.len())
        .map(|i| {
            let at = i as f64;
            match group.arrangement {
                Arrangement::Single => Place { bunch: i, x_mm: 0.0, y_mm: 0.0 },
                Arrangement::PairTouching | Arrangement::FlatTouching => {
                    Place { bunch: 0, x_mm: at * d, y_mm: 0.0 }
                }
                Arrangement::FlatSpaced => Place { bunch: 0, x_mm: 2.0 * at * d, y_mm: 0.0 },
                Arrangement::VerticalSpaced => {
                    Place { bunch: 0, x_mm: 0.0, y_mm: 2.0 * at * d }
                }
                Arrangement::Trefoil => {
                    let (x, y) = [(0.0, 0.0), (1.0, 0.0), (0.5, 0.75f64.sqrt())][i % 3];
                    Place { bunch: i / 3, x_mm: x * d, y_mm: y * d }
                }
            }
        })
        .collect()
}

/// View factors, row by row. Cables in a row see only the next ones: those hide the rest.
fn views(group: &Group, places: &[Place]) -> Vec<f64> {
    let n = places.len();
    let d = diameter_mm(group);
    let mut views = vec![0.0; n * n];
    for i in 0..n {
        for j in 0..n {
            if i == j || places[i].bunch != places[j].bunch {
                continue;
            }
            let pitch = (places[i].x_mm - places[j].x_mm).abs() / d;
            let next = i.abs_diff(j) == 1;
            let others = places.iter().filter(|p| p.bunch == places[i].bunch).count();
            views[i * n + j] = match group.arrangement {
                Arrangement::Single | Arrangement::FlatSpaced => 0.0,
                Arrangement::PairTouching | Arrangement::FlatTouching if next => {
                    radiation::view_factor(pitch)
                }
                Arrangement::VerticalSpaced if next => radiation::view_factor(2.0),
                // A full trefoil: half of the view outside the triangle, and a sixth of the girth faces the
                // enclosed cusp, shared between the two others.
                Arrangement::Trefoil if others == 3 => {
                    radiation::view_factor(1.0) / 2.0 + 1.0 / 12.0
                }
                Arrangement::Trefoil => radiation::view_factor(1.0),
                _ => 0.0,
            };
        }
    }
    views
}

fn surround(group: &Group, places: &[Place], views: &[f64]) -> Vec<Surround> {
    let n = places.len();
    let touching = matches!(
        group.arrangement,
        Arrangement::PairTouching | Arrangement::FlatTouching | Arrangement::Trefoil
    );
    (0..n)
        .map(|i| {
            let outer = group.cables[i].outer_diameter_mm;
            let open_of = |i: usize| 1.0 - views[i * n..(i + 1) * n].iter().sum::<f64>();
            let bunch: Vec<usize> =
                (0..n).filter(|j| places[*j].bunch == places[i].bunch).collect();
            let (open, body_mm) = if touching {
                // The string around the bunch has the length of what its members show of their girth.
                (open_of(i), outer * bunch.iter().map(|j| open_of(*j)).sum::<f64>())
            } else {
                (1.0, outer)
            };
            Surround { open, body_mm, below: below(group, places, i, &bunch) }
        })
        .collect()
}

/// The cables whose plume meets cable i, level by level.
fn below(group: &Group, places: &[Place], i: usize, bunch: &[usize]) -> Vec<Below> {
    // Air that is blown across carries the plume away.
    if 0.0 < group.surroundings.air_speed_m_s {
        return Vec::new();
    }
    let mut levels: Vec<Below> = Vec::new();
    for &j in bunch {
        let height_mm = places[i].y_mm - places[j].y_mm;
        let beside = (places[i].x_mm - places[j].x_mm).abs();
        if height_mm <= 0.0 || group.cables[i].outer_diameter_mm < beside {
            continue;
        }
        match levels.iter_mut().find(|l| (l.height_mm - height_mm).abs() < 1e-6) {
            Some(level) => level.cables.push(j),
            None => levels.push(Below { cables: vec![j], height_mm }),
        }
    }
    levels
}

/// Heat content of the laminar plume, integral of f' phi, Pr 0.7 (own solution of the similarity equations;
/// its f'(0) = 0.6618 is the published one).
const PLUME_FLUX: f64 = 1.2117;
/// Integral of phi across the same plume.
const PLUME_WIDTH: f64 = 2.6496;

/// Rise of the air at a height above a line of heat, averaged over a width.
///
/// dT0 = [Q / (2 sqrt2 rho cp nu I)]^(4/5) [nu^2 / (g beta x^3)]^(1/5), eta = (y/x) (Gr/4)^(1/4)
/// (Gebhart, Pera and Schorr 1970, as remembered; constants recomputed).
fn plume_rise_k(
    air: &Air,
    air_c: f64,
    heat_w_per_m: f64,
    height_mm: f64,
    width_mm: f64,
) -> f64 {
    if heat_w_per_m <= 0.0 {
        return 0.0;
    }
    let x = height_mm * 1e-3;
    let nu = air.viscosity_m2_s;
    let g_beta = GRAVITY_M_S2 / (air_c + 273.15);
    let carried = 8f64.sqrt() * air.density_kg_m3 * air.heat_j_kgk * nu * PLUME_FLUX;
    let centre =
        libm::pow(heat_w_per_m / carried, 0.8) * libm::pow(nu * nu / (g_beta * x * x * x), 0.2);
    let grashof = g_beta * x * x * x * centre / (nu * nu);
    let width = PLUME_WIDTH * x / (grashof / 4.0).sqrt().sqrt();
    centre * (width / (width_mm * 1e-3)).min(1.0)
}

/// What reaches each surface of the emission of each other and of the surroundings (last column), per unit
/// of black-body emission.
fn exchange(group: &Group, views: &[f64]) -> Vec<f64> {
    let n = group.cables.len();
    let mut received = vec![0.0; n * (n + 1)];
    for source in 0..=n {
        // Radiosity J_i = e_i E_i + (1 - e_i) G_i, G_i = sum F_ij J_j + F_is E_s, E one for the source only.
        let mut incoming = vec![0.0; n];
        for _ in 0..60 {
            for i in 0..n {
                let row = &views[i * n..(i + 1) * n];
                let open = 1.0 - row.iter().sum::<f64>();
                let mut sum = if source == n { open } else { 0.0 };
                for j in 0..n {
                    let e = group.cables[j].emissivity;
                    let own = if source == j { e } else { 0.0 };
                    sum += row[j] * (own + (1.0 - e) * incoming[j]);
                }
                incoming[i] = sum;
            }
        }
        for i in 0..n {
            received[i * (n + 1) + source] = incoming[i];
        }
    }
    received
}

/// Loss over resistance at the sample temperatures for every cable.
fn losses(group: &Group, places: &[Place]) -> Vec<[f64; SAMPLES]> {
    let n = group.cables.len();
    let mut losses = vec![[0.0; SAMPLES]; n];
    let lines: Vec<(f64, f64)> = std::iter::once((group.frequency_hz, 1.0))
        .chain(group.harmonics.iter().map(|h| (h.frequency_hz, h.share)))
        .collect();
    let magnitudes: Vec<f64> = group.cables.iter().map(|c| c.current_a_rms).collect();
    let currents = proximity::usual_currents(&magnitudes);
    for (s, t) in SAMPLES_C.iter().enumerate() {
        for (frequency_hz, share) in &lines {
            let all = wires(group, places, &currents, *t);
            for bunch in 0..n {
                let members: Vec<usize> =
                    (0..n).filter(|i| places[*i].bunch == bunch).collect();
                let some: Vec<Wire> = members.iter().map(|i| all[*i]).collect();
                if some.is_empty() {
                    continue;
                }
                let found = if *frequency_hz == 0.0 {
                    direct(&some)
                } else {
                    proximity::loss_w_per_m(&some, *frequency_hz)
                };
                for ((i, wire), loss) in members.iter().zip(&some).zip(found) {
                    losses[*i][s] += share * share * loss / wire.resistance_ohm_per_m;
                }
            }
        }
    }
    losses
}

fn direct(wires: &[Wire]) -> Vec<f64> {
    wires.iter().map(|w| w.resistance_ohm_per_m * w.current_a.magnitude_squared()).collect()
}

fn wires(
    group: &Group,
    places: &[Place],
    currents: &[Complex],
    temperature_c: f64,
) -> Vec<Wire> {
    group
        .cables
        .iter()
        .zip(places)
        .zip(currents)
        .map(|((c, place), current_a)| Wire {
            x_mm: place.x_mm,
            y_mm: place.y_mm,
            diameter_mm: c.conductor_diameter_mm,
            resistance_ohm_per_m: c.resistance_20_ohm_per_m
                * resistance_factor(temperature_c, c.material),
            current_a: *current_a,
        })
        .collect()
}

/// Heat capacities of the nodes and conductances between them, per metre.
struct Ladder {
    capacity: [f64; NODES],
    conductance: [f64; NODES - 1],
}

fn ladder(cable: &Cable) -> Ladder {
    let (from, to) = (cable.conductor_diameter_mm, cable.outer_diameter_mm);
    let at = |k: f64| from + (to - from) * k / (NODES - 1) as f64;
    let mut capacity = [0.0; NODES];
    let mut conductance = [0.0; NODES - 1];
    capacity[0] =
        cable.conductor_area_mm2_effective * 1e-6 * cable.material.volumetric_heat_j_m3k();
    for k in 0..NODES - 1 {
        let (inner, middle, outer) = (at(k as f64), at(k as f64 + 0.5), at(k as f64 + 1.0));
        let ring = |a: f64, b: f64| {
            std::f64::consts::FRAC_PI_4 * (b * b - a * a) * 1e-6 * cable.insulation_heat_j_m3k
        };
        capacity[k] += ring(inner, middle);
        capacity[k + 1] += ring(middle, outer);
        let resistance =
            radial::layer_k_m_per_w(cable.insulation_resistivity_k_m_per_w, inner, outer);
        // A bare conductor: the nodes are one, joined as firmly as arithmetic bears.
        conductance[k] = 1.0 / resistance.max(1e-7);
    }
    Ladder { capacity, conductance }
}

impl Network<'_> {
    fn course(&self, start: &State, pieces: &[(f64, f64)]) -> Course {
        let ladders: Vec<Ladder> = self.group.cables.iter().map(ladder).collect();
        let mut state = start.clone();
        let mut curve = vec![Point { time_s: 0.0, hottest_c: state.hottest_c() }];
        let (mut begun, mut dt) = (0.0, 1.0);
        for (duration_s, scale) in pieces {
            assert!(0.0 <= *duration_s && 0.0 <= *scale);
            let mut t = 0.0;
            while t < *duration_s {
                let (next, taken, hint) =
                    self.advance(&ladders, &state, *scale, dt, *duration_s - t);
                t = if taken == *duration_s - t { *duration_s } else { t + taken };
                (state, dt) = (next, hint);
                let time_s = begun + t;
                curve.push(Point { time_s, hottest_c: state.hottest_c() });
                if CEILING_C < state.hottest_c() {
                    return Course { end: state, curve, stopped_s: Some(time_s) };
                }
            }
            begun += duration_s;
        }
        Course { end: state, curve, stopped_s: None }
    }

    /// One step whose error is small enough: the state, the time taken and the next step to try.
    ///
    /// Two half steps of implicit Euler against one whole step; their difference is the error, and
    /// extrapolating by it makes the result of second order.
    fn advance(
        &self,
        ladders: &[Ladder],
        state: &State,
        scale: f64,
        wish: f64,
        left: f64,
    ) -> (State, f64, f64) {
        let mut dt = wish.min(left);
        loop {
            let whole = self.euler(ladders, state, scale, dt);
            let half = self.euler(ladders, state, scale, dt / 2.0);
            let mut two = self.euler(ladders, &half, scale, dt / 2.0);
            let lost = [&whole, &half, &two].iter().any(|s| s.at_the_end_of_trial());
            let mut error = if lost { f64::INFINITY } else { 0.0 };
            for (fine, coarse) in
                two.nodes.iter_mut().flatten().zip(whole.nodes.iter().flatten())
            {
                let off = *fine - coarse;
                error = error.max(off.abs());
                *fine = (*fine + off).clamp(TRIAL_C.0, TRIAL_C.1);
            }
            let factor = (0.9 * (STEP_ERROR_K / error.max(1e-12)).sqrt()).clamp(0.2, 4.0);
            if error <= STEP_ERROR_K || dt < 1e-6 {
                return (two, dt, (if dt < wish { wish } else { dt }) * factor);
            }
            dt *= factor.min(0.5);
        }
    }

    /// One step of implicit Euler, the nonlinear parts by Newton's method, the neighbours by turns.
    fn euler(&self, ladders: &[Ladder], old: &State, scale: f64, dt: f64) -> State {
        let mut new = old.clone();
        let mut convected = vec![0.0; self.count()];
        let mut slopes = vec![None; self.count()];
        for _ in 0..6 {
            let emitted: Vec<f64> = new.surfaces_c().map(radiation::black_body_w_m2).collect();
            let mut change = 0.0f64;
            for i in 0..self.count() {
                let surface_c = new.nodes[i][NODES - 1];
                let air_c = self.air_c(i, &convected);
                let (conv, rad) = self.outward(i, surface_c, air_c, &emitted);
                convected[i] = conv;
                let slope = *slopes[i].get_or_insert_with(|| {
                    let (conv2, rad2) = self.outward(i, surface_c + 0.1, air_c, &emitted);
                    (conv2 + rad2 - conv - rad) / 0.1
                });
                let outward = Line { value: conv + rad, slope };
                let loss = self.loss_w(i, new.nodes[i][0], scale);
                let k = self.group.cables[i].material.zero_resistance_c();
                let inward = Line { value: loss, slope: loss / (k + new.nodes[i][0]) };
                let solved =
                    shells(&ladders[i], &old.nodes[i], &new.nodes[i], inward, outward, dt);
                for (to, from) in new.nodes[i].iter_mut().zip(solved) {
                    // A step too long for the current can throw Newton's method anywhere; it is then
                    // made shorter.
                    let from = from.clamp(TRIAL_C.0, TRIAL_C.1);
                    change = change.max((*to - from).abs());
                    *to = from;
                }
            }
            if change < 1e-4 {
                break;
            }
        }
        new
    }

    fn time_to_limit(&self, start: &State, limit_c: f64) -> Option<f64> {
        if limit_c <= start.hottest_c() {
            return Some(0.0);
        }
        if self.steady(1.0).is_ok_and(|steady| steady.hottest_c() <= limit_c) {
            // A warm start can still pass the limit on its way down only if it was above it.
            return None;
        }
        let ladders: Vec<Ladder> = self.group.cables.iter().map(ladder).collect();
        let (mut state, mut t, mut dt) = (start.clone(), 0.0, 1.0);
        // A cable has settled within hours; a month is more than any asymptote needs.
        while t < 3e6 {
            let (next, taken, hint) = self.advance(&ladders, &state, 1.0, dt, 3e6);
            if limit_c <= next.hottest_c() {
                return Some(t + self.crossing(&ladders, &state, limit_c, taken));
            }
            (state, dt) = (next, hint);
            t += taken;
        }
        None
    }

    /// Where within a step the limit is met.
    fn crossing(&self, ladders: &[Ladder], state: &State, limit_c: f64, dt: f64) -> f64 {
        let (mut low, mut high) = (0.0, dt);
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            let mut there = state.clone();
            let mut done = 0.0;
            while done < middle {
                let (next, taken, _) = self.advance(ladders, &there, 1.0, dt, middle - done);
                there = next;
                done += taken;
            }
            if there.hottest_c() < limit_c {
                low = middle;
            } else {
                high = middle;
            }
        }
        (low + high) / 2.0
    }
}

/// A value and how it changes with the temperature it belongs to.
#[derive(Clone, Copy)]
struct Line {
    value: f64,
    slope: f64,
}

/// The nodes of one cable after a step: C (T - T_old) / dt = flow in - flow out, solved by elimination.
fn shells(
    ladder: &Ladder,
    old: &[f64],
    now: &[f64],
    inward: Line,
    outward: Line,
    dt: f64,
) -> [f64; NODES] {
    let last = NODES - 1;
    let mut diagonal = [0.0; NODES];
    let mut right = [0.0; NODES];
    for k in 0..NODES {
        diagonal[k] = ladder.capacity[k] / dt;
        right[k] = ladder.capacity[k] / dt * old[k];
        if 0 < k {
            diagonal[k] += ladder.conductance[k - 1];
        }
        if k < last {
            diagonal[k] += ladder.conductance[k];
        }
    }
    diagonal[0] -= inward.slope;
    right[0] += inward.value - inward.slope * now[0];
    diagonal[last] += outward.slope;
    right[last] += outward.slope * now[last] - outward.value;
    for k in 1..NODES {
        let w = ladder.conductance[k - 1] / diagonal[k - 1];
        diagonal[k] -= w * ladder.conductance[k - 1];
        right[k] += w * right[k - 1];
    }
    let mut solved = [0.0; NODES];
    solved[last] = right[last] / diagonal[last];
    for k in (0..last).rev() {
        solved[k] = (right[k] + ladder.conductance[k] * solved[k + 1]) / diagonal[k];
    }
    solved
}

#[cfg(test)]
mod tests;
