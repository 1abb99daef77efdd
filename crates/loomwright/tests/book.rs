//! The book as a file: whole, the same twice, in parts. What stands in it is tested where it is made.

mod common;

use std::fs;

use common::{folder, run, word};

#[test]
fn the_book_is_written_whole_and_the_same_twice() {
    let folder = folder("book");
    let build = common::root().join("builds/orchard-truck");
    let (whole, first, second) =
        (folder.join("whole.pdf"), folder.join("a.pdf"), folder.join("b.pdf"));
    let ran = run(&["book", word(&build), "-o", word(&whole)]);
    assert!(ran.status < 2, "{}", ran.err);
    assert_eq!(ran.out, "");
    assert!(ran.err.contains(" written"), "{}", ran.err);
    let bytes = fs::read(&whole).unwrap();
    assert!(bytes.starts_with(b"%PDF-") && bytes.trim_ascii_end().ends_with(b"%%EOF"));

    for file in [&first, &second] {
        let words = ["book", word(&build), "--part", "kit", "--part", "cuts", "-o", word(file)];
        assert!(run(&words).status < 2);
    }
    let part = fs::read(&first).unwrap();
    assert!(part.starts_with(b"%PDF-") && part.len() < bytes.len());
    assert_eq!(part, fs::read(&second).unwrap());
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 3, "no other file is left");
}

#[test]
fn without_a_name_the_book_lies_beside_the_document() {
    let folder = common::build("book-beside", common::changed("first", &[]));
    let ran = run(&["book", word(&folder), "--part", "kit"]);
    assert!(ran.status < 2, "{}", ran.err);
    assert!(fs::read(folder.join("book.pdf")).unwrap().starts_with(b"%PDF-"));
}

#[test]
fn a_wrong_document_prints_no_book() {
    let folder = common::build("book-wrong", "titel = \"t\"\n");
    let ran = run(&["book", word(&folder)]);
    assert_eq!(ran.status, 2);
    assert!(!folder.join("book.pdf").exists());
    let ran = run(&["book", word(&folder), "--part", "kitt"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("kit"), "{}", ran.err);
}
