//! Temperatures over time: TR-BDF2 with its error watched.

use super::equations::{Engine, engine};
use super::load::{Drive, Levels, Load};
use super::swing::Heated;
use super::{CEILING_C, Network, Runaway, State};

/// How exact a course is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Precision {
    /// Error of one step to aim at.
    pub step_error_k: f64,
    /// No step is longer.
    pub step_s_max: f64,
}

impl Precision {
    /// Within a tenth of a kelvin over a drive.
    pub const USUAL: Precision = Precision { step_error_k: 0.03, step_s_max: 1e6 };
}

/// The hottest conductor at one time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// From the start.
    pub time_s: f64,
    /// Its temperature.
    pub hottest_c: f64,
    /// Where.
    pub cell: usize,
    /// Which cable.
    pub cable: usize,
}

/// A stretch of time.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// State at the end.
    pub end: State,
    /// The way there, start and end included.
    pub curve: Vec<Moment>,
    /// The hottest moment.
    pub hottest: Moment,
    /// State then.
    pub hottest_state: State,
    /// When the ceiling was passed and the course stopped, if it was.
    pub stopped_s: Option<f64>,
}

/// A duty repeated until each round is like the last.
#[derive(Clone, Debug, PartialEq)]
pub struct Periodic {
    /// One round.
    pub course: Course,
    /// State at its start, which is that at its end within `off_k`.
    pub start: State,
    /// Greatest difference between the two.
    pub off_k: f64,
    /// Rounds it took.
    pub rounds: usize,
}

/// gamma = 2 - sqrt 2: both stages then have the same matrix.
const GAMMA: f64 = 2.0 - std::f64::consts::SQRT_2;

/// Steps through time.
pub(crate) struct Stepper<'a> {
    engine: Box<dyn Engine + 'a>,
    /// J/K, node by node and wall by wall.
    capacity: Vec<f64>,
    capacity_walls: Vec<f64>,
    levels: Levels,
    row: Vec<f64>,
    first: State,
    middle: State,
    right: State,
}

