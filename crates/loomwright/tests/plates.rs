//! `loomwright plates`: what lands in the folder, and what is said of what does not.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;

use std::fs;
use std::path::{Path, PathBuf};

use common::{folder, run, word};

/// The example's files in a folder of the test's own.
fn example(name: &str) -> PathBuf {
    let from = common::root().join("builds/orchard-truck");
    let to = folder(name);
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
    }
    to
}

fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut all: Vec<(String, Vec<u8>)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap())
        .map(|e| (e.file_name().into_string().unwrap(), fs::read(e.path()).unwrap()))
        .collect();
    all.sort();
    all
}

#[test]
fn a_surveyed_plate_is_written_in_every_form_and_the_same_each_time() {
    let build = example("plates-surveyed");
    let (once, again) = (build.join("once"), build.join("again"));
    let first = run(&["plates", word(&build), "-o", word(&once)]);
    assert_ne!(first.status, 2, "{}", first.err);
    run(&["plates", word(&build), "-o", word(&again)]);
    let (first_files, second_files) = (files(&once), files(&again));
    assert!(first_files == second_files, "the same build gives the same bytes");
    let begins = |name: &str, magic: &[u8]| {
        let name = format!("plate-motor-phases{name}");
        let (_, bytes) = first_files.iter().find(|(file, _)| *file == name).expect(&name);
        assert!(bytes.starts_with(magic), "{name}");
        assert!(first.out.contains(&name), "{name} is said to be written");
    };
    for (name, magic) in [
        (".dxf", b"  0\r\nSECTION".as_slice()),
        (".step", b"ISO-10303-21;"),
        (".glb", b"glTF"),
        (".svg", b"<svg"),
        (".pdf", b"%PDF"),
        ("-template.svg", b"<svg"),
        ("-template.pdf", b"%PDF"),
        ("-check.pdf", b"%PDF"),
        ("-check.csv", b"No.,Measure,Nominal"),
    ] {
        begins(name, magic);
    }
    let (_, end) = first_files.iter().find(|f| f.0 == "end-dc-plus-inverter-dc.glb").unwrap();
    assert!(end.starts_with(b"glTF"));
}

#[test]
fn a_plate_without_a_face_is_named_with_what_it_lacks() {
    let build = example("plates-bare");
    let document = build.join("build.toml");
    let text = fs::read_to_string(&document).unwrap();
    let named = "[device.inverter.port.dc.face]\nfile = \"inverter-dc-face.toml\"\n";
    assert!(text.contains(named));
    fs::write(&document, text.replace(named, "")).unwrap();
    let ran = run(&["plates", word(&build)]);
    assert!(build.join("plates").is_dir(), "the default folder lies in the build's");
    assert!(ran.err.contains("the plate of inverter.dc is not drawn"), "{}", ran.err);
    assert!(ran.err.contains("device.inverter.port.dc.face"), "{}", ran.err);
}

