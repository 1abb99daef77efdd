//! A straight or round piece of an outline: how long, how far, where it crosses another.
//!
//! bulge b = tan(a/4), a the angle the arc turns, chord c from p to q
//! r = c (1 + b²)/(4 |b|)                      radius
//! centre = middle + left normal · c (1 − b²)/(4 b)
//!
//! Distances between two pieces are exact: the nearest pair is an end, a crossing, or lies on the line through
//! the centres (for a line, through the centre and square to it).
//!
//! Range   Any finite points; a piece whose ends coincide is a point, whatever its bulge.
//! Source  Elementary geometry; the bulge is the convention of DXF polylines.

use std::f64::consts::{PI, TAU};

/// A point in the plane: x, y in mm.
pub type Point = [f64; 2];

/// Two lengths nearer than this are the same length: a thousandth of what a machine can hold.
pub const SAME_MM: f64 = 1e-6;

/// A piece of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// A straight piece.
    Line {
        /// Where it starts.
        from: Point,
        /// Where it ends.
        to: Point,
    },
    /// A round piece.
    Arc {
        /// Where it starts.
        from: Point,
        /// Where it ends.
        to: Point,
        /// Centre of its circle.
        centre: Point,
        /// Radius.
        radius_mm: f64,
        /// Angle from the x axis to its start, seen from the centre, in radians.
        start: f64,
        /// Angle it turns, in radians: positive to the left.
        sweep: f64,
    },
}

