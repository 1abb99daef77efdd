//! Unknowns, what the figure would show, its derivatives, and the damped steps to the least chi-square.

use super::{Adjusted, Figure, Kind, Solved, SolvedEdge, Spectrum};
use crate::dense::Symmetric;

/// Where everything is at the moment.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct State {
    pub(super) points: Vec<[f64; 2]>,
    pub(super) diameters: Vec<f64>,
    /// Angle of the normal, and distance from the origin along it.
    pub(super) edges: Vec<[f64; 2]>,
}

impl State {
    pub(super) fn of(adjusted: &Adjusted) -> State {
        State {
            points: adjusted.points.iter().map(|p| [p.x_mm, p.y_mm]).collect(),
            diameters: adjusted.points.iter().map(|p| p.diameter_mm.unwrap_or(0.0)).collect(),
            edges: adjusted
                .edges
                .iter()
                .map(|e| [libm::atan2(e.normal[1], e.normal[0]), e.offset_mm])
                .collect(),
        }
    }
}

/// Which unknown stands in which column; none where it is held.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    pub(super) size: usize,
    pub(super) x: Vec<Option<usize>>,
    pub(super) y: Vec<Option<usize>>,
    diameter: Vec<Option<usize>>,
    edge: Vec<[usize; 2]>,
    /// Length that makes an angle a length of the size of the figure.
    arm_mm: f64,
}

/// Whether positions are read directly, so that the frame is given by them.
pub(super) fn placed(figure: &Figure) -> bool {
    figure.readings.iter().any(|r| matches!(r.kind, Kind::X(_) | Kind::Y(_)))
}

/// The origin and the point on +x: a held point is the origin before any other.
fn axes(figure: &Figure) -> [usize; 2] {
    let n = figure.points.len();
    let wanted = figure.axes.unwrap_or([0, 1]);
    let origin = (0..n).find(|i| figure.points[*i].held.is_some()).unwrap_or(wanted[0]);
    let others = [wanted[1], wanted[0]].into_iter().chain(0..n);
    [origin, others.into_iter().find(|i| *i != origin).unwrap_or(origin)]
}

/// Whether a reading involves the diameter of a point.
fn sized(kind: Kind, point: usize) -> bool {
    match kind {
        Kind::Outside(a, b) | Kind::Inside(a, b) => a == point || b == point,
        Kind::Diameter(a) | Kind::NearSide(a, _) | Kind::FarSide(a, _) => a == point,
        Kind::Centres(..) | Kind::ToEdge(..) | Kind::ToLine(..) | Kind::X(_) | Kind::Y(_) => {
            false
        }
    }
}

impl Layout {
    pub(super) fn of(figure: &Figure) -> Layout {
        let n = figure.points.len();
        let mut size = 0;
        let mut next = |free: bool| {
            size += usize::from(free);
            free.then(|| size - 1)
        };
        let held = |i: usize| figure.points[i].held.is_some();
        let [origin, axis] = axes(figure);
        let several = (0..n).filter(|i| held(*i)).count() > 1;
        let framed = !placed(figure);
        let (mut x, mut y) = (Vec::new(), Vec::new());
        for i in 0..n {
            x.push(next(!(held(i) || (framed && i == origin))));
            y.push(next(!(held(i) || (framed && (i == origin || (i == axis && !several))))));
        }
        let diameter =
            (0..n).map(|i| next(figure.readings.iter().any(|r| sized(r.kind, i)))).collect();
        let mut angle = || next(true).expect("always free");
        let edge = figure.edges.iter().map(|_| [angle(), angle()]).collect();
        let longest = figure.readings.iter().map(|r| r.value_mm.abs()).fold(1.0, f64::max);
        Layout { size, x, y, diameter, edge, arm_mm: longest }
    }

