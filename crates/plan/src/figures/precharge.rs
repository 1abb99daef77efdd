//! Pre-charge of a capacitor through a resistor.

use physics::laws::precharge::Precharge;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "precharge",
    purpose: "what pre-charging a bus asks of its resistor, and how long it takes",
    source: "exact: RC charging from a constant voltage",
    inputs: &[
        Input::required("capacitance", Kind::Quantity(Dimension::Capacitance), "of the bus")
            .within(1e-12, 1e3),
        Input::required("voltage", Kind::Quantity(Dimension::Voltage), "of the supply")
            .within(0.1, 1e5),
        Input::required("resistance", Kind::Quantity(Dimension::Resistance), "of the resistor")
            .within(1e-6, 1e9),
        Input::optional(
            "across",
            Kind::Quantity(Dimension::Resistance),
            "resistor across the bus while it charges, as one that discharges it is",
        )
        .within(1e-3, 1e12),
        Input::optional(
            "time",
            Kind::Quantity(Dimension::Time),
            "when to tell the voltage; five time constants if left out",
        )
        .within(0.0, 1e7),
    ],
    outputs: &[
        Output::new("energy", "J", "turned into heat in the resistor by a full charge"),
        Output::new("peak-power", "W", "in the first instant"),
        Output::new("peak-current", "A", "in the first instant"),
        Output::new("time-constant", "ms", "resistance times capacitance"),
        Output::new("voltage", "V", "on the bus at the time"),
        Output::new("remaining", "V", "still missing at the time"),
        Output::new(
            "standing",
            "V",
            "missing for ever, for the resistor across the bus draws on",
        ),
        Output::new("heat", "J", "turned into heat in the resistor up to the time"),
    ],
    example: &[("capacitance", "1 mF"), ("voltage", "400 V"), ("resistance", "50 ohm")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let bus = Precharge {
        capacitance_f: inputs.number("capacitance"),
        voltage_v: inputs.number("voltage"),
        resistance_ohm: inputs.number("resistance"),
        across_ohm: inputs.number_if("across"),
    };
    let given = inputs.number_if("time");
    let time_s = given.unwrap_or(5.0 * bus.time_constant_s());
    let voltage = bus.voltage_at_v(time_s);
    Ok(Outcome::new()
        .one("energy", bus.energy_j())
        .one("peak-power", bus.peak_power_w())
        .one("peak-current", bus.peak_current_a())
        .one("time-constant", 1000.0 * bus.time_constant_s())
        .one("voltage", voltage)
        .one("remaining", bus.voltage_v - voltage)
        .one("standing", bus.voltage_v - bus.settles_v())
        .one("heat", bus.energy_by_j(time_s))
        .note_if(given.is_none(), "no time given: voltage after five time constants")
        .note("a load left on the bus keeps it from reaching the supply voltage"))
}
