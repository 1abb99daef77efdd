//! The cable leaves its grip straight before it bends.
//!
//! A cable that bends at once lifts the seal on one side and leaks.
//!
//! Source: that of [`super::straight`].

use super::straight::{Start, straight};
use super::view::sides;
use super::{Check, Designed};
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "straight-after-grip",
    rule: "the cable is straight for one diameter outside the grip, better two",
    source: "cable-maker-rules",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed).iter().filter(|side| side.end.grip.is_some()) {
        let start = Start {
            given: &side.site.given.given.straight_after_grip_mm,
            key: "straight-after-grip",
            where_: "outside the grip",
            from: "the grip's nut",
        };
        notes.findings.extend(straight(check, side, &start));
    }
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
