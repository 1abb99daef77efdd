//! A spacer block can be made: its thickness and the places of its bolts are known.
//!
//! Source: common practice, no source.

use super::view::plates;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "block-layout",
    rule: "thickness and bolt places of a spacer block are known, so that it can be made",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let Some(given) = &fitted.port.port.block else { continue };
        let mut missing = Vec::new();
        if given.thickness_mm.is_none() {
            missing.push(
                "state `thickness`: measure from the floor it stands on to the pads with a depth gauge",
            );
        }
        if given.bolt_at.is_empty() {
            missing.push(
                "state `bolt-at`: measure its holes to the face's own with a calliper, as x and y on the face",
            );
        }
        if missing.is_empty() {
            continue;
        }
        let message = format!(
            "the block of {} cannot be laid out: {} not known",
            fitted.name(),
            match missing.len() {
                1 if given.thickness_mm.is_none() => "its thickness is",
                1 => "the places of its bolts are",
                _ => "its thickness and the places of its bolts are",
            }
        );
        let found = fitted.find(check, Verdict::Unknown, given.at, message);
        notes.find(found.hint(missing.join("; ")));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::verdicts;
    use super::super::view::FACED;
    use super::super::view::seen::unknown;

    #[test]
    fn what_is_not_known_is_asked_for() {
        let block = |patch: &str| format!("{FACED}[device.motor.port.phases.block]\n{patch}");
        let both =
            unknown("block-layout", "block", &block("thickness = absent\nbolt-at = absent"));
        let hint = both.hint.unwrap();
        assert!(hint.contains("depth gauge") && hint.contains("calliper"), "{hint}");
        let one = unknown("block-layout", "block", &block("bolt-at = absent"));
        assert!(!one.hint.unwrap().contains("`thickness`"));
        assert!(verdicts("block-layout", FACED).is_empty());
    }
}
