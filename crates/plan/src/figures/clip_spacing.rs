//! How far apart a cable is clipped.

use physics::laws::clips::{self, Lie};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "clip-spacing",
    purpose: "largest spacing of clips, and how many a run needs",
    source: "trade guide for fixed wiring; first clip 150 mm by a code of practice; vehicles from custom",
    inputs: &[
        Input::required("outer-diameter", Kind::Quantity(Dimension::Length), "over the sheath")
            .within(0.5, 40.0),
        Input::with_default(
            "lie",
            Kind::Choice(&["horizontal", "vertical"]),
            "horizontal",
            "how the cable lies",
        ),
        Input::with_default(
            "place",
            Kind::Choice(&["building", "vehicle"]),
            "vehicle",
            "where",
        ),
        Input::optional(
            "length",
            Kind::Quantity(Dimension::Length),
            "of the run to be clipped",
        )
        .within(1.0, 1e7),
    ],
    outputs: &[
        Output::new("spacing", "mm", "between clips, at most"),
        Output::new("first", "mm", "from an end or a bend to the first clip, at most"),
        Output::new("clips", "", "needed on a straight run"),
    ],
    example: &[("outer-diameter", "16 mm"), ("length", "1.4 m")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let outer_mm = inputs.number("outer-diameter");
    let vehicle = inputs.text("place") == "vehicle";
    let lie = match inputs.text("lie") {
        "horizontal" => Lie::Horizontal,
        _ => Lie::Vertical,
    };
    let building = clips::spacing_mm_max(outer_mm, lie)
        .expect("the range of the input ends where the table does");
    let spacing = if vehicle { building.min(clips::VEHICLE_MM.1) } else { building };
    let outcome =
        Outcome::new().one("spacing", spacing).one("first", clips::FIRST_CLIP_MM_MAX).note_if(
            vehicle,
            "in a vehicle 200 to 300 mm is usual; check the natural frequency of the span too",
        );
    Ok(match inputs.number_if("length") {
        Some(length) => outcome.one(
            "clips",
            clips::clips_needed(length, spacing, clips::FIRST_CLIP_MM_MAX) as f64,
        ),
        None => outcome,
    })
}
