//! Triangles for a picture in space: flat parts, and bodies turned about an axis.
//!
//! Flats are cut into triangles by clipping ears, holes joined to the outer edge by bridges (Eberly,
//! "Triangulation by Ear Clipping"); walls and flats share the points of their rings, so a body is closed.

use space::part::Face;
use space::segment::Point;
use space::solid::{Metal, Solid};

/// A closed body of triangles, in millimetres; corners stand counter-clockwise seen from outside.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// Corners.
    pub positions: Vec<[f64; 3]>,
    /// One for each corner.
    pub normals: Vec<[f64; 3]>,
    /// Three corners each.
    pub triangles: Vec<[u32; 3]>,
}

/// Where a body goes: the images of its axes, and of its origin. The axes must keep their handedness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Images of x, y and z.
    pub axes: [[f64; 3]; 3],
    /// Image of the origin.
    pub origin: [f64; 3],
}

impl Mesh {
    fn corner(&mut self, position: [f64; 3], normal: [f64; 3]) -> u32 {
        self.positions.push(position);
        self.normals.push(normal);
        u32::try_from(self.positions.len() - 1)
            .expect("fewer than four thousand million corners")
    }

    /// A flat-shaded polygon with four corners; nothing if it has no area.
    fn quad(&mut self, corners: [[f64; 3]; 4], normals: [[f64; 3]; 4]) {
        let flat = |t: &[usize; 3]| area(corners[t[0]], corners[t[1]], corners[t[2]]) > 1e-12;
        let seen: Vec<[usize; 3]> = [[0, 1, 2], [0, 2, 3]].into_iter().filter(flat).collect();
        // What has no area has no normal either, and a corner without one is no corner of the format.
        if seen.is_empty() {
            return;
        }
        let ids: Vec<u32> =
            corners.iter().zip(normals).map(|(c, n)| self.corner(*c, n)).collect();
        self.triangles.extend(seen.into_iter().map(|t| t.map(|i| ids[i])));
    }

    /// The body in another place.
    #[must_use]
    pub fn placed(&self, pose: &Pose) -> Mesh {
        let turn = |v: &[f64; 3]| {
            [0, 1, 2].map(|i| (0..3).map(|axis| v[axis] * pose.axes[axis][i]).sum::<f64>())
        };
        let place = |p: &[f64; 3]| {
            let t = turn(p);
            [0, 1, 2].map(|i| t[i] + pose.origin[i])
        };
        Mesh {
            positions: self.positions.iter().map(place).collect(),
            normals: self.normals.iter().map(turn).collect(),
            triangles: self.triangles.clone(),
        }
    }

    /// The volume enclosed (divergence theorem).
    pub fn volume_mm3(&self) -> f64 {
        let at = |i: u32| self.positions[i as usize];
        let six = |t: &[u32; 3]| {
            let (a, b, c) = (at(t[0]), at(t[1]), at(t[2]));
            let n = cross3(b, c);
            a[0] * n[0] + a[1] * n[1] + a[2] * n[2]
        };
        self.triangles.iter().map(six).sum::<f64>() / 6.0
    }
}

