//! The insulation lasts as long as the run is to serve, by Arrhenius: an indication.
//!
//! Insulation has no cliff at its class temperature: it ages twice as fast for some ten kelvin more. At the
//! hottest place, over the duty (or at the continuous current all the time), the hours add up.
//!
//! Source: ISO 6722-1 for the hours at the class temperature (memory); the halving step is common practice.

use super::{Check, Designed};
use crate::design::profile::Ageing;
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "ageing",
    rule: "the insulation lasts the hours the run is to serve, as an indication",
    source: "iso-6722-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(heat) = &run.size.heat else { continue };
        let Some(ageing) = heat.profile.as_ref().map(|p| p.ageing) else { continue };
        // Never more than close: the law says an order, not a day.
        let lasts = ageing.service_hours <= ageing.hours;
        let verdict = if lasts { Verdict::Holds } else { Verdict::Close };
        let message = format!(
            "insulation of run {} lasts some {} {}, {} the {} it is to serve",
            run.id,
            Ageing::text(ageing.hours),
            if ageing.is_driven { "of its duty" } else { "at its continuous current" },
            if lasts { "more than" } else { "less than" },
            Ageing::text(ageing.service_hours),
        );
        let at = run.at(&run.parts.run.service_hours);
        let mut finding =
            check.finding(verdict, at, message).about(About::cable(run.id, &heat.cable));
        if !lasts {
            finding = finding.hint(
                "state the hours of such service with `service-hours`, or take a size more: ten kelvin less doubles it",
            );
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, merge, planned};
    use crate::design::profile::Ageing;
    use crate::finding::Verdict;

    #[test]
    fn long_service_is_close_and_short_service_holds() {
        let verdict = |hours: &str| {
            let plan = planned(&merge(BASE, &format!("[run.phases]\nservice-hours = {hours}")));
            let mut found = plan.findings.iter().filter(|f| f.code == "ageing");
            found.find(|f| f.about.run.as_deref() == Some("phases")).unwrap().verdict
        };
        assert_eq!(verdict("1000000"), Verdict::Close);
        assert_eq!(verdict("100"), Verdict::Holds);
    }

    #[test]
    fn ten_kelvin_halve_it() {
        let hours = |extra: &str| {
            let patch = format!("[run.dc]\nconductor = \"2/0 AWG\"\n{extra}");
            let plan = planned(&merge(BASE, &patch));
            plan.sizes[1].heat.as_ref().unwrap().profile.as_ref().unwrap().ageing.hours
        };
        let twice = hours("ageing-hours = 6000") / hours("ageing-hours = 3000");
        assert!((twice - 2.0).abs() < 1e-9);
        assert!(hours("ageing-kelvin = 10") < hours("ageing-kelvin = 8"));
    }

    #[test]
    fn hours_are_told_to_two_digits() {
        assert_eq!(Ageing::text(8449.0), "8400 h");
        assert_eq!(Ageing::text(12.4), "12 h");
    }
}
