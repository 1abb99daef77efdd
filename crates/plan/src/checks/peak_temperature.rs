//! The conductor stays below its limit to the end of the stated peak.
//!
//! The peak starts from the warm conductor, because it may follow a long climb.
//!
//! Source: temperature classes of ISO 6722-1 and ISO 19642; heating as IEC 60853-2.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "peak-temperature",
    rule: "the conductor is at or below its limit at the end of the stated peak, warm start",
    source: "iec-60853-2",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(heat) = &run.size.heat else { continue };
        let Some(peak) = &heat.peak else { continue };
        let verdict = Verdict::at_most(peak.conductor_c, heat.limit_c);
        let message = format!(
            "conductor {} of run {} reaches {} after {} at {}, {} its limit of {}",
            heat.cable,
            run.id,
            designed.show(peak.conductor_c, Dimension::Temperature),
            designed.show(peak.seconds, Dimension::Time),
            designed.show(peak.current_a_rms, Dimension::Current),
            below(verdict, peak.conductor_c, heat.limit_c),
            designed.show(heat.limit_c, Dimension::Temperature),
        );
        let at = run.at(&run.parts.run.peak_a_rms);
        let mut finding = check
            .finding(verdict, at, message)
            .judged(peak.conductor_c, heat.limit_c, Dimension::Temperature)
            .about(About::cable(run.id, &heat.cable));
        if let Some(seconds) = peak.to_limit_s {
            let seconds = designed.show(seconds, Dimension::Time);
            finding = finding.hint(format!("it bears this peak for {seconds} from warm"));
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_size_chosen_holds() {
        holds("peak-temperature", "");
    }

    #[test]
    fn a_size_fixed_too_small_fails() {
        check(
            r#"
            [run.phases]
            conductor = "2/0 AWG"
            peak = "500 A"   #! fails peak-temperature
            "#,
        );
    }
}
