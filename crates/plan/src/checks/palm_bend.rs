//! A palm that is used bent may be bent.
//!
//! Annealed tube lugs are commonly bent once at a right angle; heavy pressed lugs crack at the palm.
//!
//! Source: common practice, no source.

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};
use crate::given::build::Palm;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "palm-bend",
    rule: "a palm that is used bent belongs to a lug that may be bent",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let Some(lug) = &side.end.lug else { continue };
        let at = side.site.at_end(&side.site.given.given.palm);
        let (verdict, message) = match (side.end.palm, lug.bendable) {
            (Palm::Straight, _) => {
                (Verdict::Holds, format!("lug {} is used straight", lug.row.id))
            }
            (Palm::Bent, true) => (Verdict::Holds, format!("lug {} may be bent", lug.row.id)),
            (Palm::Bent, false) => {
                (Verdict::Fails, format!("lug {} is not made to be bent", lug.row.id))
            }
        };
        notes.find(
            side.find(check, verdict, at, format!("{message} at {}", side.port())).hint(
                "take a lug of annealed tube, or one made with its palm at a right angle",
            ),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_tube_lug_may_be_bent() {
        holds("palm-bend", "");
    }

    #[test]
    fn a_heavy_lug_may_not() {
        check(
            r#"
            [workshop]
            dies = ["50", "70", "16"]
            [run.phases]
            sizes = "metric"
            conductor = "70 mm2"
            [run.phases.from-end]
            die = "70"
            [run.phases.to-end]     #! fails tool-access; close sleeve-off-palm
            lug = "DIN 70 mm2 M8"   #! close lug-family
            bolt = "M8x20"
            palm = "bent"   #! fails palm-bend; fails palm-bend-place
            die = "16"
            "#,
        );
    }
}
