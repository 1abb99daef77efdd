//! The cable leaves its lug straight before it bends.
//!
//! A cable that bends at once pulls strands against the edge of the barrel, and they break there.
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
    code: "straight-after-lug",
    rule: "the cable is straight for one diameter behind the lug, better two",
    source: "cable-maker-rules",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(straight(check, &side));
    }
}

fn straight(check: &Check, side: &Side<'_>) -> Option<Finding> {
    side.end.lug.as_ref()?;
    let diameter_mm = side.site.cable?.diameter_mm_max;
    let (least_mm, good_mm) =
        (STRAIGHT_AFTER_END.0 * diameter_mm, STRAIGHT_AFTER_END.1 * diameter_mm);
    let given = &side.site.given.given.straight_after_lug_mm;
    let at = side.site.at_end(given);
    let Some(stated) = given else {
        let message = format!(
            "straight length behind the lug at {} is not known, {} are needed",
            side.port(),
            side.mm(least_mm)
        );
        let hint = "measure along the cable from the barrel's mouth to where its bend begins and state `straight-after-lug`";
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
        "the cable is straight for {} behind the lug at {}, at least {} and better {}",
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
        holds("straight-after-lug", "");
    }

    #[test]
    fn a_bend_at_once_fails() {
        check(
            r#"
            [run.dc.to-end]
            straight-after-lug = "10 mm"   #! fails straight-after-lug
            "#,
        );
    }

    #[test]
    fn one_diameter_is_close() {
        let found =
            verdicts("straight-after-lug", "[run.dc.to-end]\nstraight-after-lug = \"20 mm\"");
        assert!(found.contains(&Verdict::Close), "{found:?}");
    }

    #[test]
    fn an_unmeasured_start_is_asked_for() {
        check(
            r#"
            [run.dc.to-end]   #! unknown straight-after-lug
            straight-after-lug = absent
            "#,
        );
    }
}
