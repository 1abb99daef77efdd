//! Runs the program as a person does.
#![allow(dead_code, reason = "each test file uses its own part of this")]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// What came of a run.
pub(crate) struct Ran {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

pub(crate) fn command() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_loomwright"));
    command.env_remove("NO_COLOR").current_dir(root());
    command
}

pub(crate) fn run(words: &[&str]) -> Ran {
    ran(command().args(words).output().unwrap())
}

/// No run ends otherwise than with 0, 1 or 2, or says that it panicked.
pub(crate) fn ran(output: Output) -> Ran {
    let ran = Ran {
        status: output.status.code().expect("the program ends by itself"),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    };
    assert!((0..=2).contains(&ran.status), "{}: {}", ran.status, ran.err);
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
    assert!(!ran.err.contains('\u{1b}'), "only a terminal gets colour: {}", ran.err);
    ran
}

/// The project's own folder.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

/// The example builds by name.
pub(crate) fn examples() -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = fs::read_dir(root().join("builds"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir())
        .collect();
    all.sort();
    assert!(2 <= all.len());
    all
}

/// An empty folder of this name.
pub(crate) fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// A build with this document.
pub(crate) fn build(name: &str, document: impl AsRef<[u8]>) -> PathBuf {
    let folder = folder(name);
    fs::write(folder.join("build.toml"), document).unwrap();
    folder
}

pub(crate) fn word(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// An example's document, with pieces of it replaced; each piece must be there.
pub(crate) fn changed(example: &str, pieces: &[(&str, &str)]) -> String {
    let path = root().join("builds").join(example).join("build.toml");
    let mut text = fs::read_to_string(path).unwrap();
    for (from, to) in pieces {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    text
}
