//! The chapters that only some builds have: the duty and the magnetic field.

use book::{Chapters, Part, pages};
use plan::Plan;

const HILL: &str = include_str!("../../../builds/hill-wagon/build.toml");

fn planned(text: &str) -> Plan {
    let reading = plan::given::document::read(text);
    assert_eq!(reading.errors, Vec::new());
    plan::plan(&reading.build, plan::given::shelf_read::standard())
}

#[test]
fn a_build_that_is_driven_shows_how() {
    let plan = planned(HILL);
    let book = pages(&plan, &Chapters::only(&[Part::Duty]));
    let text = book.text();
    for words in
        ["wltc-3a over time", "Hard cases", "stall against a kerb", "Assumed of the drive"]
    {
        assert!(text.contains(words), "{words}\n{text}");
    }
    // Cycle, plane and launches; a kerb and a climb that never change are told in the table.
    assert_eq!(book.figures.len(), 3);
    for figure in &book.figures {
        assert!(figure.len() < 200_000, "a long series is thinned: {} bytes", figure.len());
    }
}

#[test]
fn a_named_point_has_its_fields_and_the_caution() {
    let plan = planned(HILL);
    let text = pages(&plan, &Chapters::only(&[Part::Field])).text();
    for words in [
        "Driver's seat",
        "ICNIRP 2010",
        "1999/519/EC",
        "pacemaker",
        "not a border between harm and none",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    assert!(!text.contains("safe"));
}

#[test]
fn a_build_without_them_has_no_such_chapters() {
    let first = include_str!("../../../builds/first/build.toml");
    let book = pages(&planned(first), &Chapters::all());
    assert!(book.chapters.iter().all(|c| c.id != "duty" && c.id != "field"));
}
