//! Clearance and creepage.

use physics::laws::spacing::{
    self, Insulation, MaterialGroup, Overvoltage, Pollution, Situation, SpacingError,
};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "spacing",
    purpose: "clearance through air and creepage along a surface between live parts",
    source: "IEC 60664-1:2020 tables F.1, F.2, F.5 and A.2",
    inputs: &[
        Input::required(
            "voltage",
            Kind::Quantity(Dimension::Voltage),
            "working voltage, DC or rms; for the clearance also the voltage to earth",
        )
        .within(1.0, 1.0e6),
        Input::required("pollution-degree", Kind::Choice(&["1", "2", "3"]), "pollution degree"),
        Input::required(
            "material-group",
            Kind::Choice(&["I", "II", "III", "IIIa", "IIIb"]),
            "material group by tracking index; III counts as IIIa",
        ),
        Input::required(
            "overvoltage-category",
            Kind::Choice(&["I", "II", "III", "IV"]),
            "overvoltage category",
        ),
        Input::with_default(
            "altitude",
            Kind::Quantity(Dimension::Length),
            "2000 m",
            "greatest height above the sea",
        )
        .within(-500.0e3, 100_000.0e3),
        Input::with_default(
            "insulation",
            Kind::Choice(&["basic", "reinforced"]),
            "basic",
            "what the insulation has to be",
        ),
    ],
    outputs: &[
        Output::new("clearance", "mm", "gap in air, inhomogeneous field"),
        Output::new("creepage", "mm", "way along the surface by the creepage table"),
        Output::new("surface-least", "mm", "way along the surface, never below the clearance"),
        Output::new("impulse", "kV", "impulse voltage the clearance is for"),
    ],
    example: &[
        ("voltage", "400 V"),
        ("pollution-degree", "3"),
        ("material-group", "II"),
        ("overvoltage-category", "II"),
        ("altitude", "3000 m"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let at = Situation {
        voltage_v: inputs.number("voltage"),
        pollution: match inputs.text("pollution-degree") {
            "1" => Pollution::One,
            "2" => Pollution::Two,
            _ => Pollution::Three,
        },
        group: match inputs.text("material-group") {
            "I" => MaterialGroup::I,
            "II" => MaterialGroup::Ii,
            "IIIb" => MaterialGroup::IiiB,
            _ => MaterialGroup::IiiA,
        },
        category: match inputs.text("overvoltage-category") {
            "I" => Overvoltage::I,
            "II" => Overvoltage::Ii,
            "III" => Overvoltage::Iii,
            _ => Overvoltage::Iv,
        },
        altitude_m: inputs.number("altitude") / 1000.0,
        insulation: match inputs.text("insulation") {
            "basic" => Insulation::Basic,
            _ => Insulation::Reinforced,
        },
    };
    let found = spacing::spacing(&at).map_err(|error| {
        let input = match error {
            SpacingError::VoltageTooHigh { .. } => "voltage",
            SpacingError::ImpulseTooHigh { .. } => "overvoltage-category",
            SpacingError::TooHigh => "altitude",
            SpacingError::GroupNotAllowed => "material-group",
        };
        FigureError::about(input, error.message())
    })?;
    Ok(Outcome::new()
        .one("clearance", found.clearance_mm)
        .one("creepage", found.creepage_table_mm)
        .one("surface-least", found.creepage_mm)
        .one("impulse", found.impulse_kv)
        .note_if(
            found.creepage_table_mm < found.clearance_mm,
            format!(
                "the creepage of the table is below the clearance, which then rules along the surface too: {:.2} mm",
                found.clearance_mm
            ),
        )
        .note_if(at.voltage_v < 40.0, "below 40 V the creepage of 40 V is taken"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_voltage_beyond_the_table_names_its_input() {
        let given: Vec<(String, String)> = FIGURE
            .example
            .iter()
            .map(|(k, v)| {
                ((*k).into(), if *k == "voltage" { "1500 V".into() } else { (*v).into() })
            })
            .collect();
        assert_eq!(crate::figures::run("spacing", &given).unwrap_err()[0].input, "voltage");
    }
}
