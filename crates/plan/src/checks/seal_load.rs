//! The bolts press harder than the ring pushes back, twice over.
//!
//! The ring's load is taken at its most squeeze, the bolts' preload at the least a torque wrench leaves. The rest must hold the
//! plate against the pull of the cables.
//!
//! Source: Lindley 1967 and Gent 1958 for the ring (memory); the factor of two is common practice, no source.

use physics::laws::oring_load::SHORE_A;
use physics::units::{Dimension, show_both};

use super::view::{Fitted, plates};
use super::{Check, Designed};
use crate::design::joint::scatter_least;
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "seal-load",
    rule: "the least preload of the plate's bolts is twice the load of the squeezed ring",
    source: "lindley-1967",
    judge,
};

const FACTOR: f64 = 2.0;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        notes.findings.extend(load(check, &fitted));
    }
}

fn load(check: &Check, fitted: &Fitted<'_>) -> Option<Finding> {
    let (seal, bolts) = (fitted.plate.seal.as_ref()?, fitted.plate.bolts.as_ref()?);
    let torque = bolts.torque.as_ref()?;
    let hardness = &fitted.given.hardness_shore_a;
    let at = fitted.at(&fitted.given.bolt_count);
    if let Some(hard) = hardness.as_ref().filter(|h| !SHORE_A.contains(&h.value)) {
        let message = format!(
            "load of a ring of {} Shore A at {} is outside what can be computed",
            hard.value,
            fitted.name()
        );
        let hint = format!("take a ring of {} to {} Shore A", SHORE_A.start(), SHORE_A.end());
        return Some(fitted.find(check, Verdict::Unknown, hard.at, message).hint(hint));
    }
    let pressed = f64::from(bolts.count) * torque.preload_n * scatter_least();
    let needed = FACTOR * seal.load_n;
    let shown = |n: f64| show_both(n, Dimension::Force, fitted.parts.units);
    let message = format!(
        "bolts of the plate of {} press with {} at least, the ring pushes with {}",
        fitted.name(),
        shown(pressed),
        shown(seal.load_n)
    );
    Some(
        fitted
            .find(check, Verdict::at_least(pressed, needed), at, message)
            .judged(pressed, needed, Dimension::Force)
            .hint("more bolts, more torque, a softer ring or less squeeze"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::{fails, unknown};

    #[test]
    fn the_usual_bolts_hold_the_ring_down() {
        holds("seal-load", "");
    }

    #[test]
    fn one_weak_bolt_does_not() {
        let patch = "[device.inverter.port.dc.plate]\nbolt-count = 1\ntorque = \"1 N m\"";
        fails("seal-load", "bolt-count", patch);
    }

    #[test]
    fn a_ring_too_hard_to_compute_is_asked_about() {
        let patch = "[device.inverter.port.dc.plate]\nhardness = 90";
        unknown("seal-load", "hardness", patch);
    }
}
