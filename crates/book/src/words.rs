//! Numbers of a plan as the book writes them.

use physics::units::{Dimension, System, show, show_both};
use plan::Plan;
use plan::design::ends::{Side, TorqueChoice};
use plan::finding::{About, Place, Quantity, Verdict};
use plan::given::shelf::Standing;
use plan::work::kit::{Item, Kind};

use crate::model::{Cell, Day, Tone};

/// A plan, and how its numbers are written.
#[derive(Clone, Copy)]
pub(crate) struct Words<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) units: System,
}

impl<'a> Words<'a> {
    pub(crate) fn new(plan: &'a Plan) -> Words<'a> {
        Words { plan, units: plan.heading.units }
    }

    /// In both systems, the build's first.
    pub(crate) fn both(&self, value: f64, dimension: Dimension) -> String {
        show_both(value, dimension, self.units)
    }

    /// The size of a spanner or key: a name more than a length, so it stays in millimetres.
    pub(crate) fn flats(&self, mm: f64) -> String {
        if (mm - mm.round()).abs() < 0.05 {
            format!("{mm:.0} mm")
        } else {
            format!("{mm:.1} mm")
        }
    }

    /// In the build's system only.
    pub(crate) fn one(&self, value: f64, dimension: Dimension) -> String {
        show(value, dimension, self.units)
    }

    /// In both systems, or plainly not known.
    pub(crate) fn maybe(&self, value: Option<f64>, dimension: Dimension) -> Cell {
        value.map_or_else(Cell::unknown, |v| self.both(v, dimension).into())
    }

    pub(crate) fn length(&self, mm: f64) -> String {
        self.both(mm, Dimension::Length)
    }

    pub(crate) fn torque(&self, nm: f64) -> String {
        self.both(nm, Dimension::Torque)
    }

    /// The torque with the reason for it.
    pub(crate) fn chosen(&self, torque: Option<&TorqueChoice>) -> Cell {
        match torque {
            Some(t) => Cell::new(self.torque(t.torque_nm), Tone::Strong)
                .under(governed(&t.governed_by)),
            None => Cell::unknown(),
        }
    }

    pub(crate) fn quantity(&self, quantity: Option<&Quantity>) -> String {
        quantity.map(|q| q.text(self.units)).unwrap_or_default()
    }

    /// An amount in the build's currency.
    pub(crate) fn money(&self, amount: f64) -> String {
        let currency = self.plan.heading.currency.as_deref().unwrap_or_default();
        format!("{amount:.2} {currency}").trim_end().to_owned()
    }

    /// "Rear motor, phases" for "motor.phases".
    pub(crate) fn port(&self, name: &str) -> String {
        let Some((device, port)) = name.split_once('.') else { return name.to_owned() };
        let found = self.plan.devices.iter().find(|d| d.id == device);
        format!("{}, {port}", found.map_or(device, |d| d.name.as_str()))
    }

    /// Where something is used: a port by its device's name, anything else as it is.
    pub(crate) fn place(&self, name: &str) -> String {
        let is_port = self.plan.devices.iter().any(|d| d.ports.iter().any(|(p, _)| p == name));
        if is_port { self.port(name) } else { name.to_owned() }
    }

    /// The name of a kit part by its key.
    pub(crate) fn part(&self, key: &str) -> String {
        let found = self.plan.kit.items.iter().find(|i| i.part == key);
        found.map_or(key, |i| i.name.as_str()).to_owned()
    }

    /// The number of a step by its id.
    pub(crate) fn step(&self, id: &str) -> Option<usize> {
        self.plan.steps.iter().position(|s| s.id == id).map(|i| i + 1)
    }
}

/// What something is about, for a heading: "run phases, U at motor.phases".
pub(crate) fn about(about: &About) -> String {
    let mut words = Vec::new();
    if let Some(run) = &about.run {
        words.push(format!("run {run}"));
    }
    if let Some(cable) = &about.cable {
        words.push(format!("cable {cable}"));
    }
    if let Some(port) = &about.port {
        words.push(format!("at {port}"));
    }
    words.join(", ")
}

/// Line and column in the document, or nothing where there is none.
pub(crate) fn place(at: Place) -> String {
    if at.line == 0 { String::new() } else { format!("{}:{}", at.line, at.column) }
}

/// Why the torque is this one.
pub(crate) fn governed(by: &str) -> String {
    if by.starts_with("stated") { by.to_owned() } else { format!("set by {by}") }
}

/// A side of a run.
pub(crate) fn side(side: Side) -> &'static str {
    match side {
        Side::From => "from-end",
        Side::To => "to-end",
    }
}

pub(crate) fn tone(verdict: Verdict) -> Tone {
    match verdict {
        Verdict::Fails => Tone::Fails,
        Verdict::Unknown => Tone::Unknown,
        Verdict::Close => Tone::Close,
        Verdict::Holds => Tone::Holds,
    }
}

/// How far a value may be trusted, for the reader.
pub(crate) fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Read => "read in the source",
        Standing::Computed => "computed from the source's formula",
        Standing::Memory => "from memory, check before use",
        Standing::Typical => "typical, the part's own sheet decides",
        Standing::CommonPractice => "common practice, no source",
        Standing::Shop => "stated by the shop",
    }
}

/// Whether a reader must be told that a bought part's values are not read in its source. What the shop makes and
/// prints itself has no sheet to compare with.
pub(crate) fn doubtful(item: &Item) -> bool {
    if matches!(item.kind, Kind::Plate | Kind::Block | Kind::Label) {
        return false;
    }
    match item.standing {
        Standing::Memory | Standing::Typical | Standing::CommonPractice => true,
        Standing::Read | Standing::Computed | Standing::Shop => false,
    }
}

/// One letter or a few: "1 bolt", "3 bolts".
pub(crate) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// A message as a sentence of its own.
pub(crate) fn sentence(message: &str) -> String {
    let message = message.trim_end_matches('.');
    let mut letters = message.chars();
    match letters.next() {
        Some(first) if first.is_ascii_lowercase() => {
            format!("{}{}.", first.to_uppercase(), letters.as_str())
        }
        Some(_) => format!("{message}."),
        None => String::new(),
    }
}

/// "2026-11-25" as a day of the calendar; anything else is only printed.
pub(crate) fn day(text: &str) -> Option<Day> {
    let mut parts = text.trim().split('-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    if parts.next().is_some() || year.len() != 4 {
        return None;
    }
    let (year, month, day): (i32, u8, u8) =
        (year.parse().ok()?, month.parse().ok()?, day.parse().ok()?);
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let last = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => return None,
    };
    (1..=last).contains(&day).then_some(Day { year, month, day })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_days_of_the_calendar_are_dates() {
        assert_eq!(day("2026-11-25"), Some(Day { year: 2026, month: 11, day: 25 }));
        assert!(day("2028-02-29").is_some());
        for text in ["2026-02-29", "2026-13-01", "2026-11-31", "autumn 2026", "2026-11", ""] {
            assert_eq!(day(text), None, "{text}");
        }
    }
}
