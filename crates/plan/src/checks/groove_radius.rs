//! The groove turns no tighter than the ring follows.
//!
//! A ring laid around a tighter turn lifts off the groove's floor, and its section flattens.
//!
//! Source: three sections at the inner wall, as seal makers' guides have it (memory).

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "groove-radius",
    rule: "the inner wall of the groove turns with at least three sections of the ring",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let at = fitted.at(&fitted.given.oring);
        notes.findings.extend(fitted.proven(check, Rule::GrooveRadius, at));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    #[test]
    fn wide_turns_hold() {
        holds("groove-radius", FACED);
    }

    #[test]
    fn a_ring_cannot_follow_a_notch_around_a_bolt() {
        // B6 stands in a notch of the opening: a belt would run over it, and beside it the turns are too tight.
        let notched = r#"
            [device.motor.port.phases.face.opening]
            points = ["-80 mm, -32 mm", "92 mm, -32 mm", "92 mm, 42 mm", "32 mm, 42 mm", "32 mm, 2 mm", "-12 mm, 2 mm", "-12 mm, 42 mm", "-76 mm, 42 mm"]
            radius = "9 mm"
            "#;
        let patch = format!(
            "{}{notched}",
            FACED.replace("\"14 mm\", \"60 mm\"", "\"10 mm\", \"24 mm\"")
        );
        let found = fails("groove-radius", "port.phases.plate", &patch);
        assert!(found.value.unwrap().value < found.limit.unwrap().value);
        assert!(found.hint.unwrap().contains("section"));
    }
}
