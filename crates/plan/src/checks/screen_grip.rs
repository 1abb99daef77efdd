//! A screen that ends in its grip finds a contact there, all round and of its size.
//!
//! A grip's contact takes the braid over the core; a grip without one clamps the sheath only, and its screen touches nothing.
//! The contact is taken to reach from the grip's smallest cable less a sheath to its largest.
//!
//! Source: common practice, no source; sheath over the braid by the shelf's rule for screened cable.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};
use crate::given::build::Screen;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "screen-grip",
    rule: "a screen that ends in a grip has a grip with a screen contact that clamps over it",
    source: "common-practice",
    judge,
};

/// What foil and braid add to the core's diameter (shelf/cables.toml).
const BRAID_MM: f64 = 1.0;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(contact(check, &side));
    }
}

fn contact(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let screen = side.end.screen.as_ref()?;
    let cable = side.site.cable?;
    let at = side.site.at_end(&side.site.given.given.screen);
    if screen.how != Some(Screen::GripContact) {
        return None;
    }
    let fails = |message: String, hint: &str| {
        Some(side.find(check, Verdict::Fails, at, message).hint(hint))
    };
    let Some(grip) = &side.end.grip else {
        let message =
            format!("the screen at {} is to end in a grip, and there is none", side.port());
        return fails(message, "end it in a pigtail, or state a plate with grips");
    };
    if !grip.screen_contact {
        let message =
            format!("grip {} at {} has no contact for the screen", grip.row.id, side.port());
        return fails(
            message,
            "take a grip with a screen contact, or end the screen in a pigtail",
        );
    }
    let screen_mm = cable.core_diameter_mm + BRAID_MM;
    let sheath_mm = cable.diameter_mm_max - screen_mm;
    let least_mm = (grip.clamp_mm_min - sheath_mm).max(0.0);
    let holds = least_mm <= screen_mm && screen_mm <= grip.clamp_mm_max;
    let message = format!(
        "a screen of {} over its core in grip {} at {}, whose contact takes {} to {}",
        side.mm(screen_mm),
        grip.row.id,
        side.port(),
        side.mm(least_mm),
        side.mm(grip.clamp_mm_max)
    );
    Some(
        side.find(check, Verdict::kept(holds), at, message)
            .judged(
                screen_mm,
                if screen_mm < least_mm { least_mm } else { grip.clamp_mm_max },
                Dimension::Length,
            )
            .hint("take the grip whose sheet names this screen's diameter"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::fails;

    const CABLE: &str = "[run.dc]\ncable = \"flex-125-screened\"\nconductor = \"2/0 AWG\"\n";

    #[test]
    fn a_contact_of_the_right_size_holds() {
        let patch = format!("{CABLE}[run.dc.to-end]\nscreen = \"grip-contact\"");
        holds("screen-grip", &patch);
    }

    #[test]
    fn a_grip_without_a_contact_fails() {
        let patch = format!(
            "{CABLE}[run.dc.to-end]\nscreen = \"grip-contact\"\ngrip = \"M32x1.5 brass 17-26.3\""
        );
        fails("screen-grip", "screen = ", &patch);
    }

    #[test]
    fn a_port_without_a_grip_fails() {
        let patch = format!("{CABLE}[run.dc.from-end]\nscreen = \"grip-contact\"");
        fails("screen-grip", "screen = ", &patch);
    }

    #[test]
    fn a_contact_far_too_wide_fails() {
        let patch = format!(
            "{CABLE}[run.dc.to-end]\nscreen = \"grip-contact\"\ngrip = \"M50x1.5 brass screen 27-35\""
        );
        fails("screen-grip", "screen = ", &patch);
    }
}
