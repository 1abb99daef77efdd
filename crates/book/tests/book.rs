//! The book of a small build: its words, its bytes and its stamp.

use std::process::{Command, Stdio};

use book::model::{Block, Book};
use book::{Chapters, Part, book, pages};
use physics::units::{Dimension, System, show};
use plan::Plan;
use plan::finding::{About, Finding, Place, Verdict};
use plan::work::trials::{Limit, Trial};

/// A battery, an inverter and a motor: one DC run, one phase run, one plate, protection.
const BUILD: &str = include_str!("small.toml");

fn planned(text: &str) -> Plan {
    let reading = plan::given::document::read(text);
    assert_eq!(reading.errors, Vec::new());
    plan::plan(&reading.build, plan::given::shelf_read::standard())
}

/// The small build with nothing against it, whatever the rules of the day say.
fn kept() -> Plan {
    let mut plan = planned(BUILD);
    plan.findings.retain(|f| matches!(f.verdict, Verdict::Close | Verdict::Holds));
    plan
}

fn failing() -> Plan {
    let mut plan = kept();
    let finding = Finding::new(
        "made-up",
        Verdict::Fails,
        Place { line: 3, column: 1, width: 4 },
        "common-practice",
        "the test says no".to_owned(),
    );
    plan.findings.insert(0, finding.about(About::run("phases")));
    plan
}

