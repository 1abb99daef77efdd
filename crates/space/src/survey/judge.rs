//! What a solved figure says about its readings: which one is wrong, what is loose, what is missing.

use super::model::{self, Layout, State, distance, placed};
use super::{Adjusted, Figure, Kind, NORMALISED_MAX, Reading, Spectrum, Suspect};
use super::{analyse, start};

/// Two guesses whose chi-squares differ by less than this are alike: odds of about seven to one.
const ALIKE: f64 = 4.0;
/// Readings left out in turn, those with the largest residuals first.
const CANDIDATES: usize = 40;

/// A figure without one of its readings.
fn without(figure: &Figure, reading: usize) -> Figure {
    let mut less = figure.clone();
    less.readings.remove(reading);
    less
}

/// The reading without which the others agree best.
pub(super) fn suspect(figure: &Figure, state: &State, all: &Adjusted) -> Option<Suspect> {
    let mut order: Vec<usize> =
        (0..all.fits.len()).filter(|i| all.fits[*i].normalised.is_some()).collect();
    let size = |i: &usize| all.fits[*i].normalised.map_or(0.0, f64::abs);
    order.sort_by(|a, b| size(b).total_cmp(&size(a)));
    order.truncate(CANDIDATES);
    // From the solution first: a small error has not moved it far. A large one may have led it into a
    // wrong valley, and then every start is tried again.
    let near = |less: &Figure, layout: &Layout| layout.settle(less, state.clone());
    let found = best(figure, all, &order, &near);
    if found.as_ref().is_some_and(|s| s.cures) {
        return found;
    }
    let anew = |less: &Figure, layout: &Layout| start::solve(less, layout);
    best(figure, all, &order, &anew).or(found)
}

fn best(
    figure: &Figure,
    all: &Adjusted,
    order: &[usize],
    solve: &dyn Fn(&Figure, &Layout) -> State,
) -> Option<Suspect> {
    let mut tried: Vec<(f64, usize, State)> = Vec::new();
    for &i in order {
        let less = without(figure, i);
        // The layout stays that of the whole figure's unknowns: a checked reading's loss frees nothing.
        let state = solve(&less, &Layout::of(&less));
        tried.push((model::chi_square(&less, &state), i, state));
    }
    tried.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (chi, reading, state) = tried.first()?;
    if all.chi_square - chi < NORMALISED_MAX * NORMALISED_MAX {
        return None;
    }
    let less = without(figure, *reading);
    let layout = Layout::of(&less);
    let kind = figure.readings[*reading].kind;
    let spectrum = Spectrum::of(&layout.normal(&less, state));
    let variance = spectrum.covariance.form(&layout.row(state, kind));
    Some(Suspect {
        reading: *reading,
        should_mm: model::shown(state, kind),
        should_sigma_mm: variance.max(0.0).sqrt(),
        alike: tried[1..].iter().filter(|t| t.0 < chi + ALIKE).map(|t| t.1).collect(),
        cures: analyse(&less, &layout, state).consistent(),
    })
}

/// Points that fit as well mirrored, and the figure with them so.
#[derive(Clone, Debug, Default)]
pub(super) struct Mirror {
    pub(super) points: Vec<usize>,
    pub(super) edges: Vec<usize>,
    others: Vec<State>,
}

/// Looks for parts that hang on two points and may be turned over about them.
pub(super) fn mirrored(figure: &Figure, layout: &Layout, state: &State) -> Mirror {
    let n = figure.points.len();
    let chi = model::chi_square(figure, state);
    let spectrum = Spectrum::of(&layout.normal(figure, state));
    let loose = |i: usize| spectrum.moves(layout.x[i]) || spectrum.moves(layout.y[i]);
    let web = Web::of(figure);
    let mut mirror = Mirror::default();
    for a in 0..n {
        for b in a + 1..n {
            for part in web.parts_without(a, b) {
                let points: Vec<usize> = part.iter().copied().filter(|i| *i < n).collect();
                let hinted = part.iter().any(|i| match i.checked_sub(n) {
                    None => figure.points[*i].near.is_some(),
                    Some(e) => figure.edges.get(e).is_some_and(|edge| edge.toward.is_some()),
                });
                let seen = points.iter().all(|i| mirror.points.contains(i));
                if points.is_empty() || hinted || seen || points.iter().any(|i| loose(*i)) {
                    continue;
                }
                let turned = turn_over(state, &part, n, a, b);
                let mut other = layout.settle(figure, turned);
                layout.frame(figure, &mut other);
                let far = points
                    .iter()
                    .map(|i| distance(state.points[*i], other.points[*i]))
                    .fold(0.0, f64::max);
                if far > 1.0 && model::chi_square(figure, &other) < chi + 10.0 {
                    mirror.points.extend(points);
                    mirror.others.push(other);
                }
            }
        }
    }
    mirror.points.sort_unstable();
    mirror.points.dedup();
    other_edges(figure, layout, state, &mut mirror);
    mirror
}

