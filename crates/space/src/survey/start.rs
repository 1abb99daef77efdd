//! Start values: damped steps find the nearest valley, and these find the right one.
//!
//! Tried one after the other until one fits: hints as they are; triangles laid out from readings, each
//! further point where the circles around those already laid cross; scaling of all distances, missing ones
//! by the shortest way, to two dimensions; and the same shaken. The lowest chi-square wins.

use super::model::{Layout, State, distance, placed};
use super::{Figure, Kind, percentile};
use crate::dense::Symmetric;

/// Triangles to begin with.
const SEEDS: usize = 6;
/// Shaken starts.
const SHAKEN: usize = 8;

/// The solved state with the lowest chi-square found.
pub(super) fn solve(figure: &Figure, layout: &Layout) -> State {
    let good =
        percentile::chi_square_limit(figure.readings.len().saturating_sub(layout.size).max(1));
    let known = Known::of(figure);
    // Large figures have many readings to lead them; each start costs more there.
    let (seeds, shaken) = if layout.size > 80 { (2, 2) } else { (SEEDS, SHAKEN) };
    let mut noise = Noise(0x9e37_79b9_7f4a_7c15);
    let mut best: Option<(f64, State)> = None;
    let mut tried = 0;
    let mut laid: Vec<Vec<[f64; 2]>> = Vec::new();
    for seed in known.seeds(figure, seeds) {
        laid.push(known.lay(figure, &seed, 0));
        laid.push(known.lay(figure, &seed, 1));
    }
    laid.insert(laid.len().min(2), known.scaled());
    let shaken_from = laid.clone();
    while tried < laid.len() + shaken {
        let points = match laid.get(tried) {
            Some(points) => points.clone(),
            None => noise.shake(&shaken_from[tried % shaken_from.len()], known.width),
        };
        tried += 1;
        let state = layout.settle(figure, begin(figure, layout, &known, points));
        let chi = super::model::chi_square(figure, &state);
        if best.as_ref().is_none_or(|(least, _)| chi < *least) {
            best = Some((chi, state));
        }
        if chi <= good {
            break;
        }
    }
    let (_, mut state) = best.expect("there is always one start");
    layout.frame(figure, &mut state);
    state
}

/// A state from points laid out: in the frame, with diameters and edges to match.
fn begin(figure: &Figure, layout: &Layout, known: &Known, points: Vec<[f64; 2]>) -> State {
    let mut state = State {
        points,
        diameters: known.diameters.clone(),
        edges: vec![[0.0, 0.0]; figure.edges.len()],
    };
    layout.frame(figure, &mut state);
    for e in 0..figure.edges.len() {
        state.edges[e] = edge(figure, &state, e);
    }
    state
}

/// The edge that fits the points best where they lie now, from eight directions or the hinted one.
pub(super) fn edge(figure: &Figure, state: &State, e: usize) -> [f64; 2] {
    let angles: Vec<f64> = match figure.edges[e].toward {
        Some(t) => vec![libm::atan2(t[1], t[0])],
        None => (0..8).map(|k| f64::from(k) * std::f64::consts::FRAC_PI_4).collect(),
    };
    let tried = angles.into_iter().map(|angle| fit_edge(figure, state, e, angle));
    tried.min_by(|a, b| a.0.total_cmp(&b.0)).map_or([0.0, 0.0], |(_, edge)| edge)
}

/// A point met by an edge: where it lies, how far from the edge it was read, and the reading's weight.
type Met = ([f64; 2], f64, f64);

/// Turns and shifts one edge to fit points held still: chi-square and the edge.
pub(super) fn fit_edge(figure: &Figure, state: &State, e: usize, from: f64) -> (f64, [f64; 2]) {
    let met: Vec<Met> = figure
        .readings
        .iter()
        .filter_map(|r| {
            let (a, radius) = match r.kind {
                Kind::ToEdge(a, edge) if edge == e => (a, 0.0),
                Kind::NearSide(a, edge) if edge == e => (a, -state.diameters[a] / 2.0),
                Kind::FarSide(a, edge) if edge == e => (a, state.diameters[a] / 2.0),
                _ => return None,
            };
            Some((state.points[a], r.value_mm - radius, 1.0 / (r.sigma_mm * r.sigma_mm)))
        })
        .collect();
    let weight: f64 = met.iter().map(|m| m.2).sum();
    if met.is_empty() {
        return (0.0, [from, 0.0]);
    }
    let mean = |of: &dyn Fn(&Met) -> f64| met.iter().map(|m| m.2 * of(m)).sum::<f64>() / weight;
    let centre = [mean(&|m| m.0[0]), mean(&|m| m.0[1])];
    let mut angle = from;
    let mut out = (f64::INFINITY, [from, 0.0]);
    for _ in 0..30 {
        let (c, s) = (libm::cos(angle), libm::sin(angle));
        let offset = mean(&|m| m.1 + c * m.0[0] + s * m.0[1]);
        let chi: f64 = met
            .iter()
            .map(|m| {
                let off = m.1 - (offset - c * m.0[0] - s * m.0[1]);
                m.2 * off * off
            })
            .sum();
        if chi < out.0 {
            out = (chi, [angle, offset]);
        }
        // One Gauss step in the angle alone, about the centre, where shift and turn do not mix.
        let (mut top, mut bottom) = (0.0, 0.0);
        for m in &met {
            let d = [m.0[0] - centre[0], m.0[1] - centre[1]];
            let slope = s * d[0] - c * d[1];
            let off = m.1 - (offset - c * m.0[0] - s * m.0[1]);
            top += m.2 * slope * off;
            bottom += m.2 * slope * slope;
        }
        if !(bottom > 1e-12) {
            break;
        }
        angle += (top / bottom).clamp(-0.5, 0.5);
    }
    out
}

