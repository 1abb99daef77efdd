//! The cable leaves its grip straight before it bends.
//!
//! A cable that bends at once lifts the seal on one side and leaks.
//!
//! Source: "cables are not allowed to be bent directly after the plug or the crimping area" read in a cable maker's
//! rules; one to two diameters from memory.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

use physics::laws::bend::STRAIGHT_AFTER_END;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "straight-after-grip",
    rule: "the cable is straight for one diameter outside the grip, better two",
    source: "cable-maker-rules",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(straight(check, &side));
    }
}

fn straight(check: &Check, side: &Side<'_>) -> Option<Finding> {
    side.end.grip.as_ref()?;
    let diameter_mm = side.site.cable?.diameter_mm_max;
    let (least_mm, good_mm) =
        (STRAIGHT_AFTER_END.0 * diameter_mm, STRAIGHT_AFTER_END.1 * diameter_mm);
    let given = &side.site.given.given.straight_after_grip_mm;
    let at = side.site.at_end(given);
    let Some(stated) = given else {
        let message = format!(
            "straight length outside the grip at {} is not known, {} are needed",
            side.port(),
            side.mm(least_mm)
        );
        let hint = "measure along the cable from the grip's nut to where its bend begins and state `straight-after-grip`";
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint));
    };
    let verdict = if stated.value < least_mm {
        Verdict::Fails
    } else if stated.value < good_mm {
        Verdict::Close
    } else {
        Verdict::Holds
    };
    let message = format!(
        "the cable is straight for {} outside the grip at {}, at least {} and better {}",
        side.mm(stated.value),
        side.port(),
        side.mm(least_mm),
        side.mm(good_mm)
    );
    Some(
        side.find(check, verdict, at, message)
            .judged(stated.value, least_mm, Dimension::Length)
            .hint("move the first bend away, or turn the entry towards where the cable goes"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds, verdicts};
    use crate::finding::Verdict;

    #[test]
    fn a_straight_start_holds() {
        holds("straight-after-grip", "");
    }

    #[test]
    fn a_bend_at_once_fails() {
        check(
            r#"
            [run.dc.to-end]
            straight-after-grip = "10 mm"   #! fails straight-after-grip
            "#,
        );
    }

    #[test]
    fn one_diameter_is_close() {
        let found =
            verdicts("straight-after-grip", "[run.dc.to-end]\nstraight-after-grip = \"20 mm\"");
        assert!(found.contains(&Verdict::Close), "{found:?}");
    }

    #[test]
    fn an_unmeasured_start_is_asked_for() {
        check(
            r#"
            [run.dc.to-end]   #! unknown straight-after-grip
            straight-after-grip = absent
            "#,
        );
    }
}
