//! Where a port has a plate, a cord grip exists that clamps the cable.
//!
//! A screened cable wants a grip that takes its screen; a plain one has no use for the contact.
//!
//! Source: common practice, no source.

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "grip-found",
    rule: "every cable that enters through a plate has a grip that clamps it over its whole range",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let Some(plate) = &side.site.port.plate else { continue };
        let given = &side.site.given.given.grip;
        let at = side.site.at_end(given);
        if let Some(grip) = &side.end.grip {
            let message = format!("grip {} at {}", grip.row.id, side.port());
            notes.find(side.find(check, Verdict::Holds, at, message));
            continue;
        }
        let Some(cable) = side.site.cable else { continue };
        if given.is_some() {
            // A name that leads nowhere is a finding of the look-up.
            continue;
        }
        let thread = plate.given.grip_thread.as_ref();
        let into = thread.map(|t| format!(" into {}", t.value)).unwrap_or_default();
        let screen = if cable.screened { " with its screen" } else { "" };
        let message = format!(
            "no grip on the shelf{into} clamps {} to {}{screen} at {}",
            side.mm(cable.diameter_mm_min),
            side.mm(cable.diameter_mm_max),
            side.port()
        );
        let at = thread.map_or(at, |t| t.at);
        notes.find(
            side.find(check, Verdict::Fails, at, message)
                .hint("measure the cable and name its diameters in parts.toml, or cut the plate for another thread"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_grip_is_found() {
        holds("grip-found", "");
    }

    #[test]
    fn a_thread_too_small_for_the_cable_fails() {
        check(
            r#"
            [device.inverter.port.dc.plate]
            grip-thread = "M16x1.5"   #! fails grip-found
            "#,
        );
    }
}
