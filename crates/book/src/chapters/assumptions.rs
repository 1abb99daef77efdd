//! What the build left out and the program filled in, aloud.

use crate::model::{Cell, Pages, Tone, row, wide};
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let rows = words.plan.assumed.iter().map(|assumed| {
        row([
            assumed.what.as_str().into(),
            Cell::new(assumed.value.as_str(), Tone::Strong),
            assumed.why.as_str().into(),
            Cell::new(assumed.key.as_str(), Tone::Code),
        ])
    });
    let rows = rows.collect();
    pages.table(
        vec![
            wide("What", 1.4),
            wide("Taken as", 0.9),
            wide("Why", 1.8),
            wide("State it in the build as", 1.2),
        ],
        rows,
        "Nothing was assumed",
    );
}
