//! Tests of checks: a base build that is right, a patch that changes a few lines, and markers in the
//! patch that say what must be found there.
//!
//! ```toml
//! [run.phases.to-end]
//! bolt = "M8x30"          #! fails bolt-bottoms
//! sleeve = absent         # takes the line out of the base
//! ```
//!
//! The patch is merged into the base text table by table and key by key, the result is read and planned
//! like any build, and every finding that is not found in the base must be marked on its line, and every
//! mark must be found. So a change changes exactly the findings it should.

use crate::finding::{Finding, Verdict};
use crate::given::document::read;
use crate::given::shelf_read::standard;
use crate::{Plan, plan};

/// The base: a build in which every check holds or is close.
pub(crate) const BASE: &str = include_str!("marked_base.toml");

/// One expectation or one finding: line, verdict, code.
type Mark = (usize, String, String);

/// Plans the base with the patch and holds the new findings against the marks.
#[track_caller]
pub(crate) fn check(patch: &str) {
    let text = merge(BASE, patch);
    let (before, after) = (planned(BASE), planned(&text));
    let mut found: Vec<Mark> = after
        .findings
        .iter()
        .filter(|f| f.verdict != Verdict::Holds && !known(&before, f))
        .map(|f| (f.at.line as usize, f.verdict.word().to_owned(), f.code.to_owned()))
        .collect();
    found.sort();
    found.dedup();
    let mut expected = marks(&text);
    expected.sort();
    if found != expected {
        let messages: Vec<String> = after
            .findings
            .iter()
            .filter(|f| f.verdict != Verdict::Holds && !known(&before, f))
            .map(|f| format!("  {} {} {}: {}", f.at.line, f.verdict.word(), f.code, f.message))
            .collect();
        panic!(
            "marked: {expected:?}\nfound: {found:?}\n{}\nin\n{}",
            messages.join("\n"),
            numbered(&text)
        );
    }
}

/// Plans the base with the patch and requires that the check was judged and neither fails nor is unknown.
#[track_caller]
pub(crate) fn holds(code: &str, patch: &str) {
    let plan = planned(&merge(BASE, patch));
    let judged: Vec<&Finding> = plan.findings.iter().filter(|f| f.code == code).collect();
    assert!(!judged.is_empty(), "{code} was not judged");
    for finding in judged {
        assert!(
            matches!(finding.verdict, Verdict::Holds | Verdict::Close),
            "{code} {}: {}",
            finding.verdict.word(),
            finding.message
        );
    }
}

/// Verdicts of one check on the base with the patch, whatever else the patch changes.
#[track_caller]
pub(crate) fn verdicts(code: &str, patch: &str) -> Vec<Verdict> {
    let plan = planned(&merge(BASE, patch));
    plan.findings.iter().filter(|f| f.code == code).map(|f| f.verdict).collect()
}

/// The plan of a text that must be readable.
#[track_caller]
pub(crate) fn planned(text: &str) -> Plan {
    let reading = read(text);
    assert!(reading.errors.is_empty(), "{:#?}\n{}", reading.errors, numbered(text));
    plan(&reading.build, standard())
}

/// The base text with a patch merged in.
pub(crate) fn merge(base: &str, patch: &str) -> String {
    let mut lines: Vec<String> = base.lines().map(str::to_owned).collect();
    let mut table = String::new();
    for line in patch.lines().map(str::trim).filter(|l| !l.is_empty()) {
        if line.starts_with('[') {
            table = header_of(line).to_owned();
            put_header(&mut lines, line, &table);
        } else if let Some((key, value)) = line.split_once('=') {
            put_key(&mut lines, &table, key.trim(), value.trim(), line);
        }
    }
    lines.join("\n") + "\n"
}

fn header_of(line: &str) -> &str {
    line.split(']').next().unwrap_or("").trim_start_matches('[')
}

fn put_header(lines: &mut Vec<String>, line: &str, table: &str) {
    match lines.iter().position(|l| l.starts_with('[') && header_of(l) == table) {
        Some(at) => lines[at] = line.to_owned(),
        None => lines.push(line.to_owned()),
    }
}

fn put_key(lines: &mut Vec<String>, table: &str, key: &str, value: &str, line: &str) {
    let start = if table.is_empty() {
        0
    } else {
        lines.iter().position(|l| l.starts_with('[') && header_of(l) == table).expect("header")
            + 1
    };
    let end = lines[start..]
        .iter()
        .position(|l| l.starts_with('['))
        .map_or(lines.len(), |n| start + n);
    let found = lines[start..end]
        .iter()
        .position(|l| l.split_once('=').is_some_and(|(k, _)| k.trim() == key));
    let absent = value.split('#').next().unwrap_or("").trim() == "absent";
    match (found, absent) {
        (Some(at), true) => {
            lines.remove(start + at);
        }
        (Some(at), false) => lines[start + at] = line.to_owned(),
        (None, true) => panic!("{table}: there is no `{key}` in the base to take out"),
        (None, false) => lines.insert(start, line.to_owned()),
    }
}

fn marks(text: &str) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (index, line) in text.lines().enumerate() {
        let Some((_, after)) = line.split_once("#!") else { continue };
        for mark in after.split(';') {
            let (verdict, code) = mark.trim().split_once(' ').expect("#! VERDICT CODE");
            marks.push((index + 1, verdict.to_owned(), code.trim().to_owned()));
        }
    }
    marks
}

fn known(before: &Plan, finding: &Finding) -> bool {
    before.findings.iter().any(|f| {
        f.code == finding.code && f.verdict == finding.verdict && f.about == finding.about
    })
}

fn numbered(text: &str) -> String {
    text.lines().enumerate().map(|(i, l)| format!("{:3} {l}\n", i + 1)).collect()
}

/// A part added by the patch must not hide a mark: the merge itself is tested.
#[test]
fn a_patch_changes_adds_and_takes_out() {
    let base = "a = 1\n[t]\nb = 2\nc = 3\n[u]\nd = 4";
    let merged = merge(base, "a = 5\n[t]\nb = absent\ne = 6 #! fails x-y\n[v]\nf = 7");
    assert_eq!(merged, "a = 5\n[t]\ne = 6 #! fails x-y\nc = 3\n[u]\nd = 4\n[v]\nf = 7\n");
    assert_eq!(marks(&merged), [(3, "fails".to_owned(), "x-y".to_owned())]);
}

#[test]
fn the_base_is_right() {
    let plan = planned(BASE);
    let wrong: Vec<String> = plan
        .findings
        .iter()
        .filter(|f| matches!(f.verdict, Verdict::Fails | Verdict::Unknown))
        .map(|f| format!("{} {} {}: {}", f.at.line, f.verdict.word(), f.code, f.message))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
