//! Every published case in `validation/` is run, and a doctored one must be caught.

use std::path::PathBuf;

use plan::verify::{Judged, verify};

#[expect(clippy::disallowed_methods, reason = "a test reads the case files of the repository")]
fn files() -> Vec<(String, String)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../validation");
    let mut files: Vec<(String, String)> = std::fs::read_dir(folder)
        .expect("the folder validation is there")
        .map(|entry| entry.expect("its entries can be read").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .map(|path| {
            let name =
                path.file_stem().expect("a file has a name").to_string_lossy().into_owned();
            (name, std::fs::read_to_string(&path).expect("a case file can be read"))
        })
        .collect();
    files.sort();
    files
}

fn judged(name: &str, text: &str) -> Vec<Judged> {
    verify(text).unwrap_or_else(|errors| {
        let lines: Vec<String> = errors.iter().map(|e| format!("{name}: {e}")).collect();
        panic!("{}", lines.join("\n"))
    })
}

#[test]
fn val_every_published_case_holds() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for (name, text) in files() {
        for j in judged(&name, &text) {
            count += 1;
            if !j.holds {
                wrong.push(format!(
                    "{name} line {}: {} {}: ours {} theirs {} {} ({}), {} allowed, {}",
                    j.line,
                    j.figure,
                    j.output,
                    j.ours,
                    j.theirs,
                    j.unit,
                    j.difference_shown(),
                    j.rule.shown(&j.unit),
                    j.source
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {count} fail:\n{}", wrong.len(), wrong.join("\n"));
    assert!(110 < count, "only {count} numbers are checked");
}

#[test]
fn a_doctored_case_is_caught() {
    // Every expected number, one at a time in its own file, moved by more than any tolerance allows.
    for (name, text) in files() {
        for j in judged(&name, &text) {
            let off = match j.rule {
                plan::verify::Rule::Share(share) => {
                    j.ours + (2.0 * share + 1e-6) * j.theirs.abs()
                }
                plan::verify::Rule::Amount(amount) => j.ours + 2.0 * amount + 1e-6,
                plan::verify::Rule::Exact => j.ours + 1e-6 * j.theirs.abs().max(1.0),
                plan::verify::Rule::AtLeast => j.ours * 1.01 + 1e-6,
                plan::verify::Rule::AtMost => j.ours * 0.99 - 1e-6,
            };
            assert!(
                !rejudge(&j, off).holds,
                "{name} line {}: {} takes anything",
                j.line,
                j.output
            );
        }
    }
}

/// The same number judged against another published value.
fn rejudge(j: &Judged, theirs: f64) -> Judged {
    let mut given = toml::Table::new();
    for (key, value) in &j.given {
        // What was not a text stays what it was: a number or a list.
        let parsed: Result<toml::Table, _> = format!("v = {value}").parse();
        let value = match parsed.ok().and_then(|t| t.get("v").cloned()) {
            Some(list @ toml::Value::Array(_)) => list,
            _ => toml::Value::String(value.clone()),
        };
        given.insert(key.clone(), value);
    }
    let output = j.output.split(' ').next().expect("an output has a name");
    let place = j.output.split(' ').nth(1).map(|at| at.parse::<usize>().expect("a place"));
    let text =
        |value: f64| toml::Value::String(format!("{value} {}", j.unit).trim().to_owned());
    let value = match place {
        None => text(theirs),
        // The rest of the list is judged too, but only the doctored place is looked at.
        Some(at) => {
            let answer = plan::figures::run(&j.figure, &j.given).expect("it ran before");
            let found = answer.result(output).expect("it was there before");
            let list = found.values.iter().enumerate();
            toml::Value::Array(
                list.map(|(i, ours)| text(if i + 1 == at { theirs } else { *ours })).collect(),
            )
        }
    };
    let mut wanted = toml::Table::new();
    wanted.insert(output.to_owned(), value);
    let mut case = toml::Table::new();
    case.insert("figure".into(), toml::Value::String(j.figure.clone()));
    case.insert("given".into(), toml::Value::Table(given));
    let within = match j.rule {
        plan::verify::Rule::Share(share) => format!("{} %", 100.0 * share),
        plan::verify::Rule::Amount(amount) if j.unit == "degC" => format!("{amount} K"),
        plan::verify::Rule::Amount(amount) => format!("{amount} {}", j.unit).trim().to_owned(),
        plan::verify::Rule::Exact => "exact".to_owned(),
        plan::verify::Rule::AtLeast => "at-least".to_owned(),
        plan::verify::Rule::AtMost => "at-most".to_owned(),
    };
    case.insert("expect".into(), toml::Value::Table(wanted));
    case.insert("within".into(), toml::Value::String(within));
    case.insert("source".into(), toml::Value::String("doctored".into()));
    case.insert("standing".into(), toml::Value::String("memory".into()));
    let mut document = toml::Table::new();
    document.insert("case".into(), toml::Value::Array(vec![toml::Value::Table(case)]));
    let judged = verify(&document.to_string()).expect("a doctored case can be judged");
    let at = place.map_or(0, |place| place - 1);
    judged[at].clone()
}
