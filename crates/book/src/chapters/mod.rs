//! The chapters, in page order. Each makes its pages from the plan and nothing else.

mod cover;
mod summary;
mod diagram;
mod findings;
mod duty;
mod runs;
mod ends;
mod survey;
mod plates;
mod protection;
mod field;
mod kit;
mod cuts;
mod steps;
mod trials;
mod workings;
mod assumptions;
mod cautions;
mod sources;

use physics::units::System;
use plan::Plan;
use plan::finding::Verdict;

use crate::model::{Block, Book, Chapter, Pages, Paper, Stamp};
use crate::parts::{Chapters, Part};
use crate::words::{Words, count, day};

/// The pages of a plan.
pub fn pages(plan: &Plan, chapters: &Chapters) -> Book {
    let words = Words::new(plan);
    let mut figures = Vec::new();
    // Many builds measure no face, drive nothing and name no point; a chapter to say so is only for who asks for it.
    let alone = chapters.parts().len() == 1;
    let chapters: Vec<Chapter> = chapters
        .parts()
        .iter()
        .filter(|part| alone || is_about_something(**part, plan))
        .map(|part| {
            let mut pages = Pages::after(figures.len());
            write(*part, &words, &mut pages);
            let (blocks, drawn) = pages.into_parts();
            figures.extend(drawn);
            Chapter {
                id: part.word(),
                // What stands together has the heading on its page.
                title: match &blocks[..] {
                    [Block::Together { .. }] => String::new(),
                    _ => part.title().to_owned(),
                },
                // A chapter that only says that there is nothing follows on.
                new_page: starts_page(*part) && blocks.len() > 1,
                blocks,
            }
        })
        .collect();
    let heading = &plan.heading;
    Book {
        paper: match heading.units {
            System::Metric => Paper::A4,
            System::Us => Paper::UsLetter,
        },
        title: if heading.title.is_empty() {
            "Build without a title".to_owned()
        } else {
            heading.title.clone()
        },
        author: heading.made_by.clone().unwrap_or_default(),
        date: heading.date.as_deref().and_then(day),
        day: heading.date.clone().unwrap_or_else(|| "no date stated".to_owned()),
        digest: heading.digest.clone(),
        stamp: stamp(plan),
        chapters,
        figures,
    }
}

fn is_about_something(part: Part, plan: &Plan) -> bool {
    match part {
        Part::Survey => !plan.faces.is_empty(),
        Part::Duty => plan.course.is_some(),
        Part::Field => !plan.field.is_empty(),
        _ => true,
    }
}

/// What goes across every page, if anything keeps the plan from being built to.
fn stamp(plan: &Plan) -> Option<Stamp> {
    if plan.for_building() {
        return None;
    }
    let fails = plan.findings.iter().filter(|f| f.verdict == Verdict::Fails).count();
    let unknown =
        plan.findings.iter().filter(|f| f.verdict == Verdict::Unknown && f.safety).count();
    let mut why = Vec::new();
    if fails > 0 {
        why.push(count(fails, "finding fails", "findings fail"));
    }
    if unknown > 0 {
        why.push(count(unknown, "needed value is unknown", "needed values are unknown"));
    }
    Some(Stamp { word: "Not for building".to_owned(), why: why.join(", ") })
}

fn starts_page(part: Part) -> bool {
    match part {
        Part::Cover
        | Part::Summary
        | Part::Findings
        | Part::Duty
        | Part::Runs
        | Part::Ends
        | Part::Survey
        | Part::Plates
        | Part::Protection
        | Part::Field
        | Part::Kit
        | Part::Steps
        | Part::Trials
        | Part::Workings => true,
        // A small build's diagram fits under its summary; a larger one takes a page of itself.
        Part::Diagram | Part::Cuts | Part::Assumptions | Part::Cautions | Part::Sources => {
            false
        }
    }
}

fn write(part: Part, words: &Words<'_>, pages: &mut Pages) {
    match part {
        Part::Cover => cover::write(words, pages),
        Part::Summary => summary::write(words, pages),
        Part::Diagram => diagram::write(words, pages),
        Part::Findings => findings::write(words, pages),
        Part::Duty => duty::write(words, pages),
        Part::Runs => runs::write(words, pages),
        Part::Ends => ends::write(words, pages),
        Part::Survey => survey::write(words, pages),
        Part::Plates => plates::write(words, pages),
        Part::Protection => protection::write(words, pages),
        Part::Field => field::write(words, pages),
        Part::Kit => kit::write(words, pages),
        Part::Cuts => cuts::write(words, pages),
        Part::Steps => steps::write(words, pages),
        Part::Trials => trials::write(words, pages),
        Part::Workings => workings::write(words, pages),
        Part::Assumptions => assumptions::write(words, pages),
        Part::Cautions => cautions::write(words, pages),
        Part::Sources => sources::write(words, pages),
    }
}