pub(crate) fn sub(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

pub(crate) fn along(a: Point, direction: Point, far: f64) -> Point {
    [a[0] + direction[0] * far, a[1] + direction[1] * far]
}

pub(crate) fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

pub(crate) fn cross(a: Point, b: Point) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

/// Distance between two points.
pub fn apart_mm(a: Point, b: Point) -> f64 {
    let d = sub(a, b);
    dot(d, d).sqrt()
}

/// The point at an angle on a circle.
pub fn on_circle(centre: Point, radius_mm: f64, angle: f64) -> Point {
    [centre[0] + radius_mm * libm::cos(angle), centre[1] + radius_mm * libm::sin(angle)]
}

/// The direction of a vector, and its length; none of a vector without length.
pub(crate) fn unit(v: Point) -> Option<(Point, f64)> {
    let length = dot(v, v).sqrt();
    (length > 0.0).then(|| ([v[0] / length, v[1] / length], length))
}

impl Segment {
    /// The piece from a point to the next with the bulge between.
    pub fn new(from: Point, to: Point, bulge: f64) -> Segment {
        let chord = sub(to, from);
        let Some((direction, chord_mm)) = unit(chord) else {
            return Segment::Line { from, to };
        };
        // A bulge so small that the arc leaves its chord by less than a nanometre is a line.
        if (bulge * chord_mm / 2.0).abs() < 1e-9 {
            return Segment::Line { from, to };
        }
        let left = [-direction[1], direction[0]];
        let middle = [f64::midpoint(from[0], to[0]), f64::midpoint(from[1], to[1])];
        let radius_mm = chord_mm * (1.0 + bulge * bulge) / (4.0 * bulge.abs()); // c (1 + b²)/(4 |b|)
        let centre = along(middle, left, chord_mm * (1.0 - bulge * bulge) / (4.0 * bulge));
        let start = libm::atan2(from[1] - centre[1], from[0] - centre[0]);
        Segment::Arc { from, to, centre, radius_mm, start, sweep: 4.0 * libm::atan(bulge) }
    }

    /// Where it starts.
    pub fn from(&self) -> Point {
        match *self {
            Segment::Line { from, .. } | Segment::Arc { from, .. } => from,
        }
    }

    /// Where it ends.
    pub fn to(&self) -> Point {
        match *self {
            Segment::Line { to, .. } | Segment::Arc { to, .. } => to,
        }
    }

    /// Its length.
    pub fn length_mm(&self) -> f64 {
        match *self {
            Segment::Line { from, to } => apart_mm(from, to),
            Segment::Arc { radius_mm, sweep, .. } => radius_mm * sweep.abs(),
        }
    }

    /// The point at a share of its length, 0 to 1.
    pub fn at(&self, share: f64) -> Point {
        match *self {
            Segment::Line { from, to } => along(from, sub(to, from), share),
            Segment::Arc { centre, radius_mm, start, sweep, .. } => {
                on_circle(centre, radius_mm, start + share * sweep)
            }
        }
    }

    /// Its direction at its start and at its end, as unit vectors; none of a piece without length.
    pub fn directions(&self) -> Option<(Point, Point)> {
        match *self {
            Segment::Line { from, to } => {
                let (direction, _) = unit(sub(to, from))?;
                Some((direction, direction))
            }
            Segment::Arc { from, to, centre, sweep, .. } => {
                let turned = |p: Point| {
                    let r = sub(p, centre);
                    let ahead = if sweep > 0.0 { [-r[1], r[0]] } else { [r[1], -r[0]] };
                    unit(ahead).map(|(d, _)| d)
                };
                Some((turned(from)?, turned(to)?))
            }
        }
    }

    /// Whether the arc passes the direction from its centre, to within `slack` radians.
    fn passes(&self, angle: f64, slack: f64) -> bool {
        let Segment::Arc { start, sweep, .. } = *self else { return false };
        let ahead = if sweep > 0.0 { angle - start } else { start - angle };
        let ahead = wrapped(ahead);
        ahead <= sweep.abs() + slack || ahead >= TAU - slack
    }

    /// The point of the piece nearest to another point.
    pub fn nearest(&self, point: Point) -> Point {
        match *self {
            Segment::Line { from, to } => {
                let chord = sub(to, from);
                let square = dot(chord, chord);
                if square == 0.0 {
                    return from;
                }
                let share = (dot(sub(point, from), chord) / square).clamp(0.0, 1.0);
                along(from, chord, share)
            }
            Segment::Arc { from, to, centre, radius_mm, .. } => {
                if let Some((direction, _)) = unit(sub(point, centre))
                    && self.passes(libm::atan2(direction[1], direction[0]), 0.0)
                {
                    return along(centre, direction, radius_mm);
                }
                if apart_mm(point, from) <= apart_mm(point, to) { from } else { to }
            }
        }
    }

    /// Distance from a point.
    pub fn distance_mm(&self, point: Point) -> f64 {
        apart_mm(self.nearest(point), point)
    }

    /// The points it has in common with another piece; none for pieces that lie on each other.
    pub fn crossings(&self, other: &Segment) -> Vec<Point> {
        use Segment::{Arc, Line};
        let found = match (*self, *other) {
            (Line { from: a, to: b }, Line { from: c, to: d }) => line_line(a, b, c, d),
            (Line { from, to }, Arc { centre, radius_mm, .. })
            | (Arc { centre, radius_mm, .. }, Line { from, to }) => {
                line_circle(from, to, centre, radius_mm)
            }
            (Arc { centre: c1, radius_mm: r1, .. }, Arc { centre: c2, radius_mm: r2, .. }) => {
                circle_circle(c1, r1, c2, r2)
            }
        };
        let on_both =
            |p: &Point| self.distance_mm(*p) < SAME_MM && other.distance_mm(*p) < SAME_MM;
        found.into_iter().filter(on_both).collect()
    }

    /// Least distance from another piece, and where: a point on this one and one on the other.
    pub fn gap(&self, other: &Segment) -> (f64, Point, Point) {
        if let Some(crossing) = self.crossings(other).first() {
            return (0.0, *crossing, *crossing);
        }
        let mut best = (f64::INFINITY, self.from(), other.from());
        let mut offer = |a: Point, b: Point| {
            let apart = apart_mm(a, b);
            if apart < best.0 {
                best = (apart, a, b);
            }
        };
        for end in [self.from(), self.to()] {
            offer(end, other.nearest(end));
        }
        for end in [other.from(), other.to()] {
            offer(self.nearest(end), end);
        }
        for here in self.facing(other) {
            offer(here, other.nearest(here));
        }
        for there in other.facing(self) {
            offer(self.nearest(there), there);
        }
        best
    }

    /// The points of an arc that face another piece squarely.
    fn facing(&self, other: &Segment) -> Vec<Point> {
        let Segment::Arc { centre, radius_mm, .. } = *self else { return Vec::new() };
        let aim = match *other {
            Segment::Line { .. } => other.nearest(centre),
            Segment::Arc { centre, .. } => centre,
        };
        let Some((direction, _)) = unit(sub(aim, centre)) else { return Vec::new() };
        [1.0, -1.0]
            .into_iter()
            .map(|side| [direction[0] * side, direction[1] * side])
            .filter(|d| self.passes(libm::atan2(d[1], d[0]), 0.0))
            .map(|d| along(centre, d, radius_mm))
            .collect()
    }

    /// Its extent: least x and y, greatest x and y.
    pub fn bounds(&self) -> (Point, Point) {
        let (from, to) = (self.from(), self.to());
        let mut low = [from[0].min(to[0]), from[1].min(to[1])];
        let mut high = [from[0].max(to[0]), from[1].max(to[1])];
        if let Segment::Arc { centre, radius_mm, .. } = *self {
            for (quarter, axis, side) in
                [(0.0, 0, 1.0), (0.5, 1, 1.0), (1.0, 0, -1.0), (1.5, 1, -1.0)]
            {
                if self.passes(quarter * PI, 0.0) {
                    let reach = centre[axis] + side * radius_mm;
                    low[axis] = low[axis].min(reach);
                    high[axis] = high[axis].max(reach);
                }
            }
        }
        (low, high)
    }
}

/// An angle brought to 0 ≤ a < 2π.
pub(crate) fn wrapped(angle: f64) -> f64 {
    let turned = angle % TAU;
    if turned < 0.0 { (turned + TAU) % TAU } else { turned }
}

fn line_line(a: Point, b: Point, c: Point, d: Point) -> Vec<Point> {
    let (u, v) = (sub(b, a), sub(d, c));
    let area = cross(u, v);
    if area.abs() < 1e-12 * (dot(u, u) * dot(v, v)).sqrt() {
        return Vec::new();
    }
    vec![along(a, u, cross(sub(c, a), v) / area)]
}

fn line_circle(a: Point, b: Point, centre: Point, radius_mm: f64) -> Vec<Point> {
    let Some((direction, _)) = unit(sub(b, a)) else { return Vec::new() };
    let foot = along(a, direction, dot(sub(centre, a), direction));
    let off = apart_mm(foot, centre);
    if off > radius_mm + SAME_MM {
        return Vec::new();
    }
    let half = (radius_mm * radius_mm - off * off).max(0.0).sqrt();
    vec![along(foot, direction, half), along(foot, direction, -half)]
}

fn circle_circle(c1: Point, r1: f64, c2: Point, r2: f64) -> Vec<Point> {
    let Some((direction, apart)) = unit(sub(c2, c1)) else { return Vec::new() };
    if apart > r1 + r2 + SAME_MM || apart < (r1 - r2).abs() - SAME_MM {
        return Vec::new();
    }
    let far = (apart * apart + r1 * r1 - r2 * r2) / (2.0 * apart);
    let half = (r1 * r1 - far * far).max(0.0).sqrt();
    let foot = along(c1, direction, far);
    let left = [-direction[1], direction[0]];
    vec![along(foot, left, half), along(foot, left, -half)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn arc(from: Point, to: Point, bulge: f64) -> Segment {
        Segment::new(from, to, bulge)
    }

    #[test]
    fn a_quarter_and_a_three_quarter_turn() {
        // A quarter of the unit circle: tan(22.5 deg) = √2 − 1.
        let quarter = arc([1.0, 0.0], [0.0, 1.0], 2.0_f64.sqrt() - 1.0);
        assert!((quarter.length_mm() - PI / 2.0).abs() < 1e-12);
        let Segment::Arc { centre, radius_mm, .. } = quarter else { panic!() };
        assert!(apart_mm(centre, [0.0, 0.0]) < 1e-12 && (radius_mm - 1.0).abs() < 1e-12);
        // The rest of the circle, the other way round: tan(67.5 deg) = √2 + 1.
        let rest = arc([1.0, 0.0], [0.0, 1.0], -(2.0_f64.sqrt() + 1.0));
        assert!((rest.length_mm() - 1.5 * PI).abs() < 1e-12);
        let (low, high) = rest.bounds();
        assert!(apart_mm(low, [-1.0, -1.0]) < 1e-12 && apart_mm(high, [1.0, 1.0]) < 1e-12);
    }

    #[test]
    fn gaps_by_hand() {
        let line = arc([-5.0, 3.0], [5.0, 3.0], 0.0);
        let bow = arc([1.0, 0.0], [-1.0, 0.0], 1.0);
        assert!((line.gap(&bow).0 - 2.0).abs() < 1e-12);
        let other = arc([9.0, 0.0], [11.0, 0.0], -1.0);
        assert!((other.gap(&bow).0 - 8.0).abs() < 1e-12);
        // Concentric arcs are nearest everywhere they face each other.
        let wide = arc([3.0, 0.0], [-3.0, 0.0], 1.0);
        assert!((wide.gap(&bow).0 - 2.0).abs() < 1e-12);
        assert_eq!(line.gap(&arc([0.0, 0.0], [0.0, 9.0], 0.0)).0, 0.0);
    }

    proptest! {
        /// The exact gap is never more than any sampled pair, and near the best of them.
        #[test]
        fn prop_a_gap_is_the_least_of_all_pairs(
            p in prop::array::uniform8(-10.0f64..10.0), b in -2.0f64..2.0, c in -2.0f64..2.0,
        ) {
            let one = arc([p[0], p[1]], [p[2], p[3]], b);
            let two = arc([p[4], p[5]], [p[6], p[7]], c);
            let (gap, here, there) = one.gap(&two);
            prop_assert!(one.distance_mm(here) < 1e-6 && two.distance_mm(there) < 1e-6);
            let mut sampled = f64::INFINITY;
            for i in 0..=200 {
                sampled = sampled.min(two.distance_mm(one.at(f64::from(i) / 200.0)));
            }
            prop_assert!(gap <= sampled + 1e-6, "{gap} {sampled}");
            prop_assert!(sampled - gap <= one.length_mm() / 200.0, "{gap} {sampled}");
        }

        #[test]
        fn prop_the_nearest_point_beats_every_other(
            p in prop::array::uniform6(-10.0f64..10.0), b in -3.0f64..3.0,
        ) {
            let piece = arc([p[0], p[1]], [p[2], p[3]], b);
            let point = [p[4], p[5]];
            let near = piece.distance_mm(point);
            for i in 0..=100 {
                prop_assert!(near <= apart_mm(piece.at(f64::from(i) / 100.0), point) + 1e-9);
            }
        }
    }
}
