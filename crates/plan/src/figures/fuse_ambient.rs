//! What a fuse carries in the heat.

use physics::laws::fuse::{self, Family};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "fuse-ambient",
    purpose: "share of its rating that a fuse carries in a warm place",
    source: "semiconductor fuse guide, A1 = sqrt((a - t)/(a - t0))",
    inputs: &[
        Input::required("ambient", Kind::Quantity(Dimension::Temperature), "air at the fuse")
            .within(-60.0, 200.0),
        Input::with_default(
            "top",
            Kind::Quantity(Dimension::Temperature),
            "130 degC",
            "a, 130 to 150 degC by fuse family",
        )
        .within(100.0, 200.0),
        Input::with_default(
            "reference",
            Kind::Quantity(Dimension::Temperature),
            "25 degC",
            "ambient of the rating, 25 to 30 degC",
        )
        .within(0.0, 60.0),
        Input::optional("rating", Kind::Quantity(Dimension::Current), "of the fuse")
            .within(0.1, 1e5),
    ],
    outputs: &[
        Output::new("factor", "", "on the rating"),
        Output::new("current", "A", "rating times the factor"),
    ],
    example: &[("ambient", "80 degC"), ("rating", "250 A")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let family =
        Family { top_c: inputs.number("top"), reference_c: inputs.number("reference") };
    let ambient = inputs.number("ambient");
    let factor = fuse::ambient_factor(ambient, family);
    let outcome = Outcome::new()
        .one("factor", factor)
        .note_if(ambient < family.reference_c, "below the reference the rating is not raised")
        .note_if(ambient >= family.top_c, "at this ambient the fuse carries nothing");
    Ok(match inputs.number_if("rating") {
        Some(rating) => outcome.one("current", rating * factor),
        None => outcome,
    })
}
