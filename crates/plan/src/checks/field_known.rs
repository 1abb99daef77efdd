//! All that makes a magnetic field at a named point is known.
//!
//! A run that is left out, or a current whose frequency nobody stated, adds nothing to a sum that then looks small.
//!
//! Source: common practice.

use super::{Check, Designed};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "field-known",
    rule: "every point of the magnetic field names its distance to each run, and what flows there is known",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for point in designed.field {
        for lack in &point.lacks {
            let message = format!(
                "of {}, {} is not known, and the magnetic field there without it",
                point.name, lack.what
            );
            notes.find(
                check
                    .finding(Verdict::Unknown, point.at, message)
                    .about(About::run(&lack.run))
                    .hint(lack.hint),
            );
        }
        if point.lacks.is_empty() {
            let message = format!("all that makes a magnetic field at {} is known", point.name);
            notes.find(check.finding(Verdict::Holds, point.at, message));
        }
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::marked::{BASE, merge, planned};
    use super::super::view::seen::unknown;
    use crate::finding::Verdict;

    /// What lets the base's ripple be known.
    pub(in super::super) const SEAT: &str = r#"
        [motor]
        kind = "nameplate"
        carrier = "8 kHz"
        [protection]
        capacitance = "620 uF"
        source-inductance = "14 uH"
        [field.point.seat]
        distances = { phases = "1.2 m", dc = "0.9 m" }
        "#;

    #[test]
    fn a_point_with_all_its_runs_holds() {
        let plan = planned(&merge(BASE, SEAT));
        let found = plan.findings.iter().find(|f| f.code == "field-known").unwrap();
        assert_eq!(found.verdict, Verdict::Holds, "{}", found.message);
        assert!(plan.field[0].parts.len() == 3, "phases, direct current and its ripple");
    }

    #[test]
    fn a_run_without_a_distance_is_unknown() {
        let patch = format!("{SEAT}\n[field.point.seat]\ndistances = {{ phases = \"1.2 m\" }}");
        let found = unknown("field-known", "[field.point.seat]", &patch);
        assert!(found.message.contains("distance to run dc"), "{}", found.message);
    }

    #[test]
    fn ripple_of_unknown_frequency_is_unknown() {
        let patch = format!("{SEAT}\n[motor]\ncarrier = absent");
        let found = unknown("field-known", "[field.point.seat]", &patch);
        assert!(found.message.contains("ripple in run dc"), "{}", found.message);
    }

    #[test]
    fn ripple_near_the_resonance_is_unknown() {
        let patch = format!("{SEAT}\n[motor]\ncarrier = \"1 kHz\"");
        let found = unknown("field-known", "[field.point.seat]", &patch);
        assert!(found.hint.unwrap().contains("resonance"));
    }

    #[test]
    fn a_run_whose_current_is_unknown_is_unknown_here_too() {
        let patch = format!("{SEAT}\n[run.phases]\ncurrent = absent");
        let found = unknown("field-known", "[field.point.seat]", &patch);
        assert!(found.message.contains("run phases"), "{}", found.message);
        let patch = format!("{SEAT}\n[run.phases]\nfrequency = absent");
        unknown("field-known", "[field.point.seat]", &patch);
    }
}
