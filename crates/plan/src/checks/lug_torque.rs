//! The torque is no more than the weakest of bolt, thread, engagement, palm, pad and the terminal's maker allow.
//!
//! Common practice, no source: M8 bolts that land phase lugs on a threaded insulating block get 80 lbf in; more strips the
//! block's threads.
//!
//! Source: VDI 2230-1; FED-STD-H28/2.

use physics::units::Dimension;

use super::view::{Side, sides, weakest};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "lug-torque",
    rule: "the torque of a lug's bolt is no more than the weakest part of its joint bears",
    source: "vdi-2230-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(torque(check, &side));
    }
}

fn torque(check: &Check, side: &Side<'_>) -> Option<Finding> {
    side.end.stack.as_ref()?;
    let port = side.site.port.port;
    let Some(torque) = &side.end.torque else {
        if port.thread_material.is_some() {
            // A name that leads nowhere is a finding of the look-up.
            return None;
        }
        let message = format!("torque at {} cannot be settled", side.port());
        let at = side.site.at_port(&port.thread_material);
        return Some(
            side.find(check, Verdict::Unknown, at, message)
                .hint("state `thread-material`, or `torque` as the terminal's maker gives it: it settles what the thread bears")
                .safety(),
        );
    };
    let (limit, what) = weakest(torque)?;
    let given = &side.site.given.given.torque_nm;
    let Some(stated) = given else {
        let message = format!(
            "torque at {} is {}, set by {}",
            side.port(),
            side.nm(torque.torque_nm),
            spoken(&torque.governed_by)
        );
        let at = side.site.at_port(&port.torque_nm);
        // What a maker allows is held against what the joint bears, and the lesser is used.
        return Some(side.find(check, Verdict::Holds, at, message).judged(
            torque.torque_nm,
            limit,
            Dimension::Torque,
        ));
    };
    let message = format!(
        "stated torque at {} is {}, {} allows {}",
        side.port(),
        side.nm(stated.value),
        spoken(what),
        side.nm(limit)
    );
    Some(
        side.find(check, Verdict::at_most(stated.value, limit), stated.at, message)
            .judged(stated.value, limit, Dimension::Torque)
            .hint("leave `torque` out and the weakest part sets it"),
    )
}

/// "what the terminal's maker states" rather than "stated by the terminal's maker" in the middle of a sentence.
fn spoken(limit: &str) -> String {
    match limit.strip_prefix("stated by ") {
        Some(who) => who.to_owned(),
        None => format!("the {limit}"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};
    use super::super::view::seen::unknown;

    #[test]
    fn the_makers_torque_holds() {
        holds("lug-torque", "");
    }

    #[test]
    fn a_stated_torque_over_the_makers_fails() {
        check(
            r#"
            [run.phases.to-end]
            torque = "120 lbf in"   #! fails lug-torque
            "#,
        );
    }

    #[test]
    fn a_joint_of_unknown_material_is_asked_about() {
        let patch = "[device.battery.port.main]\nthread-material = absent\ntorque = absent";
        assert!(unknown("lug-torque", "device.battery.port.main", patch).safety);
    }
}
