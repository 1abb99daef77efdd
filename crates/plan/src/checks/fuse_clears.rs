//! Even the least fault melts the fuse as it should.
//!
//! A short at the far end, the cable hot, is the least fault. Below its least breaking current a fuse may
//! melt without clearing, and arc on.
//!
//! Source: least breaking current of the class (IEC 60269-4); Ohm's law for the fault.

use super::fuses::{Words, judge_demand};
use super::{Check, Designed, above};
use crate::design::fuse::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-clears",
    rule: "the fault current at the far end, cable hot, is at least what the fuse breaks by itself",
    source: "iec-60269-4",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |fuse, judged, show| {
            format!(
                "the least fault, {}, lies {} the least current that fuse {} breaks, {}",
                show(judged.value),
                above(judged.verdict, judged.value, judged.limit),
                fuse.row.id,
                show(judged.limit)
            )
        },
        unknown: "whether the fuse breaks the least fault",
        to_know: "state the resistance of the pack, and the length of the run: `source-resistance`, `length`",
        to_do: "a smaller fuse, a full-range class, or a thicker cable",
    };
    judge_demand(check, designed, Demand::Clears, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_fuse_chosen_holds() {
        holds("fuse-clears", "");
    }

    #[test]
    fn a_soft_pack_fails() {
        check(
            r#"
            [protection]
            fuse = "gR 250 A"   #! fails fuse-clears
            source-resistance = "1.2 ohm"
            "#,
        );
    }
}
