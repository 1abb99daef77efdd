//! Closed outlines of lines and arcs, in a plane, in millimetres.
//!
//! A vertex carries the bulge of the segment that leaves it: the tangent of a quarter of the arc's angle,
//! positive when the arc turns left, zero for a line (the convention of DXF polylines). An outline that
//! runs counter-clockwise has a positive area.
//!
//! A = ½ Σ (p × q) + Σ ½ r² (a − sin a)        area, a the signed angle of each arc (Green)
//! parallel at d                               area A + L d + π d² outside a convex outline (Steiner)
//!
//! Parallels are cut by `cavalier_contours`; what it gives is never given to it again, because outlines that
//! touch themselves are where such algorithms go wrong. Its coordinates are rounded to a nanometre, so that
//! the last bit of a platform's arithmetic does not reach a plan.
//!
//! Range   Outlines that do not cross themselves, see [`Path::crosses_itself`].
//! Source  Elementary geometry.

use cavalier_contours::polyline::{PlineSource, PlineSourceMut, PlineVertex, Polyline};
use std::f64::consts::{FRAC_PI_2, TAU};

use crate::segment::{
    Point, SAME_MM, Segment, along, apart_mm, cross, dot, on_circle, sub, unit, wrapped,
};

/// A corner of an outline and the segment that leaves it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// Position.
    pub x_mm: f64,
    /// Position.
    pub y_mm: f64,
    /// Tangent of a quarter of the leaving arc's angle; zero for a line.
    pub bulge: f64,
}

/// A closed outline.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// Corners in order; the last one leads back to the first.
    pub vertices: Vec<Vertex>,
}

/// A circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circle {
    /// Centre.
    pub centre: Point,
    /// Radius.
    pub radius_mm: f64,
}

/// Two directions further apart than this (in radians) make a corner: a groove's cutter leaves no smaller one.
const CORNER_RAD: f64 = 1e-3;
/// Results of the parallel are rounded to this.
const GRID_MM: f64 = 1e-6;

fn vertex(p: Point, bulge: f64) -> Vertex {
    Vertex { x_mm: p[0], y_mm: p[1], bulge }
}

impl Vertex {
    /// Its position.
    pub fn point(&self) -> Point {
        [self.x_mm, self.y_mm]
    }
}

/// Shapes.
impl Path {
    /// Straight lines from point to point.
    pub fn polygon(points: &[Point]) -> Path {
        Path { vertices: points.iter().map(|p| vertex(*p, 0.0)).collect() }
    }

    /// A circle, counter-clockwise, as two half turns.
    pub fn circle(centre: Point, radius_mm: f64) -> Path {
        assert!(radius_mm > 0.0);
        let right = vertex([centre[0] + radius_mm, centre[1]], 1.0);
        let left = vertex([centre[0] - radius_mm, centre[1]], 1.0);
        Path { vertices: vec![right, left] }
    }

    /// A rectangle with rounded corners, counter-clockwise; the radius is at most half the shorter side.
    pub fn rounded_rectangle(
        centre: Point,
        width_mm: f64,
        height_mm: f64,
        radius_mm: f64,
    ) -> Path {
        let radius_mm = radius_mm.min(width_mm / 2.0).min(height_mm / 2.0);
        let (w, h) = (width_mm / 2.0 - radius_mm, height_mm / 2.0 - radius_mm);
        let corner = |x, y| Circle { centre: [centre[0] + x, centre[1] + y], radius_mm };
        Path::belt(&[corner(-w, -h), corner(w, -h), corner(w, h), corner(-w, h)])
    }

    /// A slot with round ends around the line between two points, counter-clockwise.
    pub fn stadium(from: Point, to: Point, radius_mm: f64) -> Path {
        let end = |centre| Circle { centre, radius_mm };
        Path::belt(&[end(from), end(to)])
    }

