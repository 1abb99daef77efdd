//! Plans of the example builds: the text beside them, the JSON and its schema.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;

use std::fs;
use std::io::Read;
use std::process::Stdio;

use common::{command, examples, ran, run, word};
use serde_json::Value;

#[test]
fn each_example_has_its_plan_beside_it() {
    for build in examples() {
        let ran = run(&["plan", word(&build)]);
        assert_ne!(ran.status, 2, "{}", ran.err);
        let path = build.join("plan.txt");
        if std::env::var_os("UPDATE").is_some() {
            fs::write(&path, &ran.out).unwrap();
        }
        let kept = fs::read_to_string(&path).unwrap_or_default();
        assert_eq!(kept, ran.out, "{}: read what changed, then UPDATE=1", path.display());
    }
}

#[test]
fn a_plan_is_one_narrow_screen() {
    for build in examples() {
        let short = run(&["plan", word(&build)]).out;
        for line in short.lines() {
            assert!(line.chars().count() <= 80 && line == line.trim_end(), "{line:?}");
        }
        assert!(!short.contains('\u{1b}'));
        let all = run(&["plan", word(&build), "--all"]).out;
        assert!(short.lines().count() < all.lines().count());
        assert!(all.lines().any(|l| l.starts_with("holds ")), "{all}");
        assert!(!all.contains("--all"));
    }
}

#[test]
fn the_folder_may_be_left_out_or_be_the_document() {
    let build = &examples()[0];
    let there = run(&["plan", word(build)]);
    let inside = ran(command().arg("plan").current_dir(build).output().unwrap());
    let document = run(&["plan", word(&build.join("build.toml"))]);
    assert_eq!(there.out, inside.out);
    assert_eq!(there.out, document.out);

    let folder = common::folder("other-name");
    let other = folder.join("variant.toml");
    fs::copy(build.join("build.toml"), &other).unwrap();
    let named = run(&["plan", word(&other)]);
    assert_eq!(named.out, there.out.replace("build.toml:", "variant.toml:"));
}

fn json(words: &[&str]) -> Value {
    let ran = run(words);
    assert_ne!(ran.status, 2, "{}", ran.err);
    serde_json::from_str(&ran.out).unwrap()
}

#[test]
fn the_json_keeps_its_schema() {
    let schema = json(&["plan", "--schema"]);
    let validator = jsonschema::validator_for(&schema).unwrap();
    for build in examples() {
        let plan = json(&["plan", word(&build), "--json"]);
        let errors: Vec<String> = validator
            .iter_errors(&plan)
            .map(|e| format!("{}: {e}", e.instance_path()))
            .collect();
        assert_eq!(errors, Vec::<String>::new());
    }
    assert!(!validator.is_valid(&serde_json::json!({ "build": {} })));
}

#[test]
fn the_json_keeps_its_schema_whatever_is_left_out() {
    let schema = json(&["plan", "--schema"]);
    let validator = jsonschema::validator_for(&schema).unwrap();
    let document = common::changed("first", &[]);
    for left_out in 0..document.lines().count() {
        let rest: Vec<&str> = document
            .lines()
            .enumerate()
            .filter(|(i, _)| *i != left_out)
            .map(|(_, line)| line)
            .collect();
        let folder = common::build("schema-left-out", rest.join("\n"));
        let ran = run(&["plan", word(&folder), "--json"]);
        // Without its title or a header the document is no build any more.
        if ran.status < 2 {
            let plan: Value = serde_json::from_str(&ran.out).unwrap();
            assert!(validator.is_valid(&plan), "without line {}", left_out + 1);
        }
    }
}

#[test]
fn the_json_has_the_published_keys() {
    let build = common::root().join("builds/orchard-truck");
    let plan = json(&["plan", word(&build), "--json"]);
    for key in [
        "/build/title",
        "/build/digest",
        "/verdict",
        "/findings",
        "/assumed/0/what",
        "/assumed/0/value",
        "/assumed/0/why",
        "/runs/0/id",
        "/runs/0/cables/0/id",
        "/runs/0/cables/0/conductor",
        "/runs/0/cables/0/cut_length_mm",
        "/runs/0/cables/0/ends/1/port",
        "/runs/0/cables/0/ends/1/terminal",
        "/runs/0/cables/0/ends/1/lug",
        "/runs/0/cables/0/ends/1/sleeve",
        "/runs/0/cables/0/ends/1/grip",
        "/runs/0/cables/0/ends/1/bolt/name",
        "/runs/0/cables/0/ends/1/torque_nm",
        "/runs/0/heat/conductor_c",
        "/runs/0/drop_v",
        "/runs/0/loss_w",
        "/runs/0/settle_trail/0/because",
        "/protection/fuse",
        "/plates/0/port",
        "/kit/items/0/part",
        "/kit/items/0/count",
        "/kit/items/0/uses/0/where",
        "/kit/items/0/uses/0/count",
        "/kit/cuts/0/pieces/0/length_mm",
        "/steps/0/id",
        "/steps/0/title",
        "/steps/0/after",
        "/steps/0/tools",
        "/trials/0/id",
        "/trials/0/what",
        "/trials/0/connect",
    ] {
        let found = plan.pointer(key).unwrap_or_else(|| panic!("no {key}"));
        assert!(!found.is_null(), "{key} is null");
    }
    let finding = &plan["findings"][0];
    for key in [
        "code", "verdict", "message", "value", "limit", "unit", "hint", "source", "at", "about",
    ] {
        assert!(finding.get(key).is_some(), "a finding has no {key}");
    }
    let placed =
        plan["findings"].as_array().unwrap().iter().find(|f| !f["at"].is_null()).unwrap();
    assert_eq!(placed["at"]["file"], "build.toml");
    assert!(placed["at"]["line"].as_u64().unwrap() > 0);
}

#[test]
fn the_same_build_gives_the_same_bytes() {
    for build in examples() {
        for words in
            [&["plan"][..], &["plan", "--all"], &["plan", "--json"], &["kit", "--csv", "-"]]
        {
            let words: Vec<&str> = words.iter().copied().chain([word(&build)]).collect();
            assert_eq!(run(&words).out, run(&words).out, "{words:?}");
        }
    }
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let build = &examples()[0];
    let mut child = command()
        .args(["plan", word(build), "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let mut err = String::new();
    child.stderr.take().unwrap().read_to_string(&mut err).unwrap();
    let status = child.wait().unwrap().code();
    assert_eq!(err, "");
    assert_eq!(status, Some(run(&["plan", word(build)]).status));
}
