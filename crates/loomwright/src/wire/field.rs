//! The magnetic field at named points as JSON.

use plan::design::field::{FieldPoint, Levels, Part, Worst};
use schemars::JsonSchema;
use serde::Serialize;

/// A named point with what the runs do there.
#[derive(Serialize, JsonSchema)]
pub(crate) struct FieldPointWire {
    id: String,
    name: String,
    parts: Vec<FieldPartWire>,
    /// What is not known and would add something.
    lacks: Vec<FieldLackWire>,
    /// All runs together, against each set of levels.
    together: Vec<FieldSumWire>,
    /// Of what stands still, all runs together.
    standing_ut: f64,
    /// Over what implants are held to bear: 0.5 mT standing, 1999/519/EC alternating.
    implants: f64,
}

/// What one run adds by one kind of current.
#[derive(Serialize, JsonSchema)]
struct FieldPartWire {
    run: String,
    /// "phases", "phases at standstill", "direct current" or "ripple".
    kind: &'static str,
    /// From the point to the middle of the run's cables.
    distance_mm: f64,
    /// Between the axes of neighbouring cables.
    spacing_mm: f64,
    /// The moment that is worst against each set of levels.
    worst: Vec<FieldWorstWire>,
}

#[derive(Serialize, JsonSchema)]
struct FieldWorstWire {
    /// "ICNIRP 2010" or "1999/519/EC".
    levels: &'static str,
    /// "continuous", "peak", "climb after 12 s".
    when: String,
    current_a_rms: f64,
    /// Zero where the field stands.
    frequency_hz: f64,
    field_ut: f64,
    level_ut: f64,
    /// Field over level.
    share: f64,
}

#[derive(Serialize, JsonSchema)]
struct FieldLackWire {
    run: String,
    what: String,
    hint: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct FieldSumWire {
    /// "ICNIRP 2010" or "1999/519/EC".
    levels: &'static str,
    /// Fields that alternate, each part at its worst moment.
    alternating_ut: f64,
    /// Their shares of their levels, added.
    alternating: f64,
    /// What stands over its level.
    standing: f64,
}

pub(super) fn field(point: &FieldPoint) -> FieldPointWire {
    FieldPointWire {
        id: point.id.clone(),
        name: point.name.clone(),
        parts: point.parts.iter().map(part).collect(),
        lacks: point
            .lacks
            .iter()
            .map(|l| FieldLackWire { run: l.run.clone(), what: l.what.clone(), hint: l.hint })
            .collect(),
        together: Levels::ALL
            .into_iter()
            .map(|levels| FieldSumWire {
                levels: levels.word(),
                alternating_ut: point.alternating_ut(levels),
                alternating: point.alternating(levels),
                standing: point.standing(levels),
            })
            .collect(),
        standing_ut: point.standing_ut(),
        implants: point.implants(),
    }
}

fn part(part: &Part) -> FieldPartWire {
    let worst = |(levels, w): (Levels, &Worst)| FieldWorstWire {
        levels: levels.word(),
        when: w.when.clone(),
        current_a_rms: w.current_a_rms,
        frequency_hz: w.frequency_hz,
        field_ut: w.field_ut,
        level_ut: w.level_ut,
        share: w.share(),
    };
    FieldPartWire {
        run: part.run.clone(),
        kind: part.kind.word(),
        distance_mm: part.distance_mm,
        spacing_mm: part.spacing_mm,
        worst: Levels::ALL.into_iter().zip(&part.worst).map(worst).collect(),
    }
}
