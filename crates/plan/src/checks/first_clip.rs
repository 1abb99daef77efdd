//! The first clip is near the grip, so that no swing reaches the lug.
//!
//! Source: a code of practice for fixed wiring asks for a clip within 150 mm of a termination.

use physics::laws::clips::FIRST_CLIP_MM_MAX;
use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "first-clip",
    rule: "the first clip is at most 150 mm from the grip",
    source: "hk-code-of-practice-2009",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let limit = designed.show(FIRST_CLIP_MM_MAX, Dimension::Length);
    for run in designed.runs() {
        let about = About::run(run.id);
        let Some(stated) = &run.parts.run.first_clip_mm else {
            let message = format!("the first clip of run {} is not stated", run.id);
            notes.find(
                check
                    .finding(Verdict::Unknown, run.parts.run.id.at, message)
                    .hint(format!("no more than {limit} from the grip: `first-clip`"))
                    .about(about),
            );
            continue;
        };
        let verdict = Verdict::at_most(stated.value, FIRST_CLIP_MM_MAX);
        let message = format!(
            "the first clip of run {} is {} from the grip, {} the most of {limit}",
            run.id,
            designed.show(stated.value, Dimension::Length),
            below(verdict, stated.value, FIRST_CLIP_MM_MAX),
        );
        notes.find(
            check
                .finding(verdict, stated.at, message)
                .judged(stated.value, FIRST_CLIP_MM_MAX, Dimension::Length)
                .about(about),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_clip_near_the_grip_holds() {
        holds("first-clip", "");
    }

    #[test]
    fn a_free_hanging_start_fails() {
        check(
            r#"
            [run.dc]
            first-clip = "240 mm"   #! fails first-clip
            "#,
        );
    }
}
