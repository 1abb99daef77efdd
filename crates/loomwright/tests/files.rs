//! Files: what is written is whole, and nothing is lost.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;

use std::fs;
use std::path::Path;

use common::{build, changed, command, examples, folder, ran, run, word};

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn example() -> String {
    word(&common::root().join("builds/orchard-truck")).to_owned()
}

#[test]
fn new_makes_a_build_that_can_be_planned_and_never_replaces_one() {
    let folder = folder("new").join("deep/er");
    let ran = run(&["new", word(&folder)]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert_eq!(names(&folder), ["build.toml"]);
    let planned = run(&["plan", word(&folder)]);
    assert_ne!(planned.status, 2, "{}", planned.err);

    let document = folder.join("build.toml");
    fs::write(&document, "mine").unwrap();
    let ran = run(&["new", word(&folder)]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("left as it is"), "{}", ran.err);
    assert_eq!(fs::read_to_string(&document).unwrap(), "mine");
}

#[test]
fn new_copies_each_example() {
    for example in examples() {
        let name = example.file_name().unwrap().to_str().unwrap();
        let folder = folder(&format!("new-{name}"));
        let ran = run(&["new", word(&folder), "--from-example", name]);
        assert_eq!(ran.status, 0, "{}", ran.err);
        let given: Vec<String> =
            names(&example).into_iter().filter(|n| n != "plan.txt").collect();
        assert_eq!(names(&folder), given);
        assert_eq!(run(&["plan", word(&folder)]).out, run(&["plan", word(&example)]).out);
    }
    let ran = run(&["new", "nowhere", "--from-example", "orchard-trck"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("did you mean `orchard-truck`?"), "{}", ran.err);
    assert!(!Path::new("nowhere").exists());
}

#[test]
fn the_kit_is_written_as_table_and_workbook() {
    let folder = folder("kit");
    let (table, workbook) = (folder.join("kit.csv"), folder.join("kit.xlsx"));
    let ran = run(&["kit", &example(), "--csv", word(&table), "--xlsx", word(&workbook)]);
    assert!(ran.status < 2, "{}", ran.err);
    assert_eq!(ran.out, "");
    assert_eq!(names(&folder), ["kit.csv", "kit.xlsx"]);

    let printed = run(&["kit", &example(), "--csv", "-"]).out;
    assert_eq!(fs::read_to_string(&table).unwrap(), printed);
    let mut reader = csv::Reader::from_reader(printed.as_bytes());
    let head = reader.headers().unwrap().clone();
    let column = |name| head.iter().position(|h| h == name).unwrap();
    let (used, spares, pack, place) =
        (column("used"), column("spares"), column("pack"), column("where"));
    let mut rows = 0;
    for row in reader.records() {
        let row = row.unwrap();
        let number = |i: usize| row[i].parse::<u32>().unwrap();
        assert_eq!(number(used) + number(spares), number(pack));
        let counted: u32 = row[place]
            .split(", ")
            .map(|u| u.split(' ').next().unwrap().parse::<u32>().unwrap())
            .sum();
        assert_eq!(counted, number(used), "{}", &row[place]);
        rows += 1;
    }
    assert!(10 < rows);

    let first = fs::read(&workbook).unwrap();
    assert!(first.starts_with(b"PK"));
    run(&["kit", &example(), "--xlsx", word(&workbook)]);
    assert_eq!(first, fs::read(&workbook).unwrap(), "the same kit gives the same workbook");
}

#[test]
fn a_wrong_document_writes_nothing() {
    let folder = common::build("writes-nothing", "title = 3\n");
    let table = folder.join("kit.csv");
    fs::write(&table, "old").unwrap();
    let ran = run(&["kit", word(&folder), "--csv", word(&table)]);
    assert_eq!(ran.status, 2);
    assert_eq!(fs::read_to_string(&table).unwrap(), "old");
    assert_eq!(names(&folder), ["build.toml", "kit.csv"]);
}

#[test]
fn a_target_that_cannot_be_written_is_said_and_the_old_file_stays() {
    let folder = folder("no-room");
    // The temporary file's name would be longer than a name may be.
    let long = folder.join("k".repeat(250));
    fs::write(&long, "old").unwrap();
    let ran = run(&["kit", &example(), "--csv", word(&long)]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("left as it was"), "{}", ran.err);
    assert_eq!(fs::read_to_string(&long).unwrap(), "old");

    let ran = run(&["kit", &example(), "--csv", word(&folder)]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("this is a folder"), "{}", ran.err);
    let ran = run(&["kit", &example(), "--csv", word(&folder.join("no/such/kit.csv"))]);
    assert_eq!(ran.status, 2);
    assert_eq!(names(&folder).len(), 1);
}

/// Runs the program in a shell that lets it write files of no more than one block.
#[cfg(unix)]
fn with_little_room(folder: &Path, before: &str) -> std::process::Output {
    let shell = format!(
        "{before} ulimit -f 1; exec '{}' kit '{}' --xlsx '{}'",
        env!("CARGO_BIN_EXE_loomwright"),
        example(),
        word(&folder.join("kit.xlsx"))
    );
    let mut command = std::process::Command::new("sh");
    command.arg("-c").arg(shell).output().unwrap()
}

#[cfg(unix)]
#[test]
fn a_full_disk_is_said_and_leaves_the_old_file_and_no_half() {
    let folder = folder("full-disk");
    fs::write(folder.join("kit.xlsx"), "old").unwrap();
    let ran = ran(with_little_room(&folder, "trap '' XFSZ;"));
    assert_eq!(ran.status, 2, "{}", ran.err);
    assert!(ran.err.contains("left as it was"), "{}", ran.err);
    assert_eq!(fs::read_to_string(folder.join("kit.xlsx")).unwrap(), "old");
    assert_eq!(names(&folder), ["kit.xlsx"]);
}

#[cfg(unix)]
#[test]
fn being_killed_while_writing_leaves_the_old_file() {
    let folder = folder("killed");
    fs::write(folder.join("kit.xlsx"), "old").unwrap();
    let output = with_little_room(&folder, "");
    assert_eq!(output.status.code(), None, "the signal ends it in the middle of the write");
    assert_eq!(fs::read_to_string(folder.join("kit.xlsx")).unwrap(), "old");
}

#[cfg(target_os = "linux")]
#[test]
fn a_device_is_written_to_and_its_error_is_said() {
    let ran = run(&["kit", &example(), "--csv", "/dev/full"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("/dev/full: cannot be written"), "{}", ran.err);
    let ran = self::ran(
        command()
            .args(["kit", &example()])
            .stdout(fs::File::options().write(true).open("/dev/full").unwrap())
            .output()
            .unwrap(),
    );
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("error: "), "{}", ran.err);
}

#[test]
fn the_shelf_is_searched() {
    let found = run(&["shelf", "oring", "258"]);
    assert_eq!(found.status, 0);
    assert!(found.out.starts_with("oring"), "{}", found.out);
    let json = run(&["shelf", "lug", "M8", "--json"]);
    let hits: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert!(3 < hits.as_array().unwrap().len());
    assert_eq!(hits[0]["kind"], "lug");
    let none = run(&["shelf", "no-such-thing"]);
    assert_eq!((none.status, none.out.as_str()), (0, ""));
    assert!(none.err.contains("nothing on the shelf"), "{}", none.err);
}

#[test]
fn the_shelf_of_a_build_holds_the_shops_own_parts() {
    let folder = build("own-shelf", changed("first", &[]));
    let own = "[lug.\"2/0 M8 narrow\"]\nlike = \"2/0 M8\"\npalm-width = \"19 mm\"\n";
    fs::write(folder.join("parts.toml"), own).unwrap();
    let with = run(&["shelf", "--build", word(&folder), "lug", "narrow"]);
    assert!(with.out.starts_with("lug         2/0 M8 narrow"), "{}", with.out);
    assert!(with.out.contains("19.0 mm"), "{}", with.out);
    let without = run(&["shelf", "lug", "narrow"]);
    assert!(without.err.contains("nothing on the shelf"), "{}", without.err);
    // A slip in it is shown with its place, and a folder that is no build is said to be none.
    fs::write(folder.join("parts.toml"), own.replace("19 mm", "-19 mm")).unwrap();
    let slip = run(&["shelf", "--build", word(&folder), "lug"]);
    assert_eq!((slip.status, slip.out.as_str()), (2, ""));
    assert!(slip.err.contains("parts.toml:3:14"), "{}", slip.err);
    let none = run(&["shelf", "--build", "no-such-folder", "lug"]);
    assert_eq!(none.status, 2);
}

#[test]
fn the_generated_pages_are_written() {
    let folder = folder("docs");
    let ran = run(&["docs", word(&folder)]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    for name in ["build.md", "figures.md", "checks.md", "plan.schema.json", "validation.md"] {
        assert!(names(&folder).iter().any(|n| n == name), "{name}");
    }
}
