//! `loomwright kit`: what to buy, make and pack.

use std::path::{Path, PathBuf};

use anyhow::Result;
use physics::units::{Dimension, number, show, show_both};
use plan::Plan;
use plan::finding::Verdict;

use super::BuildArgument;
use crate::builds::Planned;
use crate::tables::{csv, places, workbook};
use crate::{Outcome, builds, disk, terminal, text};

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

/// The kit as text, without terminal codes.
fn screen(plan: &Plan) -> String {
    let units = plan.heading.units;
    let rows = plan
        .kit
        .items
        .iter()
        .map(|item| {
            let mut pack = item.count.to_string();
            if item.spares > 0 {
                pack.push_str(&format!(" + {} spare", item.spares));
            }
            if let Some(mm) = item.length_mm {
                pack.push_str(&format!(" ({})", show(mm, Dimension::Length, units)));
            }
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
    let names: Vec<String> = plan
        .kit
        .items
        .iter()
        .filter(|item| item.price.is_none())
        .map(|item| format!("\"{}\"", item.bought_as()))
        .collect();
    if !names.is_empty() {
        let line =
            format!("Without a price, by the names [prices] knows: {}", names.join(", "));
        shown.push_str(&text::wrap(&line, 4));
    }
    shown
}
