//! Pre-charge is complete when the main contactor closes.
//!
//! What voltage is left drives a current through the closing contacts that is limited by next to nothing, and
//! welds them. Complete is five time constants: 0.7 % left of what the link can reach; what a discharge resistor keeps
//! it from reaching is judged by the current it drives, `contactor-closes`.
//!
//! Source: a reference design of a pre-charge circuit.

use physics::laws::precharge::COMPLETE_TIME_CONSTANTS;
use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "precharge-left",
    rule: "the contactor closes after five time constants or later",
    source: "precharge-reference",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let Some((given, protected)) = designed.protected() else { return };
    let about = About::run(&protected.run);
    let at = given.precharge_s.as_ref().map_or(given.at, |t| t.at);
    let (Some(precharge), Some(volts)) = (&protected.precharge, designed.parts.voltage_v_max)
    else {
        let message = format!("the pre-charge of run {} is not known", protected.run);
        let finding = check.finding(Verdict::Unknown, at, message);
        notes.find(finding.hint(to_know(designed)).about(about));
        return;
    };
    // The assumed time is five time constants to the bit but for rounding.
    let standing_v = precharge.standing_v;
    let share = libm::exp(-COMPLETE_TIME_CONSTANTS) * (1.0 + 1e-9);
    let limit_v = standing_v + (volts - standing_v) * share;
    let verdict = Verdict::at_most(precharge.left_v, limit_v);
    let standing = match 0.0 < standing_v {
        true => format!(
            ", {} of it for ever, for the discharge resistor draws on",
            designed.show(standing_v, Dimension::Voltage)
        ),
        false => String::new(),
    };
    let message = format!(
        "{} are left across the contactor when it closes after {}{}, {} the {} of a complete pre-charge",
        designed.show(precharge.left_v, Dimension::Voltage),
        designed.show(precharge.close_s, Dimension::Time),
        standing,
        below(verdict, precharge.left_v, limit_v),
        designed.show(limit_v, Dimension::Voltage),
    );
    let mut finding = check
        .finding(verdict, at, message)
        .judged(precharge.left_v, limit_v, Dimension::Voltage)
        .about(about);
    if verdict == Verdict::Fails {
        let due_s = COMPLETE_TIME_CONSTANTS * precharge.time_constant_s;
        let due = designed.show(due_s, Dimension::Time);
        finding = finding.hint(format!("close after {due}, or take a smaller resistor"));
    }
    notes.find(finding);
}

/// What is missing, with a resistor to start from where that can be said.
fn to_know(designed: &Designed<'_>) -> String {
    // A second is short for a driver and long for a resistor.
    const CLOSE_S: f64 = 1.0;
    let given = designed.parts.build.protection.as_ref();
    let farads = given.and_then(|g| g.capacitance_f.as_ref()).map(|c| c.value);
    match (farads.filter(|c| *c > 0.0), designed.parts.voltage_v_max) {
        (Some(farads), Some(volts)) => {
            let ohm = CLOSE_S / (COMPLETE_TIME_CONSTANTS * farads);
            format!(
                "state the resistor: `precharge-resistance`; {} completes in {} and takes {} at a peak of {}",
                designed.show(ohm, Dimension::Resistance),
                designed.show(CLOSE_S, Dimension::Time),
                designed.show(0.5 * farads * volts * volts, Dimension::Energy),
                designed.show(volts * volts / ohm, Dimension::Power),
            )
        }
        (None, _) => "add up the DC link capacitors of all devices: `capacitance`".to_owned(),
        (_, None) => "state the highest voltage: `voltage-max`".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn six_time_constants_hold() {
        holds("precharge-left", "");
    }

    #[test]
    fn five_assumed_time_constants_hold() {
        holds("precharge-left", "[protection]\nprecharge-time = absent");
    }

    #[test]
    fn closing_too_early_fails() {
        check(
            r#"
            [protection]
            precharge-time = "100 ms"   #! fails precharge-left
            "#,
        );
    }

    #[test]
    fn without_a_resistor_it_is_unknown() {
        check(
            r#"
            [protection]
            precharge-resistance = absent
            precharge-time = "200 ms"   #! unknown precharge-left
            "#,
        );
    }
}
