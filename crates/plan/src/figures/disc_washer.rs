//! Force of a conical disc washer.

use physics::laws::disc::Disc;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const LENGTH: Kind = Kind::Quantity(Dimension::Length);

pub(crate) static FIGURE: Figure = Figure {
    name: "disc-washer",
    purpose: "force that presses a conical disc washer flat, and at a way before that",
    source: "Almen and Laszlo 1936; checked against DIN 6796",
    inputs: &[
        Input::required("outside", LENGTH, "outside diameter").within(1.0, 500.0),
        Input::required("inside", LENGTH, "inside diameter").within(0.5, 400.0),
        Input::required("thickness", LENGTH, "thickness").within(0.05, 50.0),
        Input::required("height", LENGTH, "height when free").within(0.05, 100.0),
        Input::optional("way", LENGTH, "pressed down by").within(0.0, 50.0),
    ],
    outputs: &[
        Output::new("flattening", "N", "force at flat"),
        Output::new("force", "N", "force at the way"),
    ],
    example: &[
        ("outside", "18 mm"),
        ("inside", "8.4 mm"),
        ("thickness", "2 mm"),
        ("height", "2.24 mm"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let disc = Disc {
        outside_mm: inputs.number("outside"),
        inside_mm: inputs.number("inside"),
        thickness_mm: inputs.number("thickness"),
        height_mm: inputs.number("height"),
    };
    if disc.outside_mm <= disc.inside_mm {
        return Err(FigureError::about("inside", "is not smaller than the outside diameter"));
    }
    if disc.cone_mm() < 0.0 {
        return Err(FigureError::about("height", "is less than the thickness"));
    }
    let steep = disc.cone_mm() > 1.3 * disc.thickness_mm;
    let outcome = Outcome::new()
        .one("flattening", disc.flattening_n())
        .note("at the full preload of its bolt a disc washer is flat: it gives reserve only below its own force")
        .note_if(steep, "a cone this steep snaps through: the force falls before it is flat");
    Ok(match inputs.number_if("way") {
        Some(way) if way > disc.cone_mm() => {
            return Err(FigureError::about(
                "way",
                format!("is more than the {:.2} mm to flat", disc.cone_mm()),
            ));
        }
        Some(way) => outcome.one("force", disc.force_n(way)),
        None => outcome,
    })
}
