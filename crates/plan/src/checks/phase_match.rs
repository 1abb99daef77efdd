//! Phase letters and polarity match at both ends of every cable.
//!
//! A swapped pair of phases turns the motor the wrong way or trips the drive; a swapped DC pair destroys
//! the inverter the moment the contactors close. Letters of one alphabet must therefore go to themselves.
//!
//! Source: common practice, no source.

use super::{Check, Designed};
use crate::finding::{About, Finding, Notes, Verdict};
use crate::given::parts::{CablePair, DC_LABELS, PHASE_LABELS};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "phase-match",
    rule: "a cable joins terminals of the same letter or polarity",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in &designed.parts.runs {
        let id = &run.run.id.value;
        let swapped: Vec<&CablePair> = run.cables.iter().filter(|c| is_swapped(c)).collect();
        for cable in &swapped {
            let message = format!(
                "{} at {} goes to {} at {}",
                cable.from,
                designed.parts.ports[run.from].name,
                cable.to,
                designed.parts.ports[run.to].name
            );
            notes.find(
                Finding::new(check.code, Verdict::Fails, cable.at, check.source, message)
                    .hint(format!("{0} goes to {0}", cable.from))
                    .about(About::cable(id, &cable.from)),
            );
        }
        if swapped.is_empty() && !run.cables.is_empty() {
            let letters: Vec<String> =
                run.cables.iter().map(|c| format!("{} to {}", c.from, c.to)).collect();
            notes.find(
                Finding::new(
                    check.code,
                    Verdict::Holds,
                    run.run.id.at,
                    check.source,
                    letters.join(", "),
                )
                .about(About::run(id)),
            );
        }
    }
}

fn is_swapped(cable: &CablePair) -> bool {
    let one_alphabet = |labels: &[&str]| {
        labels.contains(&cable.from.as_str()) && labels.contains(&cable.to.as_str())
    };
    cable.from != cable.to
        && (one_alphabet(&PHASE_LABELS[..3])
            || one_alphabet(&PHASE_LABELS[3..])
            || one_alphabet(&DC_LABELS[..2])
            || one_alphabet(&DC_LABELS[2..]))
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn equal_letters_hold() {
        holds("phase-match", "");
    }

    #[test]
    fn a_swapped_phase_fails() {
        check(
            r#"
            [run.phases]
            cables = { U = "V", V = "U", W = "W" }   #! fails phase-match
            "#,
        );
    }

    #[test]
    fn a_swapped_pole_fails() {
        check(
            r#"
            [run.dc]
            cables = { "+" = "-", "-" = "+" }   #! fails phase-match
            "#,
        );
    }
}
