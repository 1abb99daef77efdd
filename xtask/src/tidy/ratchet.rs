//! Long files and long functions: their number is written down and may only fall.
//!
//! A ceiling would be broken once and then forgotten; a count that must be lowered whenever it can be
//! stops short things from growing long and never asks for a crusade. A function over the limit also
//! needs `#[expect(clippy::too_many_lines, reason = "...")]`; both limits count as clippy does.

use std::collections::BTreeMap;

use super::scan;
use super::tree::{Offence, Tree};

/// Where the counts are kept.
pub(crate) const FILE: &str = "xtask/ratchet.txt";

const FILE_LINES_MAX: usize = 1000;
const FUNCTION_LINES_MAX: usize = 70;

const HEADER: &str = "\
# How many files over 1,000 lines and functions over 70 lines of code each crate has.
# `cargo xtask tidy --tighten` lowers a number when one has become shorter. Raising one is done by hand
# and needs its reason in the commit.
# crate       files  functions
";

/// How many long files and long functions a crate has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Count {
    files: usize,
    functions: usize,
}

/// What is long in a crate, each as an offence that is raised only if there are too many.
#[derive(Default)]
struct Long {
    files: Vec<Offence>,
    functions: Vec<Offence>,
}

/// Counts above, or below, what is written down.
pub(crate) fn check(tree: &Tree) -> Vec<Offence> {
    let mut found = Vec::new();
    let kept = kept(tree);
    for (name, long) in measured(tree) {
        let allowed = kept.get(&name).copied().unwrap_or_default();
        for (what, long, allowed) in [
            ("long files", long.files, allowed.files),
            ("long functions", long.functions, allowed.functions),
        ] {
            if long.len() < allowed {
                let message = format!(
                    "{name} has {} {what}, {allowed} are written down; run `cargo xtask tidy --tighten`",
                    long.len()
                );
                found.push(Offence::new(FILE, 1, message));
            } else if long.len() > allowed {
                let message = format!(
                    "{name} has {} {what}, {allowed} are allowed; these are:",
                    long.len()
                );
                found.push(Offence::new(FILE, 1, message));
                found.extend(long);
            }
        }
    }
    found
}

/// The file of counts as it should be: never higher than it is.
pub(crate) fn tightened(tree: &Tree) -> String {
    let kept = kept(tree);
    let mut text = HEADER.to_owned();
    for (name, long) in measured(tree) {
        let allowed = kept.get(&name).copied().unwrap_or_default();
        let files = long.files.len().min(allowed.files);
        let functions = long.functions.len().min(allowed.functions);
        text.push_str(&format!("{name:13} {files:5} {functions:10}\n"));
    }
    text
}

fn kept(tree: &Tree) -> BTreeMap<String, Count> {
    let text = tree.texts.get(FILE).map_or("", String::as_str);
    let rows = text.lines().filter(|line| !line.starts_with('#'));
    rows.filter_map(|line| {
        let mut words = line.split_whitespace();
        let name = words.next()?.to_owned();
        let files = words.next()?.parse().ok()?;
        let functions = words.next()?.parse().ok()?;
        Some((name, Count { files, functions }))
    })
    .collect()
}

fn measured(tree: &Tree) -> BTreeMap<String, Long> {
    let mut crates = BTreeMap::new();
    for (name, folder) in tree.crates() {
        let mut long = Long::default();
        for (file, text) in tree.under(&format!("{folder}/"), ".rs") {
            let lines = text.lines().count();
            if lines > FILE_LINES_MAX {
                long.files.push(Offence::new(file, 1, format!("{lines} lines")));
            }
            for function in scan::functions(&scan::tokens(text)) {
                if function.code_lines > FUNCTION_LINES_MAX {
                    let message =
                        format!("{} has {} lines", function.name, function.code_lines);
                    long.functions.push(Offence::new(file, function.line, message));
                }
            }
        }
        crates.insert(name, long);
    }
    crates
}

#[cfg(test)]
mod tests {
    use super::super::tree::places;
    use super::*;

    fn tree(kept: &str, body_lines: usize) -> Tree {
        let long = format!("fn long() {{\n{}}}\n", "a();\n".repeat(body_lines));
        Tree::of(&[
            ("crates/plan/Cargo.toml", ""),
            ("crates/plan/src/lib.rs", &long),
            (FILE, kept),
        ])
    }

    #[test]
    fn one_too_long_is_caught_and_named() {
        assert!(check(&tree("plan 0 0", 70)).is_empty());
        let found = places(&check(&tree("plan 0 0", 71)));
        assert_eq!(found, ["xtask/ratchet.txt:1", "crates/plan/src/lib.rs:1"]);
        assert!(check(&tree("plan 0 1", 71)).is_empty());
        assert_eq!(check(&tree("plan 0 1", 1200)).len(), 2);
    }

    #[test]
    fn a_count_that_can_fall_must_fall_and_never_rises() {
        assert_eq!(places(&check(&tree("plan 0 1", 70))), ["xtask/ratchet.txt:1"]);
        let row =
            |text: String| text.lines().last().unwrap().split_whitespace().collect::<String>();
        assert_eq!(row(tightened(&tree("plan 3 1", 70))), "plan00");
        assert_eq!(row(tightened(&tree("plan 0 0", 71))), "plan00");
    }
}
