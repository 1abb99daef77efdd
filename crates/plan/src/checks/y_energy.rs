//! The Y-capacitors hold no more energy than a touch may release.
//!
//! Capacitors from the bus to the chassis discharge through whoever touches one pole, however good the isolation.
//!
//! Source: ISO 6469-4 5.2.3: 0.2 J.

use physics::laws::isolation::{TOUCH_ENERGY_J_MAX, capacitance_f_max};
use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "y-energy",
    rule: "the Y-capacitors hold at most 0.2 J at the highest voltage",
    source: "iso-6469-4",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let Some((given, protected)) = designed.protected() else { return };
    let about = About::run(&protected.run);
    let Some(energy_j) = protected.y_energy_j else {
        let message = "the energy in the Y-capacitors is not known".to_owned();
        notes.find(
            check
                .finding(Verdict::Unknown, given.at, message)
                .hint("add up those of all devices on the bus, both poles: `y-capacitance`")
                .about(about),
        );
        return;
    };
    let verdict = Verdict::at_most(energy_j, TOUCH_ENERGY_J_MAX);
    let message = format!(
        "the Y-capacitors hold {}, {} the {} a touch may release",
        designed.show(energy_j, Dimension::Energy),
        below(verdict, energy_j, TOUCH_ENERGY_J_MAX),
        designed.show(TOUCH_ENERGY_J_MAX, Dimension::Energy),
    );
    let at = given.y_capacitance_f.as_ref().map_or(given.at, |c| c.at);
    let mut finding = check
        .finding(verdict, at, message)
        .judged(energy_j, TOUCH_ENERGY_J_MAX, Dimension::Energy)
        .about(about);
    if let (Verdict::Fails, Some(volts)) = (verdict, designed.parts.voltage_v_max) {
        let farads = capacitance_f_max(TOUCH_ENERGY_J_MAX, volts);
        let farads = designed.show(farads, Dimension::Capacitance);
        finding = finding.hint(format!("at most {farads} in all"));
    }
    notes.find(finding);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn one_inverter_holds() {
        holds("y-energy", "");
    }

    #[test]
    fn many_filters_fail() {
        check(
            r#"
            [protection]
            y-capacitance = "4.7 uF"   #! fails y-energy
            "#,
        );
    }

    #[test]
    fn unknown_filters_are_unknown() {
        check(
            r#"
            [protection]   #! unknown y-energy
            y-capacitance = absent
            "#,
        );
    }
}
