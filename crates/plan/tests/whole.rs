//! The whole pipe on documents that a slip of the hand has changed: it never panics, and stays itself.

use plan::given::document::read;
use plan::given::keys::{Kind, TABLES};
use plan::given::reference::starter;
use plan::given::shelf_read::standard;
use plan::plan;
use proptest::prelude::*;

const TRUCK: &str = include_str!("../../../builds/orchard-truck/build.toml");
mod shared;

const FIRST: &str = include_str!("../../../builds/first/build.toml");

/// Plans what can be read of a text, right or wrong.
fn sound(text: &str) {
    let mut build = read(text).build;
    shared::attach_faces(&mut build, &shared::FACES);
    let first = plan(&build, standard());
    for finding in &first.findings {
        assert!(!finding.message.is_empty() && !finding.message.ends_with('.'), "{finding:?}");
        assert!(!finding.message.contains('\n'), "{finding:?}");
        for quantity in [finding.value, finding.limit].into_iter().flatten() {
            assert!(quantity.value.is_finite(), "{finding:?}");
        }
    }
    assert!(first.findings.is_sorted_by_key(|f| f.verdict), "worst first");
}

#[test]
fn the_same_build_gives_the_same_plan() {
    for document in [TRUCK, FIRST] {
        let mut build = read(document).build;
        shared::attach_faces(&mut build, &shared::FACES);
        assert_eq!(plan(&build, standard()), plan(&build, standard()));
    }
}

#[test]
fn an_empty_build_and_the_starter_are_planned() {
    sound("");
    sound(&starter());
}

#[test]
fn every_part_named_as_an_example_exists() {
    let whole: String = starter()
        .lines()
        .map(|line| match line.strip_prefix("# ") {
            Some(rest) if rest.starts_with('[') || rest.contains(" = ") => rest,
            _ => line,
        })
        .map(|line| format!("{line}\n"))
        .collect();
    let planned = plan(&read(&whole).build, standard());
    let missing: Vec<_> = planned
        .findings
        .iter()
        .filter(|f| f.code.ends_with("-exists"))
        .map(|f| (f.code, f.message.as_str()))
        .collect();
    assert_eq!(missing, []);
    assert!(planned.runs.len() == 1 && planned.ends.len() == 6 && planned.plates.len() == 1);
}

/// The numbers a key may be given at the ends of its range, and one within.
fn edges(kind: Kind) -> Vec<String> {
    let quantity = |d: physics::units::Dimension, numbers: &[f64]| -> Vec<String> {
        numbers.iter().map(|n| format!("\"{n} {}\"", d.kept())).collect()
    };
    match kind {
        Kind::Quantity(d, least, most) => quantity(d, &[least, most, (least + most) / 2.0]),
        Kind::Count(least, most) => vec![least.to_string(), most.to_string()],
        Kind::Number(least, most) => vec![format!("{least:?}"), format!("{most:?}")],
        Kind::Choice(words) => words().iter().map(|w| format!("\"{w}\"")).collect(),
        Kind::Truth => vec!["true".to_owned(), "false".to_owned()],
        Kind::Size => ["36 AWG", "4/0 AWG", "0.5 mm2", "240 mm2", "2000 kcmil"]
            .map(|s| format!("\"{s}\""))
            .to_vec(),
        Kind::Thread => ["M1", "M8", "M100"].map(|s| format!("\"{s}\"")).to_vec(),
        Kind::Bolt => ["M1x3", "M8x500", "M100x3"].map(|s| format!("\"{s}\"")).to_vec(),
        Kind::Quantities(d, least, most) => {
            let all = quantity(d, &[least, most]);
            vec!["[]".to_owned(), format!("[{}]", all.join(", "))]
        }
        Kind::Text => vec!["\"nonsense\"".to_owned()],
        Kind::Texts(_) => vec!["[]".to_owned(), "[\"U\"]".to_owned()],
        Kind::PlaceByName => vec!["{}".to_owned(), "{ U = \"5 m, -5 m\" }".to_owned()],
        Kind::QuantityByName(..)
        | Kind::NumberByName(..)
        | Kind::TextByName
        | Kind::Day
        | Kind::Numbers(..)
        | Kind::Port => Vec::new(),
    }
}

/// A document with one key set in every table of its kind; a line that is there is replaced.
fn with(document: &str, path: &str, key: &str, value: &str) -> String {
    let mut text = String::new();
    let mut inside = path.is_empty();
    if inside {
        text.push_str(&format!("{key} = {value}\n"));
    }
    for line in document.lines() {
        if line.starts_with('[') {
            inside = header_is(line, path);
            text.push_str(line);
            text.push('\n');
            if inside {
                text.push_str(&format!("{key} = {value}\n"));
            }
        } else if !(inside && line.split('=').next().map(str::trim) == Some(key)) {
            text.push_str(line);
            text.push('\n');
        }
    }
    text
}

fn header_is(line: &str, path: &str) -> bool {
    let written: Vec<&str> = line.trim_matches(['[', ']']).split('.').collect();
    let declared: Vec<&str> = path.split('.').collect();
    written.len() == declared.len()
        && written.iter().zip(&declared).all(|(w, d)| *d == "ID" || w == d)
}

#[test]
fn every_key_at_the_ends_of_its_range_is_planned() {
    let mut broken = Vec::new();
    for (name, document) in [("truck", TRUCK), ("first", FIRST)] {
        for (table, key) in TABLES.iter().flat_map(|t| t.keys.iter().map(move |k| (t, k))) {
            for value in edges(key.kind) {
                let text = with(document, table.path, key.name, &value);
                // All that break are wanted, not only the first.
                if std::panic::catch_unwind(|| sound(&text)).is_err() {
                    broken.push(format!("{name}: [{}] {} = {value}", table.path, key.name));
                }
            }
        }
    }
    assert_eq!(broken, Vec::<String>::new());
}

#[test]
fn every_key_left_out_is_planned() {
    for document in [TRUCK, FIRST] {
        let lines: Vec<&str> = document.lines().collect();
        for left_out in 0..lines.len() {
            let rest: Vec<&str> = lines
                .iter()
                .enumerate()
                .filter(|(i, _)| *i != left_out)
                .map(|(_, l)| *l)
                .collect();
            sound(&rest.join("\n"));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_document_with_a_piece_replaced_is_planned(
        from in 0..TRUCK.len(),
        cut in 0usize..60,
        put in r#"[ -~\n]{0,12}"#,
    ) {
        let to = (from + cut).min(TRUCK.len());
        sound(&format!("{}{put}{}", &TRUCK[..from], &TRUCK[to..]));
    }

    #[test]
    fn several_numbers_changed_are_planned(
        changes in prop::collection::vec((0usize..400, 0u32..100_000), 1..8),
    ) {
        let mut lines: Vec<String> = TRUCK.lines().map(str::to_owned).collect();
        let count = lines.len();
        for (line, number) in changes {
            let line = &mut lines[line % count];
            if let Some(start) = line.find(|c: char| c.is_ascii_digit()) {
                let end = line[start..]
                    .find(|c: char| !c.is_ascii_digit() && c != '.')
                    .map_or(line.len(), |e| start + e);
                let value = f64::from(number) / 100.0;
                line.replace_range(start..end, &value.to_string());
            }
        }
        sound(&lines.join("\n"));
    }
}
