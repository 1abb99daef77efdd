//! The bolts that hold the spacer block are known: thread, length, number, head, torque.
//!
//! Source: common practice, no source.

use super::view::{mm, nm};
use super::{Check, Designed};
use crate::design::joint::written_mm;
use crate::design::plates::BlockFit;
use crate::finding::{About, Finding, Notes, Verdict};
use crate::given::build::Block;
use crate::given::parts::PortParts;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "block-bolts",
    rule: "the bolts of a spacer block are known with number, head and torque",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for port in &designed.parts.ports {
        let Some(block) = &port.port.block else { continue };
        let plate = designed.plates.iter().find(|p| p.port == port.name);
        let fit = plate.and_then(|p| p.block.as_ref());
        notes.find(bolts(check, designed, port, block, fit).about(About::port(&port.name)));
    }
}

fn bolts(
    check: &Check,
    designed: &Designed<'_>,
    port: &PortParts<'_>,
    block: &Block,
    fit: Option<&BlockFit>,
) -> Finding {
    let units = designed.parts.units;
    if port.plate.is_none() {
        let message = format!("block at {} stands at a port without a plate", port.name);
        return Finding::new(check.code, Verdict::Unknown, block.at, check.source, message).hint(
            "describe the plate of the port: block and bolts are packed and fitted together with it",
        );
    }
    let missing: Vec<&str> = [
        ("`bolt`", block.bolt.is_none()),
        ("`bolt-count`", block.bolt_count.is_none()),
        ("`torque`", block.torque_nm.is_none()),
    ]
    .iter()
    .filter(|(_, missing)| *missing)
    .map(|(key, _)| *key)
    .collect();
    if !missing.is_empty() {
        let message = format!("bolts of the block at {} are not fully known", port.name);
        return Finding::new(check.code, Verdict::Unknown, block.at, check.source, message)
            .hint(format!(
                "state {}: it settles what is packed and how it is tightened",
                missing.join(", ")
            ));
    }
    let form = block.head.as_ref().map_or("hex", |h| h.value.as_str());
    let written = block.bolt.as_ref().and_then(|b| written_mm(&b.value));
    let thread = written.map(|(d, _)| format!("M{d}")).unwrap_or_default();
    let bolts = &designed.parts.shelf.bolts;
    let Some(head) = bolts.iter().find(|b| b.form == form && b.thread == thread) else {
        let made: Vec<&str> =
            bolts.iter().filter(|b| b.thread == thread).map(|b| b.form.as_str()).collect();
        let at = block.head.as_ref().or(block.bolt.as_ref()).map_or(block.at, |h| h.at);
        let message =
            format!("there is no head `{form}` in {thread} for the block at {}", port.name);
        return Finding::new(check.code, Verdict::Fails, at, check.source, message)
            .hint(format!("heads in {thread} are {}", made.join(", ")));
    };
    let flats = fit.and_then(|f| f.flats_mm).unwrap_or(head.flats_mm);
    let torque = block.torque_nm.as_ref().map_or(0.0, |t| t.value);
    let message = format!(
        "block at {} is held by {form} {}, across flats {}, {}",
        port.name,
        block.bolt.as_ref().map_or("", |b| b.value.as_str()),
        mm(flats, units),
        nm(torque, units)
    );
    Finding::new(check.code, Verdict::Holds, block.at, check.source, message)
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};
    use super::super::view::seen::unknown;

    #[test]
    fn bolts_fully_stated_hold() {
        holds("block-bolts", "");
    }

    #[test]
    fn a_head_that_is_not_made_fails() {
        check(
            r#"
            [device.motor.port.phases.block]
            head = "wing"   #! fails block-bolts
            "#,
        );
    }

    #[test]
    fn a_block_without_a_plate_is_asked_about() {
        let patch = "[device.battery.port.main.block]\nmaterial = \"pa66-gf30\"\nbolt = \"M5x20\"\nbolt-count = 2\ntorque = \"3 N m\"";
        unknown("block-bolts", "device.battery.port.main.block", patch);
    }

    #[test]
    fn unknown_bolts_are_asked_for() {
        check(
            r#"
            [device.motor.port.phases.block]   #! unknown block-bolts
            bolt-count = absent
            "#,
        );
    }
}
