//! Files in `docs/` that the program writes about itself: the tables there are the tables it runs on.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::{say, tools};

/// What `loomwright docs DIR` writes.
const FILES: &[&str] = &["validation.md", "figures.md", "checks.md", "plan.schema.json"];

/// Writes them again, or with `--check` only compares.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    match words {
        [] => write(),
        [word] if word == "--check" => check(),
        _ => Err("gen takes nothing, or --check".to_owned()),
    }
}

fn write() -> Result<(), String> {
    generate(&tools::root().join("docs"))?;
    for name in FILES {
        say::line(&format!("docs/{name} written"));
    }
    Ok(())
}

/// Compares what the program writes now with what is kept.
pub(crate) fn check() -> Result<(), String> {
    let fresh = tools::target()?.join("docs-check");
    generate(&fresh)?;
    let kept = tools::root().join("docs");
    let stale: Vec<String> = FILES
        .iter()
        .filter_map(|name| {
            let fresh = fs::read_to_string(fresh.join(name)).ok();
            let kept = fs::read_to_string(kept.join(name)).ok();
            difference(kept.as_deref(), fresh.as_deref())
                .map(|how| format!("docs/{name} {how}"))
        })
        .collect();
    if stale.is_empty() {
        return Ok(());
    }
    Err(format!("{}\nrun `cargo xtask gen` and read what changed", stale.join("\n")))
}

fn generate(folder: &Path) -> Result<(), String> {
    fs::create_dir_all(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let (program, _) = tools::program()?;
    let mut command = Command::new(program);
    command.arg("docs").arg(folder).current_dir(tools::root());
    tools::timed(&mut command).map(drop)
}

/// How a kept file differs from the fresh one, if it does.
fn difference(kept: Option<&str>, fresh: Option<&str>) -> Option<String> {
    let (Some(kept), Some(fresh)) = (kept, fresh) else {
        let what = if fresh.is_some() { "is missing" } else { "is not written by the program" };
        return Some(what.to_owned());
    };
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
        assert_eq!(difference(Some("a\nb\n"), Some("a\nb\n")), None);
        let how = difference(Some("a\nb\n"), Some("a\nc\n"));
        assert_eq!(how.as_deref(), Some("is stale from line 2 on"));
        assert_eq!(difference(None, Some("a")).as_deref(), Some("is missing"));
        let how = difference(Some("a"), None);
        assert_eq!(how.as_deref(), Some("is not written by the program"));
    }
}
