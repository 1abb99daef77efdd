//! How long a cable bears an overload.

use physics::laws::adiabatic;
use physics::laws::conductor::Material;
use physics::laws::withstand::{Overload, to_temperature};
use physics::units::Dimension;

use super::cable::{MATERIAL, material};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const fn celsius(name: &'static str, what: &'static str) -> Input {
    Input::required(name, Kind::Quantity(Dimension::Temperature), what).within(-60.0, 400.0)
}

pub(crate) static FIGURE: Figure = Figure {
    name: "withstand",
    purpose: "current or time of an overload that takes a loaded cable to an emergency temperature",
    source: "IEEE 242, emergency overload of cables; time constant of the bare conductor by IEC 60949",
    inputs: &[
        Input::required(
            "rating",
            Kind::Quantity(Dimension::Current),
            "continuous, at the limit",
        )
        .within(1e-2, 1e5),
        celsius("air", "around the cable"),
        celsius("limit", "of the conductor, where the overload begins"),
        celsius("end", "of the conductor, where it ends"),
        MATERIAL,
        Input::optional("time-constant", Kind::Quantity(Dimension::Time), "of the cable")
            .within(1e-3, 1e6),
        Input::optional(
            "area",
            Kind::Quantity(Dimension::Area),
            "of the metal, in place of the time constant: the conductor alone takes up heat",
        )
        .within(1e-3, 1e5),
        Input::optional("time", Kind::Quantity(Dimension::Time), "of the overload")
            .within(1e-4, 1e7),
        Input::optional("current", Kind::Quantity(Dimension::Current), "of the overload")
            .within(1e-2, 1e7),
    ],
    outputs: &[
        Output::new("current", "A", "borne for the time"),
        Output::new("percent", "%", "of the rating"),
        Output::new("time", "s", "for which the current is borne"),
        Output::new("steady", "A", "borne for ever at the end temperature"),
        Output::new("time-constant", "s", "used"),
    ],
    example: &[
        ("rating", "100 A"),
        ("air", "40 degC"),
        ("limit", "90 degC"),
        ("end", "130 degC"),
        ("time-constant", "1800 s"),
        ("time", "10 s"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (air_c, limit_c, end_c) =
        (inputs.number("air"), inputs.number("limit"), inputs.number("end"));
    if !(air_c < limit_c && limit_c < end_c) {
        return Err(FigureError::about(
            "end",
            "the air is below the limit, and the limit below the end",
        ));
    }
    let material: Material = material(inputs);
    let rating_a = inputs.number("rating");
    let time_constant_s = match inputs.one_of(&["time-constant", "area"])? {
        "area" => {
            let ks = adiabatic::material_constant(material) * inputs.number("area") / rating_a;
            ks * ks * (limit_c - air_c) / (material.zero_resistance_c() + limit_c)
        }
        _ => inputs.number("time-constant"),
    };
    let (excess, resistance) = to_temperature(material, air_c, limit_c, end_c);
    let body = Overload { rating_a, excess, resistance, time_constant_s };
    let outcome =
        Outcome::new().one("steady", body.steady_a()).one("time-constant", time_constant_s);
    Ok(match inputs.one_of(&["time", "current"])? {
        "time" => {
            let current_a = body.current_a(inputs.number("time"));
            outcome.one("current", current_a).one("percent", 100.0 * current_a / rating_a)
        }
        _ => match body.time_s(inputs.number("current")) {
            s if s.is_finite() => outcome.one("time", s),
            _ => outcome.note("borne for ever"),
        },
    })
}
