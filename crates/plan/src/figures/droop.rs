//! Bending stiffness from the droop of a clamped length.

use physics::laws::elastica;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

/// Standard gravity, m/s².
pub(super) const GRAVITY: f64 = 9.806_65;

pub(crate) static FIGURE: Figure = Figure {
    name: "droop",
    purpose: "bending stiffness of a cable from how far a clamped length droops under its own weight",
    source: "heavy elastica, integrated; for a small droop w L4/(8 EI)",
    inputs: &[
        Input::required(
            "length",
            Kind::Quantity(Dimension::Length),
            "free of the clamp, level there",
        )
        .within(10.0, 1e5),
        Input::required(
            "droop",
            Kind::Quantity(Dimension::Length),
            "of the tip below the clamp",
        )
        .within(0.01, 1e5),
        Input::required("mass", Kind::Quantity(Dimension::MassPerLength), "weigh a length")
            .within(0.01, 1e5),
    ],
    outputs: &[
        Output::new("stiffness", "N m2", "bending stiffness EI"),
        Output::new("tip-angle", "deg", "below level, to check the shape"),
    ],
    example: &[("length", "500 mm"), ("droop", "120 mm"), ("mass", "0.85 kg/m")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (length_mm, droop_mm) = (inputs.number("length"), inputs.number("droop"));
    let share = droop_mm / length_mm;
    if share > 0.8 {
        return Err(FigureError::about(
            "droop",
            format!(
                "of {:.0} % of the length hangs almost straight down: clamp a shorter length, so that it droops by a tenth to a half",
                100.0 * share
            ),
        ));
    }
    let shape = elastica::weight_from_droop(share);
    let length_m = length_mm / 1000.0;
    let weight_n_m = inputs.number("mass") / 1000.0 * GRAVITY;
    Ok(Outcome::new()
        .one("stiffness", weight_n_m * length_m * length_m * length_m / shape.weight)
        .one("tip-angle", shape.angle_rad * 180.0 / std::f64::consts::PI)
        .note_if(share < 0.05, "a small droop: the set of the coil outweighs it, so clamp a longer length")
        .note("turn the cable by half a turn and measure again: the mean of both takes out the set of the coil"))
}

#[cfg(test)]
mod tests {
    #[test]
    fn hanging_straight_down_tells_nothing() {
        let given = [("length", "500 mm"), ("droop", "450 mm"), ("mass", "0.85 kg/m")]
            .map(|(k, v)| (k.to_owned(), v.to_owned()));
        assert_eq!(crate::figures::run("droop", &given).unwrap_err()[0].input, "droop");
    }
}
