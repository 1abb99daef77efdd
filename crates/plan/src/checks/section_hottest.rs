//! Every section of a run stays below the limit of its conductor.
//!
//! A run is as good as its worst half metre; this says which that is, so that it can be laid elsewhere instead
//! of making the whole run thicker.
//!
//! Source: the heat network of the run; the limit is the cable's class, or the maker's lower one.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "section-hottest",
    rule: "the conductor stays below its limit in every section of a run",
    source: "churchill-chu-1975",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(heat) = &run.size.heat else { continue };
        let Some(profile) = &heat.profile else { continue };
        for section in &profile.sections {
            let Some(given) = section.given.and_then(|i| run.parts.run.sections.get(i)) else {
                continue;
            };
            let verdict = Verdict::at_most(section.steady_c, heat.limit_c);
            let message = format!(
                "conductor {} of run {} settles at {} in {}, {} from its first terminal, {} its limit of {}",
                section.cable,
                run.id,
                designed.show(section.steady_c, Dimension::Temperature),
                section.name,
                designed.show(1000.0 * section.at_m, Dimension::Length),
                below(verdict, section.steady_c, heat.limit_c),
                designed.show(heat.limit_c, Dimension::Temperature),
            );
            let mut finding = check
                .finding(verdict, given.at, message)
                .judged(section.steady_c, heat.limit_c, Dimension::Temperature)
                .about(About::cable(run.id, &section.cable));
            if verdict != Verdict::Holds {
                finding = finding.hint(
                    "lay this part where the air is cooler or moves, apart from its neighbours, or out of its tube",
                );
            }
            notes.find(finding);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, merge, planned};
    use crate::finding::Verdict;

    fn verdicts(air: &str) -> Vec<Verdict> {
        let text = merge(BASE, "[run.phases]\nconductor = \"2/0 AWG\"")
            + &format!(
                "\n[[run.phases.section]]\nlength = \"500 mm\"\nair = \"20 degC\"\n[[run.phases.section]]\n\
                 length = \"800 mm\"\nair = \"{air}\"\nin = \"conduit\"\n"
            );
        let plan = planned(&text);
        plan.findings
            .iter()
            .filter(|f| f.code == "section-hottest")
            .map(|f| f.verdict)
            .collect()
    }

    #[test]
    fn cool_sections_hold() {
        assert_eq!(verdicts("20 degC"), [Verdict::Holds; 2]);
    }

    #[test]
    fn a_hot_section_fails() {
        assert!(verdicts("95 degC").contains(&Verdict::Fails));
        let plan = planned(&merge(BASE, ""));
        assert!(!plan.findings.iter().any(|f| f.code == "section-hottest"), "none is stated");
    }
}
