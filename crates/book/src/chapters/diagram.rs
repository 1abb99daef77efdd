//! The single-line diagram.

use crate::model::{Cell, Pages, Tone, narrow, row, wide};
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let plan = words.plan;
    if plan.devices.is_empty() {
        pages.text("The build names no devices.");
        return;
    }
    pages.figure(
        draw::sheets::single_line(plan),
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
}
