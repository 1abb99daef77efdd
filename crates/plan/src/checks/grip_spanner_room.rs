//! The spanner turns: grips of a laid-out plate clear each other and the bolts' sockets.
//!
//! Grips are spread for an open spanner where there is room; where there is not, a socket or a crow-foot from above still turns
//! them: that is close, not broken.
//!
//! Source: widths across corners as read; head of an open spanner 2.2 times its opening (memory); sockets of an engineering
//! handbook site (read).

use physics::laws::spanner::Tool;

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "grip-spanner-room",
    rule: "grips on a surveyed face stand far enough from each other and from bolts to be turned",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let Some(laid) = &fitted.plate.laid else { continue };
        let at = fitted.grips_at();
        let Some(mut found) = fitted.proven(check, Rule::SpannerRoom, at) else { continue };
        let turned = match laid.tool {
            Tool::OpenSpanner => None,
            Tool::Socket { .. } => {
                Some("there is no room for an open spanner: turn the grips with a socket")
            }
            Tool::FromAbove => Some(
                "there is room for the hexagons only: turn the grips with a crow-foot from above",
            ),
        };
        if let (Some(hint), Verdict::Holds) = (turned, found.verdict) {
            found = Finding { verdict: Verdict::Close, ..found }.hint(hint);
        }
        notes.find(found);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::{fails, finds};
    use crate::finding::Verdict;

    #[test]
    fn grips_with_room_hold() {
        holds("grip-spanner-room", FACED);
    }

    #[test]
    fn grips_whose_corners_meet_fail() {
        let patch = format!(
            "{FACED}\n[device.motor.port.phases.plate]\ngrip-at = {{ U = \"-24 mm, 0 mm\", V = \"2 mm, 0 mm\" }}"
        );
        fails("grip-spanner-room", "grip-at", &patch);
    }

    #[test]
    fn room_for_a_socket_only_is_close() {
        let patch = format!(
            "{FACED}\n[device.motor.port.phases.plate]\ngrip-at = {{ U = \"-42 mm, 0 mm\", V = \"2 mm, 0 mm\" }}"
        );
        let found = finds(Verdict::Close, "grip-spanner-room", "grip-at", &patch);
        assert!(found.hint.unwrap().contains("socket"));
    }
}
