//! Continuous current of cables that lie together in air.

use physics::heat::{self, Arrangement, Group};

use super::cable::{
    self, AIR_SPEED, ALTITUDE, AMBIENT, CLASS, CONDUCTOR_DIAMETER, CORRELATION,
    EMISSIVITY_INPUT, FREQUENCY, LIMIT, MATERIAL, OUTER_DIAMETER, RESISTANCE_20, RESISTIVITY,
    SIZE,
};
use super::free_air_rating::{limit_below_air, surroundings};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "bundle-rating",
    purpose: "continuous current of equal cables that lie together in air",
    source: "heat balance with view factors (crossed strings), girth of the group and the laminar \
             plume (Gebhart et al. 1970)",
    inputs: &[
        SIZE,
        CLASS,
        OUTER_DIAMETER,
        CONDUCTOR_DIAMETER,
        Input::required("cables", Kind::Count, "how many carry the current").within(1.0, 30.0),
        ARRANGEMENT,
        AMBIENT,
        LIMIT,
        EMISSIVITY_INPUT,
        FREQUENCY,
        RESISTIVITY,
        ALTITUDE,
        AIR_SPEED,
        CORRELATION,
        MATERIAL,
        RESISTANCE_20,
    ],
    outputs: &[
        Output::new("current", "A", "continuous current of each cable, rms"),
        Output::new(
            "of-spaced",
            "",
            "current over that of as many cables side by side, a diameter apart",
        ),
        Output::new("hottest", "degC", "the hottest conductor then"),
        Output::new("conductor-each", "degC", "every conductor then, in order"),
    ],
    example: &[
        ("size", "70 mm2"),
        ("outer-diameter", "17 mm"),
        ("cables", "3"),
        ("arrangement", "trefoil"),
        ("ambient", "30 degC"),
        ("limit", "90 degC"),
    ],
    compute,
};

pub(super) const ARRANGEMENT: Input = Input::required(
    "arrangement",
    Kind::Choice(&[
        "single",
        "pair-touching",
        "flat-touching",
        "flat-spaced",
        "vertical-spaced",
        "trefoil",
    ]),
    "how they lie; spaced means one diameter between",
);

/// The arrangement, and whether that many cables can lie so.
pub(super) fn arrangement(inputs: &Inputs, cables: usize) -> Result<Arrangement, FigureError> {
    let name = inputs.text("arrangement");
    let found =
        Arrangement::parse(name).expect("the choices are the names of the arrangements");
    let wrong = match found {
        Arrangement::PairTouching => cables != 2,
        Arrangement::Trefoil => !cables.is_multiple_of(3),
        Arrangement::FlatTouching | Arrangement::FlatSpaced | Arrangement::VerticalSpaced => {
            cables < 2
        }
        Arrangement::Single => false,
    };
    if wrong {
        return Err(FigureError::about("cables", format!("{cables} cannot lie {name}")));
    }
    Ok(found)
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (cable, notes) = cable::cable(inputs)?;
    let count = inputs.number("cables") as usize;
    let group = Group {
        cables: vec![cable; count],
        arrangement: arrangement(inputs, count)?,
        frequency_hz: inputs.number("frequency"),
        harmonics: Vec::new(),
        surroundings: surroundings(inputs),
    };
    let limit_c = inputs.number("limit");
    let found = heat::rating(&group, limit_c).ok_or_else(limit_below_air)?;
    let spaced = Group { arrangement: Arrangement::FlatSpaced, ..group };
    let of_spaced =
        heat::rating(&spaced, limit_c).map(|spaced| found.current_a / spaced.current_a);
    let outcome = Outcome::new().one("current", found.current_a);
    let outcome = match of_spaced {
        Some(ratio) if 1 < count => outcome.one("of-spaced", ratio),
        _ => outcome,
    };
    Ok(outcome
        .one("hottest", found.steady.hottest_c())
        .each(
            "conductor-each",
            found.steady.cables.iter().map(|cable| cable.conductor_c).collect(),
        )
        .notes(notes)
        .note("cables in free air: sun, a closed box or hot terminals take from it"))
}
