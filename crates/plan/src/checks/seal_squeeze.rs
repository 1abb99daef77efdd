//! The ring is squeezed enough to seal and not so much that it takes a set, at the worst of all tolerances.
//!
//! Source: O-ring design guide: 10 % least, 35 % most for a static face seal (read).

use physics::laws::oring::SQUEEZE_LIMITS;
use physics::units::Dimension;

use super::view::{percent, plates};
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "seal-squeeze",
    rule: "the ring is squeezed by 10 to 35 % of its section at the worst of all tolerances",
    source: "oring-guide-groove",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let (low, _, high) = SQUEEZE_LIMITS;
    for fitted in plates(designed) {
        let Some(seal) = &fitted.plate.seal else { continue };
        let [least, nominal, most] = seal.squeeze;
        let verdict = Verdict::at_least(least, low).min(Verdict::at_most(most, high));
        let (value, limit) = if Verdict::at_least(least, low) <= Verdict::at_most(most, high) {
            (least, low)
        } else {
            (most, high)
        };
        let message = format!(
            "O-ring {} at {} is squeezed by {}, {} to {} within its tolerances",
            seal.oring.row.id,
            fitted.name(),
            percent(nominal),
            percent(least),
            percent(most)
        );
        let hint = if least < low {
            "cut the groove less deep, or take a thicker ring"
        } else {
            "cut the groove deeper, or take a thinner ring"
        };
        notes.find(
            fitted
                .find(check, verdict, fitted.at(&fitted.given.groove_depth_mm), message)
                .judged(value, limit, Dimension::Ratio)
                .hint(hint),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::fails;

    #[test]
    fn a_usual_groove_holds() {
        holds("seal-squeeze", "");
    }

    #[test]
    fn a_groove_too_deep_or_too_shallow_fails() {
        for depth in ["3.3 mm", "2.2 mm"] {
            let patch = format!("[device.inverter.port.dc.plate]\ngroove-depth = \"{depth}\"");
            fails("seal-squeeze", "groove-depth", &patch);
        }
    }
}
