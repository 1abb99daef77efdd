//! What a fuse bears again and again.

use physics::laws::fuse::pulse_share;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "fuse-cycles",
    purpose: "share of its melting I2t that a fuse bears so many times",
    source: "application note of a maker of fuses: 48 % of the melting I2t for 100 pulses to 22 % for 100 000",
    inputs: &[
        Input::required("pulses", Kind::Number, "in its life").within(1.0, 1e5),
        Input::optional("melting-i2t", Kind::Quantity(Dimension::Joule), "of the element")
            .within(1e-6, 1e12),
    ],
    outputs: &[
        Output::new("share", "", "of the melting I2t, for one pulse"),
        Output::new("of-current", "", "of the melting current, its root"),
        Output::new("i2t", "A2s", "that one pulse may have"),
    ],
    example: &[("pulses", "10000"), ("melting-i2t", "9050 A2s")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let share = pulse_share(inputs.number("pulses"))
        .ok_or_else(|| FigureError::about("pulses", "the table ends at 100 000"))?;
    let outcome = Outcome::new().one("share", share).one("of-current", share.sqrt());
    Ok(match inputs.number_if("melting-i2t") {
        Some(melting_a2s) => outcome.one("i2t", share * melting_a2s),
        None => outcome,
    })
}
