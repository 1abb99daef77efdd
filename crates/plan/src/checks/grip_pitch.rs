//! Grips side by side can be turned: their corners clear each other, and a spanner fits between.
//!
//! Below corner to corner they cannot be screwed in at all. Where only an open spanner does not fit between them, a crow-foot
//! or a socket from above still turns them: that is close, not broken.
//!
//! Source: widths across corners as read for chamfered grips; head of an open spanner 2.2 times its opening (memory).

use physics::laws::spanner::{Tool, grip_pitch_mm_min};
use physics::units::Dimension;

use super::view::{Fitted, plates};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "grip-pitch",
    rule: "neighbouring grips stand far enough apart to be turned",
    source: "common-practice",
    judge,
};

/// Air kept between what turns and what stands.
const PLAY_MM: f64 = 1.0;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        notes.findings.extend(pitch(check, &fitted));
    }
}

fn pitch(check: &Check, fitted: &Fitted<'_>) -> Option<Finding> {
    if fitted.plate.grips.len() < 2 {
        return None;
    }
    // On a surveyed face the grips are placed, and each pair is held to its own distance.
    if let Some(laid) = &fitted.plate.laid {
        return other_than_stated(check, fitted, laid.pitch_mm?);
    }
    // The two widest may be neighbours.
    let mut flats: Vec<f64> = fitted.plate.grips.iter().map(|g| g.grip.flats_mm).collect();
    let mut corners: Vec<f64> = fitted.plate.grips.iter().map(|g| g.grip.corners_mm).collect();
    flats.sort_by(|a, b| b.total_cmp(a));
    corners.sort_by(|a, b| b.total_cmp(a));
    let touching = (corners[0] + corners[1]) / 2.0 + PLAY_MM;
    if !(flats[0] > 0.0) {
        return None;
    }
    let open = grip_pitch_mm_min(flats[0], Tool::OpenSpanner, PLAY_MM);
    let given = &fitted.given.grip_pitch_mm;
    let at = fitted.at(given);
    let Some(pitch) = given else {
        let message = format!("distance between the grips of {} is not known", fitted.name());
        let hint = format!(
            "state `grip-pitch`: {} to screw them in, {} for an open spanner",
            fitted.mm(touching),
            fitted.mm(open)
        );
        return Some(fitted.find(check, Verdict::Unknown, at, message).hint(hint));
    };
    let (verdict, limit) = if pitch.value < touching {
        (Verdict::Fails, touching)
    } else if pitch.value < open {
        (Verdict::Close, open)
    } else {
        (Verdict::Holds, open)
    };
    let message = format!(
        "grips of {} at {} centres, {} apart to be screwed in, {} for an open spanner",
        fitted.name(),
        fitted.mm(pitch.value),
        fitted.mm(touching),
        fitted.mm(open)
    );
    let hint = match verdict {
        Verdict::Fails => "put them farther apart, or take grips with a smaller hexagon",
        Verdict::Close | Verdict::Unknown | Verdict::Holds => {
            "turn them with a crow-foot or a slotted socket from above, the middle one first"
        }
    };
    Some(
        fitted
            .find(check, verdict, at, message)
            .judged(pitch.value, limit, Dimension::Length)
            .hint(hint),
    )
}

/// A stated pitch that the layout on the face did not come to.
fn other_than_stated(check: &Check, fitted: &Fitted<'_>, laid_mm: f64) -> Option<Finding> {
    let stated = fitted.given.grip_pitch_mm.as_ref()?;
    if (stated.value - laid_mm).abs() <= PLAY_MM {
        return None;
    }
    let message = format!(
        "grips are laid out {} apart on the face of {}, `grip-pitch` says {}",
        fitted.mm(laid_mm),
        fitted.name(),
        fitted.mm(stated.value)
    );
    let found = fitted.find(check, Verdict::Close, stated.at, message);
    Some(found.hint("leave `grip-pitch` out, or state every grip's place in `grip-at`"))
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};
    use super::super::view::FACED;
    use super::super::view::seen::finds;
    use crate::finding::Verdict;

    #[test]
    fn grips_apart_hold() {
        holds("grip-pitch", "");
    }

    #[test]
    fn grips_whose_corners_meet_fail() {
        check(
            r#"
            [device.inverter.port.dc.plate]
            grip-pitch = "35 mm"   #! fails grip-pitch
            [run.dc.to-end]
            grip = "M25x1.5 brass 11.1-20"
            "#,
        );
    }

    #[test]
    fn an_unknown_distance_is_asked_for() {
        check(
            r#"
            [device.inverter.port.dc.plate]   #! unknown grip-pitch
            grip-pitch = absent
            "#,
        );
    }

    #[test]
    fn another_pitch_than_that_of_the_face_is_said() {
        let patch = FACED.replace("grip-pitch = absent", "grip-pitch = \"70 mm\"");
        finds(Verdict::Close, "grip-pitch", "grip-pitch", &patch);
    }
}
