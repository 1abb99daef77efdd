//! What a drawing says in words: labels with leaders, dimensions, a scale bar.

use physics::units::{Dimension, System, show};

use crate::letters::{spread, width_mm, wrap};
use crate::svg::{FINE, GREY, INK, Pen, Place, SMALL, Sheet, at};

/// A part's name and what is said of it, and the point on the part it belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// On the part.
    pub point: Place,
    /// Its name.
    pub name: String,
    /// Size, thread, torque; may be empty.
    pub detail: String,
}

/// Height of one line of small print.
const LINE: f64 = 3.1;
/// Distance between neighbouring labels.
const GAP: f64 = 3.0;

/// Labels broken into lines and placed along one edge.
pub struct Shelf {
    labels: Vec<(Label, Vec<String>, f64)>,
    height_mm: f64,
}

impl Shelf {
    /// Breaks the labels so that all of them stand side by side in `room_mm`.
    pub fn new(mut labels: Vec<Label>, room_mm: f64) -> Shelf {
        labels.sort_by(|a, b| a.point.x.total_cmp(&b.point.x));
        let count = labels.len().max(1) as f64;
        let share = (room_mm - GAP * (count - 1.0)) / count;
        // First each label may be as wide as it likes up to 34 mm; if that is too much, all share alike.
        let natural: f64 = labels.iter().map(|l| broken(l, 34.0).1 + GAP).sum();
        let each = if natural - GAP <= room_mm { 34.0 } else { share };
        let labels: Vec<_> = labels
            .into_iter()
            .map(|label| {
                let (lines, width) = broken(&label, each);
                (label, lines, width)
            })
            .collect();
        let most = labels.iter().map(|(_, lines, _)| lines.len()).max().unwrap_or(0);
        Shelf { labels, height_mm: most as f64 * LINE }
    }

    /// Height of the tallest label.
    pub fn height_mm(&self) -> f64 {
        self.height_mm
    }

    /// Draws the labels above their leaders, ending at `y`.
    pub fn above(&self, sheet: &mut Sheet, from: f64, to: f64, y: f64) {
        self.put(sheet, from, to, |lines| (y - lines as f64 * LINE, y + 0.8));
    }

    /// Draws the labels below their leaders, starting at `y`.
    pub fn below(&self, sheet: &mut Sheet, from: f64, to: f64, y: f64) {
        self.put(sheet, from, to, |_| (y, y - 0.8));
    }

    fn put(&self, sheet: &mut Sheet, from: f64, to: f64, place: impl Fn(usize) -> (f64, f64)) {
        let wishes: Vec<f64> = self.labels.iter().map(|(l, ..)| l.point.x).collect();
        let widths: Vec<f64> = self.labels.iter().map(|(.., width)| *width).collect();
        let centres = spread(&wishes, &widths, GAP, from, to);
        for ((label, lines, width), centre) in self.labels.iter().zip(centres) {
            let (top, leader) = place(lines.len());
            let left = centre - width / 2.0;
            for (i, line) in lines.iter().enumerate() {
                let kind = if i == 0 { SMALL.heavy() } else { SMALL };
                sheet.text(at(left, top + (i as f64 + 0.8) * LINE), line, kind);
            }
            // A short rule under the words, then straight to the part.
            sheet.line(at(left, leader), at(left + width, leader), FINE);
            let foot = label.point.x.clamp(left, left + width);
            sheet.line(at(foot, leader), label.point, FINE);
            sheet.circle(label.point, 0.45, Some(INK), None);
        }
    }
}

fn broken(label: &Label, room: f64) -> (Vec<String>, f64) {
    let mut lines = wrap(&label.name, room, SMALL.heavy());
    let names = lines.len();
    lines.extend(wrap(&label.detail, room, SMALL));
    let width = lines
        .iter()
        .enumerate()
        .map(|(i, line)| width_mm(line, if i < names { SMALL.heavy() } else { SMALL }))
        .fold(0.0, f64::max);
    (lines, width)
}

/// A horizontal dimension at height `y` between two x, with its extension lines from `edge`.
pub fn across(sheet: &mut Sheet, ends: (f64, f64), edge: f64, y: f64, text: &str) {
    across_lines(sheet, ends, edge, y);
    across_words(sheet, ends, y, text);
}

/// The lines of a horizontal dimension.
pub fn across_lines(sheet: &mut Sheet, (from, to): (f64, f64), edge: f64, y: f64) {
    let past = if y > edge { 1.0 } else { -1.0 };
    for x in [from, to] {
        sheet.line(at(x, edge), at(x, y + past), FINE);
    }
    sheet.line(at(from, y), at(to, y), FINE);
    arrow(sheet, at(from, y), at(1.0, 0.0));
    arrow(sheet, at(to, y), at(-1.0, 0.0));
}

