//! The readings of a face hold every point fast, and finely enough for a plate's holes.
//!
//! Limit: two standard deviations of a hole's place stay within half the play of an M6 bolt in a hole of the
//! medium series, (6.6 - 6) / 2 mm. Source: ISO 273 for the hole; that half the play is left for the
//! survey, and half for the drill, is common practice.

use physics::units::Dimension;

use super::{Check, Designed};
use crate::design::survey::{SurveyedFace, SurveyedPoint, fine};
use crate::finding::{About, Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "survey-determined",
    rule: "the readings of a face hold every point, two standard deviations within 0.3 mm",
    source: "iso-273",
    judge,
};

/// Half the play of an M6 bolt in its medium hole.
const PLACE_MM_MAX: f64 = 0.3;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for face in designed.faces {
        for fault in &face.faults {
            let message = format!("the face of {}: {fault}", face.port);
            let finding = check.finding(Verdict::Unknown, face.at, message);
            notes.find(finding.about(About::port(&face.port)));
        }
        if let Some(finding) = whole(check, designed, face) {
            notes.find(finding.about(About::port(&face.port)));
        }
    }
}

fn whole(check: &Check, designed: &Designed<'_>, face: &SurveyedFace) -> Option<Finding> {
    if let Some(file) = &face.unread {
        let message = format!("the face of {} is in {file}, which was not read", face.port);
        let hint = "put the file beside the build document";
        return Some(check.finding(Verdict::Unknown, face.at, message).hint(hint));
    }
    if !face.loose.is_empty() {
        let loose = face.loose.join(", ");
        let message =
            format!("the readings of {} leave {loose} without a certain place", face.port);
        let hint = match face.missing.split_first() {
            None => "read further distances, or state `at`".to_owned(),
            Some((first, [])) => format!("read {first}"),
            Some((first, rest)) => format!("read {first}, then {}", rest.join(", ")),
        };
        return Some(check.finding(Verdict::Unknown, face.at, message).hint(hint));
    }
    let points = face.holes.iter().chain(&face.terminals);
    let sure = |p: &&SurveyedPoint| p.sigma_mm.is_some();
    let worst = points
        .filter(sure)
        .max_by(|a, b| a.sigma_mm.unwrap_or(0.0).total_cmp(&b.sigma_mm.unwrap_or(0.0)))?;
    let twice = 2.0 * worst.sigma_mm?;
    let verdict = Verdict::at_most(twice, PLACE_MM_MAX);
    let message = format!(
        "{} of {} lies within {} of its place, {} the most of {}",
        worst.name,
        face.port,
        fine(twice, designed.parts.units),
        super::below(verdict, twice, PLACE_MM_MAX),
        fine(PLACE_MM_MAX, designed.parts.units),
    );
    let finding = check.finding(verdict, face.at, message);
    let finding = finding.judged(twice, PLACE_MM_MAX, Dimension::Length);
    Some(match verdict {
        Verdict::Fails => {
            finding.hint(format!("read more distances to {}, or with a finer tool", worst.name))
        }
        Verdict::Close | Verdict::Holds | Verdict::Unknown => finding,
    })
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds, verdicts};
    use super::super::survey_consistent::tests::FACE;
    use crate::finding::Verdict;

    #[test]
    fn a_face_read_in_full_holds() {
        holds("survey-determined", FACE);
        assert!(verdicts("survey-determined", "").is_empty());
    }

    #[test]
    fn stated_places_need_no_reading() {
        let stated = r#"
            [device.motor.port.phases.face.hole.A]
            at = ["0 mm", "0 mm"]
            [device.motor.port.phases.face.hole.B]
            at = ["80 mm", "0 mm"]
            "#;
        assert!(verdicts("survey-determined", stated).is_empty());
        assert!(verdicts("survey-consistent", stated).is_empty());
    }

    #[test]
    fn a_loose_point_is_named_with_what_to_read() {
        check(
            r#"
            [device.motor.port.phases.face.hole.A]
            [device.motor.port.phases.face.hole.B]
            [device.motor.port.phases.face.hole.C]
            [device.motor.port.phases.face] #! unknown survey-determined; unknown survey-consistent; unknown plate-layout
            reading = [{ between = ["A", "B"], centres = "80 mm" }, { between = ["B", "C"], centres = "60 mm" }]
            "#,
        );
    }

    #[test]
    fn a_tape_is_too_coarse() {
        let coarse = FACE.replace(" }", ", tool = \"tape\" }");
        assert_eq!(verdicts("survey-determined", &coarse), [Verdict::Fails]);
    }

    #[test]
    fn a_file_that_was_not_read_is_unknown() {
        let file = "[device.motor.port.phases.face]\nfile = \"face.toml\"";
        assert_eq!(verdicts("survey-determined", file), [Verdict::Unknown]);
    }
}
