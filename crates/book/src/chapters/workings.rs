//! Each number with its law, its inputs and its source.

use draw::letters::typeset;
use physics::units::Dimension;
use plan::finding::Worked;

use super::findings;
use crate::model::{Cell, Pages, Row, Tone, group, narrow, row, wide};
use crate::words::{Words, about};

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let mut rows: Vec<Row> = Vec::new();
    let mut before = None;
    for worked in &words.plan.worked {
        let of = about(&worked.about);
        if before.as_ref() != Some(&of) {
            let title = if of.is_empty() { "The whole build" } else { of.as_str() };
            rows.push(group(title));
            before = Some(of);
        }
        let inputs = worked.inputs.iter().map(|(name, input)| {
            // In a formula a ratio is a plain number, not a percentage.
            let text = match input.dimension {
                Dimension::Ratio => format!("{name} = {}", plain_number(input.value)),
                _ => format!("{name} = {}", input.text(words.units)),
            };
            // A fraction keeps to its line as well.
            typeset(&text).replace(' ', "\u{a0}").replace('/', "/\u{2060}")
        });
        let inputs = inputs.collect::<Vec<_>>().join("; ");
        let law =
            Cell::new(squares(worked.law), Tone::Plain).under(Cell::new(inputs, Tone::Quiet));
        rows.push(row([
            worked.what.as_str().into(),
            Cell::new(value(words, worked), Tone::Strong),
            law,
            Cell::new(worked.source, Tone::Code),
        ]));
    }
    pages.small_table(
        vec![
            wide("Number", 1.5),
            wide("Value", 1.0),
            wide("Law and inputs", 2.6),
            narrow("Source"),
        ],
        rows,
        "Nothing was worked out",
    );
    findings::every_kept(words, pages);
}

/// A law as it is typed, with its squares set.
fn squares(law: &str) -> String {
    law.replace("^2", "²").replace("I2 R", "I² R")
}

/// The number itself; what is called a ratio is said as one, as the chapter Runs does.
fn value(words: &Words<'_>, worked: &Worked) -> String {
    if worked.value.dimension == Dimension::Ratio && worked.what.starts_with("ratio") {
        return plain_number(worked.value.value);
    }
    words.quantity(Some(&worked.value))
}

/// Four figures, without the zeros that say nothing.
fn plain_number(value: f64) -> String {
    let text =
        if value.abs() >= 1000.0 { format!("{value:.0}") } else { format!("{value:.4}") };
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
