//! The house rules, as code: run by `cargo xtask tidy`, and by `cargo test`, so a rule cannot rest.
//!
//! A rule is a function from the tree to its offences; its tests plant an offender. What is allowed in
//! spite of a rule stands in that rule's file, in a list with reasons.

mod tree;
mod scan;
mod sources;
mod walls;
mod rim;
mod order;
mod ratchet;
mod forms;
mod words;
mod screen;
mod pages;

use std::fs;

use crate::{say, tools};
use tree::{Offence, Tree};

/// A house rule.
struct Rule {
    name: &'static str,
    what: &'static str,
    check: fn(&Tree) -> Vec<Offence>,
}

const RULES: &[Rule] = &[
    Rule {
        name: "walls",
        what: "a crate depends only on those it may know",
        check: walls::check,
    },
    Rule {
        name: "rim",
        what: "only the program meets disk, clock, network and environment; serde has its files",
        check: rim::check,
    },
    Rule {
        name: "order",
        what: "modules stand in reading order and use only those above them",
        check: order::check,
    },
    Rule {
        name: "ratchet",
        what: "long files and long functions only become fewer",
        check: ratchet::check,
    },
    Rule {
        name: "forms",
        what: "a law states range and source, a check is tested and listed, a figure is listed",
        check: forms::check,
    },
    Rule {
        name: "words",
        what: "no text a person is shown calls anything safe",
        check: words::check,
    },
    Rule {
        name: "screen",
        what: "the bench's pages work out no engineering number",
        check: screen::check,
    },
    Rule {
        name: "pages",
        what: "no leftovers, no paths of one machine, links that lead somewhere, a short map",
        check: pages::check,
    },
];

/// Runs every rule; with `--tighten` first writes the ratchet down to what is reached.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    let mut tree = Tree::read(&tools::root())?;
    match words {
        [] => {}
        [word] if word == "--tighten" => {
            let text = ratchet::tightened(&tree);
            let path = tools::root().join(ratchet::FILE);
            fs::write(&path, &text).map_err(|error| format!("{}: {error}", path.display()))?;
            tree.texts.insert(ratchet::FILE.to_owned(), text);
        }
        _ => return Err("tidy takes nothing, or --tighten".to_owned()),
    }
    let mut total = 0;
    for rule in RULES {
        let offences = (rule.check)(&tree);
        let word = if offences.is_empty() { "holds" } else { "FAILS" };
        say::line(&format!("{:8} {word}  {}", rule.name, rule.what));
        for offence in &offences {
            say::line(&offence.to_string());
        }
        total += offences.len();
    }
    if total == 0 { Ok(()) } else { Err(format!("{total} breaches of the house rules")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Fails with every offence of one rule on the tree as it is.
    fn holds(name: &str) {
        let tree = Tree::read(&tools::root()).unwrap();
        let rule = RULES.iter().find(|rule| rule.name == name).unwrap();
        let found: Vec<String> = (rule.check)(&tree).iter().map(Offence::to_string).collect();
        assert!(found.is_empty(), "{}\n{}", rule.what, found.join("\n"));
    }

    #[test]
    fn every_rule_is_run_by_a_test() {
        let source = include_str!("mod.rs");
        for rule in RULES {
            let call = format!("holds({:?});", rule.name);
            assert!(source.contains(&call), "no test runs {}", rule.name);
        }
    }

    #[test]
    fn screen_holds() {
        holds("screen");
    }

    #[test]
    fn walls_hold() {
        holds("walls");
    }

    #[test]
    fn rim_holds() {
        holds("rim");
    }

    #[test]
    fn order_holds() {
        holds("order");
    }

    #[test]
    fn ratchet_holds() {
        holds("ratchet");
    }

    #[test]
    fn forms_hold() {
        holds("forms");
    }

    #[test]
    fn words_hold() {
        holds("words");
    }

    #[test]
    fn pages_hold() {
        holds("pages");
    }
}