#[test]
fn a_plate_that_breaks_a_rule_is_refused_with_the_layout_that_works() {
    let build = example("plates-refused");
    let document = build.join("build.toml");
    let text = fs::read_to_string(&document).unwrap();
    let placed = "grip-at = { \"+\" = \"65 mm, 50 mm\", \"-\" = \"119 mm, 50 mm\" }";
    let tight = "grip-at = { \"+\" = \"82 mm, 50 mm\", \"-\" = \"107 mm, 50 mm\" }";
    assert!(text.contains(placed));
    fs::write(&document, text.replace(placed, tight)).unwrap();
    let out = build.join("out");
    // What an earlier plan left there must not be cut any more.
    fs::create_dir(&out).unwrap();
    fs::write(out.join("plate-inverter-dc.dxf"), "an earlier one").unwrap();
    let ran = run(&["plates", word(&build), "-o", word(&out)]);
    assert_eq!(ran.status, 1);
    let said = in_line(&ran.err);
    let wall = "metal between grips + and -: 0.00 mm (0.000 in), at least 3.00 mm";
    let room = "grips + and -, centre to centre: 25.0 mm (0.984 in), at least ";
    assert!(said.contains("plate inverter.dc is refused") && said.contains(wall), "{said}");
    assert!(said.contains(room), "{said}");
    assert!(!out.join("plate-inverter-dc.dxf").exists());
    assert!(!out.join("plate-inverter-dc.step").exists());
    assert!(
        out.join("plate-inverter-dc.pdf").exists()
            && out.join("plate-motor-phases.dxf").exists()
    );

    // The layout that it names works.
    let cure = said.split("these places work: ").nth(1).unwrap().split(" }").next().unwrap();
    fs::write(&document, text.replace(placed, &format!("{cure} }}"))).unwrap();
    let ran = run(&["plates", word(&build), "-o", word(&out)]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(out.join("plate-inverter-dc.dxf").exists());
}

/// Fills in a check sheet: every length as its nominal, moved by `off_mm`.
fn filled(sheet: &str, off_mm: f64) -> String {
    let mut lines = sheet.lines();
    let mut text = format!("{}\n", lines.next().unwrap());
    for line in lines {
        assert!(line.ends_with(','), "the reading is left open: {line}");
        let nominal = line.rsplit(',').nth(4).unwrap().parse::<f64>();
        let reading = nominal.map_or("good".to_owned(), |mm| format!("{:.3} mm", mm + off_mm));
        text.push_str(&format!("{line}{reading}\n"));
    }
    text
}

/// Word by word the same, numbers within a hundredth of a micrometre.
#[track_caller]
fn same_but_for_rounding(first: &str, second: &str, name: &str) {
    let words = |text: &str| -> Vec<String> {
        let apart = |c: char| c.is_whitespace() || matches!(c, '(' | ')' | ',' | ';');
        text.split(apart).filter(|w| !w.is_empty()).map(str::to_owned).collect()
    };
    let (first, second) = (words(first), words(second));
    assert_eq!(first.len(), second.len(), "{name}");
    for (a, b) in first.iter().zip(&second) {
        let near = match (a.parse::<f64>(), b.parse::<f64>()) {
            (Ok(a), Ok(b)) => (a - b).abs() < 1e-5,
            _ => a == b,
        };
        assert!(near, "{name}: {a} and {b}");
    }
}

/// What was said, without its line breaks.
fn in_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_plate_proven_once_is_kept_and_used_again_by_name() {
    let build = example("plates-keep");
    let out = build.join("plates");
    run(&["plates", word(&build), "-o", word(&out)]);
    let sheet = fs::read_to_string(out.join("plate-motor-phases-check.csv")).unwrap();
    let readings = build.join("measured.csv");
    let keep = |name: &str, port: &str| {
        let by = ["--by", "A. Turner", "--readings", word(&readings)];
        let words = ["plates", word(&build), "--keep", name, "--port", port];
        run(&[words.as_slice(), by.as_slice()].concat())
    };

    // A sheet that is not filled in, or a part that is out of its limits, is no proof.
    fs::write(&readings, &sheet).unwrap();
    let ran = keep("seven M6", "motor.phases");
    assert!(ran.status == 2 && ran.err.contains("B1, diameter has no reading"), "{}", ran.err);
    fs::write(&readings, filled(&sheet, 0.15)).unwrap();
    let ran = keep("seven M6", "motor.phases");
    assert!(ran.err.contains("Groove depth, top, seal side was read 2.790 mm"), "{}", ran.err);
    assert!(!fs::read_to_string(build.join("parts.toml")).unwrap().contains("[plate."));

    fs::write(&readings, filled(&sheet, 0.02)).unwrap();
    let ran = keep("seven M6", "motor.phases");
    assert_eq!(ran.status, 0, "{}", ran.err);
    let parts = fs::read_to_string(build.join("parts.toml")).unwrap();
    assert!(parts.contains("kept-by = \"A. Turner\"") && parts.contains("plate-fit: "));
    assert!(keep("seven M6", "motor.phases").err.contains("already"));
    let found = run(&["shelf", "plate", "seven", "--build", word(&build)]);
    let said = in_line(&found.out);
    assert!(said.contains("kept by A. Turner on 2026-11-25, 37 readings"), "{said}");

    // Named, it is used as it is, and comes out as it was.
    let document = build.join("build.toml");
    let text = fs::read_to_string(&document).unwrap();
    let (before, plate) = text.split_once("[device.motor.port.phases.plate]\n").unwrap();
    let (plate, after) = plate.split_once("\n\n").unwrap();
    let own = ["material", "thickness =", "grip-", "o-ring", "groove-"];
    let left: Vec<&str> =
        plate.lines().filter(|l| !own.iter().any(|k| l.starts_with(k))).collect();
    let used = format!(
        "{before}[device.motor.port.phases.plate]\nuse = \"seven M6\"\n{}\n\n{after}",
        left.join("\n")
    );
    fs::write(&document, &used).unwrap();
    let ran = run(&["plan", word(&build), "--all"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let said = in_line(&ran.out);
    assert!(said.contains("the kept plate seven M6, kept by A. Turner"), "{said}");
    let again = build.join("again");
    run(&["plates", word(&build), "-o", word(&again)]);
    for ending in [".dxf", ".step"] {
        let name = format!("plate-motor-phases{ending}");
        let [first, second] =
            [&out, &again].map(|folder| fs::read_to_string(folder.join(&name)).unwrap());
        same_but_for_rounding(&first, &second, &name);
    }

    // On another face it is refused, with why; and what it says itself may not be said beside it.
    let elsewhere = used.replace("motor-phases-face.toml", "inverter-phases-face.toml");
    fs::write(&document, elsewhere).unwrap();
    let ran = run(&["plan", word(&build)]);
    assert_eq!(ran.status, 1);
    let said = in_line(&ran.out);
    assert!(said.contains("it has 7 bolt holes, and the face 6"), "{said}");
    fs::write(&document, used.replace("use = ", "thickness = \"12 mm\"\nuse = ")).unwrap();
    let ran = run(&["plan", word(&build)]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("`thickness` is the kept plate's own"), "{}", ran.err);
}
