//! The shrunk sleeve stays off the palm's contact face.
//!
//! A sleeve covers barrel and insulation; what it is too long lies on the tongue, or on one more diameter of the cable. Under the washer or on the pad it keeps
//! the palm from lying flat, and its adhesive creeps between the faces.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::design::ends::tool;
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "sleeve-off-palm",
    rule: "what the shrunk sleeve is longer than it must cover ends on the tongue before the contact face, or on one more diameter of cable",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(spare(check, &side));
    }
}

fn spare(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let (lug, fit) = (side.end.lug.as_ref()?, side.end.sleeve.as_ref()?);
    let tongue_mm = lug.length_mm - lug.barrel_depth_mm - lug.hole_to_tip_mm;
    let seat_mm = side.end.stack.as_ref().map_or(0.0, tool::seat_mm);
    // The palm touches as far about the hole as its round tip reaches.
    let room_mm = tongue_mm - lug.hole_to_tip_mm.max(seat_mm / 2.0);
    let spare_mm = fit.shrunk_mm - fit.cover_mm;
    let at = side.site.at_end(&side.site.given.given.sleeve_length_mm);
    let message = format!(
        "the shrunk sleeve is {} longer than it must cover at {}, the free tongue takes {}",
        side.mm(spare_mm.max(0.0)),
        side.port(),
        side.mm(room_mm)
    );
    let shared_mm = room_mm + side.site.insulation_mm()?[1];
    let verdict = if spare_mm <= room_mm {
        Verdict::Holds
    } else if spare_mm <= shared_mm {
        Verdict::Close
    } else {
        Verdict::Fails
    };
    Some(
        side.find(check, verdict, at, message)
            .judged(spare_mm, room_mm, Dimension::Length)
            .hint("push it back on the cable until its front lies at the barrel's end, or cut it shorter"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_computed_sleeve_stays_off() {
        holds("sleeve-off-palm", "");
    }

    #[test]
    fn a_long_sleeve_reaches_the_pad() {
        check(
            r#"
            [run.dc.from-end]
            sleeve-length = "85 mm"   #! fails sleeve-off-palm
            "#,
        );
    }
}
