//! A flat region cut into triangles.
//!
//! Outline and voids become chords no longer than the size asked for; the library `spade` fills between them
//! (constrained Delaunay, refined by Ruppert's method) until no triangle is larger than an equilateral one of
//! that size, nor sharper than 25 degrees. Points that the work needs, such as those of a groove, are corners
//! of triangles from the start.
//!
//! Range   Up to [`NODES_MAX`] corners; outlines that touch neither themselves nor each other.
//! Source  Ruppert 1995; Shewchuk 2002 (memory).

use spade::{
    AngleLimit, ConstrainedDelaunayTriangulation, Point2, RefinementParameters, Triangulation,
};

use crate::path::Path;
use crate::segment::{Point, cross, sub};

/// A side of a triangle that lies on one of the paths a mesh was made to keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Side {
    /// Its corners' numbers.
    pub ends: [usize; 2],
    /// Which path: 0 is the outline, the inner ones follow.
    pub path: usize,
}

/// Triangles over a region.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// Corners.
    pub nodes: Vec<Point>,
    /// Triangles, counter-clockwise, by their corners.
    pub triangles: Vec<[usize; 3]>,
    /// The corners that stand for the points asked for, list by list.
    pub marked: Vec<Vec<usize>>,
}

/// No mesh grows beyond this.
pub const NODES_MAX: usize = 6_000;
/// No angle is sharper, where the outline itself is not.
const ANGLE_DEG: f64 = 25.0;

impl Mesh {
    /// Cuts up the region inside `outline` and outside `voids`. Every list of `points` is marked; points outside
    /// the region or on its edge are left out. None where the outlines cross or touch, or the mesh would grow
    /// beyond its bound.
    pub fn new(
        outline: &Path,
        voids: &[Path],
        points: &[Vec<Point>],
        size_mm: f64,
    ) -> Option<Mesh> {
        assert!(size_mm > 0.0);
        let outlines: Vec<&Path> = std::iter::once(outline).chain(voids).collect();
        if !part_ways(&outlines) {
            return None;
        }
        let mut cdt = ConstrainedDelaunayTriangulation::<Point2<f64>>::new();
        for path in &outlines {
            let chords = path.sampled(size_mm / 12.0, size_mm);
            let mut corners = Vec::new();
            for p in chords {
                corners.push(cdt.insert(Point2::new(p[0], p[1])).ok()?);
            }
            for (i, from) in corners.iter().enumerate() {
                let to = corners[(i + 1) % corners.len()];
                // Outlines may keep clear of each other where their chords do not.
                if *from == to || !cdt.can_add_constraint(*from, to) {
                    return None;
                }
                cdt.add_constraint(*from, to);
            }
        }
        // A point nearer to an edge than this would make a sliver.
        let clear_mm = 0.2 * size_mm;
        let inside = |p: Point| {
            outline.depth_mm(p) > clear_mm && voids.iter().all(|v| v.depth_mm(p) < -clear_mm)
        };
        let mut marked = Vec::new();
        for list in points {
            let mut handles = Vec::new();
            for p in list.iter().filter(|p| inside(**p)) {
                handles.push(cdt.insert(Point2::new(p[0], p[1])).ok()?.index());
            }
            marked.push(handles);
        }
        // √3/4 s²
        let area_mm2 = 0.433 * size_mm * size_mm;
        let refined = cdt.refine(
            RefinementParameters::new()
                .with_max_allowed_area(area_mm2)
                .with_angle_limit(AngleLimit::from_deg(ANGLE_DEG))
                .with_max_additional_vertices(NODES_MAX.saturating_sub(cdt.num_vertices()))
                .exclude_outer_faces(true),
        );
        if !refined.refinement_complete {
            return None;
        }
        let mut outer = refined.excluded_faces;
        outer.sort_unstable();
        let all: Vec<Point> =
            cdt.vertices().map(|v| [v.position().x, v.position().y]).collect();
        let triangles = cdt
            .inner_faces()
            .filter(|f| outer.binary_search(&f.fix()).is_err())
            .map(|f| f.vertices().map(|v| v.fix().index()));
        Some(Mesh { nodes: all, triangles: triangles.collect(), marked }.without_idle_nodes())
    }

