//! What is cut from which reel, in cutting order.

use crate::model::{Cell, Pages, Tone, group, narrow, row, wide};
use crate::words::{Words, count};

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let mut rows = Vec::new();
    for (i, reel) in words.plan.kit.cuts.iter().enumerate() {
        rows.push(group(&format!(
            "Reel {}: {}, {} long, {}, {} left",
            i + 1,
            words.part(&reel.cable),
            words.length(reel.reel_mm),
            count(reel.pieces.len(), "piece", "pieces"),
            words.length(reel.left_mm)
        )));
        for (name, mm) in &reel.pieces {
            rows.push(row([
                Cell::tick(),
                name.as_str().into(),
                Cell::new(words.length(*mm), Tone::Strong),
                "".into(),
            ]));
        }
    }
    pages.quiet("Mark both ends of every piece before it leaves the bench.");
    pages.table(
        vec![narrow(""), wide("Piece", 1.4), wide("Cut to", 1.0), wide("Cut by", 1.0)],
        rows,
        "Nothing to cut is settled",
    );
}