    /// Puts what the frame holds where it must be, by moving and turning the whole.
    pub(super) fn frame(&self, figure: &Figure, state: &mut State) {
        for (i, point) in figure.points.iter().enumerate() {
            if let Some(held) = point.held {
                state.points[i] = held;
            }
        }
        if placed(figure) || figure.points.iter().filter(|p| p.held.is_some()).count() > 1 {
            return;
        }
        let [origin, axis] = axes(figure);
        let base = figure.points[origin].held.unwrap_or([0.0, 0.0]);
        let from = state.points[origin];
        let way = [state.points[axis][0] - from[0], state.points[axis][1] - from[1]];
        let length = (way[0] * way[0] + way[1] * way[1]).sqrt();
        let [c, s] =
            if length > 1e-9 { [way[0] / length, way[1] / length] } else { [1.0, 0.0] };
        for p in &mut state.points {
            let d = [p[0] - from[0], p[1] - from[1]];
            *p = [base[0] + c * d[0] + s * d[1], base[1] - s * d[0] + c * d[1]];
        }
        state.points[axis][1] = base[1];
        for e in &mut state.edges {
            let normal = [libm::cos(e[0]), libm::sin(e[0])];
            let reach = e[1] - normal[0] * from[0] - normal[1] * from[1];
            let turned = [c * normal[0] + s * normal[1], -s * normal[0] + c * normal[1]];
            *e = [
                libm::atan2(turned[1], turned[0]),
                reach + turned[0] * base[0] + turned[1] * base[1],
            ];
        }
        mirror(figure, state, base);
    }

    /// The derivatives of what is shown.
    pub(super) fn row(&self, state: &State, kind: Kind) -> Vec<(usize, f64)> {
        let mut row = Vec::new();
        let mut put = |unknown: Option<usize>, value: f64| {
            if let Some(u) = unknown {
                row.push((u, value));
            }
        };
        match kind {
            Kind::Centres(a, b) | Kind::Outside(a, b) | Kind::Inside(a, b) => {
                let u = direction(state, a, b);
                put(self.x[a], -u[0]);
                put(self.y[a], -u[1]);
                put(self.x[b], u[0]);
                put(self.y[b], u[1]);
                let half = match kind {
                    Kind::Outside(..) => 0.5,
                    Kind::Inside(..) => -0.5,
                    _ => 0.0,
                };
                if half != 0.0 {
                    put(self.diameter[a], half);
                    put(self.diameter[b], half);
                }
            }
            Kind::Diameter(a) => put(self.diameter[a], 1.0),
            Kind::ToEdge(a, e) | Kind::NearSide(a, e) | Kind::FarSide(a, e) => {
                let [angle, _] = state.edges[e];
                let normal = [libm::cos(angle), libm::sin(angle)];
                let p = state.points[a];
                put(self.x[a], -normal[0]);
                put(self.y[a], -normal[1]);
                put(Some(self.edge[e][0]), (normal[1] * p[0] - normal[0] * p[1]) / self.arm_mm);
                put(Some(self.edge[e][1]), 1.0);
                match kind {
                    Kind::NearSide(..) => put(self.diameter[a], -0.5),
                    Kind::FarSide(..) => put(self.diameter[a], 0.5),
                    _ => {}
                }
            }
            Kind::ToLine(a, [b, c]) => {
                let (p, q, r) = (state.points[a], state.points[b], state.points[c]);
                let u = direction(state, b, c);
                let length = distance(q, r).max(1e-9);
                let along = (p[0] - q[0]) * u[0] + (p[1] - q[1]) * u[1];
                let across = u[0] * (p[1] - q[1]) - u[1] * (p[0] - q[0]);
                let side = if across < 0.0 { -1.0 } else { 1.0 };
                let normal = [-u[1] * side, u[0] * side];
                let share = along / length;
                put(self.x[a], normal[0]);
                put(self.y[a], normal[1]);
                put(self.x[b], -(1.0 - share) * normal[0]);
                put(self.y[b], -(1.0 - share) * normal[1]);
                put(self.x[c], -share * normal[0]);
                put(self.y[c], -share * normal[1]);
            }
            Kind::X(a) => put(self.x[a], 1.0),
            Kind::Y(a) => put(self.y[a], 1.0),
        }
        row
    }

