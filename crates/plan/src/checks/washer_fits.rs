//! The washer is made in the thread, covers the hole and lies on the palm with its whole face.
//!
//! Source: ISO 7089, ISO 7093-1, DIN 6796.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "washer-fits",
    rule: "the washer covers the lug's hole and is no wider than the palm and the pad",
    source: "iso-7089",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(fits(check, &side));
    }
}

fn fits(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let (lug, stack) = (side.end.lug.as_ref()?, side.end.stack.as_ref()?);
    let given = &side.site.given.given.washer;
    let at = side.site.at_end(given);
    let thread = side.site.thread()?.designation();
    let Some(washer) = &stack.washer else {
        let form = given.as_ref().map(|w| w.value.as_str()).filter(|w| *w != "none");
        let shelf = side.site.parts.shelf;
        return match form {
            Some(form) => {
                let made: Vec<&str> = shelf
                    .washers
                    .iter()
                    .filter(|w| w.thread == thread)
                    .map(|w| w.form.as_str())
                    .collect();
                let message =
                    format!("there is no washer `{form}` in {thread} for {}", side.port());
                let hint = format!("washers in {thread} are {} or none", made.join(", "));
                Some(side.find(check, Verdict::Fails, at, message).hint(hint))
            }
            None => None,
        };
    };
    let covers = washer.outside_mm > lug.hole_mm;
    let pad = side.site.port.port.pad_width_mm.as_ref().map_or(f64::INFINITY, |w| w.value);
    let room = lug.palm_width_mm.min(pad);
    let lies = washer.outside_mm <= room;
    let message = format!(
        "washer of {} on a palm of {} with a hole of {} at {}",
        side.mm(washer.outside_mm),
        side.mm(lug.palm_width_mm),
        side.mm(lug.hole_mm),
        side.port()
    );
    let limit = if covers { room } else { lug.hole_mm };
    Some(
        side.find(check, Verdict::kept(covers && lies), at, message)
            .judged(washer.outside_mm, limit, Dimension::Length)
            .hint("take a plain washer of the bolt's thread, or a flanged head and none"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_plain_washer_fits() {
        holds("washer-fits", "");
    }

    #[test]
    fn a_wide_washer_overhangs_the_palm() {
        check(
            r#"
            [run.dc.from-end]
            washer = "wide"   #! fails washer-fits
            "#,
        );
    }

    #[test]
    fn a_washer_that_is_not_made_fails() {
        check(
            r#"
            [run.dc.from-end]
            washer = "square"   #! fails washer-fits
            "#,
        );
    }
}
