//! The plate is thick enough for its threads, its groove and its sunk heads.
//!
//! Five turns of a grip's thread hold it in a tapped plate, and behind a clear one leave room for its locknut; under the groove
//! as much metal is left as it is deep.
//!
//! Source: common practice, no source.

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-thickness",
    rule: "five turns of every grip thread bear, and as much metal is left under the groove as it is deep",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let at = fitted.at(&fitted.given.thickness_mm);
        notes.findings.extend(fitted.proven(check, Rule::Thickness, at));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    #[test]
    fn a_thick_plate_holds() {
        holds("plate-thickness", FACED);
    }

    #[test]
    fn a_sheet_fails_and_is_told_its_thickness() {
        let patch = format!("{FACED}thickness = \"5 mm\"\nbolt = \"M6x16\"\n");
        let found = fails("plate-thickness", "thickness", &patch);
        assert!(found.hint.unwrap().contains("8.0"));
    }
}
