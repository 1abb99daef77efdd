//! Voltage drop and loss of a run.

use physics::laws::drop::{self, Wires};
use physics::units::Dimension;

use super::cable::{self, CLASS, MATERIAL, RESISTANCE_20, SIZE};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "voltage-drop",
    purpose: "voltage drop and loss of a run of cable",
    source: "Ohm's law; factors 2 and sqrt 3 as in IEC 60364-5-52 annex G",
    inputs: &[
        SIZE,
        Input::required("length", Kind::Quantity(Dimension::Length), "of the run, one way")
            .within(0.0, 1e8),
        Input::required(
            "current",
            Kind::Quantity(Dimension::Current),
            "rms, in each conductor",
        )
        .within(0.0, 1e6),
        Input::required(
            "temperature",
            Kind::Quantity(Dimension::Temperature),
            "of the conductor",
        )
        .within(-60.0, 300.0),
        Input::with_default(
            "wires",
            Kind::Count,
            "2",
            "1 one conductor, 2 go and return, 3 three phases",
        )
        .within(1.0, 3.0),
        CLASS,
        MATERIAL,
        RESISTANCE_20,
    ],
    outputs: &[
        Output::new("drop", "V", "between the lines at the far end, resistive"),
        Output::new("loss", "W", "of all conductors"),
    ],
    example: &[
        ("size", "70 mm2"),
        ("length", "3 m"),
        ("current", "250 A"),
        ("temperature", "90 degC"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (c, notes) = cable::conductor(inputs)?;
    let wires = match inputs.number("wires") {
        1.0 => Wires::One,
        3.0 => Wires::Three,
        _ => Wires::Two,
    };
    let r = c.resistance_ohm_km(inputs.number("temperature")) * 1e-3;
    let (length_m, current_a) = (inputs.number("length") * 1e-3, inputs.number("current"));
    Ok(Outcome::new()
        .one("drop", drop::drop_v(wires, r, length_m, current_a))
        .one("loss", drop::loss_w(wires, r, length_m, current_a))
        .notes(notes))
}
