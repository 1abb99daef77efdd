//! Enough thread sits in thread.
//!
//! In a hole at least 0.8 d, and what the preload asks of the material: by its strip load at the most the wrench may
//! leave, and by the published engagement rule scaled to the share of an 8.8 bolt's preload that is used. On a stud the whole
//! nut.
//!
//! Source: FED-STD-H28/2 (strip load); engagement rules read in a fastener handbook quoting VDI 2230.

use physics::units::Dimension;

use super::view::{Side, engaged, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};
use crate::given::build::Landing;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "bolt-engagement",
    rule: "the bolt reaches as far into its thread as its preload needs, the nut sits on its stud with its whole height",
    source: "fed-std-h28",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(engagement(check, &side));
    }
}

fn engagement(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let depth = &side.site.port.port.thread_depth_mm;
    side.site.thread()?;
    if depth.is_none() {
        let (what, hint) = match side.site.landing() {
            Landing::Tapped => (
                "depth of full thread",
                "measure it with the depth rod of a calliper, less the tapping cone, and state `thread-depth`: it settles the bolt's length; too long a bolt bottoms and leaves the joint loose",
            ),
            Landing::Stud => (
                "length of the studs",
                "measure from the landing face to the tip and state `thread-depth`: it settles whether the nut sits fully",
            ),
        };
        let message = format!("{what} at {} is not known", side.port());
        let at = side.site.at_port(depth);
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint).safety());
    }
    let stack = side.end.stack.as_ref()?;
    let given = &side.site.given.given.bolt;
    let at = given.as_ref().map_or_else(|| side.site.at_port(depth), |b| b.at);
    let what = if stack.nut.is_some() { "nut has" } else { "bolt has" };
    let message = format!(
        "{what} {} of thread at {}, {} is needed",
        side.mm(stack.engagement_mm),
        side.port(),
        side.mm(stack.engagement_mm_min)
    );
    Some(
        side.find(check, engaged(stack, side.end.torque.as_ref()), at, message)
            .judged(stack.engagement_mm, stack.engagement_mm_min, Dimension::Length)
            .hint("take a longer bolt if there is thread left for it, or less under its head"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};
    use super::super::view::seen::unknown;

    #[test]
    fn a_bolt_that_reaches_holds() {
        holds("bolt-engagement", "");
    }

    #[test]
    fn a_bolt_on_its_first_turns_fails() {
        check(
            r#"
            [device.inverter.port.phases]
            torque = "80 lbf in"   #! close lug-torque
            [run.phases.from-end]
            bolt = "M8x8"   #! fails bolt-engagement
            "#,
        );
    }

    #[test]
    fn a_stud_too_short_for_its_nut_fails() {
        check(
            r#"
            [device.battery.port.main]
            thread-depth = "9 mm"   #! fails bolt-engagement; fails bolt-bottoms
            "#,
        );
    }

    #[test]
    fn an_unknown_depth_is_asked_for() {
        let patch = "[device.inverter.port.phases]\nthread-depth = absent";
        assert!(unknown("bolt-engagement", "device.inverter.port.phases]", patch).safety);
    }
}
