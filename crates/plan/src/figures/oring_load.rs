//! Force to squeeze an O-ring.

use physics::laws::oring_load;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "oring-load",
    purpose: "force per length that squeezes an O-ring",
    source: "Lindley 1967 with Gent's modulus from hardness",
    inputs: &[
        Input::required("section", Kind::Quantity(Dimension::Length), "section diameter")
            .within(0.5, 30.0),
        Input::required("hardness", Kind::Number, "Shore A hardness").within(20.0, 80.0),
        Input::required("squeeze", Kind::Quantity(Dimension::Ratio), "squeeze, like 20 %")
            .within(0.0, 0.35),
    ],
    outputs: &[
        Output::new("load", "N/mm", "force per length of the ring"),
        Output::new("modulus", "MPa", "Young's modulus from the hardness"),
    ],
    example: &[("section", "1.78 mm"), ("hardness", "70"), ("squeeze", "20 %")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (section, hardness) = (inputs.number("section"), inputs.number("hardness"));
    Ok(Outcome::new()
        .one("load", oring_load::load_n_per_mm(section, hardness, inputs.number("squeeze")))
        .one("modulus", oring_load::modulus_mpa(hardness))
        .note("compounds of one hardness differ: published loads for 70 Shore A span 1 to 3.6"))
}
