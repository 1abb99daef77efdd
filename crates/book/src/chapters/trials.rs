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

/// Readings taken in the same way.
fn alike(a: &Trial, b: &Trial) -> bool {
    a.kind == b.kind
        && a.connect == b.connect
        && a.source == b.source
        && a.caution == b.caution
        && !matches!(a.limit, Limit::Pairs(_))
}

fn together(words: &Words<'_>, before: usize, trials: &[&Trial]) -> model::Trial {
    let set = |text: &str| soften(&typeset(text));
    let trial = trials[0];
    let several = 1 < trials.len();
    let readings = trials.iter().enumerate().flat_map(|(i, trial)| {
        let number = (before + i + 1).to_string();
        let what = if several { subject(words, trial) } else { trial.what.clone() };
        lines(words, &what, &trial.limit).into_iter().enumerate().map(
            move |(i, (what, limit))| {
                model::Reading {
                    // A trial of many readings has one number.
                    number: if i == 0 { number.clone() } else { String::new() },
                    what: set(&what),
                    limit: set(&limit),
                }
            },
        )
    });
    model::Trial {
        title: set(if several { trial.kind } else { &trial.what }),
        text: set(&sentence(&trial.connect)),
        source: trial.source.to_owned(),
        readings: readings.collect(),
        cautions: trial.caution.iter().map(|text| set(&sentence(text))).collect(),
    }
}

/// Which of several alike a reading is of.
fn subject(words: &Words<'_>, trial: &Trial) -> String {
    let about = &trial.about;
    match (&about.run, &about.cable, &about.port) {
        (Some(run), Some(cable), _) => format!("{run} {cable}"),
        (_, None, Some(port)) | (None, _, Some(port)) => words.port(port),
        (Some(run), None, None) => format!("run {run}"),
        (None, _, None) => trial.what.clone(),
    }
}

/// The readings of a trial and the limit of each.
fn lines(words: &Words<'_>, what: &str, limit: &Limit) -> Vec<(String, String)> {
    let said = match limit {
        Limit::Pairs(pairs) => {
            return pairs
                .iter()
                .map(|(pair, closed)| {
                    (pair.clone(), if *closed { "closed" } else { "open" }.to_owned())
                })
                .collect();
        }
        Limit::AtMost(q) => format!("at most {}", q.text(words.units)),
        Limit::AtLeast(q) => format!("at least {}", q.text(words.units)),
        Limit::Between(a, b) => {
            format!("from {} to {}", a.text(words.units), b.text(words.units))
        }
        Limit::Seen(what) => what.clone(),
        Limit::Unknown(what) => format!("no limit yet: {what}"),
    };
    vec![(what.to_owned(), said)]
}
