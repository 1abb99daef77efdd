//! The conductor stays below its limit over the duty: the drive repeated until it no longer changes, then every
//! hard case from warm.
//!
//! Source: temperature classes of ISO 6722-1 and ISO 19642; heating as IEC 60853-2.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "duty-temperature",
    rule: "the conductor is at or below its limit at the hottest moment of the duty",
    source: "iec-60853-2",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(heat) = &run.size.heat else { continue };
        let Some(driven) = &heat.driven else { continue };
        let verdict = Verdict::at_most(driven.hottest_c, heat.limit_c);
        let message = format!(
            "conductor {} of run {} reaches {} in {} after {}, {} its limit of {}",
            heat.cable,
            run.id,
            designed.show(driven.hottest_c, Dimension::Temperature),
            driven.stretch,
            designed.show(driven.at_s, Dimension::Time),
            below(verdict, driven.hottest_c, heat.limit_c),
            designed.show(heat.limit_c, Dimension::Temperature),
        );
        notes.find(
            check
                .finding(verdict, run.parts.run.id.at, message)
                .judged(driven.hottest_c, heat.limit_c, Dimension::Temperature)
                .about(About::cable(run.id, &heat.cable)),
        );
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::marked::{BASE, merge, planned, verdicts};
    use crate::finding::Verdict;

    pub(in crate::checks) const DRIVEN: &str = r#"
        [vehicle]
        mass = "1600 kg"
        road-load-a = "115.25 N"
        road-load-b = "1.9334 N/(m/s)"
        road-load-c = "0.39976 N/(m/s)2"
        wheel-radius = "320 mm"
        gear = 9
        [motor]
        kind = "pm"
        pole-pairs = 3
        ld = "0.37 mH"
        lq = "1.2 mH"
        flux = "66 mWb"
        resistance = "18 mohm"
        current-max = "280 A"
        [battery]
        voltage = "380 V"
        resistance = "70 mohm"
        [duty]
        cycle = "wltc-3b"
        hard = ["climb"]
        [run.phases]
        current = absent
        peak = absent
        peak-time = absent
        frequency = absent
    "#;

    #[test]
    fn the_size_chosen_holds_and_a_small_one_fails() {
        assert!(verdicts("duty-temperature", DRIVEN).iter().all(|v| *v >= Verdict::Close));
        let small = format!("{DRIVEN}\nconductor = \"6 AWG\"");
        assert_eq!(verdicts("duty-temperature", &small), [Verdict::Fails]);
    }

    #[test]
    fn a_hard_case_named_twice_is_no_hotter_the_second_time() {
        let hottest = |hard: &str| {
            let patch = DRIVEN.replace(r#"["climb"]"#, hard);
            let plan = planned(&merge(BASE, &format!("{patch}\nconductor = \"1/0 AWG\"")));
            plan.sizes[0].heat.as_ref().unwrap().driven.as_ref().unwrap().hottest_c
        };
        let once = hottest(r#"["climb"]"#);
        // Whatever comes before it, it starts warm from the drive.
        assert_eq!(hottest(r#"["launch", "climb"]"#), once);
    }

    #[test]
    fn a_harder_duty_never_takes_a_smaller_cable() {
        let mut last = 0.0;
        for mass in ["900 kg", "1600 kg", "2600 kg"] {
            let patch = DRIVEN.replace("1600 kg", mass);
            let plan = planned(&merge(BASE, &patch));
            let size = &plan.sizes[0];
            let area = size.cable.as_ref().unwrap().conductor_diameter_mm;
            assert!(last <= area, "{mass}");
            last = area;
            let heat = size.heat.as_ref().unwrap();
            let driven = heat.driven.as_ref().unwrap();
            assert!(heat.conductor_c.unwrap() <= driven.hottest_c);
        }
    }
}
