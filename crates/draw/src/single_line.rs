//! The single-line diagram: which run joins which ports, with conductor, length, fuse and pre-charge.
//!
//! Devices stand in rows, the battery's row first, each next row one run further away. A run leaves a device at
//! its lower edge and enters the next at its upper edge, or its neighbour's lower edge; since rows are distances,
//! no run skips a row. Every run has its own height between the rows, so lines cross but never lie on each other. Words stand beside the line that enters the lower device.

use crate::letters::{width_mm, wrap};
use crate::svg::{Drawing, GREY, INK, ORANGE, OUTLINE, PAPER, Pen, Place, SMALL, Sheet, at};

/// A device.
#[derive(Clone, Debug, PartialEq)]
pub struct Device {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: String,
    /// Rows start here.
    pub source: bool,
}

/// A run.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Device and port at both ends.
    pub ends: [(String, String); 2],
    /// How many conductors.
    pub count: usize,
    /// Its id, then conductor, length and so on, one line each.
    pub words: Vec<String>,
    /// The fuse in it.
    pub fuse: Option<String>,
    /// The pre-charge across its contactor.
    pub precharge: Option<String>,
}

/// Width of the drawing on paper.
pub const WIDTH_MM: f64 = 174.0;
const BOX_MM: f64 = 16.0;
const LINE: f64 = 3.2;
const TRACK: f64 = 5.0;
const WIRE: Pen = Pen { colour: ORANGE, width: 0.7, dash: None };

/// Where a device stands.
#[derive(Clone, Copy, Debug, Default)]
struct Spot {
    row: usize,
    left: f64,
    width: f64,
    top: f64,
}

/// A run between rows: which devices, upper first, and where it leaves and enters.
struct Wire<'a> {
    run: &'a Run,
    upper: usize,
    lower: usize,
    ports: [&'a str; 2],
    x: [f64; 2],
    track: usize,
    words: Vec<String>,
}

/// Draws the diagram.
pub fn single_line(devices: &[Device], runs: &[Run]) -> Drawing {
    let rows = rows(devices, runs);
    let row_count = rows.iter().map(|r| r + 1).max().unwrap_or(1);
    let mut spots = place_across(&rows, row_count);
    let mut wires = wires(devices, runs, &spots);
    let gaps = gap_heights(&mut wires, &spots, row_count);
    let mut top = 2.0;
    for (row, gap) in gaps.into_iter().enumerate() {
        for spot in spots.iter_mut().filter(|s| s.row == row) {
            spot.top = top;
        }
        top += BOX_MM + gap;
    }
    let mut sheet = Sheet::new(WIDTH_MM, top + 1.0);
    for wire in &wires {
        draw_wire(&mut sheet, wire, &spots);
    }
    for (device, spot) in devices.iter().zip(&spots) {
        draw_device(&mut sheet, device, spot);
    }
    for wire in &wires {
        draw_ports(&mut sheet, wire, &spots);
    }
    sheet.finish()
}

/// Each device's row: its distance from the nearest source in runs.
fn rows(devices: &[Device], runs: &[Run]) -> Vec<usize> {
    let find = |id: &str| devices.iter().position(|d| d.id == id);
    let edges: Vec<(usize, usize)> =
        runs.iter().filter_map(|r| Some((find(&r.ends[0].0)?, find(&r.ends[1].0)?))).collect();
    let mut rows: Vec<Option<usize>> = devices.iter().map(|d| d.source.then_some(0)).collect();
    loop {
        let mut changed = false;
        for _ in 0..devices.len() {
            for &(a, b) in &edges {
                for (from, to) in [(a, b), (b, a)] {
                    if let Some(row) = rows[from]
                        && rows[to].is_none_or(|r| r > row + 1)
                    {
                        rows[to] = Some(row + 1);
                    }
                }
            }
        }
        // What no source reaches starts from its first device.
        if let Some(left) = rows.iter().position(Option::is_none) {
            rows[left] = Some(0);
            changed = true;
        }
        if !changed {
            break;
        }
    }
    rows.into_iter().map(|r| r.unwrap_or(0)).collect()
}

