//! A hot terminal does not take the conductor beside it over its limit.
//!
//! A motor's terminal is often hotter than any cable; its heat runs some hand's breadths into the conductor.
//! The joint between them, crimp included, conducts heat as it conducts current (Wiedemann and Franz).
//!
//! Source: the heat network of the run; the limit is the cable's class, or the maker's lower one.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "terminal-hot",
    rule: "the conductor beside a terminal of stated temperature stays below its limit",
    source: "exact",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(heat) = &run.size.heat else { continue };
        let Some(profile) = &heat.profile else { continue };
        for (end, port) in profile.ends.iter().zip([run.parts.from, run.parts.to]) {
            let port = &designed.parts.ports[port];
            let (Some(terminal_c), Some(stated)) = (end.terminal_c, &port.port.terminal_c)
            else {
                continue;
            };
            let verdict = Verdict::at_most(end.conductor_c, heat.limit_c);
            let message = format!(
                "the conductor of run {} is at {} beside the terminal of {} at {}, {} its limit of {}",
                run.id,
                designed.show(end.conductor_c, Dimension::Temperature),
                port.name,
                designed.show(terminal_c, Dimension::Temperature),
                below(verdict, end.conductor_c, heat.limit_c),
                designed.show(heat.limit_c, Dimension::Temperature),
            );
            let mut finding = check
                .finding(verdict, stated.at, message)
                .judged(end.conductor_c, heat.limit_c, Dimension::Temperature)
                .about(About::end(run.id, None, &port.name));
            if verdict != Verdict::Holds {
                finding = finding.hint(
                    "a family of a higher temperature class, or measure the terminal after the hardest drive",
                );
            }
            notes.find(finding);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, holds, merge, planned};
    use crate::finding::Verdict;

    #[test]
    fn a_warm_terminal_holds() {
        holds("terminal-hot", "[device.motor.port.phases]\nterminal-temperature = \"60 degC\"");
    }

    #[test]
    fn a_terminal_hotter_than_the_cable_may_be_fails_and_moves_no_heat_unsaid() {
        let patch = "[run.phases]\nconductor = \"4/0 AWG\"\n[device.motor.port.phases]\n\
                     terminal-temperature = \"190 degC\"";
        let plan = planned(&merge(BASE, patch));
        let found = plan.findings.iter().find(|f| f.code == "terminal-hot").unwrap();
        assert_eq!(found.verdict, Verdict::Fails, "{}", found.message);
        let heat = plan.sizes[0].heat.as_ref().unwrap();
        assert!(heat.profile.as_ref().unwrap().into_ends_w < 0.0, "it heats the run");
        assert!(
            heat.limit_c < heat.conductor_c.unwrap(),
            "the hottest place is at the terminal"
        );
    }
}
