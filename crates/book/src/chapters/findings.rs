//! All findings, worst first, in the words of the terminal and the bench.
//!
//! What needs attention stands in full. What holds is told rule by rule with its tightest place, because a
//! reader asks there how near it came, not for two hundred sentences; those stand at the end of the workings.

use std::collections::BTreeMap;

use plan::finding::{Finding, Verdict};

use crate::model::{Cell, Column, Pages, Row, Tone, group, narrow, number, row, wide};
use crate::words::{Words, about, place, sentence, tone};

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let findings = &words.plan.findings;
    let mut rows = Vec::new();
    for verdict in [Verdict::Fails, Verdict::Unknown, Verdict::Close] {
        let of: Vec<&Finding> = findings.iter().filter(|f| f.verdict == verdict).collect();
        if !of.is_empty() {
            rows.push(group(&format!("{} ({})", heading(verdict), of.len())));
            rows.extend(of.into_iter().map(|f| line(words, f)));
        }
    }
    pages.quiet(
        "Worst first, then in the order of the build document. \"Close\" is within a tenth of the limit. \
         The place is line and column of the document.",
    );
    let empty = match findings.is_empty() {
        true => "Nothing was judged",
        false => "Nothing fails, nothing is unknown, nothing is close to its limit",
    };
    pages.table(columns(), rows, empty);
    let kept: Vec<&Finding> = findings.iter().filter(|f| f.verdict == Verdict::Holds).collect();
    if !kept.is_empty() {
        pages.heading(&format!("{} ({})", heading(Verdict::Holds), kept.len()));
        holds(words, &kept, pages);
    }
}

/// What holds, a line for each rule.
fn holds(words: &Words<'_>, kept: &[&Finding], pages: &mut Pages) {
    let mut rules: BTreeMap<&str, Vec<&Finding>> = BTreeMap::new();
    for finding in kept {
        rules.entry(finding.code).or_default().push(finding);
    }
    pages.quiet(
        "A line for each rule, with the place that has least to spare. Every single check, in its own words, is \
         listed at the end of the workings.",
    );
    let measured = |places: &[&Finding]| places.iter().any(|f| f.value.is_some());
    let plain: Vec<String> = rules
        .iter()
        .filter(|(_, places)| !measured(places))
        .map(|(code, places)| format!("`{code}` {}", places.len()))
        .collect();
    let rows =
        rules.into_iter().filter(|(_, places)| measured(places)).map(|(code, places)| {
            let tightest = tightest(&places);
            row([
                Cell::new(code, Tone::Code),
                places.len().to_string().into(),
                words.quantity(tightest.value.as_ref()).into(),
                words.quantity(tightest.limit.as_ref()).into(),
                about(&tightest.about).into(),
                Cell::new(place(tightest.at), Tone::Quiet),
            ])
        });
    let columns = vec![
        narrow("Rule"),
        number("Places"),
        wide("Tightest", 1.0),
        wide("Limit", 1.0),
        wide("Where", 1.0),
        narrow("Place"),
    ];
    pages.small_table(columns, rows.collect(), "");
    if !plain.is_empty() {
        pages.text(Cell::from(format!(
            "Kept without a number to compare, each with the count of its places: {}.",
            plain.join(", ")
        )));
    }
}

/// The finding nearest to its limit, in parts of the limit; the first where none has numbers.
fn tightest<'a>(places: &[&'a Finding]) -> &'a Finding {
    let spare = |finding: &Finding| match (finding.value, finding.limit) {
        (Some(value), Some(limit)) if limit.value != 0.0 => {
            ((value.value - limit.value) / limit.value).abs()
        }
        (Some(value), Some(_)) => value.value.abs(),
        _ => f64::INFINITY,
    };
    let least = places.iter().min_by(|a, b| spare(a).total_cmp(&spare(b)));
    least.expect("a rule is listed for a finding")
}

/// Every check that holds, in its own words and small type.
pub(crate) fn every_kept(words: &Words<'_>, pages: &mut Pages) {
    let kept = words.plan.findings.iter().filter(|f| f.verdict == Verdict::Holds);
    let rows: Vec<Row> = kept
        .map(|f| {
            row([
                Cell::new(f.code, Tone::Code),
                sentence(&f.message).into(),
                Cell::new(place(f.at), Tone::Quiet),
            ])
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    pages.heading("Every check that holds");
    pages.small_table(vec![narrow("Rule"), wide("Finding", 1.0), narrow("Place")], rows, "");
}

fn heading(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fails => "Fails",
        Verdict::Unknown => "Cannot be judged yet",
        Verdict::Close => "Close to the limit",
        Verdict::Holds => "Holds",
    }
}

/// Columns of a table of findings.
pub(crate) fn columns() -> Vec<Column> {
    vec![
        narrow("Verdict"),
        wide("Finding", 3.4),
        wide("Value", 1.0),
        wide("Limit", 1.0),
        narrow("Place"),
    ]
}

/// One finding, with what to do and its code.
fn line(words: &Words<'_>, finding: &Finding) -> Row {
    let mut message = Cell::from(sentence(&finding.message));
    if let Some(hint) = &finding.hint {
        message = message.under(format!("To do: {}.", hint.trim_end_matches('.')));
    }
    cells(words, finding, message.under(Cell::new(finding.code, Tone::Code)))
}

/// One finding in its message alone.
pub(crate) fn brief(words: &Words<'_>, finding: &Finding) -> Row {
    cells(words, finding, Cell::from(sentence(&finding.message)))
}

fn cells(words: &Words<'_>, finding: &Finding, message: Cell) -> Row {
    let verdict = Cell::new(finding.verdict.word(), tone(finding.verdict));
    let place = Cell::new(place(finding.at), Tone::Quiet);
    if finding.value.is_none() && finding.limit.is_none() {
        // Nothing to compare, so the words take its room.
        return row([verdict, message.over(3), place]);
    }
    row([
        verdict,
        message,
        words.quantity(finding.value.as_ref()).into(),
        words.quantity(finding.limit.as_ref()).into(),
        place,
    ])
}

#[cfg(test)]
mod tests {
    use super::*;
    use physics::units::Dimension;
    use plan::finding::Place;

    #[test]
    fn the_tightest_is_nearest_to_its_own_limit() {
        let of = |value: f64, limit: f64| {
            let words = String::new();
            Finding::new("made-up", Verdict::Holds, Place::default(), "common-practice", words)
                .judged(value, limit, Dimension::Length)
        };
        let bare = Finding { value: None, limit: None, ..of(0.0, 0.0) };
        // Two at most and one at least; the last has half of its limit to spare.
        let all = [bare.clone(), of(10.0, 100.0), of(3.0, 5.0), of(3.0, 2.0)];
        let all: Vec<&Finding> = all.iter().collect();
        assert_eq!(tightest(&all).limit.map(|l| l.value), Some(5.0));
        assert_eq!(*tightest(&[&bare, &bare]), bare);
    }
}
