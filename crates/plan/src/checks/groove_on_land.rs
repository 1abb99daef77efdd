//! The groove of a laid-out plate runs on the land: clear of the opening, of bolt holes and of both edges.
//!
//! A ring that lies over an edge is not squeezed there, and leaks. 1.5 mm of metal are left on each side, and three standard
//! deviations of the survey.
//!
//! Source: common practice, no source.

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "groove-on-land",
    rule: "the groove lies wholly on the land, with metal on both sides",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let at = fitted.at(&fitted.given.oring);
        notes.findings.extend(fitted.proven(check, Rule::GrooveOnLand, at));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    #[test]
    fn a_groove_between_opening_and_bolts_holds() {
        holds("groove-on-land", FACED);
    }

    #[test]
    fn a_groove_over_a_bolt_hole_fails_with_what_fits() {
        // B7 a few millimetres from the opening leaves no way around.
        let patch = format!(
            "{}\n[device.motor.port.phases.plate]\no-ring = \"367\"",
            FACED
                .replace("\"-100 mm\", \"60 mm\"", "\"-84 mm\", \"50 mm\"")
                .replace("o-ring = absent\n", "")
        );
        let found = fails("groove-on-land", "o-ring", &patch);
        assert!(found.value.unwrap().value < found.limit.unwrap().value);
        assert!(found.hint.is_some(), "{found:?}");
    }
}
