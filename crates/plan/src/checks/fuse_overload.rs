//! The fuse keeps the cable from overload, or something else must.
//!
//! A fuse rated above what the cable carries for ever lets the cable overheat for hours. A class for short
//! circuits only (letter a) never breaks an overload at all: then the battery's control has to open the contactors.
//!
//! Source: IEC 60269 for the letters of the classes; a rating at most that of the cable as in IEC 60364-4-43
//! (memory).

use super::fuses::{Words, judge_demand};
use super::{Check, Designed, below};
use crate::design::fuse::{Demand, breaks_overload};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "fuse-overload",
    rule: "a full-range fuse is rated at most what the cable carries for ever where it lies",
    source: "iec-60269-4",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let words = Words {
        says: |fuse, judged, show| match judged.verdict {
            Verdict::Unknown => format!(
                "fuse {} does not break overloads: what opens the circuit above {} is not known",
                fuse.row.id,
                show(judged.limit)
            ),
            _ if !breaks_overload(fuse) => format!(
                "fuse {} does not break overloads: the battery's control is stated to",
                fuse.row.id
            ),
            verdict => format!(
                "fuse {} is rated {}, {} what the cable carries for ever where it lies, {}",
                fuse.row.id,
                show(judged.value),
                below(verdict, judged.value, judged.limit),
                show(judged.limit)
            ),
        },
        unknown: "whether the fuse keeps the cable from overload",
        to_know: "state current and air of the run, so that its rating is known",
        to_do: "a smaller fuse, a thicker cable, or a current limit in the battery's control that opens the contactors",
    };
    judge_demand(check, designed, Demand::Overload, &words, notes);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_fuse_chosen_holds() {
        holds("fuse-overload", "");
    }

    #[test]
    fn a_fuse_larger_than_the_cable_fails() {
        check(
            r#"
            [protection]
            fuse = "gR 400 A"   #! fails fuse-overload
            "#,
        );
    }

    #[test]
    fn a_short_circuit_class_leaves_it_open() {
        check(
            r#"
            [protection]   #! unknown contactor-breaks
            fuse = "aR 350 A"   #! unknown fuse-overload; unknown overload-limit
            trip-current = absent
            "#,
        );
    }

    #[test]
    fn a_stated_control_closes_it() {
        holds("fuse-overload", "[protection]\nfuse = \"aR 350 A\"");
    }
}
