//! A curve over time against its limit.

use crate::letters::width_mm;
use crate::svg::{
    DASHED, Drawing, FINE, GREY, INK, ORANGE, PALE, Pen, Place, RED, SMALL, Sheet, at,
};

/// One curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// What it is, written at its end.
    pub name: String,
    /// Places in the chart's units.
    pub points: Vec<(f64, f64)>,
    /// Dashed, so that two curves differ in grey print.
    pub dashed: bool,
}

/// A chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// Under the axis: "minutes".
    pub across: String,
    /// Above the axis: "conductor, degC".
    pub upright: String,
    /// Curves.
    pub curves: Vec<Curve>,
    /// Level lines: name and value; the first is the limit.
    pub levels: Vec<(String, f64)>,
}

/// Width of the drawing on paper.
pub const WIDTH_MM: f64 = 174.0;
const HEIGHT_MM: f64 = 66.0;
const LEFT: f64 = 13.0;
const TOP: f64 = 8.0;
const BOTTOM: f64 = HEIGHT_MM - 10.0;

/// Draws the chart; nothing to draw gives nothing.
pub fn chart(of: &Chart) -> Option<Drawing> {
    let points = || of.curves.iter().flat_map(|c| c.points.iter());
    let x_max = points().map(|p| p.0).fold(0.0, f64::max);
    let values = || points().map(|p| p.1).chain(of.levels.iter().map(|l| l.1));
    let (low, high) =
        (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max));
    let finite = x_max > 0.0 && x_max.is_finite() && low.is_finite() && high.is_finite();
    if !finite || points().count() < 2 {
        return None;
    }
    let right = WIDTH_MM - 3.0;
    let xs = ticks(0.0, x_max, 8.0);
    let ys = ticks(low, high, 6.0);
    let (y0, y1) = (ys[0], ys[ys.len() - 1].max(ys[0] + 1e-9));
    let x = |v: f64| LEFT + v / x_max * (right - LEFT);
    let y = |v: f64| BOTTOM - (v - y0) / (y1 - y0) * (BOTTOM - TOP);
    let mut sheet = Sheet::new(WIDTH_MM, HEIGHT_MM);
    let grid = Pen { colour: PALE, width: 0.2, dash: None };
    for &v in &ys {
        sheet.line(at(LEFT, y(v)), at(right, y(v)), grid);
        sheet.text(at(LEFT - 1.5, y(v) + 0.9), &tick_text(v, &ys), SMALL.end());
    }
    for &v in xs.iter().filter(|v| **v <= x_max) {
        sheet.line(at(x(v), TOP), at(x(v), BOTTOM), grid);
        sheet.text(at(x(v), BOTTOM + 3.6), &tick_text(v, &xs), SMALL.middle());
    }
    sheet.line(at(LEFT, BOTTOM), at(right, BOTTOM), FINE);
    sheet.text(at(1.0, 3.6), &of.upright, SMALL.in_colour(GREY));
    sheet.text(at(right, BOTTOM + 7.6), &of.across, SMALL.end().in_colour(GREY));
    let mut taken: Vec<f64> = Vec::new();
    for (i, (name, value)) in of.levels.iter().enumerate() {
        let pen = if i == 0 { Pen { colour: RED, ..DASHED } } else { DASHED };
        sheet.line(at(LEFT, y(*value)), at(right, y(*value)), pen);
        let place = at(LEFT + 2.0, y(*value) - 1.0);
        sheet.text(place, name, SMALL.in_colour(pen.colour));
        taken.push(place.y);
    }
    for curve in &of.curves {
        draw_curve(&mut sheet, curve, &x, &y, &mut taken, right);
    }
    Some(sheet.finish())
}

fn draw_curve(
    sheet: &mut Sheet,
    curve: &Curve,
    x: &dyn Fn(f64) -> f64,
    y: &dyn Fn(f64) -> f64,
    taken: &mut Vec<f64>,
    right: f64,
) {
    let dash = curve.dashed.then_some((2.4, 1.2));
    let colour = if curve.dashed { INK } else { ORANGE };
    let places: Vec<Place> = curve.points.iter().map(|p| at(x(p.0), y(p.1))).collect();
    let Some(last) = places.last() else { return };
    sheet.polyline(&places, Pen { colour, width: 0.5, dash });
    // The name stands under the curve's end, clear of other names.
    let mut place = at(last.x.min(right - 1.0), last.y + 3.6);
    while taken.iter().any(|t| (t - place.y).abs() < 3.2) {
        place.y += 3.4;
    }
    taken.push(place.y);
    let from = (place.x - width_mm(&curve.name, SMALL)).max(LEFT + 1.0);
    sheet.text(at(from, place.y), &curve.name, SMALL.in_colour(colour).heavy());
}

/// Round values that cover a range, about `count` of them.
fn ticks(low: f64, high: f64, count: f64) -> Vec<f64> {
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

fn tick_text(value: f64, all: &[f64]) -> String {
    let step = all[1] - all[0];
    let decimals = if step >= 1.0 && step.fract().abs() < 1e-9 {
        0
    } else if step >= 0.1 {
        1
    } else {
        3
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
    }

    #[test]
    fn nothing_to_draw_draws_nothing() {
        let empty = Chart {
            across: String::new(),
            upright: String::new(),
            curves: Vec::new(),
            levels: vec![("limit".to_owned(), 90.0)],
        };
        assert_eq!(chart(&empty), None);
    }
}
