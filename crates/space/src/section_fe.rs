//! Steady heat in a flat section of anything: cables in a conduit, in a jacket, in a clip; by finite elements.
//!
//! div(k grad T) + q = 0,  k dT/dn + h (T - T_air) = 0 or T given at the rim
//!
//! The section is painted: each region lies over those before it. Triangles follow all outlines; with quadratic
//! elements the sides on circles are curved, so that a round core is round (the error falls with the fourth power
//! of the size in the mean temperatures, with the square for straight, linear ones; both tested).
//!
//! Range   Outlines that neither cross nor touch; a region of air is a material like others, see [`air_gap_w_mk`].
//! Source  Fourier's law; elements of any textbook. Held against shape factors and independent finite elements.
//! Caveat  Air is not followed as it moves: its conduction is raised by a published relation for the gap.

use std::collections::BTreeMap;

use crate::fronts::{Elements, solve};
use crate::mesh::{Mesh, Side};
use crate::path::Path;
use crate::segment::Point;

/// The edge of a region.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// A circle: centre and radius.
    Circle(Point, f64),
    /// Corners in order.
    Polygon(Vec<Point>),
}

impl Outline {
    fn path(&self) -> Path {
        match self {
            Outline::Circle(centre, radius_mm) => Path::circle(*centre, *radius_mm),
            Outline::Polygon(corners) => Path::polygon(corners),
        }
    }
}

/// A region of one material.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// Its edge.
    pub outline: Outline,
    /// Conductivity, W/mK.
    pub conductivity_w_mk: f64,
    /// Heat made in it, evenly, W per metre of cable.
    pub heat_w_per_m: f64,
}

/// What the rim of the section meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rim {
    /// Held at a temperature.
    Held(f64),
    /// Coefficient, W/m2K, and air.
    Film(f64, f64),
}

/// A section.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// The whole first, then what lies in it, each over those before.
    pub regions: Vec<Region>,
    /// The rim of the first.
    pub rim: Rim,
}

/// Straight triangles with linear, or curved ones with quadratic temperatures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// Three unknowns a triangle.
    Linear,
    /// Six.
    Quadratic,
}

/// A section cut into triangles.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Places of the unknowns, mm.
    pub nodes: Vec<Point>,
    /// By triangle: its corners, then the middles of the sides opposite to none, between 0-1, 1-2 and 2-0.
    pub triangles: Vec<Vec<usize>>,
    /// By triangle: its region.
    pub region: Vec<usize>,
    /// Sides of the rim: two ends, and the middle with quadratic elements.
    pub rim: Vec<Vec<usize>>,
}

/// Temperatures of a section.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// At every node.
    pub temperature_c: Vec<f64>,
    /// Mean over each region, without what lies over it.
    pub mean_c: Vec<f64>,
    /// What leaves at the rim, W/m.
    pub out_w_per_m: f64,
}

/// Cuts a section up; none where outlines cross or touch, or it would take more than `nodes_max` corners.
pub fn cut(section: &Section, size_mm: f64, order: Order, nodes_max: usize) -> Option<Cut> {
    let [whole, inner @ ..] = section.regions.as_slice() else { return None };
    let paths: Vec<Path> = inner.iter().map(|r| r.outline.path()).collect();
    let (mesh, sides) = Mesh::divided(&whole.outline.path(), &paths, size_mm, nodes_max)?;
    let mut nodes = mesh.nodes;
    // Corners put on a chord when the mesh was refined belong on the circle.
    for side in &sides {
        if let Outline::Circle(centre, radius_mm) = section.regions[side.path].outline {
            for n in side.ends {
                nodes[n] = on_circle(nodes[n], centre, radius_mm);
            }
        }
    }
    let on: BTreeMap<(usize, usize), usize> = sides
        .iter()
        .map(|Side { ends: [a, b], path }| ((*a.min(b), *a.max(b)), *path))
        .collect();
    let all: Vec<Path> = section.regions.iter().map(|r| r.outline.path()).collect();
    let mut made = Cut { nodes, triangles: Vec::new(), region: Vec::new(), rim: Vec::new() };
    let mut middles: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for corners in mesh.triangles {
        let at = [0, 1].map(|k| corners.iter().map(|n| made.nodes[*n][k]).sum::<f64>() / 3.0);
        made.region
            .push((0..all.len()).rev().find(|r| all[*r].depth_mm(at) > 0.0).unwrap_or(0));
        let mut triangle = corners.to_vec();
        if order == Order::Quadratic {
            for k in 0..3 {
                let (a, b) = (corners[k], corners[(k + 1) % 3]);
                let key = (a.min(b), a.max(b));
                let middle = *middles.entry(key).or_insert_with(|| {
                    let straight = [0, 1].map(|k| 0.5 * (made.nodes[a][k] + made.nodes[b][k]));
                    let place = match on.get(&key).map(|p| &section.regions[*p].outline) {
                        Some(Outline::Circle(centre, radius_mm)) => {
                            on_circle(straight, *centre, *radius_mm)
                        }
                        _ => straight,
                    };
                    made.nodes.push(place);
                    made.nodes.len() - 1
                });
                triangle.push(middle);
            }
        }
        made.triangles.push(triangle);
    }
    for Side { ends: [a, b], .. } in sides.iter().filter(|s| s.path == 0) {
        let mut side = vec![*a, *b];
        side.extend(middles.get(&(*a.min(b), *a.max(b))));
        made.rim.push(side);
    }
    Some(made)
}