    /// The belt around circles: the outline of all of them pulled tight, with common tangents,
    /// counter-clockwise. Empty for no circles.
    ///
    /// The circle furthest out in direction u is the one with the greatest c·u + r; turning u once around, one
    /// circle takes over from another where the two are equal, which is where the belt leaves on a tangent.
    pub fn belt(circles: &[Circle]) -> Path {
        let circles = &without_held(circles)[..];
        let reach = |c: &Circle, angle: f64| {
            dot(c.centre, [libm::cos(angle), libm::sin(angle)]) + c.radius_mm
        };
        let mut angle = -FRAC_PI_2;
        let Some(first) = (0..circles.len())
            .max_by(|a, b| reach(&circles[*a], angle).total_cmp(&reach(&circles[*b], angle)))
        else {
            return Path::default();
        };
        // Each circle is on the belt at most twice per neighbour: the bound is never reached.
        let (mut at, mut turned, mut arcs) = (first, 0.0, Vec::new());
        for _ in 0..4 * circles.len() + 4 {
            let Some((next, turn)) = takes_over(circles, at, angle) else {
                return Path::circle(circles[at].centre, circles[at].radius_mm);
            };
            arcs.push((at, angle, turn));
            (at, angle, turned) = (next, angle + turn, turned + turn);
            if turned > TAU + 1e-6 {
                break;
            }
        }
        // The first arc began in its middle; the walk goes on until that arc has been met whole.
        let whole = arcs.iter().skip(1).scan(0.0, |sum, arc| {
            let before = *sum;
            *sum += arc.2;
            (before < TAU - 1e-6).then_some(*arc)
        });
        let mut path = Path::default();
        for (circle, from, turn) in whole {
            let Circle { centre, radius_mm } = circles[circle];
            if radius_mm > 0.0 && turn > 1e-9 {
                path.vertices
                    .push(vertex(on_circle(centre, radius_mm, from), libm::tan(turn / 4.0)));
            }
            if radius_mm <= 0.0 || turn > 1e-9 {
                path.vertices.push(vertex(on_circle(centre, radius_mm, from + turn), 0.0));
            }
        }
        path
    }

    /// A polygon with every corner rounded to its radius; none where a side is too short for its two roundings.
    pub fn filleted(points: &[Point], radii_mm: &[f64]) -> Option<Path> {
        assert_eq!(points.len(), radii_mm.len());
        let n = points.len();
        let mut path = Path::default();
        let mut used = vec![0.0; n];
        for i in 0..n {
            let (before, here, after) =
                (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
            let (arriving, _) = unit(sub(here, before))?;
            let (leaving, _) = unit(sub(after, here))?;
            let turn = libm::atan2(cross(arriving, leaving), dot(arriving, leaving));
            let back = radii_mm[i] * libm::tan(turn.abs() / 2.0); // t = R tan(a/2)
            used[i] = back;
            if back < SAME_MM {
                path.vertices.push(vertex(here, 0.0));
                continue;
            }
            path.vertices.push(vertex(along(here, arriving, -back), libm::tan(turn / 4.0)));
            path.vertices.push(vertex(along(here, leaving, back), 0.0));
        }
        let fits = (0..n).all(|i| {
            let side = apart_mm(points[i], points[(i + 1) % n]);
            used[i] + used[(i + 1) % n] <= side + SAME_MM
        });
        fits.then_some(path)
    }
}

/// The circles that no other one holds; of equal ones the first.
fn without_held(circles: &[Circle]) -> Vec<Circle> {
    // One that touches from inside counts as held.
    let holds = |j: usize, i: usize| {
        let apart = apart_mm(circles[i].centre, circles[j].centre);
        circles[j].radius_mm - circles[i].radius_mm - apart > -SAME_MM
    };
    let held = |i: usize, j: usize| holds(j, i) && (j < i || !holds(i, j));
    let free = |i: &usize| (0..circles.len()).all(|j| j == *i || !held(*i, j));
    (0..circles.len()).filter(free).map(|i| circles[i]).collect()
}

/// The circle that takes over from circle `at` first when the direction turns left from `angle`, and by how
/// much it turns until then; none where `at` holds all others.
fn takes_over(circles: &[Circle], at: usize, angle: f64) -> Option<(usize, f64)> {
    let here = circles[at];
    let mut best: Option<(usize, f64, f64)> = None;
    for (j, other) in circles.iter().enumerate() {
        let Some((d, far)) = unit(sub(other.centre, here.centre)) else { continue };
        if j == at || far <= (here.radius_mm - other.radius_mm).abs() {
            continue;
        }
        // |d| cos(φ − α) = r − r'
        let half = libm::acos((here.radius_mm - other.radius_mm) / far);
        let mut turn = wrapped(libm::atan2(d[1], d[0]) - half - angle);
        if turn > TAU - 1e-9 {
            turn = 0.0;
        }
        // Of several circles on one tangent the belt goes to the last.
        let sooner = best
            .is_none_or(|(_, t, f)| turn < t - 1e-9 || ((turn - t).abs() <= 1e-9 && far > f));
        if sooner {
            best = Some((j, turn, far));
        }
    }
    best.map(|(j, turn, _)| (j, turn))
}

/// Measures.
impl Path {
    /// Its pieces in order.
    pub fn segments(&self) -> Vec<Segment> {
        let n = self.vertices.len();
        let piece = |i: usize| {
            let (a, b) = (&self.vertices[i], &self.vertices[(i + 1) % n]);
            Segment::new(a.point(), b.point(), a.bulge)
        };
        (0..n).map(piece).collect()
    }

