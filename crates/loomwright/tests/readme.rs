//! What the README shows of an example is what stands there.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use std::fs;
use std::path::{Path, PathBuf};

const MARK: &str = "<!-- part of ";

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Where an excerpt is taken from, and its lines.
fn excerpts(readme: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for piece in readme.split(MARK).skip(1) {
        let (path, rest) = piece.split_once(" -->\n```").unwrap();
        let (_, rest) = rest.split_once('\n').unwrap();
        let (shown, _) = rest.split_once("\n```").unwrap();
        found.push((path.to_owned(), shown.to_owned()));
    }
    found
}

/// The same excerpt of a file that has changed: from its first line to its last.
fn again(file: &str, shown: &str) -> Option<String> {
    let (first, last) = (shown.lines().next()?, shown.lines().last()?);
    let start = file.find(first)?;
    let end = start + file[start..].find(last)? + last.len();
    Some(file[start..end].to_owned())
}

#[test]
fn the_readme_shows_real_lines_of_the_examples() {
    let path = root().join("README.md");
    let mut readme = fs::read_to_string(&path).unwrap();
    let all = excerpts(&readme);
    assert!(4 <= all.len(), "only {} excerpts are marked", all.len());
    for (from, shown) in all {
        let file = fs::read_to_string(root().join(&from)).unwrap();
        if std::env::var_os("UPDATE").is_some()
            && let Some(now) = again(&file, &shown)
        {
            readme = readme.replace(&shown, &now);
            continue;
        }
        assert!(file.contains(&shown), "{from} no longer says, so UPDATE=1:\n{shown}");
    }
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, readme).unwrap();
    }
}

#[test]
fn an_excerpt_follows_its_file() {
    let shown = "mass 1 kg\ncost 2\nend";
    assert_eq!(
        again("head\nmass 1 kg\ncost 3\nend\n", shown).unwrap(),
        "mass 1 kg\ncost 3\nend"
    );
    assert_eq!(again("nothing of it", shown), None);
}
