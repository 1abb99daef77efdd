//! Limits of insulation resistance.

use physics::laws::isolation::{self, Bus};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "isolation",
    purpose: "least insulation resistance of a high-voltage bus, and the voltage to test it with",
    source: "UN R100 5.1.3; ISO 6469-3 8.2.2; ISO 6469-4 5.2.3",
    inputs: &[
        Input::required(
            "voltage",
            Kind::Quantity(Dimension::Voltage),
            "greatest working voltage",
        )
        .within(1.0, 2500.0),
        Input::required(
            "kind",
            Kind::Choice(&["dc", "ac", "joined", "joined-protected"]),
            "dc, ac, both joined through an inverter, or joined with the ac side in robust housings",
        ),
    ],
    outputs: &[
        Output::new("least-resistance", "ohm", "between the bus and the chassis"),
        Output::new("test-voltage", "V", "next step of an insulation tester, dc"),
        Output::new("y-capacitance", "uF", "that stores 0.2 J at this voltage"),
    ],
    example: &[("voltage", "400 V"), ("kind", "joined")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let volt = inputs.number("voltage");
    let bus = match inputs.text("kind") {
        "dc" => Bus::Dc,
        "ac" => Bus::Ac,
        "joined" => Bus::Joined,
        _ => Bus::JoinedProtected,
    };
    let test = isolation::test_voltage_v(volt)
        .expect("the range of the input ends at the highest tester step");
    let farad = isolation::capacitance_f_max(isolation::TOUCH_ENERGY_J_MAX, volt);
    Ok(Outcome::new()
        .one("least-resistance", isolation::least_resistance_ohm(volt, bus))
        .one("test-voltage", test)
        .one("y-capacitance", 1e6 * farad)
        .note("a limit of approval: sound cables measure far more, so look into any fall")
        .note("test made-up cables alone: electronics may not bear the test voltage"))
}
