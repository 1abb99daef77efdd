//! The fuse is rated for the highest DC voltage.
//!
//! Above its rating the arc does not go out: the fuse burns instead of breaking. An AC rating does not count.
//!
//! Source: IEC 60269 (memory): the rated voltage is at least the highest working voltage.

use super::fuses::{Words, judge_demand};
use super::{Check, Designed, above};
use crate::design::fuse::Demand;
use crate::finding::Notes;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-voltage",
    rule: "the rated DC voltage of the fuse is at least the highest working voltage",
    source: "iec-60269-4",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |fuse, judged, show| {
            format!(
                "fuse {} is rated {} DC, {} the highest voltage, {}",
                fuse.row.id,
                show(judged.value),
                above(judged.verdict, judged.value, judged.limit),
                show(judged.limit)
            )
        },
        unknown: "whether the fuse bears the voltage",
        to_know: "take the fully charged voltage of the battery: `voltage-max`",
        to_do: "a fuse for a higher DC voltage",
    };
    judge_demand(check, designed, Demand::Voltage, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_fuse_chosen_holds() {
        holds("fuse-voltage", "");
    }

    #[test]
    fn a_fuse_for_less_fails() {
        check(
            r#"
            [system]
            voltage-max = "720 V"
            [protection]
            discharge-time = "12 s"
            fuse = "gR 250 A"   #! fails fuse-voltage
            contactor = "contactor-900 250 A"
            discharge-power = "200 W"
            isolation-alarm = "450 kohm"
            "#,
        );
    }
}
