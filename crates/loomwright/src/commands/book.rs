//! `loomwright book`: the PDF.

use std::path::{Path, PathBuf};

use anyhow::Result;
use book::{Chapters, Part};
use clap::builder::PossibleValuesParser;
use plan::finding::Verdict;

use super::BuildArgument;
use crate::builds::Planned;
use crate::{Outcome, builds, disk, terminal};

/// Print the book: findings, runs, ends, kit, steps, trials, workings
#[derive(clap::Args)]
#[command(after_help = "Example:\n  loomwright book my-build -o my-build.pdf\n  \
    loomwright book my-build --part kit --part steps -o kit.pdf\n\n\
    Exit status: 0 nothing fails, 1 something fails and every page says so, \
    2 the document could not be read")]
pub(crate) struct Arguments {
    #[command(flatten)]
    build: BuildArgument,
    /// Where to write it; - prints it [default: book.pdf in the folder of the build]
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Print only this part; may be given again
    #[arg(long, value_name = "PART", value_parser = PossibleValuesParser::new(Part::ALL.map(Part::word)))]
    part: Vec<String>,
}

/// Plans, sets and writes.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    let Some(Planned { plan, .. }) = builds::plan(&arguments.build.build)? else {
        return Ok(Outcome::Unread);
    };
    let parts: Vec<Part> = arguments.part.iter().filter_map(|word| Part::named(word)).collect();
    let chapters = if parts.is_empty() { Chapters::all() } else { Chapters::only(&parts) };
    let pdf = terminal::while_waiting("setting the book", || book::book(&plan, &chapters))?;
    match &arguments.output {
        Some(path) if path == Path::new("-") => terminal::bytes(&pdf)?,
        path => {
            let beside = disk::document(&arguments.build.build).with_file_name("book.pdf");
            let path = path.as_ref().unwrap_or(&beside);
            disk::write(path, &pdf)?;
            terminal::message(&format!("{} written", path.display()));
        }
    }
    if !plan.for_building() {
        terminal::message(
            "not for building yet: `loomwright plan` says what stands in the way",
        );
    }
    Ok(if plan.verdict() == Verdict::Fails { Outcome::Fails } else { Outcome::Holds })
}
