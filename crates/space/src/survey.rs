//! Where the points of a plane figure lie, from distances read between them, by least squares.
//!
//! A reading l of a quantity f(x) has standard deviation s. Sought are the positions, diameters and edges
//! x that make
//!
//! chi2 = sum ((l - f(x)) / s)^2              least, by Levenberg's and Marquardt's damped steps;
//! C    = (A' W A)^-1,  W = diag(1 / s^2)     their covariance at the solution, A = df/dx;
//! r    = 1 - a C a' / s^2                    each reading's redundancy: how far others check it;
//! w    = (l - f(x)) / (s sqrt(r))            its normalised residual, standard normal if all is well.
//!
//! A reading with |w| > 3.29 (one good one in a thousand) is suspect; each such one is left out in turn and
//! the figure solved anew, and the one whose absence leaves the least chi2 is named. Where A has no full
//! rank the null vectors say which points are loose, and of the readings not taken yet the one that meets
//! the null space best is proposed, until none is left.
//!
//! The frame: points held where they are stated, if there are any; otherwise one point is the origin, another
//! lies on +x, and the first that stands off that line has y > 0 unless a hint says otherwise.
//!
//! Range    2 to 60 points, up to 12 edges, up to 600 readings; lengths in millimetres.
//! Source   the textbook method of adjusting observations (Gauss-Markov model); the test of single
//!          readings is Baarda's (A testing procedure for use in geodetic networks, 1968; memory).
//! Caveat   deviations are taken as stated, not estimated from the residuals. Readings are taken as
//!          independent. A reading that nothing checks (r near 0) may be wrong and no test can tell.

mod model;
mod percentile;
mod start;
mod judge;

use crate::dense::Symmetric;
use model::{Layout, State};

/// The most points.
pub const POINTS_MAX: usize = 60;
/// The most edges.
pub const EDGES_MAX: usize = 12;
/// The most readings.
pub const READINGS_MAX: usize = 600;
/// Normalised residual above which a reading is suspect: two-sided, one in a thousand.
pub const NORMALISED_MAX: f64 = 3.29;
/// Share of good surveys whose chi-square stays below its limit.
pub const CONFIDENCE: f64 = 0.999;
/// Redundancy below which a reading counts as unchecked.
const REDUNDANCY_LEAST: f64 = 1e-3;
/// Share of the largest eigenvalue (of columns scaled to one) below which a direction is loose.
const LOOSE: f64 = 1e-9;

/// A point of the figure.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// Where it is held: stated, not to be moved.
    pub held: Option<[f64; 2]>,
    /// Where it lies roughly.
    pub near: Option<[f64; 2]>,
}

/// A straight edge, with every point of the figure on one side of it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Edge {
    /// Direction from the points to it, roughly.
    pub toward: Option<[f64; 2]>,
}

/// What is read. Points and edges by their index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Centre to centre.
    Centres(usize, usize),
    /// Over the far sides of two holes: the centres' distance and both radii.
    Outside(usize, usize),
    /// Between the near sides of two holes: the centres' distance less both radii.
    Inside(usize, usize),
    /// Across a hole.
    Diameter(usize),
    /// From a centre to an edge.
    ToEdge(usize, usize),
    /// From the side of a hole that is nearest to an edge.
    NearSide(usize, usize),
    /// From the side of a hole that is farthest from an edge.
    FarSide(usize, usize),
    /// From a point square to the line through two others.
    ToLine(usize, [usize; 2]),
    /// The x of a point.
    X(usize),
    /// The y of a point.
    Y(usize),
}

/// One reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What was read.
    pub kind: Kind,
    /// What the tool showed.
    pub value_mm: f64,
    /// Its standard deviation.
    pub sigma_mm: f64,
}

/// A figure to be solved.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figure {
    /// Points.
    pub points: Vec<Point>,
    /// Edges.
    pub edges: Vec<Edge>,
    /// Readings.
    pub readings: Vec<Reading>,
    /// Which point is the origin and which lies on +x, where no place is held or read; the first two
    /// points where absent.
    pub axes: Option<[usize; 2]>,
}

/// Why a figure is not solved at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// Fewer than two points.
    TooFew,
    /// More points, edges or readings than are taken.
    TooMany,
    /// The axes name one point twice, or a point there is not.
    Axes,
    /// A number is no number, a deviation not positive, or a distance negative: which reading.
    Number(usize),
    /// A reading goes from a point to itself, or to a point or edge there is not: which reading.
    Target(usize),
}

