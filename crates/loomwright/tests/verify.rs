//! Published cases through the program.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;

use std::fs;

use common::{folder, root, run, word};

fn files() -> Vec<String> {
    let mut files: Vec<String> = fs::read_dir(root().join("validation"))
        .unwrap()
        .map(|e| word(&e.unwrap().path()).to_owned())
        .filter(|p| p.ends_with(".toml"))
        .collect();
    files.sort();
    assert!(3 < files.len());
    files
}

#[test]
fn every_published_case_holds() {
    let files = files();
    let words: Vec<&str> =
        ["verify"].into_iter().chain(files.iter().map(String::as_str)).collect();
    let ran = run(&words);
    let fails: Vec<&str> = ran.out.lines().filter(|l| l.contains("FAILS")).collect();
    assert_eq!((ran.status, fails), (0, Vec::new()), "{}", ran.err);
    assert!(ran.out.lines().all(|l| l.chars().count() <= 80));
}

#[test]
fn a_doctored_case_fails() {
    let folder = folder("verify");
    let file = folder.join("doctored.toml");
    let case = |preload: &str| {
        format!(
            "[[case]]\nfigure = \"bolt-preload\"\n\
             given = {{ thread = \"M8\", torque = \"9.04 N m\", nut-factor = \"0.2\" }}\n\
             expect = {{ preload = \"{preload}\" }}\nwithin = \"0.1 %\"\n\
             source = \"F = T / (K d)\"\nstanding = \"read\"\n"
        )
    };
    fs::write(&file, case("5.65 kN")).unwrap();
    assert_eq!(run(&["verify", word(&file)]).status, 0);
    fs::write(&file, case("5.70 kN")).unwrap();
    let ran = run(&["verify", word(&file)]);
    assert_eq!(ran.status, 1);
    assert!(ran.out.contains("FAILS") && ran.out.contains("1 of them not"), "{}", ran.out);
    let ran = run(&["verify", word(&file), "--json"]);
    assert_eq!(ran.status, 1);
    let judged: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(judged[0]["holds"], false);
    assert_eq!(judged[0]["line"], 1);
    assert!((judged[0]["ours"].as_f64().unwrap() - 5.65).abs() < 1e-9);
}

#[test]
fn a_file_that_is_no_case_file_is_said_and_the_others_are_run() {
    let folder = folder("verify-wrong");
    let (wrong, right) = (folder.join("wrong.toml"), &files()[0]);
    for text in ["", "case = 1\n", "[[case]]\nfigure = \"no-such\"\n", "\u{0}"] {
        fs::write(&wrong, text).unwrap();
        let ran = run(&["verify", word(&wrong), right]);
        assert_eq!(ran.status, 2, "{text:?}");
        assert!(ran.err.contains("wrong.toml"), "{}", ran.err);
        assert!(ran.out.contains("all hold"), "{}", ran.out);
    }
    assert_eq!(run(&["verify", word(&folder.join("none.toml"))]).status, 2);
}