    /// A' W A.
    pub(super) fn normal(&self, figure: &Figure, state: &State) -> Symmetric {
        let mut normal = Symmetric::zero(self.size);
        for reading in &figure.readings {
            let weight = 1.0 / (reading.sigma_mm * reading.sigma_mm);
            normal.add_outer(&self.row(state, reading.kind), weight);
        }
        normal
    }

    fn right(&self, figure: &Figure, state: &State) -> Vec<f64> {
        let mut right = vec![0.0; self.size];
        for reading in &figure.readings {
            let weight = 1.0 / (reading.sigma_mm * reading.sigma_mm);
            let residual = reading.value_mm - shown(state, reading.kind);
            for (u, a) in self.row(state, reading.kind) {
                right[u] += weight * a * residual;
            }
        }
        right
    }

    fn moved(&self, state: &State, step: &[f64]) -> State {
        let mut moved = state.clone();
        let by = |unknown: Option<usize>| unknown.map_or(0.0, |u| step[u]);
        for (i, p) in moved.points.iter_mut().enumerate() {
            *p = [p[0] + by(self.x[i]), p[1] + by(self.y[i])];
        }
        for (i, d) in moved.diameters.iter_mut().enumerate() {
            *d += by(self.diameter[i]);
        }
        for (e, unknown) in moved.edges.iter_mut().zip(&self.edge) {
            *e = [e[0] + step[unknown[0]] / self.arm_mm, e[1] + step[unknown[1]]];
        }
        moved
    }

    /// Steps to the least chi-square near a start.
    pub(super) fn settle(&self, figure: &Figure, start: State) -> State {
        let mut state = start;
        let mut chi = chi_square(figure, &state);
        let mut damping = 1e-3;
        for _ in 0..200 {
            let normal = self.normal(figure, &state);
            let right = self.right(figure, &state);
            let largest = (0..self.size).map(|i| normal.at(i, i)).fold(1e-12, f64::max);
            let mut damped = normal.clone();
            for i in 0..self.size {
                damped.add(i, i, damping * normal.at(i, i).max(1e-6 * largest));
            }
            let Some(step) = damped.solve(&right) else {
                damping *= 10.0;
                continue;
            };
            let tried = self.moved(&state, &step);
            let reached = chi_square(figure, &tried);
            let size = step.iter().fold(0.0, |most: f64, s| most.max(s.abs()));
            if reached <= chi {
                let done = size < 1e-10 * self.arm_mm;
                (state, chi) = (tried, reached);
                damping = (damping * 0.1).max(1e-11);
                if done {
                    break;
                }
            } else {
                damping *= 10.0;
                if size < 1e-10 * self.arm_mm || damping > 1e12 {
                    break;
                }
            }
        }
        state
    }

    pub(super) fn points(&self, state: &State, spectrum: &Spectrum) -> Vec<Solved> {
        let cell = |a: Option<usize>, b: Option<usize>| match (a, b) {
            (Some(a), Some(b)) => spectrum.covariance.at(a, b),
            _ => 0.0,
        };
        (0..state.points.len())
            .map(|i| {
                let (x, y, d) = (self.x[i], self.y[i], self.diameter[i]);
                let known = d.is_some() && !spectrum.moves(d);
                Solved {
                    x_mm: state.points[i][0],
                    y_mm: state.points[i][1],
                    diameter_mm: known.then(|| state.diameters[i]),
                    covariance_mm2: [cell(x, x), cell(x, y), cell(y, y)],
                    diameter_sigma_mm: known.then(|| cell(d, d).max(0.0).sqrt()),
                    loose: spectrum.moves(x) || spectrum.moves(y),
                }
            })
            .collect()
    }

    pub(super) fn edges(&self, state: &State, spectrum: &Spectrum) -> Vec<SolvedEdge> {
        let edge = |(e, unknown): (&[f64; 2], &[usize; 2])| SolvedEdge {
            normal: [libm::cos(e[0]), libm::sin(e[0])],
            offset_mm: e[1],
            loose: unknown.iter().any(|u| spectrum.moves(Some(*u))),
        };
        state.edges.iter().zip(&self.edge).map(edge).collect()
    }
}

