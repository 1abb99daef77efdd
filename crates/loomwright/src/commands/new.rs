//! `loomwright new`: a build to start from.

use std::path::PathBuf;

use anyhow::{Result, bail};
use plan::given::nearest::nearest;
use plan::given::reference;

use crate::{Outcome, disk, examples, terminal};

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

fn example(name: &str) -> Result<&'static [(&'static str, &'static str)]> {
    if let Some(found) = examples::ALL.iter().find(|e| e.name == name) {
        return Ok(found.files);
    }
    let names: Vec<&str> = examples::ALL.iter().map(|e| e.name).collect();
    match nearest(name, names.iter().copied()) {
        Some(near) => bail!("there is no example `{name}`: did you mean `{near}`?"),
        None => bail!("there is no example `{name}`: there are {}", names.join(", ")),
    }
}
