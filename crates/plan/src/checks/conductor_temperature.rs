//! The conductor settles below its limit at the continuous current.
//!
//! Above its class the insulation ages in months instead of years, and softens under the grip and at
//! every clip. Where current, air or frequency is unknown the stage has said so already.
//!
//! Source: temperature classes of ISO 6722-1 and ISO 19642; the maker's own lower limit where stated.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "conductor-temperature",
    rule: "the conductor settles at or below its limit at the continuous current",
    source: "iso-19642",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(heat) = &run.size.heat else { continue };
        let current = designed.show(heat.current_a_rms, Dimension::Current);
        let limit = designed.show(heat.limit_c, Dimension::Temperature);
        let (verdict, message) = match heat.conductor_c {
            Some(conductor_c) => {
                let verdict = Verdict::at_most(conductor_c, heat.limit_c);
                let message = format!(
                    "conductor {} of run {} settles at {} with {current}, {} its limit of {limit}",
                    heat.cable,
                    run.id,
                    designed.show(conductor_c, Dimension::Temperature),
                    below(verdict, conductor_c, heat.limit_c),
                );
                (verdict, message)
            }
            None => {
                let message = format!(
                    "conductor {} of run {} never settles with {current}: it heats faster than it cools",
                    heat.cable, run.id
                );
                (Verdict::Fails, message)
            }
        };
        let at = run.at(&run.parts.run.current_a_rms);
        let about = About::cable(run.id, &heat.cable);
        let mut finding = check.finding(verdict, at, message).about(about);
        if let Some(conductor_c) = heat.conductor_c {
            finding = finding.judged(conductor_c, heat.limit_c, Dimension::Temperature);
        }
        if verdict != Verdict::Holds {
            let rating = designed.show(heat.rating_a, Dimension::Current);
            finding = finding.hint(format!("it carries {rating} for ever where it lies"));
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_size_chosen_holds() {
        holds("conductor-temperature", "");
    }

    #[test]
    fn a_size_fixed_too_small_fails() {
        check(
            r#"
            [run.dc]   #! close grip-temperature
            conductor = "1/0 AWG"
            peak = absent
            peak-time = absent
            limit = "90 degC"
            current = "214 A"   #! fails conductor-temperature
            [run.dc.from-end]   #! close lug-temperature
            die = "50"   #! fails crimp-die
            [run.dc.to-end]     #! close lug-temperature
            die = "50"   #! fails crimp-die
            [protection]   #! fails fuse-carries; fails overload-limit
            "#,
        );
    }
}
