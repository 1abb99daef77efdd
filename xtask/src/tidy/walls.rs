//! Which crate may know which.

use super::scan;
use super::sources;
use super::tree::{Offence, Tree};

/// Our crates, and those of ours each may depend on.
const OURS: &[(&str, &[&str])] = &[
    ("physics", &[]),
    ("space", &[]),
    ("plan", &["physics", "space"]),
    ("draw", &["plan", "space", "physics"]),
    ("book", &["physics", "plan", "draw"]),
    ("pages", &[]),
    ("loomwright", &["physics", "space", "plan", "draw", "book", "pages"]),
    ("xtask", &[]),
];

/// Where only one module of a crate may be used: who, whose, which, and why.
const ONLY: &[(&str, &str, &str, &str)] =
    &[("book", "physics", "units", "pages write numbers down and work nothing out")];

/// Crates of others that stop at a wall: how their names begin, who may use them, and why.
const OTHERS: &[(&str, &[&str], &str)] = &[
    ("typst", &["book"], "its closure is half of all build time"),
    ("serde", &["book", "loomwright"], "serialising is the rim's work"),
    ("schemars", &["loomwright"], "serialising is the rim's work"),
    ("anyhow", &["loomwright"], "below the program an error is a value with a place"),
    ("clap", &["loomwright"], "commands are the program's"),
    ("tokio", &["loomwright"], "only the program waits for anything"),
    ("axum", &["loomwright"], "only the program serves"),
    ("hyper", &["loomwright"], "only the program serves"),
    ("toml_edit", &["loomwright"], "only the program writes a document back"),
    ("rusqlite", &["loomwright"], "only the program keeps records"),
    ("rand", &[], "the same build gives the same plan"),
    ("getrandom", &[], "the same build gives the same plan"),
    ("rustc-hash", &[], "its maps have no stable order"),
];

/// Offences in the manifests.
pub(crate) fn check(tree: &Tree) -> Vec<Offence> {
    let mut found = Vec::new();
    for (name, folder) in tree.crates() {
        let file = format!("{folder}/Cargo.toml");
        let Some((_, allowed)) = OURS.iter().find(|(ours, _)| *ours == name) else {
            let message =
                format!("{name} has no place yet; say in {} what it may know", file!());
            found.push(Offence::new(&file, 1, message));
            continue;
        };
        for (line, dependency) in dependencies(&tree.texts[&file]) {
            if let Some(why) = barred(&name, allowed, &dependency) {
                let message = format!("{name} may not depend on {dependency}: {why}");
                found.push(Offence::new(&file, line, message));
            }
        }
    }
    for (user, used, module, why) in ONLY {
        for (file, text) in sources::program(tree, &format!("crates/{user}/")) {
            for path in scan::paths(&scan::program_tokens(text)) {
                let [first, second, ..] = path.segments.as_slice() else { continue };
                if first == used && second != module {
                    let message = format!("{user} uses of {used} only {module}: {why}");
                    found.push(Offence::new(file, path.line, message));
                }
            }
        }
    }
    found
}

fn barred(name: &str, allowed: &[&str], dependency: &str) -> Option<String> {
    if name == "xtask" {
        return Some("it builds in a second on a fresh machine".to_owned());
    }
    if OURS.iter().any(|(ours, _)| *ours == dependency) {
        let known = if allowed.is_empty() { "nothing".to_owned() } else { allowed.join(", ") };
        return (!allowed.contains(&dependency)).then(|| format!("of ours it knows {known}"));
    }
    let wall = OTHERS.iter().find(|(start, _, _)| dependency.starts_with(start));
    wall.filter(|(_, users, _)| !users.contains(&name)).map(|(_, _, why)| (*why).to_owned())
}

/// The names in every table of dependencies, those for tests and build scripts too.
fn dependencies(manifest: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let mut inside = false;
    for (index, line) in manifest.lines().enumerate() {
        let line = line.trim();
        if let Some(table) = line.strip_prefix('[') {
            let table = table.trim_end_matches(']');
            inside = table.ends_with("dependencies");
            if let Some((_, name)) = table.split_once("dependencies.") {
                found.push((index + 1, name.to_owned()));
            }
        } else if inside && !line.is_empty() && !line.starts_with('#') {
            let name: String =
                line.chars().take_while(|c| c.is_alphanumeric() || "-_".contains(*c)).collect();
            found.push((index + 1, name));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::super::tree::places;
    use super::*;

    fn offences(file: &str, manifest: &str) -> Vec<String> {
        places(&check(&Tree::of(&[(file, manifest)])))
    }

    #[test]
    fn a_crate_that_looks_upwards_is_caught() {
        let manifest = "[package]\nname = \"physics\"\n[dependencies]\nlibm = \"1\"\nplan.workspace = true\n";
        let found = offences("crates/physics/Cargo.toml", manifest);
        assert_eq!(found, ["crates/physics/Cargo.toml:5"]);
    }

    #[test]
    fn so_is_one_that_does_so_in_a_table_of_its_own_or_for_tests() {
        let manifest =
            "[dev-dependencies]\nbook = { path = \"../book\" }\n[dependencies.draw]\n";
        let found = offences("crates/plan/Cargo.toml", manifest);
        assert_eq!(found, ["crates/plan/Cargo.toml:2", "crates/plan/Cargo.toml:3"]);
    }

    #[test]
    fn heavy_crates_stop_at_their_wall() {
        let manifest = "[dependencies]\ntypst-pdf = \"1\"\nserde_json = \"1\"\n";
        assert_eq!(offences("crates/draw/Cargo.toml", manifest).len(), 2);
        assert!(offences("crates/book/Cargo.toml", manifest).is_empty());
    }

    #[test]
    fn the_book_may_write_units_and_work_nothing_out() {
        let source = "use physics::units::System;\nlet a = physics::laws::skin::depth_mm();";
        let found = offences("crates/book/src/a.rs", source);
        assert_eq!(found, ["crates/book/src/a.rs:2"]);
    }

    #[test]
    fn xtask_depends_on_nothing_and_a_new_crate_needs_a_place() {
        assert_eq!(offences("xtask/Cargo.toml", "[dependencies]\nlibm = \"1\"").len(), 1);
        assert_eq!(offences("crates/novel/Cargo.toml", "").len(), 1);
    }
}
