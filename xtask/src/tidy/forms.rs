//! The set forms: a law says where it holds and who published it, a check is tested and listed, a
//! figure is listed.

use super::scan::{self, Token};
use super::sources;
use super::tree::{Offence, Tree};

const LAWS: &str = "crates/physics/src/laws/";
const CHECKS: &str = "crates/plan/src/checks/";
const FIGURES: &str = "crates/plan/src/figures/";

/// What a law's module doc must say.
const LAW_WORDS: &[&str] = &["Range", "Source"];

/// Offences against the forms.
pub(crate) fn check(tree: &Tree) -> Vec<Offence> {
    let mut found = Vec::new();
    for (file, text) in members(tree, LAWS) {
        for word in LAW_WORDS {
            let is_said = text
                .lines()
                .filter_map(|line| line.strip_prefix("//!"))
                .any(|line| line.split_whitespace().next() == Some(word));
            if !is_said {
                let message =
                    format!("the law's module doc has no line that begins with {word}");
                found.push(Offence::new(file, 1, message));
            }
        }
    }
    for (file, text) in members(tree, CHECKS) {
        // What several checks share is tested through them.
        let is_check = !constants(&scan::program_tokens(text), "Check").is_empty();
        if is_check && !text.contains("#[test]") {
            found.push(Offence::new(file, 1, "the check has no test of its own"));
        }
        listed(tree, CHECKS, file, text, "Check", &mut found);
    }
    for (file, text) in members(tree, FIGURES) {
        listed(tree, FIGURES, file, text, "Figure", &mut found);
    }
    found
}

fn members<'a>(tree: &'a Tree, folder: &'a str) -> impl Iterator<Item = (&'a str, &'a str)> {
    let sources = sources::program(tree, folder).into_iter();
    sources.filter(|(file, _)| !file.ends_with("/mod.rs"))
}

/// Each constant of a catalogue's type must be named in the catalogue.
fn listed(
    tree: &Tree,
    folder: &str,
    file: &str,
    text: &str,
    kind: &str,
    found: &mut Vec<Offence>,
) {
    let catalogue = tree.texts.get(&format!("{folder}mod.rs")).map_or("", String::as_str);
    let named = scan::paths(&scan::program_tokens(catalogue));
    let module = file.trim_start_matches(folder).trim_end_matches(".rs").replace('/', "::");
    for constant in constants(&scan::program_tokens(text), kind) {
        let path = format!("{module}::{}", constant.text);
        if !named.iter().any(|written| written.segments.join("::").ends_with(&path)) {
            let message = format!("{path} is not in the catalogue in {folder}mod.rs");
            found.push(Offence::new(file, constant.line, message));
        }
    }
}

/// The names in `const NAME: Kind` and `static NAME: Kind`.
fn constants<'a>(tokens: &'a [Token], kind: &str) -> Vec<&'a Token> {
    let declared = tokens.windows(4).filter(|window| {
        (window[0].is("const") || window[0].is("static"))
            && window[2].is(":")
            && window[3].is(kind)
    });
    declared.map(|window| &window[1]).collect()
}

#[cfg(test)]
mod tests {
    use super::super::tree::places;
    use super::*;

    fn offences(files: &[(&str, &str)]) -> Vec<String> {
        places(&check(&Tree::of(files)))
    }

    #[test]
    fn a_law_without_range_or_source_is_caught() {
        let file = "crates/physics/src/laws/skin.rs";
        assert_eq!(offences(&[(file, "//! Skin effect.\n//! Range 0 to 1 kHz\n")]).len(), 1);
        assert_eq!(offences(&[(file, "// Range\n// Source\n")]).len(), 2);
        assert!(
            offences(&[(file, "//! Skin.\n//!\n//! Range   all\n//! Source  a\n")]).is_empty()
        );
    }

    #[test]
    fn a_check_without_a_test_or_a_place_is_caught() {
        let file = "crates/plan/src/checks/bend.rs";
        let list = ("crates/plan/src/checks/mod.rs", "const ALL: &[Check] = &[bend::CHECK];");
        assert_eq!(offences(&[(file, "pub(super) const CHECK: Check = a();"), list]).len(), 1);
        assert!(offences(&[(file, "fn shared() {}")]).is_empty());
        let source = "pub(super) const CHECK: Check = a();\n#[test]\nfn b() {}";
        assert_eq!(offences(&[(file, source)]), ["crates/plan/src/checks/bend.rs:1"]);
        assert!(offences(&[(file, source), list]).is_empty());
    }

    #[test]
    fn a_figure_left_out_of_the_catalogue_is_caught() {
        let file = ("crates/plan/src/figures/bolt.rs", "\nstatic PRELOAD: Figure = a();");
        let list =
            ("crates/plan/src/figures/mod.rs", "static ALL: &[&Figure] = &[&bolt::TORQUE];");
        assert_eq!(offences(&[file, list]), ["crates/plan/src/figures/bolt.rs:2"]);
    }
}