/// A solved point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solved {
    /// Position.
    pub x_mm: f64,
    /// Position.
    pub y_mm: f64,
    /// Diameter, if a reading speaks of it and it is not loose.
    pub diameter_mm: Option<f64>,
    /// Covariance: xx, xy, yy; all zero for a held point.
    pub covariance_mm2: [f64; 3],
    /// Standard deviation of the diameter.
    pub diameter_sigma_mm: Option<f64>,
    /// Whether the readings do not hold its position fast.
    pub loose: bool,
}

impl Solved {
    /// Standard deviation along the worst direction: the long half-axis of the error ellipse.
    pub fn sigma_mm(&self) -> f64 {
        let [xx, xy, yy] = self.covariance_mm2;
        let half = (xx - yy) / 2.0;
        ((xx + yy) / 2.0 + (half * half + xy * xy).sqrt()).max(0.0).sqrt()
    }
}

/// A solved edge: the points p with (p - origin) . normal = offset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolvedEdge {
    /// Unit vector away from the points.
    pub normal: [f64; 2],
    /// Distance from the frame's origin along it.
    pub offset_mm: f64,
    /// Whether the readings do not hold it fast.
    pub loose: bool,
}

/// How a reading fits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// What the solved figure would show.
    pub fitted_mm: f64,
    /// Reading less fitted.
    pub residual_mm: f64,
    /// How far other readings check it, 0 to 1.
    pub redundancy: f64,
    /// The residual over its own standard deviation; none where nothing checks it.
    pub normalised: Option<f64>,
}

/// The reading that does not fit the others.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Its index.
    pub reading: usize,
    /// What the others say it should have been.
    pub should_mm: f64,
    /// Standard deviation of that.
    pub should_sigma_mm: f64,
    /// Readings that are as good a guess.
    pub alike: Vec<usize>,
    /// Whether all is consistent once it is left out.
    pub cures: bool,
}

/// A solved figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjusted {
    /// Points, in order.
    pub points: Vec<Solved>,
    /// Edges, in order.
    pub edges: Vec<SolvedEdge>,
    /// Fits, one a reading.
    pub fits: Vec<Fit>,
    /// Sum of squared residuals over their deviations.
    pub chi_square: f64,
    /// Readings more than needed.
    pub freedom: usize,
    /// The value chi-square stays below in [`CONFIDENCE`] of good surveys; none without freedom.
    pub chi_square_limit: Option<f64>,
    /// The reading that does not fit.
    pub suspect: Option<Suspect>,
    /// Points that fit as well at another place, mirrored.
    pub mirrored: Vec<usize>,
    /// Edges that fit as well on another side.
    pub mirrored_edges: Vec<usize>,
    /// Readings that would hold what is loose or mirrored, best first.
    pub missing: Vec<Kind>,
}

impl Adjusted {
    /// Whether the readings agree with each other as well as their deviations promise.
    pub fn consistent(&self) -> bool {
        self.chi_square_limit.is_none_or(|limit| self.chi_square <= limit)
            && self.fits.iter().all(|f| f.normalised.is_none_or(|w| w.abs() <= NORMALISED_MAX))
    }
}

/// Solves a figure.
pub fn adjust(figure: &Figure) -> Result<Adjusted, Refused> {
    sound(figure)?;
    let layout = Layout::of(figure);
    let state = start::solve(figure, &layout);
    let mut adjusted = analyse(figure, &layout, &state);
    if !adjusted.consistent() {
        adjusted.suspect = judge::suspect(figure, &state, &adjusted);
    }
    let mirror = judge::mirrored(figure, &layout, &state);
    adjusted.missing = judge::missing(figure, &layout, &state, &mirror);
    adjusted.mirrored = mirror.points;
    adjusted.mirrored_edges = mirror.edges;
    Ok(adjusted)
}

/// What the solved figure would show for a reading that was not taken.
pub fn shown(adjusted: &Adjusted, kind: Kind) -> f64 {
    model::shown(&State::of(adjusted), kind)
}

