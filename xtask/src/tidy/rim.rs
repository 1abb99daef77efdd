//! What only the rim may name: disk, clock, environment, network; and where serialising lives.
//!
//! Clippy bans the calls it can name one by one (`clippy.toml`); this rule bans the whole modules. Build
//! scripts are left alone: they run before there is a program.

use super::scan::{self, Token};
use super::sources;
use super::tree::{Offence, Tree};

/// Modules of the standard library that reach out of the program.
const MODULES: &[&str] = &["fs", "env", "net", "process"];

/// The types of the clock, by whatever path they come.
const CLOCK: &[&str] = &["SystemTime", "Instant"];

/// The words by which serialising is known.
const SERIALISING: &[&str] =
    &["serde", "serde_json", "schemars", "Serialize", "Deserialize", "JsonSchema"];

/// The only sources that may serialise, and what they are for.
const SERIALISERS: &[(&str, &str)] = &[
    ("crates/loomwright/src/wire.rs", "the plan, figures and cases as JSON"),
    ("crates/loomwright/src/wire/", "the same, should it grow into a folder"),
    ("crates/book/src/model.rs", "the book's pages, as the typesetter reads them"),
    ("crates/book/src/pdf.rs", "hands those pages over"),
];

/// Offences in the sources that are built into the program.
pub(crate) fn check(tree: &Tree) -> Vec<Offence> {
    let mut found = Vec::new();
    for (file, text) in sources::program(tree, "crates/") {
        let tokens = scan::program_tokens(text);
        if !file.starts_with("crates/loomwright/") {
            outside(file, &tokens, &mut found);
        }
        if !SERIALISERS.iter().any(|(place, _)| file.starts_with(place)) {
            serialising(file, &tokens, &mut found);
        }
    }
    found
}

fn outside(file: &str, tokens: &[Token], found: &mut Vec<Offence>) {
    for path in scan::paths(tokens) {
        let [first, second, ..] = path.segments.as_slice() else { continue };
        if first == "std" && (MODULES.contains(&second.as_str()) || second == "*") {
            let message = format!(
                "std::{second} belongs to crates/loomwright; take the value as an argument"
            );
            found.push(Offence::new(file, path.line, message));
        }
    }
    for token in tokens.iter().filter(|token| CLOCK.contains(&token.text.as_str())) {
        let message = format!(
            "{} belongs to crates/loomwright; take the date as an argument",
            token.text
        );
        found.push(Offence::new(file, token.line, message));
    }
}

fn serialising(file: &str, tokens: &[Token], found: &mut Vec<Offence>) {
    for token in tokens.iter().filter(|token| token.is_word()) {
        if SERIALISING.contains(&token.text.as_str()) {
            let message =
                format!("{} outside wire.rs; convert to a type of the wire there", token.text);
            found.push(Offence::new(file, token.line, message));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tree::places;
    use super::*;

    fn offences(file: &str, source: &str) -> Vec<String> {
        places(&check(&Tree::of(&[(file, source)])))
    }

    #[test]
    fn the_disk_is_caught_however_it_is_named() {
        let source =
            "use std::{fmt, fs as disk};\nfn a() { std::env::var(\"B\"); }\nuse std::net::*;";
        assert_eq!(offences("crates/plan/src/a.rs", source).len(), 3);
        assert!(offences("crates/loomwright/src/a.rs", source).is_empty());
    }

    #[test]
    fn the_clock_is_caught() {
        let found = offences(
            "crates/book/src/a.rs",
            "use std::time::Duration;\nlet a = Instant::now();",
        );
        assert_eq!(found, ["crates/book/src/a.rs:2"]);
    }

    #[test]
    fn tests_comments_strings_and_macros_are_free() {
        let source = "// std::fs\nconst A: &str = \"std::fs\";\nconst B: &str = env!(\"C\");
            #[cfg(test)] mod tests { use std::fs; }";
        assert!(offences("crates/plan/src/a.rs", source).is_empty());
        assert!(offences("crates/plan/tests/a.rs", "use std::fs;").is_empty());
    }

    #[test]
    fn serialising_outside_its_files_is_caught() {
        let source = "#[derive(serde::Serialize)] struct A;";
        assert_eq!(offences("crates/loomwright/src/plan.rs", source).len(), 2);
        assert!(offences("crates/loomwright/src/wire.rs", source).is_empty());
        assert!(offences("crates/book/src/model.rs", source).is_empty());
    }
}
