//! The link discharges below 60 V in the time stated.
//!
//! A link that has lost its contactors looks discharged and is not. Whatever the resistor, wait, and prove with a
//! meter.
//!
//! Source: 60 V DC is the limit of UN R100; the time is the maker's own.

use physics::laws::precharge;
use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::design::protect::TOUCH_V;
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "discharge-time",
    rule: "the discharge resistor brings the link below 60 V within `discharge-time`",
    source: "un-r100",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let Some((given, protected)) = designed.protected() else { return };
    let about = About::run(&protected.run);
    let touch = designed.show(TOUCH_V, Dimension::Voltage);
    let (Some(seconds), Some(limit)) = (protected.discharge_s, &given.discharge_s) else {
        let message = format!(
            "whether the link of run {} falls below {touch} in time is not known",
            protected.run
        );
        let finding = check.finding(Verdict::Unknown, given.at, message);
        notes.find(finding.hint(to_know(designed)).about(about));
        return;
    };
    let verdict = Verdict::at_most(seconds, limit.value);
    let message = format!(
        "the link falls below {touch} in {}, {} the {} stated",
        designed.show(seconds, Dimension::Time),
        below(verdict, seconds, limit.value),
        designed.show(limit.value, Dimension::Time),
    );
    let at = given.discharge_ohm.as_ref().map_or(limit.at, |r| r.at);
    let mut finding = check
        .finding(verdict, at, message)
        .judged(seconds, limit.value, Dimension::Time)
        .about(about);
    if verdict == Verdict::Fails {
        finding = finding.hint(to_know(designed));
    }
    notes.find(finding);
}

/// The largest resistor that would do, or what is missing to say so.
fn to_know(designed: &Designed<'_>) -> String {
    let given = designed.parts.build.protection.as_ref();
    let number = |m: Option<f64>| m.filter(|v| *v > 0.0);
    let farads = number(given.and_then(|g| g.capacitance_f.as_ref()).map(|c| c.value));
    let seconds = number(given.and_then(|g| g.discharge_s.as_ref()).map(|t| t.value));
    match (farads, seconds, designed.parts.voltage_v_max) {
        (Some(farads), Some(seconds), Some(volts)) if volts > TOUCH_V => {
            let ohm = precharge::bleed_resistance_ohm_max(farads, volts, TOUCH_V, seconds);
            let ohm = designed.show(ohm, Dimension::Resistance);
            format!("a resistor of at most {ohm} does it: `discharge-resistance`")
        }
        _ => "state `capacitance`, `discharge-resistance` and `discharge-time`, or what the inverter's maker \
              says of its own discharge"
            .to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_bleeder_of_some_kiloohm_holds() {
        holds("discharge-time", "");
    }

    #[test]
    fn a_large_resistor_fails() {
        check(
            r#"
            [protection]
            discharge-resistance = "22 kohm"   #! fails discharge-time
            "#,
        );
    }

    #[test]
    fn without_a_resistor_it_is_unknown() {
        check(
            r#"
            [protection]   #! unknown discharge-time
            discharge-resistance = absent
            "#,
        );
    }
}
