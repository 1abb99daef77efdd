//! The bend of a palm stays off what lies flat on the pad.
//!
//! Under a washer that reaches into the bend the palm lifts, and the bolt presses on an edge.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "palm-bend-place",
    rule: "the tongue of a bent palm is long enough for the washer to lie flat before the bend begins",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(place(check, &side));
    }
}

fn place(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let bend = side.end.bend.as_ref()?;
    let at = side.site.at_end(&side.site.given.given.palm);
    let room_mm = bend.tongue_mm - bend.arc_mm;
    let message = format!(
        "before the bend at {} the palm is flat for {} from the bolt's centre, {} are needed",
        side.port(),
        side.mm(room_mm),
        side.mm(bend.flat_mm)
    );
    Some(
        side.find(check, Verdict::at_least(room_mm, bend.flat_mm), at, message)
            .judged(room_mm, bend.flat_mm, Dimension::Length)
            .hint("take a lug with a longer tongue or a smaller washer, or bend it tighter within its rule"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_long_tongue_holds() {
        holds("palm-bend-place", "");
    }

    #[test]
    fn a_wide_bend_reaches_under_the_washer() {
        check(
            r#"
            [run.phases.to-end]    #! fails tool-access
            palm = "bent"          #! fails palm-bend-place
            palm-radius = "12 mm"
            "#,
        );
    }
}
