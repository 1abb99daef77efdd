//! The fuse breaks the greatest current the pack can drive.
//!
//! A short just behind the fuse has nothing but the pack in its loop. Above its breaking capacity a fuse bursts.
//!
//! Source: IEC 60269: breaking capacity at least the prospective current; Ohm's law for that.

use super::fuses::{Words, judge_demand};
use super::{Check, Designed, above};
use crate::design::fuse::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-breaking",
    rule: "the breaking capacity is at least the fault current at the fuse",
    source: "iec-60269-4",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |fuse, judged, show| {
            format!(
                "fuse {} breaks up to {}, {} the greatest fault, {}",
                fuse.row.id,
                show(judged.value),
                above(judged.verdict, judged.value, judged.limit),
                show(judged.limit)
            )
        },
        unknown: "whether the fuse breaks the greatest fault",
        to_know: "state the resistance of the pack with its leads: `source-resistance`; its maker's sheet or a load step measures it",
        to_do: "a fuse of a higher breaking capacity",
    };
    judge_demand(check, designed, Demand::Breaking, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_fuse_chosen_holds() {
        holds("fuse-breaking", "");
    }

    #[test]
    fn a_stiff_pack_fails() {
        check(
            r#"
            [protection]
            fuse = "gR 250 A"   #! fails fuse-breaking
            contactor = "contactor-450 500 A"
            source-resistance = "7 mohm"
            "#,
        );
    }

    #[test]
    fn an_unknown_pack_keeps_the_book_back() {
        check(
            r#"
            [protection]
            fuse = "gR 250 A"   #! unknown fuse-breaking; unknown fuse-clears
            source-resistance = absent
            "#,
        );
    }
}
