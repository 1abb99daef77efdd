//! The plate's bolts reach far enough into the housing's thread.
//!
//! Source: FED-STD-H28/2 (strip load); engagement rules read in a fastener handbook quoting VDI 2230.

use physics::units::Dimension;

use super::view::{Fitted, engaged, plates};
use super::{Check, Designed};
use crate::design::joint::written_mm;
use crate::finding::{Finding, Notes, Place, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-bolt-engagement",
    rule: "the plate's bolts reach as far into the housing as their preload needs",
    source: "fed-std-h28",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        notes.findings.extend(engagement(check, &fitted));
    }
}

/// What is missing: where, what, and what to do.
fn missing(fitted: &Fitted<'_>) -> Option<(Place, &'static str, &'static str)> {
    let given = fitted.given;
    if given.bolt.is_none() {
        let hint =
            "measure thread and depth of the housing's holes and state `bolt`, \"M6x20\"";
        return Some((given.at, "bolt", hint));
    }
    if given.bolt_count.is_none() && fitted.plate.laid.is_none() {
        return Some((
            given.at,
            "number of bolts",
            "count the housing's holes and state `bolt-count`",
        ));
    }
    if fitted.plate.thickness_mm.is_none() {
        return Some((
            given.at,
            "thickness",
            "state `thickness`: it settles how far the bolts reach",
        ));
    }
    if given.thread_depth_mm.is_none() {
        let hint = "measure the depth of full thread in the housing and state `thread-depth`: a bolt that bottoms leaves the plate loose and leaking";
        return Some((given.at, "depth of thread in the housing", hint));
    }
    None
}

fn engagement(check: &Check, fitted: &Fitted<'_>) -> Option<Finding> {
    let given = fitted.given;
    if let Some((at, what, hint)) = missing(fitted) {
        let message = format!("{what} of the plate of {} is not known", fitted.name());
        return Some(fitted.find(check, Verdict::Unknown, at, message).hint(hint).safety());
    }
    let Some(bolts) = &fitted.plate.bolts else {
        let form = given.head.as_ref().map_or("hex", |h| h.value.as_str());
        let thread = given.bolt.as_ref().and_then(|b| written_mm(&b.value));
        let thread = thread.map(|(d, _)| format!("M{d}"))?;
        let shelf = &fitted.parts.shelf.bolts;
        if shelf.iter().any(|b| b.form == form && b.thread == thread) {
            return None;
        }
        let message =
            format!("there is no head `{form}` in {thread} for the plate of {}", fitted.name());
        return Some(
            fitted
                .find(check, Verdict::Fails, fitted.at(&given.head), message)
                .hint("name a head the shelf has, or put the bolt into parts.toml"),
        );
    };
    let stack = &bolts.stack;
    let message = format!(
        "bolts of the plate of {} have {} of thread, {} is needed",
        fitted.name(),
        fitted.mm(stack.engagement_mm),
        fitted.mm(stack.engagement_mm_min)
    );
    let verdict = engaged(stack, bolts.torque.as_ref());
    Some(
        fitted
            .find(check, verdict, fitted.at(&given.bolt), message)
            .judged(stack.engagement_mm, stack.engagement_mm_min, Dimension::Length)
            .hint("take longer bolts if there is thread left for them"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn bolts_that_reach_hold() {
        holds("plate-bolt-engagement", "");
    }

    #[test]
    fn bolts_on_their_first_turns_fail() {
        check(
            r#"
            [device.inverter.port.phases.plate]
            bolt = "M6x16"   #! fails plate-bolt-engagement
            "#,
        );
    }

    #[test]
    fn an_unknown_depth_is_asked_for() {
        check(
            r#"
            [device.inverter.port.phases.plate]   #! unknown plate-bolt-engagement
            thread-depth = absent
            "#,
        );
    }

    #[test]
    fn a_head_that_is_not_made_fails() {
        check(
            r#"
            [device.inverter.port.phases.plate]
            head = "wing"   #! fails plate-bolt-engagement
            "#,
        );
    }
}
