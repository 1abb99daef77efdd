//! Bolts, heads and grips stand far enough from the plate's edge.
//!
//! A hole nearer than one and a half diameters tears out; a head or seat over the edge bears on nothing.
//!
//! Source: common practice, no source.

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-edge-distance",
    rule: "bolt centres lie 1.5 hole diameters from the edge, heads and seats wholly on the plate",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let at = fitted.at(&fitted.given.margin_mm);
        notes.findings.extend(fitted.proven(check, Rule::EdgeDistance, at));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    #[test]
    fn a_belt_around_its_bolts_holds() {
        holds("plate-edge-distance", FACED);
    }

    #[test]
    fn a_land_too_narrow_for_the_heads_fails() {
        // The land's edge runs 6 mm from B1: the plate follows it.
        let patch = FACED.replace("-118 mm, -58 mm", "-109 mm, -49 mm");
        let found =
            fails("plate-edge-distance", "margin", &format!("{patch}margin = \"3 mm\"\n"));
        assert!(found.hint.is_some());
    }
}
