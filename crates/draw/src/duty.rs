//! A drive over time, one track under the other, and the plane of torque and speed with what the machine can give.

use crate::chart::{WIDTH_MM, tick_text, ticks};
use crate::letters::width_mm;
use crate::svg::{
    DASHED, Drawing, FINE, GREY, INK, ORANGE, PALE, PAPER, Pen, Place, RED, SMALL, Sheet, at,
};

/// One quantity over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Track {
    /// What it is, with its unit.
    pub name: String,
    /// Time and value, in order of time.
    pub points: Vec<(f64, f64)>,
    /// A level to be seen against: its name and value.
    pub level: Option<(String, f64)>,
}

/// Tracks over one time axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Tracks {
    /// Under the axis: "minutes".
    pub across: String,
    /// From above.
    pub tracks: Vec<Track>,
}

/// Torque against speed.
#[derive(Clone, Debug, PartialEq)]
pub struct Plane {
    /// Above the axis: "torque, N m".
    pub upright: String,
    /// Under the axis: "rev/min".
    pub across: String,
    /// Where the machine worked.
    pub reached: Vec<(f64, f64)>,
    /// Where it was asked for more than it gives.
    pub missed: Vec<(f64, f64)>,
    /// Points with a name: the hard cases.
    pub named: Vec<(String, f64, f64)>,
    /// Most torque over speed.
    pub most: Vec<(f64, f64)>,
    /// Least torque over speed.
    pub least: Vec<(f64, f64)>,
}

const LEFT: f64 = 13.0;
const RIGHT: f64 = WIDTH_MM - 4.0;
const TRACK_MM: f64 = 25.0;
const GAP_MM: f64 = 7.0;
const PLANE_MM: f64 = 84.0;
const GRID: Pen = Pen { colour: PALE, width: 0.2, dash: None };
const CURVE: Pen = Pen { colour: ORANGE, width: 0.35, dash: None };

/// As many columns as a curve is drawn with; a printer shows no more.
const COLUMNS: usize = 420;

/// A long series with as much of it as can be seen: in each column the least and the greatest value, in their order.
pub fn thinned(points: &[(f64, f64)], columns: usize) -> Vec<(f64, f64)> {
    let (Some(first), Some(last)) = (points.first(), points.last()) else { return Vec::new() };
    let width = (last.0 - first.0) / columns as f64;
    if points.len() <= 2 * columns || !(width > 0.0) {
        return points.to_vec();
    }
    let column = |p: &(f64, f64)| (((p.0 - first.0) / width) as usize).min(columns - 1);
    let mut seen = vec![*first];
    let mut from = 0;
    while from < points.len() {
        let here = column(&points[from]);
        let to = from + points[from..].iter().take_while(|p| column(p) == here).count();
        let part = &points[from..to];
        let by = |a: &usize, b: &usize| part[*a].1.total_cmp(&part[*b].1);
        let low = (0..part.len()).min_by(by).expect("a column holds its first point");
        let high = (0..part.len()).max_by(by).expect("a column holds its first point");
        seen.push(part[low.min(high)]);
        if low != high {
            seen.push(part[low.max(high)]);
        }
        from = to;
    }
    seen.push(*last);
    seen
}

/// From values to places in one box of the sheet.
struct Axes {
    x: (f64, f64),
    y: Vec<f64>,
    top: f64,
    bottom: f64,
}

impl Axes {
    fn place(&self, x: f64, y: f64) -> Place {
        let (low, high) = (self.y[0], self.y[self.y.len() - 1]);
        let across = (x - self.x.0) / (self.x.1 - self.x.0);
        let up = (y - low) / (high - low);
        at(LEFT + across * (RIGHT - LEFT), self.bottom - up * (self.bottom - self.top))
    }

    fn grid(&self, sheet: &mut Sheet, along: &[f64]) {
        for &value in &self.y {
            let left = self.place(self.x.0, value);
            sheet.line(left, self.place(self.x.1, value), GRID);
            sheet.text(at(LEFT - 1.5, left.y + 0.9), &tick_text(value, &self.y), SMALL.end());
        }
        for &value in along {
            let x = self.place(value, self.y[0]).x;
            sheet.line(at(x, self.top), at(x, self.bottom), GRID);
        }
        // Where values pass zero, that line is the one to be seen.
        let zero = self.place(self.x.0, 0.0_f64.max(self.y[0])).y;
        sheet.line(at(LEFT, zero), at(RIGHT, zero), FINE);
        sheet.line(at(LEFT, self.top), at(LEFT, self.bottom), FINE);
    }

    fn numbers(&self, sheet: &mut Sheet, along: &[f64], across: &str) {
        for &value in along {
            let x = self.place(value, self.y[0]).x;
            sheet.text(at(x, self.bottom + 3.6), &tick_text(value, along), SMALL.middle());
        }
        sheet.text(at(RIGHT, self.bottom + 7.6), across, SMALL.end().in_colour(GREY));
    }

