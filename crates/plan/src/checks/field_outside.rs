//! A point of the magnetic field lies outside of the cables.
//!
//! The distance goes to the middle of the run's cables. Less than to the outermost surface is a slip of the tape, or
//! measured to the nearest cable.
//!
//! Source: geometry.

use physics::units::Dimension;

use super::{Check, Designed};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "field-outside",
    rule: "a point of the magnetic field lies outside of the cables",
    source: "geometry",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for point in designed.field {
        for within in &point.within {
            let message = format!(
                "{} lies {} from the middle of the cables of run {}, and their outside {}",
                point.name,
                designed.show(within.distance_mm, Dimension::Length),
                within.run,
                designed.show(within.least_mm, Dimension::Length),
            );
            notes.find(
                check
                    .finding(Verdict::Fails, within.at, message)
                    .judged(within.distance_mm, within.least_mm, Dimension::Length)
                    .about(About::run(&within.run))
                    .hint(
                        "measure again, to the middle of the cables, from where a body begins",
                    ),
            );
        }
        if point.within.is_empty() && !point.parts.is_empty() {
            let message = format!("{} lies outside of the cables", point.name);
            notes.find(check.finding(Verdict::Holds, point.at, message));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::field_known::tests::SEAT;
    use super::super::marked::{BASE, merge, planned};
    use super::super::view::seen::fails;
    use crate::finding::Verdict;

    #[test]
    fn a_point_between_the_cables_fails() {
        let patch = format!(
            "{SEAT}\n[field.point.seat]\ndistances = {{ phases = \"12 mm\", dc = \"0.9 m\" }}"
        );
        let found = fails("field-outside", "distances", &patch);
        assert!(found.limit.unwrap().value > 12.0);
        let plan = planned(&merge(BASE, &patch));
        let level = plan.findings.iter().find(|f| f.code == "field-guideline").unwrap();
        assert_eq!(level.verdict, Verdict::Unknown, "a field between cables is not judged");
    }

    #[test]
    fn a_point_beside_them_holds() {
        let plan = planned(&merge(BASE, SEAT));
        let found = plan.findings.iter().find(|f| f.code == "field-outside").unwrap();
        assert_eq!(found.verdict, Verdict::Holds);
    }
}
