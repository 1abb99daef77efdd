//! Files in `docs/` that the program writes about itself: the tables there are the tables it runs on.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::tools;

/// Writes them again, or with `--check` only compares.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    match words {
        [] => generate(&tools::root().join("docs")),
        [word] if word == "--check" => check(),
        _ => Err("gen takes nothing, or --check".to_owned()),
    }
}

/// Compares what the program writes now, whatever that is, with what is kept.
pub(crate) fn check() -> Result<(), String> {
    let folder = tools::target()?.join("docs-check");
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(|error| broken(&folder, &error))?;
    }
    generate(&folder)?;
    let kept = tools::root().join("docs");
    let mut stale = Vec::new();
    for entry in fs::read_dir(&folder).map_err(|error| broken(&folder, &error))? {
        let name = entry.map_err(|error| broken(&folder, &error))?.file_name();
        let path = folder.join(&name);
        let fresh = fs::read_to_string(&path).map_err(|error| broken(&path, &error))?;
        let kept = fs::read_to_string(kept.join(&name)).ok();
        if let Some(how) = difference(kept.as_deref(), &fresh) {
            stale.push(format!("docs/{} {how}", name.display()));
        }
    }
    stale.sort();
    if stale.is_empty() {
        return Ok(());
    }
    Err(format!("{}\nrun `cargo xtask gen` and read what changed", stale.join("\n")))
}

fn generate(folder: &Path) -> Result<(), String> {
    fs::create_dir_all(folder).map_err(|error| broken(folder, &error))?;
    let (program, _) = tools::program()?;
    let mut command = Command::new(program);
    command.arg("docs").arg(folder).current_dir(tools::root());
    tools::timed(&mut command).map(drop)
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
