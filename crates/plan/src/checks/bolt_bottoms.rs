//! The bolt does not reach the end of its thread; a nut reaches its face.
//!
//! A bolt that bottoms takes its full torque and clamps nothing: the joint is loose and burns. One pitch must
//! be left for run-out and tolerances. A nut that runs out on a plain shank is the same fault on a stud.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::{Side, room, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "bolt-bottoms",
    rule: "thread is left under the bolt's tip, or stands out of the nut",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(bottoms(check, &side));
    }
}

fn bottoms(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let stack = side.end.stack.as_ref()?;
    let margin = side.site.thread()?.pitch_mm;
    let depth = &side.site.port.port.thread_depth_mm;
    let given = &side.site.given.given.bolt;
    let left = stack.left_mm;
    let (at, message, hint) = if stack.nut.is_some() {
        let shank = left < 0.0 && stack.clamped_mm < stack.thread_start_mm;
        let what = if shank {
            "nut runs out on the plain shank by"
        } else if left < 0.0 {
            "stud ends inside the nut by"
        } else {
            "thread standing out of the nut is"
        };
        (
            side.site.at_port(depth),
            format!("{what} {} at {}", side.mm(left.abs()), side.port()),
            "change what lies under the nut",
        )
    } else {
        let what = if left < 0.0 { "bolt bottoms by" } else { "thread left under the bolt is" };
        (
            given.as_ref().map_or_else(|| side.site.at_port(depth), |b| b.at),
            format!("{what} {} at {}", side.mm(left.abs()), side.port()),
            "take a shorter bolt: one that bottoms leaves the joint loose at full torque",
        )
    };
    Some(
        side.find(check, room(left, margin), at, message)
            .judged(left, margin, Dimension::Length)
            .hint(hint),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn room_under_the_tip_holds() {
        holds("bolt-bottoms", "");
    }

    #[test]
    fn a_bolt_too_long_fails() {
        check(
            r#"
            [run.phases.to-end]
            bolt = "M8x30"   #! fails bolt-bottoms
            "#,
        );
    }

    #[test]
    fn a_bolt_that_just_fits_is_close() {
        // Thread from 0 to 11 mm under 4.2 mm of palm and washer: M8x15 reaches 10.8 mm.
        check(
            r#"
            [run.phases.from-end]
            bolt = "M8x15"   #! close bolt-bottoms
            "#,
        );
    }

    #[test]
    fn a_nut_on_a_plain_shank_fails() {
        check(
            r#"
            [device.battery.port.main]
            thread-start = "6 mm"
            thread-depth = "22 mm"   #! fails bolt-bottoms
            "#,
        );
    }
}
