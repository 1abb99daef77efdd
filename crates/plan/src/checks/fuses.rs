//! The main fuse is there, and what the checks of it have in common.
//!
//! Without a fuse a short circuit is broken by whatever burns first. None is chosen where the current or the
//! voltage it must bear is not known.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::{Check, Designed};
use crate::design::coordinate::Coordination;
use crate::design::fuse::{Asked, Demand, Judged};
use crate::finding::{About, Finding, Notes, Place, Verdict};
use crate::given::build::Maybe;
use crate::given::shelf::Fuse;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-chosen",
    rule: "the protected run has a main fuse",
    source: "common-practice",
    judge,
};

/// One fused circuit: the protected run, or a branch.
pub(super) struct Fused<'a> {
    /// "run dc", "branch heater".
    pub(super) called: String,
    /// Where its fuse is named, or the table.
    pub(super) at: Place,
    pub(super) fuse: Option<&'a Fuse>,
    /// A fuse was named that does not exist.
    fuse_missing: bool,
    pub(super) asked: &'a Asked,
    pub(super) coordination: Option<&'a Coordination>,
    /// Whether the battery's control watches its current: the main one.
    pub(super) is_main: bool,
    /// The run, or the run that feeds it.
    run: &'a str,
}

/// Every fused circuit, the main one first.
pub(super) fn fused<'a>(designed: &Designed<'a>) -> Vec<Fused<'a>> {
    let Some((given, protected)) = designed.protected() else { return Vec::new() };
    let place = |fuse: &Maybe<String>, at: Place| fuse.as_ref().map_or(at, |f| f.at);
    let main = Fused {
        called: format!("run {}", protected.run),
        at: place(&given.fuse, given.at),
        fuse: protected.fuse.as_ref(),
        fuse_missing: designed.parts.fuse_missing,
        asked: &protected.asked,
        coordination: protected.coordination.as_ref(),
        is_main: true,
        run: &protected.run,
    };
    let branches =
        protected.branches.iter().zip(&given.branches).map(|(branch, given)| Fused {
            called: format!("branch {}", branch.name),
            at: place(&given.fuse, given.at),
            fuse: branch.fuse.as_ref(),
            fuse_missing: branch.fuse_missing,
            asked: &branch.asked,
            coordination: branch.coordination.as_ref(),
            is_main: false,
            run: &protected.run,
        });
    std::iter::once(main).chain(branches).collect()
}

impl Fused<'_> {
    /// A finding of this circuit; a branch is named before what is said of its fuse.
    pub(super) fn finding(&self, check: &Check, verdict: Verdict, message: &str) -> Finding {
        let message = match self.is_main {
            true => message.to_owned(),
            false => format!("{}: {message}", self.called),
        };
        check.finding(verdict, self.at, message).about(About::run(self.run))
    }
}

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for circuit in fused(designed) {
        let called = &circuit.called;
        let about = About::run(circuit.run);
        if let Some(fuse) = circuit.fuse {
            let message = format!("{called} has fuse {}", fuse.row.id);
            notes.find(check.finding(Verdict::Holds, circuit.at, message).about(about));
            continue;
        }
        // A name that is on no shelf has been found already.
        if circuit.fuse_missing {
            continue;
        }
        let (why, hint) = if circuit.asked.current_a.is_none() {
            ("the current is not known", "state its continuous current: `current`")
        } else if circuit.asked.voltage_v_max.is_none() {
            ("the highest voltage is not known", "state it: `voltage-max` under [system]")
        } else {
            (
                "none of the class is on the shelf",
                "name another class, or add the fuse to parts.toml",
            )
        };
        let message = format!("no fuse is chosen for {called}: {why}");
        let finding = check.finding(Verdict::Unknown, circuit.at, message).hint(hint);
        notes.find(finding.about(about).safety());
    }
}

/// What a check of one demand says.
pub(super) struct Words {
    /// The judgement in one sentence.
    pub(super) says: fn(&Fuse, &Judged, &dyn Fn(f64) -> String) -> String,
    /// What cannot be judged: "whether the fuse carries the current".
    pub(super) unknown: &'static str,
    /// What to state so that it can.
    pub(super) to_know: &'static str,
    /// What to do where it fails.
    pub(super) to_do: &'static str,
}

/// Judges one demand on every fuse there is.
pub(super) fn judge_demand(
    check: &Check,
    designed: &Designed<'_>,
    demand: Demand,
    words: &Words,
    notes: &mut Notes,
) {
    for circuit in fused(designed) {
        let Some(fuse) = circuit.fuse else { continue };
        let Some(judged) = circuit.asked.judge(demand, fuse) else {
            // A circuit without a stated peak has none to judge.
            if demand != Demand::Peak {
                let message = format!("{} of {} is not known", words.unknown, circuit.called);
                let finding = check.finding(Verdict::Unknown, circuit.at, message);
                let finding = finding.hint(words.to_know).about(About::run(circuit.run));
                notes.find(finding.safety());
            }
            continue;
        };
        let dimension: Dimension = judged.dimension;
        let message = (words.says)(fuse, &judged, &|value| designed.show(value, dimension));
        let mut finding = circuit.finding(check, judged.verdict, &message).judged(
            judged.value,
            judged.limit,
            dimension,
        );
        if judged.verdict <= Verdict::Unknown {
            finding = finding.hint(words.to_do);
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_fuse_chosen_holds() {
        holds("fuse-chosen", "");
    }

    #[test]
    fn a_class_that_is_not_there_is_unknown() {
        check(
            r#"
            [protection]   #! unknown fuse-chosen
            fuse-class = "gX"
            "#,
        );
    }
}
