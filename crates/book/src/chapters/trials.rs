//! Tests of the made-up cabling, each with its limit and a place for the reading.

use plan::work::trials::{Limit, Trial, When};

use draw::letters::typeset;

use crate::model::{self, Block, Pages, soften};
use crate::words::{Words, sentence};

const STAGES: [When; 5] =
    [When::Bench, When::Laid, When::Fitted, When::FirstPower, When::FirstDrive];

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let trials = &words.plan.trials;
    if trials.is_empty() {
        pages.text("No trials could be written.");
        return;
    }
    let mut number = 0;
    for when in STAGES {
        let mut kinds: Vec<Vec<&Trial>> = Vec::new();
        for trial in trials.iter().filter(|t| t.when == when) {
            match kinds.iter_mut().find(|kind| alike(kind[0], trial)) {
                Some(kind) => kind.push(trial),
                None => kinds.push(vec![trial]),
            }
        }
        if !kinds.is_empty() {
            pages.heading(stage(when));
        }
        for kind in kinds {
            pages.blocks.push(Block::Trial(together(words, number, &kind)));
            number += kind.len();
        }
    }
    let sign = ["Tested by", "Meters used and their calibration", "Date"];
    pages.blocks.push(Block::Sign { lines: sign.map(str::to_owned).to_vec() });
}

fn stage(when: When) -> &'static str {
    match when {
        When::Bench => "On the bench, with the made-up cable",
        When::Laid => "Laid, before any end is landed",
        When::Fitted => "Fitted, before it is energised",
        When::FirstPower => "At pre-charge and first energising",
        When::FirstDrive => "First spin and first drive",
    }
}

/// Readings taken in the same way, and named alike.
fn alike(a: &Trial, b: &Trial) -> bool {
    let words = |trial: &Trial| trial.what.split(' ').count();
    a.connect == b.connect
        && a.source == b.source
        && a.caution == b.caution
        && words(a) == words(b)
}

fn together(words: &Words<'_>, before: usize, trials: &[&Trial]) -> model::Trial {
    let set = |text: &str| soften(&typeset(text));
    let trial = trials[0];
    let readings = trials.iter().enumerate().map(|(i, trial)| model::Reading {
        number: (before + i + 1).to_string(),
        what: set(&trial.what),
        limit: set(&limit(words, &trial.limit)),
    });
    let names: Vec<&str> = trials.iter().map(|t| t.what.as_str()).collect();
    model::Trial {
        title: set(&common(&names)),
        text: set(&sentence(&trial.connect)),
        source: trial.source.to_owned(),
        readings: readings.collect(),
        cautions: trial.caution.iter().map(|text| set(&sentence(text))).collect(),
    }
}

/// What several names have in common: "Resistance of phases ..., lug to lug".
fn common(names: &[&str]) -> String {
    let [first, rest @ ..] = names else { return String::new() };
    let words: Vec<&str> = first.split(' ').collect();
    let same =
        |i: usize, word: &str| rest.iter().all(|name| name.split(' ').nth(i) == Some(word));
    if rest.iter().any(|name| name.split(' ').count() != words.len()) {
        return (*first).to_owned();
    }
    let mut out: Vec<&str> = Vec::new();
    for (i, word) in words.iter().enumerate() {
        if same(i, word) {
            out.push(word);
        } else if out.last() != Some(&"…") {
            out.push("…");
        }
    }
    out.join(" ")
}

fn limit(words: &Words<'_>, limit: &Limit) -> String {
    match limit {
        Limit::AtMost(q) => format!("at most {}", q.text(words.units)),
        Limit::AtLeast(q) => format!("at least {}", q.text(words.units)),
        Limit::Between(a, b) => {
            format!("from {} to {}", a.text(words.units), b.text(words.units))
        }
        Limit::Seen(what) => what.clone(),
        Limit::Unknown(what) => format!("no limit yet: {what}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_share_their_words() {
        let names =
            ["Resistance of phases U, lug to lug", "Resistance of phases V, lug to lug"];
        assert_eq!(common(&names), "Resistance of phases … lug to lug");
        assert_eq!(common(&["Identity of dc"]), "Identity of dc");
        assert_eq!(common(&["One of two words", "Another"]), "One of two words");
    }
}
