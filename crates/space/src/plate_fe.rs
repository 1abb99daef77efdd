//! Bending of a flat plate of any outline, by finite elements.
//!
//! Triangles with a deflection w and two rotations β at each corner, linear in β plus one bulge of rotation
//! along each side, which the side's own equilibrium settles (element DKMT):
//!
//! Δβ = −3/(2 L (1 + φ)) [w_j − w_i + ½ L (β_si + β_sj)],  φ = 2/(κ (1 − ν)) (t/L)²,  κ = 5/6
//! γ_s = −⅔ φ Δβ        along each side; linear between the corners
//! U = ½ ∫ χᵀ D χ + ½ ∫ κ G t γᵀ γ
//!
//! A thin plate makes φ vanish and leaves the discrete Kirchhoff triangle; a thick one shears. Constant
//! curvature is met exactly at any thickness, the error falls with the square of the size (both tested).
//! Weighed against the discrete Kirchhoff triangle alone, which is as good for thin covers: an entry plate is
//! a fifth as thick as the way between its bolts, where shear adds several per cent to the deflection.
//!
//! Range   Deflection below about half the thickness; linear elastic; thickness below about half the span.
//! Source  Katili 1993 (element, memory; derived again here from the side's equilibrium); Batoz, Bathe and Ho
//!         1980 (its thin limit, memory). Held against closed forms of Roark in the tests.
//! Caveat  Contact is not modelled: a plate that bears on its housing outside its bolts opens less than this.

use crate::mesh::Mesh;
use crate::segment::{Point, apart_mm};
use crate::skyline::{Skyline, order};

/// What a plate is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elastic {
    /// Young's modulus.
    pub modulus_mpa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
}

/// How a corner of the mesh is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hold {
    /// It neither moves nor turns.
    Clamped,
    /// It does not move.
    Supported,
    /// A spring against moving, N/mm.
    Spring(f64),
}

/// Share of the section that carries shear.
const KAPPA: f64 = 5.0 / 6.0;

/// Three numbers at each of three corners: deflection, rotation about y, rotation about x.
type Row = [f64; 9];

/// Shape and stiffness of one triangle.
struct Element {
    area_mm2: f64,
    /// Slopes of the corner functions.
    slope: [[f64; 2]; 3],
    /// Direction and length of the side that leaves each corner.
    sides: [(f64, f64, f64); 3],
}

impl Element {
    fn new(corners: [Point; 3], area_mm2: f64) -> Element {
        let [p, q, r] = corners;
        let double = 2.0 * area_mm2;
        let slope = [(q, r), (r, p), (p, q)]
            .map(|(a, b)| [(a[1] - b[1]) / double, (b[0] - a[0]) / double]);
        let sides = [(p, q), (q, r), (r, p)].map(|(a, b)| {
            let length = apart_mm(a, b);
            ((b[0] - a[0]) / length, (b[1] - a[1]) / length, length)
        });
        Element { area_mm2, slope, sides }
    }

    /// The bulge of rotation of each side from the nine unknowns, and φ of each side.
    fn bulges(&self, poisson: f64, thickness_mm: f64) -> ([Row; 3], [f64; 3]) {
        let (mut rows, mut phis) = ([[0.0; 9]; 3], [0.0; 3]);
        for (i, (c, s, length)) in self.sides.into_iter().enumerate() {
            let j = (i + 1) % 3;
            let slender = thickness_mm / length;
            let phi = 2.0 / (KAPPA * (1.0 - poisson)) * slender * slender; // 2/(κ (1 − ν)) (t/L)²
            let factor = -3.0 / (2.0 * length * (1.0 + phi)); // −3/(2 L (1 + φ))
            rows[i][3 * i] = -factor;
            rows[i][3 * j] = factor;
            for corner in [i, j] {
                rows[i][3 * corner + 1] = factor * length / 2.0 * c;
                rows[i][3 * corner + 2] = factor * length / 2.0 * s;
            }
            phis[i] = phi;
        }
        (rows, phis)
    }