/// Turns the figure over where hints, or the first point off the x axis, ask for it.
fn mirror(figure: &Figure, state: &mut State, base: [f64; 2]) {
    let hinted = |flip: f64| -> f64 {
        let off = |(p, s): (&super::Point, &[f64; 2])| {
            p.near.map_or(0.0, |near| {
                let at = [s[0], base[1] + flip * (s[1] - base[1])];
                distance(near, at) * distance(near, at)
            })
        };
        figure.points.iter().zip(&state.points).map(off).sum()
    };
    let sides = |flip: f64| -> f64 {
        let met = |(e, s): (&super::Edge, &[f64; 2])| {
            e.toward.map_or(0.0, |t| t[0] * libm::cos(s[0]) + flip * t[1] * libm::sin(s[0]))
        };
        figure.edges.iter().zip(&state.edges).map(met).sum()
    };
    let (kept, turned) = (hinted(1.0), hinted(-1.0));
    let over = if (kept - turned).abs() > 1e-6 * (kept + turned) + 1e-12 {
        turned < kept
    } else if (sides(1.0) - sides(-1.0)).abs() > 1e-3 {
        sides(-1.0) > sides(1.0)
    } else {
        let width = state.points.iter().map(|p| distance(*p, base)).fold(0.0, f64::max);
        let off = |p: &&[f64; 2]| (p[1] - base[1]).abs() > 1e-3 * width;
        state.points.iter().find(off).is_some_and(|p| p[1] < base[1])
    };
    if over {
        for p in &mut state.points {
            p[1] = 2.0 * base[1] - p[1];
        }
        for e in &mut state.edges {
            *e = [-e[0], e[1] - 2.0 * base[1] * libm::sin(e[0])];
        }
    }
}

pub(super) fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    let d = [b[0] - a[0], b[1] - a[1]];
    (d[0] * d[0] + d[1] * d[1]).sqrt()
}

fn direction(state: &State, a: usize, b: usize) -> [f64; 2] {
    let (p, q) = (state.points[a], state.points[b]);
    let length = distance(p, q);
    if length > 1e-12 { [(q[0] - p[0]) / length, (q[1] - p[1]) / length] } else { [1.0, 0.0] }
}

/// What a tool would show.
pub(super) fn shown(state: &State, kind: Kind) -> f64 {
    let apart = |a: usize, b: usize| distance(state.points[a], state.points[b]);
    let radii = |a: usize, b: usize| (state.diameters[a] + state.diameters[b]) / 2.0;
    let edge = |a: usize, e: usize| {
        let [angle, offset] = state.edges[e];
        let p = state.points[a];
        offset - libm::cos(angle) * p[0] - libm::sin(angle) * p[1]
    };
    match kind {
        Kind::Centres(a, b) => apart(a, b),
        Kind::Outside(a, b) => apart(a, b) + radii(a, b),
        Kind::Inside(a, b) => apart(a, b) - radii(a, b),
        Kind::Diameter(a) => state.diameters[a],
        Kind::ToEdge(a, e) => edge(a, e),
        Kind::NearSide(a, e) => edge(a, e) - state.diameters[a] / 2.0,
        Kind::FarSide(a, e) => edge(a, e) + state.diameters[a] / 2.0,
        Kind::ToLine(a, [b, c]) => {
            let (p, q) = (state.points[a], state.points[b]);
            let u = direction(state, b, c);
            (u[0] * (p[1] - q[1]) - u[1] * (p[0] - q[0])).abs()
        }
        Kind::X(a) => state.points[a][0],
        Kind::Y(a) => state.points[a][1],
    }
}

pub(super) fn chi_square(figure: &Figure, state: &State) -> f64 {
    figure
        .readings
        .iter()
        .map(|r| {
            let off = (r.value_mm - shown(state, r.kind)) / r.sigma_mm;
            off * off
        })
        .sum()
}
