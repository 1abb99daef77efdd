//! Inductance of a go and return pair.

use physics::laws::inductance;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "loop-inductance",
    purpose: "inductance of two parallel round conductors that carry one current there and back",
    source: "Grover, Inductance Calculations, 1946, chapter 5",
    inputs: &[
        Input::required("length", Kind::Quantity(Dimension::Length), "of the pair, one way")
            .within(0.0, 1e8),
        Input::required("spacing", Kind::Quantity(Dimension::Length), "from axis to axis")
            .within(0.01, 1e6),
        Input::required("diameter", Kind::Quantity(Dimension::Length), "of each conductor")
            .within(0.01, 1e4),
    ],
    outputs: &[
        Output::new("inductance", "uH", "current filling the conductors (low frequency)"),
        Output::new("inductance-surface", "uH", "current on the surface (high frequency)"),
    ],
    example: &[("length", "3 m"), ("spacing", "17 mm"), ("diameter", "12 mm")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (length, spacing, diameter) =
        (inputs.number("length"), inputs.number("spacing"), inputs.number("diameter"));
    if spacing < diameter {
        return Err(FigureError::about(
            "spacing",
            format!("{spacing} mm is less than the diameter of {diameter} mm"),
        ));
    }
    Ok(Outcome::new()
        .one("inductance", 1e6 * inductance::loop_h(length * 1e-3, spacing, diameter))
        .one(
            "inductance-surface",
            1e6 * inductance::loop_surface_h(length * 1e-3, spacing, diameter),
        )
        .note_if(
            length < 10.0 * spacing,
            "outside the stated range: the length is under ten times the spacing, the ends count",
        ))
}
