//! `loomwright kit`: what to buy, make and pack.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use physics::units::{Dimension, number, show, show_both};
use plan::Plan;
use plan::finding::Verdict;
use plan::work::kit::Item;

use super::BuildArgument;
use crate::builds::Planned;
use crate::{Outcome, builds, disk, terminal, text, wire};

/// List what to buy, make and pack
#[derive(clap::Args)]
#[command(
    after_help = "Example:\n  loomwright kit my-build\n  loomwright kit my-build --csv -\n  \
    loomwright kit my-build --xlsx kit.xlsx"
)]
pub(crate) struct Arguments {
    #[command(flatten)]
    build: BuildArgument,
    /// Write it as CSV; - prints it
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Write it as a workbook
    #[arg(long, value_name = "FILE")]
    xlsx: Option<PathBuf>,
}

/// Lists or writes.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    let Some(Planned { plan, .. }) = builds::plan(&arguments.build.build)? else {
        return Ok(Outcome::Unread);
    };
    if let Some(path) = &arguments.csv {
        let bytes = csv(&plan)?;
        if path == Path::new("-") {
            terminal::bytes(&bytes)?;
        } else {
            disk::write(path, &bytes)?;
        }
    }
    if let Some(path) = &arguments.xlsx {
        disk::write(path, &workbook(&plan)?)?;
    }
    if arguments.csv.is_none() && arguments.xlsx.is_none() {
        terminal::result(&screen(&plan))?;
    }
    if !plan.for_building() {
        terminal::message(
            "not for building yet: `loomwright plan` says what stands in the way",
        );
    }
    Ok(if plan.verdict() == Verdict::Fails { Outcome::Fails } else { Outcome::Holds })
}

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

fn places(item: &Item) -> String {
    let uses: Vec<String> =
        item.uses.iter().map(|u| format!("{} at {}", u.count, u.place)).collect();
    uses.join(", ")
}

fn csv(plan: &Plan) -> Result<Vec<u8>> {
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

fn workbook(plan: &Plan) -> Result<Vec<u8>> {
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

/// The kit as text, without terminal codes.
fn screen(plan: &Plan) -> String {
    let units = plan.heading.units;
    let rows = plan
        .kit
        .items
        .iter()
        .map(|item| {
            let pack = match (item.spares, item.length_mm) {
                (_, Some(mm)) => {
                    format!("{} ({})", item.count, show(mm, Dimension::Length, units))
                }
                (0, None) => item.count.to_string(),
                (spares, None) => format!("{} + {spares} spare", item.count),
            };
            let cost = item.cost.map_or("unknown".to_owned(), |c| number(c, 2));
            vec![pack, item.name.clone(), places(item), cost]
        })
        .collect();
    let mut shown = text::wrap(&plan.heading.title, 0);
    shown.push_str(&text::table(&["PACK", "PART", "WHERE", "COST"], rows));
    shown.push('\n');
    for reel in &plan.kit.cuts {
        let pieces: Vec<String> = reel
            .pieces
            .iter()
            .map(|(name, mm)| format!("{name} {}", show_both(*mm, Dimension::Length, units)))
            .collect();
        let left = show(reel.left_mm, Dimension::Length, units);
        let line = format!("Cut {}: {}; {left} left", reel.cable, pieces.join(", "));
        shown.push_str(&text::wrap(&line, 4));
    }
    shown.push_str(&text::money(plan));
    shown
}
