//! What a contactor meets when it opens and closes.

use physics::units::Dimension;

use super::fuse_time::{CLEARING, CURVE, MELTING, link};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "contactor",
    purpose: "greatest current a contactor opens against beside a fuse, and what it closes on",
    source: "the fuse's clearing curve at the time of opening; Ohm's law",
    inputs: &[
        CURVE,
        MELTING,
        CLEARING,
        Input::required(
            "opens-after",
            Kind::Quantity(Dimension::Time),
            "from the overcurrent on",
        )
        .within(1e-4, 1e5),
        Input::required("opens-above", Kind::Quantity(Dimension::Current), "by its control")
            .within(1e-2, 1e6),
        Input::required("voltage", Kind::Quantity(Dimension::Voltage), "of the pack")
            .within(0.1, 1e5),
        Input::required("resistance", Kind::Quantity(Dimension::Resistance), "of the pack")
            .within(1e-6, 1e3),
        Input::with_default(
            "left",
            Kind::Quantity(Dimension::Voltage),
            "0 V",
            "across the contacts as they close",
        )
        .within(0.0, 1e5),
    ],
    outputs: &[
        Output::new("breaks", "A", "greatest current it opens against"),
        Output::new("makes", "A", "current it closes on"),
        Output::new("fault", "A", "greatest the pack gives"),
    ],
    example: &[
        (
            "curve",
            "[{ time = \"10 s\", current = \"605 A\" }, { time = \"0.1 s\", current = \"1180 A\" }, { time = \"1 ms\", current = \"3010 A\" }]",
        ),
        ("melting-i2t", "9050 A2s"),
        ("clearing-i2t", "45300 A2s"),
        ("opens-after", "2 s"),
        ("opens-above", "300 A"),
        ("voltage", "403 V"),
        ("resistance", "85 mohm"),
        ("left", "6 V"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let link = link(inputs)?;
    let ohm = inputs.number("resistance");
    let fault_a = inputs.number("voltage") / ohm;
    // Slower than the whole curve, the control meets what it opens at.
    let left_a = link.clears_at_a(inputs.number("opens-after")).unwrap_or(0.0);
    let breaks_a = left_a.max(inputs.number("opens-above")).min(fault_a);
    Ok(Outcome::new()
        .one("breaks", breaks_a)
        .one("makes", inputs.number("left") / ohm)
        .one("fault", fault_a)
        .note("the contactor's maker says what it opens, in both directions of current"))
}
