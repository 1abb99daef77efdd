//! What is asked of a run: its steady state, what it may carry, and for how long.

use super::course::{Precision, Stop};
use super::equations::engine;
use super::load::{Drive, Load, Piece};
use super::{CEILING_C, Network, Runaway, State};
use crate::heat::illinois;

/// A rating for a time ends this near to the limit.
const NEAR_K: f64 = 0.02;

/// A steady state.
#[derive(Clone, Debug, PartialEq)]
pub struct Steady {
    /// The temperatures.
    pub state: State,
    /// Loss of conductors, screens and joints, W.
    pub made_w: f64,
    /// What goes to the surroundings, W.
    pub shed_w: f64,
    /// What goes into the bodies behind the terminals, W; negative where they heat the run.
    pub into_ends_w: f64,
}

/// What a run carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rating {
    /// The load's currents times this.
    pub factor: f64,
    /// The greatest current of the load, times it.
    pub current_a: f64,
}

impl Network {
    /// Steady state under the mean loss of a load.
    pub fn steady(&self, load: &Load) -> Result<Steady, Runaway> {
        let drive = Drive::new(self, load);
        let mean = drive.mean();
        let state = self.settle(&mean, &self.cold())?;
        let mut engine = engine(self);
        engine.evaluate(&state, &mean);
        let totals = engine.totals();
        Ok(Steady {
            state,
            made_w: totals.made,
            shed_w: totals.shed,
            into_ends_w: totals.into_ends,
        })
    }

    /// Newton from a start; if that finds nothing stable, in ever longer implicit steps, from the cold.
    pub(crate) fn settle(&self, mean: &[f64], start: &State) -> Result<State, Runaway> {
        self.newton(mean, start).ok_or(()).or_else(|()| self.creep(mean))
    }

    /// Newton's method; none where a state on the way is not stable or beyond the ceiling.
    fn newton(&self, mean: &[f64], start: &State) -> Option<State> {
        let mut engine = engine(self);
        let mut state = start.clone();
        let mut last = f64::INFINITY;
        for _ in 0..60 {
            engine.evaluate(&state, mean);
            if !engine.factor(0.0) {
                return None;
            }
            let (flow, flow_walls) = engine.flows();
            let (mut right, mut right_walls) = (flow.to_vec(), flow_walls.to_vec());
            engine.solve(&mut right, &mut right_walls);
            let moved = advance(&mut state, &right, &right_walls);
            if !(self.hottest(&state).0 <= 2.0 * CEILING_C) {
                return None;
            }
            // As near as rounding lets it come.
            if moved < 1e-12 || (moved < 1e-9 && last <= moved) {
                return self.stable(&mut *engine, &state, mean).then_some(state);
            }
            last = moved;
        }
        None
    }

    /// Whether a state is below the ceiling and would come back after a push.
    fn stable(
        &self,
        engine: &mut dyn super::equations::Engine,
        state: &State,
        mean: &[f64],
    ) -> bool {
        engine.evaluate(state, mean);
        engine.factor(0.0) && self.hottest(state).0 <= CEILING_C
    }

    /// Implicit Euler with steps that double: started cold, temperatures only rise towards the lowest steady
    /// state, and what passes the ceiling does so in truth.
    fn creep(&self, mean: &[f64]) -> Result<State, Runaway> {
        let mut engine = engine(self);
        let mut state = self.cold();
        let mut dt = 1.0;
        for _ in 0..400 {
            engine.evaluate(&state, mean);
            if !engine.factor(1.0 / dt) {
                dt *= 0.25;
                if dt < 1e-6 {
                    return Err(Runaway);
                }
                continue;
            }
            let (flow, flow_walls) = engine.flows();
            let (mut right, mut right_walls) = (flow.to_vec(), flow_walls.to_vec());
            engine.solve(&mut right, &mut right_walls);
            let moved = advance(&mut state, &right, &right_walls);
            if !(self.hottest(&state).0 <= CEILING_C) {
                return Err(Runaway);
            }
            dt *= if moved < 20.0 { 2.0 } else { 0.7 };
            if 1e5 < dt && moved < 1.0 {
                return self.newton(mean, &state).ok_or(Runaway);
            }
        }
        Err(Runaway)
    }

