//! Discharge of a bus through a resistor.

use physics::laws::precharge::{bleed_resistance_ohm_max, bleed_time_s};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "bleed",
    purpose: "largest resistor that discharges a bus in a time, or the time a resistor takes",
    source: "exact: RC discharge; 60 V DC is the touch limit of UN R100",
    inputs: &[
        Input::required("capacitance", Kind::Quantity(Dimension::Capacitance), "of the bus")
            .within(1e-12, 1e3),
        Input::required("voltage", Kind::Quantity(Dimension::Voltage), "at the start")
            .within(0.1, 1e5),
        Input::with_default("to", Kind::Quantity(Dimension::Voltage), "60 V", "at the end")
            .within(0.01, 1e5),
        Input::optional("time", Kind::Quantity(Dimension::Time), "time it may take")
            .within(1e-6, 1e7),
        Input::optional("resistance", Kind::Quantity(Dimension::Resistance), "or the resistor")
            .within(1e-6, 1e12),
    ],
    outputs: &[
        Output::new("resistance", "ohm", "largest that keeps the time"),
        Output::new("time", "s", "to come down"),
        Output::new("peak-power", "W", "in the resistor at the start"),
    ],
    example: &[("capacitance", "1 mF"), ("voltage", "400 V"), ("time", "5 s")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (farad, from, to) =
        (inputs.number("capacitance"), inputs.number("voltage"), inputs.number("to"));
    if from <= to {
        return Err(FigureError::about("to", "is not below the voltage at the start"));
    }
    let (ohm, time_s) = match inputs.one_of(&["time", "resistance"])? {
        "time" => {
            let time_s = inputs.number("time");
            (bleed_resistance_ohm_max(farad, from, to, time_s), time_s)
        }
        _ => {
            let ohm = inputs.number("resistance");
            (ohm, bleed_time_s(farad, ohm, from, to))
        }
    };
    Ok(Outcome::new()
        .one("resistance", ohm)
        .one("time", time_s)
        .one("peak-power", from * from / ohm)
        .note("measure before touching: a failed bleed resistor looks the same as a good one"))
}