    fn curve(&self, sheet: &mut Sheet, points: &[(f64, f64)], pen: Pen) {
        let places: Vec<Place> = points.iter().map(|p| self.place(p.0, p.1)).collect();
        if 1 < places.len() {
            sheet.polyline(&places, pen);
        }
    }
}

fn finite(points: &[(f64, f64)]) -> bool {
    points.iter().all(|p| p.0.is_finite() && p.1.is_finite())
}

/// Round values along the axis that lie within it.
fn along(last: f64) -> Vec<f64> {
    let mut all = ticks(0.0, last, (RIGHT - LEFT) / 18.0);
    all.retain(|v| *v <= last * (1.0 + 1e-9));
    if all.len() < 2 {
        all = vec![0.0, last];
    }
    all
}

/// Draws the tracks; nothing to draw gives nothing.
pub fn tracks(of: &Tracks) -> Option<Drawing> {
    let drawn: Vec<&Track> =
        of.tracks.iter().filter(|t| t.points.len() > 1 && finite(&t.points)).collect();
    let last = drawn.iter().flat_map(|t| t.points.last()).map(|p| p.0).fold(0.0, f64::max);
    if drawn.is_empty() || last <= 0.0 {
        return None;
    }
    let height = drawn.len() as f64 * (TRACK_MM + GAP_MM) + 8.5;
    let mut sheet = Sheet::new(WIDTH_MM, height);
    let along = along(last);
    for (i, track) in drawn.iter().enumerate() {
        let top = GAP_MM + i as f64 * (TRACK_MM + GAP_MM) - 1.0;
        let level = track.level.as_ref().filter(|l| l.1.is_finite());
        let values = || track.points.iter().map(|p| p.1).chain(level.map(|l| l.1));
        let (low, high) = (values().fold(0.0, f64::min), values().fold(0.0, f64::max));
        let high = if high - low < 1e-6 { low + 1.0 } else { high };
        let axes =
            Axes { x: (0.0, last), y: ticks(low, high, 4.0), top, bottom: top + TRACK_MM };
        sheet.text(at(LEFT, top - 1.8), &track.name, SMALL.in_colour(GREY));
        axes.grid(&mut sheet, &along);
        axes.curve(&mut sheet, &thinned(&track.points, COLUMNS), CURVE);
        if let Some((name, value)) = level {
            let line = (axes.place(0.0, *value), axes.place(last, *value));
            sheet.line(line.0, line.1, Pen { colour: RED, ..DASHED });
            // Above the line where there is room, and never under the curve.
            let down = if line.0.y - top < 4.0 { 3.2 } else { -1.0 };
            let from = RIGHT - 2.0 - width_mm(name, SMALL);
            let y = line.0.y + down;
            let paper = (at(from - 0.5, y - 2.2), at(RIGHT - 1.5, y + 0.6));
            sheet.rect(paper.0, paper.1, Some(PAPER), None);
            sheet.text(at(from, y), name, SMALL.in_colour(RED));
        }
        if i + 1 == drawn.len() {
            axes.numbers(&mut sheet, &along, &of.across);
        }
    }
    Some(sheet.finish())
}

/// Draws the plane; nothing to draw gives nothing.
pub fn plane(of: &Plane) -> Option<Drawing> {
    let lists = [&of.reached, &of.missed, &of.most, &of.least];
    let named = of.named.iter().map(|n| (n.1, n.2));
    let all: Vec<(f64, f64)> = lists.into_iter().flatten().copied().chain(named).collect();
    let last = all.iter().map(|p| p.0).fold(0.0, f64::max);
    let (low, high) = all.iter().fold((0.0, 0.0), |(a, b), p| (p.1.min(a), p.1.max(b)));
    if !finite(&all) || last <= 0.0 || high - low < 1e-6 {
        return None;
    }
    let mut sheet = Sheet::new(WIDTH_MM, PLANE_MM);
    sheet.text(at(1.0, 3.6), &of.upright, SMALL.in_colour(GREY));
    let axes =
        Axes { x: (0.0, last), y: ticks(low, high, 7.0), top: 9.0, bottom: PLANE_MM - 9.5 };
    let along = along(last);
    axes.grid(&mut sheet, &along);
    axes.numbers(&mut sheet, &along, &of.across);
    let limit = Pen { colour: INK, width: 0.4, dash: None };
    axes.curve(&mut sheet, &of.most, limit);
    axes.curve(&mut sheet, &of.least, limit);
    for place in apart(of.reached.iter().map(|p| axes.place(p.0, p.1))) {
        sheet.circle(place, 0.3, Some(ORANGE), None);
    }
    let red = Pen { colour: RED, width: 0.25, dash: None };
    for p in apart(of.missed.iter().map(|p| axes.place(p.0, p.1))) {
        sheet.line(at(p.x - 0.8, p.y - 0.8), at(p.x + 0.8, p.y + 0.8), red);
        sheet.line(at(p.x - 0.8, p.y + 0.8), at(p.x + 0.8, p.y - 0.8), red);
    }
    for (name, x, y) in &of.named {
        name_point(&mut sheet, axes.place(*x, *y), name);
    }
    key(&mut sheet, of);
    Some(sheet.finish())
}

