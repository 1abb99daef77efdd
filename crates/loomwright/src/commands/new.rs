//! `loomwright new`: a build to start from.

use std::path::PathBuf;

use anyhow::{Result, bail};
use plan::given::nearest::nearest;
use plan::given::reference;

use crate::{Outcome, disk, terminal};

/// Make a commented build to start from
#[derive(clap::Args)]
#[command(after_help = "Example:\n  loomwright new my-build\n  \
    loomwright new my-truck --from-example orchard-truck")]
pub(crate) struct Arguments {
    /// Folder to make
    #[arg(value_name = "DIR")]
    folder: PathBuf,
    /// Copy an example build instead of the commented starter
    #[arg(long, value_name = "NAME")]
    from_example: Option<String>,
}

/// A file of a build and what stands in it.
type Part = (&'static str, &'static str);

macro_rules! part {
    ($build:literal, $name:literal) => {
        ($name, include_str!(concat!("../../../../builds/", $build, "/", $name)))
    };
}

/// The example builds, as they lie in the project.
const EXAMPLES: &[(&str, &[Part])] = &[
    ("first", &[part!("first", "build.toml")]),
    ("hill-wagon", &[part!("hill-wagon", "build.toml")]),
    (
        "orchard-truck",
        &[
            part!("orchard-truck", "build.toml"),
            part!("orchard-truck", "parts.toml"),
            part!("orchard-truck", "motor-phases-face.toml"),
            part!("orchard-truck", "inverter-phases-face.toml"),
            part!("orchard-truck", "inverter-dc-face.toml"),
        ],
    ),
];

/// Writes the files; none is ever replaced.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    let files: Vec<(&str, String)> = match &arguments.from_example {
        None => vec![(disk::DOCUMENT, reference::starter())],
        Some(name) => {
            example(name)?.iter().map(|(file, text)| (*file, (*text).to_owned())).collect()
        }
    };
    for (name, _) in &files {
        let path = arguments.folder.join(name);
        if path.exists() {
            bail!(
                "{}: is there already and is left as it is; name another folder, or plan this one: \
                 loomwright plan {}",
                path.display(),
                arguments.folder.display()
            );
        }
    }
    disk::folder(&arguments.folder)?;
    for (name, text) in &files {
        disk::write(&arguments.folder.join(name), text.as_bytes())?;
    }
    terminal::message(&format!(
        "{} written; next: loomwright plan {}",
        arguments.folder.join(disk::DOCUMENT).display(),
        arguments.folder.display()
    ));
    Ok(Outcome::Holds)
}

fn example(name: &str) -> Result<&'static [Part]> {
    if let Some((_, files)) = EXAMPLES.iter().find(|(n, _)| *n == name) {
        return Ok(files);
    }
    let names: Vec<&str> = EXAMPLES.iter().map(|(n, _)| *n).collect();
    match nearest(name, names.iter().copied()) {
        Some(near) => bail!("there is no example `{name}`: did you mean `{near}`?"),
        None => bail!("there is no example `{name}`: there are {}", names.join(", ")),
    }
}
