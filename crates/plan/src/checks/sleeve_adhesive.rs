//! The sleeve is lined with adhesive.
//!
//! Water runs along strands into the box and along the barrel under an unlined sleeve.
//!
//! Source: common practice, no source.

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "sleeve-adhesive",
    rule: "the sleeve is lined with adhesive",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let Some(fit) = &side.end.sleeve else { continue };
        let at = side.site.at_end(&side.site.given.given.sleeve);
        let lined = if fit.sleeve.adhesive { "is lined" } else { "is not lined" };
        let message = format!("sleeve {} at {} {lined}", fit.sleeve.row.id, side.port());
        notes.find(
            side.find(check, Verdict::kept(fit.sleeve.adhesive), at, message)
                .hint("take an adhesive-lined sleeve"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::fails;

    #[test]
    fn a_lined_sleeve_holds() {
        holds("sleeve-adhesive", "");
    }

    #[test]
    fn a_bare_sleeve_fails() {
        fails("sleeve-adhesive", "sleeve", "[run.dc.from-end]\nsleeve = \"2:1 25.4/12.7\"");
    }
}
