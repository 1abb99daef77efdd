//! The check sheet of a part: what the machinist measures, between which limits, with room for the reading.
//!
//! L = nominal ± tolerance
//!
//! Range   Lengths up to 2000 mm.
//! Source  ISO 2768-1:1989, table 1, class m (memory); thread gauging by ISO 1502 go and no-go gauges (memory).
//! Caveat  Positions and groove width are held to common practice where the build states nothing.

use space::part::{Face, FlatPart, Hole};
use space::solid::edges;

use crate::frame::{
    Area, BORDER_MM, Line, Making, Page, SHEETS, TITLE_MM, Title, flow, mm, size,
};
use crate::plate_drawing::{POSITION_TOLERANCE_MM, over_all, width_tolerance_mm};
use crate::plate_views::{Datum, datum, shape_words};
use crate::svg::{Drawing, SMALL, at};

/// General tolerances for lengths: up to this length, plus or minus.
const GENERAL: [(f64, f64); 7] = [
    (6.0, 0.1),
    (30.0, 0.2),
    (120.0, 0.3),
    (400.0, 0.5),
    (1000.0, 0.8),
    (2000.0, 1.2),
    (f64::INFINITY, 2.0),
];

/// The general tolerance of a length.
pub fn general_mm(length_mm: f64) -> f64 {
    let row = GENERAL.iter().find(|(to, _)| length_mm <= *to);
    row.map_or(GENERAL[6].1, |(_, tolerance)| *tolerance)
}

/// One thing to measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// What is measured.
    pub what: String,
    /// The stated value.
    pub nominal: String,
    /// The least and the most that will do, where it is a length.
    pub between_mm: Option<[f64; 2]>,
    /// With what.
    pub with: String,
}

impl Measure {
    /// Least and most as the sheet says them.
    pub fn limits(&self) -> (String, String) {
        self.between_mm.map_or_else(Default::default, |[least, most]| (size(least), size(most)))
    }
}

fn length(what: String, nominal_mm: f64, tolerance_mm: f64, with: &str) -> Measure {
    Measure {
        what,
        nominal: size(nominal_mm),
        between_mm: Some([nominal_mm - tolerance_mm, nominal_mm + tolerance_mm]),
        with: with.to_owned(),
    }
}

fn look(what: String, nominal: &str, with: &str) -> Measure {
    Measure { what, nominal: nominal.to_owned(), between_mm: None, with: with.to_owned() }
}

/// Everything to measure, in the order in which a part is picked up and turned.
pub fn measures(part: &FlatPart, making: &Making) -> Vec<Measure> {
    let (low, high) = part.outline.bounds().unwrap_or_default();
    let general = |what: &str, nominal_mm: f64, with: &str| {
        length(what.to_owned(), nominal_mm, general_mm(nominal_mm), with)
    };
    let mut all = vec![
        general("Over all, X", high[0] - low[0], "calliper"),
        general("Over all, Y", high[1] - low[1], "calliper"),
        general("Thickness", part.thickness_mm, "micrometer"),
    ];
    let datum = datum(part);
    for hole in &part.holes {
        all.extend(hole_measures(hole, &datum));
    }
    for (i, path) in part.openings.iter().enumerate() {
        let shape = shape_words(path).unwrap_or_else(|| "as drawn".to_owned());
        all.push(look(format!("Opening {}", i + 1), &shape, "calliper, template"));
    }
    for (i, pocket) in part.pockets.iter().enumerate() {
        let what = format!("Pocket {}, depth from the {} side", i + 1, side(pocket.face));
        all.push(general(&what, pocket.depth_mm, "depth gauge"));
    }
    groove_measures(part, making, &mut all);
    if !part.grooves.is_empty() {
        all.push(look("Seal side, flat".to_owned(), "within 0.05", "straight edge, feeler"));
    }
    for mark in &part.marks {
        let what = format!("Mark \"{}\" on the {} side", mark.text, side(mark.face));
        all.push(look(what, "there, upright", "eye"));
    }
    all.push(look("Edges broken, no burr in any hole".to_owned(), "0.2 to 0.5", "eye, finger"));
    all.push(look("Paper template on the housing".to_owned(), "every hole meets", "eye"));
    all
}

fn side(face: Face) -> &'static str {
    match face {
        Face::Seal => "seal",
        Face::Outer => "outer",
    }
}

