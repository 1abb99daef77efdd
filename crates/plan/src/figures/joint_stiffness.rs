//! Stiffness of a bolted joint's plies, and what settling takes from its preload.

use physics::laws::clamp::{self, Ply};
use physics::laws::thread::Thread;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const LENGTH: Kind = Kind::Quantity(Dimension::Length);

pub(crate) static FIGURE: Figure = Figure {
    name: "joint-stiffness",
    purpose: "stiffness of bolt and plies, the bolt's share of an outside load, and the preload lost by settling",
    source: "frusta of 30 degrees; VDI 2230-1 for settling",
    inputs: &[
        Input::required("thread", Kind::Thread, "of the bolt"),
        Input::required(
            "layers",
            Kind::Rows(&[
                Input::required("thickness", LENGTH, "of the ply").within(0.01, 1e3),
                Input::required(
                    "modulus",
                    Kind::Quantity(Dimension::Stress),
                    "Young's modulus",
                )
                .within(1.0, 1e6),
            ]),
            "plies between the bearing faces, in order",
        ),
        Input::required("threaded", LENGTH, "thread within the plies").within(0.0, 1e4),
        Input::optional("bearing", LENGTH, "diameter of the bearing faces; 1.5 d if left out")
            .within(0.1, 1e3),
        Input::with_default(
            "modulus",
            Kind::Quantity(Dimension::Stress),
            "207 GPa",
            "Young's modulus of the bolt",
        )
        .within(1.0, 1e6),
        Input::optional("settling", LENGTH, "way by which the plies settle").within(0.0, 1.0),
    ],
    outputs: &[
        Output::new("bolt", "N/mm", "stiffness of the bolt between the faces"),
        Output::new("plies", "N/mm", "stiffness of the plies"),
        Output::new("share", "", "of an outside load that the bolt takes"),
        Output::new("loss", "N", "preload lost by the settling"),
    ],
    example: &[
        ("thread", "M10"),
        (
            "layers",
            r#"[{ thickness = "2 mm", modulus = "200 GPa" }, { thickness = "3 mm", modulus = "70 GPa" }]"#,
        ),
        ("threaded", "3 mm"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let thread = Thread::parse(inputs.text("thread"))
        .map_err(|error| FigureError::about("thread", error.message()))?;
    let d = thread.diameter_mm;
    let plies: Vec<Ply> = inputs
        .rows("layers")
        .iter()
        .map(|row| Ply {
            thickness_mm: row.number("thickness"),
            modulus_mpa: row.number("modulus"),
            expansion_um_per_mk: 0.0,
        })
        .collect();
    let grip_mm: f64 = plies.iter().map(|p| p.thickness_mm).sum();
    let threaded_mm = inputs.number("threaded");
    if plies.is_empty() {
        return Err(FigureError::about("layers", "has no layer"));
    }
    if threaded_mm > grip_mm {
        return Err(FigureError::about("threaded", "is more than all layers together"));
    }
    let bearing_mm = inputs.number_if("bearing").unwrap_or(1.5 * d);
    if bearing_mm <= d {
        return Err(FigureError::about("bearing", "is not larger than the bolt"));
    }
    let shank = (std::f64::consts::PI / 4.0 * d * d, grip_mm - threaded_mm);
    let bolt = clamp::bolt_n_per_mm(
        shank,
        (thread.stress_area_mm2(), threaded_mm),
        inputs.number("modulus"),
    );
    let stiffness = clamp::plies_n_per_mm(&plies, d, bearing_mm);
    let outcome = Outcome::new()
        .one("bolt", bolt)
        .one("plies", stiffness)
        .one("share", clamp::joint_constant(bolt, stiffness));
    Ok(match inputs.number_if("settling") {
        Some(way) => {
            outcome.one("loss", clamp::settling_loss_n(way, 1.0 / bolt + 1.0 / stiffness))
        }
        None => outcome,
    })
}