    /// Its length.
    pub fn length_mm(&self) -> f64 {
        self.segments().iter().map(Segment::length_mm).sum()
    }

    /// Its area, mm²: positive when it runs counter-clockwise.
    pub fn area_mm2(&self) -> f64 {
        self.moments().0
    }

    /// The middle of its area; none of an outline without area.
    pub fn centroid(&self) -> Option<Point> {
        let (area, first) = self.moments();
        (area.abs() > 0.0).then(|| [first[0] / area, first[1] / area])
    }

    /// Area and first moments, signed.
    fn moments(&self) -> (f64, Point) {
        let Some(origin) = self.vertices.first().map(Vertex::point) else {
            return (0.0, [0.0, 0.0]);
        };
        let (mut area, mut first) = (0.0, [0.0, 0.0]);
        for piece in self.segments() {
            // The triangle from the first corner to the chord.
            let (p, q) = (sub(piece.from(), origin), sub(piece.to(), origin));
            let triangle = cross(p, q) / 2.0;
            area += triangle;
            first = along(first, [p[0] + q[0], p[1] + q[1]], triangle / 3.0);
            let Segment::Arc { centre, radius_mm: r, start, sweep, .. } = piece else {
                continue;
            };
            // ½ r² (a − sin a) between chord and arc; its moment about the centre is 2/3 r³ sin³(a/2).
            let lens = r * r / 2.0 * (sweep - libm::sin(sweep));
            let half = libm::sin(sweep / 2.0);
            area += lens;
            first = along(first, sub(centre, origin), lens);
            let out = start + sweep / 2.0;
            let far = 2.0 / 3.0 * r * r * r * half * half * half;
            first = along(first, [libm::cos(out), libm::sin(out)], far);
        }
        (area, along(first, origin, area))
    }

    /// Its extent: least x and y, greatest x and y; none of an empty outline.
    pub fn bounds(&self) -> Option<(Point, Point)> {
        self.segments().iter().map(Segment::bounds).reduce(|(low, high), (l, h)| {
            ([low[0].min(l[0]), low[1].min(l[1])], [high[0].max(h[0]), high[1].max(h[1])])
        })
    }

    /// Whether a point lies inside. On the outline itself the answer may be either.
    pub fn contains(&self, point: Point) -> bool {
        let mut inside = false;
        for piece in self.segments() {
            let (from, to) = (piece.from(), piece.to());
            // A point on the chord itself counts as a hair above it, for both tests alike.
            let side = cross(sub(to, from), sub(point, from));
            let left_of_chord = side > 0.0 || (side == 0.0 && to[0] > from[0]);
            // A ray to the right crosses the chord.
            let rises = to[1] > point[1];
            if (from[1] > point[1]) != rises && left_of_chord == rises {
                inside = !inside;
            }
            let Segment::Arc { centre, radius_mm, sweep, .. } = piece else { continue };
            // Between chord and arc the two disagree: in the circle, on the arc's side of the chord.
            if apart_mm(point, centre) < radius_mm && left_of_chord == (sweep < 0.0) {
                inside = !inside;
            }
        }
        inside
    }

