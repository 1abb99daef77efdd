//! Which sources are built into the program, and which only into its tests.

use std::collections::BTreeSet;

use super::scan::{self, Token};
use super::tree::Tree;

/// The sources under a folder that are built into the program: no tests, benchmarks, examples or build
/// scripts, and no module that is named only under `#[cfg(test)]`.
pub(crate) fn program<'a>(tree: &'a Tree, folder: &'a str) -> Vec<(&'a str, &'a str)> {
    let tests = test_modules(tree, folder);
    let is_test = |file: &str| {
        tests.iter().any(|module| {
            let rest = file.strip_prefix(module.as_str());
            rest.is_some_and(|rest| rest == ".rs" || rest.starts_with('/'))
        })
    };
    let sources = tree.under(folder, ".rs");
    sources.filter(|(file, _)| is_program(file) && !is_test(file)).collect()
}

fn is_program(file: &str) -> bool {
    let mut parts = file.split('/').skip_while(|part| *part != "src");
    parts.next().is_some() && !parts.any(|part| part == "tests" || part == "tests.rs")
}

/// The paths, without their ends, of modules that only tests are built with.
fn test_modules(tree: &Tree, folder: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for (file, text) in tree.under(folder, ".rs") {
        let tokens = scan::tokens(text);
        let kept = children(&scan::without_tests(&tokens));
        for child in children(&tokens).into_iter().filter(|child| !kept.contains(child)) {
            found.insert(format!("{}/{child}", own_folder(file)));
        }
    }
    found
}

/// Where the children of a source lie.
fn own_folder(file: &str) -> &str {
    let (folder, name) = file.rsplit_once('/').unwrap_or(("", file));
    let is_root = matches!(name, "lib.rs" | "main.rs" | "mod.rs");
    if is_root { folder } else { file.trim_end_matches(".rs") }
}

/// The names in `mod name;` and `mod name { ... }`, in order.
pub(crate) fn children(tokens: &[Token]) -> Vec<String> {
    let mut found = Vec::new();
    let mut at = 0;
    while at + 2 < tokens.len() {
        if tokens[at].is("mod") && (tokens[at + 2].is(";") || tokens[at + 2].is("{")) {
            found.push(tokens[at + 1].text.clone());
        }
        at = if tokens[at].is("{") { scan::close(tokens, at) + 1 } else { at + 1 };
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn modules_only_tests_are_built_with_are_not_the_program() {
        let tree = Tree::of(&[
            ("crates/plan/build.rs", ""),
            ("crates/plan/tests/a.rs", ""),
            ("crates/plan/src/lib.rs", "mod a; #[cfg(test)] mod b; mod ab;"),
            ("crates/plan/src/a.rs", "#[cfg(test)] mod c;"),
            ("crates/plan/src/ab.rs", ""),
            ("crates/plan/src/a/c.rs", ""),
            ("crates/plan/src/a/tests.rs", ""),
            ("crates/plan/src/b/mod.rs", ""),
        ]);
        let files: Vec<&str> =
            program(&tree, "crates/").into_iter().map(|(file, _)| file).collect();
        let expected =
            ["crates/plan/src/a.rs", "crates/plan/src/ab.rs", "crates/plan/src/lib.rs"];
        assert_eq!(files, expected);
    }
}
