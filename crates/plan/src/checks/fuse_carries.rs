//! The fuse carries the continuous current where it sits.
//!
//! Overloaded without melting it ages, and opens one day on the road. Heat around it takes from its rating.
//!
//! Source: ambient factor of a guide to semiconductor fuses; 80 % load of bolt-in fuses is common practice.

use super::fuses::{Words, judge_demand};
use super::{Check, Designed, above};
use crate::design::fuse::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-carries",
    rule: "rating x ambient factor x load share is at least the continuous current",
    source: "fuse-guide",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |fuse, judged, show| {
            format!(
                "fuse {} carries {} where it sits, {} the continuous {}",
                fuse.row.id,
                show(judged.limit),
                above(judged.verdict, judged.value, judged.limit),
                show(judged.value)
            )
        },
        unknown: "whether the fuse carries the continuous current",
        to_know: "state the current of the run and the air around the fuse: `current`, `fuse-air`",
        to_do: "a larger fuse, or a cooler place for it",
    };
    judge_demand(check, designed, Demand::Carries, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_fuse_chosen_holds() {
        holds("fuse-carries", "");
    }

    #[test]
    fn a_fuse_too_small_fails() {
        check(
            r#"
            [protection]
            fuse = "gR 200 A"   #! fails fuse-carries; fails fuse-peak; fails fuse-duty
            "#,
        );
    }

    #[test]
    fn hot_air_around_it_fails() {
        check(
            r#"
            [protection]
            fuse = "gR 250 A"   #! fails fuse-carries; fails fuse-duty
            fuse-air = "85 degC"
            "#,
        );
    }
}
