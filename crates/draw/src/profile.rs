//! Temperature along a run with its sections and its band, and the current a run carries over time.

use crate::chart::{tick_text, ticks};
use crate::letters::width_mm;
use crate::svg::{
    DASHED, Drawing, FINE, GREY, INK, ORANGE, PALE, PAPER, Pen, Place, RED, SMALL, Sheet, at,
};

/// A temperature along a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Along {
    /// Above the axis: "conductor of V, degC".
    pub upright: String,
    /// Under the axis: "m from inverter.phases".
    pub across: String,
    /// Place and temperature, steady.
    pub steady: Vec<(f64, f64)>,
    /// Place and temperature at the hottest moment.
    pub hottest: Vec<(f64, f64)>,
    /// Place, low and high.
    pub band: Vec<(f64, f64, f64)>,
    /// Where each section begins and ends, and its name.
    pub sections: Vec<(f64, f64, String)>,
    /// The limit: its name and value.
    pub limit: (String, f64),
}

/// Currents against time.
#[derive(Clone, Debug, PartialEq)]
pub struct Ratings {
    /// Above the axis: "current, A".
    pub upright: String,
    /// Seconds and current from cold.
    pub cold: Vec<(f64, f64)>,
    /// Seconds and current from warm.
    pub warm: Vec<(f64, f64)>,
    /// For ever: name and value.
    pub for_ever: Option<(String, f64)>,
}

const WIDTH_MM: f64 = crate::chart::WIDTH_MM;
const HEIGHT_MM: f64 = 62.0;
const LEFT: f64 = 13.0;
const RIGHT: f64 = WIDTH_MM - 4.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = HEIGHT_MM - 9.5;
const BAND: &str = "#f7dcc4";
const GRID: Pen = Pen { colour: PALE, width: 0.2, dash: None };

/// From values to places on the sheet.
struct Axes {
    x: (f64, f64),
    y: Vec<f64>,
}

impl Axes {
    fn place(&self, x: f64, y: f64) -> Place {
        let (low, high) = (self.y[0], self.y[self.y.len() - 1]);
        let across = (x - self.x.0) / (self.x.1 - self.x.0);
        at(LEFT + across * (RIGHT - LEFT), BOTTOM - (y - low) / (high - low) * (BOTTOM - TOP))
    }

    fn upright(&self, sheet: &mut Sheet, name: &str) {
        sheet.text(at(1.0, 3.6), name, SMALL.in_colour(GREY));
        for &value in &self.y {
            let left = self.place(self.x.0, value);
            sheet.line(left, self.place(self.x.1, value), GRID);
            let text = tick_text(value, &self.y);
            sheet.text(at(LEFT - 1.5, left.y + 0.9), &text, SMALL.end());
        }
        sheet.line(at(LEFT, BOTTOM), at(RIGHT, BOTTOM), FINE);
        sheet.line(at(LEFT, TOP), at(LEFT, BOTTOM), FINE);
    }

    fn curve(&self, sheet: &mut Sheet, points: &[(f64, f64)], pen: Pen) {
        let places: Vec<Place> = points.iter().map(|p| self.place(p.0, p.1)).collect();
        if 1 < places.len() {
            sheet.polyline(&places, pen);
        }
    }
}

fn level(sheet: &mut Sheet, axes: &Axes, (name, value): &(String, f64), colour: &'static str) {
    let left = axes.place(axes.x.0, *value);
    sheet.line(left, axes.place(axes.x.1, *value), Pen { colour, ..DASHED });
    let width = width_mm(name, SMALL);
    let y = left.y;
    let (a, b) = (at(LEFT + 1.5, y - 3.4), at(LEFT + 2.5 + width, y - 0.6));
    sheet.rect(a, b, Some(PAPER), None);
    sheet.text(at(LEFT + 2.0, y - 1.1), name, SMALL.in_colour(colour));
}

