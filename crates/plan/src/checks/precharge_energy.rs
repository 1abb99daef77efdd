//! The pre-charge resistor bears the energy of one pre-charge.
//!
//! Whatever its ohms, it turns as much energy into heat as the link stores, within a second; many resistors that
//! bear the mean power crack under the pulse. A start into a short takes more: the control must stop it.
//!
//! Source: exact (E = C V2 / 2); "size the resistor by pulse energy and length", a reference design.

use physics::units::Dimension;

use super::{Check, Designed, above};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "precharge-energy",
    rule: "the rated pulse energy of the pre-charge resistor is at least C V2 / 2",
    source: "precharge-reference",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let Some((given, protected)) = designed.protected() else { return };
    // Without the resistor or the link `precharge-left` says what is missing.
    let Some(precharge) = &protected.precharge else { return };
    let about = About::run(&protected.run);
    let energy = designed.show(precharge.energy_j, Dimension::Energy);
    let Some(rated) = &given.precharge_j else {
        let message = format!("whether the pre-charge resistor bears {energy} is not known");
        notes.find(
            check
                .finding(Verdict::Unknown, given.at, message)
                .hint("take its pulse energy from its sheet: `precharge-energy`")
                .about(about),
        );
        return;
    };
    let verdict = Verdict::at_least(rated.value, precharge.energy_j);
    let message = format!(
        "the pre-charge resistor bears {}, {} the {energy} of one pre-charge",
        designed.show(rated.value, Dimension::Energy),
        above(verdict, rated.value, precharge.energy_j),
    );
    notes.find(
        check
            .finding(verdict, rated.at, message)
            .judged(rated.value, precharge.energy_j, Dimension::Energy)
            .about(about),
    );
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_wire_wound_resistor_holds() {
        holds("precharge-energy", "");
    }

    #[test]
    fn a_small_resistor_fails() {
        check(
            r#"
            [protection]
            precharge-energy = "40 J"   #! fails precharge-energy
            "#,
        );
    }
}
