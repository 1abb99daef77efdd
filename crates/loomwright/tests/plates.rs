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
    ] {
        begins(name, magic);
    }
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
