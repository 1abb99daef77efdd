//! Curves over time against a limit: one panel, or two with their own times and the same height.

use crate::letters::width_mm;
use crate::svg::{
    DASHED, Drawing, FINE, GREY, INK, ORANGE, PALE, PAPER, Pen, Place, RED, SMALL, Sheet, at,
};

/// One curve with its own time axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// What the curve is, above it.
    pub name: String,
    /// Under the axis: "minutes".
    pub across: String,
    /// Places in the chart's units.
    pub points: Vec<(f64, f64)>,
    /// Share of the width.
    pub share: f64,
    /// Dashed, so that two curves differ in grey print.
    pub dashed: bool,
}

/// A chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// Above the axis: "conductor, degC".
    pub upright: String,
    /// Side by side.
    pub panels: Vec<Panel>,
    /// Level lines: name and value; the first is the limit.
    pub levels: Vec<(String, f64)>,
}

/// Width of the drawing on paper.
pub const WIDTH_MM: f64 = 174.0;
const HEIGHT_MM: f64 = 58.0;
const LEFT: f64 = 13.0;
const TOP: f64 = 9.0;
const BOTTOM: f64 = HEIGHT_MM - 9.5;
const BETWEEN: f64 = 6.0;

/// Values up the side, and where they stand.
struct Scale {
    ticks: Vec<f64>,
}

impl Scale {
    fn y(&self, value: f64) -> f64 {
        let (low, high) = (self.ticks[0], self.ticks[self.ticks.len() - 1]);
        BOTTOM - (value - low) / (high - low) * (BOTTOM - TOP)
    }
}

/// Draws the chart; nothing to draw gives nothing.
pub fn chart(of: &Chart) -> Option<Drawing> {
    let drawn: Vec<&Panel> = of.panels.iter().filter(|p| is_drawable(&p.points)).collect();
    let values = || {
        let points = drawn.iter().flat_map(|p| p.points.iter()).map(|p| p.1);
        points.chain(of.levels.iter().map(|l| l.1))
    };
    let low = values().fold(f64::INFINITY, f64::min);
    let high = values().fold(f64::NEG_INFINITY, f64::max);
    if drawn.is_empty() || !low.is_finite() || !high.is_finite() {
        return None;
    }
    let scale = Scale { ticks: ticks(low, high, 6.0) };
    let mut sheet = Sheet::new(WIDTH_MM, HEIGHT_MM);
    sheet.text(at(1.0, 3.6), &of.upright, SMALL.in_colour(GREY));
    let shares: f64 = drawn.iter().map(|p| p.share).sum();
    let room = WIDTH_MM - 4.0 - LEFT - BETWEEN * (drawn.len() - 1) as f64;
    let mut left = LEFT;
    for (i, panel) in drawn.iter().enumerate() {
        let right = left + room * panel.share / shares;
        draw_panel(&mut sheet, panel, &scale, (left, right), i == 0);
        draw_levels(&mut sheet, &of.levels, &scale, (left, right), i == 0);
        draw_curve(&mut sheet, panel, &scale, (left, right));
        left = right + BETWEEN;
    }
    Some(sheet.finish())
}

fn is_drawable(points: &[(f64, f64)]) -> bool {
    let finite = points.iter().all(|p| p.0.is_finite() && p.1.is_finite());
    finite && points.len() > 1 && points.iter().any(|p| p.0 > 0.0)
}

fn last_x(panel: &Panel) -> f64 {
    panel.points.iter().map(|p| p.0).fold(0.0, f64::max)
}

