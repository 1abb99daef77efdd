//! Alternating-current resistance: skin and proximity effect.

use physics::laws::conductor::Conductor;
use physics::laws::proximity::{self, Wire};
use physics::laws::{iec60287, skin};
use physics::units::Dimension;

use super::cable::{self, CLASS, CONDUCTOR_DIAMETER, MATERIAL, RESISTANCE_20, SIZE};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "ac-resistance",
    purpose: "resistance of one, two or three cables to alternating current",
    source: "exact: Bessel functions and cylindrical harmonics; iec-60287: IEC 60287-1-1",
    inputs: &[
        SIZE,
        CLASS,
        Input::required("frequency", Kind::Quantity(Dimension::Frequency), "of the current")
            .within(0.0, 1e6),
        Input::required(
            "temperature",
            Kind::Quantity(Dimension::Temperature),
            "of the conductor",
        )
        .within(-60.0, 300.0),
        Input::optional("cables", Kind::Count, "how many lie together: 1, 2 or 3")
            .within(1.0, 3.0),
        Input::optional(
            "arrangement",
            Kind::Choice(&["trefoil", "flat", "pair"]),
            "how they lie; without it two are a pair and three a trefoil",
        ),
        Input::optional(
            "spacing",
            Kind::Quantity(Dimension::Length),
            "from axis to axis, in flat arrangement between neighbours",
        )
        .within(0.1, 1e5),
        Input::with_default(
            "method",
            Kind::Choice(&["exact", "iec-60287"]),
            "exact",
            "how it is worked out",
        ),
        MATERIAL,
        CONDUCTOR_DIAMETER,
        RESISTANCE_20,
    ],
    outputs: &[
        Output::new("skin", "", "ratio to direct current of one cable alone"),
        Output::new("ratio", "", "ratio to direct current of the cable that loses most"),
        Output::new("ratio-each", "", "ratio of each cable, in order"),
        Output::new("resistance", "ohm/km", "resistance of the cable that loses most"),
    ],
    example: &[
        ("size", "70 mm2"),
        ("class", "solid"),
        ("frequency", "800 Hz"),
        ("temperature", "20 degC"),
        ("cables", "3"),
        ("arrangement", "flat"),
        ("spacing", "16 mm"),
    ],
    compute,
};

#[derive(Clone, Copy, PartialEq)]
enum Lie {
    Alone,
    Pair,
    Flat,
    Trefoil,
}

impl Lie {
    fn count(self) -> usize {
        match self {
            Lie::Alone => 1,
            Lie::Pair => 2,
            Lie::Flat | Lie::Trefoil => 3,
        }
    }

    fn points(self, s: f64) -> Vec<(f64, f64)> {
        match self {
            Lie::Alone => vec![(0.0, 0.0)],
            Lie::Pair => vec![(0.0, 0.0), (s, 0.0)],
            Lie::Flat => vec![(0.0, 0.0), (s, 0.0), (2.0 * s, 0.0)],
            Lie::Trefoil => vec![(0.0, 0.0), (s, 0.0), (s / 2.0, s * 0.75f64.sqrt())],
        }
    }
}

fn lie(inputs: &Inputs) -> Result<Lie, FigureError> {
    let count = inputs.number_if("cables");
    let lie = match (inputs.text_if("arrangement"), count) {
        (Some("pair"), _) => Lie::Pair,
        (Some("flat"), _) => Lie::Flat,
        (Some("trefoil"), _) => Lie::Trefoil,
        (_, Some(2.0)) => Lie::Pair,
        (_, Some(3.0)) => Lie::Trefoil,
        _ => Lie::Alone,
    };
    match count {
        Some(count) if count != lie.count() as f64 => Err(FigureError::about(
            "arrangement",
            format!("takes {} cables, not {count}", lie.count()),
        )),
        _ => Ok(lie),
    }
}

fn spacing(inputs: &Inputs, lie: Lie, c: &Conductor) -> Result<f64, FigureError> {
    if lie == Lie::Alone {
        return Ok(1e6);
    }
    let spacing = inputs.number_if("spacing").ok_or_else(|| {
        FigureError::about("spacing", format!("must be given for {} cables", lie.count()))
    })?;
    if spacing < c.diameter_mm {
        return Err(FigureError::about(
            "spacing",
            format!("{spacing} mm is less than the {:.2} mm of the conductor", c.diameter_mm),
        ));
    }
    Ok(spacing)
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (c, notes) = cable::conductor(inputs)?;
    let lie = lie(inputs)?;
    let spacing_mm = spacing(inputs, lie, &c)?;
    let frequency_hz = inputs.number("frequency");
    let direct_ohm_km = c.resistance_ohm_km(inputs.number("temperature"));
    let resistance_ohm_per_m = direct_ohm_km * 1e-3;
    let x = skin::argument(frequency_hz, resistance_ohm_per_m);
    let exact = inputs.text("method") == "exact";
    let (skin, each) = if exact {
        let wires: Vec<Wire> = lie
            .points(spacing_mm)
            .into_iter()
            .zip(proximity::usual_currents(&vec![1.0; lie.count()]))
            .map(|((x_mm, y_mm), current_a)| Wire {
                x_mm,
                y_mm,
                diameter_mm: c.diameter_mm,
                resistance_ohm_per_m,
                current_a,
            })
            .collect();
        (skin::ratio(x), proximity::ratios(&wires, frequency_hz))
    } else {
        let ratio = iec60287::ratio(
            frequency_hz,
            resistance_ohm_per_m,
            lie.count(),
            c.diameter_mm,
            spacing_mm,
        );
        (1.0 + iec60287::skin_factor(x), vec![ratio; lie.count()])
    };
    let ratio = each.iter().copied().fold(0.0, f64::max);
    let beyond = !exact && 1 < lie.count() && iec60287::PROXIMITY_ARGUMENT_MAX < x;
    Ok(Outcome::new()
        .one("skin", skin)
        .one("ratio", ratio)
        .each("ratio-each", each)
        .one("resistance", direct_ohm_km * ratio)
        .notes(notes)
        .note_if(
            beyond,
            "outside the stated range: proximity of IEC 60287-1-1 is for xp up to 2.8",
        ))
}
