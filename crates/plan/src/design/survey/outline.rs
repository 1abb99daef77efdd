//! Outlines of a face from its points, or from its drawing.

use space::path::{Path, Vertex};

use super::SurveyedFace;
use crate::given::build::{At, Face, FaceOutline, OutlinePoint, Passing};

/// Draws opening and outline where they are given and their points are known.
///
/// Of a drawing the largest closed line is the outline and the next within it the opening.
pub(super) fn draw(face: &Face, out: &mut SurveyedFace) {
    let drawn = face.drawn.as_ref().map_or(&[] as &[Path], |d| &d.loops);
    let outline = made(face.outline.as_ref(), "outline", out);
    out.outline = outline.or_else(|| drawn.first().cloned());
    let opening = made(face.opening.as_ref(), "opening", out);
    let within = || {
        let (first, rest) = drawn.split_first()?;
        rest.iter().find(|l| first.encloses(l)).cloned()
    };
    out.opening = opening.or_else(within);
}

fn made(given: Option<&FaceOutline>, what: &str, out: &mut SurveyedFace) -> Option<Path> {
    match path(given?, out) {
        Ok(path) if path.crosses_itself() || !(path.area_mm2().abs() > 1e-3) => {
            out.faults.push(format!(
                "the {what} crosses itself or encloses nothing: check the order of its points"
            ));
            None
        }
        Ok(path) => Some(path.counter_clockwise()),
        Err(wrong) => {
            out.faults.push(format!("the {what} {wrong}"));
            None
        }
    }
}

fn path(given: &FaceOutline, out: &SurveyedFace) -> Result<Path, String> {
    if let Some(centre) = &given.centre {
        let own = named(centre, out).and_then(|p| p.diameter_mm);
        let Some(diameter) = given.diameter_mm.as_ref().map(|d| d.value).or(own) else {
            return Err("is a circle without a diameter: add `diameter`".to_owned());
        };
        return Ok(Path::circle(place(centre, out)?, diameter / 2.0));
    }
    let mut points = Vec::new();
    for (point, passing) in &given.points {
        points.push((place(point, out)?, *passing));
    }
    if points.len() < 3 {
        return Err("has fewer than three points".to_owned());
    }
    if let Some(radius) = given.radius_mm.as_ref().filter(|r| r.value > 0.0) {
        let corners: Vec<[f64; 2]> = points.iter().map(|(p, _)| *p).collect();
        let radii = vec![radius.value; corners.len()];
        return Path::filleted(&corners, &radii)
            .ok_or_else(|| "has sides too short for its `radius`".to_owned());
    }
    Ok(Path { vertices: vertices(&points) })
}

/// Corners with the bulges of the arcs that pass through the points between them.
fn vertices(points: &[([f64; 2], Passing)]) -> Vec<Vertex> {
    let n = points.len();
    let mut vertices = Vec::new();
    for (i, (p, passing)) in points.iter().enumerate() {
        if *passing == Passing::Through {
            continue;
        }
        let (next, after) = (points[(i + 1) % n], points[(i + 2) % n]);
        let bulge = match next.1 {
            Passing::Through => bulge(*p, next.0, after.0),
            Passing::Corner => 0.0,
        };
        vertices.push(Vertex { x_mm: p[0], y_mm: p[1], bulge });
    }
    vertices
}

/// The bulge of the arc from a through b to c: half the angle at b, seen from outside, makes a quarter of
/// the arc's.
fn bulge(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    let (u, v) = ([a[0] - b[0], a[1] - b[1]], [c[0] - b[0], c[1] - b[1]]);
    let cross = u[0] * v[1] - u[1] * v[0];
    let dot = u[0] * v[0] + u[1] * v[1];
    // The angle at b stands on the other arc; the arc through b has the rest: a/4 = (180 deg - angle) / 2.
    let angle = libm::atan2(cross.abs(), dot);
    let size = libm::tan((std::f64::consts::PI - angle) / 2.0);
    if cross < 0.0 { size } else { -size }
}

fn named<'o>(
    point: &At<OutlinePoint>,
    out: &'o SurveyedFace,
) -> Option<&'o super::SurveyedPoint> {
    let OutlinePoint::Named(name) = &point.value else { return None };
    let mut all = out.holes.iter().chain(&out.terminals).chain(&out.corners);
    all.find(|p| p.name == *name)
}

fn place(point: &At<OutlinePoint>, out: &SurveyedFace) -> Result<[f64; 2], String> {
    match &point.value {
        OutlinePoint::Position(at) => Ok(*at),
        OutlinePoint::Named(name) => match named(point, out) {
            Some(p) => Ok([p.x_mm, p.y_mm]),
            None => Err(format!("needs the point {name}, whose place is not known")),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_points_of_a_circle_give_its_arc() {
        // A quarter to the left: tan(90/4 deg).
        let s = 0.5_f64.sqrt();
        let quarter = bulge([1.0, 0.0], [s, s], [0.0, 1.0]);
        assert!((quarter - libm::tan(std::f64::consts::PI / 8.0)).abs() < 1e-12);
        assert!((bulge([1.0, 0.0], [0.0, -1.0], [-1.0, 0.0]) + 1.0).abs() < 1e-12);
        // Three quarters to the left.
        let most = bulge([1.0, 0.0], [-s, s], [0.0, -1.0]);
        assert!((most - libm::tan(3.0 * std::f64::consts::PI / 8.0)).abs() < 1e-12);
        assert!(bulge([0.0, 0.0], [1.0, 0.0], [2.0, 0.0]).abs() < 1e-9);
    }
}
