//! Heating of one cable by a constant current over time.

use physics::heat::{self, Arrangement, Group, State};
use physics::units::Dimension;

use super::cable::{
    self, AIR_SPEED, ALTITUDE, AMBIENT, CLASS, CONDUCTOR_DIAMETER, CORRELATION,
    EMISSIVITY_INPUT, FREQUENCY, MATERIAL, OUTER_DIAMETER, RESISTANCE_20, RESISTIVITY, SIZE,
};
use super::free_air_rating::surroundings;
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "heat-step",
    purpose: "conductor temperature of one cable in air some time after a current is switched on",
    source: "heat equation across the insulation; convection and radiation as in free-air-rating",
    inputs: &[
        SIZE,
        CLASS,
        OUTER_DIAMETER,
        AMBIENT,
        Input::required("current", Kind::Quantity(Dimension::Current), "rms").within(0.0, 1e5),
        Input::optional(
            "start",
            Kind::Quantity(Dimension::Temperature),
            "of the whole cable before; else the ambient",
        )
        .within(-60.0, 300.0),
        Input::optional(
            "duration",
            Kind::Quantity(Dimension::Time),
            "after which the temperature is asked; else the steady one",
        )
        .within(0.0, 1e7),
        Input::optional(
            "limit",
            Kind::Quantity(Dimension::Temperature),
            "the time to reach this is wanted",
        )
        .within(-20.0, 350.0),
        EMISSIVITY_INPUT,
        FREQUENCY,
        RESISTIVITY,
        Input::with_default(
            "insulation-heat",
            Kind::Number,
            "2.4",
            "heat capacity of the insulation in MJ/(m3 K)",
        )
        .within(0.0, 20.0),
        Input::optional(
            "outside-resistance",
            Kind::Quantity(Dimension::ThermalResistivity),
            "a known thermal resistance from surface to air, in place of convection and radiation",
        )
        .within(1e-4, 1e4),
        ALTITUDE,
        AIR_SPEED,
        CORRELATION,
        MATERIAL,
        CONDUCTOR_DIAMETER,
        RESISTANCE_20,
    ],
    outputs: &[
        Output::new("temperature", "degC", "of the conductor at the end of the duration"),
        Output::new("steady", "degC", "of the conductor in the end"),
        Output::new("time-to-limit", "s", "until the conductor reaches the limit"),
        Output::new("time-constant", "s", "until 63.2 % of the whole rise is done"),
    ],
    example: &[
        ("size", "70 mm2"),
        ("outer-diameter", "17 mm"),
        ("ambient", "30 degC"),
        ("current", "300 A"),
        ("duration", "300 s"),
        ("limit", "60 degC"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (mut cable, notes) = cable::cable(inputs)?;
    cable.current_a_rms = inputs.number("current");
    let group = Group {
        cables: vec![cable],
        arrangement: Arrangement::Single,
        frequency_hz: inputs.number("frequency"),
        harmonics: Vec::new(),
        surroundings: surroundings(inputs),
    };
    let start_c = inputs.number_if("start").unwrap_or(group.surroundings.air_c);
    let start = State::uniform(&group, start_c);
    let mut outcome = Outcome::new().notes(notes);
    let steady = heat::steady(&group).ok().map(|steady| steady.hottest_c());
    match steady {
        Some(steady_c) => outcome = settled(outcome, &group, &start, start_c, steady_c),
        None => {
            outcome = outcome
                .note(format!("there is no steady state below {} degC", heat::CEILING_C));
        }
    }
    if let Some(duration_s) = inputs.number_if("duration") {
        let course = heat::step(&group, &start, duration_s);
        match course.stopped_s {
            None => outcome = outcome.one("temperature", course.end.hottest_c()),
            Some(time_s) => {
                outcome = outcome
                    .note(format!("{} degC is passed after {time_s:.0} s", heat::CEILING_C));
            }
        }
    } else if let Some(steady_c) = steady {
        outcome = outcome.one("temperature", steady_c);
    }
    if let Some(limit_c) = inputs.number_if("limit") {
        match heat::time_to_limit_s(&group, &start, limit_c) {
            Some(time_s) => outcome = outcome.one("time-to-limit", time_s),
            None => outcome = outcome.note("the limit is never reached"),
        }
    }
    Ok(outcome)
}

/// The steady temperature and how long most of the way takes.
fn settled(
    outcome: Outcome,
    group: &Group,
    start: &State,
    start_c: f64,
    steady_c: f64,
) -> Outcome {
    let outcome = outcome.one("steady", steady_c);
    if steady_c <= start_c {
        return outcome.note("the cable cools: no time constant of heating");
    }
    let most = start_c + (steady_c - start_c) * (1.0 - libm::exp(-1.0));
    match heat::time_to_limit_s(group, start, most) {
        Some(time_s) => outcome.one("time-constant", time_s),
        None => outcome,
    }
}
