//! The discharge resistor bears the pack's voltage for as long as the vehicle is on.
//!
//! It is chosen for five seconds and heats for hours: across the link it turns V2 / R into heat all the time.
//!
//! Source: Joule's law.

use physics::units::Dimension;

use super::{Check, Designed, above};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "discharge-power",
    rule: "the discharge resistor is rated for V2 / R at the highest voltage",
    source: "exact",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let Some((given, protected)) = designed.protected() else { return };
    // Without a resistor `discharge-time` says what is missing.
    let Some(discharge) = &protected.discharge else { return };
    let about = About::run(&protected.run);
    let power = designed.show(discharge.power_w, Dimension::Power);
    let Some(rated) = &given.discharge_w else {
        let at = given.discharge_ohm.as_ref().map_or(given.at, |r| r.at);
        let message =
            format!("whether the discharge resistor bears {power} for ever is not known");
        notes.find(
            check
                .finding(Verdict::Unknown, at, message)
                .hint("take its power where it sits from its sheet: `discharge-power`")
                .about(about),
        );
        return;
    };
    let verdict = Verdict::at_least(rated.value, discharge.power_w);
    let message = format!(
        "the discharge resistor bears {}, {} the {power} it takes while the pack is on",
        designed.show(rated.value, Dimension::Power),
        above(verdict, rated.value, discharge.power_w),
    );
    let mut finding = check
        .finding(verdict, rated.at, message)
        .judged(rated.value, discharge.power_w, Dimension::Power)
        .about(about);
    if verdict == Verdict::Fails {
        finding = finding
            .hint("a resistor of more watts, or one that is switched in only to discharge");
    }
    notes.find(finding);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_hundred_watts_hold() {
        holds("discharge-power", "");
    }

    #[test]
    fn a_small_resistor_fails() {
        // 403 V squared over 3.3 kohm is 49.2 W.
        check(
            r#"
            [protection]
            discharge-power = "45 W"   #! fails discharge-power
            "#,
        );
    }

    #[test]
    fn an_unknown_rating_is_unknown() {
        check(
            r#"
            [protection]
            discharge-power = absent
            discharge-resistance = "3.3 kohm"   #! unknown discharge-power
            "#,
        );
    }
}