fn span(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    let (low, high) = values
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    (low.is_finite() && high.is_finite()).then_some((low, high))
}

/// Draws a temperature along a run; nothing to draw gives nothing.
pub fn along(of: &Along) -> Option<Drawing> {
    let values = of
        .steady
        .iter()
        .chain(&of.hottest)
        .map(|p| p.1)
        .chain(of.band.iter().flat_map(|p| [p.1, p.2]))
        .chain([of.limit.1]);
    let (low, high) = span(values)?;
    let last = of.sections.iter().map(|s| s.1).fold(0.0, f64::max);
    if of.steady.len() < 2 || !(0.0 < last && last.is_finite()) {
        return None;
    }
    let axes = Axes { x: (0.0, last), y: ticks(low, high, 6.0) };
    let mut sheet = Sheet::new(WIDTH_MM, HEIGHT_MM);
    let there = of.band.iter().map(|p| axes.place(p.0, p.2));
    let back = of.band.iter().rev().map(|p| axes.place(p.0, p.1));
    let outline: Vec<Place> = there.chain(back).collect();
    if 3 < outline.len() {
        sheet.polygon(&outline, Some(BAND), None);
    }
    axes.upright(&mut sheet, &of.upright);
    let along = ticks(0.0, last, 8.0);
    for &value in along.iter().filter(|v| **v <= last * (1.0 + 1e-9)) {
        let x = axes.place(value, axes.y[0]).x;
        sheet.text(at(x, BOTTOM + 3.6), &tick_text(value, &along), SMALL.middle());
    }
    sheet.text(at(RIGHT, BOTTOM + 7.6), &of.across, SMALL.end().in_colour(GREY));
    sections(&mut sheet, &axes, of);
    level(&mut sheet, &axes, &of.limit, RED);
    axes.curve(
        &mut sheet,
        &of.hottest,
        Pen { colour: INK, width: 0.5, dash: Some((2.4, 1.2)) },
    );
    axes.curve(&mut sheet, &of.steady, Pen { colour: ORANGE, width: 0.6, dash: None });
    key(&mut sheet, of);
    Some(sheet.finish())
}

/// Borders between sections, and their names where they fit.
fn sections(sheet: &mut Sheet, axes: &Axes, of: &Along) {
    for (i, (from, to, name)) in of.sections.iter().enumerate() {
        let (left, right) = (axes.place(*from, axes.y[0]).x, axes.place(*to, axes.y[0]).x);
        if 0 < i {
            sheet.line(at(left, TOP - 4.0), at(left, BOTTOM), FINE);
        }
        let short = format!("{}", i + 1);
        let fits = |text: &str| width_mm(text, SMALL) < right - left - 1.0;
        if let Some(text) = [name.as_str(), short.as_str()].into_iter().find(|t| fits(t)) {
            let middle = (left + right) / 2.0;
            sheet.text(at(middle, TOP - 1.4), text, SMALL.middle().in_colour(GREY));
        }
    }
}

fn key(sheet: &mut Sheet, of: &Along) {
    let mut x = RIGHT;
    let mut entry = |sheet: &mut Sheet, name: &str, colour: &'static str| {
        sheet.text(at(x, 3.6), name, SMALL.end().in_colour(colour).heavy());
        x -= width_mm(name, SMALL) + 6.0;
    };
    if !of.band.is_empty() {
        entry(sheet, "shaded: what is assumed", GREY);
    }
    if !of.hottest.is_empty() {
        entry(sheet, "dashed: hottest moment", INK);
    }
    entry(sheet, "steady", ORANGE);
}

