//! The screen of a screened cable is bonded at one end at least.
//!
//! A screen that hangs free takes the voltage of its core through the insulation's capacitance, and screens nothing. Bonded
//! at one end it stays near earth; bonded at both it also screens the magnetic field and carries a current round.
//!
//! Source: common practice, no source.

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};
use crate::given::build::Screen;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "screen-landed",
    rule: "how a screen ends is stated at both ends, and it is bonded at one of them or both",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    // Both sides of a run stand next to each other.
    let all = sides(designed);
    for side in &all {
        let other =
            all.iter().find(|s| s.end.run == side.end.run && s.end.side != side.end.side);
        notes.findings.extend(landed(check, side, other));
    }
}

fn landed(check: &Check, side: &Side<'_>, other: Option<&Side<'_>>) -> Option<Finding> {
    let how = |side: &Side<'_>| side.end.screen.as_ref().map(|s| s.how);
    let mine = how(side)?;
    let at = side.site.at_end(&side.site.given.given.screen);
    let Some(mine) = mine else {
        let message = format!("how the screen ends at {} is not stated", side.port());
        let hint = "state `screen`: \"grip-contact\", \"pigtail\" or \"none\"";
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint).safety());
    };
    let bonded = |how: Screen| how != Screen::None;
    let far = other.and_then(how).flatten();
    let run = &side.end.run;
    let (verdict, message) = match (bonded(mine), far.map(bonded)) {
        (true, Some(true)) => (
            Verdict::Holds,
            format!("the screen of {run} is bonded at both ends: it carries a current round"),
        ),
        (true, _) => {
            (Verdict::Holds, format!("the screen of {run} is bonded at {}", side.port()))
        }
        (false, Some(true)) => (
            Verdict::Holds,
            format!(
                "the screen of {run} ends free at {} and is bonded at its other end",
                side.port()
            ),
        ),
        (false, _) => (Verdict::Fails, format!("the screen of {run} is bonded at neither end")),
    };
    Some(side.find(check, verdict, at, message).hint(
        "bond it at the inverter's end at least: `screen = \"grip-contact\"` or a short pigtail",
    ))
}

#[cfg(test)]
mod tests {
    use super::super::marked::verdicts;
    use super::super::view::seen::{fails, unknown};
    use crate::finding::Verdict;

    const CABLE: &str = "[run.dc]\ncable = \"flex-125-screened\"\nconductor = \"2/0 AWG\"\n";

    fn with(from: &str, to: &str) -> String {
        format!("{CABLE}[run.dc.from-end]\nscreen = {from}\n[run.dc.to-end]\nscreen = {to}")
    }

    #[test]
    fn a_cable_without_a_screen_is_not_asked() {
        assert_eq!(verdicts("screen-landed", ""), []);
    }

    #[test]
    fn a_screen_bonded_at_one_end_or_both_holds() {
        for (from, to) in
            [("\"none\"", "\"grip-contact\""), ("\"pigtail\"", "\"grip-contact\"")]
        {
            assert_eq!(verdicts("screen-landed", &with(from, to)), [Verdict::Holds; 2]);
        }
    }

    #[test]
    fn a_screen_that_hangs_free_fails() {
        fails("screen-landed", "screen", &with("\"none\"", "\"none\""));
    }

    #[test]
    fn an_unstated_screen_is_asked_for() {
        let found = unknown("screen-landed", "from-end", CABLE);
        assert!(found.safety);
    }
}