    /// Curvatures χx, χy, χxy at a point given by its shares of the corners.
    fn curvature(&self, at: [f64; 3], bulges: &[Row; 3]) -> [Row; 3] {
        let mut rows = [[0.0; 9]; 3];
        for (i, [dx, dy]) in self.slope.into_iter().enumerate() {
            rows[0][3 * i + 1] += dx;
            rows[1][3 * i + 2] += dy;
            rows[2][3 * i + 1] += dy;
            rows[2][3 * i + 2] += dx;
        }
        for (i, (c, s, _)) in self.sides.into_iter().enumerate() {
            let j = (i + 1) % 3;
            // P = 4 N_i N_j
            let slope =
                |axis: usize| 4.0 * (self.slope[i][axis] * at[j] + at[i] * self.slope[j][axis]);
            let (px, py) = (slope(0), slope(1));
            for (k, b) in bulges[i].iter().enumerate() {
                rows[0][k] += px * c * b;
                rows[1][k] += py * s * b;
                rows[2][k] += (py * c + px * s) * b;
            }
        }
        rows
    }

    /// Shear γx, γy at each corner, from the sides that meet there.
    fn shears(&self, bulges: &[Row; 3], phis: [f64; 3]) -> [[Row; 2]; 3] {
        let along = |side: usize, k: usize| -2.0 / 3.0 * phis[side] * bulges[side][k]; // −⅔ φ Δβ
        let mut shears = [[[0.0; 9]; 2]; 3];
        for (i, shear) in shears.iter_mut().enumerate() {
            let before = (i + 2) % 3;
            let ((c1, s1, _), (c2, s2, _)) = (self.sides[before], self.sides[i]);
            let wedge = c1 * s2 - c2 * s1;
            let both = |k: usize| (along(before, k), along(i, k));
            let across = |k: usize| (s2 * both(k).0 - s1 * both(k).1) / wedge;
            let up = |k: usize| (c1 * both(k).1 - c2 * both(k).0) / wedge;
            *shear = [std::array::from_fn(across), std::array::from_fn(up)];
        }
        shears
    }

    fn stiffness(&self, elastic: &Elastic, thickness_mm: f64) -> [Row; 9] {
        let Elastic { modulus_mpa: e, poisson: nu } = *elastic;
        let t = thickness_mm;
        let d = e * t * t * t / (12.0 * (1.0 - nu * nu)); // E t³/(12 (1 − ν²))
        let shear = KAPPA * e / (2.0 * (1.0 + nu)) * t; // κ G t
        let (bulges, phis) = self.bulges(nu, t);
        let corners = self.shears(&bulges, phis);
        let mut k = [[0.0; 9]; 9];
        // Curvature and shear are linear, so the three middles of the sides give the integral exactly.
        for at in [[0.5, 0.5, 0.0], [0.0, 0.5, 0.5], [0.5, 0.0, 0.5]] {
            let weight = self.area_mm2 / 3.0;
            let [cx, cy, cxy] = self.curvature(at, &bulges);
            let mut gamma = [[0.0; 9]; 2];
            for (share, corner) in at.iter().zip(&corners) {
                for axis in 0..2 {
                    for (sum, value) in gamma[axis].iter_mut().zip(corner[axis]) {
                        *sum += share * value;
                    }
                }
            }
            for a in 0..9 {
                for b in 0..9 {
                    let bending = cx[a] * (cx[b] + nu * cy[b])
                        + cy[a] * (cy[b] + nu * cx[b])
                        + cxy[a] * cxy[b] * (1.0 - nu) / 2.0;
                    let shearing = gamma[0][a] * gamma[0][b] + gamma[1][a] * gamma[1][b];
                    k[a][b] += weight * (d * bending + shear * shearing);
                }
            }
        }
        k
    }
}

