//! Metal is left around every grip's hole, and what is behind the plate clears the edge of the opening.
//!
//! 3 mm to the next grip, to bolt holes and to the groove; half a millimetre, and three standard deviations of the survey,
//! between thread or locknut and the housing.
//!
//! Source: common practice, no source.

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "grip-wall",
    rule: "3 mm of metal stand around every grip hole, and nothing behind it touches the housing",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let at = fitted.grips_at();
        notes.findings.extend(fitted.proven(check, Rule::GripWall, at));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    #[test]
    fn grips_apart_hold() {
        holds("grip-wall", FACED);
    }

    #[test]
    fn grips_set_against_each_other_fail_with_places_that_work() {
        let patch = format!(
            "{FACED}\n[device.motor.port.phases.plate]\ngrip-at = {{ U = \"-24 mm, 0 mm\", V = \"2 mm, 0 mm\" }}"
        );
        let found = fails("grip-wall", "grip-at", &patch);
        let hint = found.hint.unwrap();
        assert!(hint.contains("grip-at = {"), "{hint}");
    }
}
