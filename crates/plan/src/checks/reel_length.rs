//! A cable is no longer than a reel holds.
//!
//! A traction cable is not joined under way.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::{Check, Designed};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "reel-length",
    rule: "each cable is cut from one reel",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let reel_mm = designed.parts.shop.reel_mm;
    for run in designed.runs() {
        let Some(cut_mm) = run.cut.cut_mm else { continue };
        // A cut that takes the whole reel is a cut, so there is no coming close.
        let verdict = Verdict::kept(cut_mm <= reel_mm);
        let message = format!(
            "the cables of run {} are cut to {}, {} a reel of {}",
            run.id,
            designed.show(cut_mm, Dimension::Length),
            if verdict == Verdict::Fails { "more than" } else { "from" },
            designed.show(reel_mm, Dimension::Length),
        );
        let mut finding = check
            .finding(verdict, run.parts.run.id.at, message)
            .judged(cut_mm, reel_mm, Dimension::Length)
            .about(About::run(run.id));
        if verdict == Verdict::Fails {
            finding = finding.hint("order a longer reel and state it: `reel` under [workshop]");
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_car_length_holds() {
        holds("reel-length", "");
    }

    #[test]
    fn a_short_rest_of_a_reel_fails() {
        check(
            r#"
            [workshop]
            reel = "3 m"
            [run.dc]   #! fails reel-length
            "#,
        );
    }
}
