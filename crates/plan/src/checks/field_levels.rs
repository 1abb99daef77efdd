//! What the checks of the magnetic field share: one point against one set of published levels.

use physics::units::Dimension;

use super::view::percent;
use super::{Check, Designed, below};
use crate::design::field::Levels;
use crate::finding::{Notes, Verdict};

/// What lowers a field.
pub(super) const LOWER: &str = "more distance, cables closer together or in a triangle, or a measurement in the finished vehicle";

/// Judges every point against a set of levels.
pub(super) fn judge_levels(
    check: &Check,
    designed: &Designed<'_>,
    levels: Levels,
    notes: &mut Notes,
) {
    for point in designed.field {
        let share = point.share(levels);
        let judged = Verdict::at_most(share, 1.0);
        let known = point.is_known() || judged == Verdict::Fails;
        let verdict = if known { judged } else { Verdict::Unknown };
        let message = format!(
            "the magnetic field at {} is {}{}, {} the reference level of {}: alternating {} of it, standing {} of it",
            point.name,
            if known { "" } else { "at least " },
            percent(share),
            match verdict {
                Verdict::Unknown => "against",
                _ => below(verdict, share, 1.0),
            },
            levels.word(),
            percent(point.alternating(levels)),
            percent(point.standing(levels)),
        );
        let hint = if known { LOWER } else { "find out what is not known of this point" };
        notes.find(
            check
                .finding(verdict, point.at, message)
                .judged(share, 1.0, Dimension::Ratio)
                .hint(hint),
        );
    }
}
