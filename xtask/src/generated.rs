//! Files in `docs/`, and the types of the bench's pages, that the program writes about itself: the tables there are the tables it runs on.

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::tools;

/// Where a generated file is kept: the types of the bench's pages among the pages, all else in `docs/`.
fn kept(name: &OsStr) -> PathBuf {
    let folder = if name == "wire.ts" { "web/src" } else { "docs" };
    tools::root().join(folder).join(name)
}

/// Writes them again, or with `--check` only compares.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    match words {
        [] => {
            for path in generate()? {
                let kept = kept(path.file_name().unwrap_or_default());
                fs::copy(&path, &kept).map_err(|error| broken(&kept, &error))?;
            }
            Ok(())
        }
        [word] if word == "--check" => check(),
        _ => Err("gen takes nothing, or --check".to_owned()),
    }
}

/// Compares what the program writes now, whatever that is, with what is kept.
pub(crate) fn check() -> Result<(), String> {
    let mut stale = Vec::new();
    for path in generate()? {
        let fresh = fs::read_to_string(&path).map_err(|error| broken(&path, &error))?;
        let kept = kept(path.file_name().unwrap_or_default());
        let old = fs::read_to_string(&kept).ok();
        if let Some(how) = difference(old.as_deref(), &fresh) {
            stale.push(format!("{} {how}", tools::short(&kept)));
        }
    }
    stale.sort();
    if stale.is_empty() {
        return Ok(());
    }
    Err(format!("{}\nrun `cargo xtask gen` and read what changed", stale.join("\n")))
}

/// Has the program write them into a folder of their own.
fn generate() -> Result<Vec<PathBuf>, String> {
    let (program, _) = tools::program()?;
    let folder = tools::target()?.join("docs-fresh");
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(|error| broken(&folder, &error))?;
    }
    fs::create_dir_all(&folder).map_err(|error| broken(&folder, &error))?;
    let mut command = Command::new(program);
    command.arg("docs").arg(&folder).current_dir(tools::root());
    tools::timed(&mut command)?;
    let entries = fs::read_dir(&folder).map_err(|error| broken(&folder, &error))?;
    entries.map(|e| e.map(|e| e.path()).map_err(|error| broken(&folder, &error))).collect()
}

fn broken(path: &Path, error: &std::io::Error) -> String {
    format!("{}: {error}", path.display())
}

/// How a kept file differs from the fresh one, if it does.
fn difference(kept: Option<&str>, fresh: &str) -> Option<String> {
    let Some(kept) = kept else { return Some("is missing".to_owned()) };
    if kept == fresh {
        return None;
    }
    let same = kept.lines().zip(fresh.lines()).take_while(|(old, new)| old == new).count();
    Some(format!("is stale from line {} on", same + 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stale_file_is_told_by_its_first_line() {
        assert_eq!(difference(Some("a\nb\n"), "a\nb\n"), None);
        let how = difference(Some("a\nb\n"), "a\nc\n");
        assert_eq!(how.as_deref(), Some("is stale from line 2 on"));
        assert_eq!(difference(None, "a").as_deref(), Some("is missing"));
    }
}
