//! Between screen and lug the core stands long enough for the lug's sleeve.
//!
//! The sleeve seals on the core over one diameter; a screen that reaches under it is an earthed edge at a live barrel.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "screen-strip",
    rule: "the core between screen and lug is at least one core diameter long",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(core(check, &side));
    }
}

fn core(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let screen = side.end.screen.as_ref()?;
    screen.how?;
    let given = &side.site.port.port.inside_length_mm;
    let at = side.site.at_port(given);
    let Some(core_mm) = screen.core_mm else {
        let message = format!("how far the sheath comes off at {} is not known", side.port());
        let hint = "state `inside-length` of the port, and a lug that exists: they settle the lengths to strip";
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint));
    };
    let message = format!(
        "{} of core stand between screen and conductor at {}, its sleeve needs {}",
        side.mm(core_mm.max(0.0)),
        side.port(),
        side.mm(screen.core_mm_min)
    );
    Some(
        side.find(check, Verdict::at_least(core_mm, screen.core_mm_min), at, message)
            .judged(core_mm, screen.core_mm_min, Dimension::Length)
            .hint("end the screen in the grip's contact, or bring the entry farther from the terminals"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::fails;

    const CABLE: &str = "[run.dc]\ncable = \"flex-125-screened\"\nconductor = \"2/0 AWG\"\n";

    #[test]
    fn a_deep_box_holds() {
        holds("screen-strip", &format!("{CABLE}[run.dc.to-end]\nscreen = \"grip-contact\""));
    }

    #[test]
    fn a_shallow_box_fails() {
        let patch = format!(
            "{CABLE}[run.dc.to-end]\nscreen = \"pigtail\"\n[device.inverter.port.dc]\ninside-length = \"40 mm\""
        );
        fails("screen-strip", "inside-length", &patch);
    }
}
