//! How close two cord grips may stand.

use physics::laws::spanner::{self, Tool};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const LENGTH: Kind = Kind::Quantity(Dimension::Length);

pub(crate) static FIGURE: Figure = Figure {
    name: "grip-pitch",
    purpose: "least distance between the centres of two cord grips so that they can be tightened",
    source: "sharp hexagon 1.1547 x across flats; open spanner head 2.2 x across flats (memory)",
    inputs: &[
        Input::required("across-flats", LENGTH, "of the grip's nut").within(1.0, 300.0),
        Input::with_default(
            "tool",
            Kind::Choice(&["open-spanner", "socket", "from-above"]),
            "open-spanner",
            "what turns it; from-above is a crow-foot or the hand",
        ),
        Input::with_default("play", LENGTH, "2 mm", "kept between what passes")
            .within(0.0, 50.0),
    ],
    outputs: &[
        Output::new("pitch", "mm", "centre to centre, at least"),
        Output::new("across-corners", "mm", "of a sharp hexagon"),
    ],
    example: &[("across-flats", "36 mm"), ("tool", "socket")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let flats = inputs.number("across-flats");
    let tool = match inputs.text("tool") {
        "open-spanner" => Tool::OpenSpanner,
        "socket" => Tool::Socket { wall_mm: 4 },
        _ => Tool::FromAbove,
    };
    Ok(Outcome::new()
        .one("pitch", spanner::grip_pitch_mm_min(flats, tool, inputs.number("play")))
        .one("across-corners", spanner::across_corners_mm(flats))
        .note_if(matches!(tool, Tool::Socket { .. }), "socket wall taken as 4 mm")
        .note("measure the tool that will be used"))
}
