//! The torque of the plate's bolts is no more than bolt, thread, engagement and plate bear.
//!
//! Source: VDI 2230-1; FED-STD-H28/2.

use physics::units::Dimension;

use super::view::{Fitted, borne, plates};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-torque",
    rule: "the torque of the plate's bolts is no more than the weakest part of their joint bears",
    source: "vdi-2230-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        notes.findings.extend(torque(check, &fitted));
    }
}

fn torque(check: &Check, fitted: &Fitted<'_>) -> Option<Finding> {
    let bolts = fitted.plate.bolts.as_ref()?;
    let given = fitted.given;
    let Some(torque) = &bolts.torque else {
        if given.thread_material.is_some() {
            return None;
        }
        let message = format!("torque of the plate of {} cannot be settled", fitted.name());
        return Some(
            fitted
                .find(check, Verdict::Unknown, fitted.at(&given.thread_material), message)
                .hint(
                    "state `thread-material` of the housing, or `torque` as its maker gives it",
                ),
        );
    };
    let (limit, what) = borne(&fitted.joint()?, bolts.stack.engagement_mm)?;
    let Some(stated) = &given.torque_nm else {
        let message = format!(
            "torque of the plate of {} is {}, set by {}",
            fitted.name(),
            fitted.nm(torque.torque_nm),
            torque.governed_by
        );
        return Some(
            fitted.find(check, Verdict::Holds, fitted.at(&given.bolt), message).judged(
                torque.torque_nm,
                limit,
                Dimension::Torque,
            ),
        );
    };
    let message = format!(
        "stated torque of the plate of {} is {}, {what} bears {}",
        fitted.name(),
        fitted.nm(stated.value),
        fitted.nm(limit)
    );
    Some(
        fitted
            .find(check, Verdict::at_most(stated.value, limit), stated.at, message)
            .judged(stated.value, limit, Dimension::Torque)
            .hint("longer bolts bear more; else use what is borne"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_computed_torque_holds() {
        holds("plate-torque", "");
    }

    #[test]
    fn a_stated_torque_over_what_is_borne_fails() {
        check(
            r#"
            [device.inverter.port.phases.plate]
            torque = "25 N m"   #! fails plate-torque
            "#,
        );
    }

    #[test]
    fn a_housing_of_unknown_material_is_asked_about() {
        check(
            r#"
            [device.inverter.port.phases.plate]   #! unknown plate-torque
            thread-material = absent
            "#,
        );
    }
}
