//! Documents that are wrong: each is answered with a place and the right exit status, never a panic.

mod common;

use std::fs;

use common::{build, changed, folder, run, word};

/// The document is refused with all these parts in the message, and nothing is printed as a result.
fn refused(name: &str, document: impl AsRef<[u8]>, parts: &[&str]) {
    let folder = build(name, document);
    for command in ["plan", "kit"] {
        let ran = run(&[command, word(&folder)]);
        assert_eq!(ran.status, 2, "{}", ran.err);
        assert_eq!(ran.out, "");
        for part in parts {
            assert!(ran.err.contains(part), "no `{part}` in\n{}", ran.err);
        }
    }
}

#[test]
fn nothing_there() {
    let folder = folder("nothing-there");
    let ran = run(&["plan", word(&folder)]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("build.toml: there is no such file"), "{}", ran.err);
    let ran = run(&["plan", word(&folder.join("no-such-folder"))]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("there is no such file"), "{}", ran.err);
}

#[test]
fn a_folder_where_the_document_is_due() {
    let folder = folder("folder-as-document");
    fs::create_dir(folder.join("build.toml")).unwrap();
    let ran = run(&["plan", word(&folder)]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("folder"), "{}", ran.err);
}

#[test]
fn empty() {
    refused("empty", "", &["the document is empty", "build.toml:1:1", "loomwright new DIR"]);
    let open = "title = \"t\"\n[run.a]\nlength = \"85 cm\nfrom = \"a.b\"\nto = \"c.d\"\n";
    refused("open-quote", open, &["a double quote opens here", "build.toml:3:10"]);
}

#[test]
fn binary() {
    refused(
        "binary",
        b"title = \"\0\x01\"",
        &["this is no text but some other kind of file: byte 10 is zero"],
    );
}

#[test]
fn not_utf_8() {
    refused(
        "not-utf-8",
        b"title = \"t\"\nmade-by = \"M\xfcller\"\n",
        &["build.toml:2: ", "UTF-8"],
    );
}

#[test]
fn a_hundred_megabytes() {
    let folder = build("huge", "title = \"t\"\n");
    let file = fs::File::options().write(true).open(folder.join("build.toml")).unwrap();
    file.set_len(100_000_000).unwrap();
    let ran = run(&["plan", word(&folder)]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("larger than 1000000 bytes"), "{}", ran.err);
    fs::remove_file(folder.join("build.toml")).unwrap();
}

#[test]
fn every_slip_of_a_document_is_shown_at_once() {
    let document = "title = \"t\"\n\
        [system]\n\
        voltage = 350\n\
        voltage-maxx = \"410 V\"\n\
        [surroundings]\n\
        air = \"45 A\"\n\
        altitude = \"90 km\"\n\
        [device.a]\n\
        kind = \"engine\"\n\
        [device.a]\n\
        [run.r]\n\
        from = \"a.p\"\n\
        to = \"b.p\"\n\
        length = \"-2 m\"\n\
        current = \"9000 A\"\n";
    refused(
        "many-slips",
        document,
        &[
            ":3:11\n",
            "`voltage` is a voltage and needs its unit: V, kV or mV",
            ":4:1\n",
            "did you mean `voltage-max`?",
            ":6:7\n",
            "`A` is the unit of a current, but a temperature is due",
            ":7:12\n",
            ":9:8\n",
            "use motor, inverter, battery, junction-box or converter",
            ":10:9\n",
            "`a` is written twice, first in line 8",
            ":14:10\n",
            "outside 20 mm to 50 m",
            ":15:11\n",
            "8 errors",
        ],
    );
}

