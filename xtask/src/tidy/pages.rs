//! What may not stand in any text file, and what pages must keep.

use super::tree::{Offence, Tree};

/// The map of the house, and the lines it must stay under.
const MAP: (&str, usize) = ("ARCHITECTURE.md", 200);

/// Reminders that belong into an issue. Joined here, so that this file does not offend.
const REMINDERS: &[&str] = &[concat!("TO", "DO"), concat!("FIX", "ME"), concat!("XX", "X:")];

/// How paths begin that exist on one machine only.
const MACHINE_PATHS: &[&str] = &[
    concat!("/wo", "rk/"),
    concat!("/tm", "p/"),
    concat!("/ho", "me/"),
    concat!("/ro", "ot/"),
    concat!("/Us", "ers/"),
    concat!("C:", "\\"),
];

/// Offences in all text files.
pub(crate) fn check(tree: &Tree) -> Vec<Offence> {
    let mut found = Vec::new();
    for (file, text) in &tree.texts {
        for (index, line) in text.lines().enumerate() {
            for message in wrong(file, line) {
                found.push(Offence::new(file, index + 1, message));
            }
        }
        if file.ends_with(".md") {
            links(tree, file, text, &mut found);
        }
    }
    let lines = tree.texts.get(MAP.0).map_or(0, |text| text.lines().count());
    if lines >= MAP.1 {
        let message = format!("{lines} lines; a map of {} or more is not read", MAP.1);
        found.push(Offence::new(MAP.0, lines, message));
    }
    found
}

fn wrong(file: &str, line: &str) -> Vec<String> {
    let mut messages = Vec::new();
    // Texts of others are kept as they came: licences and recorded snapshots.
    let is_theirs = ["LICENSE", "OFL", ".snap"].iter().any(|mark| file.contains(mark));
    if !is_theirs && line.ends_with([' ', '\t', '\r']) {
        messages.push("white space at the end of the line".to_owned());
    }
    for word in REMINDERS.iter().filter(|word| line.contains(**word)) {
        messages.push(format!("{word}: do it, or write down why not"));
    }
    for path in MACHINE_PATHS.iter().filter(|path| has_path(line, path)) {
        messages.push(format!("{path} is a path of one machine"));
    }
    messages
}

/// Whether a path begins with that start here: as a path of its own, not as the tail of another.
fn has_path(line: &str, start: &str) -> bool {
    line.match_indices(start).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        before.is_none_or(|c| !c.is_alphanumeric() && !"._-)}".contains(c))
    })
}

/// Links to files of ours must lead to one.
fn links(tree: &Tree, file: &str, text: &str, found: &mut Vec<Offence>) {
    let folder = file.rsplit_once('/').map_or("", |(folder, _)| folder);
    for (index, line) in text.lines().enumerate() {
        for target in targets(line) {
            let path = target.split('#').next().unwrap_or_default();
            let is_elsewhere =
                path.is_empty() || path.contains("://") || path.starts_with("mailto:");
            if !is_elsewhere && !leads(tree, folder, path) {
                let message = format!("the link leads nowhere: {path}");
                found.push(Offence::new(file, index + 1, message));
            }
        }
    }
}

/// The targets of `[text](target)`, `src="target"` and `srcset="target"`.
fn targets(line: &str) -> Vec<&str> {
    let mut found = Vec::new();
    for (start, end) in [("](", ')'), ("src=\"", '"'), ("srcset=\"", '"')] {
        for (at, _) in line.match_indices(start) {
            let rest = &line[at + start.len()..];
            found.extend(rest.split_once(end).map(|(target, _)| target));
        }
    }
    found
}

fn leads(tree: &Tree, folder: &str, path: &str) -> bool {
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in path.split('/') {
        match part {
            "" | "." => {}
            ".." => drop(parts.pop()),
            _ => parts.push(part),
        }
    }
    let whole = parts.join("/");
    let inside = format!("{whole}/");
    tree.paths.contains(&whole) || tree.paths.iter().any(|path| path.starts_with(&inside))
}

#[cfg(test)]
mod tests {
    use super::super::tree::places;
    use super::*;

    fn offences(file: &str, text: &str) -> Vec<String> {
        places(&check(&Tree::of(&[(file, text)])))
    }

    #[test]
    fn leftovers_are_caught_in_every_kind_of_file() {
        for word in REMINDERS {
            let line = format!("\n# {word} later");
            assert_eq!(offences("shelf/a.toml", &line), ["shelf/a.toml:2"]);
        }
        assert_eq!(offences("a.md", "b \n"), ["a.md:1"]);
        assert!(offences("fonts/OFL.txt", "b \n").is_empty());
    }

    #[test]
    fn paths_of_one_machine_are_caught_and_others_are_not() {
        for path in MACHINE_PATHS {
            assert_eq!(offences("a.rs", &format!("\"{path}a\"")), ["a.rs:1"]);
        }
        assert!(
            offences("a.rs", concat!("src/wo", "rk/kit.rs https://a.org/ho", "me/")).is_empty()
        );
    }

    #[test]
    fn a_link_that_leads_nowhere_is_caught() {
        let tree = Tree::of(&[
            ("docs/a.md", "[b](b.md) [c](../README.md#d)\n[e](gone.md)\n[f](https://g.org)"),
            ("docs/b.md", ""),
            ("README.md", "[docs](docs/) <img src=\"docs/no.svg\">"),
        ]);
        assert_eq!(places(&check(&tree)), ["README.md:1", "docs/a.md:2"]);
    }

    #[test]
    fn a_map_too_long_to_read_is_caught() {
        assert!(offences(MAP.0, &"a\n".repeat(199)).is_empty());
        assert_eq!(offences(MAP.0, &"a\n".repeat(200)).len(), 1);
    }
}