fn cross3(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn area(a: [f64; 3], b: [f64; 3], c: [f64; 3]) -> f64 {
    let n = cross3([0, 1, 2].map(|i| b[i] - a[i]), [0, 1, 2].map(|i| c[i] - a[i]));
    (n[0] * n[0] + n[1] * n[1] + n[2] * n[2]).sqrt() / 2.0
}

/// A flat part, its arcs as chords that leave them by at most `sagitta_mm`.
pub fn of_solid(solid: &Solid, sagitta_mm: f64) -> Mesh {
    let rings: Vec<Vec<Point>> = solid
        .rings
        .iter()
        .map(|ring| ring.path().counter_clockwise().sampled(sagitta_mm, 1e6))
        .collect();
    let mut mesh = Mesh::default();
    for flat in &solid.flats {
        let inner: Vec<&[Point]> = flat.inner.iter().map(|r| rings[*r].as_slice()).collect();
        let (points, triangles) = triangulated(&rings[flat.outer], &inner);
        let up = if flat.face == Face::Outer { 1.0 } else { -1.0 };
        let ids: Vec<u32> = points
            .iter()
            .map(|p| mesh.corner([p[0], p[1], flat.z_mm], [0.0, 0.0, up]))
            .collect();
        for [a, b, c] in triangles {
            let turned = if flat.face == Face::Outer { [a, b, c] } else { [a, c, b] };
            mesh.triangles.push(turned.map(|i| ids[i]));
        }
    }
    for wall in &solid.walls {
        let ring = &rings[wall.ring];
        for i in 0..ring.len() {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            let (a, b) = if wall.metal == Metal::Within { (a, b) } else { (b, a) };
            let length = libm::hypot(b[0] - a[0], b[1] - a[1]).max(1e-12);
            let normal = [(b[1] - a[1]) / length, (a[0] - b[0]) / length, 0.0];
            let (low, high) = (wall.low_mm, wall.high_mm);
            let corners =
                [[a[0], a[1], low], [b[0], b[1], low], [b[0], b[1], high], [a[0], a[1], high]];
            mesh.quad(corners, [normal; 4]);
        }
    }
    mesh
}

/// Steps of a whole turn.
const STEPS: usize = 48;

/// A closed profile of (along, radius), counter-clockwise with `along` to the right, turned about the x axis.
pub fn revolved(profile: &[(f64, f64)]) -> Mesh {
    let mut mesh = Mesh::default();
    let ring: Vec<(f64, f64)> = (0..STEPS)
        .map(|i| {
            let angle = std::f64::consts::TAU * i as f64 / STEPS as f64;
            (libm::cos(angle), libm::sin(angle))
        })
        .collect();
    for (i, &(x1, r1)) in profile.iter().enumerate() {
        let (x2, r2) = profile[(i + 1) % profile.len()];
        if r1.max(r2) < 1e-9 {
            continue;
        }
        // The outside lies to the right of the profile's way.
        let length = libm::hypot(x2 - x1, r2 - r1).max(1e-12);
        let (nx, nr) = ((r2 - r1) / length, (x1 - x2) / length);
        for step in 0..STEPS {
            let ((c1, s1), (c2, s2)) = (ring[step], ring[(step + 1) % STEPS]);
            let corners = [
                [x1, r1 * c1, r1 * s1],
                [x2, r2 * c1, r2 * s1],
                [x2, r2 * c2, r2 * s2],
                [x1, r1 * c2, r1 * s2],
            ];
            let (first, second) = ([nx, nr * c1, nr * s1], [nx, nr * c2, nr * s2]);
            mesh.quad(corners, [first, first, second, second]);
        }
    }
    mesh
}

fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// Triangles of a polygon with holes, all given counter-clockwise; the points they use come with them.
pub fn triangulated(outer: &[Point], inner: &[&[Point]]) -> (Vec<Point>, Vec<[usize; 3]>) {
    let mut points: Vec<Point> = outer.to_vec();
    let mut line: Vec<usize> = (0..outer.len()).collect();
    let rightmost =
        |hole: &[Point]| (0..hole.len()).max_by(|a, b| hole[*a][0].total_cmp(&hole[*b][0]));
    let mut holes: Vec<(usize, &[Point])> =
        inner.iter().filter_map(|hole| Some((rightmost(hole)?, *hole))).collect();
    // From right to left, so that a bridge never meets a hole that is still to come.
    holes.sort_by(|a, b| b.1[b.0][0].total_cmp(&a.1[a.0][0]));
    for (start, hole) in holes {
        let first = points.len();
        points.extend_from_slice(hole);
        let at = bridge(&points, &line, hole[start]);
        let n = hole.len();
        // Holes run clockwise in the joined line, there and back over the bridge.
        let mut joined: Vec<usize> = (0..=n).map(|i| first + (start + n - i % n) % n).collect();
        joined.push(line[at]);
        line.splice(at + 1..at + 1, joined);
    }
    let triangles = clipped(&points, line);
    (points, triangles)
}

/// The place in the line that sees a hole's rightmost point.
fn bridge(points: &[Point], line: &[usize], from: Point) -> usize {
    let n = line.len();
    let p = |i: usize| points[line[i % n]];
    let mut best: Option<(f64, usize)> = None;
    for i in 0..n {
        let (a, b) = (p(i), p(i + 1));
        // A ray to the right leaves the metal through an edge that runs upwards.
        if !(a[1] <= from[1] && from[1] < b[1]) {
            continue;
        }
        let x = a[0] + (from[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
        if x >= from[0] - 1e-12 && best.is_none_or(|(least, _)| x < least) {
            best = Some((x, i));
        }
    }
    let (x, edge) = best.expect("a hole lies inside its face");
    let end = if p(edge)[0] > p(edge + 1)[0] { edge } else { (edge + 1) % n };
    let (hit, tip) = ([x, from[1]], p(end));
    // Corners inside the triangle hide its tip; then the one with the flattest view is seen.
    let (mut seen, mut flattest) = (end, f64::INFINITY);
    for i in 0..n {
        let (before, here, after) = (p(i + n - 1), p(i), p(i + 1));
        if turn(before, here, after) >= 0.0 || here == tip {
            continue;
        }
        let signs = [turn(from, hit, here), turn(hit, tip, here), turn(tip, from, here)];
        let within = signs.iter().all(|s| *s >= -1e-12) || signs.iter().all(|s| *s <= 1e-12);
        if within && here[0] >= from[0] {
            let view = (here[1] - from[1]).abs() / (here[0] - from[0]).max(1e-12);
            if view < flattest {
                (seen, flattest) = (i, view);
            }
        }
    }
    seen
}

/// Clips ears until three corners are left.
fn clipped(points: &[Point], mut line: Vec<usize>) -> Vec<[usize; 3]> {
    let mut triangles = Vec::with_capacity(line.len());
    let mut i = 0;
    let mut idle = 0;
    while line.len() > 3 {
        let n = line.len();
        i %= n;
        let ids = [line[(i + n - 1) % n], line[i], line[(i + 1) % n]];
        let [a, b, c] = ids.map(|id| points[id]);
        // After a whole round without an ear rounding is to blame: a flat corner is taken out then.
        let is_ear = turn(a, b, c) > 0.0 && !holds_any(points, &line, [a, b, c]);
        if is_ear || idle > n {
            if turn(a, b, c) > 0.0 {
                triangles.push(ids);
            }
            line.remove(i);
            // Steps back and forth spread the ears over the outline instead of making a fan.
            i += usize::from(i % 2 == 0);
            idle = 0;
        } else {
            i += 1;
            idle += 1;
        }
    }
    if let [a, b, c] = line[..] {
        triangles.push([a, b, c]);
    }
    triangles
}

fn holds_any(points: &[Point], line: &[usize], [a, b, c]: [Point; 3]) -> bool {
    line.iter().map(|id| points[*id]).any(|p| {
        p != a
            && p != b
            && p != c
            && turn(a, b, p) >= 0.0
            && turn(b, c, p) >= 0.0
            && turn(c, a, p) >= 0.0
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use space::path::Path;
    use std::collections::BTreeMap;

    /// Every edge of a closed body is run once each way.
    fn is_closed(mesh: &Mesh) -> bool {
        let key = |i: u32| mesh.positions[i as usize].map(|v| (v * 1e6).round() as i64);
        let mut edges: BTreeMap<_, i32> = BTreeMap::new();
        for t in &mesh.triangles {
            for (a, b) in [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])] {
                *edges.entry((key(a), key(b))).or_default() += 1;
                *edges.entry((key(b), key(a))).or_default() -= 1;
            }
        }
        edges.values().all(|count| *count == 0)
    }

    #[test]
    fn a_turned_ring_is_closed_and_has_its_volume() {
        let mesh = revolved(&[(0.0, 2.0), (10.0, 2.0), (10.0, 5.0), (0.0, 5.0)]);
        assert!(is_closed(&mesh));
        let n = STEPS as f64;
        // A polygon of n sides has the area n/2 r^2 sin(2 pi / n).
        let share = n / 2.0 * libm::sin(std::f64::consts::TAU / n);
        let expected = share * (25.0 - 4.0) * 10.0;
        assert!((mesh.volume_mm3() - expected).abs() < 1e-9, "{}", mesh.volume_mm3());
    }

    #[test]
    fn a_plate_with_holes_is_closed_and_has_its_volume() {
        use space::part::{FlatPart, Groove, Hole};
        let mut holes = Vec::new();
        for (i, (x, y)) in [(-60.0, 0.0), (0.0, 0.0), (60.0, 0.0), (-92.0, 32.0), (92.0, -32.0)]
            .iter()
            .enumerate()
        {
            holes.push(Hole {
                name: format!("H{i}"),
                purpose: String::new(),
                x_mm: *x,
                y_mm: *y,
                diameter_mm: if i < 3 { 20.0 } else { 6.0 },
                thread: None,
                thread_depth_mm: None,
                drill_depth_mm: None,
                counterbore: None,
            });
        }
        let part = FlatPart {
            name: "plate".to_owned(),
            outline: Path::rounded_rectangle([0.0, 0.0], 200.0, 80.0, 12.0),
            thickness_mm: 12.0,
            holes,
            grooves: vec![Groove {
                middle: Path::rounded_rectangle([0.0, 0.0], 160.0, 50.0, 18.0),
                width_mm: 4.0,
                depth_mm: 2.6,
                face: Face::Seal,
            }],
            ..FlatPart::default()
        };
        let solid = space::solid::solid(&part).unwrap();
        let mesh = of_solid(&solid, 0.005);
        assert!(is_closed(&mesh));
        let off = mesh.volume_mm3() / solid.volume_mm3() - 1.0;
        assert!(off.abs() < 1e-4, "{off}");
    }
}
