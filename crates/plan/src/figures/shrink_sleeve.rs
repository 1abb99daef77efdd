//! Choosing a heat-shrink sleeve.

use physics::laws::shrink;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const LENGTH: Kind = Kind::Quantity(Dimension::Length);

pub(crate) static FIGURE: Figure = Figure {
    name: "shrink-sleeve",
    purpose: "smallest heat-shrink sleeve that passes over an end and grips what it covers",
    source: "thin-wall sizes read, adhesive-lined sizes from memory; 1.2 to slide and 0.8 to grip are common practice",
    inputs: &[
        Input::required(
            "passes",
            LENGTH,
            "largest it must slide over, often the palm of the lug",
        )
        .within(0.5, 100.0),
        Input::required("covers", LENGTH, "smallest diameter it must grip").within(0.5, 100.0),
        Input::with_default(
            "kind",
            Kind::Choice(&["adhesive", "thin"]),
            "adhesive",
            "of sleeve",
        ),
        Input::optional("length", LENGTH, "to be covered").within(1.0, 1e4),
    ],
    outputs: &[
        Output::new("supplied", "mm", "inside as supplied"),
        Output::new("recovered", "mm", "inside when free to shrink"),
        Output::new("ratio", "", "supplied over recovered"),
        Output::new("cut", "mm", "length to cut, allowing for shortening"),
    ],
    example: &[("passes", "15.5 mm"), ("covers", "14.3 mm"), ("length", "50 mm")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (passes, covers) = (inputs.number("passes"), inputs.number("covers"));
    let adhesive = inputs.text("kind") == "adhesive";
    let Some(sleeve) = shrink::choose(adhesive, passes, covers) else {
        return Err(FigureError::whole(format!(
            "no {} sleeve held here passes over {passes} mm and grips {covers} mm: slide it on before the lug is crimped, or take a higher ratio",
            inputs.text("kind")
        )));
    };
    let outcome = Outcome::new()
        .one("supplied", sleeve.supplied_mm)
        .one("recovered", sleeve.recovered_mm)
        .one("ratio", sleeve.supplied_mm / sleeve.recovered_mm)
        .note("sizes vary by maker: compare the sleeve's own two numbers");
    Ok(match inputs.number_if("length") {
        Some(length) => outcome.one("cut", shrink::cut_length_mm(length)),
        None => outcome,
    })
}