    /// Distance of a point from the outline, whichever side it is on.
    pub fn distance_mm(&self, point: Point) -> f64 {
        self.segments().iter().map(|s| s.distance_mm(point)).fold(f64::INFINITY, f64::min)
    }

    /// How far a point lies inside the outline; negative outside.
    pub fn depth_mm(&self, point: Point) -> f64 {
        let distance_mm = self.distance_mm(point);
        if self.contains(point) { distance_mm } else { -distance_mm }
    }

    /// Least distance between two outlines, and where: a point on this one and one on the other. Zero where
    /// they cross; one inside the other still has a distance. None where either is empty.
    pub fn gap(&self, other: &Path) -> Option<(f64, Point, Point)> {
        let boxed = |path: &Path| -> Vec<(Segment, (Point, Point))> {
            path.segments().into_iter().map(|s| (s, s.bounds())).collect()
        };
        let (ours, theirs) = (boxed(self), boxed(other));
        let mut best: Option<(f64, Point, Point)> = None;
        for (mine, (low, high)) in &ours {
            for (their, (l, h)) in &theirs {
                // Pieces whose boxes are farther apart than the best pair cannot better it.
                let off =
                    |axis: usize| (low[axis] - h[axis]).max(l[axis] - high[axis]).max(0.0);
                let boxes_mm = apart_mm([off(0), off(1)], [0.0, 0.0]);
                if best.is_some_and(|b| boxes_mm >= b.0) {
                    continue;
                }
                let found = mine.gap(their);
                if best.is_none_or(|b| found.0 < b.0) {
                    best = Some(found);
                }
            }
        }
        best
    }

    /// Whether the other outline lies wholly inside, touching allowed.
    pub fn encloses(&self, other: &Path) -> bool {
        let Some(first) = other.vertices.first() else { return false };
        let crosses = self.gap(other).is_some_and(|(gap, ..)| gap <= 0.0);
        !crosses && self.contains(first.point())
    }

    /// The tightest turn: least radius of its arcs, and zero where it has a corner; none of an empty outline.
    pub fn radius_mm_min(&self) -> Option<f64> {
        let pieces: Vec<Segment> =
            self.segments().into_iter().filter(|s| s.length_mm() > SAME_MM).collect();
        let mut least: Option<f64> = None;
        for (i, piece) in pieces.iter().enumerate() {
            if let Segment::Arc { radius_mm, .. } = piece {
                least = Some(least.map_or(*radius_mm, |l| l.min(*radius_mm)));
            }
            let next = &pieces[(i + 1) % pieces.len()];
            let (Some((_, arriving)), Some((leaving, _))) =
                (piece.directions(), next.directions())
            else {
                continue;
            };
            if libm::atan2(cross(arriving, leaving), dot(arriving, leaving)).abs() > CORNER_RAD
            {
                least = Some(0.0);
            }
        }
        least
    }

    /// Whether two of its pieces meet anywhere but at the corner they share.
    pub fn crosses_itself(&self) -> bool {
        let pieces: Vec<Segment> =
            self.segments().into_iter().filter(|s| s.length_mm() > SAME_MM).collect();
        let n = pieces.len();
        for i in 0..n {
            for j in i + 1..n {
                let shared: Vec<Point> = [(i, j), (j, i)]
                    .into_iter()
                    .filter(|(a, b)| (a + 1) % n == *b)
                    .map(|(a, _)| pieces[a].to())
                    .collect();
                let met = pieces[i].crossings(&pieces[j]);
                if met.iter().any(|m| shared.iter().all(|s| apart_mm(*m, *s) > 10.0 * SAME_MM))
                {
                    return true;
                }
            }
        }
        false
    }

