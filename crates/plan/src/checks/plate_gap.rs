//! Between its bolts the ring does not lift the plate so far that it loses its squeeze.
//!
//! The plate is solved by finite elements on its own outline. What lifts it counts against the ring's squeeze at the worst of the
//! tolerances, of which 10 % of the section must be left.
//!
//! Source: least squeeze of a static face seal 10 % (read); plate bending held against closed forms.

use physics::units::Dimension;

use super::view::plates;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-gap",
    rule: "the gap under the seal leaves the ring its least squeeze",
    source: "oring-guide-groove",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let Some(laid) = &fitted.plate.laid else { continue };
        let at = fitted.at(&fitted.given.thickness_mm);
        let name = fitted.name();
        let Some(stiff) = &laid.stiff else {
            if laid.seal.is_some() {
                let message = format!("gap under the seal of {name} could not be computed");
                let found = fitted.find(check, Verdict::Unknown, at, message);
                notes.find(
                    found.hint("the plate's holes or edge meet: cure the other findings first"),
                );
            }
            continue;
        };
        let message = format!(
            "the seal lifts the plate of {name} by {} between its bolts, it may be {}",
            fitted.mm(stiff.gap_mm),
            fitted.mm(stiff.gap_mm_max)
        );
        notes.find(
            fitted
                .find(check, Verdict::at_most(stiff.gap_mm, stiff.gap_mm_max), at, message)
                .judged(stiff.gap_mm, stiff.gap_mm_max, Dimension::Length)
                .hint("a thicker plate, a softer ring, or bolts closer together"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    #[test]
    fn a_thick_plate_stays_down() {
        holds("plate-gap", FACED);
    }

    #[test]
    fn a_soft_sheet_lifts_off() {
        let patch = format!(
            "{FACED}thickness = \"4 mm\"\nmaterial = \"polycarbonate\"\nbolt = \"M6x16\"\nhardness = 80\n"
        );
        let found = fails("plate-gap", "thickness", &patch);
        assert!(found.value.unwrap().value > found.limit.unwrap().value);
    }
}
