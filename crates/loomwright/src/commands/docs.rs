//! `loomwright docs`: the pages the program writes about itself, for the project's own `docs` folder.

use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow};
use plan::checks;
use plan::figures;
use plan::given::reference;
use plan::verify::{self, Topic};

use crate::bench::calls;
use crate::{Outcome, disk, terminal, wire};

/// Write the pages made from the program's own tables
#[derive(clap::Args)]
#[command(hide = true, after_help = "Example:\n  loomwright docs docs")]
pub(crate) struct Arguments {
    /// Folder to write them into
    #[arg(value_name = "DIR")]
    folder: PathBuf,
}

/// Writes them.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    disk::folder(&arguments.folder)?;
    let pages = [
        ("build.md", reference::reference()),
        ("figures.md", figures_page()),
        ("checks.md", checks_page()),
        ("validation.md", validation_page()?),
        ("plan.schema.json", wire::text(&wire::plan_schema())),
        ("bench.openapi.json", wire::text(&wire::openapi(&calls::calls(), &calls::events()))),
        ("wire.ts", wire::typescript(&calls::calls(), &calls::events())),
    ];
    for (name, text) in pages {
        disk::write(&arguments.folder.join(name), text.as_bytes())?;
        terminal::message(&format!("{} written", arguments.folder.join(name).display()));
    }
    Ok(Outcome::Holds)
}

/// Where the project keeps its published cases, from where it is built.
const CASES: &str = "validation";

fn validation_page() -> Result<String> {
    let mut topics = Vec::new();
    for path in disk::tables(Path::new(CASES))? {
        let sheet = disk::read(&path)?;
        let judged = verify::verify(&sheet.text).map_err(|errors| {
            let lines: Vec<String> = errors.iter().map(ToString::to_string).collect();
            anyhow!("{}: {}", sheet.name, lines.join("; "))
        })?;
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        topics.push(Topic { name, judged });
    }
    Ok(verify::markdown(&topics))
}

/// A text that may stand in a cell of a Markdown table.
fn cell(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

fn figures_page() -> String {
    let mut page = String::from(
        "# Figures\n\n\
         Calculators: `loomwright figure NAME input=value ...`; quantities carry their unit.\n\
         The plan stands on the same laws.\n",
    );
    for figure in figures::all() {
        page.push_str(&format!("\n## {}\n\n{}.\n\n", figure.name, figure.purpose));
        page.push_str(&format!("    loomwright figure {}\n\n", super::figure::example(figure)));
        page.push_str("| input | | what it is |\n|---|---|---|\n");
        for input in figure.inputs {
            page.push_str(&format!(
                "| `{}` | {} | {} |\n",
                input.name,
                cell(&super::figure::due(input)),
                cell(input.what)
            ));
        }
        page.push_str("\n| output | unit | what it is |\n|---|---|---|\n");
        for output in figure.outputs {
            let (unit, what) = (cell(output.unit), cell(output.what));
            page.push_str(&format!("| `{}` | {unit} | {what} |\n", output.name));
        }
        page.push_str(&format!("\nSource: {}\n", figure.source));
    }
    page
}

fn checks_page() -> String {
    let mut page = String::from(
        "# Checks\n\n\
         What a plan is held against. A finding carries the code of its check, and a code is never used again for another.\n\n\
         | code | rule | source |\n|---|---|---|\n",
    );
    for check in checks::ALL {
        page.push_str(&format!(
            "| `{}` | {} | {} |\n",
            check.code,
            cell(check.rule),
            cell(check.source)
        ));
    }
    page
}