    /// Points along the outline: every corner, and between corners as many that no arc leaves its chord by
    /// more than `sagitta_mm` and no step is longer than `step_mm`.
    pub fn sampled(&self, sagitta_mm: f64, step_mm: f64) -> Vec<Point> {
        assert!(sagitta_mm > 0.0 && step_mm > 0.0);
        let mut points = Vec::new();
        for piece in self.segments() {
            let length_mm = piece.length_mm();
            if length_mm < SAME_MM {
                continue;
            }
            let mut steps = (length_mm / step_mm).ceil();
            if let Segment::Arc { radius_mm, sweep, .. } = piece {
                // sagitta = r (1 − cos(a/2))
                let half = libm::acos((1.0 - sagitta_mm / radius_mm).max(0.0));
                steps = steps.max((sweep.abs() / (2.0 * half)).ceil());
            }
            let steps = steps.clamp(1.0, 10_000.0) as usize;
            points.extend((0..steps).map(|i| piece.at(i as f64 / steps as f64)));
        }
        points
    }
}

/// Changes.
impl Path {
    /// The same outline run the other way.
    #[must_use]
    pub fn reversed(&self) -> Path {
        let n = self.vertices.len();
        let turned = |i: usize| {
            // The bulge that left the corner before now arrives from it.
            let here = self.vertices[n - 1 - i];
            let before = self.vertices[(2 * n - 2 - i) % n];
            vertex(here.point(), -before.bulge)
        };
        Path { vertices: (0..n).map(turned).collect() }
    }

    /// The outline run counter-clockwise.
    #[must_use]
    pub fn counter_clockwise(&self) -> Path {
        if self.area_mm2() < 0.0 { self.reversed() } else { self.clone() }
    }

    /// Turned about the origin by an angle in degrees (to the left), then moved.
    #[must_use]
    pub fn placed(&self, turn_deg: f64, to: Point) -> Path {
        let (s, c) = (libm::sin(turn_deg.to_radians()), libm::cos(turn_deg.to_radians()));
        let place = |v: &Vertex| {
            let p = [c * v.x_mm - s * v.y_mm + to[0], s * v.x_mm + c * v.y_mm + to[1]];
            vertex(p, v.bulge)
        };
        Path { vertices: self.vertices.iter().map(place).collect() }
    }

    /// Mirrored left for right, as seen from behind; it runs the other way then.
    #[must_use]
    pub fn mirrored(&self) -> Path {
        let flip = |v: &Vertex| vertex([-v.x_mm, v.y_mm], -v.bulge);
        Path { vertices: self.vertices.iter().map(flip).collect() }
    }

    /// The parallels at a distance, counter-clockwise: outward where it is positive, inward where negative.
    /// Corners outside become arcs. There is none where the outline is too narrow, and more than one where
    /// it has a waist. Never take the parallel of a parallel: start again from the outline.
    pub fn parallel(&self, out_mm: f64) -> Vec<Path> {
        let outline = self.counter_clockwise();
        if out_mm.abs() < SAME_MM {
            return vec![outline];
        }
        let mut given = Polyline::new_closed();
        for v in &outline.vertices {
            given.add_vertex(PlineVertex::new(v.x_mm, v.y_mm, v.bulge));
        }
        let given = given.remove_repeat_pos(SAME_MM).unwrap_or(given);
        let grid = |v: f64, step: f64| (v / step).round() * step;
        // A positive distance is to the left there, which is inward.
        let found = given.parallel_offset(-out_mm).into_iter().map(|line| {
            let vertices = line.iter_vertexes().map(|v| Vertex {
                x_mm: grid(v.x, GRID_MM),
                y_mm: grid(v.y, GRID_MM),
                bulge: grid(v.bulge, 1e-9),
            });
            let mut path = Path { vertices: vertices.collect() };
            path.drop_repeated();
            path
        });
        let mut found: Vec<Path> = found.filter(|p| p.area_mm2() > SAME_MM).collect();
        found.sort_by(|a, b| b.area_mm2().total_cmp(&a.area_mm2()));
        found
    }

    /// Takes out corners that lie on the next one.
    fn drop_repeated(&mut self) {
        let n = self.vertices.len();
        let points: Vec<Point> = self.vertices.iter().map(Vertex::point).collect();
        let mut keep =
            (0..n).map(|i| apart_mm(points[i], points[(i + 1) % n]) > 10.0 * GRID_MM);
        self.vertices.retain(|_| keep.next().expect("one for each"));
    }
}

#[cfg(test)]
mod tests;
