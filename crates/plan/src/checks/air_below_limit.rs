//! The air is cooler than the conductor may be.
//!
//! Where it is not, no conductor is thick enough: even without current the insulation would be too hot.
//!
//! Source: follows from the temperature class of the cable (ISO 6722-1, ISO 19642).

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "air-below-limit",
    rule: "the air along a run is cooler than its conductor may be",
    source: "iso-19642",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        // Air that is too hot leaves the run without a cable; its family says what it bears.
        let cable = run.size.cable.as_ref().or(run.parts.choice.first().copied());
        let (Some(air_c), Some(cable)) = (run.parts.air_c, cable) else { continue };
        let stated = run.parts.run.limit_c.as_ref().map_or(cable.limit_c, |l| l.value);
        let limit_c = stated.min(cable.limit_c);
        let verdict = Verdict::kept(air_c < limit_c);
        let message = format!(
            "the air along run {}, {}, lies {} what its conductor may reach, {}",
            run.id,
            designed.show(air_c, Dimension::Temperature),
            below(verdict, air_c, limit_c),
            designed.show(limit_c, Dimension::Temperature),
        );
        let about = About::run(run.id);
        let at = run.at(&run.parts.run.air_c);
        let mut finding = check
            .finding(verdict, at, message)
            .judged(air_c, limit_c, Dimension::Temperature)
            .about(about);
        if verdict == Verdict::Fails {
            finding = finding.hint("lay the run elsewhere, or take a cable of a higher class");
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_warm_bay_holds() {
        holds("air-below-limit", "");
    }

    #[test]
    fn beside_an_exhaust_fails() {
        check(
            r#"
            [run.dc]
            drop-max = absent
            air = "155 degC"   #! fails air-below-limit
            [protection]   #! unknown fuse-cable-withstand; unknown fuse-clears; unknown fuse-overload
            "#,
        );
    }
}
