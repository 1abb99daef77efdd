//! Air and altitude are those of a vehicle on the ground.
//!
//! The laws of heat are used from -60 to 200 degC and up to 9000 m; a value outside is a slip of the
//! unit, and the plan would be about another world.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::{Check, Designed};
use crate::design::settle::AIR_C;
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "air-range",
    rule: "air is from -60 to 200 degC, altitude from -1000 to 9000 m",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let given = &designed.parts.build.surroundings;
    let altitude_mm = 1000.0 * designed.parts.around.altitude_m;
    let (lowest_mm, highest_mm) = (-1.0e6, 9.0e6);
    if !(lowest_mm..=highest_mm).contains(&altitude_mm) {
        let at = given.altitude_mm.as_ref().map(|a| a.at).unwrap_or_default();
        let shown = designed.show(altitude_mm, Dimension::Length);
        let limit = designed.show(highest_mm, Dimension::Length);
        let message = format!("no road leads to an altitude of {shown}, beyond {limit}");
        notes.find(
            check
                .finding(Verdict::Fails, at, message)
                .judged(altitude_mm, highest_mm, Dimension::Length)
                .hint("check the unit"),
        );
    }
    for run in designed.runs() {
        let Some(air_c) = run.parts.air_c else { continue };
        let inside = AIR_C.contains(&air_c);
        let limit_c = if air_c < *AIR_C.start() { *AIR_C.start() } else { *AIR_C.end() };
        let stated = run.parts.run.air_c.as_ref().or(given.air_c.as_ref());
        let at = stated.map_or(run.parts.run.id.at, |a| a.at);
        let message = format!(
            "air of {} along run {} lies {} the range from {} to {}",
            designed.show(air_c, Dimension::Temperature),
            run.id,
            if inside { "within" } else { "outside" },
            designed.show(*AIR_C.start(), Dimension::Temperature),
            designed.show(*AIR_C.end(), Dimension::Temperature),
        );
        let mut finding = check
            .finding(Verdict::kept(inside), at, message)
            .judged(air_c, limit_c, Dimension::Temperature)
            .about(About::run(run.id));
        if !inside {
            finding = finding.hint("check the unit; no heat is worked out for such air");
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, check, holds, merge, planned};
    use crate::finding::Verdict;

    #[test]
    fn a_hot_day_holds() {
        holds("air-range", "");
    }

    #[test]
    fn arctic_air_below_all_weather_fails() {
        check(
            r#"
            [run.dc]
            air = "-80 degC"   #! fails air-range
            "#,
        );
    }

    #[test]
    fn an_altitude_in_the_wrong_unit_fails_and_stops_nothing() {
        let plan = planned(&merge(BASE, "[surroundings]\naltitude = \"800 km\""));
        let found = plan.findings.iter().find(|f| f.code == "air-range").unwrap();
        assert_eq!(found.verdict, Verdict::Fails);
        assert!(plan.sizes.iter().all(|s| s.heat.is_some()));
    }
}
