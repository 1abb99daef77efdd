//! The conductor stays below its limit whatever is true within the bounds of what is assumed.
//!
//! Emissivity, moving air, the law of rising air, the cable's own diameter and the lay of its strands are known
//! to within bounds only. Where the hot ends of all of them together cross the limit, the answer is close,
//! however far below the one number lies.
//!
//! Source: common practice; the bounds are listed with the run.

use physics::units::Dimension;

use super::{Check, Designed};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "band-crosses-limit",
    rule: "the conductor stays below its limit over the bounds of what is assumed",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(heat) = &run.size.heat else { continue };
        let (Some(profile), Some(conductor_c)) = (&heat.profile, heat.conductor_c) else {
            continue;
        };
        // Over the duty or peak, where there is one; else steady.
        let (when, low_c, used_c, high_c) = match profile.band.hottest_c {
            Some([low, used, high]) if conductor_c < used => {
                ("at its hottest moment", Some(low), used, Some(high))
            }
            _ => ("settled", profile.band.low_c, conductor_c, profile.band.high_c),
        };
        // What is above the limit anyway is another finding.
        if heat.limit_c < used_c {
            continue;
        }
        let degrees = |c: f64| designed.show(c, Dimension::Temperature);
        let crosses = high_c.is_none_or(|high_c| heat.limit_c < high_c);
        let high = match high_c {
            Some(high_c) => format!("{} at most", degrees(high_c)),
            None => "never settles at worst".to_owned(),
        };
        let low = low_c.map_or(String::new(), |c| format!("{} at least, ", degrees(c)));
        let message = format!(
            "conductor {} of run {} {when}, over the bounds of what is assumed: {low}{} as planned, {high}, limit {}",
            heat.cable,
            run.id,
            degrees(used_c),
            degrees(heat.limit_c),
        );
        let verdict = if crosses { Verdict::Close } else { Verdict::Holds };
        let mut finding = check
            .finding(verdict, run.parts.run.id.at, message)
            .about(About::cable(run.id, &heat.cable));
        if let Some(high_c) = high_c {
            finding = finding.judged(high_c, heat.limit_c, Dimension::Temperature);
        }
        if crosses {
            let widest =
                profile.band.parts.iter().max_by(|a, b| spread(a).total_cmp(&spread(b)));
            if let Some(widest) = widest {
                finding =
                    finding.hint(format!("what would settle most of it: {}", widest.what));
            }
        }
        notes.find(finding);
    }
}

fn spread(bound: &crate::design::profile::Bound) -> f64 {
    bound.high_c.zip(bound.low_c).map_or(f64::INFINITY, |(high, low)| high - low)
}

#[cfg(test)]
mod tests {
    use super::super::duty_temperature::tests::DRIVEN;
    use super::super::marked::{BASE, merge, planned};
    use crate::finding::Verdict;

    fn verdict(limit: &str) -> Verdict {
        let patch = format!(
            "[run.dc]\nconductor = \"2/0 AWG\"\npeak = absent\npeak-time = absent\nlimit = \"{limit}\""
        );
        let plan = planned(&merge(BASE, &patch));
        let mut found = plan.findings.iter().filter(|f| f.code == "band-crosses-limit");
        found.find(|f| f.about.run.as_deref() == Some("dc")).unwrap().verdict
    }

    #[test]
    fn a_limit_far_above_holds_and_one_within_the_band_is_close() {
        assert_eq!(verdict("125 degC"), Verdict::Holds);
        let plan = planned(&merge(
            BASE,
            "[run.dc]\nconductor = \"2/0 AWG\"\npeak = absent\npeak-time = absent",
        ));
        let heat = plan.sizes[1].heat.as_ref().unwrap();
        let (used, band) = (heat.conductor_c.unwrap(), &heat.profile.as_ref().unwrap().band);
        let (low, high) = (band.low_c.unwrap(), band.high_c.unwrap());
        assert!(low < used && used < high);
        assert_eq!(verdict(&format!("{:.2} degC", (used + high) / 2.0)), Verdict::Close);
    }

    #[test]
    fn over_a_duty_the_band_is_about_what_the_duty_reaches() {
        let plan = planned(&merge(BASE, DRIVEN));
        let heat = plan.sizes[0].heat.as_ref().unwrap();
        let [low, used, high] = heat.profile.as_ref().unwrap().band.hottest_c.unwrap();
        assert_eq!(used, heat.driven.as_ref().unwrap().hottest_c, "one simulation, one number");
        assert!(low < used && used < high, "{low} {used} {high}");
        let spots = &heat.profile.as_ref().unwrap().spots;
        let line = spots.iter().filter_map(|s| s.hottest_c).fold(f64::NEG_INFINITY, f64::max);
        assert_eq!(line, used, "and the line along the run goes through it");
    }
}