    /// Cuts up the region inside `outline` so that every path of `inner` is made of sides of triangles; paths
    /// may lie within each other, but not cross or touch. Also the sides that lie on paths.
    /// None where paths cross or the mesh would grow beyond `nodes_max`.
    pub fn divided(
        outline: &Path,
        inner: &[Path],
        size_mm: f64,
        nodes_max: usize,
    ) -> Option<(Mesh, Vec<Side>)> {
        assert!(size_mm > 0.0);
        let mut cdt = ConstrainedDelaunayTriangulation::<Point2<f64>>::new();
        let outlines: Vec<&Path> = std::iter::once(outline).chain(inner).collect();
        for path in &outlines {
            let mut corners = Vec::new();
            for p in path.sampled(size_mm / 12.0, size_mm) {
                corners.push(cdt.insert(Point2::new(p[0], p[1])).ok()?);
            }
            for (i, from) in corners.iter().enumerate() {
                let to = corners[(i + 1) % corners.len()];
                if *from == to || !cdt.can_add_constraint(*from, to) {
                    return None;
                }
                cdt.add_constraint(*from, to);
            }
        }
        let refined = cdt.refine(
            RefinementParameters::new()
                .with_max_allowed_area(0.433 * size_mm * size_mm)
                .with_angle_limit(AngleLimit::from_deg(ANGLE_DEG))
                .with_max_additional_vertices(nodes_max.saturating_sub(cdt.num_vertices())),
        );
        if !refined.refinement_complete {
            return None;
        }
        let nodes: Vec<Point> =
            cdt.vertices().map(|v| [v.position().x, v.position().y]).collect();
        let chord_mm = size_mm / 12.0 + 1e-6;
        let mut sides = Vec::new();
        for edge in cdt.undirected_edges().filter(|e| e.is_constraint_edge()) {
            let [a, b] = edge.vertices().map(|v| v.fix().index());
            let middle = [0, 1].map(|k| 0.5 * (nodes[a][k] + nodes[b][k]));
            let near = outlines
                .iter()
                .enumerate()
                .map(|(path, o)| (o.distance_mm(middle), path))
                .min_by(|x, y| x.0.total_cmp(&y.0))?;
            debug_assert!(near.0 <= 2.0 * chord_mm, "a side lies on its path");
            sides.push(Side { ends: [a, b], path: near.1 });
        }
        let triangles = cdt
            .inner_faces()
            .map(|f| f.vertices().map(|v| v.fix().index()))
            .filter(|t| {
                let at = [0, 1].map(|k| t.iter().map(|n| nodes[*n][k]).sum::<f64>() / 3.0);
                outline.depth_mm(at) > -chord_mm
            })
            .collect();
        Some((Mesh { nodes, triangles, marked: Vec::new() }, sides))
    }

    /// Drops corners that no triangle uses.
    fn without_idle_nodes(self) -> Mesh {
        let mut used = vec![false; self.nodes.len()];
        self.triangles.iter().flatten().for_each(|n| used[*n] = true);
        let mut place = vec![usize::MAX; self.nodes.len()];
        let mut nodes = Vec::new();
        for (old, keep) in used.iter().enumerate() {
            if *keep {
                place[old] = nodes.len();
                nodes.push(self.nodes[old]);
            }
        }
        let triangles = self.triangles.iter().map(|t| t.map(|n| place[n])).collect();
        let keep = |list: &Vec<usize>| {
            list.iter().map(|n| place[*n]).filter(|n| *n != usize::MAX).collect()
        };
        Mesh { nodes, triangles, marked: self.marked.iter().map(keep).collect() }
    }

    /// Area of one triangle, mm².
    pub fn area_mm2(&self, triangle: [usize; 3]) -> f64 {
        let [a, b, c] = triangle.map(|n| self.nodes[n]);
        cross(sub(b, a), sub(c, a)) / 2.0
    }

