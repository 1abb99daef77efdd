//! A stated conductor limit is not above that of the cable.
//!
//! The lower of the two counts; a higher one is a wish, or a slip of the unit.
//!
//! Source: temperature classes of ISO 6722-1 and ISO 19642.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "limit-above-cable",
    rule: "`limit` is at most the conductor temperature the cable is made for",
    source: "iso-19642",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let (Some(stated), Some(cable)) = (&run.parts.run.limit_c, &run.size.cable) else {
            continue;
        };
        let verdict = Verdict::kept(stated.value <= cable.limit_c);
        let message = format!(
            "the limit stated for run {}, {}, is {} that of the cable, {}",
            run.id,
            designed.show(stated.value, Dimension::Temperature),
            below(verdict, stated.value, cable.limit_c),
            designed.show(cable.limit_c, Dimension::Temperature),
        );
        let mut finding = check
            .finding(verdict, stated.at, message)
            .judged(stated.value, cable.limit_c, Dimension::Temperature)
            .about(About::run(run.id));
        if verdict == Verdict::Fails {
            finding =
                finding.hint("take a cable of a higher class; the cable's own limit is used");
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_lower_limit_holds() {
        holds("limit-above-cable", "");
    }

    #[test]
    fn a_wish_fails() {
        check(
            r#"
            [run.dc]
            conductor = "2/0 AWG"
            limit = "180 degC"   #! fails limit-above-cable
            "#,
        );
    }
}
