//! The grip's entry thread is the one the plate is cut for.
//!
//! Source: common practice, no source; entry threads of IEC/EN 60423.

use super::view::sides;
use super::{Check, Designed};
use crate::design::joint::same_thread;
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "grip-thread",
    rule: "the grip's entry thread is the one the plate is cut for",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let (Some(grip), Some(plate)) = (&side.end.grip, &side.site.port.plate) else {
            continue;
        };
        let cut = &plate.given.grip_thread;
        let matches = cut.as_ref().is_none_or(|t| same_thread(&t.value, &grip.thread));
        let cut_for = cut.as_ref().map_or(&grip.thread, |t| &t.value);
        let at = match &side.site.given.given.grip {
            Some(grip) => grip.at,
            None => cut.as_ref().map_or(plate.given.at, |t| t.at),
        };
        let message = format!(
            "grip with {} in a plate cut for {cut_for} at {}",
            grip.thread,
            side.port()
        );
        notes.find(
            side.find(check, Verdict::kept(matches), at, message)
                .hint("cut the plate for the grip, or take a grip of the plate's thread"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_plate_cut_for_its_grip_holds() {
        holds("grip-thread", "");
    }

    #[test]
    fn a_grip_of_another_thread_fails() {
        check(
            r#"
            [device.inverter.port.dc.plate]
            grip-thread = "M40x1.5"
            grip-pitch = "64 mm"
            [run.dc.to-end]
            grip = "M25x1.5 brass 11.1-20"   #! fails grip-thread
            "#,
        );
    }
}
