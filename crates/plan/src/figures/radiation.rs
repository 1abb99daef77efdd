//! Radiation from a cylinder to its surroundings.

use physics::laws::radiation;

use super::cable::AMBIENT;
use super::convection::{DIAMETER, SURFACE};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "radiation",
    purpose: "heat that a cable radiates to surroundings of one temperature",
    source: "Stefan-Boltzmann law, constant of CODATA 2018",
    inputs: &[
        DIAMETER,
        SURFACE,
        AMBIENT,
        Input::required("emissivity", Kind::Number, "of the surface, 0 to 1").within(0.0, 1.0),
    ],
    outputs: &[Output::new("loss", "W/m", "heat radiated")],
    example: &[
        ("diameter", "16 mm"),
        ("surface", "90 degC"),
        ("ambient", "30 degC"),
        ("emissivity", "0.9"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    Ok(Outcome::new().one(
        "loss",
        radiation::loss_w_per_m(
            inputs.number("diameter"),
            inputs.number("surface"),
            inputs.number("ambient"),
            inputs.number("emissivity"),
        ),
    ))
}