    /// Every pair of corners that a triangle joins, the smaller first, each once, with how many triangles it is in.
    pub fn edges(&self) -> Vec<(usize, usize, usize)> {
        let mut pairs: Vec<(usize, usize)> = self
            .triangles
            .iter()
            .flat_map(|t| [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])])
            .map(|(a, b)| (a.min(b), a.max(b)))
            .collect();
        pairs.sort_unstable();
        let chunks = pairs.chunk_by(|a, b| a == b);
        chunks.map(|same| (same[0].0, same[0].1, same.len())).collect()
    }

    /// The corners on the edge of the region, each once.
    pub fn rim(&self) -> Vec<usize> {
        let mut rim: Vec<usize> =
            self.edges().into_iter().filter(|e| e.2 == 1).flat_map(|e| [e.0, e.1]).collect();
        rim.sort_unstable();
        rim.dedup();
        rim
    }
}

/// Whether no outline meets itself or another, and every void lies in the first.
fn part_ways(outlines: &[&Path]) -> bool {
    let [outline, voids @ ..] = outlines else { return false };
    let apart = |a: &Path, b: &Path| a.gap(b).is_some_and(|(gap, ..)| gap > 1e-3);
    outlines.iter().all(|p| !p.crosses_itself() && p.area_mm2().abs() > 1e-3)
        && voids.iter().all(|v| outline.encloses(v) && apart(outline, v))
        && voids.iter().enumerate().all(|(i, a)| {
            voids[i + 1..].iter().all(|b| apart(a, b) && !a.encloses(b) && !b.encloses(a))
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::segment::apart_mm;

    fn plate() -> (Path, Vec<Path>) {
        let voids = vec![Path::circle([-25.0, 0.0], 10.0), Path::circle([25.0, 5.0], 12.0)];
        (Path::rounded_rectangle([0.0, 0.0], 120.0, 60.0, 9.0), voids)
    }

    #[test]
    fn triangles_fill_the_region() {
        let (outline, voids) = plate();
        let middle = vec![[0.0, 0.0], [0.0, 5.0], [40.0, 4.0]];
        let mesh = Mesh::new(&outline, &voids, &[middle], 3.0).unwrap();
        let filled: f64 = mesh.triangles.iter().map(|t| mesh.area_mm2(*t)).sum();
        let exact = outline.area_mm2() - voids.iter().map(Path::area_mm2).sum::<f64>();
        // Chords cut the voids smaller and the corners off.
        assert!((filled / exact - 1.0).abs() < 0.01, "{filled} {exact}");
        assert!(mesh.triangles.iter().all(|t| mesh.area_mm2(*t) > 0.0));
        assert_eq!(mesh.marked[0].len(), 2 + 1);
        assert!(apart_mm(mesh.nodes[mesh.marked[0][1]], [0.0, 5.0]) < 1e-12);
        // Euler: corners − edges + triangles = 1 − holes.
        let count = mesh.nodes.len() + mesh.triangles.len();
        assert_eq!(count + 1, mesh.edges().len());
        assert_eq!(
            mesh,
            Mesh::new(&outline, &voids, &[vec![[0.0, 0.0], [0.0, 5.0], [40.0, 4.0]]], 3.0)
                .unwrap()
        );
    }

    #[test]
    fn outlines_that_meet_are_no_region() {
        let (outline, mut voids) = plate();
        voids.push(Path::circle([-10.0, 0.0], 6.0));
        assert_eq!(Mesh::new(&outline, &voids, &[], 3.0), None);
        assert_eq!(Mesh::new(&outline, &[Path::circle([58.0, 0.0], 6.0)], &[], 3.0), None);
        assert_eq!(Mesh::new(&Path::default(), &[], &[], 3.0), None);
        // Two circles a hundredth apart: their chords would cross or leave slivers, but nothing panics.
        for off in [22.01, 22.1, 22.5] {
            let voids =
                [Path::circle([-11.0, 0.0], 11.0), Path::circle([off - 11.0, 0.0], 11.0)];
            let _ = Mesh::new(&outline, &voids, &[], 9.0);
        }
        // A corner of the void stands out between two chords of the edge.
        let chord = Path::circle([9.25, 16.02], 11.4);
        assert_eq!(Mesh::new(&Path::circle([0.0, 0.0], 30.0), &[chord], &[], 20.0), None);
    }
}
