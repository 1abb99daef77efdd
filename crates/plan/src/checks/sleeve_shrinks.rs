//! The sleeve shrinks onto the insulation and onto the pressed barrel.
//!
//! The recovered size is a maximum. A sleeve that hangs loose seals nothing and creeps away.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::sides;
use super::{Check, Designed};
use crate::design::ends::sleeve_span_mm;
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "sleeve-shrinks",
    rule: "the sleeve when free to shrink is narrower than the insulation and the pressed barrel",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let (Some(lug), Some(fit)) = (&side.end.lug, &side.end.sleeve) else { continue };
        let Some([_, gripped]) = sleeve_span_mm(&side.site, lug) else { continue };
        let at = side.site.at_end(&side.site.given.given.sleeve);
        let recovered = fit.sleeve.recovered_mm;
        let message = format!(
            "sleeve shrinks to {}, the least it grips is {} at {}",
            side.mm(recovered),
            side.mm(gripped),
            side.port()
        );
        notes.find(
            side.find(check, Verdict::at_most(recovered, gripped), at, message)
                .judged(recovered, gripped, Dimension::Length)
                .hint(format!(
                    "take a sleeve that shrinks to {} or less",
                    side.mm(0.8 * gripped)
                )),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_sleeve_of_high_ratio_grips() {
        holds("sleeve-shrinks", "");
    }

    #[test]
    fn a_sleeve_that_stays_wide_fails() {
        check(
            r#"
            [run.dc.from-end]
            sleeve = "3:1 39/13"   #! fails sleeve-shrinks
            "#,
        );
    }
}