fn on_circle(p: Point, centre: Point, radius_mm: f64) -> Point {
    let (x, y) = (p[0] - centre[0], p[1] - centre[1]);
    let scale = radius_mm / (x * x + y * y).sqrt();
    [centre[0] + x * scale, centre[1] + y * scale]
}

/// Places and weights over a triangle, exact to the fourth power (six points; memory, checked by a test).
const PLACES: [([f64; 3], f64); 6] = {
    const A: f64 = 0.445_948_490_915_965;
    const B: f64 = 0.091_576_213_509_771;
    const WA: f64 = 0.223_381_589_678_011;
    const WB: f64 = 0.109_951_743_655_322;
    [
        ([A, A, 1.0 - 2.0 * A], WA),
        ([A, 1.0 - 2.0 * A, A], WA),
        ([1.0 - 2.0 * A, A, A], WA),
        ([B, B, 1.0 - 2.0 * B], WB),
        ([B, 1.0 - 2.0 * B, B], WB),
        ([1.0 - 2.0 * B, B, B], WB),
    ]
};

/// Temperatures; none where the section is held by nothing.
pub fn temperatures(section: &Section, cut: &Cut) -> Option<Solved> {
    let mut areas = vec![0.0; section.regions.len()];
    for (triangle, region) in cut.triangles.iter().zip(&cut.region) {
        areas[*region] += area_mm2(cut, triangle);
    }
    let unknown = unknowns(section, cut);
    let count = unknown.iter().flatten().count();
    let held_c = match section.rim {
        Rim::Held(c) => c,
        Rim::Film(..) => 0.0,
    };
    let mut elements = Elements::default();
    let mut right = vec![0.0; count];
    let mut scratch = Scratch::default();
    for (triangle, region) in cut.triangles.iter().zip(&cut.region) {
        let it = &section.regions[*region];
        let (stiff, mass) = integrals(cut, triangle);
        let density = it.heat_w_per_m / areas[*region];
        scratch.begin();
        for (i, node) in triangle.iter().enumerate() {
            let Some(u) = unknown[*node] else { continue };
            right[u] += density * mass[i];
            for (j, other) in triangle.iter().enumerate() {
                let value = it.conductivity_w_mk * stiff[i * 6 + j];
                match unknown[*other] {
                    Some(_) => scratch.matrix.push(value),
                    None => right[u] -= value * held_c,
                }
            }
            scratch.unknowns.push(u);
        }
        if !scratch.unknowns.is_empty() {
            elements.push(&scratch.unknowns, &scratch.matrix, corner_of(cut, triangle));
        }
    }
    if let Rim::Film(coefficient, air_c) = section.rim {
        for side in &cut.rim {
            film(cut, side, coefficient * 1e-3, air_c, &unknown, &mut elements, &mut right);
        }
    }
    let found = solve(&elements, right)?;
    let temperature_c: Vec<f64> =
        unknown.iter().map(|u| u.map_or(held_c, |u| found[u])).collect();
    Some(summary(section, cut, temperature_c, &areas))
}

