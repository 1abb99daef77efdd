//! `loomwright survey` as a person runs it: exit status, words, JSON, and files beside a build.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;

use std::fs;

use common::{build, folder, root, run, word};

fn example() -> String {
    fs::read_to_string(root().join("builds/orchard-truck/motor-phases-face.toml")).unwrap()
}

fn face(name: &str, text: &str) -> std::path::PathBuf {
    let path = folder(name).join("face.toml");
    fs::write(&path, text).unwrap();
    path
}

#[test]
fn a_good_face_holds() {
    let ran = run(&["survey", "builds/orchard-truck/motor-phases-face.toml"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(ran.out.contains("readings agree") && ran.out.contains("B7"), "{}", ran.out);
    assert!(ran.out.lines().all(|l| l.chars().count() <= 80), "{}", ran.out);
}

#[test]
fn a_slip_fails_and_is_named_with_what_it_should_be() {
    let text = example();
    assert!(text.contains("203.21 mm"));
    let path = face("survey-slip", &text.replace("203.21 mm", "202.31 mm"));
    let ran = run(&["survey", word(&path)]);
    assert_eq!(ran.status, 1);
    assert!(ran.out.contains("outside B3 to B7 was read as 202.31 mm"), "{}", ran.out);
    assert!(ran.out.contains("should be 203.19 mm"), "{}", ran.out);
    let ran = run(&["survey", "--json", word(&path)]);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!((ran.status, &json["consistent"]), (1, &false.into()));
    assert_eq!(json["suspect"]["what"], "outside B3 to B7");
    assert_eq!(json["holes"].as_array().unwrap().len(), 7);
}

#[test]
fn what_is_missing_is_named() {
    let text = "[hole.A]\n[hole.B]\n[hole.C]\n\
        [[reading]]\nbetween = [\"A\", \"B\"]\ncentres = \"80 mm\"\n\
        [[reading]]\nbetween = [\"B\", \"C\"]\ncentres = \"60 mm\"\n";
    let path = face("survey-missing", text);
    let ran = run(&["survey", word(&path)]);
    assert_eq!(ran.status, 1);
    assert!(ran.out.contains("loose: C") && ran.out.contains("centres A to C"), "{}", ran.out);
}

#[test]
fn mistakes_are_shown_where_they_stand() {
    let path =
        face("survey-wrong", "[hole.A]\ndiametre = \"6 mm\"\n[[reading]]\noutside = \"x\"\n");
    let ran = run(&["survey", word(&path)]);
    assert_eq!((ran.status, ran.out.as_str()), (2, ""));
    assert!(
        ran.err.contains("face.toml:2:1") && ran.err.contains("did you mean"),
        "{}",
        ran.err
    );
    assert_eq!(run(&["survey", "no-such-face.toml"]).status, 2);
}

#[test]
fn a_drawing_beside_the_face_is_read_and_nothing_outside_its_folder() {
    let path = face("survey-svg", "svg = \"face.svg\"\n");
    let svg = "<svg width=\"90mm\" viewBox=\"0 0 90 50\" height=\"50mm\"><rect width=\"90\" height=\"50\"/>\
        <circle cx=\"9\" cy=\"9\" r=\"3.3\"/><circle cx=\"81\" cy=\"41\" r=\"3.3\"/></svg>";
    assert_eq!(run(&["survey", word(&path)]).status, 2, "the drawing is not there yet");
    fs::write(path.with_file_name("face.svg"), svg).unwrap();
    let ran = run(&["survey", "--json", word(&path)]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(json["holes"][1]["x_mm"], 81.0);
    for name in ["../face.svg", "/etc/face.svg", "a/../../face.svg"] {
        fs::write(&path, format!("svg = \"{name}\"\n")).unwrap();
        let ran = run(&["survey", word(&path)]);
        assert!(ran.status == 2 && ran.err.contains("is not in the folder"), "{}", ran.err);
    }
}

#[test]
fn a_build_reads_the_face_files_it_names() {
    let document =
        "title = \"t\"\n[device.m.port.p]\n[device.m.port.p.face]\nfile = \"face.toml\"\n";
    let folder = build("survey-build", document);
    let ran = run(&["plan", word(&folder)]);
    assert!(ran.status == 2 && ran.err.contains("no such file"), "{}", ran.err);
    fs::write(folder.join("face.toml"), example()).unwrap();
    let ran = run(&["plan", "--json", word(&folder)]);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(json["faces"][0]["holes"].as_array().unwrap().len(), 7);
    let codes: Vec<&str> = json["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|f| f["code"].as_str())
        .collect();
    assert!(codes.contains(&"survey-consistent") && codes.contains(&"survey-determined"));
    // What the plan was made from is all of it: a change in the face is another plan.
    let before = json["build"]["digest"].clone();
    fs::write(folder.join("face.toml"), example().replace("5.03 mm", "5.02 mm")).unwrap();
    let ran = run(&["plan", "--json", word(&folder)]);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_ne!(json["build"]["digest"], before);
    fs::write(folder.join("face.toml"), "[hole.A]\nat = \"3\"\n").unwrap();
    let ran = run(&["plan", word(&folder)]);
    assert!(ran.status == 2 && ran.err.contains("face.toml:2:6"), "{}", ran.err);
}
