//! Labels of the kit, at full size, to print and cut.

use draw::svg::{GREY, OUTLINE, SMALL, Sheet, at};
use plan::Plan;
use plan::work::kit::Kind;

const WIDTH_MM: f64 = 60.0;
const HEIGHT_MM: f64 = 18.0;
const GAP_MM: f64 = 3.0;
const COLUMNS: usize = 3;
/// More labels than a kit has are not drawn: a count may be anything a person can write.
const MOST: usize = 300;

/// All labels as a sheet.
pub(crate) fn labels(plan: &Plan) -> String {
    let mut words: Vec<(String, String)> = Vec::new();
    for item in plan.kit.items.iter().filter(|item| item.kind == Kind::Label) {
        let name = item.name.trim_start_matches("Label").trim_start_matches(':').trim();
        for of in &item.uses {
            for _ in 0..of.count {
                words.push((name.to_owned(), of.place.clone()));
            }
        }
    }
    words.truncate(MOST);
    let rows = words.len().div_ceil(COLUMNS).max(1);
    let width = COLUMNS as f64 * (WIDTH_MM + GAP_MM) + GAP_MM;
    let mut sheet = Sheet::new(width, rows as f64 * (HEIGHT_MM + GAP_MM) + GAP_MM + 5.0);
    for (i, (name, place)) in words.iter().enumerate() {
        let x = GAP_MM + (i % COLUMNS) as f64 * (WIDTH_MM + GAP_MM);
        let y = GAP_MM + (i / COLUMNS) as f64 * (HEIGHT_MM + GAP_MM);
        sheet.rect(at(x, y), at(x + WIDTH_MM, y + HEIGHT_MM), Some("#ffffff"), Some(OUTLINE));
        let middle = x + WIDTH_MM / 2.0;
        let size = (1.6 * WIDTH_MM / name.chars().count().max(8) as f64).min(6.5);
        sheet.text(at(middle, y + 8.5), name, SMALL.of_size(size).heavy().middle());
        sheet.text(at(middle, y + 14.5), place, SMALL.middle().in_colour(GREY));
    }
    let foot = rows as f64 * (HEIGHT_MM + GAP_MM) + GAP_MM + 3.0;
    let words = if words.is_empty() {
        "The kit has no labels"
    } else {
        "Print at full size: each label is 60 mm wide"
    };
    sheet.text(at(GAP_MM, foot), words, SMALL.in_colour(GREY));
    sheet.finish().svg
}