/// The lower left of what an element spans: halved by that, the cut between two halves is one row of nodes, not a
/// zigzag, and there is half as much to eliminate.
fn corner_of(cut: &Cut, nodes: &[usize]) -> Point {
    nodes.iter().fold([f64::INFINITY; 2], |low, n| {
        let p = cut.nodes[*n];
        [low[0].min(p[0]), low[1].min(p[1])]
    })
}

#[derive(Default)]
struct Scratch {
    unknowns: Vec<usize>,
    matrix: Vec<f64>,
}

impl Scratch {
    fn begin(&mut self) {
        self.unknowns.clear();
        self.matrix.clear();
    }
}

/// By node: its unknown; none where it is held, or belongs to no triangle.
fn unknowns(section: &Section, cut: &Cut) -> Vec<Option<usize>> {
    let mut free = vec![false; cut.nodes.len()];
    cut.triangles.iter().flatten().for_each(|n| free[*n] = true);
    if let Rim::Held(_) = section.rim {
        cut.rim.iter().flatten().for_each(|n| free[*n] = false);
    }
    let mut next = 0;
    free.iter()
        .map(|free| {
            free.then(|| {
                next += 1;
                next - 1
            })
        })
        .collect()
}

fn area_mm2(cut: &Cut, triangle: &[usize]) -> f64 {
    match triangle {
        [a, b, c] => {
            let [a, b, c] = [a, b, c].map(|n| cut.nodes[*n]);
            0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]))
        }
        curved => integrals(cut, curved).1.iter().sum(),
    }
}

/// Of one triangle: int grad Ni grad Nj, six a row, and int Ni in mm2.
fn integrals(cut: &Cut, triangle: &[usize]) -> ([f64; 36], [f64; 6]) {
    let (mut stiff, mut mass) = ([0.0; 36], [0.0; 6]);
    let corner = |k: usize| cut.nodes[triangle[k]];
    if triangle.len() == 3 {
        let [a, b, c] = [corner(0), corner(1), corner(2)];
        let twice = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
        let slope = [
            [b[1] - c[1], c[0] - b[0]],
            [c[1] - a[1], a[0] - c[0]],
            [a[1] - b[1], b[0] - a[0]],
        ];
        for i in 0..3 {
            mass[i] = twice / 6.0;
            for j in 0..3 {
                let dot = slope[i][0] * slope[j][0] + slope[i][1] * slope[j][1];
                stiff[i * 6 + j] = dot / (2.0 * twice);
            }
        }
        return (stiff, mass);
    }
    for (l, weight) in PLACES {
        let (shape, by_l) = quadratic(l);
        // From two of the three area coordinates to x and y.
        let mut jacobian = [[0.0; 2]; 2];
        for (k, d) in by_l.iter().enumerate() {
            for (axis, row) in jacobian.iter_mut().enumerate() {
                row[0] += corner(k)[axis] * (d[0] - d[2]);
                row[1] += corner(k)[axis] * (d[1] - d[2]);
            }
        }
        let det = jacobian[0][0] * jacobian[1][1] - jacobian[0][1] * jacobian[1][0];
        let part = 0.5 * weight * det;
        let slope = by_l.map(|d| {
            let (u, v) = (d[0] - d[2], d[1] - d[2]);
            [
                (jacobian[1][1] * u - jacobian[1][0] * v) / det,
                (jacobian[0][0] * v - jacobian[0][1] * u) / det,
            ]
        });
        for i in 0..6 {
            mass[i] += part * shape[i];
            for j in 0..6 {
                stiff[i * 6 + j] +=
                    part * (slope[i][0] * slope[j][0] + slope[i][1] * slope[j][1]);
            }
        }
    }
    (stiff, mass)
}

/// The six functions of a quadratic triangle and their slopes by each area coordinate.
fn quadratic(l: [f64; 3]) -> ([f64; 6], [[f64; 3]; 6]) {
    let (mut shape, mut slope) = ([0.0; 6], [[0.0; 3]; 6]);
    for k in 0..3 {
        shape[k] = l[k] * (2.0 * l[k] - 1.0);
        slope[k][k] = 4.0 * l[k] - 1.0;
        let next = (k + 1) % 3;
        shape[3 + k] = 4.0 * l[k] * l[next];
        slope[3 + k][k] = 4.0 * l[next];
        slope[3 + k][next] = 4.0 * l[k];
    }
    (shape, slope)
}

