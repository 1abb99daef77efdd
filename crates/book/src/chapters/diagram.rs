//! The single-line diagram.

use crate::model::{Cell, Pages, Tone, narrow, row, wide};
use crate::parts::Part;
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let plan = words.plan;
    if plan.devices.is_empty() {
        pages.text("The build names no devices.");
        return;
    }
    let drawing = draw::sheets::single_line(plan);
    let (first, height_mm) = (pages.blocks.len(), drawing.height_mm);
    pages.figure(
        drawing,
        "One line for each run; the stroke across it carries the number of conductors.",
        "Single-line diagram of devices, runs, fuse and pre-charge",
    );
    let mut rows = Vec::new();
    for device in &plan.devices {
        for (i, (port, terminals)) in device.ports.iter().enumerate() {
            let name = if i == 0 { device.name.as_str() } else { "" };
            rows.push(row([
                Cell::new(name, Tone::Strong),
                if i == 0 { draw::sheets::kind_word(device.kind).into() } else { "".into() },
                Cell::new(port.as_str(), Tone::Code),
                terminals.join(", ").into(),
            ]));
        }
    }
    pages.table(
        vec![wide("Device", 1.4), wide("Kind", 1.0), wide("Port", 1.2), narrow("Terminals")],
        rows,
        "No device has a port",
    );
    let ports: usize = plan.devices.iter().map(|d| d.ports.len()).sum();
    // A row takes about six millimetres; what would not fit one page may break.
    if height_mm + 6.0 * ports as f64 <= ROOM_MM {
        pages.together(first, Part::Diagram.title());
    }
}

/// Room for drawing and table on the smallest paper, below head and heading.
const ROOM_MM: f64 = 195.0;
