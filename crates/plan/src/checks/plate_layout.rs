//! A plate on a surveyed face can be laid out: the survey says enough.
//!
//! Source: common practice, no source.

use super::view::plates;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-layout",
    rule: "a surveyed face tells bolt holes, opening and terminals",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let missing = &fitted.plate.missing;
        if missing.is_empty() {
            continue;
        }
        let message = format!(
            "the plate of {} cannot be laid out on its face: {} missing",
            fitted.name(),
            if missing.len() == 1 { "this is" } else { "these are" }
        );
        let at = fitted.port.port.face.as_ref().map_or(fitted.given.at, |f| f.at);
        let found = fitted.find(check, Verdict::Unknown, at, message);
        notes.find(found.hint(format!("survey {}", missing.join("; "))));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::verdicts;
    use super::super::view::FACED;
    use super::super::view::seen::unknown;

    #[test]
    fn a_face_without_an_opening_asks_for_it() {
        let (before, after) =
            FACED.split_once("[device.motor.port.phases.face.opening]").unwrap();
        let after = after.split_once("[device.motor.port.phases.face.outline]").unwrap().1;
        let patch = format!("{before}[device.motor.port.phases.face.outline]{after}");
        let found = unknown("plate-layout", "", &patch);
        assert!(found.hint.unwrap().contains("opening"));
        assert!(verdicts("plate-layout", FACED).is_empty());
    }
}
