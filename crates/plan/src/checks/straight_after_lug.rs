//! The cable leaves its lug straight before it bends.
//!
//! A cable that bends at once pulls strands against the edge of the barrel, and they break there.
//!
//! Source: that of [`super::straight`].

use super::straight::{Start, straight};
use super::view::sides;
use super::{Check, Designed};
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "straight-after-lug",
    rule: "the cable is straight for one diameter behind the lug, better two",
    source: "cable-maker-rules",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed).iter().filter(|side| side.end.lug.is_some()) {
        let start = Start {
            given: &side.site.given.given.straight_after_lug_mm,
            key: "straight-after-lug",
            where_: "behind the lug",
            from: "the barrel's mouth",
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
