//! Bends as laid are no tighter than the cable bears.
//!
//! Tighter, the insulation thins on the outside and wrinkles within, a braid opens, and strands break
//! where the run flexes. Radius is judged to the inside of the bend: half a diameter less than to the
//! axis, where it is stated.
//!
//! Source: DIN VDE 0298-3 for cables without a screen; makers' custom for braided ones.

use physics::laws::bend;
use physics::units::Dimension;

use super::{Check, Designed, above};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "bend-radius",
    rule: "the inside of every bend is at least 3 to 8 diameters, by screen and movement",
    source: "din-vde-0298-3",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(cable) = &run.size.cable else { continue };
        let moves = run.parts.run.moves.as_ref().is_some_and(|m| m.value);
        let name = match (cable.screened, moves) {
            (false, false) => "vde-fixed",
            (false, true) => "vde-free",
            (true, false) => "vehicle-screened-fixed",
            (true, true) => "vehicle-screened-moving",
        };
        let rule = bend::find(name).expect("the rule is in the law's table");
        let diameter_mm = cable.diameter_mm_max;
        let least_mm = rule.bend_radius_mm_min(diameter_mm);
        let times = rule.multiple(diameter_mm);
        let hint = format!(
            "{}: {times} diameters of {} to the inside, {} to the axis",
            rule.condition,
            designed.show(diameter_mm, Dimension::Length),
            designed.show(least_mm + diameter_mm / 2.0, Dimension::Length),
        );
        let about = About::run(run.id);
        let Some(stated) = &run.parts.run.bend_radius_mm else {
            let message = format!("the tightest bend of run {} is not stated", run.id);
            let finding = check.finding(Verdict::Unknown, run.parts.run.id.at, message);
            let hint = format!("measure it to the axis: `bend-radius`; {hint}");
            notes.find(finding.hint(hint).about(about));
            continue;
        };
        let inside_mm = stated.value - diameter_mm / 2.0;
        let verdict = Verdict::at_least(inside_mm, least_mm);
        let message = format!(
            "the tightest bend of run {} is {} to its inside, {} the least of {}",
            run.id,
            designed.show(inside_mm, Dimension::Length),
            above(verdict, inside_mm, least_mm),
            designed.show(least_mm, Dimension::Length),
        );
        notes.find(
            check
                .finding(verdict, stated.at, message)
                .judged(inside_mm, least_mm, Dimension::Length)
                .hint(hint)
                .about(about),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn wide_bends_hold() {
        holds("bend-radius", "");
    }

    #[test]
    fn a_bend_round_a_bottle_fails() {
        check(
            r#"
            [run.phases]
            bend-radius = "45 mm"   #! fails bend-radius
            "#,
        );
    }

    #[test]
    fn an_unmeasured_bend_is_unknown() {
        check(
            r#"
            [run.dc]   #! unknown bend-radius
            bend-radius = absent
            "#,
        );
    }
}
