//! The monitor warns before the insulation of the joined circuits falls to its limit.
//!
//! With the contactors closed battery and phases are one circuit behind the inverter, and the stricter limit holds
//! for both. A monitor set for the battery alone warns five times too late.
//!
//! Source: UN R100 5.1.3: 100 ohm/V for DC alone, 500 ohm/V for AC and for both joined, 100 again where the AC side
//! has double insulation or housings as robust.

use physics::units::Dimension;

use super::{Check, Designed, above};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "isolation-limit",
    rule: "the isolation monitor warns at no less than the limit of the circuits as joined",
    source: "un-r100",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let Some((given, protected)) = designed.protected() else { return };
    let Some(joined) = protected.circuits.iter().find(|c| c.governs) else { return };
    let about = About::run(&protected.run);
    let ohm = |v| designed.show(v, Dimension::Resistance);
    let limit = format!(
        "{} of {} ({:.0} ohm for each volt)",
        ohm(joined.least_ohm),
        joined.name,
        joined.ohm_per_v
    );
    let Some(alarm) = &given.isolation_alarm_ohm else {
        let message = format!("whether a monitor warns above the {limit} is not known");
        notes.find(
            check
                .finding(Verdict::Unknown, given.at, message)
                .hint("state where it warns: `isolation-alarm`; without a monitor, measure at every service")
                .about(about),
        );
        return;
    };
    let verdict = Verdict::at_least(alarm.value, joined.least_ohm);
    let message = format!(
        "the monitor warns at {}, {} the {limit}",
        ohm(alarm.value),
        above(verdict, alarm.value, joined.least_ohm),
    );
    let mut finding = check
        .finding(verdict, alarm.at, message)
        .judged(alarm.value, joined.least_ohm, Dimension::Resistance)
        .about(about);
    if verdict == Verdict::Fails {
        finding = finding.hint("set it higher");
    }
    notes.find(finding);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_monitor_of_the_base_holds() {
        holds("isolation-limit", "");
    }

    #[test]
    fn one_set_for_the_battery_alone_fails() {
        // 403 V: 40.3 kohm would do for DC alone, 201.5 kohm are asked of both.
        check(
            r#"
            [protection]
            isolation-alarm = "60 kohm"   #! fails isolation-limit
            "#,
        );
    }

    #[test]
    fn protected_phases_are_held_to_the_dc_limit() {
        holds(
            "isolation-limit",
            "[protection]\nac-protected = true\nisolation-alarm = \"60 kohm\"",
        );
    }

    #[test]
    fn no_monitor_is_unknown() {
        check(
            r#"
            [protection]   #! unknown isolation-limit
            isolation-alarm = absent
            "#,
        );
    }
}
