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