/// A ring with its name beside it, where there is room.
fn name_point(sheet: &mut Sheet, place: Place, name: &str) {
    let width = width_mm(name, SMALL);
    let from =
        if place.x + 2.0 + width < RIGHT { place.x + 2.0 } else { place.x - 2.0 - width };
    // Above the ring, so that a limit that runs through it is not cut.
    let y = place.y - 2.0;
    let paper = (at(from - 0.4, y - 2.3), at(from + width + 0.4, y + 0.5));
    sheet.rect(paper.0, paper.1, Some(PAPER), None);
    sheet.circle(place, 1.1, Some(PAPER), Some(Pen { colour: INK, width: 0.35, dash: None }));
    sheet.text(at(from, y), name, SMALL);
}

/// What the signs mean, at the top.
fn key(sheet: &mut Sheet, of: &Plane) {
    let mut right = RIGHT;
    let mut entry = |sheet: &mut Sheet, text: &str, draw: &dyn Fn(&mut Sheet, f64)| {
        sheet.text(at(right, 3.6), text, SMALL.end().in_colour(GREY));
        right -= width_mm(text, SMALL) + 3.0;
        draw(sheet, right);
        right -= 6.0;
    };
    if !of.missed.is_empty() {
        entry(sheet, "asked and not reached", &|sheet, x| {
            let red = Pen { colour: RED, width: 0.25, dash: None };
            sheet.line(at(x - 0.8, 1.9), at(x + 0.8, 3.5), red);
            sheet.line(at(x - 0.8, 3.5), at(x + 0.8, 1.9), red);
        });
    }
    entry(sheet, "reached", &|sheet, x| sheet.circle(at(x, 2.7), 0.4, Some(ORANGE), None));
    if 1 < of.most.len() {
        entry(sheet, "limit of motor, inverter and battery", &|sheet, x| {
            sheet.line(
                at(x - 3.0, 2.7),
                at(x + 1.0, 2.7),
                Pen { colour: INK, width: 0.4, dash: None },
            );
        });
    }
}

/// Places that are not on top of each other on paper.
fn apart(places: impl Iterator<Item = Place>) -> Vec<Place> {
    const CELL_MM: f64 = 0.5;
    let cell = |p: &Place| ((p.x / CELL_MM).round() as i64, (p.y / CELL_MM).round() as i64);
    let mut taken = std::collections::BTreeSet::new();
    places.filter(|p| taken.insert(cell(p))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thinned_series_keeps_every_peak() {
        let mut points: Vec<(f64, f64)> =
            (0..10_000).map(|k| (f64::from(k), f64::from(k % 7))).collect();
        points[5_003].1 = 400.0;
        points[7_777].1 = -90.0;
        let seen = thinned(&points, 300);
        assert!(seen.len() <= 602);
        assert!(seen.contains(&(5_003.0, 400.0)) && seen.contains(&(7_777.0, -90.0)));
        assert_eq!(seen.first(), points.first());
        assert_eq!(seen.last(), points.last());
        assert!(seen.windows(2).all(|w| w[0].0 <= w[1].0), "in order of time");
    }

    #[test]
    fn a_short_series_is_kept_as_it_is() {
        let points = vec![(0.0, 1.0), (5.0, 1.0)];
        assert_eq!(thinned(&points, 300), points);
    }

    #[test]
    fn nothing_to_draw_draws_nothing() {
        assert!(tracks(&Tracks { across: String::new(), tracks: Vec::new() }).is_none());
        let empty = Plane {
            upright: String::new(),
            across: String::new(),
            reached: Vec::new(),
            missed: Vec::new(),
            named: Vec::new(),
            most: Vec::new(),
            least: Vec::new(),
        };
        assert!(plane(&empty).is_none());
    }

    #[test]
    fn a_point_not_reached_is_crossed() {
        let of = Plane {
            upright: "torque, N m".to_owned(),
            across: "rev/min".to_owned(),
            reached: vec![(1000.0, 50.0)],
            missed: vec![(4000.0, 200.0)],
            named: vec![("kerb".to_owned(), 0.0, 120.0)],
            most: vec![(0.0, 150.0), (5000.0, 80.0)],
            least: vec![(0.0, -150.0), (5000.0, -80.0)],
        };
        let drawn = plane(&of).unwrap();
        assert!(drawn.svg.contains("asked and not reached") && drawn.svg.contains("kerb"));
    }
}
