//! The fuse outlasts its duty: each window of it lies below what the fuse bears so often, where it sits.
//!
//! A window of ten seconds heats the element like a pulse, one of ten minutes like a steady current. Between them
//! lies the melting curve, lowered for warm air and for how often the load comes back.
//!
//! Source: shares of the melting integral by the number of pulses, an application note; the ambient factor, a guide
//! to semiconductor fuses.

use physics::units::Dimension;

use super::fuses::fused;
use super::{Check, Designed, below};
use crate::design::coordinate::EVER_S;
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-duty",
    rule: "in every window of the duty the current is at most what the fuse bears so often at its air",
    source: "fuse-pulses",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for circuit in fused(designed) {
        let Some(sheet) = circuit.coordination else { continue };
        // What lasts for ever is judged by `fuse-carries`.
        let passing = sheet.loads.iter().filter(|l| l.seconds < EVER_S);
        let judged = passing.filter_map(|l| Some((l, l.may_a?)));
        let hardest = judged.max_by(|a, b| (a.0.rms_a / a.1).total_cmp(&(b.0.rms_a / b.1)));
        let Some((load, may_a)) = hardest else {
            if sheet.loads.iter().any(|l| l.may_a.is_none()) {
                let message =
                    format!("whether fuse {} outlasts its duty is not known", sheet.fuse);
                let finding = circuit.finding(check, Verdict::Unknown, &message);
                notes.find(finding.hint("state the air around the fuse: `fuse-air`"));
            }
            continue;
        };
        let verdict = Verdict::at_most(load.rms_a, may_a);
        let message = format!(
            "{}{} for {} lie {} the {} that fuse {} bears so long, again and again, where it sits",
            load.stretch.as_ref().map_or_else(String::new, |s| format!("{s}: ")),
            designed.show(load.rms_a, Dimension::Current),
            designed.show(load.seconds, Dimension::Time),
            below(verdict, load.rms_a, may_a),
            designed.show(may_a, Dimension::Current),
            sheet.fuse,
        );
        let mut finding = circuit.finding(check, verdict, &message).judged(
            load.rms_a,
            may_a,
            Dimension::Current,
        );
        if verdict == Verdict::Fails {
            finding = finding.hint(
                "a larger fuse, cooler air around it, or fewer such loads in its life: `fuse-cycles`",
            );
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds, verdicts};
    use crate::finding::Verdict;

    #[test]
    fn the_peaks_of_the_base_hold() {
        holds("fuse-duty", "");
    }

    #[test]
    fn a_hundred_thousand_peaks_are_too_many() {
        check(
            r#"
            [protection]   #! fails fuse-duty
            fuse-cycles = 100000
            "#,
        );
    }

    #[test]
    fn hot_air_tires_it_too() {
        let of =
            verdicts("fuse-duty", "[protection]\nfuse = \"gR 250 A\"\nfuse-air = \"70 degC\"");
        assert_eq!(of, [Verdict::Fails]);
    }

    #[test]
    fn without_a_peak_there_is_nothing_to_judge() {
        let patch = "[run.dc]\npeak = absent\npeak-time = absent";
        assert_eq!(verdicts("fuse-duty", patch), []);
    }
}
