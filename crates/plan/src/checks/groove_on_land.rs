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
