//! Continuous current of one cable in free air.

use physics::heat::{self, Arrangement, Group, Surroundings};
use physics::units::Dimension;

use super::cable::{
    self, AIR_SPEED, ALTITUDE, AMBIENT, CLASS, CONDUCTOR_DIAMETER, CORRELATION,
    EMISSIVITY_INPUT, FREQUENCY, LIMIT, MATERIAL, OUTER_DIAMETER, RESISTANCE_20, RESISTIVITY,
    SIZE,
};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "free-air-rating",
    purpose: "continuous current of one cable alone in air",
    source: "heat balance of conduction, Churchill-Chu 1975 (or Morgan 1975) and radiation",
    inputs: &[
        SIZE,
        CLASS,
        OUTER_DIAMETER,
        AMBIENT,
        LIMIT,
        EMISSIVITY_INPUT,
        FREQUENCY,
        RESISTIVITY,
        ALTITUDE,
        AIR_SPEED,
        CORRELATION,
        MATERIAL,
        CONDUCTOR_DIAMETER,
        RESISTANCE_20,
        REFERENCE_LIMIT,
    ],
    outputs: &[
        Output::new("current", "A", "continuous current, rms"),
        Output::new("surface", "degC", "of the surface then"),
        Output::new("loss", "W/m", "loss then"),
        Output::new("ratio", "", "current over that at the reference limit, if one is given"),
    ],
    example: &[
        ("size", "70 mm2"),
        ("outer-diameter", "17 mm"),
        ("ambient", "30 degC"),
        ("limit", "90 degC"),
    ],
    compute,
};

/// A second limit to compare with.
const REFERENCE_LIMIT: Input = Input::optional(
    "reference-limit",
    Kind::Quantity(Dimension::Temperature),
    "another limit, whose current the ratio is taken over",
)
.within(-60.0, 400.0);

/// The surroundings the inputs describe.
pub(super) fn surroundings(inputs: &Inputs) -> Surroundings {
    Surroundings {
        air_c: inputs.number("ambient"),
        altitude_m: inputs.number("altitude") * 1e-3,
        air_speed_m_s: inputs.number("air-speed"),
        correlation: cable::correlation(inputs),
        fixed_k_m_per_w: inputs.number_if("outside-resistance"),
    }
}

/// No current flows from a limit that the air already passes.
pub(super) fn limit_below_air() -> FigureError {
    FigureError::about("limit", "is not above the ambient temperature: there is no rating")
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (cable, notes) = cable::cable(inputs)?;
    let group = Group {
        cables: vec![cable],
        arrangement: Arrangement::Single,
        frequency_hz: inputs.number("frequency"),
        harmonics: Vec::new(),
        surroundings: surroundings(inputs),
    };
    let found = heat::rating(&group, inputs.number("limit")).ok_or_else(limit_below_air)?;
    let outcome = match inputs.number_if("reference-limit") {
        None => Outcome::new(),
        Some(limit_c) => {
            let other = heat::rating(&group, limit_c).ok_or_else(|| {
                FigureError::about("reference-limit", "is not above the ambient temperature")
            })?;
            Outcome::new().one("ratio", found.current_a / other.current_a)
        }
    };
    Ok(outcome
        .one("current", found.current_a)
        .one("surface", found.steady.cables[0].surface_c)
        .one("loss", found.steady.cables[0].loss_w_per_m)
        .notes(notes)
        .note("a cable alone in free air: bundling, sun, a closed box or hot terminals take from it"))
}
