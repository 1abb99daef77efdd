//! The whole tree in memory, so that rules need no disk and their tests no files.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Folders that are built or fetched, not written.
const NOT_OURS: &[&str] = &["target", "node_modules", "dist"];

/// Of the folders that begin with a dot, those that are ours and not an editor's.
const DOTTED_OURS: &[&str] = &[".cargo", ".ci", ".github"];

/// Every file of the workspace by its path from the root, with `/` on every system.
#[derive(Default)]
pub(crate) struct Tree {
    /// The files that are text.
    pub(crate) texts: BTreeMap<String, String>,
    /// All files.
    pub(crate) paths: BTreeSet<String>,
}

impl Tree {
    /// Reads the tree from disk.
    pub(crate) fn read(root: &Path) -> Result<Tree, String> {
        let mut tree = Tree::default();
        tree.read_folder(root, "")?;
        Ok(tree)
    }

    fn read_folder(&mut self, folder: &Path, prefix: &str) -> Result<(), String> {
        let broken = |error: std::io::Error| format!("{}: {error}", folder.display());
        for entry in fs::read_dir(folder).map_err(broken)? {
            let entry = entry.map_err(broken)?;
            let name = entry.file_name().to_string_lossy().into_owned();
            let path = format!("{prefix}{name}");
            if entry.file_type().map_err(broken)?.is_dir() {
                if is_ours(&name) {
                    self.read_folder(&entry.path(), &format!("{path}/"))?;
                }
                continue;
            }
            if let Ok(text) = String::from_utf8(fs::read(entry.path()).map_err(broken)?) {
                self.texts.insert(path.clone(), text);
            }
            self.paths.insert(path);
        }
        Ok(())
    }

    /// The text files under a folder that end as told.
    pub(crate) fn under<'a>(
        &'a self,
        folder: &'a str,
        end: &'a str,
    ) -> impl Iterator<Item = (&'a str, &'a str)> {
        self.texts
            .iter()
            .filter(move |(path, _)| path.starts_with(folder) && path.ends_with(end))
            .map(|(path, text)| (path.as_str(), text.as_str()))
    }

    /// The folders of all crates, with their names.
    pub(crate) fn crates(&self) -> Vec<(String, String)> {
        let manifests = self.texts.keys().filter_map(|path| path.strip_suffix("/Cargo.toml"));
        manifests
            .map(|folder| {
                let name = folder.rsplit('/').next().unwrap_or(folder);
                (name.to_owned(), folder.to_owned())
            })
            .collect()
    }

    #[cfg(test)]
    pub(crate) fn of(files: &[(&str, &str)]) -> Tree {
        let mut tree = Tree::default();
        for (path, text) in files {
            tree.texts.insert((*path).to_owned(), (*text).to_owned());
            tree.paths.insert((*path).to_owned());
        }
        tree
    }
}

fn is_ours(folder: &str) -> bool {
    if folder.starts_with('.') {
        DOTTED_OURS.contains(&folder)
    } else {
        !NOT_OURS.contains(&folder)
    }
}

/// One breach of a house rule.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Offence {
    /// The file, from the root.
    pub(crate) file: String,
    /// The line, from 1.
    pub(crate) line: usize,
    /// What is wrong, then what to do.
    pub(crate) message: String,
}

impl Offence {
    pub(crate) fn new(file: &str, line: usize, message: impl Into<String>) -> Offence {
        Offence { file: file.to_owned(), line, message: message.into() }
    }
}

impl std::fmt::Display for Offence {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{}:{}: {}", self.file, self.line, self.message)
    }
}

/// Offences as `file:line` pairs, for tests that plant one.
#[cfg(test)]
pub(crate) fn places(offences: &[Offence]) -> Vec<String> {
    offences.iter().map(|offence| format!("{}:{}", offence.file, offence.line)).collect()
}
