//! The ring stays squeezed in the cold and has room in the heat.
//!
//! Rubber shrinks and grows ten times as much as metal. From -40 to 100 degC the squeeze may not fall under 10 %, nor the groove be
//! full, with every tolerance against it.
//!
//! Source: least squeeze 10 % (read); expansion of the compounds and temperatures from memory and common practice.

use physics::laws::oring::SQUEEZE_LIMITS;
use physics::laws::oring_heat::BETWEEN_C;
use physics::units::{Dimension, show_both};

use super::view::{percent, plates};
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "seal-temperature",
    rule: "the ring keeps 10 % of squeeze at -40 degC and does not fill its groove at 100 degC",
    source: "oring-guide-groove",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let Some(seal) = &fitted.plate.seal else { continue };
        let Some(swing) = &seal.swing else { continue };
        let cold = Verdict::at_least(swing.squeeze_cold, SQUEEZE_LIMITS.0);
        let hot = Verdict::kept(swing.fill_hot <= 1.0);
        let (value, limit) = if cold <= hot {
            (swing.squeeze_cold, SQUEEZE_LIMITS.0)
        } else {
            (swing.fill_hot, 1.0)
        };
        let show = |c: f64| show_both(c, Dimension::Temperature, fitted.parts.units);
        let message = format!(
            "O-ring {} at {} is squeezed by {} at {}, and fills {} of its groove at {}",
            seal.oring.row.id,
            fitted.name(),
            percent(swing.squeeze_cold),
            show(BETWEEN_C.0),
            percent(swing.fill_hot),
            show(BETWEEN_C.1)
        );
        let at = fitted.at(&fitted.given.groove_depth_mm);
        notes.find(
            fitted
                .find(check, cold.min(hot), at, message)
                .judged(value, limit, Dimension::Ratio)
                .hint("another depth or width of the groove"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::fails;

    #[test]
    fn a_usual_groove_holds() {
        holds("seal-temperature", "");
    }

    #[test]
    fn a_groove_full_when_hot_fails() {
        let patch = "[device.inverter.port.dc.plate]\ngroove-width = \"3.95 mm\"";
        fails("seal-temperature", "groove-depth", patch);
    }
}
