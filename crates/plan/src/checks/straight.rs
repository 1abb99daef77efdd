//! A cable that goes straight on from its end for a while before it bends, whatever holds that end.
//!
//! Source: "cables are not allowed to be bent directly after the plug or the crimping area" read in a cable maker's
//! rules; one to two diameters from memory.

use physics::laws::bend::STRAIGHT_AFTER_END;
use physics::units::Dimension;

use super::Check;
use super::view::Side;
use crate::finding::{Finding, Verdict};
use crate::given::build::Maybe;

/// What holds the cable, and how the maker says how far it goes straight on.
pub(super) struct Start<'a> {
    /// The stated length.
    pub(super) given: &'a Maybe<f64>,
    /// Key of that length.
    pub(super) key: &'a str,
    /// "behind the lug".
    pub(super) where_: &'a str,
    /// What to measure from.
    pub(super) from: &'a str,
}

/// Whether the cable bends too soon; none where no cable is chosen.
pub(super) fn straight(check: &Check, side: &Side<'_>, start: &Start<'_>) -> Option<Finding> {
    let Start { given, key, where_, from } = start;
    let diameter_mm = side.site.cable?.diameter_mm_max;
    let (least_mm, good_mm) =
        (STRAIGHT_AFTER_END.0 * diameter_mm, STRAIGHT_AFTER_END.1 * diameter_mm);
    let at = side.site.at_end(given);
    let Some(stated) = given else {
        let message = format!(
            "straight length {where_} at {} is not known, {} are needed",
            side.port(),
            side.mm(least_mm)
        );
        let hint = format!(
            "measure along the cable from {from} to where its bend begins and state `{key}`"
        );
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint));
    };
    let verdict = if stated.value < least_mm {
        Verdict::Fails
    } else if stated.value < good_mm {
        Verdict::Close
    } else {
        Verdict::Holds
    };
    let message = format!(
        "the cable is straight for {} {where_} at {}, at least {} and better {}",
        side.mm(stated.value),
        side.port(),
        side.mm(least_mm),
        side.mm(good_mm)
    );
    Some(
        side.find(check, verdict, at, message)
            .judged(stated.value, least_mm, Dimension::Length)
            .hint("move the first bend away, or turn the entry towards where the cable goes"),
    )
}
