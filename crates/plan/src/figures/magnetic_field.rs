//! Magnetic field beside a straight run.

use physics::laws::exposure::{self, Who};
use physics::laws::magnetic::{Arrangement, StraightRun};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "magnetic-field",
    purpose: "magnetic field beside straight cables, with published reference levels beside it",
    source: "law of Biot and Savart; levels of ICNIRP 2010 (2009 for static fields)",
    inputs: &[
        Input::required("current", Kind::Quantity(Dimension::Current), "of each cable, rms")
            .within(0.0, 1e6),
        Input::required(
            "arrangement",
            Kind::Choice(&["flat", "trefoil", "pair", "single"]),
            "flat and trefoil are three phases, pair is direct current there and back",
        ),
        Input::optional(
            "spacing",
            Kind::Quantity(Dimension::Length),
            "between neighbouring axes; not for a single cable",
        )
        .within(0.1, 1e6),
        Input::required(
            "distance",
            Kind::Quantity(Dimension::Length),
            "from the middle of the cables, square to them",
        )
        .within(1.0, 1e7),
        Input::optional(
            "direction",
            Kind::Quantity(Dimension::Angle),
            "0 deg in the plane of flat cables, 90 deg above it; the worst one if left out",
        )
        .within(-360.0, 360.0),
        Input::optional(
            "length",
            Kind::Quantity(Dimension::Length),
            "of the straight run, its middle beside the point; endless if left out",
        )
        .within(1.0, 1e9),
        Input::optional(
            "frequency",
            Kind::Quantity(Dimension::Frequency),
            "for the levels; 0 Hz is direct current",
        )
        .within(0.0, exposure::FASTEST_HZ),
    ],
    outputs: &[
        Output::new("field", "uT", "rms, all directions and phases together"),
        Output::new("public", "uT", "reference level for anyone, ICNIRP 2010"),
        Output::new("workers", "uT", "reference level for workers who are told, ICNIRP 2010"),
        Output::new("implants", "uT", "above it, people with an implant ask its maker"),
    ],
    example: &[
        ("current", "200 A"),
        ("arrangement", "flat"),
        ("spacing", "18 mm"),
        ("distance", "500 mm"),
        ("frequency", "400 Hz"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let arrangement = match inputs.text("arrangement") {
        "flat" => Arrangement::Flat,
        "trefoil" => Arrangement::Trefoil,
        "pair" => Arrangement::Pair,
        _ => Arrangement::Single,
    };
    let spacing_mm = match (arrangement, inputs.number_if("spacing")) {
        (Arrangement::Single, Some(_)) => {
            return Err(FigureError::about("spacing", "a single cable has none".to_owned()));
        }
        (Arrangement::Single, None) => 0.0,
        (_, Some(spacing_mm)) => spacing_mm,
        (_, None) => {
            return Err(FigureError::about("spacing", "it must be given".to_owned()));
        }
    };
    let distance_mm = inputs.number("distance");
    let reach_mm = arrangement.reach_mm(spacing_mm);
    if distance_mm <= reach_mm {
        return Err(FigureError::about(
            "distance",
            format!(
                "the outermost axis is {reach_mm:.1} mm from the middle, and the point lies within"
            ),
        ));
    }
    let run = StraightRun {
        arrangement,
        spacing_mm,
        current_a_rms: inputs.number("current"),
        reach_mm: inputs.number_if("length").map(|l| [0.5 * l, 0.5 * l]),
    };
    let field = match inputs.number_if("direction") {
        Some(deg) => run.field_ut_rms(distance_mm, deg),
        None => run.worst_ut_rms(distance_mm),
    };
    let outcome = Outcome::new().one("field", field);
    Ok(match inputs.number_if("frequency") {
        Some(hz) => outcome
            .one("public", exposure::icnirp_2010_ut(Who::Public, hz))
            .one("workers", exposure::icnirp_2010_ut(Who::Workers, hz))
            .one("implants", exposure::implants_ut(hz)),
        None => outcome,
    }
    .note("the straight run alone: screens, sheet steel and what leads on from its ends are left out"))
}
