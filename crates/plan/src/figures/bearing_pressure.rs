//! Pressure under a head, washer or lug.

use physics::laws::bearing;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const LENGTH: Kind = Kind::Quantity(Dimension::Length);
const MATERIALS: &[&str] = &[
    "steel-s235",
    "steel-heat-treated",
    "cast-iron-gjl-250",
    "aluminium-6061-t6",
    "aluminium-99.5",
    "copper",
];

pub(crate) static FIGURE: Figure = Figure {
    name: "bearing-pressure",
    purpose: "pressure of a bolt's preload under its head or washer, and the washer a soft part needs",
    source: "force over ring area; limits of VDI 2230 and a contact textbook",
    inputs: &[
        Input::required("load", Kind::Quantity(Dimension::Force), "force in the bolt")
            .within(0.0, 1e7),
        Input::required("outer-diameter", LENGTH, "of the head, washer or palm")
            .within(0.5, 500.0),
        Input::required("hole", LENGTH, "in the part below").within(0.1, 500.0),
        Input::optional("material", Kind::Choice(MATERIALS), "of the part below"),
    ],
    outputs: &[
        Output::new("pressure", "MPa", "mean, on the ring"),
        Output::new("limit", "MPa", "of the material"),
        Output::new("needed-diameter", "mm", "outer diameter that brings it down to the limit"),
    ],
    example: &[
        ("load", "18.6 kN"),
        ("outer-diameter", "11.63 mm"),
        ("hole", "9 mm"),
        ("material", "aluminium-6061-t6"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (load, outer, hole) =
        (inputs.number("load"), inputs.number("outer-diameter"), inputs.number("hole"));
    if outer <= hole {
        return Err(FigureError::about(
            "hole",
            format!("{hole} mm leaves nothing to bear on under {outer} mm"),
        ));
    }
    let pressure = bearing::pressure_mpa(load, outer, hole);
    let outcome = Outcome::new().one("pressure", pressure);
    let Some(material) = inputs.text_if("material") else { return Ok(outcome) };
    let limit =
        bearing::limit_mpa(material).expect("the figure offers only materials the law holds");
    Ok(outcome
        .one("limit", limit)
        .one("needed-diameter", bearing::outer_needed_mm(load, hole, limit))
        .note_if(
            pressure > limit,
            "above the limit: the part below creeps and the preload fades",
        ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_material_is_offered() {
        let names: Vec<&str> = bearing::LIMITS_MPA.iter().map(|row| row.0).collect();
        assert_eq!(MATERIALS, names.as_slice());
    }
}
