//! All findings, worst first, in the words of the terminal and the bench.

use plan::finding::{Finding, Verdict};

use crate::model::{Cell, Column, Pages, Row, Tone, group, narrow, row, wide};
use crate::words::{Words, sentence, tone};

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let findings = &words.plan.findings;
    let mut rows = Vec::new();
    for verdict in [Verdict::Fails, Verdict::Unknown, Verdict::Close, Verdict::Holds] {
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
    pages.table(columns(), rows, "Nothing was judged");
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

/// One finding, with what to do and its code. What is kept takes as little room as it can.
fn line(words: &Words<'_>, finding: &Finding) -> Row {
    if finding.verdict == Verdict::Holds {
        let message = format!("{} `{}`", sentence(&finding.message), finding.code);
        return cells(words, finding, Cell::from(message));
    }
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
    let place = if finding.at.line == 0 {
        String::new()
    } else {
        format!("{}:{}", finding.at.line, finding.at.column)
    };
    row([
        Cell::new(finding.verdict.word(), tone(finding.verdict)),
        message,
        words.quantity(finding.value.as_ref()).into(),
        words.quantity(finding.limit.as_ref()).into(),
        Cell::new(place, Tone::Quiet),
    ])
}
