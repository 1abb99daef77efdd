//! The points known in a photograph of a face fit the picture.
//!
//! Limit: the root mean square of their residuals on the face is at most 0.2 mm (common practice, no
//! source): beyond it a wrong point, a bent card or the lens is at work, not the clicking.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::design::survey::fine;
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "survey-photo-residual",
    rule: "the points known in a photograph of a face fit it within 0.2 mm, root mean square",
    source: "common-practice",
    judge,
};

/// Root mean square allowed on the face.
const RESIDUAL_MM_MAX: f64 = 0.2;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for face in designed.faces {
        let Some(photo) = &face.photo else { continue };
        let about = About::port(&face.port);
        if photo.redundancy == 0 {
            let message = format!(
                "nothing checks the {} known points in the photograph of {}",
                photo.known.len(),
                face.port
            );
            let hint = "click one more point whose place is known";
            let finding = check.finding(Verdict::Unknown, photo.at, message).hint(hint);
            notes.find(finding.about(about));
            continue;
        }
        let verdict = Verdict::at_most(photo.rms_mm, RESIDUAL_MM_MAX);
        let message = format!(
            "the known points in the photograph of {} fit within {} ({:.1} pixels), {} the most of {}",
            face.port,
            fine(photo.rms_mm, designed.parts.units),
            photo.rms_px,
            below(verdict, photo.rms_mm, RESIDUAL_MM_MAX),
            fine(RESIDUAL_MM_MAX, designed.parts.units),
        );
        let mut finding = check.finding(verdict, photo.at, message);
        let worst = photo.known.iter().max_by(|a, b| a.residual_mm.total_cmp(&b.residual_mm));
        if let (Verdict::Fails, Some(worst)) = (verdict, worst) {
            finding = finding.hint(format!(
                "{} is farthest off, by {}: click it again, or fit the lens with `distortion`",
                worst.name,
                fine(worst.residual_mm, designed.parts.units)
            ));
        }
        let finding = finding.judged(photo.rms_mm, RESIDUAL_MM_MAX, Dimension::Length);
        notes.find(finding.about(about));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{holds, verdicts};
    use crate::finding::Verdict;

    /// A card of 85.6 by 54 mm seen square at ten pixels a millimetre, with a fifth mark; two holes on it.
    fn face(fifth_px: f64) -> String {
        let mut text = String::from(
            "[device.motor.port.phases.face.hole.A]\n[device.motor.port.phases.face.hole.B]\n\
             [device.motor.port.phases.face.photo]\nsize = [2000, 1500]\n",
        );
        let marks = [
            ("K1", 0.0, 0.0, 0.0),
            ("K2", 85.6, 0.0, 0.0),
            ("K3", 85.6, 54.0, 0.0),
            ("K4", 0.0, 54.0, 0.0),
            ("K5", 42.0, 30.0, fifth_px),
        ];
        for (name, x, y, off) in marks {
            let (u, v) = (500.0 + 10.0 * x + off, 1000.0 - 10.0 * y);
            text.push_str(&format!(
                "[device.motor.port.phases.face.photo.point.{name}]\nat = [\"{x} mm\", \"{y} mm\"]\npixel = [{u}, {v}]\n"
            ));
        }
        for (name, u, v) in [("A", 600.0, 900.0), ("B", 1100.0, 700.0)] {
            text.push_str(&format!(
                "[device.motor.port.phases.face.photo.point.{name}]\npixel = [{u}, {v}]\n"
            ));
        }
        text
    }

    #[test]
    fn points_that_fit_hold_and_the_holes_have_their_places() {
        holds("survey-photo-residual", &face(0.0));
        holds("survey-determined", &face(0.0));
    }

    #[test]
    fn a_wrong_click_fails() {
        assert_eq!(verdicts("survey-photo-residual", &face(20.0)), [Verdict::Fails]);
    }

    #[test]
    fn four_points_check_nothing() {
        let four = face(0.0).replace("at = [\"42 mm\", \"30 mm\"]\n", "");
        let four = four
            .replace("K5]", "A2]")
            .replace("hole.B]", "hole.B]\n[device.motor.port.phases.face.hole.A2]");
        assert_eq!(verdicts("survey-photo-residual", &four), [Verdict::Unknown]);
    }
}
