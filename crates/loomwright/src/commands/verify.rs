//! `loomwright verify`: published cases, ours beside theirs.

use std::path::PathBuf;

use anyhow::Result;
use plan::verify::{Judged, digits, verify};

use crate::{Outcome, disk, terminal, text, wire};

/// Run published cases and print ours beside theirs
#[derive(clap::Args)]
#[command(after_help = "Example:\n  loomwright verify validation/*.toml\n\n\
    Exit status: 0 every case holds, 1 one does not, 2 a file could not be read")]
pub(crate) struct Arguments {
    /// Files of cases
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// Runs every case of every file.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    let mut all: Vec<(String, Vec<Judged>)> = Vec::new();
    let mut outcome = Outcome::Holds;
    for path in &arguments.files {
        // A file that cannot be read keeps no other from being run.
        let judged = disk::read(path).and_then(|sheet| {
            let judged = verify(&sheet.text).map_err(|errors| {
                let lines: Vec<String> =
                    errors.iter().map(|e| format!("{}: {e}", sheet.name)).collect();
                anyhow::anyhow!("{}", lines.join("\nerror: "))
            })?;
            Ok((sheet.name, judged))
        });
        match judged {
            Ok(judged) => all.push(judged),
            Err(error) => {
                terminal::message(&format!("error: {error:#}"));
                outcome = Outcome::Unread;
            }
        }
    }
    let shown = if arguments.json {
        wire::text(&wire::verified(&all))
    } else {
        all.iter().map(|(name, judged)| shown(name, judged)).collect()
    };
    terminal::result(&shown)?;
    let fails = all.iter().flat_map(|(_, judged)| judged).any(|j| !j.holds);
    Ok(if outcome == Outcome::Holds && fails { Outcome::Fails } else { outcome })
}

fn shown(name: &str, judged: &[Judged]) -> String {
    let rows = judged
        .iter()
        .map(|j| {
            let number = |value| format!("{} {}", digits(value), j.unit).trim_end().to_owned();
            vec![
                format!("{} {}", j.line, j.figure),
                j.output.clone(),
                number(j.ours),
                number(j.theirs),
                j.difference_shown(),
                j.rule.shown(&j.unit),
                if j.holds { String::new() } else { "FAILS".to_owned() },
            ]
        })
        .collect();
    let head = ["LINE, FIGURE", "OUTPUT", "OURS", "THEIRS", "DIFFERENCE", "ALLOWED", ""];
    let fails = judged.iter().filter(|j| !j.holds).count();
    let sum = match fails {
        0 => format!("{} numbers, all hold", judged.len()),
        n => format!("{} numbers, {n} of them not as published", judged.len()),
    };
    format!("{name}\n{}{sum}\n\n", text::table(&head, rows))
}
