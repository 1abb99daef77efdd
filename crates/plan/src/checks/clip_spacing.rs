//! Clips are no farther apart than a cable in a vehicle bears.
//!
//! A longer span swings with the road, chafes, and works at lug and grip.
//!
//! Source: IEE/IET spacing of supports, at most 300 mm as is usual in vehicles (common practice).

use physics::laws::clips;
use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "clip-spacing",
    rule: "clips are at most 250 to 300 mm apart, by the cable's diameter",
    source: "iet-clips",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for run in designed.runs() {
        let Some(cable) = &run.size.cable else { continue };
        let limit_mm = clips::vehicle_spacing_mm_max(cable.diameter_mm());
        let about = About::run(run.id);
        let Some(stated) = &run.parts.run.clip_spacing_mm else {
            let message = format!("the spacing of the clips of run {} is not stated", run.id);
            let limit = designed.show(limit_mm, Dimension::Length);
            notes.find(
                check
                    .finding(Verdict::Unknown, run.parts.run.id.at, message)
                    .hint(format!("no more than {limit}: `clip-spacing`"))
                    .about(about),
            );
            continue;
        };
        let verdict = Verdict::at_most(stated.value, limit_mm);
        let message = format!(
            "the clips of run {} are {} apart, {} the most for this cable, {}",
            run.id,
            designed.show(stated.value, Dimension::Length),
            below(verdict, stated.value, limit_mm),
            designed.show(limit_mm, Dimension::Length),
        );
        notes.find(
            check
                .finding(verdict, stated.at, message)
                .judged(stated.value, limit_mm, Dimension::Length)
                .about(about),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, check, holds, merge, planned};
    use crate::finding::Verdict;

    #[test]
    fn close_clips_hold() {
        holds("clip-spacing", "");
    }

    #[test]
    fn clips_at_their_limit_are_said_to_be_there() {
        let patch = "[run.dc]\nclip-spacing = \"300 mm\"\n";
        let plan = planned(&merge(BASE, patch));
        let found = plan
            .findings
            .iter()
            .find(|f| f.code == "clip-spacing" && f.about.run.as_deref() == Some("dc"))
            .expect("judged");
        assert_eq!(found.verdict, Verdict::Close);
        assert!(
            found.message.contains("apart, at the most for this cable, 300.0 mm"),
            "{found:?}"
        );
    }

    #[test]
    fn a_clip_at_every_half_metre_fails() {
        check(
            r#"
            [run.phases]
            clip-spacing = "500 mm"   #! fails clip-spacing
            "#,
        );
    }

    #[test]
    fn unstated_clips_are_unknown() {
        check(
            r#"
            [run.dc]   #! unknown clip-spacing
            clip-spacing = absent
            "#,
        );
    }
}
