//! What the assembler does, one step after the other.

use plan::work::steps::{Action, Step};

use draw::letters::typeset;

use crate::model::{self, Block, Pages, soften};
use crate::words::{Words, sentence};

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
    let mut stage_before = None;
    let mut next = 0;
    while next < steps.len() {
        let stage = stage(&steps[next]);
        if stage_before != Some(stage) {
            pages.heading(stage);
            stage_before = Some(stage);
        }
        let alike = steps[next..].iter().take_while(|s| alike(&steps[next], s)).count();
        let end = next + alike.clamp(1, TOGETHER);
        pages.blocks.push(Block::Step(together(words, next, &steps[next..end])));
        next = end;
    }
}

/// At most this many steps share one block, so that a block fits a page.
const TOGETHER: usize = 12;

/// Steps of one kind that differ only in which cable or end they are of.
fn alike(a: &Step, b: &Step) -> bool {
    a.action == b.action
        && a.place == b.place
        && a.text.len() == b.text.len()
        && a.tools == b.tools
        && a.torque_nm == b.torque_nm
        && a.caution == b.caution
}

/// Id of the step that energises.
const LIVE: &str = "prove-live";

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
        | Action::Shrink => "On the bench",
        // Some tests are of a cable that already lies in the vehicle.
        Action::Test if step.place == "bench" => "On the bench",
        Action::Test => "In the vehicle",
        Action::Block
        | Action::Ring
        | Action::Offer
        | Action::Lay
        | Action::Land
        | Action::TorqueLug
        | Action::TorquePlate
        | Action::TightenGrip => "In the vehicle",
        Action::Cover | Action::Fuse => "Covers and fuse",
        // The last step of all is the first with power on.
        Action::Prove if step.id == LIVE => "First power and first drive",
        Action::Prove => "Before it is energised",
    }
}

/// "3", "3, 5", "1 to 4, 9".
fn ranges(numbers: &[usize]) -> String {
    let mut out: Vec<(usize, usize)> = Vec::new();
    for &number in numbers {
        match out.last_mut() {
            Some((_, last)) if number <= *last + 1 => *last = number,
            Some(_) | None => out.push((number, number)),
        }
    }
    let texts = out.iter().map(|&(first, last)| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first} to {last}"),
    });
    texts.collect::<Vec<_>>().join(", ")
}

fn together(words: &Words<'_>, first: usize, steps: &[Step]) -> model::Step {
    let set = |text: &str| soften(&typeset(text));
    let step = &steps[0];
    // What is said of each step alike is said once, the rest beside its box.
    let shared = |i: usize| steps.iter().all(|s| s.text[i] == step.text[i]);
    let said = |step: &Step, in_common: bool| {
        let of = step.text.iter().enumerate().filter(|(i, _)| shared(*i) == in_common);
        of.map(|(_, line)| set(&sentence(line))).collect::<Vec<_>>()
    };
    let items = steps.iter().enumerate().map(|(i, step)| {
        let parts: Vec<String> =
            step.parts.iter().map(|(key, n)| format!("{n} x {}", words.part(key))).collect();
        let mut after: Vec<usize> = step.after.iter().filter_map(|id| words.step(id)).collect();
        after.sort_unstable();
        model::StepItem {
            number: (first + i + 1).to_string(),
            title: set(&step.title),
            text: said(step, false).join(" "),
            parts: set(&parts.join("; ")),
            after: match after.len() {
                0 => String::new(),
                1 => format!("after step {}", ranges(&after)),
                _ => format!("after steps {}", ranges(&after)),
            },
        }
    });
    model::Step {
        items: items.collect(),
        place: set(&words.place(&step.place)),
        text: said(step, true),
        tools: step.tools.iter().map(|tool| set(tool)).collect(),
        torque: step.torque_nm.map(|nm| set(&words.torque(nm))).unwrap_or_default(),
        why: set(&reasons(first, steps)),
        cautions: step.caution.iter().map(|text| set(&sentence(text))).collect(),
    }
}

/// Why the order matters: said once where it is the same for all, else with the numbers it is of.
fn reasons(first: usize, steps: &[Step]) -> String {
    let mut reasons: Vec<(&str, Vec<usize>)> = Vec::new();
    for (number, step) in (first + 1..).zip(steps) {
        let Some(why) = step.why.as_deref() else { continue };
        match reasons.iter_mut().find(|(said, _)| *said == why) {
            Some((_, of)) => of.push(number),
            None => reasons.push((why, vec![number])),
        }
    }
    let said = reasons.iter().map(|(why, of)| match of.len() == steps.len() {
        true => sentence(why),
        false => format!("Steps {}: {}", ranges(of), sentence(why)),
    });
    said.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_become_a_range() {
        assert_eq!(ranges(&[]), "");
        assert_eq!(ranges(&[3]), "3");
        assert_eq!(ranges(&[3, 4, 9]), "3, 4, 9");
        assert_eq!(ranges(&[1, 2, 3, 4, 9]), "1 to 4, 9");
    }
}
