//! `loomwright plates`: what a machinist needs, into a folder.

use std::path::{Path, PathBuf};

use anyhow::Result;
use draw::Drawing;
use draw::papers::{Papers, Piece, ends, papers, pieces};
use plan::finding::Verdict;

use super::{BuildArgument, keep};
use crate::builds::Planned;
use crate::{Outcome, builds, disk, terminal};

/// Write plates and blocks for the machinist: drawing, DXF, STEP, paper template, check sheet
#[derive(clap::Args)]
#[command(after_help = "Example:\n  loomwright plates my-build\n  \
    loomwright plates my-build -o for-the-machinist\n\n\
    loomwright plates my-build --keep \"seven M6\" --port motor.phases --by \"A. Turner\" \\\n      \
    --readings plates/plate-motor-phases-check.csv\n\n\
    Files of a part: .pdf and .svg (drawing), .dxf, .step, .glb, -template.pdf and .svg (1:1), -check.pdf and .csv\n\
    and of every end end-RUN-CABLE-PORT.glb, made up in its plate\n\
    With --keep nothing is drawn: the plate goes into parts.toml beside the build, and a build says\n\
    `use = \"NAME\"` in its plate table\n\
    Exit status: 0 nothing fails, 1 something fails, 2 the document could not be read")]
pub(crate) struct Arguments {
    #[command(flatten)]
    build: BuildArgument,
    /// Folder to write to [default: plates in the folder of the build]
    #[arg(short, long, value_name = "FOLDER")]
    output: Option<PathBuf>,
    /// Keep a proven plate on the shop's shelf under this name
    #[arg(long, value_name = "NAME", requires_all = ["port", "by"])]
    keep: Option<String>,
    /// Which plate to keep: "device.port"
    #[arg(long, value_name = "PORT", requires = "keep")]
    port: Option<String>,
    /// Who keeps it
    #[arg(long, value_name = "WHO", requires = "keep")]
    by: Option<String>,
    /// On which day [default: the build's date]
    #[arg(long, value_name = "DATE", requires = "keep")]
    on: Option<String>,
    /// Its check sheet with the readings filled in (-check.csv)
    #[arg(long, value_name = "FILE", requires = "keep")]
    readings: Option<PathBuf>,
}

/// Plans, draws and writes.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    let Some(Planned { plan, .. }) = builds::plan(&arguments.build.build)? else {
        return Ok(Outcome::Unread);
    };
    if let (Some(name), Some(port), Some(by)) =
        (&arguments.keep, &arguments.port, &arguments.by)
    {
        let wish = keep::Wish {
            name,
            port,
            by,
            on: arguments.on.as_deref(),
            readings: arguments.readings.as_deref(),
        };
        return keep::keep(&disk::document(&arguments.build.build), &plan, &wish);
    }
    let folder = arguments
        .output
        .clone()
        .unwrap_or_else(|| disk::document(&arguments.build.build).with_file_name("plates"));
    let (found, absent) = pieces(&plan);
    let mut bad = false;
    let mut made = Vec::new();
    // All is made before anything is written, so that a folder never holds half of two plans.
    for piece in &found {
        for why in &piece.refused {
            bad = true;
            let what = &piece.part.name;
            terminal::message(&format!(
                "{what} is refused, and written without files to cut from: {why}"
            ));
        }
        match papers(piece) {
            Ok(papers) => made.extend(files(piece, &papers)?),
            Err(faults) => {
                bad = true;
                for fault in faults {
                    let message =
                        format!("{} cannot be made: {}", piece.part.name, fault.message);
                    terminal::message(&message);
                }
            }
        }
    }
    if !made.is_empty() {
        let all = ends(&plan).into_iter();
        made.extend(all.map(|(stem, bytes)| (format!("{stem}.glb"), bytes)));
        disk::folder(&folder)?;
    }
    for (name, bytes) in &made {
        disk::write(&folder.join(name), bytes)?;
    }
    // What an earlier plan wrote of a part that is refused now would still be cut.
    for piece in found.iter().filter(|p| !p.refused.is_empty()) {
        for ending in CUT_FROM {
            disk::remove_if_there(&folder.join(format!("{}{ending}", piece.stem)))?;
        }
    }
    said(&folder, &made)?;
    if plan.plates.is_empty() {
        terminal::message("the build has no entry plates");
    }
    for why in &absent {
        terminal::message(why);
    }
    if !plan.for_building() {
        terminal::message(
            "not for building yet: `loomwright plan` says what stands in the way",
        );
    }
    Ok(if bad || plan.verdict() == Verdict::Fails { Outcome::Fails } else { Outcome::Holds })
}

/// Endings of what a refused part must not have.
const CUT_FROM: [&str; 6] =
    [".dxf", ".step", "-check.csv", "-check.pdf", "-template.pdf", "-template.svg"];

/// Names and contents of all files of a part.
fn files(piece: &Piece<'_>, papers: &Papers) -> Result<Vec<(String, Vec<u8>)>> {
    let stem = &piece.stem;
    let pdf = |drawings: &[Drawing]| {
        terminal::while_waiting("setting the drawings", || {
            book::sheets(drawings, &piece.making.digest)
        })
    };
    let svg = |drawing: &Drawing| drawing.svg.clone().into_bytes();
    let mut all = vec![
        (format!("{stem}.dxf"), papers.dxf.clone()),
        (format!("{stem}.step"), papers.step.clone().into_bytes()),
        (format!("{stem}.glb"), papers.glb.clone()),
        (format!("{stem}.pdf"), pdf(&papers.drawing)?),
        (format!("{stem}-template.svg"), svg(&papers.template)),
        (format!("{stem}-template.pdf"), pdf(std::slice::from_ref(&papers.template))?),
        (format!("{stem}-check.pdf"), pdf(&papers.check)?),
        (format!("{stem}-check.csv"), keep::sheet(piece).into_bytes()),
    ];
    if !piece.refused.is_empty() {
        // A drawing shows what is wrong, and says that it is not for building; a machine would not.
        all.retain(|(name, _)| !CUT_FROM.iter().any(|ending| name.ends_with(ending)));
    }
    for (i, drawing) in papers.drawing.iter().enumerate() {
        let name = if i == 0 { format!("{stem}.svg") } else { format!("{stem}-{}.svg", i + 1) };
        all.push((name, svg(drawing)));
    }
    all.sort_by(|a, b| a.0.cmp(&b.0));
    Ok(all)
}

fn said(folder: &Path, made: &[(String, Vec<u8>)]) -> Result<()> {
    let mut text = String::new();
    for (name, _) in made {
        text.push_str(&folder.join(name).display().to_string());
        text.push('\n');
    }
    Ok(terminal::result(&text)?)
}