/// Gauss's three places between -1 and 1.
const GAUSS: [(f64, f64); 3] = [
    (-0.774_596_669_241_483_4, 5.0 / 9.0),
    (0.0, 8.0 / 9.0),
    (0.774_596_669_241_483_4, 5.0 / 9.0),
];

/// The functions along a side and the length that goes with each of Gauss's places, mm.
fn along(cut: &Cut, side: &[usize]) -> [([f64; 3], f64); 3] {
    GAUSS.map(|(s, weight)| {
        let (shape, slope) = match side.len() {
            2 => ([0.5 * (1.0 - s), 0.5 * (1.0 + s), 0.0], [-0.5, 0.5, 0.0]),
            _ => (
                [0.5 * s * (s - 1.0), 0.5 * s * (s + 1.0), 1.0 - s * s],
                [s - 0.5, s + 0.5, -2.0 * s],
            ),
        };
        let mut way = [0.0; 2];
        for (k, node) in side.iter().enumerate() {
            way[0] += slope[k] * cut.nodes[*node][0];
            way[1] += slope[k] * cut.nodes[*node][1];
        }
        (shape, weight * (way[0] * way[0] + way[1] * way[1]).sqrt())
    })
}

/// A side of the rim in air; `coefficient` in W/mK per mm.
fn film(
    cut: &Cut,
    side: &[usize],
    coefficient: f64,
    air_c: f64,
    unknown: &[Option<usize>],
    elements: &mut Elements,
    right: &mut [f64],
) {
    let n = side.len();
    let mut matrix = vec![0.0; n * n];
    let places: Vec<usize> = side.iter().filter_map(|node| unknown[*node]).collect();
    if places.len() != n {
        return;
    }
    for (shape, length) in along(cut, side) {
        for i in 0..n {
            right[places[i]] += coefficient * length * air_c * shape[i];
            for j in 0..n {
                matrix[i * n + j] += coefficient * length * shape[i] * shape[j];
            }
        }
    }
    elements.push(&places, &matrix, corner_of(cut, side));
}

fn summary(section: &Section, cut: &Cut, temperature_c: Vec<f64>, areas: &[f64]) -> Solved {
    let mut mean_c = vec![0.0; areas.len()];
    for (triangle, region) in cut.triangles.iter().zip(&cut.region) {
        let (_, mass) = integrals(cut, triangle);
        for (node, m) in triangle.iter().zip(mass) {
            mean_c[*region] += m * temperature_c[*node] / areas[*region];
        }
    }
    let out_w_per_m = match section.rim {
        Rim::Held(_) => section.regions.iter().map(|r| r.heat_w_per_m).sum(),
        Rim::Film(coefficient, air_c) => {
            let mut sum = 0.0;
            for side in &cut.rim {
                for (shape, length) in along(cut, side) {
                    let t: f64 =
                        side.iter().zip(shape).map(|(n, s)| temperature_c[*n] * s).sum();
                    sum += coefficient * 1e-3 * length * (t - air_c);
                }
            }
            sum
        }
    };
    Solved { temperature_c, mean_c, out_w_per_m }
}

/// Conductivity that stands for a gap of air: still air, what its rising adds, and radiation across it.
///
/// k = k_air max(1, 0.11 Ra^0.29) + 4 e sigma T^3 gap,  1/e = 2/emissivity - 1
///
/// Raithby's and Hollands' form for annuli (memory) as a power law; gaps up to some centimetres. `rayleigh_per_k`
/// is g beta gap^3 / (nu alpha), which the caller knows from the air.
pub fn air_gap_w_mk(
    air_w_mk: f64,
    rayleigh: f64,
    gap_mm: f64,
    mean_c: f64,
    emissivity: f64,
) -> f64 {
    let t = mean_c + 273.15;
    let across = 1.0 / (2.0 / emissivity - 1.0);
    let rising = 0.11 * libm::pow(rayleigh.max(0.0), 0.29);
    air_w_mk * rising.max(1.0) + 4.0 * across * 5.670_374_419e-8 * t * t * t * gap_mm * 1e-3
}

#[cfg(test)]
mod tests;
