//! Hatching of section faces by plain lines, so that materials differ in grey print too.

use crate::svg::{Pen, Place, Sheet, at};

/// How a cut face is shown: a tint and up to two families of lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// Background tint.
    pub tint: &'static str,
    /// Direction of the lines as rise over run, and distance between them along y in mm.
    pub lines: &'static [(f64, f64)],
}

/// Copper of lug and conductor.
pub const COPPER: Face = Face { tint: "#eebf97", lines: &[(1.0, 1.1)] };
/// Strands of a conductor, along the cable.
pub const STRANDS: Face = Face { tint: "#e3a673", lines: &[(0.0, 0.55)] };
/// Steel of bolts and washers.
pub const STEEL: Face = Face { tint: "#c9d0d8", lines: &[(-1.0, 0.8)] };
/// The terminal block or pad.
pub const LANDING: Face = Face { tint: "#ecd9a6", lines: &[(-1.0, 1.8)] };
/// Insulation and sheath of a high-voltage cable.
pub const INSULATION: Face = Face { tint: "#f5a869", lines: &[] };
/// Shrunk sleeve.
pub const SLEEVE: Face = Face { tint: "#5d646c", lines: &[] };
/// The machined plate.
pub const PLATE: Face = Face { tint: "#e4e8ec", lines: &[(1.0, 1.5)] };
/// The donor's housing.
pub const HOUSING: Face = Face { tint: "#d3d8de", lines: &[(-1.0, 1.5)] };
/// Grip body.
pub const GRIP: Face = Face { tint: "#dfe0d2", lines: &[(-1.0, 1.0)] };
/// Rubber: O-ring and the grip's seal.
pub const RUBBER: Face = Face { tint: "#3f454c", lines: &[] };

const LINE: Pen = Pen { colour: "#4a525b", width: 0.1, dash: None };

/// Fills a closed shape with a face and outlines it.
pub fn fill(sheet: &mut Sheet, shape: &[Place], face: Face, outline: Option<Pen>) {
    sheet.polygon(shape, Some(face.tint), None);
    for &(slope, apart) in face.lines {
        for (from, to) in lines_inside(shape, slope, apart) {
            sheet.line(from, to, LINE);
        }
    }
    if outline.is_some() {
        sheet.polygon(shape, None, outline);
    }
}

/// The pieces of parallel lines `y = slope x + n apart` that lie inside the shape (even-odd).
fn lines_inside(shape: &[Place], slope: f64, apart: f64) -> Vec<(Place, Place)> {
    assert!(apart > 0.0);
    let offset = |p: &Place| p.y - slope * p.x;
    let low = shape.iter().map(offset).fold(f64::INFINITY, f64::min);
    let high = shape.iter().map(offset).fold(f64::NEG_INFINITY, f64::max);
    let mut pieces = Vec::new();
    if high <= low {
        return pieces;
    }
    let first = (low / apart).floor() as i64;
    let last = (high / apart).ceil() as i64;
    for n in first..=last {
        // Half a step off the grid, so that a line seldom lies on an edge.
        let c = (n as f64 + 0.5) * apart;
        let mut crossings: Vec<f64> = (0..shape.len())
            .filter_map(|i| {
                let (a, b) = (&shape[i], &shape[(i + 1) % shape.len()]);
                let (da, db) = (offset(a) - c, offset(b) - c);
                ((da < 0.0) != (db < 0.0)).then(|| a.x + (b.x - a.x) * da / (da - db))
            })
            .collect();
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            if pair[1] - pair[0] > 1e-6 {
                pieces
                    .push((at(pair[0], slope * pair[0] + c), at(pair[1], slope * pair[1] + c)));
            }
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_stay_inside_and_cover_the_area() {
        let square = [at(0.0, 0.0), at(10.0, 0.0), at(10.0, 10.0), at(0.0, 10.0)];
        let pieces = lines_inside(&square, 1.0, 1.0);
        let mut covered = 0.0;
        for (a, b) in &pieces {
            for p in [a, b] {
                assert!(
                    (-1e-9..=10.0 + 1e-9).contains(&p.x)
                        && (-1e-9..=10.0 + 1e-9).contains(&p.y)
                );
            }
            covered += b.x - a.x;
        }
        // Lines one apart along y: the sum of their runs is the area.
        assert!((covered - 100.0).abs() < 1.0, "{covered}");
    }

    #[test]
    fn a_hollow_is_left_white() {
        // A U: nothing is drawn in its mouth.
        let u = [
            at(0.0, 0.0),
            at(3.0, 0.0),
            at(3.0, 7.0),
            at(7.0, 7.0),
            at(7.0, 0.0),
            at(10.0, 0.0),
            at(10.0, 10.0),
            at(0.0, 10.0),
        ];
        for (a, b) in lines_inside(&u, 0.0, 1.0) {
            let middle = (a.x + b.x) / 2.0;
            assert!(a.y > 7.0 || !(3.0..7.0).contains(&middle));
        }
    }
}