fn place_across(rows: &[usize], count: usize) -> Vec<Spot> {
    let mut spots = vec![Spot::default(); rows.len()];
    for row in 0..count {
        let members: Vec<usize> = (0..rows.len()).filter(|i| rows[*i] == row).collect();
        let n = members.len().max(1) as f64;
        let gap = 8.0;
        let width = ((WIDTH_MM - 10.0 - gap * (n - 1.0)) / n).min(104.0);
        let total = width * n + gap * (n - 1.0);
        for (k, i) in members.into_iter().enumerate() {
            let left = (WIDTH_MM - total) / 2.0 + k as f64 * (width + gap);
            spots[i] = Spot { row, left, width, top: 0.0 };
        }
    }
    spots
}

fn wires<'a>(devices: &[Device], runs: &'a [Run], spots: &[Spot]) -> Vec<Wire<'a>> {
    let find = |id: &str| devices.iter().position(|d| d.id == id);
    let mut wires: Vec<Wire<'a>> = runs
        .iter()
        .filter_map(|run| {
            let (a, b) = (find(&run.ends[0].0)?, find(&run.ends[1].0)?);
            let ports = [run.ends[0].1.as_str(), run.ends[1].1.as_str()];
            let swap = spots[b].row < spots[a].row;
            let (upper, lower) = if swap { (b, a) } else { (a, b) };
            let ports = if swap { [ports[1], ports[0]] } else { ports };
            let words = Vec::new();
            Some(Wire { run, upper, lower, ports, x: [0.0; 2], track: 0, words })
        })
        .collect();
    let level: Vec<bool> =
        wires.iter().map(|w| spots[w.upper].row == spots[w.lower].row).collect();
    // Places on each edge, in the order of the document.
    for (i, spot) in spots.iter().enumerate() {
        for top in [false, true] {
            let on = |k: usize, w: &Wire<'_>| {
                let lower_edge = w.upper == i || (level[k] && w.lower == i);
                if top { w.lower == i && !level[k] } else { lower_edge }
            };
            let members: Vec<usize> = (0..wires.len()).filter(|k| on(*k, &wires[*k])).collect();
            let share = spot.width / members.len().max(1) as f64;
            for (place, k) in members.into_iter().enumerate() {
                let x = spot.left + (place as f64 + 0.5) * share;
                let end = usize::from(wires[k].lower == i);
                wires[k].x[end] = x;
            }
        }
    }
    break_words(&mut wires, spots);
    wires
}

/// Words reach from their line to the next line beside it, or to the edge of the sheet.
fn break_words(wires: &mut [Wire<'_>], spots: &[Spot]) {
    let stands = |w: &Wire<'_>| {
        let level = spots[w.upper].row == spots[w.lower].row;
        let x = if level { (w.x[0] + w.x[1]) / 2.0 } else { w.x[1] };
        (x, spots[w.lower].row, level)
    };
    let places: Vec<(f64, usize, bool)> = wires.iter().map(stands).collect();
    for (wire, &(x, row, level)) in wires.iter_mut().zip(&places) {
        // Words of level runs stand higher than the others of their gap.
        let beside = places.iter().filter(|p| p.1 == row && p.2 == level && p.0 > x + 0.1);
        let next = beside.map(|p| p.0 - 6.0).fold(WIDTH_MM - 1.0, f64::min);
        wire.words = broken(&wire.run.words, next - x - 4.0);
    }
}

fn broken(words: &[String], room: f64) -> Vec<String> {
    words.iter().flat_map(|line| wrap(line, room, SMALL)).collect()
}

