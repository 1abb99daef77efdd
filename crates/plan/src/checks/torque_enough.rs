//! The torque leaves a preload that keeps the contact faces together.
//!
//! Settling, creep of copper and heat take a good part of a preload. A stated torque that uses less than a quarter of
//! what the bolt could give leaves too little, and the joint heats itself loose.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "torque-enough",
    rule: "the preload is at least a quarter of what the bolt or stud could give",
    source: "common-practice",
    judge,
};

/// Least share of the bolt's or stud's own preload.
const SHARE: f64 = 0.25;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(enough(check, &side));
    }
}

fn enough(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let (lug, torque) = (side.end.lug.as_ref()?, side.end.torque.as_ref()?);
    let joint = side.joint(lug)?;
    let own = joint.own_preload_n()?;
    let needed_nm = joint.torque_nm(SHARE * own);
    let given = &side.site.given.given.torque_nm;
    let at = match given {
        Some(given) => given.at,
        None => side.site.at_port(&side.site.port.port.torque_nm),
    };
    let message = format!(
        "torque of {} at {} uses {} of what the bolt could give, {} is a quarter of it",
        side.nm(torque.torque_nm),
        side.port(),
        super::view::percent(torque.preload_n / own),
        side.nm(needed_nm)
    );
    Some(
        side.find(check, Verdict::at_least(torque.torque_nm, needed_nm), at, message)
            .judged(torque.torque_nm, needed_nm, Dimension::Torque)
            .hint("use more torque if the thread bears it, or a smaller bolt that this torque loads properly"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_usual_torque_is_enough() {
        holds("torque-enough", "");
    }

    #[test]
    fn a_finger_tight_bolt_fails() {
        check(
            r#"
            [run.phases.from-end]
            torque = "3 N m"   #! fails torque-enough; fails preload-kept
            "#,
        );
    }
}
