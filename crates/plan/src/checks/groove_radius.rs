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
    use super::super::marked::{holds, verdicts};
    use super::super::view::FACED;
    use crate::finding::Verdict;

    #[test]
    fn wide_turns_hold() {
        holds("groove-radius", FACED);
    }

    #[test]
    fn the_turns_of_a_thick_ring_in_a_small_opening_fail() {
        // Bolts hug a narrow opening: there is room for the ring's width, not for its turns.
        let narrow = r#"
            [device.motor.port.phases.face.opening]
            points = ["-80 mm, -20 mm", "80 mm, -20 mm", "80 mm, 20 mm", "-80 mm, 20 mm"]
            radius = "1 mm"
            [device.motor.port.phases.face.outline]
            points = ["-89 mm, -29 mm", "89 mm, -29 mm", "89 mm, 29 mm", "-89 mm, 29 mm"]
            radius = "1 mm"
            [device.motor.port.phases.plate]
            o-ring = "370"
            "#;
        let patch = format!("{}{narrow}", FACED.replace("o-ring = absent\n", ""));
        let all = verdicts("groove-radius", &patch);
        let land = verdicts("groove-on-land", &patch);
        assert!(
            all.contains(&Verdict::Fails) || land.contains(&Verdict::Fails),
            "{all:?} {land:?}"
        );
    }
}