/// Height of the gap under each row, and a height of its own for each run in it.
fn gap_heights(wires: &mut [Wire<'_>], spots: &[Spot], rows: usize) -> Vec<f64> {
    (0..rows)
        .map(|row| {
            let mut track = 0;
            let (mut words, mut level_words, mut symbols) = (0, 0, 0.0_f64);
            for wire in wires.iter_mut() {
                let (upper, lower) = (spots[wire.upper].row, spots[wire.lower].row);
                if upper == row {
                    wire.track = track;
                    track += 1;
                    symbols = symbols.max(symbols_mm(wire.run));
                }
                if lower == row + 1 && upper != lower {
                    words = words.max(wire.words.len());
                }
                if lower == row && upper == lower {
                    level_words = level_words.max(wire.words.len());
                }
            }
            let words = words + level_words;
            if track == 0 && words == 0 {
                return 0.0;
            }
            6.0 + symbols + track as f64 * TRACK + words as f64 * LINE + 8.0
        })
        .collect()
}

fn symbols_mm(run: &Run) -> f64 {
    let fuse = if run.fuse.is_some() { 11.0 } else { 0.0 };
    fuse + if run.precharge.is_some() { 14.0 } else { 0.0 }
}

fn track_y(wire: &Wire<'_>, spots: &[Spot], symbols: f64) -> f64 {
    spots[wire.upper].top + BOX_MM + 6.0 + symbols + wire.track as f64 * TRACK
}

fn draw_wire(sheet: &mut Sheet, wire: &Wire<'_>, spots: &[Spot]) {
    let (upper, lower) = (spots[wire.upper], spots[wire.lower]);
    let y = track_y(wire, spots, symbols_mm(wire.run));
    let out = at(wire.x[0], upper.top + BOX_MM);
    let mut path = vec![out, at(wire.x[0], y)];
    if lower.row == upper.row {
        path.push(at(wire.x[1], y));
        path.push(at(wire.x[1], lower.top + BOX_MM));
    } else {
        path.push(at(wire.x[1], y));
        path.push(at(wire.x[1], lower.top));
    }
    sheet.polyline(&path, WIRE);
    let mut next = out.y + 6.0;
    if let Some(fuse) = &wire.run.fuse {
        draw_fuse(sheet, at(wire.x[0], next), fuse);
        next += 11.0;
    }
    if let Some(precharge) = &wire.run.precharge {
        draw_precharge(sheet, at(wire.x[0], next), precharge);
    }
    let (x, first) = if lower.row == upper.row {
        ((wire.x[0] + wire.x[1]) / 2.0, y + 1.0)
    } else {
        (wire.x[1], lower.top - 6.0 - wire.words.len() as f64 * LINE)
    };
    let counted = if lower.row == upper.row { at(x, y) } else { at(x, first + 0.4) };
    draw_count(sheet, counted, wire.run.count);
    for (i, line) in wire.words.iter().enumerate() {
        let kind = if i == 0 { SMALL.heavy() } else { SMALL };
        sheet.text(at(x + 4.0, first + (i as f64 + 0.8) * LINE), line, kind);
    }
}

/// A short stroke across the line and the number of conductors.
fn draw_count(sheet: &mut Sheet, place: Place, count: usize) {
    let pen = Pen { colour: INK, width: 0.3, dash: None };
    sheet.line(at(place.x - 1.4, place.y + 1.4), at(place.x + 1.4, place.y - 1.4), pen);
    sheet.text(at(place.x - 1.6, place.y - 0.9), &count.to_string(), SMALL.end());
}

fn draw_fuse(sheet: &mut Sheet, top: Place, words: &str) {
    let (a, b) = (at(top.x - 1.6, top.y), at(top.x + 1.6, top.y + 7.0));
    sheet.rect(a, b, Some(PAPER), Some(OUTLINE));
    sheet.line(at(top.x, top.y), at(top.x, b.y), OUTLINE);
    sheet.text(at(top.x + 4.0, top.y + 4.4), words, SMALL);
}

/// A contactor, and beside it the resistor that is switched in first.
fn draw_precharge(sheet: &mut Sheet, top: Place, words: &str) {
    let (y0, y1) = (top.y, top.y + 10.0);
    // The main contactor's gap in the line.
    sheet.rect(at(top.x - 1.5, y0 + 2.5), at(top.x + 1.5, y0 + 7.0), Some(PAPER), None);
    contact(sheet, at(top.x, y0 + 7.0));
    let x = top.x - 7.0;
    let thin = Pen { width: 0.35, ..OUTLINE };
    sheet.polyline(&[at(top.x, y0), at(x, y0), at(x, y0 + 0.6)], thin);
    sheet.rect(at(x - 1.1, y0 + 0.6), at(x + 1.1, y0 + 4.6), Some(PAPER), Some(thin));
    sheet.line(at(x, y0 + 4.6), at(x, y0 + 5.4), thin);
    contact(sheet, at(x, y0 + 8.8));
    sheet.polyline(&[at(x, y0 + 8.8), at(x, y1), at(top.x, y1)], thin);
    sheet.text(at(top.x + 4.0, y0 + 5.8), words, SMALL);
}

/// An open contact whose fixed end is at `foot`.
fn contact(sheet: &mut Sheet, foot: Place) {
    sheet.line(foot, at(foot.x - 2.0, foot.y - 4.0), OUTLINE);
    sheet.circle(at(foot.x, foot.y - 4.0), 0.4, Some(INK), None);
}

fn draw_device(sheet: &mut Sheet, device: &Device, spot: &Spot) {
    let (a, b) = (at(spot.left, spot.top), at(spot.left + spot.width, spot.top + BOX_MM));
    sheet.rect(a, b, Some("#f3f5f7"), Some(OUTLINE));
    let middle = spot.left + spot.width / 2.0;
    let mut name = device.name.clone();
    let kind = SMALL.of_size(3.4).heavy().middle();
    // A name that is too long for its box is set smaller before it is broken.
    let kind = if width_mm(&name, kind) > spot.width - 4.0 { kind.of_size(2.6) } else { kind };
    let lines = wrap(&name, spot.width - 4.0, kind);
    if let Some(first) = lines.first() {
        name = first.clone();
    }
    let two = lines.len() > 1;
    let y = spot.top + if two { 6.0 } else { 7.4 };
    sheet.text(at(middle, y), &name, kind);
    if two {
        sheet.text(at(middle, y + 3.2), &lines[1..].join(" "), kind);
    }
    let y = spot.top + if two { 13.0 } else { 12.0 };
    sheet.text(at(middle, y), &device.kind, SMALL.middle().in_colour(GREY));
}

fn draw_ports(sheet: &mut Sheet, wire: &Wire<'_>, spots: &[Spot]) {
    let (upper, lower) = (spots[wire.upper], spots[wire.lower]);
    let level = upper.row == lower.row;
    let ends = [
        (at(wire.x[0], upper.top + BOX_MM), wire.ports[0], true),
        (
            at(wire.x[1], if level { lower.top + BOX_MM } else { lower.top }),
            wire.ports[1],
            level,
        ),
    ];
    for (place, name, lower_edge) in ends {
        let (a, b) = (at(place.x - 2.0, place.y - 1.0), at(place.x + 2.0, place.y + 1.0));
        sheet.rect(a, b, Some(PAPER), Some(OUTLINE));
        // Outside the box, beside the line.
        let y = if lower_edge { place.y + 3.2 } else { place.y - 1.6 };
        sheet.text(at(place.x + 4.0, y), name, SMALL.in_colour(GREY));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn device(id: &str, source: bool) -> Device {
        Device { id: id.to_owned(), name: id.to_owned(), kind: "thing".to_owned(), source }
    }

    fn run(from: &str, to: &str) -> Run {
        Run {
            ends: [(from.to_owned(), "a".to_owned()), (to.to_owned(), "b".to_owned())],
            count: 2,
            words: vec!["dc".to_owned()],
            fuse: Some("aR 250 A".to_owned()),
            precharge: Some("pre-charge 47 ohm".to_owned()),
        }
    }

    #[test]
    fn rows_follow_the_current_from_the_battery() {
        let devices =
            [device("motor", false), device("battery", true), device("inverter", false)];
        let runs = [run("inverter", "motor"), run("battery", "inverter")];
        assert_eq!(rows(&devices, &runs), vec![2, 0, 1]);
    }

    #[test]
    fn what_no_battery_reaches_is_still_drawn() {
        let devices = [device("a", false), device("b", false), device("c", false)];
        assert_eq!(rows(&devices, &[run("a", "b")]), vec![0, 1, 0]);
        let svg = single_line(&devices, &[run("a", "b"), run("a", "gone")]).svg;
        for id in ["a", "b", "c"] {
            assert!(svg.contains(&format!(">{id}</text>")), "{id}");
        }
    }
}
