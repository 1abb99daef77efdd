//! The grip's thread holds in the plate: four turns in a tapped plate, three for a locknut behind a clear one.
//!
//! A thread shorter than the plate and its locknut leaves the nut on two turns or none.
//!
//! Source: common practice, no source.

use physics::laws::thread::Thread;
use physics::units::Dimension;

use super::view::{Fitted, plates};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};
use crate::given::build::GripHole;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "grip-hold",
    rule: "a grip has four turns of thread in a tapped plate, or three behind a clear one for its locknut",
    source: "common-practice",
    judge,
};

const TURNS_TAPPED: f64 = 4.0;
const TURNS_LOCKNUT: f64 = 3.0;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        notes.findings.extend(hold(check, &fitted));
    }
}

fn hold(check: &Check, fitted: &Fitted<'_>) -> Option<Finding> {
    let shortest = fitted
        .plate
        .grips
        .iter()
        .map(|g| &g.grip)
        .min_by(|a, b| a.thread_length_mm.total_cmp(&b.thread_length_mm))?;
    let pitch_mm = Thread::parse(&shortest.thread).ok()?.pitch_mm;
    let given = fitted.given;
    let unknown = |at, what: &str, hint: &str| {
        let message = format!("{what} of {} is not known", fitted.name());
        Some(fitted.find(check, Verdict::Unknown, at, message).hint(hint))
    };
    let Some(hole) = &given.grip_hole else {
        let hint = "state `grip-hole`, \"tapped\" or \"clear\": it settles the holes and whether locknuts are packed";
        return unknown(given.at, "kind of grip hole in the plate", hint);
    };
    let Some(thickness_mm) = fitted.plate.thickness_mm else {
        let hint = "measure the plate and state `thickness`: it settles the thread in it";
        return unknown(given.at, "thickness of the plate", hint);
    };
    let length = shortest.thread_length_mm;
    let (holds_mm, needed_mm, what) = match hole.value {
        GripHole::Tapped => (length.min(thickness_mm), TURNS_TAPPED * pitch_mm, "in the plate"),
        GripHole::Clear => (
            length - thickness_mm,
            TURNS_LOCKNUT * pitch_mm,
            "left for its locknut behind the plate",
        ),
    };
    let message = format!(
        "grip {} has {} of thread {what} of {}",
        shortest.row.id,
        fitted.mm(holds_mm),
        fitted.name()
    );
    Some(
        fitted
            .find(check, Verdict::at_least(holds_mm, needed_mm), fitted.at(&given.thickness_mm), message)
            .judged(holds_mm, needed_mm, Dimension::Length)
            .hint("take a grip with a longer entry thread, tap the plate, or thin it where the grip sits"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_thick_tapped_plate_holds() {
        holds("grip-hold", "");
    }

    #[test]
    fn a_thick_clear_plate_leaves_no_thread_for_the_locknut() {
        check(
            r#"
            [device.inverter.port.dc.plate]
            grip-hole = "clear"
            thickness = "12 mm"   #! fails grip-hold
            "#,
        );
    }

    #[test]
    fn an_unknown_hole_is_asked_for() {
        check(
            r#"
            [device.inverter.port.dc.plate]   #! unknown grip-hold
            grip-hole = absent
            "#,
        );
    }
}
