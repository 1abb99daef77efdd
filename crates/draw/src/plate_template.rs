//! The paper template: the part at full size, to lay on the housing before metal is cut.
//!
//! A printer that scales is found out by the bars: one along and one up the sheet in millimetres, one in
//! inches. The paper shows the part as it is seen from outside, so it lies on the housing print side up.

use space::part::{Face, FlatPart};

use crate::frame::{Making, Page, SHEETS, mm};
use crate::plate_drawing::{bore_words, over_all};
use crate::plate_views::View;
use crate::svg::{Drawing, GREY, INK, Pen, Place, RED, SMALL, Type, at};

/// Margin that no printer cuts off.
const MARGIN_MM: f64 = 12.0;
/// Above and below the part: words and bars.
const HEAD_MM: f64 = 17.0;
const FOOT_MM: f64 = 22.0;
/// At the left of the part: the upright bar.
const SIDE_MM: f64 = 14.0;
const INCH_MM: f64 = 25.4;

/// The template of a part at full size.
///
/// On A4 where it fits, else on A3, else on a sheet as large as it must be. Whoever prints A4 on the other
/// continent's letter paper loses nothing: the print keeps within both.
pub fn plate_template(part: &FlatPart, making: &Making) -> Drawing {
    let (low, high) = part.outline.bounds().unwrap_or_default();
    let (w, h) = (high[0] - low[0], high[1] - low[1]);
    let needed_w = (w + SIDE_MM).max(4.0 * INCH_MM + 130.0) + 2.0 * MARGIN_MM;
    let needed_h = h.max(104.0) + HEAD_MM + FOOT_MM + 2.0 * MARGIN_MM;
    // Letter paper is 279.4 x 215.9 mm.
    let fits = |(_, sheet_w, sheet_h): &&(&str, f64, f64)| {
        needed_w <= sheet_w.min(if *sheet_h < 216.0 { 279.0 } else { 420.0 })
            && needed_h <= *sheet_h
    };
    let (name, sheet_w, sheet_h) =
        SHEETS.iter().find(fits).copied().unwrap_or(("a larger sheet", needed_w, needed_h));
    let mut page = Page::new(sheet_w, sheet_h);
    let right = if name == "A4" { 279.0 } else { sheet_w } - MARGIN_MM;
    words(&mut page, part, making, (name, right));
    let corner = at(MARGIN_MM + SIDE_MM, MARGIN_MM + HEAD_MM);
    let view = View { part, face: Face::Outer, scale: 1.0, corner };
    view.draw(&mut page, true);
    crosses(&mut page, &view);
    for hole in &part.holes {
        let clear = hole.diameter_mm / 2.0;
        let words = format!("{} {}", hole.name, bore_words(hole).replace(", drill", ""));
        page.label(view.p([hole.x_mm, hole.y_mm]), clear, &words, SMALL.of_size(2.2));
    }
    let foot = corner.y + h.max(104.0) + 9.0;
    bar(&mut page, at(corner.x, foot), 100.0, 10.0, "100 mm");
    bar(&mut page, at(corner.x + 112.0, foot), 4.0 * INCH_MM, INCH_MM, "4 in");
    upright_bar(&mut page, at(MARGIN_MM + 6.0, corner.y + 100.0));
    page.finish()
}

fn words(page: &mut Page, part: &FlatPart, making: &Making, (sheet, right): (&str, f64)) {
    let room = right - MARGIN_MM;
    let head = format!("{}: paper template 1:1, seen from outside", part.name);
    page.fitted(at(MARGIN_MM, MARGIN_MM + 3.5), &head, SMALL.heavy().of_size(4.0), room);
    let how = format!(
        "Print on {sheet} at 100 %, not \"fit to page\". Measure all three bars first; if one is off, the printer \
         scales and the template says nothing."
    );
    page.fitted(at(MARGIN_MM, MARGIN_MM + 8.0), &how, SMALL, room);
    let rest = format!(
        "{}, {}, {}",
        making.build,
        over_all(part, making),
        making.digest.get(..12).unwrap_or(&making.digest)
    );
    page.fitted(at(MARGIN_MM, MARGIN_MM + 11.8), &rest, SMALL.in_colour(GREY), room - 50.0);
    if !making.for_building {
        let red = SMALL.heavy().in_colour(RED).end();
        page.text(at(right, MARGIN_MM + 11.8), "NOT FOR BUILDING", red);
    }
}

/// Fine crosses that reach past the circle: a punch is set where they meet.
fn crosses(page: &mut Page, view: &View<'_>) {
    let pen = Pen { colour: INK, width: 0.1, dash: None };
    for hole in &view.part.holes {
        let c = view.p([hole.x_mm, hole.y_mm]);
        let reach = hole.diameter_mm / 2.0 + 3.0;
        page.sheet.line(at(c.x - reach, c.y), at(c.x + reach, c.y), pen);
        page.sheet.line(at(c.x, c.y - reach), at(c.x, c.y + reach), pen);
    }
}

const BAR: Pen = Pen { colour: INK, width: 0.2, dash: None };
const BAR_WORDS: Type = SMALL.heavy();

fn bar(page: &mut Page, from: Place, length_mm: f64, step_mm: f64, name: &str) {
    let end = at(from.x + length_mm, from.y);
    page.sheet.line(from, end, BAR);
    let steps = (length_mm / step_mm).round() as usize;
    for i in 0..=steps {
        let x = from.x + i as f64 * step_mm;
        let tall = if i == 0 || i == steps { 3.0 } else { 1.6 };
        page.sheet.line(at(x, from.y - tall), at(x, from.y), BAR);
    }
    page.text(at(from.x, from.y + 3.6), name, BAR_WORDS);
    let words = format!("{} mm between the outer lines", mm(length_mm));
    page.text(at(end.x, from.y + 3.6), &words, SMALL.end().in_colour(GREY));
}

fn upright_bar(page: &mut Page, foot: Place) {
    let top = at(foot.x, foot.y - 100.0);
    page.sheet.line(foot, top, BAR);
    for i in 0..=10 {
        let y = foot.y - f64::from(i) * 10.0;
        let tall = if i == 0 || i == 10 { 3.0 } else { 1.6 };
        page.sheet.line(at(foot.x, y), at(foot.x + tall, y), BAR);
    }
    page.upwards(at(foot.x - 1.2, foot.y), "100 mm", BAR_WORDS);
}