/// Deflection of every corner of the mesh, mm, in the direction of the forces.
///
/// `thickness_mm` is by triangle, `forces_n` by corner. None where the plate is not held, or the mesh is empty.
pub fn deflections_mm(
    mesh: &Mesh,
    elastic: &Elastic,
    thickness_mm: &[f64],
    holds: &[(usize, Hold)],
    forces_n: &[f64],
) -> Option<Vec<f64>> {
    assert_eq!(thickness_mm.len(), mesh.triangles.len());
    assert_eq!(forces_n.len(), mesh.nodes.len());
    assert!(elastic.modulus_mpa > 0.0 && (0.0..0.5).contains(&elastic.poisson));
    if mesh.triangles.is_empty() {
        return None;
    }
    let pairs: Vec<(usize, usize)> = mesh.edges().iter().map(|e| (e.0, e.1)).collect();
    let place = order(mesh.nodes.len(), &pairs);
    let mut stiffness = empty(mesh, &pairs, &place);
    for (triangle, t) in mesh.triangles.iter().zip(thickness_mm) {
        assert!(*t > 0.0);
        let element = Element::new(triangle.map(|n| mesh.nodes[n]), mesh.area_mm2(*triangle));
        let k = element.stiffness(elastic, *t);
        let unknown = |a: usize| 3 * place[triangle[a / 3]] + a % 3;
        for (a, row) in k.iter().enumerate() {
            for (b, value) in row.iter().enumerate() {
                stiffness.add(unknown(a), unknown(b), *value);
            }
        }
    }
    // What must not move is held by springs far stiffer than the plate.
    let thickest = thickness_mm.iter().copied().fold(0.0, f64::max);
    let fast = 1e8 * elastic.modulus_mpa * thickest;
    for (node, hold) in holds {
        let row = 3 * place[*node];
        let (push, turn) = match hold {
            Hold::Clamped => (fast, fast),
            Hold::Supported => (fast, 0.0),
            Hold::Spring(n_per_mm) => (*n_per_mm, 0.0),
        };
        stiffness.add(row, row, push);
        stiffness.add(row + 1, row + 1, turn);
        stiffness.add(row + 2, row + 2, turn);
    }
    let mut right = vec![0.0; 3 * mesh.nodes.len()];
    for (node, force) in forces_n.iter().enumerate() {
        right[3 * place[node]] = *force;
    }
    let moved = stiffness.solve(right)?;
    Some((0..mesh.nodes.len()).map(|node| moved[3 * place[node]]).collect())
}

/// A stiffness matrix of zeros that has room for every pair of neighbours.
fn empty(mesh: &Mesh, pairs: &[(usize, usize)], place: &[usize]) -> Skyline {
    let mut first: Vec<usize> = (0..mesh.nodes.len()).collect();
    for (a, b) in pairs {
        let (low, high) = (place[*a].min(place[*b]), place[*a].max(place[*b]));
        first[high] = first[high].min(low);
    }
    Skyline::new(first.iter().flat_map(|node| [3 * node; 3]).collect())
}

/// Forces of a pressure on the whole region, by corner.
pub fn pressed_n(mesh: &Mesh, pressure_mpa: f64) -> Vec<f64> {
    let mut forces = vec![0.0; mesh.nodes.len()];
    for triangle in &mesh.triangles {
        for node in triangle {
            forces[*node] += pressure_mpa * mesh.area_mm2(*triangle) / 3.0;
        }
    }
    forces
}

/// Adds the forces of a load along the closed line through `nodes`.
pub fn add_line_n(mesh: &Mesh, nodes: &[usize], n_per_mm: f64, forces: &mut [f64]) {
    for (i, node) in nodes.iter().enumerate() {
        let next = nodes[(i + 1) % nodes.len()];
        let half = n_per_mm * apart_mm(mesh.nodes[*node], mesh.nodes[next]) / 2.0;
        forces[*node] += half;
        forces[next] += half;
    }
}

#[cfg(test)]
mod tests;