/// Points laid out to begin with, by their index.
type Seed = Vec<(usize, [f64; 2])>;

/// Distances and diameters as far as readings give them directly.
struct Known {
    apart: Vec<Vec<Option<f64>>>,
    diameters: Vec<f64>,
    places: Vec<Option<[f64; 2]>>,
    width: f64,
}

impl Known {
    fn of(figure: &Figure) -> Known {
        let n = figure.points.len();
        let mut diameters = vec![None; n];
        for r in &figure.readings {
            if let Kind::Diameter(a) = r.kind {
                diameters[a] = Some(r.value_mm);
            }
        }
        let stated: Vec<f64> = diameters.iter().flatten().copied().collect();
        let usual = if stated.is_empty() {
            0.0
        } else {
            stated.iter().sum::<f64>() / stated.len() as f64
        };
        let diameters: Vec<f64> = diameters.into_iter().map(|d| d.unwrap_or(usual)).collect();
        let mut apart = vec![vec![None; n]; n];
        let mut places: Vec<Option<[f64; 2]>> =
            figure.points.iter().map(|p| p.held.or(p.near)).collect();
        let mut width = 1.0_f64;
        for r in &figure.readings {
            width = width.max(r.value_mm.abs());
            let (a, b, less) = match r.kind {
                Kind::Centres(a, b) => (a, b, 0.0),
                Kind::Outside(a, b) => (a, b, (diameters[a] + diameters[b]) / 2.0),
                Kind::Inside(a, b) => (a, b, -(diameters[a] + diameters[b]) / 2.0),
                Kind::X(a) => {
                    places[a].get_or_insert([0.0, 0.0])[0] = r.value_mm;
                    continue;
                }
                Kind::Y(a) => {
                    places[a].get_or_insert([0.0, 0.0])[1] = r.value_mm;
                    continue;
                }
                Kind::Diameter(_)
                | Kind::ToEdge(..)
                | Kind::NearSide(..)
                | Kind::FarSide(..)
                | Kind::ToLine(..) => continue,
            };
            let distance = (r.value_mm - less).max(1e-3);
            apart[a][b] = Some(distance);
            apart[b][a] = Some(distance);
        }
        Known { apart, diameters, places, width }
    }