    /// The factor on a load for ever at which the hottest conductor is at the limit; none where the surroundings
    /// or a terminal alone bring it there.
    pub fn rating(&self, load: &Load, limit_c: f64) -> Option<Rating> {
        assert!(limit_c <= CEILING_C, "a limit above the ceiling has no meaning here");
        let mean = Drive::new(self, load).mean();
        let mut last = self.cold();
        let mut over = |square: f64| {
            let scaled: Vec<f64> = mean.iter().map(|x| x * square).collect();
            match self.settle(&scaled, &last) {
                Ok(state) => {
                    let over = self.hottest(&state).0 - limit_c;
                    last = state;
                    over
                }
                Err(Runaway) => CEILING_C,
            }
        };
        root_of_square(&mut over).map(|factor| rating(load, factor))
    }

    /// The factor on a constant load that, from a start, brings the hottest conductor to the limit in just
    /// that time; none where it is there already.
    pub fn rating_for(
        &self,
        start: &State,
        load: &Load,
        seconds: f64,
        limit_c: f64,
        precision: &Precision,
    ) -> Option<Rating> {
        let [piece] = load.pieces[..] else {
            panic!("a rating for a time is of a constant load")
        };
        let mut over = |square: f64| {
            let factor = square.sqrt();
            let pieces = vec![Piece { seconds, current_a: piece.current_a * factor, ..piece }];
            let course = self.course(start, &Load { pieces }, precision);
            if course.stopped_s.is_some() {
                return CEILING_C;
            }
            let over = self.hottest(&course.end).0 - limit_c;
            if over.abs() < NEAR_K { 0.0 } else { over }
        };
        root_of_square(&mut over).map(|factor| rating(load, factor))
    }

    /// Time after which the hottest conductor reaches a limit under a constant load, or none if it never does.
    pub fn time_to_limit_s(
        &self,
        start: &State,
        load: &Load,
        limit_c: f64,
        precision: &Precision,
    ) -> Option<f64> {
        if limit_c <= self.hottest(start).0 {
            return Some(0.0);
        }
        let settled = self.steady(load).map(|s| self.hottest(&s.state).0);
        if settled.is_ok_and(|c| c <= limit_c) {
            return None;
        }
        // Longer than any cable takes to settle.
        let [piece] = load.pieces[..] else {
            panic!("a time to a limit is of a constant load")
        };
        let pieces = vec![Piece { seconds: 1e6, ..piece }];
        let drive = Drive::new(self, &Load { pieces });
        let course = self.follow(start, &drive, 1e6, precision, &Stop::At(limit_c));
        let after = course.curve.iter().position(|m| limit_c <= m.hottest_c)?;
        let (a, b) = (course.curve[after.checked_sub(1)?], course.curve[after]);
        // Between two steps the conductor warms on a line near enough to straight.
        let share = (limit_c - a.hottest_c) / (b.hottest_c - a.hottest_c);
        Some(a.time_s + share * (b.time_s - a.time_s))
    }
}

fn advance(state: &mut State, right: &[f64], right_walls: &[f64]) -> f64 {
    let mut moved = 0.0f64;
    let all = state.nodes.iter_mut().zip(right).chain(state.walls.iter_mut().zip(right_walls));
    for (t, more) in all {
        // Absolute zero is as far as a wrong guess may lead.
        *t = (*t + more).max(-270.0);
        moved = moved.max(more.abs());
    }
    moved
}

fn rating(load: &Load, factor: f64) -> Rating {
    let greatest = load.pieces.iter().map(|p| p.current_a).fold(0.0f64, f64::max);
    Rating { factor, current_a: factor * greatest }
}

/// The root in squares of the factor, for the rise goes about with them.
fn root_of_square(over: &mut dyn FnMut(f64) -> f64) -> Option<f64> {
    let f_zero = over(0.0);
    if 0.0 <= f_zero {
        return None;
    }
    let (mut low, mut f_low, mut high) = (0.0, f_zero, 1.0);
    let mut f_high = over(high);
    // Down first, so that a run that runs away at the stated current is not sought there.
    while 0.9 * CEILING_C <= f_high && 1e-9 < high {
        let lower = 0.25 * high;
        let f = over(lower);
        if f <= 0.0 {
            (low, f_low) = (lower, f);
            break;
        }
        (high, f_high) = (lower, f);
    }
    while f_high < 0.0 {
        if 1e9 < high {
            return None;
        }
        (low, f_low) = (high, f_high);
        // As a straight line would have it, and a little further.
        high *= (1.1 * f_zero / (f_zero - f_high)).clamp(1.2, 30.0);
        f_high = over(high);
    }
    Some(illinois(low, f_low, high, f_high, over).sqrt())
}
