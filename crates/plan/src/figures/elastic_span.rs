//! A stiff cable bent far: between two clamps, or by a load at its tip.

use physics::laws::elastica;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(super) const STIFFNESS: Input = Input::required(
    "stiffness",
    Kind::Quantity(Dimension::BendingStiffness),
    "bending stiffness EI of the cable, \"0.13 N m2\"",
)
.within(1e-9, 1e9);

pub(crate) static FIGURE: Figure = Figure {
    name: "elastic-span",
    purpose: "force and shape of a stiff cable bowed between two clamps in line, or bent by a load across its tip",
    source: "planar elastica: Bisshopp and Drucker 1945, Mattiasson 1981",
    inputs: &[
        Input::required("length", Kind::Quantity(Dimension::Length), "of the cable")
            .within(1.0, 1e6),
        Input::optional(
            "end-distance",
            Kind::Quantity(Dimension::Length),
            "between the two clamps, shorter than the cable",
        )
        .within(0.0, 1e6),
        Input::optional(
            "tip-load",
            Kind::Quantity(Dimension::Force),
            "across the free end of a clamped length",
        )
        .within(0.0, 1e9),
        STIFFNESS,
    ],
    outputs: &[
        Output::new("force", "N", "along the line of the clamps, or at the tip"),
        Output::new("rise", "mm", "of the middle over the line, or of the tip"),
        Output::new("draw-back", "mm", "of the tip along the cable"),
        Output::new("end-moment", "N m", "at the clamp"),
        Output::new("least-radius", "mm", "tightest bend, to the centre line"),
    ],
    example: &[("length", "600 mm"), ("end-distance", "540 mm"), ("stiffness", "0.13 N m2")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (length_mm, stiffness) = (inputs.number("length"), inputs.number("stiffness"));
    let length_m = length_mm / 1000.0;
    let force_unit_n = stiffness / (length_m * length_m);
    let moment_unit_nm = stiffness / length_m;
    if inputs.one_of(&["end-distance", "tip-load"])? == "end-distance" {
        let distance_mm = inputs.number("end-distance");
        if distance_mm >= length_mm {
            return Err(FigureError::about(
                "end-distance",
                "is not shorter than the cable, which then lies straight or does not reach",
            ));
        }
        let bow = elastica::clamped_bow(distance_mm / length_mm);
        return Ok(Outcome::new()
            .one("force", bow.force * force_unit_n)
            .one("rise", bow.rise * length_mm)
            .one("end-moment", bow.curvature_max * moment_unit_nm)
            .one("least-radius", length_mm / bow.curvature_max)
            .note("the weight of the cable is left out; the bow may swing around the line of its clamps"));
    }
    let load_n = inputs.number("tip-load");
    let alpha = load_n / force_unit_n;
    if alpha > elastica::ALPHA_MAX {
        return Err(FigureError::about(
            "tip-load",
            format!(
                "is too large for this law, which ends at {:.3} N for this cable",
                elastica::ALPHA_MAX * force_unit_n
            ),
        ));
    }
    let tip = elastica::tip_load(alpha);
    let outcome = Outcome::new()
        .one("force", load_n)
        .one("rise", tip.across * length_mm)
        .one("draw-back", tip.back * length_mm)
        .one("end-moment", tip.root_moment * moment_unit_nm)
        .note("the weight of the cable is left out");
    // A straight cable has no tightest bend.
    Ok(match tip.root_moment > 0.0 {
        true => outcome.one("least-radius", length_mm / tip.root_moment),
        false => outcome,
    })
}

#[cfg(test)]
mod tests {
    use crate::figures::run;

    #[test]
    fn a_cable_that_does_not_reach_is_said() {
        let given =
            [("length", "600 mm"), ("end-distance", "600 mm"), ("stiffness", "0.13 N m2")]
                .map(|(k, v)| (k.to_owned(), v.to_owned()));
        assert_eq!(run("elastic-span", &given).unwrap_err()[0].input, "end-distance");
    }

    #[test]
    fn no_load_leaves_it_straight() {
        let given = [("length", "600 mm"), ("tip-load", "0 N"), ("stiffness", "0.13 N m2")]
            .map(|(k, v)| (k.to_owned(), v.to_owned()));
        let answer = run("elastic-span", &given).unwrap();
        assert_eq!(answer.result("rise").unwrap().values, [0.0]);
        assert!(answer.result("least-radius").is_none());
    }
}
