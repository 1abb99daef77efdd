//! The ring lies in its groove stretched a little, not much, and not loose.
//!
//! Water presses from outside, so the ring must sit on the inner wall. Stretched too far it thins, cracks and ages.
//!
//! Source: O-ring design guide: up to 5 % (read); a ring up to 1 % loose still takes the groove's shape (common practice).

use physics::laws::oring::STRETCH_MAX;
use physics::units::Dimension;

use super::view::{percent, plates};
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "seal-stretch",
    rule: "the ring is stretched by 0 to 5 % in its groove",
    source: "oring-guide-groove",
    judge,
};

/// How loose a ring may be.
const LOOSE: f64 = -0.01;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let Some(seal) = &fitted.plate.seal else { continue };
        let given = &fitted.given.groove_inside_mm;
        let at = fitted.at(given);
        if given.is_none() && fitted.plate.laid.is_none() {
            let message = format!("length of the groove at {} is not known", fitted.name());
            notes.find(fitted.find(check, Verdict::Unknown, at, message).hint(
                "state `groove-inside`, the inner diameter, or that of a circle of the same length: it settles the ring's stretch",
            ));
            continue;
        }
        let stretch = seal.stretch;
        let (verdict, limit) = if stretch < LOOSE {
            (Verdict::Fails, LOOSE)
        } else if stretch < 0.0 {
            (Verdict::Close, LOOSE)
        } else {
            (Verdict::at_most(stretch, STRETCH_MAX), STRETCH_MAX)
        };
        let message = format!(
            "O-ring {} at {} is stretched by {}",
            seal.oring.row.id,
            fitted.name(),
            percent(stretch)
        );
        let hint = if stretch < 0.0 {
            "take the next shorter ring"
        } else {
            "take the next longer ring"
        };
        notes.find(
            fitted
                .find(check, verdict, at, message)
                .judged(stretch, limit, Dimension::Ratio)
                .hint(hint),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::{fails, finds, unknown};
    use crate::finding::Verdict;

    #[test]
    fn a_little_stretch_holds() {
        holds("seal-stretch", "");
    }

    #[test]
    fn much_stretch_and_much_slack_fail() {
        for inside in ["165 mm", "148 mm"] {
            let patch =
                format!("[device.inverter.port.dc.plate]\ngroove-inside = \"{inside}\"");
            fails("seal-stretch", "groove-inside", &patch);
        }
    }

    #[test]
    fn a_little_slack_is_close() {
        let patch = "[device.inverter.port.dc.plate]\ngroove-inside = \"151 mm\"";
        finds(Verdict::Close, "seal-stretch", "groove-inside", patch);
    }

    #[test]
    fn an_unknown_length_is_asked_for() {
        let patch = "[device.inverter.port.dc.plate]\ngroove-inside = absent";
        unknown("seal-stretch", "device.inverter.port.dc.plate", patch);
    }
}
