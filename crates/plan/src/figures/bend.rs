//! Least bend radius of a cable.

use physics::laws::bend;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const RULES: &[&str] = &[
    "vde-fixed",
    "vde-free",
    "vde-inlet",
    "vde-trailing",
    "vde-festoon",
    "vde-drag-chain",
    "vde-sheave",
    "vde-power-fixed",
    "vde-power-form-once",
    "unarmoured-installing",
    "unarmoured-in-place",
    "tape-screened-installing",
    "tape-screened-in-place",
    "flexible-flexing",
    "flexible-in-place",
    "vehicle-unscreened-fixed",
    "vehicle-screened-fixed",
    "vehicle-screened-moving",
];

pub(crate) static FIGURE: Figure = Figure {
    name: "bend",
    purpose: "least bend radius of a cable by a published rule",
    source: "DIN VDE 0298-3 and a low-voltage cable table; vehicle rules from makers' custom",
    inputs: &[
        Input::required("outer-diameter", Kind::Quantity(Dimension::Length), "over the sheath")
            .within(0.5, 200.0),
        Input::required("rule", Kind::Choice(RULES), "which rule and condition"),
    ],
    outputs: &[
        Output::new("least-radius", "mm", "to the inside of the bend"),
        Output::new("multiple", "", "radius over outer diameter"),
    ],
    example: &[("outer-diameter", "16 mm"), ("rule", "vde-fixed")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let outer = inputs.number("outer-diameter");
    let rule =
        bend::find(inputs.text("rule")).expect("the figure offers only rules the law holds");
    Ok(Outcome::new()
        .one("least-radius", rule.bend_radius_mm_min(outer))
        .one("multiple", rule.multiple(outer))
        .note(format!("{}: {}", rule.condition, rule.source))
        .note("the cable maker's own figure rules where there is one"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_is_offered() {
        let names: Vec<&str> = bend::RULES.iter().map(|rule| rule.name).collect();
        assert_eq!(RULES, names.as_slice());
    }
}
