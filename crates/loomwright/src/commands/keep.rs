//! Keeps a proven plate on the shop's shelf: its sizes, who kept it and when, what was proven, what was measured.

use std::path::Path;

use anyhow::{Context, Result, bail};
use draw::papers::{Piece, pieces};
use draw::plate_check::{Measure, measures};
use plan::Plan;
use plan::design::plates::Plate;
use plan::finding::{About, Verdict};
use plan::given::shelf::{PlateReading, PlateRecord};
use plan::given::shelf_plate::written;
use plan::given::shelf_read::{standard, with_shop};

use crate::{Outcome, disk, terminal};

/// What is to be kept, and by whom.
pub(crate) struct Wish<'a> {
    pub(crate) name: &'a str,
    pub(crate) port: &'a str,
    pub(crate) by: &'a str,
    pub(crate) on: Option<&'a str>,
    pub(crate) readings: Option<&'a Path>,
}

/// Adds the plate to the parts file beside the document.
pub(crate) fn keep(document: &Path, plan: &Plan, wish: &Wish<'_>) -> Result<Outcome> {
    let plate = proven(plan, wish.port)?;
    let (found, _) = pieces(plan);
    let of_port = |p: &&Piece<'_>| p.part.name == format!("plate {}", wish.port);
    let piece = found.iter().find(of_port).context("a plate that is laid out is a piece")?;
    let measured = match wish.readings {
        Some(path) => readings(path, &measures(piece.part, &piece.making))?,
        None => Vec::new(),
    };
    let Some(on) = wish.on.or(plan.heading.date.as_deref()) else {
        bail!("the build has no date: say `--on 2026-11-25`");
    };
    let mut kept = plan::design::plates::keep(plate, wish.name)
        .with_context(|| format!("the plate of {} has no material or no seal", wish.port))?;
    kept.record = record(plan, wish, on, measured);
    let path = document.with_file_name(disk::SHOP);
    let before = disk::read_if_there(&path)?.map(|sheet| sheet.text).unwrap_or_default();
    let (shelf, wrong) = with_shop(standard(), &before);
    if let Some(error) = wrong.first() {
        bail!("{}: {}: put that right first", path.display(), error.message);
    }
    if shelf.plates.iter().any(|p| p.row.id == wish.name) {
        bail!(
            "{}: there is a plate `{}` already; give another name",
            path.display(),
            wish.name
        );
    }
    let mut text = before;
    if !text.is_empty() {
        text.push_str(if text.ends_with('\n') { "\n" } else { "\n\n" });
    }
    text.push_str(&written(&kept));
    // What is written must be read as it was meant, or a later build would find another plate.
    let (shelf, wrong) = with_shop(standard(), &text);
    if let Some(error) = wrong.first() {
        bail!("the plate cannot be kept: {}", error.message);
    }
    disk::write(&path, text.as_bytes())?;
    let hit = shelf.plates.iter().find(|p| p.row.id == wish.name);
    let count = hit.map_or(0, |p| p.record.measured.len());
    terminal::message(&format!(
        "{}: plate `{}` kept with {count} readings; in a build: use = \"{}\"",
        path.display(),
        wish.name,
        wish.name
    ));
    if count == 0 {
        terminal::message(
            "it has no readings: fill in its -check.csv and keep it with `--readings`",
        );
    }
    Ok(Outcome::Holds)
}

/// The port's plate, if it is laid out and nothing about it fails.
fn proven<'p>(plan: &'p Plan, port: &str) -> Result<&'p Plate> {
    let Some(plate) = plan.plates.iter().find(|p| p.port == port) else {
        let ports: Vec<&str> = plan.plates.iter().map(|p| p.port.as_str()).collect();
        bail!("there is no plate at `{port}`: there are {}", ports.join(", "));
    };
    if plate.laid.is_none() {
        bail!("the plate of {port} is not laid out: survey its face first");
    }
    if plate.kept.is_some() {
        bail!("the plate of {port} is a kept one already");
    }
    let about = About::port(port);
    let fails =
        plan.findings.iter().filter(|f| f.about == about && f.verdict == Verdict::Fails);
    let said: Vec<String> = fails.map(|f| format!("{}: {}", f.code, f.message)).collect();
    if !said.is_empty() {
        bail!("the plate of {port} is not proven:\n{}", said.join("\n"));
    }
    Ok(plate)
}

