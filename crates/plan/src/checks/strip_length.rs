//! The stripped length fills the barrel and shows a little.
//!
//! Too short and the crimp holds half a conductor; too long and bare copper stands out of the sleeve.
//!
//! Source: common practice, no source: barrel depth plus 1 to 5 mm.

use physics::units::Dimension;

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "strip-length",
    rule: "the stripped length is that of the barrel and no more than 5 mm longer",
    source: "common-practice",
    judge,
};

/// Bare conductor that may be seen at most.
const SEEN_MM_MAX: f64 = 5.0;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let (Some(lug), Some(strip)) = (&side.end.lug, side.end.strip_mm) else { continue };
        let at = side.site.at_end(&side.site.given.given.strip_mm);
        let (least, most) = (lug.barrel_depth_mm, lug.barrel_depth_mm + SEEN_MM_MAX);
        let limit = if strip < least { least } else { most };
        let message = format!(
            "strip {} for a barrel {} deep at {}",
            side.mm(strip),
            side.mm(least),
            side.port()
        );
        notes.find(
            side.find(check, Verdict::kept(least <= strip && strip <= most), at, message)
                .judged(strip, limit, Dimension::Length)
                .hint(format!("strip between {} and {}", side.mm(least + 1.0), side.mm(most))),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_barrel_and_a_little_more_holds() {
        holds("strip-length", "");
    }

    #[test]
    fn half_a_barrel_and_twice_a_barrel_fail() {
        check(
            r#"
            [run.dc.from-end]
            strip = "10 mm"   #! fails strip-length
            [run.phases.from-end]
            strip = "40 mm"   #! fails strip-length
            sleeve-length = "75 mm"
            "#,
        );
    }
}
