//! Insulation resistance from two voltage readings.

use physics::laws::isolation;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "isolation-reading",
    purpose: "insulation resistance of a bus from two voltmeter readings and a known resistor",
    source: "UN R100 annex 4A, Ri = Ro Vb (1/V2' - 1/V2)",
    inputs: &[
        volts("voltage", "voltage of the bus"),
        volts("reading", "greater of the two pole-to-chassis voltages"),
        volts("reading-loaded", "the same with the known resistor across it"),
        Input::required(
            "resistor",
            Kind::Quantity(Dimension::Resistance),
            "the known resistor",
        )
        .within(1.0, 1.0e9),
    ],
    outputs: &[Output::new("resistance", "ohm", "insulation resistance")],
    example: &[
        ("voltage", "400 V"),
        ("reading", "250 V"),
        ("reading-loaded", "150 V"),
        ("resistor", "200 kohm"),
    ],
    compute,
};

const fn volts(name: &'static str, what: &'static str) -> Input {
    Input::required(name, Kind::Quantity(Dimension::Voltage), what).within(0.01, 2500.0)
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (reading, loaded) = (inputs.number("reading"), inputs.number("reading-loaded"));
    if reading < loaded {
        return Err(FigureError::about(
            "reading-loaded",
            "is above the reading without the resistor, which cannot be: check which pole was loaded",
        ));
    }
    let resistor = inputs.number("resistor");
    let ohm =
        isolation::measured_resistance_ohm(inputs.number("voltage"), reading, loaded, resistor);
    Ok(Outcome::new().one("resistance", ohm).note_if(
        reading - loaded < 0.02 * reading,
        "the readings hardly differ: take a smaller resistor for a surer figure",
    ))
}

#[cfg(test)]
mod tests {
    #[test]
    fn readings_the_wrong_way_round_are_refused() {
        let given = [
            ("voltage", "400 V"),
            ("reading", "100 V"),
            ("reading-loaded", "150 V"),
            ("resistor", "200 kohm"),
        ]
        .map(|(k, v)| (k.to_owned(), v.to_owned()));
        let errors = crate::figures::run("isolation-reading", &given).unwrap_err();
        assert_eq!(errors[0].input, "reading-loaded");
    }
}
