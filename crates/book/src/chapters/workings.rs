//! Each number with its law, its inputs and its source.

use crate::model::{Cell, Pages, Row, Tone, group, row, wide};
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
        let mut law = Cell::new(worked.law, Tone::Plain);
        for (name, input) in &worked.inputs {
            let text = format!("{name} = {}", input.text(words.units));
            law = law.under(Cell::new(text, Tone::Quiet));
        }
        rows.push(row([
            worked.what.as_str().into(),
            Cell::new(words.quantity(Some(&worked.value)), Tone::Strong),
            law,
            Cell::new(worked.source, Tone::Code),
        ]));
    }
    pages.table(
        vec![
            wide("Number", 1.4),
            wide("Value", 1.0),
            wide("Law and inputs", 2.2),
            wide("Source", 1.1),
        ],
        rows,
        "Nothing was worked out",
    );
}