fn draw_panel(
    sheet: &mut Sheet,
    panel: &Panel,
    scale: &Scale,
    (left, right): (f64, f64),
    first: bool,
) {
    let grid = Pen { colour: PALE, width: 0.2, dash: None };
    for &value in &scale.ticks {
        let y = scale.y(value);
        sheet.line(at(left, y), at(right, y), grid);
        if first {
            sheet.text(at(left - 1.5, y + 0.9), &tick_text(value, &scale.ticks), SMALL.end());
        }
    }
    let last = last_x(panel);
    let along = ticks(0.0, last, ((right - left) / 18.0).max(2.0));
    for &value in along.iter().filter(|v| **v <= last) {
        let x = left + value / last * (right - left);
        sheet.line(at(x, TOP), at(x, BOTTOM), grid);
        sheet.text(at(x, BOTTOM + 3.6), &tick_text(value, &along), SMALL.middle());
    }
    sheet.line(at(left, BOTTOM), at(right, BOTTOM), FINE);
    sheet.line(at(left, TOP), at(left, BOTTOM), FINE);
    sheet.text(at(right, BOTTOM + 7.6), &panel.across, SMALL.end().in_colour(GREY));
    let colour = if panel.dashed { INK } else { ORANGE };
    sheet.text(at(right, TOP - 2.2), &panel.name, SMALL.end().in_colour(colour).heavy());
}

fn draw_levels(
    sheet: &mut Sheet,
    levels: &[(String, f64)],
    scale: &Scale,
    (left, right): (f64, f64),
    first: bool,
) {
    for (i, (name, value)) in levels.iter().enumerate() {
        let pen = if i == 0 { Pen { colour: RED, ..DASHED } } else { DASHED };
        let y = scale.y(*value);
        sheet.line(at(left, y), at(right, y), pen);
        if !first {
            continue;
        }
        // The limit is named at the left, where curves are low; others at the right, where they are high.
        let width = width_mm(name, SMALL);
        let from = if i == 0 { left + 2.0 } else { right - 2.0 - width };
        let paper = (at(from - 0.5, y - 3.4), at(from + width + 0.5, y - 0.6));
        sheet.rect(paper.0, paper.1, Some(PAPER), None);
        sheet.text(at(from, y - 1.1), name, SMALL.in_colour(pen.colour));
    }
}

fn draw_curve(sheet: &mut Sheet, panel: &Panel, scale: &Scale, (left, right): (f64, f64)) {
    let dash = panel.dashed.then_some((2.4, 1.2));
    let colour = if panel.dashed { INK } else { ORANGE };
    let last = last_x(panel);
    let place = |p: &(f64, f64)| at(left + p.0 / last * (right - left), scale.y(p.1));
    let places: Vec<Place> = panel.points.iter().map(place).collect();
    sheet.polyline(&places, Pen { colour, width: 0.5, dash });
}

/// Round values that cover a range, about `count` of them.
pub(crate) fn ticks(low: f64, high: f64, count: f64) -> Vec<f64> {
    let raw = ((high - low) / count).max(1e-9);
    let power = libm::pow(10.0, libm::floor(libm::log10(raw)));
    let step = [1.0, 2.0, 2.5, 5.0, 10.0]
        .into_iter()
        .map(|m| m * power)
        .find(|s| *s >= raw * (1.0 - 1e-9))
        .unwrap_or(10.0 * power);
    let (first, last) = ((low / step).floor() as i64, (high / step - 1e-9).ceil() as i64);
    (first..=last.max(first + 1)).map(|n| n as f64 * step).collect()
}

pub(crate) fn tick_text(value: f64, all: &[f64]) -> String {
    let step = all[1] - all[0];
    let whole = |s: f64| (s - s.round()).abs() < 1e-6 * s.abs();
    let decimals = match step {
        s if s >= 1.0 && whole(s) => 0,
        s if whole(s * 10.0) => 1,
        s if whole(s * 100.0) => 2,
        _ => 3,
    };
    format!("{value:.decimals$}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_cover() {
        let t = ticks(40.0, 125.0, 6.0);
        assert_eq!(t, vec![40.0, 60.0, 80.0, 100.0, 120.0, 140.0]);
        let t = ticks(0.0, 1.3, 8.0);
        assert_eq!(t.first(), Some(&0.0));
        assert!(t.last().is_some_and(|last| *last >= 1.3));
        assert_eq!(tick_text(0.05, &[0.0, 0.05]), "0.05");
        assert_eq!(tick_text(20.0, &[0.0, 20.0]), "20");
    }

    #[test]
    fn nothing_to_draw_draws_nothing() {
        let empty = Chart {
            upright: String::new(),
            panels: Vec::new(),
            levels: vec![("limit".to_owned(), 90.0)],
        };
        assert_eq!(chart(&empty), None);
    }
}
