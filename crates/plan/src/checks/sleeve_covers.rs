//! The shrunk sleeve covers the bare conductor, the barrel and a diameter of insulation.
//!
//! It also gets shorter as it shrinks: a sleeve cut to the length it must cover leaves copper bare.
//!
//! Source: common practice, no source; shortening of 5 to 15 % read in sellers' sheets.

use physics::units::Dimension;

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "sleeve-covers",
    rule: "the sleeve after shrinking covers the gap, the barrel and one diameter of insulation",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let Some(fit) = &side.end.sleeve else { continue };
        let at = side.site.at_end(&side.site.given.given.sleeve_length_mm);
        let covers = fit.shrunk_mm >= fit.cover_mm - 1e-9;
        let message = format!(
            "sleeve cut to {} shrinks to {}, {} must be covered at {}",
            side.mm(fit.length_mm),
            side.mm(fit.shrunk_mm),
            side.mm(fit.cover_mm),
            side.port()
        );
        notes.find(
            side.find(check, Verdict::kept(covers), at, message)
                .judged(fit.shrunk_mm, fit.cover_mm, Dimension::Length)
                .hint("cut it longer, or leave `sleeve-length` out and it is computed"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_computed_sleeve_covers() {
        holds("sleeve-covers", "");
    }

    #[test]
    fn a_short_sleeve_fails() {
        check(
            r#"
            [run.dc.from-end]
            sleeve-length = "30 mm"   #! fails sleeve-covers
            "#,
        );
    }
}
