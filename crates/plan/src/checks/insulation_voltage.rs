//! The cable's insulation is rated for the highest working voltage.
//!
//! Source: the rating is that of the cable on the shelf, its maker's; voltage classes of ISO 19642 (memory).

use physics::units::Dimension;

use super::{Check, Designed, above};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "insulation-voltage",
    rule: "the rated DC voltage of the cable is at least the highest working voltage",
    source: "iso-19642",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let system = &designed.parts.build.system;
    for run in designed.runs() {
        let Some(cable) = &run.size.cable else { continue };
        let about = About::run(run.id);
        let rated = designed.show(cable.voltage_v_dc, Dimension::Voltage);
        let Some(volts) = designed.parts.voltage_v_max else {
            let message = format!(
                "whether {rated} of insulation is enough for run {} is not known: the highest voltage is not stated",
                run.id
            );
            notes.find(
                check
                    .finding(Verdict::Unknown, run.parts.run.id.at, message)
                    .hint("take the fully charged voltage of the battery: `voltage-max`")
                    .about(about)
                    .safety(),
            );
            continue;
        };
        // Ratings are used up to their value.
        let verdict = Verdict::kept(volts <= cable.voltage_v_dc);
        let message = format!(
            "the insulation of run {} is rated {rated}, {} the highest voltage, {}",
            run.id,
            above(verdict, cable.voltage_v_dc, volts),
            designed.show(volts, Dimension::Voltage),
        );
        let at = system.voltage_v_max.as_ref().map_or(run.parts.run.id.at, |v| v.at);
        notes.find(
            check
                .finding(verdict, at, message)
                .judged(cable.voltage_v_dc, volts, Dimension::Voltage)
                .about(about),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, holds, merge, planned};
    use crate::finding::Verdict;

    #[test]
    fn a_four_hundred_volt_bus_holds() {
        holds("insulation-voltage", "");
    }

    #[test]
    fn a_cable_for_less_fails() {
        let patch = "[system]\nvoltage-max = \"820 V\"\n[run.dc]\ncable = \"flex-105\"";
        let plan = planned(&merge(BASE, patch));
        let fails = |run: &str| {
            plan.findings.iter().any(|f| {
                f.code == "insulation-voltage"
                    && f.verdict == Verdict::Fails
                    && f.about.run.as_deref() == Some(run)
            })
        };
        assert!(fails("dc") && !fails("phases"));
    }

    #[test]
    fn an_unknown_voltage_keeps_the_book_back() {
        let plan = planned(&merge(BASE, "[system]\nvoltage-max = absent"));
        let unknown = plan.findings.iter().filter(|f| {
            f.code == "insulation-voltage" && f.verdict == Verdict::Unknown && f.safety
        });
        assert_eq!(unknown.count(), 2);
        assert!(!plan.for_building());
    }
}