    /// Sets of points to begin with, each laid out: places known, or triangles, the roundest first.
    fn seeds(&self, figure: &Figure, most: usize) -> Vec<Seed> {
        let n = self.apart.len();
        let places: Vec<(usize, [f64; 2])> =
            (0..n).filter_map(|i| self.places[i].map(|p| (i, p))).collect();
        if places.len() > 1 || placed(figure) {
            return vec![places];
        }
        let mut found: Vec<(f64, Seed)> = Vec::new();
        for i in 0..n {
            for j in i + 1..n {
                for k in j + 1..n {
                    let sides = (self.apart[i][j], self.apart[i][k], self.apart[j][k]);
                    let (Some(c), Some(b), Some(a)) = sides else { continue };
                    let x = (c * c + b * b - a * a) / (2.0 * c);
                    let y = (b * b - x * x).max(0.0).sqrt();
                    let height = y * c / c.max(b).max(a);
                    found.push((height, vec![(i, [0.0, 0.0]), (j, [c, 0.0]), (k, [x, y])]));
                }
            }
        }
        found.sort_by(|x, y| y.0.total_cmp(&x.0));
        let mut seeds: Vec<Seed> = Vec::new();
        // Spread over the list: one bad reading spoils every triangle it is in.
        let step = (found.len() / most.max(1)).max(1);
        seeds.extend(found.into_iter().step_by(step).take(most).map(|(_, seed)| seed));
        if seeds.is_empty() {
            let pair = (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j)));
            let (i, j) =
                pair.clone().find(|(i, j)| self.apart[*i][*j].is_some()).unwrap_or((0, 1));
            seeds.push(vec![
                (i, [0.0, 0.0]),
                (j, [self.apart[i][j].unwrap_or(self.width), 0.0]),
            ]);
        }
        seeds
    }

    /// Lays all points out from a seed; `turn` chooses between two places that fit alike.
    fn lay(&self, figure: &Figure, seed: &[(usize, [f64; 2])], turn: usize) -> Vec<[f64; 2]> {
        let n = figure.points.len();
        let mut at: Vec<Option<[f64; 2]>> = vec![None; n];
        for (i, p) in seed {
            at[*i] = Some(*p);
        }
        for count in 0..n {
            let reach = |i: usize| {
                (0..n).filter(|j| at[*j].is_some() && self.apart[i][*j].is_some()).count()
            };
            // The last of those reached best, so that ties go the other way for the other turn.
            let open = (0..n).filter(|i| at[*i].is_none());
            let Some(next) = open.max_by_key(|i| (reach(*i), n - i)) else { break };
            at[next] = Some(self.place(next, &at, count + turn));
        }
        at.into_iter().map(|p| p.unwrap_or([0.0, 0.0])).collect()
    }

    fn place(&self, next: usize, at: &[Option<[f64; 2]>], turn: usize) -> [f64; 2] {
        let near: Vec<([f64; 2], f64)> = at
            .iter()
            .zip(&self.apart[next])
            .filter_map(|(p, d)| Some(((*p)?, (*d)?)))
            .collect();
        let laid: Vec<[f64; 2]> = at.iter().flatten().copied().collect();
        let middle =
            |axis: usize| laid.iter().map(|p| p[axis]).sum::<f64>() / laid.len().max(1) as f64;
        let angle = 1.0 + 2.399_963 * (next + turn) as f64;
        let way = [libm::cos(angle), libm::sin(angle)];
        match near.as_slice() {
            [] => {
                [middle(0) + 0.4 * self.width * way[0], middle(1) + 0.4 * self.width * way[1]]
            }
            [(p, d)] => [p[0] + d * way[0], p[1] + d * way[1]],
            _ => {
                let misfit = |p: &[f64; 2]| -> f64 {
                    near.iter().map(|(q, d)| (distance(*p, *q) - d).abs()).sum()
                };
                let mut all = Vec::new();
                for (i, a) in near.iter().enumerate() {
                    for b in &near[..i] {
                        all.extend(crossings(*a, *b));
                    }
                }
                if turn % 2 == 1 {
                    all.reverse();
                }
                all.into_iter()
                    .min_by(|p, q| misfit(p).total_cmp(&misfit(q)))
                    .unwrap_or(near[0].0)
            }
        }
    }

    /// All points by classical scaling of the distances, those not read by the shortest way.
    fn scaled(&self) -> Vec<[f64; 2]> {
        let n = self.apart.len();
        let mut way: Vec<Vec<f64>> =
            (0..n)
                .map(|i| {
                    (0..n)
                        .map(|j| {
                            if i == j { 0.0 } else { self.apart[i][j].unwrap_or(f64::INFINITY) }
                        })
                        .collect()
                })
                .collect();
        for k in 0..n {
            for i in 0..n {
                for j in 0..n {
                    let round = way[i][k] + way[k][j];
                    if round < way[i][j] {
                        way[i][j] = round;
                    }
                }
            }
        }
        let square = |i: usize, j: usize| {
            let d = if way[i][j].is_finite() { way[i][j] } else { self.width };
            d * d
        };
        let row: Vec<f64> =
            (0..n).map(|i| (0..n).map(|j| square(i, j)).sum::<f64>() / n as f64).collect();
        let all = row.iter().sum::<f64>() / n as f64;
        let mut centred = Symmetric::zero(n);
        for i in 0..n {
            for j in 0..n {
                centred.add(i, j, -0.5 * (square(i, j) - row[i] - row[j] + all));
            }
        }
        let eigen = centred.eigen();
        let axis = |k: usize, i: usize| {
            eigen
                .len()
                .checked_sub(k)
                .map_or(0.0, |at| eigen[at].1[i] * eigen[at].0.max(0.0).sqrt())
        };
        (0..n).map(|i| [axis(1, i), axis(2, i)]).collect()
    }
}

/// Where two circles cross, or come nearest to each other.
fn crossings((p, r): ([f64; 2], f64), (q, s): ([f64; 2], f64)) -> [[f64; 2]; 2] {
    let d = distance(p, q).max(1e-9);
    let u = [(q[0] - p[0]) / d, (q[1] - p[1]) / d];
    let along = (d * d + r * r - s * s) / (2.0 * d);
    let across = (r * r - along * along).max(0.0).sqrt();
    let foot = [p[0] + along * u[0], p[1] + along * u[1]];
    [
        [foot[0] - across * u[1], foot[1] + across * u[0]],
        [foot[0] + across * u[1], foot[1] - across * u[0]],
    ]
}

/// A fixed sequence that looks like chance, so that the same figure is shaken alike every time.
struct Noise(u64);

impl Noise {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
    }

    fn shake(&mut self, points: &[[f64; 2]], width: f64) -> Vec<[f64; 2]> {
        points
            .iter()
            .map(|p| [p[0] + width * self.next(), p[1] + width * self.next()])
            .collect()
    }
}
