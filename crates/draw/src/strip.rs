//! A run laid out straight: what the cut length is made of, to scale.

use physics::units::{Dimension, System, show};

use crate::hatch::{COPPER, INSULATION, PLATE, STEEL, fill};
use crate::letters::width_mm;
use crate::marks::{across, across_lines, across_words};
use crate::svg::{Drawing, GREY, OUTLINE, SMALL, Sheet, at};

/// What a run's cables are cut to.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// Which system the dimensions are in.
    pub system: System,
    /// "device.port" at both ends.
    pub ports: [String; 2],
    /// From sealing face to sealing face.
    pub path_mm: f64,
    /// From sealing face to terminal at both ends.
    pub inside_mm: [f64; 2],
    /// What the cable ends before the terminal's centre, at both ends.
    pub lug_mm: [f64; 2],
    /// To cut.
    pub cut_mm: f64,
    /// Whether a cord grip holds the cable at both ends.
    pub gripped: [bool; 2],
}

/// Width of the drawing on paper.
pub const WIDTH_MM: f64 = 174.0;

/// Draws the strip.
pub fn strip(of: &Strip) -> Drawing {
    let (left, right) = (6.0, WIDTH_MM - 6.0);
    let whole = of.inside_mm[0] + of.path_mm + of.inside_mm[1];
    let scale = (right - left) / whole.max(1.0);
    let mut sheet = Sheet::new(WIDTH_MM, 37.0);
    let size = |mm: f64| show(mm, Dimension::Length, of.system);
    let (axis, half) = (14.0, 1.6);
    let faces = [left + of.inside_mm[0] * scale, right - of.inside_mm[1] * scale];
    // The two boxes, open towards the run.
    let boxes = [(left - 5.0, faces[0], 0), (right + 5.0, faces[1], 1)];
    for (back, face, i) in boxes {
        sheet.rect(at(back, axis - 7.0), at(face, axis + 7.0), Some("#f3f5f7"), Some(OUTLINE));
        let kind = if i == 0 { SMALL.heavy() } else { SMALL.heavy().end() };
        sheet.text(at(back.clamp(1.0, WIDTH_MM - 1.0), axis - 8.6), &of.ports[i], kind);
    }
    let ends = [left + of.lug_mm[0] * scale, right - of.lug_mm[1] * scale];
    let cable = [
        at(ends[0], axis - half),
        at(ends[1], axis - half),
        at(ends[1], axis + half),
        at(ends[0], axis + half),
    ];
    fill(&mut sheet, &cable, INSULATION, Some(OUTLINE));
    for (terminal, end) in [(left, ends[0]), (right, ends[1])] {
        let (a, b) = (terminal.min(end), terminal.max(end));
        let (a, b) = (a - 1.2, b + 1.2);
        let lug = [at(a, axis - 1.1), at(b, axis - 1.1), at(b, axis + 1.1), at(a, axis + 1.1)];
        fill(&mut sheet, &lug, COPPER, Some(OUTLINE));
        sheet.circle(at(terminal, axis), 0.7, Some(STEEL.tint), Some(OUTLINE));
    }
    for (face, out, gripped) in
        [(faces[0], 1.0, of.gripped[0]), (faces[1], -1.0, of.gripped[1])]
    {
        if !gripped {
            continue;
        }
        sheet.rect(
            at(face, axis - 5.0),
            at(face + out, axis + 5.0),
            Some(PLATE.tint),
            Some(OUTLINE),
        );
        let nut = at(face + out * 4.0, axis + 2.6);
        sheet.rect(at(face + out, axis - 2.6), nut, Some(STEEL.tint), Some(OUTLINE));
    }
    let y = axis + 11.0;
    let path = format!("path {}", size(of.path_mm));
    across(&mut sheet, (faces[0], faces[1]), axis + 2.0, y, &path);
    for (i, ends) in [(left, faces[0]), (faces[1], right)].into_iter().enumerate() {
        // A cable that lands at the face itself has no inside to measure.
        if ends.1 - ends.0 < 0.5 {
            continue;
        }
        across_lines(&mut sheet, ends, axis + 2.0, y);
        let words = size(of.inside_mm[i]);
        if width_mm(&words, SMALL) + 1.0 < ends.1 - ends.0 {
            across_words(&mut sheet, ends, y, &words);
        } else if i == 0 {
            sheet.text(at(ends.1 + 1.5, y - 1.0), &words, SMALL);
        } else {
            sheet.text(at(ends.0 - 1.5, y - 1.0), &words, SMALL.end());
        }
    }
    let words = format!("cut {}", size(of.cut_mm));
    across(&mut sheet, (ends[0], ends[1]), axis + 2.0, y + 6.0, &words);
    sheet.text(
        at(WIDTH_MM / 2.0, y + 11.5),
        "Along the cable to scale, across it not",
        SMALL.middle().in_colour(GREY),
    );
    sheet.finish()
}
