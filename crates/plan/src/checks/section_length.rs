//! The sections of a run are no longer than the run.
//!
//! What does not fit is cut off where the run ends, and its heat with it.
//!
//! Source: arithmetic.

use physics::units::Dimension;

use super::{Check, Designed};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "section-length",
    rule: "the sections of a run are together no longer than the run",
    source: "exact",
    judge,
};

/// What a tape may be off.
const SLACK: f64 = 0.01;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let sections = &run.parts.run.sections;
        let (Some(first), Some(path_mm)) = (sections.first(), run.length.path_mm) else {
            continue;
        };
        let whole_mm = path_mm + run.length.inside_mm.iter().flatten().sum::<f64>();
        let stated_mm: f64 =
            sections.iter().filter_map(|s| s.length_mm.as_ref()).map(|l| l.value).sum();
        let fits = stated_mm <= whole_mm * (1.0 + SLACK);
        let verdict = if fits { Verdict::Holds } else { Verdict::Fails };
        let message = format!(
            "the sections of run {} are {} long together, {} the {} from terminal to terminal",
            run.id,
            designed.show(stated_mm, Dimension::Length),
            if fits { "within" } else { "more than" },
            designed.show(whole_mm, Dimension::Length),
        );
        let mut finding = check
            .finding(verdict, first.at, message)
            .judged(stated_mm, whole_mm, Dimension::Length)
            .about(About::run(run.id));
        if !fits {
            finding = finding.hint("measure the sections along the cable, or the run again");
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn sections_within_the_run_hold() {
        holds("section-length", "[[run.phases.section]]\nlength = \"400 mm\"");
    }

    #[test]
    fn sections_beyond_the_run_fail() {
        check(
            r#"
            [run.phases]
            conductor = "2/0 AWG"
            [[run.phases.section]]   #! fails section-length
            length = "9 m"
            air = "30 degC"
            "#,
        );
    }
}
