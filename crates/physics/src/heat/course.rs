//! Temperatures over time: shells of insulation, implicit steps whose error is watched.

use super::{
    CEILING_C, Cable, Course, NODES, Network, Point, STEP_ERROR_K, State, TRIAL_C, illinois,
};
use crate::laws::{radial, radiation};

/// Heat capacities of the nodes and conductances between them, per metre.
pub(super) struct Ladder {
    capacity: [f64; NODES],
    conductance: [f64; NODES - 1],
}

pub(super) fn ladder(cable: &Cable) -> Ladder {
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

/// Surfaces that move less are where the lines were drawn.
const SETTLED_K: f64 = 0.1;

impl Network<'_> {
    pub(super) fn course(&self, start: &State, pieces: &[(f64, f64)]) -> Course {
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
        mut wish: f64,
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
                // A step cut short by the end of a piece says nothing against the longer one.
                let hint = if dt == left { (dt * factor).max(wish) } else { dt * factor };
                return (two, dt, hint);
            }
            dt *= factor.min(0.5);
            wish = dt;
        }
    }

    /// One step of implicit Euler. What is not linear is made so about the temperatures last found, until
    /// those no longer move.
    fn euler(&self, ladders: &[Ladder], old: &State, scale: f64, dt: f64) -> State {
        let mut now = old.clone();
        for _ in 0..8 {
            let next = self.linear(ladders, old, &now, scale, dt);
            let moved = next
                .surfaces_c()
                .zip(now.surfaces_c())
                .map(|(to, from)| (to - from).abs())
                .fold(0.0, f64::max);
            now = next;
            if moved < SETTLED_K {
                break;
            }
        }
        now
    }

    /// The step with loss and cooling as straight lines about `now`.
    fn linear(
        &self,
        ladders: &[Ladder],
        old: &State,
        now: &State,
        scale: f64,
        dt: f64,
    ) -> State {
        let emitted: Vec<f64> = now.surfaces_c().map(radiation::black_body_w_m2).collect();
        let mut convected = vec![0.0; self.count()];
        let nodes = (0..self.count())
            .map(|i| {
                let (conductor_c, surface_c) = (now.nodes[i][0], now.nodes[i][NODES - 1]);
                let air_c = self.air_c(i, &convected);
                let (conv, rad) = self.outward(i, surface_c, air_c, &emitted);
                convected[i] = conv;
                let outward =
                    Line { value: conv + rad, slope: self.slope(i, surface_c, air_c, conv) };
                let loss = self.loss_w(i, conductor_c, scale);
                let k = self.group.cables[i].material.zero_resistance_c();
                let inward = Line { value: loss, slope: loss / (k + conductor_c) };
                shells(&ladders[i], &old.nodes[i], &now.nodes[i], inward, outward, dt)
                    .into_iter()
                    // A step too long for the current can throw a temperature anywhere; it is then made
                    // shorter.
                    .map(|t| t.clamp(TRIAL_C.0, TRIAL_C.1))
                    .collect()
            })
            .collect();
        State { nodes }
    }

    /// How the cooling grows with the surface temperature, W/mK. Near enough: it only speeds the steps up.
    fn slope(&self, cable: usize, surface_c: f64, air_c: f64, convected: f64) -> f64 {
        if let Some(fixed) = self.group.surroundings.fixed_k_m_per_w {
            return 1.0 / fixed;
        }
        let c = &self.group.cables[cable];
        let t = surface_c + 273.15;
        let girth_m = std::f64::consts::PI * c.outer_diameter_mm * 1e-3;
        let radiated = c.emissivity * girth_m * 4.0 * radiation::SIGMA * t * t * t;
        // q goes about with the power 1.3 of the rise.
        let rise = surface_c - air_c;
        radiated + if rise.abs() < 0.1 { 0.0 } else { 1.3 * convected / rise }
    }

    pub(super) fn time_to_limit(&self, start: &State, limit_c: f64) -> Option<f64> {
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
        let over = |time: f64| {
            let (mut there, mut done) = (state.clone(), 0.0);
            while done < time {
                let (next, taken, _) = self.advance(ladders, &there, 1.0, dt, time - done);
                there = next;
                done += taken;
            }
            there.hottest_c() - limit_c
        };
        illinois(0.0, over(0.0), dt, over(dt), over)
    }
}

/// A value and how it changes with the temperature it belongs to.
#[derive(Clone, Copy)]
pub(super) struct Line {
    pub(super) value: f64,
    pub(super) slope: f64,
}

/// The nodes of one cable after a step: C (T - T_old) / dt = flow in - flow out, solved by elimination.
pub(super) fn shells(
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