/// Text of a PDF page by page, or nothing where the tool is absent and no CI insists on it.
#[expect(clippy::disallowed_methods, reason = "a test asks another program to read our PDF")]
#[expect(clippy::print_stdout, reason = "a skipped test says so")]
fn pdf_text(pdf: &[u8]) -> Option<Vec<String>> {
    use std::io::Write as _;
    let started = Command::new("pdftotext")
        .args(["-layout", "-", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn();
    let mut child = match started {
        Ok(child) => child,
        Err(error) if std::env::var_os("CI").is_some() => panic!("CI needs pdftotext: {error}"),
        Err(error) => {
            println!("SKIPPED: pdftotext is not installed ({error})");
            return None;
        }
    };
    let mut input = child.stdin.take().expect("it was piped");
    let bytes = pdf.to_vec();
    let writer = std::thread::spawn(move || input.write_all(&bytes));
    let output = child.wait_with_output().expect("it ends");
    writer.join().expect("no panic").expect("it reads all");
    assert!(output.status.success(), "pdftotext reads our PDF");
    let text = String::from_utf8(output.stdout).expect("text is UTF-8");
    let pages = text.trim_end_matches('\u{c}').split('\u{c}');
    Some(pages.map(|page| squeeze(&book::model::plain(page))).collect())
}

/// One space between words, so that a line break in a cell does not hide a number.
fn squeeze(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Every torque a hand will set, in N m.
fn torques(plan: &Plan) -> Vec<f64> {
    let ends = plan.ends.iter().filter_map(|e| e.torque.as_ref());
    let plates = plan.plates.iter().filter_map(|p| p.bolts.as_ref()?.torque.as_ref());
    let grips = plan.ends.iter().filter_map(|e| e.grip.as_ref()).map(|g| g.torque_nm);
    let steps = plan.steps.iter().filter_map(|s| s.torque_nm);
    ends.chain(plates).map(|t| t.torque_nm).chain(grips).chain(steps).collect()
}

#[test]
fn same_plan_same_bytes() {
    let plan = planned(BUILD);
    let chapters = Chapters::only(&[Part::Cover, Part::Diagram, Part::Plates]);
    let first = book(&plan, &chapters).unwrap();
    // Another book in between must leave no trace.
    book(&failing(), &Chapters::only(&[Part::Protection])).unwrap();
    assert!(first == book(&plan, &chapters).unwrap(), "the second printing differs");
    assert!(first.starts_with(b"%PDF-"));
}

#[test]
fn the_whole_book_reads_as_written() {
    let plan = kept();
    let Some(pages) = pdf_text(&book(&plan, &Chapters::all()).unwrap()) else { return };
    let all = pages.join("\n");
    let torques = torques(&plan);
    assert!(torques.len() > 10, "the small build has bolts to tighten");
    for nm in torques {
        for system in [System::Metric, System::Us] {
            let text = show(nm, Dimension::Torque, system);
            assert!(all.contains(&text), "{text} is not in the book");
        }
    }
    let count = pages.len();
    for (i, page) in pages.iter().enumerate() {
        let number = format!("{} / {count}", i + 1);
        assert!(page.contains(&number), "page {number} says so");
        assert!(page.contains("Small build"), "every page names the build");
        assert!(!page.to_uppercase().contains("NOT FOR BUILDING"), "no stamp without a reason");
    }
    // A code may be broken at its hyphens.
    let unbroken = all.replace("- ", "-");
    for finding in &plan.findings {
        assert!(unbroken.contains(finding.code), "{}", finding.code);
    }
}

#[test]
fn every_page_is_stamped_while_something_fails() {
    let plan = failing();
    assert!(!plan.for_building());
    let chapters =
        Chapters::only(&[Part::Cover, Part::Diagram, Part::Plates, Part::Kit, Part::Cautions]);
    let Some(pages) = pdf_text(&book(&plan, &chapters).unwrap()) else { return };
    assert!(pages.len() >= 4);
    for page in &pages {
        assert!(page.contains("Not for building: 1 finding fails"), "{page}");
    }
    assert!(pages[0].contains("The test says no."));
}

#[test]
fn the_stamp_goes_with_the_findings() {
    assert_eq!(pages(&kept(), &Chapters::all()).stamp, None);
    let stamp = pages(&failing(), &Chapters::all()).stamp.unwrap();
    assert_eq!(stamp.word, "Not for building");
    let mut plan = kept();
    let unknown = Finding::new(
        "made-up",
        Verdict::Unknown,
        Place::default(),
        "common-practice",
        "nobody knows".to_owned(),
    );
    plan.findings.push(unknown.clone());
    assert_eq!(pages(&plan, &Chapters::all()).stamp, None, "not everything unknown can hurt");
    plan.findings.push(unknown.safety());
    let stamp = pages(&plan, &Chapters::all()).stamp.unwrap();
    assert_eq!(stamp.why, "1 needed value is unknown");
}

#[test]
fn pages_say_what_the_plan_says() {
    let plan = planned(BUILD);
    let text = pages(&plan, &Chapters::all()).text();
    for step in &plan.steps {
        assert!(text.contains(&book::model::plain(&draw::letters::typeset(&step.title))));
    }
    for trial in &plan.trials {
        let says =
            |words: &str| text.contains(&book::model::plain(&draw::letters::typeset(words)));
        assert!(says(&trial.what) || says(trial.kind), "{}", trial.what);
    }
    // Every pair of ends has a line of its own to fill in, the steps that follow it are in the vehicle.
    assert!(text.contains("U to V: open: ____") && text.contains("W to W: closed: ____"));
    let [bench, vehicle, which] =
        ["### On the bench", "### In the vehicle", "Prove which cable of"]
            .map(|words| text.find(words).unwrap_or_else(|| panic!("{words}")));
    assert!(bench < vehicle && vehicle < which);
    for item in &plan.kit.items {
        for used in &item.uses {
            assert!(text.contains(&format!("{} at ", used.count)), "{}", item.part);
        }
    }
    for assumed in &plan.assumed {
        assert!(text.contains(&assumed.key), "{}", assumed.key);
    }
    assert_eq!(text.matches("[ ] ").count() - plan.kit.items.len(), {
        let cuts: usize = plan.kit.cuts.iter().map(|reel| reel.pieces.len()).sum();
        // Identity is read pair by pair.
        let readings = |trial: &Trial| match &trial.limit {
            Limit::Pairs(pairs) => pairs.len(),
            _ => 1,
        };
        let readings: usize = plan.trials.iter().map(readings).sum();
        plan.steps.len() + readings + cuts
    });
    let lower = text.to_lowercase();
    let mut spoken = lower.split(|c: char| !c.is_alphanumeric());
    assert!(!spoken.any(|word| word == "safe" || word == "safely"));
}

/// Wherever a page happens to end, a group of the kit does not begin with nothing but its name.
#[test]
fn no_group_of_a_table_stands_alone_at_a_pages_foot() {
    let plan = kept();
    let kit = Chapters::only(&[Part::Kit]);
    let mut broken = 0;
    for more in 20..32 {
        let mut longer = plan.clone();
        let first = longer.kit.items[0].clone();
        longer.kit.items.splice(0..0, std::iter::repeat_n(first, more));
        let Some(pages) = pdf_text(&book(&longer, &kit).unwrap()) else { return };
        broken += usize::from(pages.len() > 1);
        for page in &pages {
            for name in
                ["Lugs", "Sleeves", "Grips", "Fasteners", "Rings", "Protection", "Labels"]
            {
                assert!(!page.contains(&format!("{name} Loomwright plan")), "{more}: {page}");
            }
        }
    }
    assert!(broken > 8, "the kit must break over pages to show anything");
}

#[test]
fn one_part_alone_has_no_cover() {
    let plan = planned(BUILD);
    let book = pages(&plan, &Chapters::only(&[Part::Kit]));
    assert_eq!(book.chapters.len(), 1);
    assert_eq!(book.chapters[0].title, "Kit and packing list");
    assert!(!has_cover(&book));
    assert!(has_cover(&pages(&plan, &Chapters::all())));
}

fn has_cover(book: &Book) -> bool {
    let mut blocks = book.chapters.iter().flat_map(|c| &c.blocks);
    blocks.any(|b| matches!(b, Block::Cover { .. }))
}

#[test]
fn an_empty_build_is_still_a_book() {
    let empty = plan::given::build::Build::default();
    let plan = plan::plan(&empty, plan::given::shelf_read::standard());
    let bytes = book(&plan, &Chapters::all()).unwrap();
    let Some(pages) = pdf_text(&bytes) else { return };
    assert!(pages[0].contains("Build without a title"));
}

#[test]
fn a_makers_words_cannot_leave_their_place() {
    let mut plan = planned(BUILD);
    let nasty =
        "#panic() $x$ `code` <svg> & \\ \"quotes\" *star* _line_ // \u{0}\u{7} 日本 ".repeat(3);
    plan.heading.title = nasty.clone();
    plan.heading.made_by = Some(nasty.clone());
    plan.heading.date = Some("2026-02-31".to_owned());
    for device in &mut plan.devices {
        device.name.push_str(&nasty);
    }
    for finding in &mut plan.findings {
        finding.message.push_str(&nasty);
        finding.hint = Some("unbroken".repeat(40));
    }
    plan.findings.truncate(12);
    let chapters = Chapters::only(&[Part::Cover, Part::Summary, Part::Diagram, Part::Findings]);
    let bytes = book(&plan, &chapters).unwrap();
    if let Some(pages) = pdf_text(&bytes) {
        assert!(pages[0].contains("#panic() $x$"), "{}", pages[0]);
    }
}
