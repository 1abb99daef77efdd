//! The plate's holes meet the housing's: every bolt has the play that drilling and survey may be off.
//!
//! A tenth of a millimetre for drilling, and three standard deviations of the hole's surveyed place. The distances are those of
//! the finished part.
//!
//! Source: clearance holes of ISO 273; the tenth is common practice, no source.

use super::view::plates;
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-fit",
    rule: "every bolt hole has 0.1 mm and three standard deviations of play around its bolt",
    source: "iso-273",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let at = fitted.at(&fitted.given.bolt);
        notes.findings.extend(fitted.proven(check, Rule::Fit, at));
        let (Some(bolts), Some(stated)) = (&fitted.plate.bolts, &fitted.given.bolt_count)
        else {
            continue;
        };
        if fitted.plate.laid.is_some() && bolts.count != stated.value {
            let message = format!(
                "the face of {} has {} bolt holes, `bolt-count` says {}",
                fitted.name(),
                bolts.count,
                stated.value
            );
            let found = fitted.find(check, Verdict::Fails, stated.at, message);
            notes.find(found.hint("count again, or leave `bolt-count` out"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::FACED;
    use super::super::view::seen::fails;

    #[test]
    fn stated_places_hold() {
        holds("plate-fit", FACED);
    }

    #[test]
    fn another_number_of_bolts_fails() {
        fails("plate-fit", "bolt-count", &format!("{FACED}bolt-count = 6\n"));
    }
}
