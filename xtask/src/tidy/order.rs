//! Reading order: in a `lib.rs`, `main.rs` or `mod.rs` the `mod` lines stand in the order in which to
//! read, and a module uses, of its siblings, only those above it.
//!
//! That gives inside a crate what crates give between them: no two modules can need each other. What a
//! parent defines itself (`super::Figure`) is above all its children; what a parent only passes on
//! (`pub use`) counts as the child it comes from.

use std::collections::BTreeMap;

use super::scan::{self, Written};
use super::sources::{self, children};
use super::tree::{Offence, Tree};

/// Uses of a later module that are meant: the file, the module it uses, and why.
const EXCEPTIONS: &[(&str, &str, &str)] = &[
    ("crates/book/src/chapters/summary.rs", "findings", SUMMARY),
    ("crates/book/src/chapters/summary.rs", "ends", SUMMARY),
    ("crates/book/src/chapters/summary.rs", "kit", SUMMARY),
];

const SUMMARY: &str = "chapters stand in page order, and the summary is first on paper";

/// What a file of a crate says about modules.
struct Source<'a> {
    file: &'a str,
    /// The module it is, from the crate's root.
    module: Vec<String>,
    /// Its children in order.
    children: Vec<String>,
    /// Names it passes on or imports from a child, and the child.
    passed_on: BTreeMap<String, String>,
    paths: Vec<Written>,
}

/// Uses of later modules, and sources that no `mod` line names.
pub(crate) fn check(tree: &Tree) -> Vec<Offence> {
    check_but(tree, EXCEPTIONS)
}

fn check_but(tree: &Tree, exceptions: &[(&str, &str, &str)]) -> Vec<Offence> {
    let mut found = Vec::new();
    let mut unused: Vec<_> = exceptions.iter().collect();
    for (_, folder) in tree.crates() {
        let root = format!("{folder}/src/");
        let sources: Vec<Source<'_>> = sources::program(tree, &root)
            .into_iter()
            .map(|(file, text)| Source::read(file, &root, text))
            .collect();
        for source in &sources {
            for (module, offence) in source.offences(&sources) {
                let is_meant = |(file, used, _): &(&str, &str, &str)| {
                    *file == source.file && *used == module
                };
                unused.retain(|exception| !is_meant(exception));
                if !exceptions.iter().any(is_meant) {
                    found.push(offence);
                }
            }
        }
    }
    for (file, module, _) in unused {
        let message = format!("no longer uses {module}; drop the exception in {}", file!());
        found.push(Offence::new(file, 1, message));
    }
    found
}