#[test]
fn a_port_that_does_not_exist_is_a_finding() {
    let document = changed("first", &[("to = \"motor.phases\"", "to = \"motor.fases\"")]);
    let line = 1 + document.lines().position(|l| l.starts_with("to =")).unwrap();
    let ran = run(&["plan", word(&build("no-port", document))]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert!(ran.out.contains("port-exists"), "{}", ran.out);
    assert!(ran.out.contains(&format!("build.toml:{line}:6")), "{}", ran.out);
    assert!(ran.out.contains("did you mean `motor.phases`?"), "{}", ran.out);
}

#[test]
fn phases_that_do_not_match_are_a_finding() {
    // The second port of the example is the motor's.
    let document = changed("first", &[]);
    let at = document.rfind("[\"U\", \"V\", \"W\"]").unwrap();
    let document = format!("{}[\"U\", \"V\", \"X\"]{}", &document[..at], &document[at + 15..]);
    let ran = run(&["plan", word(&build("phases", document))]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert!(ran.out.contains("terminal-exists"), "{}", ran.out);
    assert!(ran.out.contains("has no terminal `W`"), "{}", ran.out);
}

#[test]
fn a_part_that_is_on_no_shelf_is_a_finding() {
    let document = changed("first", &[("current =", "cable = \"flex-999\"\ncurrent =")]);
    let ran = run(&["plan", word(&build("no-part", document))]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert!(ran.out.contains("part-exists"), "{}", ran.out);
}

#[test]
fn what_is_left_out_is_unknown_with_its_place() {
    let document =
        changed("first", &[("length = \"0.85 m\"\n", ""), ("current = \"120 A\"\n", "")]);
    let line = 1 + document.lines().position(|l| l == "[run.phases]").unwrap();
    let ran = run(&["plan", word(&build("left-out", document))]);
    assert!(ran.status < 2, "{}", ran.err);
    assert!(ran.out.contains("Not for building"), "{}", ran.out);
    assert!(ran.out.contains(&format!("length-unknown  build.toml:{line}:6")), "{}", ran.out);
}

#[test]
fn a_part_of_the_shop_without_a_needed_dimension_is_an_error() {
    let folder = build("shop-part", changed("first", &[]));
    fs::write(folder.join("parts.toml"), "[grip.\"M32 ours\"]\nthread = \"M32x1.5\"\n")
        .unwrap();
    let ran = run(&["plan", word(&folder)]);
    assert_eq!(ran.status, 2, "{}{}", ran.out, ran.err);
    assert!(ran.err.contains("parts.toml:1:"), "{}", ran.err);
    assert!(ran.err.contains("clamp"), "{}", ran.err);
    assert_eq!(ran.out, "");
}

#[test]
fn errors_of_both_files_are_shown() {
    let folder = build("both-wrong", "titel = \"t\"\n");
    fs::write(folder.join("parts.toml"), "[lugg.x]\n").unwrap();
    let ran = run(&["plan", word(&folder)]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("build.toml:1:1"), "{}", ran.err);
    assert!(ran.err.contains("parts.toml:1:"), "{}", ran.err);
}

#[test]
fn a_price_of_the_shop_changes_the_plan_and_its_digest() {
    let folder = build("shop-price", changed("first", &[]));
    let digest = |out: &str| {
        let plan: serde_json::Value = serde_json::from_str(out).unwrap();
        plan["build"]["digest"].as_str().unwrap().to_owned()
    };
    let before = digest(&run(&["plan", word(&folder), "--json"]).out);
    fs::write(folder.join("parts.toml"), "[lug.\"25 mm2 M8\"]\nprice = \"4.20\"\n").unwrap();
    let ran = run(&["plan", word(&folder), "--json"]);
    assert_ne!(ran.status, 2, "{}", ran.err);
    assert_ne!(digest(&ran.out), before);
}

#[test]
fn usage_errors_are_status_2() {
    for words in [
        &["plam"][..],
        &["plan", "--jsn"],
        &["plan", "a", "b"],
        &["plan", "--all", "--json"],
        &["new"],
        &["kit", "--csv"],
    ] {
        let ran = run(words);
        assert_eq!(ran.status, 2, "{words:?}");
        assert_eq!(ran.out, "");
        assert!(!ran.err.is_empty());
    }
}

#[test]
fn every_help_has_an_example() {
    for command in ["new", "plan", "book", "kit", "figure", "verify", "shelf", "docs"] {
        let ran = run(&[command, "--help"]);
        assert_eq!(ran.status, 0, "{command}: {}", ran.err);
        assert!(ran.out.contains("Example:\n  loomwright "), "{command}: {}", ran.out);
    }
    assert!(run(&["--help"]).out.contains("Example:"));
}
