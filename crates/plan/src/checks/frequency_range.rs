//! The stated frequency is an electrical frequency of a drive.
//!
//! Motor speed is often typed in its place. 3000 Hz is 45 000 rev/min with four pole pairs, beyond any
//! traction motor in use.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "frequency-range",
    rule: "the frequency of a phase run is at most 3000 Hz",
    source: "common-practice",
    judge,
};

const FREQUENCY_HZ_MAX: f64 = 3000.0;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(frequency) = &run.parts.run.frequency_hz else { continue };
        let hertz = frequency.value;
        let verdict = Verdict::kept((0.0..=FREQUENCY_HZ_MAX).contains(&hertz));
        let message = format!(
            "the frequency of run {}, {}, lies {} the highest of drives, {}",
            run.id,
            designed.show(hertz, Dimension::Frequency),
            below(verdict),
            designed.show(FREQUENCY_HZ_MAX, Dimension::Frequency),
        );
        let mut finding = check
            .finding(verdict, frequency.at, message)
            .judged(hertz, FREQUENCY_HZ_MAX, Dimension::Frequency)
            .about(About::run(run.id));
        if verdict == Verdict::Fails {
            finding = finding.hint("electrical frequency = motor rev/min x pole pairs / 60");
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, holds, merge, planned};
    use crate::finding::Verdict;

    #[test]
    fn a_drive_holds() {
        holds("frequency-range", "");
    }

    #[test]
    fn a_motor_speed_in_its_place_fails() {
        let plan = planned(&merge(BASE, "[run.phases]\nfrequency = \"9000 Hz\""));
        let found = plan.findings.iter().find(|f| f.code == "frequency-range").unwrap();
        assert_eq!(found.verdict, Verdict::Fails);
    }
}
