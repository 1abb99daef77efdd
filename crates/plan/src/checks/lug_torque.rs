//! The torque is no more than the weakest of bolt, thread, engagement, palm, pad and the terminal's maker allow.
//!
//! Common practice, no source: M8 bolts that land phase lugs on a threaded insulating block get 80 lbf in; more strips the
//! block's threads.
//!
//! Source: VDI 2230-1; FED-STD-H28/2.

use physics::units::Dimension;

use super::view::{Side, sides, weakest};
use super::{Check, Designed};
use crate::design::joint::TorqueChoice;
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
    let Some(stated) = given else { return Some(unstated(check, side, torque, limit)) };
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

/// A torque the build leaves to us. What a maker states is held against what the joint bears; the lesser is used, and said.
fn unstated(check: &Check, side: &Side<'_>, torque: &TorqueChoice, limit: f64) -> Finding {
    let maker = &side.site.port.port.torque_nm;
    let mut message = format!(
        "torque at {} is {}, set by {}",
        side.port(),
        side.nm(torque.torque_nm),
        spoken(&torque.governed_by)
    );
    let mut verdict = Verdict::Holds;
    if let Some(maker) = maker.as_ref().filter(|m| m.value > torque.torque_nm) {
        verdict = Verdict::Close;
        message =
            format!("{message}, though the terminal's maker states {}", side.nm(maker.value));
    }
    side.find(check, verdict, side.site.at_port(maker), message)
        .judged(torque.torque_nm, limit, Dimension::Torque)
        .hint("reach farther into the thread, or ask the maker which bolt and engagement the stated torque is for")
}

/// "the terminal's maker" rather than "stated by the terminal's maker" in the middle of a sentence.
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
    fn a_makers_torque_over_what_the_thread_bears_is_lowered_aloud() {
        // A bolt two millimetres shorter reaches 7.8 mm into the plastic: it bears less than 80 lbf in.
        check(
            r#"
            [device.motor.port.phases]
            torque = "80 lbf in"   #! close lug-torque
            [run.phases.to-end]
            bolt = "M8x14"
            "#,
        );
    }

    #[test]
    fn a_joint_of_unknown_material_is_asked_about() {
        let patch = "[device.battery.port.main]\nthread-material = absent\ntorque = absent";
        assert!(unknown("lug-torque", "device.battery.port.main", patch).safety);
    }
}
