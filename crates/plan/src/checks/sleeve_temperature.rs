//! The conductor is not hotter than the sleeve over its barrel bears.
//!
//! The sleeve sits on the bare barrel, which is about as warm as the conductor.
//!
//! Source: the limit is that of the sleeve on the shelf, its maker's.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "sleeve-temperature",
    rule: "the conductor stays below what the sleeve over its barrel bears",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(conductor_c) = run.size.heat.as_ref().and_then(|h| h.conductor_c) else {
            continue;
        };
        for (port, given) in [
            (run.parts.from, &run.parts.from_end.given.sleeve),
            (run.parts.to, &run.parts.to_end.given.sleeve),
        ] {
            let port = &designed.parts.ports[port].name;
            // All cables of a run are equal, so one end stands for all at its port.
            let mut ends = designed.ends.iter().filter(|e| e.run == run.id && e.port == *port);
            let Some(part) = ends.find_map(|e| e.sleeve.as_ref().map(|s| &s.sleeve)) else {
                continue;
            };
            let verdict = Verdict::at_most(conductor_c, part.limit_c);
            let message = format!(
                "the conductor of run {} at {port} reaches {}, {} the limit of its sleeve, {}",
                run.id,
                designed.show(conductor_c, Dimension::Temperature),
                below(verdict),
                designed.show(part.limit_c, Dimension::Temperature),
            );
            let at = given.as_ref().map_or(run.parts.run.id.at, |g| g.at);
            let mut finding = check
                .finding(verdict, at, message)
                .judged(conductor_c, part.limit_c, Dimension::Temperature)
                .about(About::end(run.id, None, port));
            if verdict == Verdict::Fails {
                finding = finding.hint("take a sleeve for more, or a thicker cable");
            }
            notes.find(finding);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, merge, planned};
    use crate::finding::Verdict;

    fn verdicts(patch: &str) -> Vec<Verdict> {
        let plan = planned(&merge(BASE, patch));
        let mine = plan.findings.iter().filter(|f| f.code == "sleeve-temperature");
        mine.filter(|f| f.about.run.as_deref() == Some("dc")).map(|f| f.verdict).collect()
    }

    #[test]
    fn a_cool_cable_holds() {
        let verdicts = verdicts("[run.dc]\ncurrent = \"60 A\"");
        assert!(!verdicts.is_empty() && verdicts.iter().all(|v| *v == Verdict::Holds));
    }

    #[test]
    fn a_hot_cable_fails() {
        let verdicts =
            verdicts("[run.dc]\nconductor = \"6 AWG\"\ncurrent = \"130 A\"\nair = \"75 degC\"");
        assert!(!verdicts.is_empty() && verdicts.iter().all(|v| *v == Verdict::Fails));
    }
}
