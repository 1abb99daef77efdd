//! A word the program must not say: that something is safe. It can compare a number with a limit and
//! name the source; the rest is for the person who signs.

use super::scan::{self, Kind};
use super::sources;
use super::tree::{Offence, Tree};

const WORDS: &[&str] = &["safe", "safely", "safest"];

/// Files whose text is shown as it is, beside the strings in sources.
const SHOWN: &[&str] = &[".typ", ".plan.txt"];

/// Uses of the word in anything a person is shown.
pub(crate) fn check(tree: &Tree) -> Vec<Offence> {
    let mut found = Vec::new();
    for (file, text) in sources::program(tree, "crates/") {
        for token in scan::program_tokens(text) {
            if token.kind == Kind::Literal {
                offence(file, token.line, &token.text, &mut found);
            }
        }
    }
    for end in SHOWN {
        for (file, text) in tree.under("", end) {
            for (index, line) in text.lines().enumerate() {
                offence(file, index + 1, line, &mut found);
            }
        }
    }
    found
}

fn offence(file: &str, line: usize, text: &str, found: &mut Vec<Offence>) {
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    if let Some(word) = words.find(|word| WORDS.contains(&word.to_lowercase().as_str())) {
        let message =
            format!("\"{word}\" is not ours to say; name the value, its limit and its source");
        found.push(Offence::new(file, line, message));
    }
}

#[cfg(test)]
mod tests {
    use super::super::tree::places;
    use super::*;

    #[test]
    fn calling_a_thing_safe_is_caught_where_a_person_reads_it() {
        let source = "// safe\nfn safe() {\n    show(\"The cable is\n safe\");\n}\nconst A: &str = \"unsafe, Safety\";";
        let tree = Tree::of(&[
            ("crates/plan/src/a.rs", source),
            ("crates/plan/tests/a.rs", "const A: &str = \"safe\";"),
            ("crates/book/src/page.typ", "\nIt is Safe."),
        ]);
        assert_eq!(
            places(&check(&tree)),
            ["crates/plan/src/a.rs:3", "crates/book/src/page.typ:2"]
        );
    }
}
