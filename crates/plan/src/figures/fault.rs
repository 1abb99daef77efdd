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
        Input::optional(
            "melting-i2t",
            Kind::Quantity(Dimension::Joule),
            "of a fuse in the loop: when to tell how far the current gets",
        )
        .within(1e-3, 1e12),
    ],
    outputs: &[
        Output::new("prospective", "A", "current that would flow in the end"),
        Output::new("time-constant", "ms", "inductance over resistance"),
        Output::new("current", "A", "at the time"),
        Output::new("i2t", "A2s", "up to the time"),
        Output::new("melts", "ms", "when the fuse's element melts"),
        Output::new("let-through", "A", "current at that moment, which the arc then breaks"),
    ],
    example: &[
        ("voltage", "400 V"),
        ("resistance", "20 mohm"),
        ("inductance", "10 uH"),
        ("time", "1 ms"),
    ],
    compute,
};

/// Beyond a few milliseconds a melting integral is no longer a constant of the fuse.
const SLOW_S: f64 = 5e-3;

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let fault = Loop {
        voltage_v: inputs.number("voltage"),
        resistance_ohm: inputs.number("resistance"),
        inductance_h: inputs.number("inductance"),
    };
    let mut outcome = Outcome::new()
        .one("prospective", fault.prospective_a())
        .one("time-constant", 1000.0 * fault.time_constant_s());
    if let Some(melting_a2s) = inputs.number_if("melting-i2t") {
        let melts_s = fault.time_to_i2t_s(melting_a2s);
        outcome = outcome
            .one("melts", 1000.0 * melts_s)
            .one("let-through", fault.current_a(melts_s))
            .note_if(
                SLOW_S < melts_s,
                "outside the stated range: so slow, the element gives off heat, and its curve decides",
            );
    }
    Ok(match inputs.number_if("time") {
        Some(time_s) => {
            outcome.one("current", fault.current_a(time_s)).one("i2t", fault.i2t_a2s(time_s))
        }
        None => outcome,
    }
    .note("cells sag and conductors heat, so the true current falls below this later on"))
}
