//! The readings of a face agree with each other; the one that does not is named with what it should be.
//!
//! Source: Baarda's test of single observations, two-sided at one in a thousand, beside the chi-square of
//! all. Readings that nothing checks may be wrong without a trace, and then the rule cannot be judged.

use physics::units::Dimension;
use space::survey::NORMALISED_MAX;

use super::{Check, Designed};
use crate::design::survey::{SurveyedFace, Suspect, fine};
use crate::finding::{About, Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "survey-consistent",
    rule: "the readings of a face agree with each other, each within 3.29 of its standard deviations",
    source: "baarda-1968",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for face in designed.faces.iter().filter(|f| !f.readings.is_empty()) {
        let finding = match (&face.suspect, face.consistent) {
            (Some(suspect), _) => wrong(check, designed, face, suspect),
            (None, false) => {
                let message = format!(
                    "the readings of {} do not agree, and leaving out one does not cure it",
                    face.port
                );
                check.finding(Verdict::Fails, face.at, message).hint(
                    "more than one is wrong, or the tool is coarser than stated: read the worst again, or state `deviation`",
                )
            }
            (None, true) if face.redundancy == 0 => {
                let message = format!("no reading of {} is checked by another", face.port);
                let hint = "read further distances between points that have none yet";
                check.finding(Verdict::Unknown, face.at, message).hint(hint)
            }
            (None, true) => {
                let message = format!(
                    "the {} readings of {} agree, with {} more than needed",
                    face.readings.len(),
                    face.port,
                    face.redundancy
                );
                check.finding(Verdict::Holds, face.at, message)
            }
        };
        notes.find(finding.about(About::port(&face.port)));
    }
}

fn wrong(
    check: &Check,
    designed: &Designed<'_>,
    face: &SurveyedFace,
    suspect: &Suspect,
) -> Finding {
    let units = designed.parts.units;
    let reading = &face.readings[suspect.reading];
    let message = format!(
        "the reading {} of {} is {}, and the others say {} with a standard deviation of {}",
        reading.what,
        face.port,
        fine(reading.value_mm, units),
        fine(suspect.should_mm, units),
        fine(suspect.should_sigma_mm, units),
    );
    let alike: Vec<&str> =
        suspect.alike.iter().map(|i| face.readings[*i].what.as_str()).collect();
    let hint = match (alike.as_slice(), suspect.cures) {
        ([], true) => "read it again; without it all agree".to_owned(),
        ([], false) => "read it again; without it the others still do not agree".to_owned(),
        (alike, _) => {
            format!("read it again; as good a guess: {}", alike.join(", "))
        }
    };
    let finding = check.finding(Verdict::Fails, reading.at, message).hint(hint);
    // What is judged is the misfit against what that reading may be off.
    let off = (reading.value_mm - suspect.should_mm).abs();
    let may = NORMALISED_MAX
        * (reading.sigma_mm * reading.sigma_mm
            + suspect.should_sigma_mm * suspect.should_sigma_mm)
            .sqrt();
    finding.judged(off, may, Dimension::Length)
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::marked::{check, holds, verdicts};
    use crate::finding::Verdict;

    /// A rectangle of four holes, 80 by 60 mm, all six distances read.
    pub(in crate::checks) const FACE: &str = r#"
        [device.motor.port.phases.face.hole.A]
        diameter = "6.60 mm"
        [device.motor.port.phases.face.hole.B]
        diameter = "6.62 mm"
        [device.motor.port.phases.face.hole.C]
        diameter = "6.58 mm"
        [device.motor.port.phases.face.hole.D]
        diameter = "6.60 mm"
        [device.motor.port.phases.face] #! unknown plate-layout
        reading = [{ between = ["A", "B"], centres = "80.03 mm" }, { between = ["C", "D"], outside = "86.58 mm" }, { between = ["A", "C"], inside = "93.42 mm" }, { between = ["B", "D"], centres = "100.02 mm" }, { between = ["B", "C"], centres = "59.98 mm" }, { between = ["A", "D"], centres = "60.01 mm" }]
        "#;

    #[test]
    fn readings_that_agree_hold() {
        holds("survey-consistent", FACE);
        assert!(verdicts("survey-consistent", "").is_empty(), "no face, nothing to judge");
    }

    #[test]
    fn a_reading_that_does_not_fit_is_named() {
        let bad = FACE
            .replace(
                r#"["B", "D"], centres = "100.02 mm""#,
                r#"["B", "D"], centres = "101.02 mm""#,
            )
            .replace("60.01 mm\" }]", "60.01 mm\" }] #! fails survey-consistent");
        check(&bad);
    }

    #[test]
    fn readings_that_nothing_checks_are_unknown() {
        let few = r#"
            [device.motor.port.phases.face.hole.A]
            [device.motor.port.phases.face.hole.B]
            [device.motor.port.phases.face.hole.C]
            [device.motor.port.phases.face]
            reading = [{ between = ["A", "B"], centres = "80 mm" }, { between = ["B", "C"], centres = "60 mm" }, { between = ["A", "C"], centres = "90 mm" }]
            "#;
        assert_eq!(verdicts("survey-consistent", few), [Verdict::Unknown]);
    }
}
