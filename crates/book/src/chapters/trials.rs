//! Tests of the made-up cabling, each with its limit and a place for the reading.

use plan::work::trials::{Limit, Trial, When};

use crate::model::{self, Block, Cell, Pages, Tone, soften, typeset};
use crate::words::{Words, about};

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
        let of = || trials.iter().filter(|t| t.when == when);
        if of().next().is_none() {
            continue;
        }
        pages.heading(stage(when));
        for trial in of() {
            number += 1;
            pages.blocks.push(Block::Trial(one(words, number, trial)));
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

fn one(words: &Words<'_>, number: usize, trial: &Trial) -> model::Trial {
    let set = |text: &str| soften(&typeset(text));
    let place = about(&trial.about);
    let place = if place.is_empty() { "as connected".to_owned() } else { place };
    model::Trial {
        number: number.to_string(),
        title: set(&trial.what),
        text: vec![set(&trial.connect)],
        facts: vec![("Source".to_owned(), Cell::new(trial.source, Tone::Code))],
        readings: vec![(set(&place), set(&limit(words, &trial.limit)))],
        cautions: trial.caution.iter().map(|text| set(text)).collect(),
    }
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
