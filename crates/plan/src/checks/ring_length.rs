//! The ring is as long as its groove.
//!
//! A ring lies on the groove's inner wall, stretched by up to 3 %. Where no ring of the standard has the length, one is cut from
//! cord and spliced: a splice is a likelier leak than a moulded ring, so that is close, not kept.
//!
//! Source: face groove table of a seal maker: ring inside times 1.00 to 1.03 (read).

use physics::units::Dimension;

use super::view::{percent, plates};
use super::{Check, Designed};
use crate::design::layout::{Rule, STRETCH_MOST};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "ring-length",
    rule: "the groove stretches its ring by 0 to 3 %",
    source: "oring-guide-groove",
    judge,
};

/// A stated length farther than this from the one laid out is said.
const APART: f64 = 0.005;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let Some(laid) = &fitted.plate.laid else { continue };
        let at = fitted.at(&fitted.given.oring);
        let Some(seal) = &laid.seal else {
            notes.findings.extend(fitted.proven(check, Rule::RingLength, at));
            continue;
        };
        let (name, ring) = (fitted.name(), &seal.oring);
        if let Some(stated) = &fitted.given.groove_inside_mm
            && (seal.inside_mm / stated.value - 1.0).abs() > APART
        {
            let message = format!(
                "the groove laid out on the face of {name} is as long as a round one of {}, `groove-inside` says {}",
                fitted.mm(seal.inside_mm),
                fitted.mm(stated.value)
            );
            let found = fitted.find(check, Verdict::Close, stated.at, message);
            notes.find(found.hint("the face decides: leave `groove-inside` out"));
        }
        if let Some(cord_mm) = seal.cord_mm {
            let message = format!(
                "no standard ring is as long as the groove of {name}, a cord of {} is cut to {}",
                fitted.mm(ring.section_mm),
                fitted.mm(cord_mm)
            );
            let found = fitted.find(check, Verdict::Close, at, message);
            notes.find(found.hint("cut it square and splice it with the maker's adhesive"));
            continue;
        }
        let stretch = seal.inside_mm / ring.inside_mm - 1.0;
        let message = format!(
            "O-ring {} is stretched by {} along {} of groove at {name}",
            ring.row.id,
            percent(stretch),
            fitted.mm(seal.length_mm)
        );
        let kept = (0.0..=STRETCH_MOST).contains(&stretch);
        notes.find(fitted.find(check, Verdict::kept(kept), at, message).judged(
            stretch,
            STRETCH_MOST,
            Dimension::Ratio,
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::{fails, finds};
    use crate::finding::Verdict;

    #[test]
    fn a_chosen_ring_holds() {
        holds("ring-length", FACED);
    }

    #[test]
    fn another_length_than_stated_is_said() {
        let patch = FACED.replace("groove-inside = absent", "groove-inside = \"198 mm\"");
        let found = finds(Verdict::Close, "ring-length", "groove-inside", &patch);
        assert!(found.hint.unwrap().contains("leave `groove-inside` out"));
    }

    #[test]
    fn a_ring_far_too_short_fails() {
        let patch = FACED.replace("o-ring = absent", "o-ring = \"240\"");
        let found = fails("ring-length", "o-ring", &patch);
        assert!(found.hint.unwrap().contains("leave `o-ring` out"));
    }
}