impl<'a> Source<'a> {
    fn read(file: &'a str, root: &str, text: &str) -> Source<'a> {
        let path = file.trim_start_matches(root).trim_end_matches(".rs");
        let mut module: Vec<String> = path.split('/').map(str::to_owned).collect();
        if matches!(module.last().map(String::as_str), Some("lib" | "main" | "mod")) {
            module.pop();
        }
        let tokens = scan::program_tokens(text);
        let children = children(&tokens);
        let paths = scan::paths(&tokens);
        let mut passed_on = BTreeMap::new();
        for path in &paths {
            let start = usize::from(path.segments[0] == "self");
            let child = path
                .segments
                .get(start)
                .filter(|first| path.segments.len() > start + 1 && children.contains(first));
            if let Some(child) = child {
                passed_on.insert(path.name.clone(), child.clone());
            }
        }
        Source { file, module, children, passed_on, paths }
    }

    /// Each offence with the module it uses.
    fn offences(&self, sources: &[Source<'_>]) -> Vec<(String, Offence)> {
        let mut found = Vec::new();
        if !self.module.is_empty() && !self.is_named(sources) {
            let message = "no `mod` line names this file; name it or delete it";
            found.push((String::new(), Offence::new(self.file, 1, message)));
        }
        for path in &self.paths {
            let Some(target) = self.absolute(path) else { continue };
            let common =
                self.module.iter().zip(&target).take_while(|(ours, used)| ours == used).count();
            let (Some(ours), Some(used)) = (self.module.get(common), target.get(common)) else {
                continue;
            };
            for parent in sources.iter().filter(|source| source.module == target[..common]) {
                let used = parent.passed_on.get(used).unwrap_or(used);
                let place = |name| parent.children.iter().position(|child| child == name);
                if place(ours) < place(used) && place(ours).is_some() {
                    let message = format!(
                        "{ours} uses {used}, which stands below it in {}; move one, or what both need",
                        parent.file
                    );
                    found.push((used.clone(), Offence::new(self.file, path.line, message)));
                }
            }
        }
        found
    }

    fn is_named(&self, sources: &[Source<'_>]) -> bool {
        let Some((name, parent)) = self.module.split_last() else { return true };
        sources
            .iter()
            .filter(|source| source.module == parent)
            .any(|source| source.children.contains(name))
    }

    /// The path from the crate's root, if it stays in this crate.
    fn absolute(&self, path: &Written) -> Option<Vec<String>> {
        let (first, rest) = path.segments.split_first()?;
        let mut module = match first.as_str() {
            "crate" => Vec::new(),
            "self" | "super" => self.module.clone(),
            _ => return None,
        };
        // Inside `mod name { ... }` the first steps up only leave that block.
        let ups = path.segments.iter().take_while(|word| *word == "super").count();
        for _ in path.depth..ups.max(path.depth) {
            module.pop();
        }
        module.extend(rest.iter().filter(|word| *word != "super").cloned());
        Some(module)
    }
}

#[cfg(test)]
mod tests {
    use super::super::tree::places;
    use super::*;

    const LIB: &str = "pub mod a;\npub mod b;\nmod c;\npub use c::Late;\npub struct Own;";

    fn offences(files: &[(&str, &str)]) -> Vec<String> {
        let mut all = vec![("crates/plan/Cargo.toml", ""), ("crates/plan/src/lib.rs", LIB)];
        for name in ["crates/plan/src/a.rs", "crates/plan/src/b.rs", "crates/plan/src/c.rs"] {
            if !files.iter().any(|(file, _)| *file == name) {
                all.push((name, ""));
            }
        }
        all.extend_from_slice(files);
        places(&check_but(&Tree::of(&all), &[]))
    }

    #[test]
    fn a_use_of_a_later_module_is_caught_in_every_spelling() {
        for source in [
            "use crate::b::X;",
            "use super::b::X;",
            "use crate::{b::X, Own};",
            "fn f() -> crate::b::X {}",
            "use crate::Late;",
            "mod inner { use super::super::b::X; }",
        ] {
            assert_eq!(
                offences(&[("crates/plan/src/a.rs", source)]),
                ["crates/plan/src/a.rs:1"]
            );
        }
    }

    #[test]
    fn a_use_of_an_earlier_module_of_the_parent_or_in_a_test_is_not() {
        let source = "use crate::a::X;\nuse super::Own;\nuse self::b::Y;\nuse crate::b::own::Z;
            mod b { use super::b; }\n#[cfg(test)] mod tests { use crate::c::X; }";
        assert!(offences(&[("crates/plan/src/b.rs", source)]).is_empty());
        assert!(offences(&[("crates/plan/tests/a.rs", "use crate::c::X;")]).is_empty());
    }

    #[test]
    fn folders_have_an_order_of_their_own_and_an_unnamed_file_is_caught() {
        let found = offences(&[
            ("crates/plan/src/a.rs", "pub mod one; pub mod two;"),
            ("crates/plan/src/a/one.rs", "\nuse super::two::X;"),
            ("crates/plan/src/a/two.rs", "use crate::a::one::X;\nuse crate::b::X;"),
            ("crates/plan/src/a/three.rs", ""),
        ]);
        let expected = [
            "crates/plan/src/a/one.rs:2",
            "crates/plan/src/a/three.rs:1",
            "crates/plan/src/a/two.rs:2",
        ];
        assert_eq!(found, expected);
    }

    #[test]
    fn an_exception_excuses_and_must_be_needed() {
        let tree = |source| {
            Tree::of(&[
                ("crates/plan/Cargo.toml", ""),
                ("crates/plan/src/lib.rs", "mod a; mod b;"),
                ("crates/plan/src/a.rs", source),
                ("crates/plan/src/b.rs", ""),
            ])
        };
        let exceptions = [("crates/plan/src/a.rs", "b", "planted")];
        assert!(check_but(&tree("use crate::b::X;"), &exceptions).is_empty());
        assert_eq!(check_but(&tree(""), &exceptions).len(), 1);
    }
}
