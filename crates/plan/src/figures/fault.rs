//! Rise of a DC fault current.

use physics::laws::fault::Loop;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "fault",
    purpose: "rise of a short-circuit current through the resistance and inductance of its loop",
    source: "exact: constant voltage on R and L in series",
    inputs: &[
        Input::required("voltage", Kind::Quantity(Dimension::Voltage), "of the source")
            .within(0.1, 1e5),
        Input::required("resistance", Kind::Quantity(Dimension::Resistance), "source and loop")
            .within(1e-6, 1e6),
        Input::required("inductance", Kind::Quantity(Dimension::Inductance), "source and loop")
            .within(0.0, 1e3),
        Input::optional(
            "time",
            Kind::Quantity(Dimension::Time),
            "when to tell the current and the I2t",
        )
        .within(0.0, 1e6),
    ],
    outputs: &[
        Output::new("prospective", "A", "current that would flow in the end"),
        Output::new("time-constant", "ms", "inductance over resistance"),
        Output::new("current", "A", "at the time"),
        Output::new("i2t", "A2s", "up to the time"),
    ],
    example: &[
        ("voltage", "400 V"),
        ("resistance", "20 mohm"),
        ("inductance", "10 uH"),
        ("time", "1 ms"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let fault = Loop {
        voltage_v: inputs.number("voltage"),
        resistance_ohm: inputs.number("resistance"),
        inductance_h: inputs.number("inductance"),
    };
    let outcome = Outcome::new()
        .one("prospective", fault.prospective_a())
        .one("time-constant", 1000.0 * fault.time_constant_s());
    Ok(match inputs.number_if("time") {
        Some(time_s) => {
            outcome.one("current", fault.current_a(time_s)).one("i2t", fault.i2t_a2s(time_s))
        }
        None => outcome,
    }
    .note("cells sag and conductors heat, so the true current falls below this later on"))
}
