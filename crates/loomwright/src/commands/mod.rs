//! The commands, one file each: its arguments and one verb.

pub(crate) mod new;
pub(crate) mod plan;
pub(crate) mod bench;
pub(crate) mod book;
mod keep;
pub(crate) mod plates;
pub(crate) mod kit;
pub(crate) mod survey;
pub(crate) mod figure;
pub(crate) mod verify;
pub(crate) mod shelf;
pub(crate) mod docs;

use std::path::PathBuf;

/// The build every command but `new` begins with.
#[derive(clap::Args)]
pub(crate) struct BuildArgument {
    /// Folder of the build, or its document
    #[arg(value_name = "DIR", default_value = ".")]
    pub(crate) build: PathBuf,
}
