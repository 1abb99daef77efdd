//! Where the numbers come from, and which of them nobody read in a source.

use crate::model::{Cell, Pages, Tone, row, wide};
use crate::words::{Words, doubtful, standing};

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let plan = words.plan;
    let rows = plan.sources.iter().map(|source| {
        row([
            Cell::new(source.key.as_str(), Tone::Code),
            source.title.as_str().into(),
            source.seen.as_str().into(),
        ])
    });
    let rows = rows.collect();
    pages.table(
        vec![wide("Key", 1.0), wide("Source", 2.2), wide("How it was seen", 1.3)],
        rows,
        "No source is named",
    );
    let rows: Vec<_> = plan
        .kit
        .items
        .iter()
        .filter(|item| doubtful(item))
        .map(|item| {
            row([
                item.name.as_str().into(),
                Cell::new(standing(item.standing), Tone::Close),
                Cell::new(item.source.as_str(), Tone::Code),
            ])
        })
        .collect();
    if !rows.is_empty() {
        pages.minor("Parts whose values must be compared with their own sheet");
        let columns = vec![wide("Part", 1.8), wide("Standing", 1.6), wide("Source", 1.1)];
        pages.table(columns, rows, "");
    }
}
