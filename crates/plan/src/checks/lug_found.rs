//! A lug made for the conductor and the thread exists, and its palm fits.
//!
//! A lug for another conductor cannot be crimped soundly, one for another stud cannot be landed.
//!
//! Source: common practice, no source.

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};
use crate::given::build::Palm;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "lug-found",
    rule: "every end has a lug made for its conductor and thread whose palm fits the pad",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let given = &side.site.given.given.lug;
        if let Some(lug) = &side.end.lug {
            let message = format!("lug {} for {} at {}", lug.row.id, lug.size, side.port());
            notes.find(side.find(check, Verdict::Holds, side.site.at_end(given), message));
            continue;
        }
        // A name that leads nowhere, an unsettled size and an unknown thread are findings of their own.
        if given.is_some() || side.site.cable.is_none() || side.site.thread().is_none() {
            continue;
        }
        notes.find(none_fits(check, &side));
    }
}

fn none_fits(check: &Check, side: &Side<'_>) -> crate::finding::Finding {
    let port = side.site.port.port;
    let size = side.site.cable.map(|c| c.size.to_string()).unwrap_or_default();
    let thread = port.thread.as_ref().map(|t| t.value.clone()).unwrap_or_default();
    let room = match (&port.pad_width_mm, &port.pitch_mm) {
        (Some(width), _) => format!(" with a palm within {}", side.mm(width.value)),
        (None, Some(pitch)) if port.terminals.len() > 1 => {
            format!(" with a palm under {}", side.mm(pitch.value))
        }
        _ => String::new(),
    };
    let bent = match side.site.palm() {
        Palm::Bent => " that may be bent",
        Palm::Straight => "",
    };
    let message =
        format!("no lug on the shelf for {size} and {thread}{room}{bent} at {}", side.port());
    side.find(check, Verdict::Fails, side.site.at_port(&port.thread), message)
        .hint("add one of your own to parts.toml, or choose a conductor size that has one")
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_lug_that_fits_is_found() {
        holds("lug-found", "");
    }

    #[test]
    fn a_pad_too_narrow_for_every_lug_fails() {
        check(
            r#"
            [device.battery.port.main]
            thread = "M8"          #! fails lug-found
            pad-width = "5 mm"
            "#,
        );
    }
}
