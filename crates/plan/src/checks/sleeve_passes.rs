//! The sleeve slides over the cable and over the barrel.
//!
//! It goes on along the cable and back over the crimp. The supplied size is a minimum; the usual slack is a fifth.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::sides;
use super::{Check, Designed};
use crate::design::ends::sleeve_span_mm;
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "sleeve-passes",
    rule: "the sleeve as supplied is wider than the cable and the barrel",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let (Some(lug), Some(fit)) = (&side.end.lug, &side.end.sleeve) else { continue };
        let Some([passed, _]) = sleeve_span_mm(&side.site, lug) else { continue };
        let at = side.site.at_end(&side.site.given.given.sleeve);
        let supplied = fit.sleeve.supplied_mm;
        let message = format!(
            "sleeve of {} over {} at {}",
            side.mm(supplied),
            side.mm(passed),
            side.port()
        );
        notes.find(
            side.find(check, Verdict::at_least(supplied, passed), at, message)
                .judged(supplied, passed, Dimension::Length)
                .hint(format!(
                    "take a sleeve of {} or more as supplied",
                    side.mm(1.2 * passed)
                )),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_wide_sleeve_passes() {
        holds("sleeve-passes", "");
    }

    #[test]
    fn a_narrow_sleeve_fails() {
        check(
            r#"
            [run.dc.from-end]
            sleeve = "3:1 12/4"   #! fails sleeve-passes
            "#,
        );
    }
}
