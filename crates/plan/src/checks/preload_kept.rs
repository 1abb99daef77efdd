//! What scatter, settling, cold and heat leave of the preload still presses the contact together.
//!
//! A wrench leaves a preload between F and F/1.6. The rough tips of thread, head and faces then settle by about a
//! hundredth of a millimetre, which a short stiff bolt feels most; cold shrinks copper more than steel.
//!
//! Source: VDI 2230-1 (memory) for scatter and settling; contact force by Holm (memory) and the drop rule.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "preload-kept",
    rule: "the least preload after scatter, settling, cold and heat is no less than the contact force wanted",
    source: "vdi-2230-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(kept(check, &side));
    }
}

fn kept(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let given = &side.site.given.given.torque_nm;
    let at = match given {
        Some(given) => given.at,
        None => side.site.at_port(&side.site.port.port.torque_nm),
    };
    let units = side.site.parts.units;
    let n = |v: f64| physics::units::show_both(v, Dimension::Force, units);
    let Some(kept) = &side.end.kept else {
        side.end.torque.as_ref()?;
        let message = format!("what is left of the preload at {} is not known", side.port());
        let hint = "state `pad-material` and `thread-material`: their stiffness and expansion settle it";
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint));
    };
    let message = format!(
        "of a preload of {} at {} at least {} are left settled, {} cold{}; the contact wants {}",
        n(kept.middle_n),
        side.port(),
        n(kept.settled_n),
        n(kept.cold_n),
        kept.hot_n.map_or_else(String::new, |hot| format!(", {} hot", n(hot))),
        n(kept.wanted_n)
    );
    Some(
        side.find(check, Verdict::at_least(kept.worst_n(), kept.wanted_n), at, message)
            .judged(kept.worst_n(), kept.wanted_n, Dimension::Force)
            .hint("use a disc washer under the head, more torque if the thread bears it, or a longer bolt on a sleeve; torque again after the first warm run"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, holds, merge, planned};
    use super::super::view::seen::{fails, unknown};
    use crate::design::ends::Side;

    #[test]
    fn the_usual_joint_keeps_enough() {
        holds("preload-kept", "");
    }

    #[test]
    fn a_weak_torque_settles_away() {
        fails("preload-kept", "torque", "[run.phases.from-end]\ntorque = \"4 N m\"");
    }

    #[test]
    fn a_disc_washer_keeps_more() {
        let left = |washer: &str| {
            let patch = format!("[run.phases.from-end]\nwasher = \"{washer}\"");
            let plan = planned(&merge(BASE, &patch));
            let end = plan.ends.iter().find(|e| e.run == "phases" && e.side == Side::From);
            end.and_then(|e| e.kept.as_ref()).expect("a joint of known materials").worst_n()
        };
        assert!(left("disc") > 1.5 * left("plain"), "{} {}", left("disc"), left("plain"));
    }

    #[test]
    fn a_milled_pad_keeps_less_than_a_tinned_one_and_only_the_unstated_is_assumed() {
        let plan_of =
            |key: &str| planned(&merge(BASE, &format!("[device.inverter.port.phases]\n{key}")));
        let left = |plan: &crate::Plan| {
            let end = plan.ends.iter().find(|e| e.run == "phases" && e.side == Side::From);
            end.and_then(|e| e.kept.as_ref()).expect("a joint of known materials").settled_n
        };
        let assumed = |plan: &crate::Plan| {
            plan.assumed.iter().any(|a| a.key == "device.inverter.port.phases.pad-roughness")
        };
        let (unstated, tinned, milled) = (
            plan_of(""),
            plan_of("pad-roughness = \"6.3 um\""),
            plan_of("pad-roughness = \"16 um\""),
        );
        assert!(assumed(&unstated) && !assumed(&tinned) && !assumed(&milled));
        assert_eq!(left(&unstated), left(&tinned));
        // Thread, head and two inner faces: 8.5 um of way become 10 um.
        assert!(left(&milled) < left(&tinned), "{} {}", left(&milled), left(&tinned));
    }

    #[test]
    fn an_unknown_thread_is_asked_for() {
        let patch = "[device.inverter.port.dc]\nthread-material = absent";
        unknown("preload-kept", "torque", patch);
    }
}
