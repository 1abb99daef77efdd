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
