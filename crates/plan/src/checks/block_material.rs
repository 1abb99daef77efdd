//! The block between the lugs is of a known material, and insulates.
//!
//! (Whether it bears the lug's heat is judged for all plastics at a terminal by `terminal-temperature`.)
//!
//! Source: common practice, no source; tracking indices of plastics typical.

use super::{Check, Designed};
use crate::finding::{About, Finding, Notes, Verdict};
use crate::given::parts::PortParts;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "block-material",
    rule: "the spacer block is of a known material that insulates",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for port in &designed.parts.ports {
        notes.findings.extend(block(check, port));
    }
}

fn block(check: &Check, port: &PortParts<'_>) -> Option<Finding> {
    let block = port.port.block.as_ref()?;
    let at = block.material.as_ref().map_or(block.at, |m| m.at);
    let found =
        |verdict, message| check.finding(verdict, at, message).about(About::port(&port.name));
    let Some(material) = port.block_material else {
        if block.material.is_some() {
            // A name that leads nowhere is a finding of the look-up.
            return None;
        }
        let message = format!("material of the block at {} is not known", port.name);
        return Some(
            found(Verdict::Unknown, message)
                .hint("state `material`: it settles whether the block insulates and bears the heat")
                .safety(),
        );
    };
    let Some(index) = material.tracking_index else {
        let message = format!("block of {} at {} is no insulator", material.row.id, port.name);
        return Some(
            found(Verdict::Fails, message).hint("make it of a plastic with a tracking index"),
        );
    };
    let message = format!(
        "block of {} at {} insulates, tracking index {index:.0}",
        material.row.id, port.name
    );
    Some(found(Verdict::Holds, message))
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::{fails, unknown};

    #[test]
    fn glass_filled_polyamide_holds() {
        holds("block-material", "");
    }

    #[test]
    fn a_metal_block_fails() {
        let patch = "[device.motor.port.phases.block]\nmaterial = \"brass\"";
        fails("block-material", "material", patch);
    }

    #[test]
    fn an_unknown_block_is_asked_for() {
        let patch = "[device.motor.port.phases.block]\nmaterial = absent";
        assert!(unknown("block-material", "device.motor.port.phases.block", patch).safety);
    }
}