impl<'a> Stepper<'a> {
    pub(crate) fn new(network: &'a Network, drive: &Drive) -> Stepper<'a> {
        let (capacity, capacity_walls) = capacities(network);
        let blank =
            State { nodes: vec![0.0; capacity.len()], walls: vec![0.0; capacity_walls.len()] };
        Stepper {
            engine: engine(network),
            capacity,
            capacity_walls,
            levels: Levels::new(drive.channels),
            row: vec![0.0; drive.channels],
            first: blank.clone(),
            middle: blank.clone(),
            right: blank,
        }
    }

    /// One step from `from` to `to`; its error in K, infinite where it cannot be made.
    pub(crate) fn step(
        &mut self,
        drive: &Drive,
        state: &State,
        to: &mut State,
        at_s: f64,
        dt: f64,
    ) -> f64 {
        self.levels.fill(drive, at_s, dt, GAMMA);
        let d = GAMMA / 2.0;
        let per_second = 1.0 / (d * dt);
        for (k, x) in self.row.iter_mut().enumerate() {
            *x = 0.5 * (self.levels.at[0][k] + self.levels.at[1][k]);
        }
        self.engine.evaluate(state, &self.row);
        if !self.engine.factor(per_second) {
            return f64::INFINITY;
        }
        // C (T1 - T0) / delta = F(T0, q0) + F(T1, q1), all slopes as at T0.
        let (flow, flow_walls) = self.engine.flows();
        self.first.nodes.copy_from_slice(flow);
        self.first.walls.copy_from_slice(flow_walls);
        fill(&mut self.right.nodes, &self.first.nodes, |f| 2.0 * f);
        fill(&mut self.right.walls, &self.first.walls, |f| 2.0 * f);
        self.engine.solve(&mut self.right.nodes, &mut self.right.walls);
        fill_two(&mut self.middle.nodes, &state.nodes, &self.right.nodes, |a, b| a + b);
        fill_two(&mut self.middle.walls, &state.walls, &self.right.walls, |a, b| a + b);
        self.last_stage(state, to, per_second);
        self.error_k(state, to, per_second)
    }

    /// C (T2 - a1 T1 + a0 T0) / delta = F(T2, q2) about T1. What the surfaces do there is F(T0) + J (T1 - T0),
    /// which the first stage left as C (T1 - T0) / delta - F(T0); the loss is taken at T1.
    fn last_stage(&mut self, state: &State, to: &mut State, per_second: f64) {
        let (a1, _) = weights();
        for (k, right) in self.right.nodes.iter_mut().enumerate() {
            let moved = self.middle.nodes[k] - state.nodes[k];
            *right = self.capacity[k] * per_second * a1 * moved - self.first.nodes[k];
        }
        for (k, right) in self.right.walls.iter_mut().enumerate() {
            let moved = self.middle.walls[k] - state.walls[k];
            *right = self.capacity_walls[k] * per_second * a1 * moved - self.first.walls[k];
        }
        for (k, x) in self.row.iter_mut().enumerate() {
            *x = self.levels.at[2][k] - *x;
        }
        self.engine.add_losses(&self.middle, &self.row, &mut self.right.nodes);
        self.engine.solve(&mut self.right.nodes, &mut self.right.walls);
        fill_two(&mut to.nodes, &self.middle.nodes, &self.right.nodes, |a, b| a + b);
        fill_two(&mut to.walls, &self.middle.walls, &self.right.walls, |a, b| a + b);
    }

    /// Sums at a state, with the load of a quarter of a second from a time on.
    #[cfg(test)]
    pub(crate) fn totals(
        &mut self,
        drive: &Drive,
        state: &State,
        at_s: f64,
    ) -> super::equations::Totals {
        self.levels.fill(drive, at_s, 0.25, GAMMA);
        self.engine.evaluate(state, &self.levels.at[1]);
        self.engine.totals()
    }

    /// h (e0 f0 + e1 f1 + e2 f2), the difference to the embedded third-order result, damped by the matrix so
    /// that stiff parts do not count. The load's own changes within the step are exact and left out.
    fn error_k(&mut self, state: &State, to: &State, per_second: f64) -> f64 {
        let w = std::f64::consts::SQRT_2 / 4.0;
        let d = GAMMA / 2.0;
        let (e0, e1, e2) = ((4.0 * w - 1.0) / 3.0, -1.0 / 3.0, 2.0 * d / 3.0);
        let (a1, a0) = weights();
        let estimate = |c: f64, f: f64, t0: f64, t1: f64, t2: f64| {
            let c = c * per_second;
            (e0 - e1) * f + e1 * c * (t1 - t0) + e2 * c * (t2 - a1 * t1 + a0 * t0)
        };
        for (k, right) in self.right.nodes.iter_mut().enumerate() {
            let (t0, t1, t2) = (state.nodes[k], self.middle.nodes[k], to.nodes[k]);
            *right = estimate(self.capacity[k], self.first.nodes[k], t0, t1, t2);
        }
        for (k, right) in self.right.walls.iter_mut().enumerate() {
            let (t0, t1, t2) = (state.walls[k], self.middle.walls[k], to.walls[k]);
            *right = estimate(self.capacity_walls[k], self.first.walls[k], t0, t1, t2);
        }
        for (k, x) in self.row.iter_mut().enumerate() {
            let [q0, q1, q2] = [0, 1, 2].map(|i| self.levels.at[i][k]);
            *x = (e0 - e1) * 0.5 * (q0 - q1) - (e0 * q0 + e1 * q1 + e2 * q2);
        }
        self.engine.add_losses(state, &self.row, &mut self.right.nodes);
        self.engine.solve(&mut self.right.nodes, &mut self.right.walls);
        let largest = |values: &[f64]| values.iter().fold(0.0f64, |a, x| a.max(x.abs()));
        let error = largest(&self.right.nodes).max(largest(&self.right.walls)) / d;
        if error.is_nan() { f64::INFINITY } else { error }
    }
}

fn weights() -> (f64, f64) {
    let both = GAMMA * (2.0 - GAMMA);
    (1.0 / both, (1.0 - GAMMA) * (1.0 - GAMMA) / both)
}

fn fill(to: &mut [f64], from: &[f64], f: impl Fn(f64) -> f64) {
    for (t, x) in to.iter_mut().zip(from) {
        *t = f(*x);
    }
}

fn fill_two(to: &mut [f64], a: &[f64], b: &[f64], f: impl Fn(f64, f64) -> f64) {
    for ((t, x), y) in to.iter_mut().zip(a).zip(b) {
        *t = f(*x, *y);
    }
}

/// J/K of every node and wall.
pub(crate) fn capacities(network: &Network) -> (Vec<f64>, Vec<f64>) {
    let mut nodes = Vec::new();
    let mut walls = Vec::new();
    for cell in &network.cells {
        for ladder in &network.ladders {
            nodes.extend(ladder.capacity.iter().map(|c| c * cell.length_m));
        }
        walls.push(network.outsides[cell.section].wall_j_mk() * cell.length_m);
    }
    (nodes, walls)
}

/// What stops a course early.
pub(crate) enum Stop {
    Never,
    /// When the hottest conductor reaches a limit.
    At(f64),
}

impl Network {
    /// Course of the temperatures under a load.
    pub fn course(&self, start: &State, load: &Load, precision: &Precision) -> Course {
        let drive = Drive::new(self, load);
        self.follow(start, &drive, drive.seconds(), precision, &Stop::Never)
    }

