//! The main fuse is there, and what the checks of it have in common.
//!
//! Without a fuse a short circuit is broken by whatever burns first. None is chosen where the current or the
//! voltage it must bear is not known.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::{Check, Designed};
use crate::design::fuse::{Demand, Judged};
use crate::finding::{About, Notes, Verdict};
use crate::given::shelf::Fuse;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-chosen",
    rule: "the protected run has a main fuse",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let (Some(given), Some(protected)) =
        (&designed.parts.build.protection, designed.protection)
    else {
        return;
    };
    let at = given.fuse.as_ref().map_or(given.at, |f| f.at);
    let about = About::run(&protected.run);
    if let Some(fuse) = &protected.fuse {
        let message = format!("run {} has fuse {}", protected.run, fuse.row.id);
        notes.find(check.finding(Verdict::Holds, at, message).about(about));
        return;
    }
    // A name that is on no shelf has been found already.
    if designed.parts.fuse_missing {
        return;
    }
    let asked = &protected.asked;
    let (why, hint) = if asked.current_a.is_none() {
        ("the current is not known", "state the continuous current of the run: `current`")
    } else if asked.voltage_v_max.is_none() {
        ("the highest voltage is not known", "state it: `voltage-max` under [system]")
    } else {
        (
            "none of the class is on the shelf",
            "name another class, or add the fuse to parts.toml",
        )
    };
    let message = format!("no fuse is chosen for run {}: {why}", protected.run);
    notes.find(check.finding(Verdict::Unknown, at, message).hint(hint).about(about).safety());
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

/// Judges one demand on the fuse, if there is one.
pub(super) fn judge_demand(
    check: &Check,
    designed: &Designed<'_>,
    demand: Demand,
    words: &Words,
    notes: &mut Notes,
) {
    let (Some(given), Some(protected)) =
        (&designed.parts.build.protection, designed.protection)
    else {
        return;
    };
    let Some(fuse) = &protected.fuse else { return };
    let at = given.fuse.as_ref().map_or(given.at, |f| f.at);
    let about = About::run(&protected.run);
    let Some(judged) = protected.asked.judge(demand, fuse) else {
        // A run without a stated peak has none to judge.
        if demand != Demand::Peak {
            let message = format!("{} of run {} is not known", words.unknown, protected.run);
            let finding = check.finding(Verdict::Unknown, at, message).hint(words.to_know);
            notes.find(finding.about(about).safety());
        }
        return;
    };
    let dimension: Dimension = judged.dimension;
    let message = (words.says)(fuse, &judged, &|value| designed.show(value, dimension));
    let mut finding = check
        .finding(judged.verdict, at, message)
        .judged(judged.value, judged.limit, dimension)
        .about(about);
    if judged.verdict <= Verdict::Unknown {
        finding = finding.hint(words.to_do);
    }
    notes.find(finding);
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