fn hole_measures(hole: &Hole, datum: &Datum) -> Vec<Measure> {
    let name = &hole.name;
    let mut all = Vec::new();
    match &hole.thread {
        Some(thread) => {
            let depth = hole
                .thread_depth_mm
                .map_or("through".to_owned(), |d| format!("{} deep", mm(d)));
            let nominal = format!("{thread} {depth}");
            all.push(look(format!("{name}, thread"), &nominal, "gauge, go and no-go"));
        }
        None => {
            let d = hole.diameter_mm;
            all.push(length(format!("{name}, diameter"), d, general_mm(d), "calliper, pin"));
        }
    }
    if let Some(depth_mm) = hole.drill_depth_mm {
        let what = format!("{name}, depth as drilled");
        all.push(length(what, depth_mm, general_mm(depth_mm), "depth gauge"));
    }
    for (axis, value) in [("X", hole.x_mm - datum.point[0]), ("Y", hole.y_mm - datum.point[1])]
    {
        let what = format!("{name}, {axis} from the datum");
        all.push(length(what, value, POSITION_TOLERANCE_MM, "height gauge"));
    }
    if let Some(bore) = hole.counterbore {
        let d = bore.diameter_mm;
        let from = side(bore.face);
        all.push(length(format!("{name}, counterbore diameter"), d, general_mm(d), "calliper"));
        let what = format!("{name}, counterbore depth, {from} side");
        all.push(length(what, bore.depth_mm, general_mm(bore.depth_mm), "depth gauge"));
    }
    all
}

fn groove_measures(part: &FlatPart, making: &Making, all: &mut Vec<Measure>) {
    for groove in &part.grooves {
        let depth = groove.depth_mm;
        let tolerance = making.groove_depth_tolerance_mm.unwrap_or_else(|| general_mm(depth));
        for place in ["top", "right", "bottom", "left"] {
            let what = format!("Groove depth, {place}, {} side", side(groove.face));
            all.push(length(what, depth, tolerance, "depth gauge"));
        }
        let what = "Groove width".to_owned();
        all.push(length(what, groove.width_mm, width_tolerance_mm(making), "pin, gauge block"));
        if let Some([_, inner]) = edges(&groove.middle, groove.width_mm)
            && let Some((low, high)) = inner.bounds()
        {
            for (axis, far) in [("X", high[0] - low[0]), ("Y", high[1] - low[1])] {
                let what = format!("Groove inner edge, over all {axis}");
                all.push(length(what, far, general_mm(far), "calliper"));
            }
        }
        let what = "Groove floor and walls".to_owned();
        all.push(look(what, "Ra 0.8 or finer", "comparison plate, eye"));
    }
}

/// The rows of a check sheet, with room for the reading.
fn rows(part: &FlatPart, making: &Making, width_mm: f64) -> Vec<Line> {
    let shares = [
        ("No.", 10.0),
        ("Measure", 66.0),
        ("Nominal", 36.0),
        ("Least", 20.0),
        ("Most", 20.0),
        ("With", 44.0),
        ("Reading", 44.0),
        ("Good?", 16.0),
    ];
    let total: f64 = shares.iter().map(|s| s.1).sum();
    let heads = shares.iter().map(|(n, s)| ((*n).to_owned(), s / total * width_mm)).collect();
    let row = |(i, m): (usize, Measure)| {
        let number = (i + 1).to_string();
        let blank = String::new;
        let (least, most) = m.limits();
        Line::Row(vec![number, m.what, m.nominal, least, most, m.with, blank(), blank()])
    };
    let all = measures(part, making).into_iter().enumerate().map(row);
    std::iter::once(Line::Columns(heads)).chain(all).collect()
}

/// The check sheet of a part, one or more sheets.
pub fn plate_check(part: &FlatPart, making: &Making) -> Vec<Drawing> {
    let (_, w, h) = SHEETS[0];
    let mut lines = rows(part, making, w - 2.0 * BORDER_MM - 4.0);
    let top = BORDER_MM + 2.0;
    let column =
        Area::new(BORDER_MM + 2.0, top, w - BORDER_MM - 2.0, h - BORDER_MM - TITLE_MM - 2.0);
    let mut pages: Vec<Page> = Vec::new();
    while !lines.is_empty() {
        let before = lines.len();
        let mut page = Page::new(w, h);
        lines = flow(&mut page, &[column], &lines);
        assert!(lines.len() < before, "a sheet takes at least a row");
        pages.push(page);
    }
    let sheets = pages.len();
    let whole = over_all(part, making);
    let finish = |(i, mut page): (usize, Page)| {
        let sheet = format!("{} of {sheets}", i + 1);
        let what = "Check sheet: measured by the machinist";
        let title = Title {
            part: &part.name,
            what,
            size: &whole,
            scale: "none",
            sheet: &sheet,
            making,
        };
        let block = page.frame((w, h), 128.0, &title);
        let left = BORDER_MM + 3.0;
        for (n, words) in [
            "Part number or mark",
            "Measured by",
            "Date",
            "Instruments in order (date of last check)",
        ]
        .iter()
        .enumerate()
        {
            let y = block.from.y + 7.0 + n as f64 * 8.4;
            page.text(at(left, y), words, SMALL);
            page.sheet.line(
                at(left + 60.0, y + 0.6),
                at(block.from.x - 4.0, y + 0.6),
                crate::svg::FINE,
            );
        }
        page.finish()
    };
    pages.into_iter().enumerate().map(finish).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn general_tolerances_are_those_of_the_table() {
        for (length, tolerance) in
            [(6.0, 0.1), (6.1, 0.2), (80.0, 0.3), (200.0, 0.5), (401.0, 0.8)]
        {
            assert_eq!(general_mm(length), tolerance);
        }
    }
}
