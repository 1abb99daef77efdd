//! The kit as tables that other programs calculate with.

use anyhow::{Context, Result};
use physics::units::number;
use plan::Plan;
use plan::work::kit::Item;

use crate::wire;

const COLUMNS: [&str; 14] = [
    "kind",
    "part",
    "name",
    "used",
    "spares",
    "pack",
    "length_mm",
    "where",
    "price",
    "cost",
    "currency",
    "mass_g",
    "standing",
    "source",
];

/// A cell of the table that others calculate with: a number where it is known.
enum Cell {
    Words(String),
    Number(f64),
    Empty,
}

fn cells(plan: &Plan, item: &Item) -> [Cell; COLUMNS.len()] {
    let words = |text: &str| Cell::Words(text.to_owned());
    let maybe = |value: Option<f64>| value.map_or(Cell::Empty, Cell::Number);
    [
        words(wire::kind(item.kind)),
        words(&item.part),
        words(&item.name),
        Cell::Number(f64::from(item.count)),
        Cell::Number(f64::from(item.spares)),
        Cell::Number(f64::from(item.count) + f64::from(item.spares)),
        maybe(item.length_mm),
        words(&places(item)),
        maybe(item.price),
        maybe(item.cost),
        words(plan.heading.currency.as_deref().unwrap_or_default()),
        maybe(item.mass_g),
        words(item.standing.word()),
        words(&item.source),
    ]
}

/// Where an item is used.
pub(crate) fn places(item: &Item) -> String {
    let uses: Vec<String> =
        item.uses.iter().map(|u| format!("{} at {}", u.count, u.place)).collect();
    uses.join(", ")
}

/// The kit as CSV.
pub(crate) fn csv(plan: &Plan) -> Result<Vec<u8>> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(COLUMNS)?;
    for item in &plan.kit.items {
        let row = cells(plan, item).map(|cell| match cell {
            Cell::Words(text) => plain(text),
            Cell::Number(value) => number_text(value),
            Cell::Empty => String::new(),
        });
        writer.write_record(row)?;
    }
    writer.into_inner().context("the table is written to memory")
}

/// A spreadsheet takes text that begins like a formula for one; a blank before it says it is text.
fn plain(text: String) -> String {
    if text.starts_with(['=', '+', '-', '@']) { format!(" {text}") } else { text }
}

/// A thousandth is finer than anything counted, cut or paid.
fn number_text(value: f64) -> String {
    number(value, 3).trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The kit and its cuts as a workbook.
pub(crate) fn workbook(plan: &Plan) -> Result<Vec<u8>> {
    use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook};
    let mut book = Workbook::new();
    // A fixed day: the same build gives the same file.
    let day = ExcelDateTime::from_ymd(2000, 1, 1)?;
    book.set_properties(
        &DocProperties::new().set_title(&plan.heading.title).set_creation_datetime(&day),
    );
    let bold = Format::new().set_bold();
    let sheet = book.add_worksheet().set_name("Kit")?;
    for (column, head) in (0..).zip(COLUMNS) {
        sheet.write_string_with_format(0, column, head, &bold)?;
    }
    for (row, item) in (1..).zip(&plan.kit.items) {
        for (column, cell) in (0..).zip(cells(plan, item)) {
            match cell {
                Cell::Words(text) => sheet.write_string(row, column, text)?,
                Cell::Number(value) => sheet.write_number(row, column, value)?,
                Cell::Empty => continue,
            };
        }
    }
    sheet.set_freeze_panes(1, 0)?;
    sheet.autofit();
    let cuts = book.add_worksheet().set_name("Cuts")?;
    for (column, head) in (0..).zip(["reel", "cable", "piece", "length_mm", "left_on_reel_mm"])
    {
        cuts.write_string_with_format(0, column, head, &bold)?;
    }
    let pieces =
        plan.kit.cuts.iter().zip(1_u32..).flat_map(|(reel, index)| {
            reel.pieces.iter().map(move |piece| (reel, index, piece))
        });
    for (row, (reel, index, (name, length_mm))) in (1..).zip(pieces) {
        cuts.write_number(row, 0, index)?;
        cuts.write_string(row, 1, &reel.cable)?;
        cuts.write_string(row, 2, name)?;
        cuts.write_number(row, 3, *length_mm)?;
        cuts.write_number(row, 4, reel.left_mm)?;
    }
    cuts.set_freeze_panes(1, 0)?;
    cuts.autofit();
    Ok(book.save_to_buffer()?)
}