/// Edges that fit as well on another side.
fn other_edges(figure: &Figure, layout: &Layout, state: &State, mirror: &mut Mirror) {
    let chi = model::chi_square(figure, state);
    for e in (0..figure.edges.len()).filter(|e| figure.edges[*e].toward.is_none()) {
        for k in 0..8 {
            let from = f64::from(k) * std::f64::consts::FRAC_PI_4;
            let mut other = state.clone();
            other.edges[e] = start::fit_edge(figure, state, e, from).1;
            let other = layout.settle(figure, other);
            let turn = other.edges[e][0] - state.edges[e][0];
            if libm::cos(turn) < 0.9998 && model::chi_square(figure, &other) < chi + 10.0 {
                mirror.edges.push(e);
                mirror.others.push(other);
                break;
            }
        }
    }
}

fn turn_over(state: &State, part: &[usize], n: usize, a: usize, b: usize) -> State {
    let (p, q) = (state.points[a], state.points[b]);
    let length = distance(p, q).max(1e-9);
    let normal = [-(q[1] - p[1]) / length, (q[0] - p[0]) / length];
    let mut turned = state.clone();
    for &i in part {
        if i < n {
            let r = &mut turned.points[i];
            let off = (r[0] - p[0]) * normal[0] + (r[1] - p[1]) * normal[1];
            *r = [r[0] - 2.0 * off * normal[0], r[1] - 2.0 * off * normal[1]];
        } else if let Some(edge) = turned.edges.get_mut(i - n) {
            let m = [libm::cos(edge[0]), libm::sin(edge[0])];
            let reach = edge[1] - m[0] * p[0] - m[1] * p[1];
            let off = m[0] * normal[0] + m[1] * normal[1];
            let m = [m[0] - 2.0 * off * normal[0], m[1] - 2.0 * off * normal[1]];
            *edge = [libm::atan2(m[1], m[0]), reach + m[0] * p[0] + m[1] * p[1]];
        }
    }
    turned
}

/// Which points and edges readings tie together; the last node is the frame where it is given.
struct Web {
    tied: Vec<Vec<bool>>,
}

impl Web {
    fn of(figure: &Figure) -> Web {
        let (n, e) = (figure.points.len(), figure.edges.len());
        let size = n + e + 1;
        let mut web = Web { tied: vec![vec![false; size]; size] };
        for reading in &figure.readings {
            match reading.kind {
                Kind::Centres(a, b) | Kind::Outside(a, b) | Kind::Inside(a, b) => web.tie(a, b),
                Kind::ToEdge(a, e) | Kind::NearSide(a, e) | Kind::FarSide(a, e) => {
                    web.tie(a, n + e)
                }
                Kind::ToLine(a, [b, c]) => {
                    web.tie(a, b);
                    web.tie(a, c);
                    web.tie(b, c);
                }
                Kind::X(a) | Kind::Y(a) => web.tie(a, n + e),
                Kind::Diameter(_) => {}
            }
        }
        for (i, point) in figure.points.iter().enumerate() {
            if point.held.is_some() {
                web.tie(i, n + e);
            }
        }
        debug_assert!(!placed(figure) || web.tied[n + e].contains(&true));
        web
    }

    fn tie(&mut self, a: usize, b: usize) {
        self.tied[a][b] = true;
        self.tied[b][a] = true;
    }

    /// What falls off when two points are taken out: all parts but the one with the frame, or the largest.
    fn parts_without(&self, a: usize, b: usize) -> Vec<Vec<usize>> {
        let size = self.tied.len();
        let mut seen = vec![false; size];
        (seen[a], seen[b]) = (true, true);
        let mut parts: Vec<Vec<usize>> = Vec::new();
        for from in 0..size {
            if seen[from] {
                continue;
            }
            seen[from] = true;
            let mut part = vec![from];
            let mut at = 0;
            while at < part.len() {
                let tied = &self.tied[part[at]];
                for (next, seen) in
                    seen.iter_mut().enumerate().filter(|(i, s)| tied[*i] && !**s)
                {
                    *seen = true;
                    part.push(next);
                }
                at += 1;
            }
            parts.push(part);
        }
        let framed = parts.iter().position(|p| p.contains(&(size - 1)) && p.len() > 1);
        let largest = (0..parts.len()).max_by_key(|i| (parts[*i].len(), parts.len() - i));
        if let Some(stay) = framed.or(largest) {
            parts.remove(stay);
        }
        parts
    }
}