/// The words of a horizontal dimension, on paper of their own so that no line runs through them.
pub fn across_words(sheet: &mut Sheet, (from, to): (f64, f64), y: f64, text: &str) {
    let paper = |sheet: &mut Sheet, from: f64, to: f64| {
        sheet.rect(at(from, y - 1.4), at(to, y + 1.4), Some(crate::svg::PAPER), None);
    };
    let middle = (from + to) / 2.0;
    let width = width_mm(text, SMALL);
    if width + 1.0 < to - from {
        paper(sheet, middle - width / 2.0 - 0.7, middle + width / 2.0 + 0.7);
        sheet.text(at(middle, y + 0.9), text, SMALL.middle());
    } else {
        paper(sheet, to + 2.0, to + 3.0 + width);
        sheet.line(at(to, y), at(to + 2.0, y), FINE);
        sheet.text(at(to + 2.5, y + 0.9), text, SMALL);
    }
}

/// A vertical dimension at `x` between two heights, its words to the left reading upwards.
pub fn upright(sheet: &mut Sheet, (from, to): (f64, f64), edge: f64, x: f64, text: &str) {
    let past = if x > edge { 1.0 } else { -1.0 };
    for y in [from, to] {
        sheet.line(at(edge, y), at(x + past, y), FINE);
    }
    sheet.line(at(x, from), at(x, to), FINE);
    arrow(sheet, at(x, from.min(to)), at(0.0, 1.0));
    arrow(sheet, at(x, from.max(to)), at(0.0, -1.0));
    let width = width_mm(text, SMALL);
    let (top, bottom) = (from.min(to), from.max(to));
    if width + 1.0 < bottom - top {
        sheet.text_upwards(at(x - 0.8, (from + to) / 2.0), text, SMALL.middle());
    } else {
        // Too long for its place: it goes on above.
        sheet.line(at(x, top), at(x, top - 1.5), FINE);
        sheet.text_upwards(at(x + 0.9, top - 2.0), text, SMALL);
    }
}

/// An arrow head with its tip at a place, its body towards `along` (a unit vector).
pub fn arrow(sheet: &mut Sheet, tip: Place, along: Place) {
    let (length, half) = (1.7, 0.35);
    let base = at(tip.x + along.x * length, tip.y + along.y * length);
    let side = at(-along.y * half, along.x * half);
    let shape =
        [tip, at(base.x + side.x, base.y + side.y), at(base.x - side.x, base.y - side.y)];
    sheet.polygon(&shape, Some(GREY), None);
}

/// A bar of a round length, so that a print can be measured; its left end at `place`.
pub fn scale_bar(sheet: &mut Sheet, place: Place, scale: f64, system: System) {
    let step = match system {
        System::Metric => 10.0,
        System::Us => 12.7,
    };
    // The longest whole number of steps within 45 mm of paper.
    let steps = [5.0, 2.0, 1.0].into_iter().find(|n| n * step * scale <= 45.0).unwrap_or(1.0);
    let length = steps * step;
    let pen = Pen { colour: INK, width: 0.25, dash: None };
    let end = place.x + length * scale;
    sheet.line(place, at(end, place.y), pen);
    for x in [place.x, end] {
        sheet.line(at(x, place.y - 1.0), at(x, place.y + 1.0), pen);
    }
    let words = format!("{}, scale {}", show(length, Dimension::Length, system), ratio(scale));
    sheet.text(at(end + 2.0, place.y + 0.9), &words, SMALL.in_colour(GREY));
}

/// A scale as a drawing states it: "1:2", "1:1", "2:1".
pub fn ratio(scale: f64) -> String {
    let tidy = |value: f64| {
        let text = format!("{value:.1}");
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    if scale >= 1.0 { format!("{}:1", tidy(scale)) } else { format!("1:{}", tidy(1.0 / scale)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_are_stated_as_drawings_do() {
        assert_eq!(ratio(1.0), "1:1");
        assert_eq!(ratio(0.5), "1:2");
        assert_eq!(ratio(1.5), "1.5:1");
        assert_eq!(ratio(2.0 / 3.0), "1:1.5");
    }

    #[test]
    fn crowded_labels_share_the_room() {
        let labels: Vec<Label> = (0..7)
            .map(|i| Label {
                point: at(f64::from(i), 10.0),
                name: "Part with a name".to_owned(),
                detail: "and something rather long to say about it".to_owned(),
            })
            .collect();
        let shelf = Shelf::new(labels, 170.0);
        let total: f64 = shelf.labels.iter().map(|(.., w)| w + GAP).sum();
        assert!(total - GAP <= 170.0 + 1e-9, "{total}");
    }
}
