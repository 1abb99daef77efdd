//! A bent palm is bent no tighter than its tongue's thickness.
//!
//! The outside of a tongue bent to a radius of one thickness stretches by a third, which annealed copper bears
//! once; bent sharp it doubles its length and tears.
//!
//! Source: common practice; a rule of one thickness for copper bar was read on a page of poor standing.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "palm-bend-radius",
    rule: "a bent palm has an inside radius of at least the thickness of its tongue",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(radius(check, &side));
    }
}

fn radius(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let bend = side.end.bend.as_ref()?;
    let at = side.site.at_end(&side.site.given.given.palm_radius_mm);
    let message = format!(
        "the palm at {} is bent to a radius of {} inside, its tongue asks for {}",
        side.port(),
        side.mm(bend.radius_mm),
        side.mm(bend.radius_mm_min)
    );
    Some(
        side.find(check, Verdict::kept(bend.radius_mm >= bend.radius_mm_min), at, message)
            .judged(bend.radius_mm, bend.radius_mm_min, Dimension::Length)
            .hint("bend it over a rounder edge, once, or take a lug made at a right angle"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_bend_over_a_rounded_jaw_holds() {
        holds("palm-bend-radius", "");
    }

    #[test]
    fn a_bend_over_a_sharp_jaw_fails() {
        check(
            r#"
            [run.phases.to-end]
            palm-radius = "1 mm"   #! fails palm-bend-radius
            "#,
        );
    }
}