/// Readings that would hold what is loose, each the best of those left, and one for what is mirrored.
pub(super) fn missing(
    figure: &Figure,
    layout: &Layout,
    state: &State,
    mirror: &Mirror,
) -> Vec<Kind> {
    let mut null = Spectrum::of(&layout.normal(figure, state)).null;
    let mut open = candidates(figure);
    let mut missing = Vec::new();
    while !null.is_empty() {
        let score = |kind: &Kind| -> f64 {
            let row = layout.row(state, *kind);
            let size: f64 = row.iter().map(|(_, a)| a * a).sum();
            let met: f64 = null
                .iter()
                .map(|v| {
                    let dot: f64 = row.iter().map(|&(u, a)| a * v[u]).sum();
                    dot * dot
                })
                .sum();
            if size > 0.0 { met / size } else { 0.0 }
        };
        let scored = open.iter().enumerate().map(|(i, k)| (score(k), i));
        // The first of equals: the order of the document decides, not a rounding.
        let Some((most, at)) = scored.reduce(|x, y| if y.0 > x.0 * 1.000_001 { y } else { x })
        else {
            break;
        };
        if most < 1e-6 {
            break;
        }
        let kind = open.remove(at);
        null = less(null, &layout.row(state, kind));
        missing.push(kind);
    }
    for other in &mirror.others {
        let change =
            |kind: &Kind| (model::shown(state, *kind) - model::shown(other, *kind)).abs();
        let told = candidates(figure).into_iter().filter(|k| !missing.contains(k));
        if let Some(kind) = told.max_by(|a, b| change(a).total_cmp(&change(b)))
            && change(&kind) > 0.5
        {
            missing.push(kind);
        }
    }
    missing
}

/// Readings that could be taken: diameters, centre distances, distances to edges.
fn candidates(figure: &Figure) -> Vec<Kind> {
    let (n, e) = (figure.points.len(), figure.edges.len());
    let taken = |kind: Kind| figure.readings.iter().any(|r: &Reading| same(r.kind, kind));
    let diameters = (0..n).map(Kind::Diameter);
    let apart = (0..n).flat_map(|a| (a + 1..n).map(move |b| Kind::Centres(a, b)));
    let edges = (0..e).flat_map(|e| (0..n).map(move |a| Kind::ToEdge(a, e)));
    diameters.chain(apart).chain(edges).filter(|k| !taken(*k)).collect()
}

/// Whether a reading says the same as a candidate, up to the diameters.
fn same(taken: Kind, kind: Kind) -> bool {
    match (taken, kind) {
        (
            Kind::Centres(a, b) | Kind::Outside(a, b) | Kind::Inside(a, b),
            Kind::Centres(c, d),
        ) => (a, b) == (c, d) || (b, a) == (c, d),
        (
            Kind::ToEdge(a, e) | Kind::NearSide(a, e) | Kind::FarSide(a, e),
            Kind::ToEdge(b, f),
        ) => (a, e) == (b, f),
        (taken, kind) => taken == kind,
    }
}

/// What of a null space is left once a row is read.
fn less(mut null: Vec<Vec<f64>>, row: &[(usize, f64)]) -> Vec<Vec<f64>> {
    let dot = |v: &[f64]| -> f64 { row.iter().map(|&(u, a)| a * v[u]).sum() };
    let Some(most) =
        (0..null.len()).max_by(|a, b| dot(&null[*a]).abs().total_cmp(&dot(&null[*b]).abs()))
    else {
        return null;
    };
    let gone = null.remove(most);
    let whole = dot(&gone);
    let mut kept: Vec<Vec<f64>> = Vec::new();
    for mut v in null {
        let share = dot(&v) / whole;
        v.iter_mut().zip(&gone).for_each(|(x, g)| *x -= share * g);
        for k in &kept {
            let along: f64 = v.iter().zip(k).map(|(x, y)| x * y).sum();
            v.iter_mut().zip(k).for_each(|(x, y)| *x -= along * y);
        }
        let length = v.iter().map(|x| x * x).sum::<f64>().sqrt();
        if length > 1e-9 {
            v.iter_mut().for_each(|x| *x /= length);
            kept.push(v);
        }
    }
    kept
}
