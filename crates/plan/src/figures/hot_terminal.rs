//! Temperature along a cable that ends at a hot or cold terminal.

use physics::laws::axial::{self, Fin};
use physics::laws::conductor::{Material, effective_area_mm2};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "hot-terminal",
    purpose: "temperature of a copper cable some way from a terminal that is hotter or colder",
    source: "fin with a source, R(T) = R20 (234.5 + T)/254.5",
    inputs: &[
        Input::optional(
            "area",
            Kind::Quantity(Dimension::Area),
            "effective area of the copper",
        )
        .within(1e-2, 1e5),
        Input::optional(
            "size",
            Kind::Size,
            "in place of the area, which then follows from the resistance",
        ),
        Input::required(
            "resistance-20",
            Kind::Quantity(Dimension::LineResistance),
            "resistance at 20 degC",
        )
        .within(1e-4, 1e4),
        Input::required(
            "conductance",
            Kind::Quantity(Dimension::Conductivity),
            "from conductor to air for each metre of cable",
        )
        .within(1e-6, 1e4),
        Input::required("ambient", Kind::Quantity(Dimension::Temperature), "air")
            .within(-60.0, 300.0),
        Input::required("current", Kind::Quantity(Dimension::Current), "rms").within(0.0, 1e6),
        Input::required("near", Kind::Quantity(Dimension::Temperature), "near terminal")
            .within(-60.0, 500.0),
        Input::optional("far", Kind::Quantity(Dimension::Temperature), "far terminal, if held")
            .within(-60.0, 500.0),
        Input::optional(
            "length",
            Kind::Quantity(Dimension::Length),
            "between the terminals; without it the far one is too far to matter",
        )
        .within(1.0, 1e8),
        Input::required(
            "distance",
            Kind::Quantity(Dimension::Length),
            "from the near terminal",
        )
        .within(0.0, 1e8),
        Input::with_default(
            "conductivity",
            Kind::Quantity(Dimension::Conductivity),
            "390 W/mK",
            "of the copper",
        )
        .within(1.0, 1000.0),
    ],
    outputs: &[
        Output::new("temperature", "degC", "of the conductor at the distance"),
        Output::new("far-field", "degC", "of the conductor far from any terminal"),
        Output::new("decay", "1/m", "how fast the terminal's influence dies out"),
        Output::new("heat-in", "W", "heat that enters the cable at the near terminal"),
    ],
    example: &[
        ("area", "63.39 mm2"),
        ("resistance-20", "0.272 ohm/km"),
        ("conductance", "0.7719 W/mK"),
        ("ambient", "30 degC"),
        ("current", "250 A"),
        ("near", "120 degC"),
        ("distance", "100 mm"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let resistance = inputs.number("resistance-20");
    let area_mm2 = match inputs.one_of(&["area", "size"])? {
        "area" => inputs.number("area"),
        _ => effective_area_mm2(resistance, Material::Copper),
    };
    let fin = Fin {
        area_mm2,
        conductivity_w_mk: inputs.number("conductivity"),
        conductance_w_mk: inputs.number("conductance"),
        resistance_20_ohm_per_m: resistance * 1e-3,
        alpha_per_k: 1.0 / 254.5,
        current_a: inputs.number("current"),
        air_c: inputs.number("ambient"),
    };
    let other = match (inputs.number_if("far"), inputs.number_if("length")) {
        (Some(far), Some(length_mm)) => Some((far, length_mm * 1e-3)),
        (None, None) => None,
        (Some(_), None) => {
            return Err(FigureError::about("length", "is missing: far is given"));
        }
        (None, Some(_)) => {
            return Err(FigureError::about("far", "is missing: length is given"));
        }
    };
    let distance_m = inputs.number("distance") * 1e-3;
    if other.is_some_and(|(_, length_m)| length_m < distance_m) {
        return Err(FigureError::about("distance", "is beyond the far terminal"));
    }
    let decay = axial::decay(&fin).ok_or_else(|| {
        FigureError::about(
            "current",
            "is so high that the loss grows faster with temperature than the cooling: there is no \
             steady state",
        )
    })?;
    let near_c = inputs.number("near");
    let temperature = match other {
        None => axial::semi_infinite_c(&decay, near_c, distance_m),
        Some((far_c, length_m)) => axial::finite_c(&decay, near_c, far_c, length_m, distance_m),
    };
    Ok(Outcome::new()
        .one("temperature", temperature)
        .one("far-field", decay.far_c)
        .one("decay", decay.decay_per_m)
        .one("heat-in", axial::heat_in_w(&fin, &decay, near_c, other)))
}