fn sound(figure: &Figure) -> Result<(), Refused> {
    let (points, edges) = (figure.points.len(), figure.edges.len());
    if points < 2 {
        return Err(Refused::TooFew);
    }
    if points > POINTS_MAX || edges > EDGES_MAX || figure.readings.len() > READINGS_MAX {
        return Err(Refused::TooMany);
    }
    if figure.axes.is_some_and(|[o, x]| o == x || o.max(x) >= points) {
        return Err(Refused::Axes);
    }
    for (i, reading) in figure.readings.iter().enumerate() {
        let positive =
            matches!(reading.kind, Kind::X(_) | Kind::Y(_)) || reading.value_mm >= 0.0;
        if !(positive
            && reading.value_mm.abs() < 1e6
            && reading.sigma_mm > 1e-6
            && reading.sigma_mm < 1e6)
        {
            return Err(Refused::Number(i));
        }
        let good = match reading.kind {
            Kind::Centres(a, b) | Kind::Outside(a, b) | Kind::Inside(a, b) => {
                a != b && a < points && b < points
            }
            Kind::Diameter(a) | Kind::X(a) | Kind::Y(a) => a < points,
            Kind::ToEdge(a, e) | Kind::NearSide(a, e) | Kind::FarSide(a, e) => {
                a < points && e < edges
            }
            Kind::ToLine(a, [b, c]) => a != b && b != c && a != c && a.max(b).max(c) < points,
        };
        if !good {
            return Err(Refused::Target(i));
        }
    }
    Ok(())
}

/// Covariance, redundancies and what is loose, at a solution.
fn analyse(figure: &Figure, layout: &Layout, state: &State) -> Adjusted {
    let normal = layout.normal(figure, state);
    let spectrum = Spectrum::of(&normal);
    let mut fits = Vec::new();
    for reading in &figure.readings {
        let row = layout.row(state, reading.kind);
        let fitted_mm = model::shown(state, reading.kind);
        let residual_mm = reading.value_mm - fitted_mm;
        let variance = reading.sigma_mm * reading.sigma_mm;
        let redundancy = (1.0 - spectrum.covariance.form(&row) / variance).clamp(0.0, 1.0);
        let checked = redundancy > REDUNDANCY_LEAST;
        let normalised = checked.then(|| residual_mm / (reading.sigma_mm * redundancy.sqrt()));
        fits.push(Fit { fitted_mm, residual_mm, redundancy, normalised });
    }
    let rank = layout.size - spectrum.null.len();
    let freedom = figure.readings.len().saturating_sub(rank);
    Adjusted {
        points: layout.points(state, &spectrum),
        edges: layout.edges(state, &spectrum),
        fits,
        chi_square: model::chi_square(figure, state),
        freedom,
        chi_square_limit: (freedom > 0).then(|| percentile::chi_square_limit(freedom)),
        suspect: None,
        mirrored: Vec::new(),
        mirrored_edges: Vec::new(),
        missing: Vec::new(),
    }
}

/// The normal matrix taken apart: covariance of what is held, null vectors of what is loose.
#[derive(Clone, Debug)]
struct Spectrum {
    covariance: Symmetric,
    null: Vec<Vec<f64>>,
}

impl Spectrum {
    fn of(normal: &Symmetric) -> Spectrum {
        let n = normal.size;
        // Columns are scaled to one, so that a tape beside a calliper does not look like looseness.
        let scale: Vec<f64> = (0..n)
            .map(|i| if normal.at(i, i) > 0.0 { 1.0 / normal.at(i, i).sqrt() } else { 1.0 })
            .collect();
        let mut scaled = Symmetric::zero(n);
        for i in 0..n {
            for j in 0..n {
                scaled.add(i, j, normal.at(i, j) * scale[i] * scale[j]);
            }
        }
        let eigen = scaled.eigen();
        let largest = eigen.last().map_or(1.0, |(value, _)| value.max(f64::MIN_POSITIVE));
        let mut covariance = Symmetric::zero(n);
        let mut null = Vec::new();
        for (value, vector) in eigen {
            let mut real: Vec<f64> = vector.iter().zip(&scale).map(|(v, s)| v * s).collect();
            if value > LOOSE * largest {
                for i in 0..n {
                    for j in 0..n {
                        covariance.add(i, j, real[i] * real[j] / value);
                    }
                }
            } else {
                let length = real.iter().map(|v| v * v).sum::<f64>().sqrt();
                real.iter_mut().for_each(|v| *v /= length);
                null.push(real);
            }
        }
        Spectrum { covariance, null }
    }

    /// Whether an unknown moves in any null vector.
    fn moves(&self, unknown: Option<usize>) -> bool {
        unknown.is_some_and(|u| self.null.iter().any(|v| v[u].abs() > 1e-4))
    }
}

#[cfg(test)]
mod tests;
