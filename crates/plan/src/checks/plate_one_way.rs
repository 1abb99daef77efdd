//! The plate goes on one way only.
//!
//! Bolted on turned, letters and grips no longer stand before their terminals: phases are swapped, or the cables are forced across
//! each other. A pattern of bolt holes that meets itself turned cannot keep that from happening; a notch and marks can only
//! say so, and that is close, not kept.
//!
//! Source: common practice, no source.

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::OneWay;
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-one-way",
    rule: "bolt holes let the plate go on one way only",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let Some(laid) = &fitted.plate.laid else { continue };
        let name = fitted.name();
        let (verdict, message) = match laid.one_way {
            OneWay::ByBolts => (
                Verdict::Holds,
                format!("bolt holes let the plate of {name} go on one way only"),
            ),
            OneWay::Turned { by_deg, notched } => (
                Verdict::Close,
                format!(
                    "the plate of {name} also goes on turned by {by_deg:.0} deg, {} the right way",
                    if notched {
                        "a notch in its top edge and its marks show"
                    } else {
                        "only its marks show"
                    }
                ),
            ),
        };
        let found = fitted.find(check, verdict, fitted.given.at, message);
        notes.find(match verdict {
            Verdict::Holds => found,
            Verdict::Close | Verdict::Fails | Verdict::Unknown => {
                found.hint("hold the letters against the terminals before the bolts go in")
            }
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{holds, verdicts};
    use super::super::view::FACED;
    use crate::finding::Verdict;

    #[test]
    fn unequal_bolts_hold() {
        holds("plate-one-way", FACED);
    }

    #[test]
    fn four_bolts_in_a_rectangle_are_close() {
        let bolts = r#"
            [device.motor.port.phases.face.hole.B1]
            at = ["-110 mm", "-60 mm"]
            [device.motor.port.phases.face.hole.B2]
            at = ["110 mm", "-60 mm"]
            [device.motor.port.phases.face.hole.B3]
            at = ["110 mm", "60 mm"]
            [device.motor.port.phases.face.hole.B4]
            at = ["-110 mm", "60 mm"]
            [device.motor.port.phases.face.hole.B5]
            at = ["0 mm", "-66 mm"]
            [device.motor.port.phases.face.hole.B6]
            at = ["0 mm", "66 mm"]
            "#;
        let start = FACED.find("[device.motor.port.phases.face.hole.B7]").unwrap();
        let rest =
            FACED[start..].split_once("[device.motor.port.phases.face.terminal.U]").unwrap().1;
        let patch = format!(
            "{bolts}\n[device.motor.port.phases.face.terminal.U]{rest}bolt-count = 6\n"
        );
        assert_eq!(verdicts("plate-one-way", &patch), [Verdict::Close]);
        assert_eq!(verdicts("plate-fit", &patch), [Verdict::Holds]);
    }
}
