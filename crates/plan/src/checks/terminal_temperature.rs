//! Plastics at a terminal bear the warmth of the lug.
//!
//! The lug is about as warm as the conductor. A plastic that a thread is cut in, or that holds lugs apart,
//! creeps when it is too hot, and the joint loses its preload.
//!
//! Source: the limit is that of the material on the shelf; that the lug is as warm as the conductor is common
//! practice, no source.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "terminal-temperature",
    rule: "the conductor stays below what the plastics at its terminals bear",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(conductor_c) = run.size.heat.as_ref().and_then(|h| h.conductor_c) else {
            continue;
        };
        for port in [run.parts.from, run.parts.to].map(|i| &designed.parts.ports[i]) {
            let block = port.port.block.as_ref().and_then(|b| b.material.as_ref());
            let plastics = [
                (port.thread_material, port.port.thread_material.as_ref()),
                (port.insulator, port.port.insulator.as_ref()),
                (port.block_material, block),
            ];
            let weakest = plastics
                .into_iter()
                .filter_map(|(material, stated)| Some((material?, stated?.at)))
                .filter_map(|(material, at)| Some((material.limit_c?, material, at)))
                .reduce(|a, b| if b.0 < a.0 { b } else { a });
            let Some((limit_c, material, at)) = weakest else { continue };
            let verdict = Verdict::at_most(conductor_c, limit_c);
            let message = format!(
                "the conductor of run {} at {} reaches {}, {} what {} bears, {}",
                run.id,
                port.name,
                designed.show(conductor_c, Dimension::Temperature),
                below(verdict, conductor_c, limit_c),
                material.row.name,
                designed.show(limit_c, Dimension::Temperature),
            );
            let mut finding = check
                .finding(verdict, at, message)
                .judged(conductor_c, limit_c, Dimension::Temperature)
                .about(About::end(run.id, None, &port.name));
            if verdict == Verdict::Fails {
                finding =
                    finding.hint("take a thicker cable or a lower `limit` for its conductor");
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
        let mine = plan.findings.iter().filter(|f| f.code == "terminal-temperature");
        mine.filter(|f| f.about.run.as_deref() == Some("dc")).map(|f| f.verdict).collect()
    }

    #[test]
    fn a_cool_cable_holds() {
        let verdicts = verdicts("[run.dc]\ncurrent = \"60 A\"");
        assert_eq!(verdicts, [Verdict::Holds, Verdict::Holds]);
    }

    #[test]
    fn a_hot_cable_fails() {
        let verdicts =
            verdicts("[run.dc]\nconductor = \"6 AWG\"\ncurrent = \"130 A\"\nair = \"80 degC\"");
        assert_eq!(verdicts, [Verdict::Fails, Verdict::Fails]);
    }
}
