//! What creeps under a bolt is known, and a spring follows it.
//!
//! Plastics give way for years under the load of a thread; annealed copper and soft aluminium do under a high pressure or
//! heat. A computed preload is that of the first day. A disc washer follows; without one the torque is looked at again.
//!
//! Source: common practice, no source; aluminium below 60 N/mm2 read in a textbook of contacts.

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "joint-creep",
    rule: "a joint with plastic or soft aluminium in its load has a spring under the head",
    source: "common-practice",
    judge,
};

/// A soft metal or plastic: it creeps under less than this, MPa.
const SOFT_MPA: f64 = 60.0;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(creep(check, &side));
    }
}

fn creep(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let (lug, stack) = (side.end.lug.as_ref()?, side.end.stack.as_ref()?);
    let joint = side.joint(lug)?;
    let spring = stack.washer.as_ref().is_some_and(|w| w.form == "disc");
    let at = side.site.at_end(&side.site.given.given.washer);
    let in_load = [joint.threaded, joint.pad, joint.ply];
    let soft = in_load.into_iter().flatten().find(|m| m.bearing_mpa <= SOFT_MPA);
    let (verdict, message) = match soft {
        None => (
            Verdict::Holds,
            format!("nothing soft is in the load of the bolt at {}", side.port()),
        ),
        Some(material) if spring => (
            Verdict::Holds,
            format!(
                "a disc washer follows the creep of {} at {}",
                material.row.id,
                side.port()
            ),
        ),
        Some(material) => (
            Verdict::Close,
            format!(
                "{} at {} creeps under its bolt and no spring follows",
                material.row.id,
                side.port()
            ),
        ),
    };
    Some(side.find(check, verdict, at, message).hint(
        "use a disc washer under the head, or a metal insert; torque again after the first warm run and at every service",
    ))
}

#[cfg(test)]
mod tests {
    use super::super::marked::verdicts;
    use crate::finding::Verdict;

    #[test]
    fn a_brass_thread_does_not_creep_and_plastic_does() {
        // Worst first: the motor's block, then the others.
        let expected = [Verdict::Close, Verdict::Holds, Verdict::Holds, Verdict::Holds];
        assert_eq!(verdicts("joint-creep", ""), expected);
    }

    #[test]
    fn a_disc_washer_follows() {
        let patch = "[run.phases.to-end]\nwasher = \"disc\"";
        assert_eq!(verdicts("joint-creep", patch), [Verdict::Holds; 4]);
    }

    #[test]
    fn a_bar_of_soft_aluminium_creeps() {
        let patch = "[device.battery.port.main]\npad-material = \"aluminium-99.5\"";
        assert_eq!(verdicts("joint-creep", patch)[..2], [Verdict::Close; 2]);
    }
}