/// The record of what was proven, and by whom.
fn record(plan: &Plan, wish: &Wish<'_>, on: &str, measured: Vec<PlateReading>) -> PlateRecord {
    let about = About::port(wish.port);
    let rules = ["plate-", "groove-", "seal-", "ring-", "grip-"];
    let proven = plan.findings.iter().filter(|f| {
        f.about == about
            && matches!(f.verdict, Verdict::Holds | Verdict::Close)
            && rules.iter().any(|r| f.code.starts_with(r))
    });
    let digest = plan.heading.digest.get(..12).unwrap_or(&plan.heading.digest);
    PlateRecord {
        kept_by: wish.by.to_owned(),
        kept_on: on.to_owned(),
        kept_from: format!("{}, {}, {digest}", plan.heading.title, wish.port),
        checks: proven.map(|f| format!("{}: {}", f.code, f.message)).collect(),
        measured,
    }
}

/// Heads of the check sheet's columns, as a file to fill in.
const HEADS: [&str; 7] = ["No.", "Measure", "Nominal", "Least", "Most", "With", "Reading"];

/// The check sheet of a piece as a file to fill in.
pub(crate) fn sheet(piece: &Piece<'_>) -> String {
    let line = |cells: &[String]| {
        let cells: Vec<String> = cells.iter().map(|c| cell(c)).collect();
        format!("{}\r\n", cells.join(","))
    };
    let mut text = line(&HEADS.map(str::to_owned));
    for (i, m) in measures(piece.part, &piece.making).into_iter().enumerate() {
        let (least, most) = m.limits();
        let number = (i + 1).to_string();
        text.push_str(&line(&[number, m.what, m.nominal, least, most, m.with, String::new()]));
    }
    text
}

fn cell(text: &str) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

/// The cells of a line; what stands in quotes is never apart.
fn cells(line: &str, apart: char) -> Vec<String> {
    let (mut all, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => {
                chars.next();
                cell.push('"');
            }
            '"' => quoted = !quoted,
            c if c == apart && !quoted => all.push(std::mem::take(&mut cell)),
            c => cell.push(c),
        }
    }
    all.push(cell);
    all
}

/// The readings of a filled sheet: every line has one, and every length lies between its limits.
fn readings(path: &Path, wanted: &[Measure]) -> Result<Vec<PlateReading>> {
    let sheet = disk::read(path)?;
    let mut lines = sheet.text.trim_start_matches('\u{feff}').lines();
    let head = lines.next().unwrap_or_default();
    // Where a comma stands in numbers, a spreadsheet writes semicolons between cells.
    let apart = if head.contains(';') { ';' } else { ',' };
    let heads = cells(head, apart);
    let column = |name: &str| heads.iter().position(|h| h.trim() == name);
    let (Some(what), Some(read)) = (column("Measure"), column("Reading")) else {
        bail!("{}: its first line has no `Measure` and `Reading`", sheet.name);
    };
    let rows: Vec<Vec<String>> = lines.map(|l| cells(l, apart)).collect();
    let (mut found, mut wrong) = (Vec::new(), Vec::new());
    for measure in wanted {
        let row = rows.iter().find(|r| r.get(what).is_some_and(|w| w.trim() == measure.what));
        let text = row.and_then(|r| r.get(read)).map_or("", |t| t.trim());
        match (text, measure.between_mm) {
            ("", _) => wrong.push(format!("{} has no reading", measure.what)),
            (_, None) => {}
            (text, Some([least_mm, most_mm])) => match millimetres(text) {
                Some(read_mm) => {
                    let what = measure.what.clone();
                    let reading = PlateReading { what, read_mm, least_mm, most_mm };
                    if !reading.good() {
                        let (least, most) = measure.limits();
                        wrong.push(format!(
                            "{} was read {text} mm, and {least} to {most} mm will do",
                            measure.what
                        ));
                    }
                    found.push(reading);
                }
                None => wrong.push(format!("{}: `{text}` is no length in mm", measure.what)),
            },
        }
    }
    if !wrong.is_empty() {
        bail!("{}: the plate is not proven:\n{}", sheet.name, wrong.join("\n"));
    }
    Ok(found)
}

/// A length in millimetres, written with a point or a comma, with or without its unit.
fn millimetres(text: &str) -> Option<f64> {
    let bare = text.trim_end_matches("mm").trim().replace(',', ".");
    bare.parse::<f64>().ok().filter(|v| v.is_finite())
}
