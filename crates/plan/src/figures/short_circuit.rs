//! Heating of a conductor by a fault.

use physics::laws::adiabatic;
use physics::laws::conductor::Material;
use physics::units::Dimension;

use super::cable::{MATERIAL, material};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "short-circuit",
    purpose: "current, time or end temperature of a conductor that keeps all the heat of a fault",
    source: "IEC 60949 and IEC 60364-5-54",
    inputs: &[
        Input::optional("area", Kind::Quantity(Dimension::Area), "of the metal")
            .within(1e-3, 1e5),
        Input::optional(
            "size",
            Kind::Size,
            "conductor size in place of the area, its nominal area",
        ),
        MATERIAL,
        Input::required("from", Kind::Quantity(Dimension::Temperature), "before the fault")
            .within(-60.0, 500.0),
        Input::optional("to", Kind::Quantity(Dimension::Temperature), "after the fault")
            .within(-60.0, 1500.0),
        Input::optional("duration", Kind::Quantity(Dimension::Time), "of the fault")
            .within(1e-6, 1e4),
        Input::optional("current", Kind::Quantity(Dimension::Current), "of the fault, rms")
            .within(1e-3, 1e7),
    ],
    outputs: &[
        Output::new("k", "", "factor k of IEC 60364-5-54, A s^1/2/mm2"),
        Output::new("current", "A", "current that does it"),
        Output::new("to", "degC", "end temperature"),
        Output::new("duration", "s", "time that does it"),
        Output::new("i2t", "A2s", "energy let through that does it"),
    ],
    example: &[
        ("area", "70 mm2"),
        ("from", "90 degC"),
        ("to", "250 degC"),
        ("duration", "1 s"),
    ],
    compute,
};

struct Fault {
    material: Material,
    area_mm2: Option<f64>,
    from_c: f64,
    to_c: f64,
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let area_mm2 = if inputs.has("area") && inputs.has("size") {
        return Err(FigureError::about("size", "only one of area or size may be given"));
    } else {
        inputs.number_if("area").or(inputs.size_if("size").map(|size| size.area_mm2()))
    };
    let needs_area =
        || FigureError::about("area", "is missing: nothing but k follows without it");
    let (duration, current) = (inputs.number_if("duration"), inputs.number_if("current"));
    let material = material(inputs);
    let from_c = inputs.number("from");
    let to_c = match (inputs.number_if("to"), duration, current) {
        (Some(to_c), None, _) | (Some(to_c), _, None) => to_c,
        (None, Some(t), Some(i)) => {
            adiabatic::final_c(material, area_mm2.ok_or_else(needs_area)?, from_c, i * i * t)
        }
        (Some(_), Some(_), Some(_)) => {
            return Err(FigureError::about(
                "to",
                "only two of to, duration or current may be given",
            ));
        }
        (None, _, _) => {
            return Err(FigureError::about(
                "to",
                "two of to, duration or current must be given",
            ));
        }
    };
    if to_c < from_c {
        return Err(FigureError::about("to", "is below from: a fault heats"));
    }
    let fault = Fault { material, area_mm2, from_c, to_c };
    if fault.area_mm2.is_none() && (duration.is_some() || current.is_some()) {
        return Err(needs_area());
    }
    Ok(answer(&fault, duration, current))
}

fn answer(fault: &Fault, duration: Option<f64>, current: Option<f64>) -> Outcome {
    let Fault { material, area_mm2, from_c, to_c } = *fault;
    let mut outcome =
        Outcome::new().one("k", adiabatic::k_factor(material, from_c, to_c)).one("to", to_c);
    if let Some(area) = area_mm2 {
        let joule = adiabatic::joule_a2s(material, area, from_c, to_c);
        outcome = outcome.one("i2t", joule);
        let time = duration.or_else(|| current.map(|i| joule / (i * i)));
        if let Some(time) = time {
            outcome = outcome
                .one("duration", time)
                .one("current", current.unwrap_or_else(|| (joule / time).sqrt()))
                .note_if(
                    5.0 < time,
                    "longer than 5 s: the insulation takes up heat, so this is cautious",
                );
        }
    }
    let melts_c = match material {
        Material::Copper => 1083.0,
        Material::Aluminium => 660.0,
    };
    outcome.note_if(melts_c < to_c, format!("the metal melts at {melts_c} degC"))
}
