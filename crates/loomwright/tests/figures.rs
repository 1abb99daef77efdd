//! Every figure by its example, and what is said of wrong inputs.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;

use std::fs;

use common::{folder, run, word};
use serde_json::Value;

fn figures() -> Vec<Value> {
    let ran = run(&["figure", "--json"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let all: Value = serde_json::from_str(&ran.out).unwrap();
    let all = all.as_array().unwrap().clone();
    assert!(10 <= all.len());
    all
}

/// The answer of a figure is one object with a value and a unit for each result.
fn sound(out: &str, name: &str) -> Value {
    let answer: Value = serde_json::from_str(out).unwrap();
    assert_eq!(answer["figure"], name);
    assert!(answer["given"].is_object() && answer["notes"].is_array());
    assert!(!answer["source"].as_str().unwrap().is_empty());
    let result = answer["result"].as_object().unwrap();
    assert!(!result.is_empty());
    for (key, found) in result {
        let value = &found["value"];
        let each = value.as_array().cloned().unwrap_or_else(|| vec![value.clone()]);
        assert!(each.iter().all(Value::is_number), "{name} {key}: {value}");
        assert!(found["unit"].is_string());
    }
    answer
}

#[test]
fn every_example_is_answered_on_the_line_and_from_a_file() {
    let folder = folder("figures");
    for figure in figures() {
        let name = figure["figure"].as_str().unwrap();
        let example = figure["example"].as_object().unwrap();
        let inputs: Vec<String> =
            example.iter().map(|(k, v)| format!("{k}={}", v.as_str().unwrap())).collect();
        let mut words = vec!["figure", name, "--json"];
        words.extend(inputs.iter().map(String::as_str));
        let ran = run(&words);
        assert_eq!(ran.status, 0, "{name}: {}", ran.err);
        let on_the_line = sound(&ran.out, name);

        let file = folder.join(format!("{name}.toml"));
        let text: String = example.iter().map(|(k, v)| format!("{k} = {v}\n")).collect();
        fs::write(&file, text).unwrap();
        let ran = run(&["figure", name, "--given", word(&file), "--json"]);
        assert_eq!(ran.status, 0, "{name}: {}", ran.err);
        assert_eq!(on_the_line, sound(&ran.out, name));

        words.remove(2);
        let ran = run(&words);
        assert_eq!(ran.status, 0);
        assert!(ran.out.contains("source: "), "{}", ran.out);
    }
}

#[test]
fn the_known_preload_comes_out() {
    let words =
        ["figure", "bolt-preload", "thread=M8", "torque=9.04 N m", "nut-factor=0.2", "--json"];
    let answer = sound(&run(&words).out, "bolt-preload");
    // F = T / (K d) = 9.04 / (0.2 x 0.008) = 5650 N.
    let preload = answer["result"]["preload"]["value"].as_f64().unwrap();
    assert!((preload - 5.65).abs() < 1e-9, "{preload}");
    assert_eq!(answer["result"]["preload"]["unit"], "kN");
}

#[test]
fn wrong_inputs_are_named_all_at_once() {
    let ran = run(&["figure", "bolt-preload", "thred=M8", "torque=9", "nut-factor=12"]);
    assert_eq!(ran.status, 2);
    assert_eq!(ran.out, "");
    for part in
        ["thred", "did you mean `thread`", "torque: ", "nut-factor: ", "thread: is missing"]
    {
        assert!(ran.err.contains(part), "no `{part}` in\n{}", ran.err);
    }
    assert!(ran.err.contains("loomwright figure bolt-preload "), "{}", ran.err);
}

#[test]
fn a_figure_that_does_not_exist_is_guessed() {
    let ran = run(&["figure", "bolt-prelod"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("did you mean `bolt-preload`?"), "{}", ran.err);
}

#[test]
fn a_wrong_file_is_said() {
    let folder = folder("figure-file");
    let file = folder.join("given.toml");
    fs::write(&file, "thread = M8\n").unwrap();
    for words in [
        ["figure", "thread", "--given", word(&file)],
        ["figure", "thread", "--given", word(&folder)],
        ["figure", "thread", "--given", "no-such-file.toml"],
    ] {
        let ran = run(&words);
        assert_eq!(ran.status, 2, "{words:?}");
        assert!(ran.err.starts_with("error: "), "{}", ran.err);
    }
    assert_eq!(run(&["figure", "--given", word(&file)]).status, 2);
}

#[test]
fn the_list_names_every_figure() {
    let listed = run(&["figure"]).out;
    for figure in figures() {
        let name = figure["figure"].as_str().unwrap();
        assert!(listed.lines().any(|l| l.split(' ').next() == Some(name)), "{name}");
    }
}