/// Draws currents over time, time by its logarithm; nothing to draw gives nothing.
pub fn ratings(of: &Ratings) -> Option<Drawing> {
    let all = || of.cold.iter().chain(&of.warm);
    let (_, high) = span(all().map(|p| p.1).chain(of.for_ever.iter().map(|f| f.1)))?;
    let (first, last) = span(all().map(|p| p.0))?;
    if !(0.0 < first && first < last && 0.0 < high) {
        return None;
    }
    let log = |s: f64| libm::log10(s);
    let axes = Axes { x: (log(first), log(last)), y: ticks(0.0, high, 6.0) };
    let mut sheet = Sheet::new(WIDTH_MM, HEIGHT_MM);
    axes.upright(&mut sheet, &of.upright);
    for (seconds, name) in TIMES {
        if (first * 0.999..=last * 1.001).contains(&seconds) {
            let foot = axes.place(log(seconds), axes.y[0]);
            sheet.line(foot, at(foot.x, TOP), GRID);
            sheet.text(at(foot.x, BOTTOM + 3.6), name, SMALL.middle());
        }
    }
    sheet.text(at(RIGHT, BOTTOM + 7.6), "until the limit", SMALL.end().in_colour(GREY));
    if let Some(level_at) = &of.for_ever {
        level(&mut sheet, &axes, level_at, RED);
    }
    let curves = [
        (&of.warm, Pen { colour: INK, width: 0.5, dash: Some((2.4, 1.2)) }),
        (&of.cold, Pen { colour: ORANGE, width: 0.6, dash: None }),
    ];
    for (points, pen) in curves {
        let logged: Vec<(f64, f64)> = points.iter().map(|p| (log(p.0), p.1)).collect();
        axes.curve(&mut sheet, &logged, pen);
        for p in &logged {
            sheet.circle(axes.place(p.0, p.1), 0.6, Some(pen.colour), None);
        }
    }
    sheet.text(at(RIGHT, 3.6), "dashed: from warm", SMALL.end().in_colour(INK).heavy());
    let warm_mm = width_mm("dashed: from warm", SMALL) + 6.0;
    sheet.text(at(RIGHT - warm_mm, 3.6), "from cold", SMALL.end().in_colour(ORANGE).heavy());
    Some(sheet.finish())
}

/// Times that are named under the axis.
const TIMES: [(f64, &str); 8] = [
    (1.0, "1 s"),
    (10.0, "10 s"),
    (30.0, "30 s"),
    (60.0, "1 min"),
    (300.0, "5 min"),
    (600.0, "10 min"),
    (1800.0, "30 min"),
    (3600.0, "1 h"),
];

#[cfg(test)]
mod tests {
    use super::*;

    fn run() -> Along {
        Along {
            upright: "conductor, degC".to_owned(),
            across: "m from motor".to_owned(),
            steady: vec![(0.05, 110.0), (0.5, 80.0), (0.95, 85.0)],
            hottest: vec![(0.05, 120.0), (0.5, 92.0), (0.95, 95.0)],
            band: vec![(0.05, 100.0, 118.0), (0.95, 70.0, 90.0)],
            sections: vec![
                (0.0, 0.4, "section 1".to_owned()),
                (0.4, 1.0, "the rest".to_owned()),
            ],
            limit: ("limit 125 degC".to_owned(), 125.0),
        }
    }

    #[test]
    fn a_run_is_drawn_with_its_sections() {
        let svg = along(&run()).unwrap().svg;
        for text in ["section 1", "the rest", "limit 125", "hottest moment"] {
            assert!(svg.contains(text), "{text}");
        }
        assert_eq!(along(&Along { steady: Vec::new(), ..run() }), None);
    }

    #[test]
    fn ratings_are_drawn_over_named_times() {
        let of = Ratings {
            upright: "current, A".to_owned(),
            cold: vec![(10.0, 1600.0), (60.0, 770.0), (600.0, 290.0), (3600.0, 204.0)],
            warm: vec![(10.0, 700.0), (60.0, 370.0), (600.0, 220.0), (3600.0, 203.0)],
            for_ever: Some(("202 A for ever".to_owned(), 202.0)),
        };
        let svg = ratings(&of).unwrap().svg;
        assert!(svg.contains("10 min") && svg.contains("202 A for ever"));
    }
}