    pub(crate) fn follow(
        &self,
        start: &State,
        drive: &Drive,
        until_s: f64,
        precision: &Precision,
        stop: &Stop,
    ) -> Course {
        let mut stepper = Stepper::new(self, drive);
        let mut walk = Walk::new(self, start);
        let mut next = start.clone();
        let (mut t, mut wish) = (0.0, (0.01 * until_s).min(2.0));
        while t < until_s {
            let border = border(drive, t, wish, until_s);
            let dt = wish.min(precision.step_s_max).min(border - t);
            let dt = walk.heated(self).bounded(drive, t, dt);
            let error = stepper.step(drive, &walk.state, &mut next, t, dt);
            let factor = 0.9 * libm::cbrt(precision.step_error_k / error.max(1e-12));
            if 1.6 * precision.step_error_k < error && 1e-7 < dt {
                wish = dt * factor.clamp(0.1, 0.7);
                continue;
            }
            // A step cut short by a border says nothing against the longer one.
            wish = if dt < wish {
                wish.max(dt * factor.min(4.0))
            } else {
                dt * factor.clamp(0.2, 4.0)
            };
            let from = t;
            t = if dt == border - t { border } else { t + dt };
            std::mem::swap(&mut walk.state, &mut next);
            let here = walk.arrive(self, drive, (from, &next), t);
            let over = match stop {
                Stop::Never => false,
                Stop::At(limit_c) => *limit_c <= here,
            };
            if over || !(here <= CEILING_C) {
                walk.stopped_s = Some(t);
                break;
            }
        }
        walk.finish()
    }
}

/// Where a step must end at the latest: at the border of a piece that is long beside the step.
fn border(drive: &Drive, t: f64, wish: f64, until_s: f64) -> f64 {
    let first = drive.border_after(t);
    if until_s <= first || wish <= first - t {
        return first.min(until_s);
    }
    let second = drive.border_after(first);
    if wish < second - first { first } else { until_s }
}

/// A course on its way.
struct Walk {
    state: State,
    curve: Vec<Moment>,
    hottest: Moment,
    hottest_state: State,
    stopped_s: Option<f64>,
}

impl Walk {
    fn new(network: &Network, start: &State) -> Walk {
        let (hottest_c, cell, cable) = network.hottest(start);
        let first = Moment { time_s: 0.0, hottest_c, cell, cable };
        Walk {
            state: start.clone(),
            curve: vec![first],
            hottest: first,
            hottest_state: start.clone(),
            stopped_s: None,
        }
    }

    /// The conductor that was the hottest when last looked at.
    fn heated(&self, network: &Network) -> Heated {
        let last = self.curve.last().expect("the start is there");
        Heated::of(network, &self.state, last.cell, last.cable)
    }

    /// Takes down the end of the step just made, and before it what was above both its ends.
    fn arrive(
        &mut self,
        network: &Network,
        drive: &Drive,
        (from, old): (f64, &State),
        time_s: f64,
    ) -> f64 {
        let (hottest_c, cell, cable) = network.hottest(&self.state);
        let heated = Heated::of(network, &self.state, cell, cable);
        let start = (from, network.conductor_c(old, cell, cable));
        if let Some((at_s, inner_c)) = heated.highest(drive, start, (time_s, hottest_c)) {
            let inner = Moment { time_s: at_s, hottest_c: inner_c, cell, cable };
            self.curve.push(inner);
            if self.hottest.hottest_c < inner_c {
                self.hottest = inner;
                let (start, end) = ((from, old), (time_s, &self.state));
                network.swung(drive, start, end, at_s, &mut self.hottest_state);
            }
        }
        let here = Moment { time_s, hottest_c, cell, cable };
        self.curve.push(here);
        if self.hottest.hottest_c < hottest_c {
            self.hottest = here;
            self.hottest_state.nodes.copy_from_slice(&self.state.nodes);
            self.hottest_state.walls.copy_from_slice(&self.state.walls);
        }
        hottest_c
    }

