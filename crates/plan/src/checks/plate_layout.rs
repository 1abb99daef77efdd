//! A plate on a surveyed face can be laid out: the survey says enough.
//!
//! Source: common practice, no source.

use super::view::{Fitted, plates};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};
use crate::given::read::brief;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-layout",
    rule: "a surveyed face tells bolt holes, opening and terminals",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        notes.findings.extend(missing(check, &fitted));
        notes.findings.extend(misplaced(check, &fitted));
    }
}

/// What the survey does not tell.
fn missing(check: &Check, fitted: &Fitted<'_>) -> Option<Finding> {
    let missing = &fitted.plate.missing;
    if missing.is_empty() {
        return None;
    }
    let message = format!(
        "the plate of {} cannot be laid out on its face: {} missing",
        fitted.name(),
        if missing.len() == 1 { "this is" } else { "these are" }
    );
    let at = fitted.port.port.face.as_ref().map_or(fitted.given.at, |f| f.at);
    let found = fitted.find(check, Verdict::Unknown, at, message);
    Some(found.hint(format!("survey {}", missing.join("; "))))
}

/// A place for a grip that leads nowhere: of a terminal that is not there, or on no face.
fn misplaced(check: &Check, fitted: &Fitted<'_>) -> Option<Finding> {
    let (first, _) = fitted.given.grip_at.first()?;
    if fitted.port.port.face.is_none() {
        let message =
            format!("places of grips at {} mean nothing without its face", fitted.name());
        let found = fitted.find(check, Verdict::Unknown, first.at, message);
        return Some(found.hint("survey the face, or leave `grip-at` out"));
    }
    let terminals = &fitted.port.port.terminals;
    let known = |label: &str| terminals.iter().any(|t| t.value == label);
    let (label, _) = fitted.given.grip_at.iter().find(|(label, _)| !known(&label.value))?;
    let message = format!(
        "`grip-at` of {} names {}, which is no terminal of it",
        fitted.name(),
        brief(&label.value)
    );
    let found = fitted.find(check, Verdict::Fails, label.at, message);
    let labels: Vec<&str> = terminals.iter().map(|t| t.value.as_str()).collect();
    Some(found.hint(format!("its terminals are {}", labels.join(", "))))
}

#[cfg(test)]
mod tests {
    use super::super::marked::verdicts;
    use super::super::view::FACED;
    use super::super::view::seen::{fails, unknown};

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

    #[test]
    fn a_grip_of_no_terminal_fails() {
        let patch = format!("{FACED}grip-at = {{ X = \"0 mm, 0 mm\" }}\n");
        let found = fails("plate-layout", "grip-at", &patch);
        assert!(found.hint.unwrap().contains("U, V, W"));
    }

    #[test]
    fn a_place_without_a_face_is_unknown() {
        let patch = "[device.motor.port.phases.plate]\ngrip-at = { U = \"0 mm, 0 mm\" }";
        unknown("plate-layout", "grip-at", patch);
    }
}
