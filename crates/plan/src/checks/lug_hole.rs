//! The bolt or stud goes through the lug's hole without rattling in it.
//!
//! Too small and it does not land; wider than the medium clearance hole and the palm's copper under the
//! head is missing. (A hole for 3/8 in takes M10, one for 5/16 in takes M8: by its width, not by its name.)
//!
//! Source: ISO 273, medium series.

use physics::units::Dimension;

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "lug-hole",
    rule: "the hole of the lug is wider than the thread and no wider than its medium clearance hole",
    source: "iso-273",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let (Some(lug), Some(thread)) = (&side.end.lug, side.site.thread()) else { continue };
        let rows = &designed.parts.shelf.holes;
        let row = rows.iter().find(|h| h.row.id == thread.designation());
        let most_mm = row.map_or(1.125 * thread.diameter_mm, |h| h.clearance_mm);
        let passes = lug.hole_mm > thread.diameter_mm;
        let snug = lug.hole_mm <= most_mm;
        let designation = thread.designation();
        let hole = side.mm(lug.hole_mm);
        let (message, limit) = if !passes {
            (
                format!("{designation} does not pass the lug's hole of {hole}"),
                thread.diameter_mm,
            )
        } else if !snug {
            let message = format!(
                "the lug's hole of {hole} is wider than {} for {designation}",
                side.mm(most_mm)
            );
            (message, most_mm)
        } else {
            (format!("{designation} passes the lug's hole of {hole}"), most_mm)
        };
        let at = match &side.site.given.given.lug {
            Some(lug) => lug.at,
            None => side.site.at_port(&side.site.port.port.thread),
        };
        notes.find(
            side.find(
                check,
                Verdict::kept(passes && snug),
                at,
                format!("{message} at {}", side.port()),
            )
            .judged(lug.hole_mm, limit, Dimension::Length)
            .hint(format!("take a lug for {designation}")),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::marked::{BASE, merge, planned};
    use crate::finding::Verdict;

    #[test]
    fn a_lug_for_the_thread_holds() {
        holds("lug-hole", "");
    }

    #[test]
    fn a_lug_for_another_stud_fails_either_way() {
        for (lug, word) in [("2/0 M6", "does not pass"), ("2/0 M12", "wider than")] {
            let text = merge(BASE, &format!("[run.phases.to-end]\nlug = \"{lug}\""));
            let plan = planned(&text);
            let found = plan
                .findings
                .iter()
                .find(|f| f.code == "lug-hole" && f.verdict == Verdict::Fails)
                .expect("a wrong hole fails");
            assert!(found.message.contains(word), "{}", found.message);
        }
    }
}
