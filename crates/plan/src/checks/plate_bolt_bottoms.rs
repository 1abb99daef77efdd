//! The plate's bolts do not reach the end of the housing's thread.
//!
//! A bolt that bottoms leaves the plate loose and the ring unsqueezed.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::{plates, room};
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-bolt-bottoms",
    rule: "thread is left under the tips of the plate's bolts",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let (Some(bolts), Some(joint)) = (&fitted.plate.bolts, fitted.joint()) else {
            continue;
        };
        let (left, margin) = (bolts.stack.left_mm, joint.margin_mm());
        let verdict: Verdict = room(left, margin);
        let what = if left < 0.0 { "bottom by" } else { "leave thread of" };
        let message =
            format!("bolts of the plate of {} {what} {}", fitted.name(), fitted.mm(left.abs()));
        notes.find(
            fitted
                .find(check, verdict, fitted.at(&fitted.given.bolt), message)
                .judged(left, margin, Dimension::Length)
                .hint("take shorter bolts"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn bolts_with_thread_left_hold() {
        holds("plate-bolt-bottoms", "");
    }

    #[test]
    fn bolts_too_long_fail() {
        check(
            r#"
            [device.inverter.port.phases.plate]
            bolt = "M6x35"   #! fails plate-bolt-bottoms
            "#,
        );
    }
}