    fn finish(self) -> Course {
        Course {
            end: self.state,
            curve: self.curve,
            hottest: self.hottest,
            hottest_state: self.hottest_state,
            stopped_s: self.stopped_s,
        }
    }
}

/// Rounds after which a duty is taken as it is.
const ROUNDS_MAX: usize = 40;

impl Network {
    /// A load repeated for ever: one round of it, whose end is its start within `off_k`.
    pub fn periodic(
        &self,
        load: &Load,
        precision: &Precision,
        off_k: f64,
    ) -> Result<Periodic, Runaway> {
        let drive = Drive::new(self, load);
        let mean = drive.mean();
        let mut start = self.settle(&mean, &self.cold())?;
        let mut stepper = Stepper::new(self, &drive);
        let mut last = f64::INFINITY;
        // The first guess is off by kelvins; a rough round shows that as well as a fine one.
        let rough = Precision { step_error_k: 8.0 * precision.step_error_k, ..*precision };
        let first = self.follow(&start, &drive, drive.seconds(), &rough, &Stop::Never);
        if first.stopped_s.is_some() {
            return Err(Runaway);
        }
        stepper.correct(&mean, drive.seconds(), &first.end, &mut start);
        for rounds in 2..=ROUNDS_MAX {
            let course = self.follow(&start, &drive, drive.seconds(), precision, &Stop::Never);
            if course.stopped_s.is_some() {
                return Err(Runaway);
            }
            let off = largest_off(&start, &course.end);
            // What the steps' own error leaves does not fall any further.
            let is_noise = 3 < rounds && 0.8 * last < off;
            last = off;
            if off <= off_k || is_noise || rounds == ROUNDS_MAX {
                return Ok(Periodic { course, start, off_k: off, rounds });
            }
            stepper.correct(&mean, drive.seconds(), &course.end, &mut start);
        }
        unreachable!("the last round returns")
    }
}

fn largest_off(a: &State, b: &State) -> f64 {
    let nodes = a.nodes.iter().zip(&b.nodes);
    let walls = a.walls.iter().zip(&b.walls);
    nodes.chain(walls).fold(0.0, |worst, (x, y)| worst.max((x - y).abs()))
}

impl Stepper<'_> {
    /// The start of the next round. A mode that decays at x a period and is off by e at the start leaves
    /// r = -(1 - e^-x) e between end and start, so r/(1 - e^-x) is to be added to the start. That is, within 0.045
    /// for every x, r (1 + 1/x - 2/(x + 4)): the end, and on by K y = C r / period less (K + 4 C / period) z =
    /// 2 C r / period.
    fn correct(&mut self, mean: &[f64], period_s: f64, end: &State, start: &mut State) {
        self.engine.evaluate(end, mean);
        fill_two(&mut self.right.nodes, &end.nodes, &start.nodes, |a, b| (a - b) / period_s);
        fill_two(&mut self.right.walls, &end.walls, &start.walls, |a, b| (a - b) / period_s);
        for (x, c) in self.right.nodes.iter_mut().zip(&self.capacity) {
            *x *= c;
        }
        for (x, c) in self.right.walls.iter_mut().zip(&self.capacity_walls) {
            *x *= c;
        }
        fill(&mut self.first.nodes, &self.right.nodes, |x| 2.0 * x);
        fill(&mut self.first.walls, &self.right.walls, |x| 2.0 * x);
        start.clone_from(end);
        if !self.engine.factor(0.0) {
            return;
        }
        self.engine.solve(&mut self.right.nodes, &mut self.right.walls);
        if !self.engine.factor(4.0 / period_s) {
            return;
        }
        self.engine.solve(&mut self.first.nodes, &mut self.first.walls);
        // A guess that leads beyond the ceiling is worse than none.
        for ((t, y), z) in start.nodes.iter_mut().zip(&self.right.nodes).zip(&self.first.nodes)
        {
            *t = (*t + y - z).min(CEILING_C);
        }
        for ((t, y), z) in start.walls.iter_mut().zip(&self.right.walls).zip(&self.first.walls)
        {
            *t = (*t + y - z).min(CEILING_C);
        }
    }
}
