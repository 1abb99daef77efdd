//! The palm fits the room on its pad.
//!
//! A palm that overhangs stands on an edge or on the block's wall, and touches with part of its face.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "palm-width",
    rule: "the palm is no wider than the room for it",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let Some(lug) = &side.end.lug else { continue };
        let given = &side.site.port.port.pad_width_mm;
        let at = side.site.at_port(given);
        let Some(room) = given else {
            let message = format!("room for a palm at {} is not known", side.port());
            notes.find(side.find(check, Verdict::Unknown, at, message).hint(
                "measure the pad or the slot across the cable and state `pad-width`: it settles which lugs fit",
            ));
            continue;
        };
        let palm = lug.palm_width_mm;
        let message = format!(
            "palm of {} on a pad of {} at {}",
            side.mm(palm),
            side.mm(room.value),
            side.port()
        );
        let at = if side.site.given.given.lug.is_some() {
            side.site.at_end(&side.site.given.given.lug)
        } else {
            at
        };
        notes.find(
            side.find(check, Verdict::kept(palm <= room.value), at, message)
                .judged(palm, room.value, Dimension::Length)
                .hint("take a lug with a narrower palm, never file a palm's width down to the bolt"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_palm_narrower_than_its_pad_holds() {
        holds("palm-width", "");
    }

    #[test]
    fn a_palm_wider_than_its_pad_fails() {
        check(
            r#"
            [device.battery.port.main]
            pad-width = "15 mm"
            [run.dc.from-end]
            lug = "2/0 M8"     #! fails palm-width
            washer = "plain"   #! fails washer-fits
            "#,
        );
    }

    #[test]
    fn an_unknown_pad_is_asked_for() {
        check(
            r#"
            [device.battery.port.main]   #! unknown palm-width
            pad-width = absent
            "#,
        );
    }
}
