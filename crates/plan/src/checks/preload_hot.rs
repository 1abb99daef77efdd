//! The most a wrench may leave, and what heat adds to it, strips no thread.
//!
//! Copper under a steel bolt expands more than the bolt and tightens it. The torque is chosen at 20 degC with a
//! share of a thread's strip load; this is the whole of it, hot.
//!
//! Source: VDI 2230-1 (memory); strip areas of FED-STD-H28/2.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "preload-hot",
    rule: "the most preload, hot, stays below what strips the thread",
    source: "vdi-2230-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(hot(check, &side));
    }
}

fn hot(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let (lug, stack, kept) =
        (side.end.lug.as_ref()?, side.end.stack.as_ref()?, side.end.kept.as_ref()?);
    let joint = side.joint(lug)?;
    let limit_n = joint.strip_load_n(stack.engagement_mm)?;
    let units = side.site.parts.units;
    let n = |v: f64| physics::units::show_both(v, Dimension::Force, units);
    let at = match &side.site.given.given.torque_nm {
        Some(given) => given.at,
        None => side.site.at_port(&side.site.port.port.torque_nm),
    };
    let message = format!(
        "the bolt at {} pulls with up to {} when hot, its thread strips at {}",
        side.port(),
        n(kept.most_n),
        n(limit_n)
    );
    Some(
        side.find(check, Verdict::at_most(kept.most_n, limit_n), at, message)
            .judged(kept.most_n, limit_n, Dimension::Force)
            .hint("use less torque or more thread, or put metal instead of plastic between landing face and thread"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::fails;

    #[test]
    fn the_usual_joint_bears_its_heat() {
        holds("preload-hot", "");
    }

    #[test]
    fn a_plastic_bush_that_grows_strips_a_short_thread() {
        // By hand: 10 mm of acetal outgrow the bolt by about 0.08 mm, on 5.8 mm of plastic thread that strips near 7.5 kN.
        let patch = "[device.motor.port.phases]\npad-material = \"pom\"\nthread-start = \"10 mm\"\n[run.phases.to-end]\nbolt = \"M8x20\"";
        fails("preload-hot", "torque", patch);
    }
}
