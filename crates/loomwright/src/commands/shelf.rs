//! `loomwright shelf`: look for a part or material.

use std::borrow::Cow;
use std::path::PathBuf;

use anyhow::Result;
use physics::units::System;
use plan::given::shelf_look::{ShelfHit, looked_for};
use plan::given::shelf_read::standard;

use crate::{Outcome, builds, terminal, text, wire};

/// Look for a part or material
#[derive(clap::Args)]
#[command(
    after_help = "Example:\n  loomwright shelf lug M8\n  loomwright shelf oring 258 --json\n  \
    loomwright shelf --build my-build cable"
)]
pub(crate) struct Arguments {
    /// Words that must all occur in a row; none lists everything
    words: Vec<String>,
    /// Look on the shelf of this build, with the shop's own parts.toml over the standard one
    #[arg(long, value_name = "DIR")]
    build: Option<PathBuf>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// Lists what has all the words; nothing found is no failure.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    let words = arguments.words.join(" ");
    let shelf = match &arguments.build {
        Some(path) => match builds::shelf(path)? {
            Some(shelf) => shelf,
            None => return Ok(Outcome::Unread),
        },
        None => Cow::Borrowed(standard()),
    };
    let hits = looked_for(&shelf, &words, System::Metric);
    if arguments.json {
        terminal::result(&wire::text(&wire::hits(&hits)))?;
        return Ok(Outcome::Holds);
    }
    if hits.is_empty() {
        terminal::message(&format!("nothing on the shelf has all of `{words}`"));
        return Ok(Outcome::Holds);
    }
    let shown: String = hits.iter().map(shown).collect();
    terminal::result(&shown)?;
    Ok(Outcome::Holds)
}

fn shown(hit: &ShelfHit) -> String {
    let mut lines = format!("{:<11} {}\n", hit.kind, hit.id);
    let mut add = |line: &str| lines.push_str(&text::wrap(&format!("            {line}"), 12));
    if hit.name != hit.id {
        add(&hit.name);
    }
    add(&hit.text);
    add(&format!("{}: {}", hit.standing.word(), hit.source));
    if let Some(note) = &hit.note {
        add(note);
    }
    lines
}
