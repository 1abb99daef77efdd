//! `loomwright figure`: the calculators.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail};
use plan::figures::{self, Answer, Figure, FigureError, Input};

use crate::{Outcome, disk, terminal, text, wire};

/// Work out one figure; without a name, list them
#[derive(clap::Args)]
#[command(after_help = "Example:\n  loomwright figure\n  \
    loomwright figure bolt-preload thread=M8 torque=\"9 N m\" nut-factor=0.2\n  \
    loomwright figure jacket-bundle --given FILE.toml --json")]
pub(crate) struct Arguments {
    /// Name of the figure
    name: Option<String>,
    /// Its inputs, each NAME=VALUE with the unit: torque="9 N m"
    #[arg(value_name = "NAME=VALUE")]
    inputs: Vec<String>,
    /// Take inputs from a TOML file, lists too
    #[arg(long, value_name = "FILE")]
    given: Option<PathBuf>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// Answers or lists.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    let Some(name) = &arguments.name else {
        if arguments.given.is_some() {
            bail!("--given needs the name of a figure");
        }
        let listed =
            if arguments.json { wire::text(&wire::figures(figures::all())) } else { list() };
        terminal::result(&listed)?;
        return Ok(Outcome::Holds);
    };
    let figure = figures::find(name).map_err(|error| anyhow!("{error}"))?;
    let asked = figures::run(figure.name, &inputs(arguments)?).map(|mut answer| {
        // What was given is shown as it was: the file by its name.
        for (name, value) in answer.given.iter_mut().filter(|(name, _)| *name == FILE) {
            let mut words = arguments.inputs.iter().filter_map(|w| w.split_once('='));
            let own = words.rfind(|(n, _)| n.trim() == *name);
            *value = own.map_or("a file".to_owned(), |(_, path)| path.trim().to_owned());
        }
        answer
    });
    match asked {
        Ok(answer) if arguments.json => terminal::result(&wire::text(&wire::answer(&answer)))?,
        Ok(answer) => terminal::result(&shown(&answer))?,
        Err(errors) => {
            terminal::message(&said(figure, &errors));
            return Ok(Outcome::Unread);
        }
    }
    Ok(Outcome::Holds)
}

/// The input that names a file.
const FILE: &str = "file";

/// What is given on the line, and what the file gives beside it.
fn inputs(arguments: &Arguments) -> Result<Vec<(String, String)>> {
    let mut given = Vec::new();
    for word in &arguments.inputs {
        let (name, value) = word
            .split_once('=')
            .with_context(|| format!("`{word}` is no input: write NAME=VALUE"))?;
        let (name, value) = (name.trim(), value.trim());
        // A figure reads no disk: the text of a file takes the place of its name.
        let value = match name {
            FILE => disk::read(Path::new(value))?.text,
            _ => value.to_owned(),
        };
        given.push((name.to_owned(), value));
    }
    if let Some(path) = &arguments.given {
        let sheet = disk::read(path)?;
        let table: toml::Table = sheet.text.parse().map_err(|error: toml::de::Error| {
            anyhow!("{}: {}", sheet.name, error.to_string().trim())
        })?;
        given.extend(figures::texts(&table));
    }
    Ok(given)
}

fn list() -> String {
    let rows =
        figures::all().iter().map(|f| vec![f.name.to_owned(), f.purpose.to_owned()]).collect();
    let table = text::table(&["FIGURE", "WHAT IT IS FOR"], rows);
    format!("{table}\nloomwright figure NAME says what a figure needs\n")
}

fn said(figure: &Figure, errors: &[FigureError]) -> String {
    let mut lines: Vec<String> = errors.iter().map(|error| format!("error: {error}")).collect();
    lines.push(format!("\n{}: {}", figure.name, figure.purpose));
    lines.push(needs(figure));
    lines.push(format!("Example:\n  loomwright figure {}", example(figure)));
    lines.join("\n")
}

/// The figure's example as one types it.
pub(super) fn example(figure: &Figure) -> String {
    let mut words = vec![figure.name.to_owned()];
    for (name, value) in figure.example {
        let plain = value.chars().all(|c| c.is_ascii_alphanumeric() || ".-_/".contains(c));
        let quote = if plain { "" } else { "'" };
        words.push(format!("{name}={quote}{value}{quote}"));
    }
    words.join(" ")
}

/// Whether an input is needed.
pub(super) fn due(input: &Input) -> String {
    match input.default {
        Some(default) => format!("{default} if not given"),
        None if input.required => "needed".to_owned(),
        None => "may be left out".to_owned(),
    }
}

fn needs(figure: &Figure) -> String {
    let rows = figure
        .inputs
        .iter()
        .map(|input| vec![input.name.to_owned(), due(input), input.what.to_owned()])
        .collect();
    text::table(&["INPUT", "", "WHAT IT IS"], rows)
}

fn shown(answer: &Answer) -> String {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (name, value) in &answer.given {
        rows.push(vec![(*name).to_owned(), value.clone(), "given".to_owned()]);
    }
    for found in &answer.results {
        let values: Vec<String> = found.values.iter().map(|v| digits(*v)).collect();
        rows.push(vec![found.name.to_owned(), values.join(", "), found.unit.clone()]);
    }
    let mut shown = text::table(&[answer.figure, "", ""], rows);
    for note in &answer.notes {
        shown.push_str(&text::wrap(&format!("note: {note}"), 6));
    }
    shown.push_str(&text::wrap(&format!("source: {}", answer.source), 8));
    shown
}

/// Five significant digits: more than any of these relations is good for.
fn digits(value: f64) -> String {
    let size = value.abs();
    if size == 0.0 {
        return "0".to_owned();
    }
    if !(1e-4..1e7).contains(&size) {
        return format!("{value:.4e}");
    }
    let decimals = if size < 1.0 {
        // 0.0012345: as many more decimals as there are zeros after the point.
        let text = format!("{size:.8}");
        5 + text.trim_start_matches("0.").chars().take_while(|c| *c == '0').count()
    } else {
        5_usize.saturating_sub(format!("{:.0}", size.trunc()).len())
    };
    let text = format!("{value:.decimals$}");
    if !text.contains('.') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::digits;

    #[test]
    fn five_digits_are_shown() {
        for (value, text) in [
            (0.0, "0"),
            (5.650_123_4, "5.6501"),
            (1234.567, "1234.6"),
            (123_456.7, "123457"),
            (0.001_234_567, "0.0012346"),
            (12.0, "12"),
            (-0.5, "-0.5"),
            (1.5e-9, "1.5000e-9"),
            (2.0e8, "2.0000e8"),
        ] {
            assert_eq!(digits(value), text);
        }
    }
}
