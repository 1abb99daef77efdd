//! What a good lug joint measures.

use physics::laws::conductor::Material;
use physics::laws::contact;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "lug-joint",
    purpose: "resistance limit of a lug joint by the drop rule, and the floor that contact theory allows",
    source: "drop over a lug not above that of 2 in of its cable; Holm's single spot",
    inputs: &[
        Input::required(
            "resistance",
            Kind::Quantity(Dimension::LineResistance),
            "of the cable per length",
        )
        .within(1e-4, 1e4),
        Input::optional("current", Kind::Quantity(Dimension::Current), "through the joint")
            .within(0.0, 1e6),
        Input::optional("preload", Kind::Quantity(Dimension::Force), "force in the bolt")
            .within(1.0, 1e7),
    ],
    outputs: &[
        Output::new("limit", "uohm", "across lug and crimp, by the drop rule"),
        Output::new("drop", "mV", "at the current, by the drop rule"),
        Output::new("floor", "uohm", "one contact spot of soft copper at the preload"),
    ],
    example: &[("resistance", "0.26 ohm/km"), ("current", "300 A"), ("preload", "15 kN")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let limit_ohm = contact::drop_rule_ohm(inputs.number("resistance"));
    let mut outcome = Outcome::new().one("limit", 1e6 * limit_ohm);
    if let Some(current) = inputs.number_if("current") {
        outcome = outcome.one("drop", 1e3 * limit_ohm * current);
    }
    if let Some(preload) = inputs.number_if("preload") {
        let floor = contact::holm_ohm(
            Material::Copper.resistivity_20_ohm_m(),
            contact::COPPER_HARDNESS_MPA,
            preload,
        );
        outcome = outcome.one("floor", 1e6 * floor);
    }
    Ok(outcome
        .note("compare like joints: look into one that is 1.5 times the lowest of its kind"))
}
