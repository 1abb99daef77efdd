//! What the assembler does, one step after the other.

use plan::work::steps::{Action, Step};

use crate::model::{self, Block, Pages, soften, typeset};
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let steps = &words.plan.steps;
    if steps.is_empty() {
        pages.text("No steps could be written.");
        return;
    }
    pages.caution(vec![
        "Steps in the vehicle begin with the traction system isolated, locked and proved dead, and it stays \
         so until the trials say otherwise."
            .to_owned(),
    ]);
    let mut before = None;
    for (i, step) in steps.iter().enumerate() {
        let stage = stage(step);
        if before != Some(stage) {
            pages.heading(stage);
            before = Some(stage);
        }
        pages.blocks.push(Block::Step(one(words, i + 1, step)));
    }
}

/// Where in the work a step stands.
fn stage(step: &Step) -> &'static str {
    match step.action {
        Action::Isolate => "Before anything is touched",
        Action::Cut
        | Action::Mark
        | Action::Thread
        | Action::Strip
        | Action::Crimp
        | Action::Bend
        | Action::Shrink
        | Action::Test => "On the bench",
        Action::Block
        | Action::Ring
        | Action::Offer
        | Action::Lay
        | Action::Land
        | Action::TorqueLug
        | Action::TorquePlate
        | Action::TightenGrip
        | Action::Cover
        | Action::Fuse => "In the vehicle",
        Action::Prove => "Before it is energised",
    }
}

fn one(words: &Words<'_>, number: usize, step: &Step) -> model::Step {
    let set = |text: &str| soften(&typeset(text));
    let mut order = Vec::new();
    if let Some(why) = &step.why {
        order.push(set(why));
    }
    let mut after: Vec<usize> = step.after.iter().filter_map(|id| words.step(id)).collect();
    after.sort_unstable();
    if !after.is_empty() {
        let numbers: Vec<String> = after.iter().map(usize::to_string).collect();
        let word = if after.len() == 1 { "step" } else { "steps" };
        order.push(format!("after {word} {}", numbers.join(", ")));
    }
    let parts = step.parts.iter().map(|(key, n)| set(&format!("{n} x {}", words.part(key))));
    model::Step {
        number: number.to_string(),
        title: set(&step.title),
        place: set(&words.place(&step.place)),
        text: step.text.iter().map(|line| set(line)).collect(),
        parts: parts.collect(),
        tools: step.tools.iter().map(|tool| set(tool)).collect(),
        torque: step.torque_nm.map(|nm| set(&words.torque(nm))).unwrap_or_default(),
        order,
        cautions: step.caution.iter().map(|text| set(text)).collect(),
    }
}
