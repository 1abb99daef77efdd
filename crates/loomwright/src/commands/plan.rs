//! `loomwright plan`: findings and the short answer.

use anyhow::Result;
use plan::finding::Verdict;

use super::BuildArgument;
use crate::builds::Planned;
use crate::text::Extent;
use crate::{Outcome, builds, terminal, text, wire};

/// Plan a build: cables, lengths, ends, fuse, cost, and what fails
#[derive(clap::Args)]
#[command(
    after_help = "Example:\n  loomwright plan my-build\n  loomwright plan my-build --json > plan.json\n\n\
    Exit status: 0 nothing fails, 1 something fails, 2 the document could not be read"
)]
pub(crate) struct Arguments {
    #[command(flatten)]
    build: BuildArgument,
    /// Show what holds and what was assumed too
    #[arg(long)]
    all: bool,
    /// Print the whole plan as JSON
    #[arg(long, conflicts_with = "all")]
    json: bool,
    /// Print the schema of that JSON and plan nothing
    #[arg(long, conflicts_with_all = ["all", "json"])]
    schema: bool,
}

/// Plans and prints.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    if arguments.schema {
        terminal::result(&wire::text(&wire::plan_schema()))?;
        return Ok(Outcome::Holds);
    }
    let Some(Planned { plan, file, .. }) = builds::plan(&arguments.build.build)? else {
        return Ok(Outcome::Unread);
    };
    if arguments.json {
        terminal::result(&wire::text(&wire::plan(&plan, &file)))?;
    } else {
        let extent = if arguments.all { Extent::All } else { Extent::Short };
        terminal::result(&text::plan(&plan, &file, extent))?;
    }
    Ok(match plan.verdict() {
        Verdict::Fails => Outcome::Fails,
        Verdict::Unknown | Verdict::Close | Verdict::Holds => Outcome::Holds,
    })
}
