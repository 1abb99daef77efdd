//! A surveyed face as it was measured: holes, terminals, corners, opening and land, seen from outside.
//!
//! Only what the readings give is drawn; the reading that does not fit is shown between its two points.

use physics::units::System;
use plan::design::survey::{SurveyedFace, SurveyedPoint};
use space::path::Path;

use crate::frame::Page;
use crate::marks::scale_bar;
use crate::svg::{CENTRE, Drawing, FINE, INK, OUTLINE, Pen, Place, RED, SMALL, at};

/// The face is drawn as large as this room allows, in a standard scale.
const ROOM_MM: (f64, f64) = (150.0, 95.0);
/// Standard scales (ISO 5455) and what lies between, largest first.
const SCALES: [f64; 7] = [2.0, 1.0, 0.5, 0.4, 0.2, 0.1, 0.05];
/// What lies behind the face.
const THIN: Pen = Pen { colour: INK, width: 0.2, dash: None };
/// Around the face.
const MARGIN_MM: f64 = 9.0;
/// A face larger than this is a slip of the hand.
const LARGEST_MM: f64 = 1800.0;

/// The drawing; none where nothing has a place or the face fits no page.
pub fn face(of: &SurveyedFace, units: System) -> Option<Drawing> {
    let (low, high) = bounds(of)?;
    let (w, h) = (high[0] - low[0], high[1] - low[1]);
    if !(w.max(h) <= LARGEST_MM) {
        return None;
    }
    let fits = |scale: &f64| w * scale <= ROOM_MM.0 && h * scale <= ROOM_MM.1;
    let scale = SCALES.into_iter().find(fits)?;
    let view = View { low, high, scale };
    let wide = (w * scale).max(80.0);
    let mut page = Page::new(wide + 2.0 * MARGIN_MM, h * scale + 2.0 * MARGIN_MM + 8.0);
    for (path, pen) in [(&of.outline, OUTLINE), (&of.opening, OUTLINE)] {
        if let Some(path) = path {
            view.closed(&mut page, path, pen);
        }
    }
    let points = || of.holes.iter().chain(&of.terminals).chain(&of.corners);
    if let Some(suspect) = &of.suspect {
        let what = &of.readings[suspect.reading].what;
        let named: Vec<Place> = points()
            .filter(|p| what.split([' ', ',', '-']).any(|word| word == p.name))
            .map(|p| view.p([p.x_mm, p.y_mm]))
            .collect();
        if let [a, b, ..] = named[..] {
            page.sheet.line(a, b, Pen { colour: RED, width: 0.35, dash: Some((2.0, 1.0)) });
        }
    }
    for (list, pen) in [(&of.holes, OUTLINE), (&of.terminals, THIN), (&of.corners, FINE)] {
        for point in list {
            view.point(&mut page, point, pen);
        }
    }
    for point in points() {
        let clear = point.diameter_mm.unwrap_or(1.0) / 2.0 * scale;
        page.label(view.p([point.x_mm, point.y_mm]), clear, &point.name, SMALL.heavy());
    }
    let foot = at(MARGIN_MM, h * scale + 2.0 * MARGIN_MM + 5.0);
    scale_bar(&mut page.sheet, foot, scale, units);
    Some(page.finish())
}

/// Where the face lies on paper.
struct View {
    low: [f64; 2],
    high: [f64; 2],
    scale: f64,
}

impl View {
    fn p(&self, point: [f64; 2]) -> Place {
        at(
            MARGIN_MM + (point[0] - self.low[0]) * self.scale,
            MARGIN_MM + (self.high[1] - point[1]) * self.scale,
        )
    }

    fn closed(&self, page: &mut Page, path: &Path, pen: Pen) {
        let mut places: Vec<Place> =
            path.sampled(0.05 / self.scale, 1e6).into_iter().map(|p| self.p(p)).collect();
        page.sheet.polygon(&places, None, Some(pen));
        places.extend(places.first().copied());
        page.keep_off(&places);
    }

    fn point(&self, page: &mut Page, point: &SurveyedPoint, pen: Pen) {
        let c = self.p([point.x_mm, point.y_mm]);
        let radius = point.diameter_mm.unwrap_or(0.0) / 2.0 * self.scale;
        if radius > 0.0 {
            page.sheet.circle(c, radius, None, Some(pen));
        } else {
            page.sheet.circle(c, 0.4, Some(INK), None);
        }
        let reach = radius + 1.0;
        page.sheet.line(at(c.x - reach, c.y), at(c.x + reach, c.y), CENTRE);
        page.sheet.line(at(c.x, c.y - reach), at(c.x, c.y + reach), CENTRE);
        page.keep_off(&[at(c.x - reach, c.y), at(c.x + reach, c.y)]);
        page.keep_off(&[at(c.x, c.y - reach), at(c.x, c.y + reach)]);
    }
}

/// Lower left and upper right of all that has a place.
fn bounds(of: &SurveyedFace) -> Option<([f64; 2], [f64; 2])> {
    let points = of.holes.iter().chain(&of.terminals).chain(&of.corners).flat_map(|p| {
        let r = p.diameter_mm.unwrap_or(0.0) / 2.0;
        [[p.x_mm - r, p.y_mm - r], [p.x_mm + r, p.y_mm + r]]
    });
    let paths = [&of.outline, &of.opening];
    let corners = paths.into_iter().flatten().filter_map(Path::bounds).flat_map(<[_; 2]>::from);
    let all: Vec<[f64; 2]> = points.chain(corners).collect();
    if all.iter().flatten().any(|v| !v.is_finite()) {
        return None;
    }
    let of = |i: usize, pick: fn(f64, f64) -> f64| all.iter().map(|p| p[i]).reduce(pick);
    let low = [of(0, f64::min)?, of(1, f64::min)?];
    let high = [of(0, f64::max)?, of(1, f64::max)?];
    Some((low, high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use plan::finding::Notes;
    use plan::given::face::read_file;

    const FACE: &str = include_str!("../../../builds/orchard-truck/motor-phases-face.toml");

    fn surveyed(text: &str) -> SurveyedFace {
        let (given, errors) = read_file(text);
        assert_eq!(errors, Vec::new());
        plan::design::survey::one("motor.phases", "face", &given, &mut Notes::default())
    }

    #[test]
    fn every_point_is_named_once_and_on_the_page() {
        let of = surveyed(FACE);
        let drawing = face(&of, System::Metric).unwrap();
        for point in of.holes.iter().chain(&of.terminals) {
            assert_eq!(drawing.svg.matches(&format!(">{}<", point.name)).count(), 1);
        }
        assert!(drawing.width_mm <= 174.0 && drawing.height_mm <= 125.0);
        assert!(!drawing.svg.contains(RED), "no reading is against the others");
    }

    #[test]
    fn the_reading_that_does_not_fit_is_drawn() {
        let wrong = FACE.replace("inside = \"258.59 mm\"", "inside = \"261.59 mm\"");
        let of = surveyed(&wrong);
        assert!(of.suspect.is_some());
        assert!(face(&of, System::Metric).unwrap().svg.contains(RED));
    }

    #[test]
    fn a_face_without_places_is_not_drawn() {
        assert_eq!(face(&surveyed(""), System::Metric), None);
    }
}
