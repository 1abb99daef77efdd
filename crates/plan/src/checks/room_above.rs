//! What stands up from the landing face stays clear of the cover or plate above it.
//!
//! A bent lug's cable leaves through the plate above: its sleeve must end before the grip's seal, or the grip neither
//! seals nor holds. Over a straight lug lies an earthed cover: the bolt, stud or barrel keeps the clearance to it.
//!
//! Source: IEC 60664-1 for the clearance (basic insulation); the rest common practice.

use physics::units::Dimension;

use super::terminal_clearance::clearance_mm;
use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};
use crate::given::build::Palm;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "room-above",
    rule: "a bent lug's sleeve ends below the plate its cable leaves by, and a straight lug keeps the clearance to its cover",
    source: "iec-60664-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(room(check, &side));
    }
}

fn room(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let (needed_mm, what) = match side.end.palm {
        Palm::Bent => (bent_mm(side)?, "sleeved lug"),
        Palm::Straight => (straight_mm(side)?, "lug with its clearance"),
    };
    let given = &side.site.port.port.room_above_mm;
    let at = side.site.at_port(given);
    let Some(room) = given else {
        let message = format!(
            "room above the terminals at {} is not known, the {what} needs {}",
            side.port(),
            side.mm(needed_mm)
        );
        let hint = "measure from the landing face up to the cover, or to the plate the cables come through, and state `room-above`";
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint).safety());
    };
    let message = format!(
        "room above the terminals at {} is {}, the {what} needs {}",
        side.port(),
        side.mm(room.value),
        side.mm(needed_mm)
    );
    Some(
        side.find(check, Verdict::at_least(room.value, needed_mm), at, message)
            .judged(room.value, needed_mm, Dimension::Length)
            .hint("take a shorter lug, use the palm straight, or a higher cover or a spacer under the plate"),
    )
}

/// A bent lug up to the end of its sleeve.
fn bent_mm(side: &Side<'_>) -> Option<f64> {
    let (bend, lug) = (side.end.bend.as_ref()?, side.end.lug.as_ref()?);
    let beyond_mm =
        side.end.sleeve.as_ref().map_or(0.0, |s| (s.cover_mm - lug.barrel_depth_mm).max(0.0));
    Some(bend.rise_mm + beyond_mm)
}

/// The highest of bolt, stud and barrel, and the clearance.
fn straight_mm(side: &Side<'_>) -> Option<f64> {
    let (stack, lug) = (side.end.stack.as_ref()?, side.end.lug.as_ref()?);
    let bolt = stack.bolt.as_ref().map(|b| stack.clamped_mm + b.head_height_mm);
    let nut = stack.nut.as_ref().map(|n| stack.length_mm.max(stack.clamped_mm + n.height_mm));
    let top_mm = bolt.or(nut)?.max(lug.barrel_outside_mm);
    Some(top_mm + clearance_mm(side.site.parts)?)
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};
    use super::super::view::seen::unknown;

    #[test]
    fn a_high_box_holds() {
        holds("room-above", "");
    }

    #[test]
    fn a_bent_lug_in_a_low_box_fails() {
        check(
            r#"
            [device.motor.port.phases]
            room-above = "40 mm"   #! fails room-above
            "#,
        );
    }

    #[test]
    fn a_stud_near_its_cover_fails() {
        // The stud stands 22 mm above its pad; 3 mm of clearance.
        check(
            r#"
            [device.battery.port.main]
            room-above = "24 mm"   #! fails room-above
            "#,
        );
    }

    #[test]
    fn an_unknown_cover_is_asked_for() {
        let patch = "[device.battery.port.main]\nroom-above = absent";
        assert!(unknown("room-above", "device.battery.port.main", patch).safety);
    }
}
