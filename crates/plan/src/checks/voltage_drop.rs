//! The voltage lost in a run is no more than the build allows.
//!
//! The drop heats the cable instead of turning the wheels; the build says how much it may be. Where it
//! says nothing, nothing is judged.
//!
//! Source: Ohm's law; the limit is the maker's own.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "voltage-drop",
    rule: "the drop of a run at continuous current is at most `drop-max` of the system voltage",
    source: "iec-60364-5-52",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let volts = designed.parts.voltage_v.or(designed.parts.voltage_v_max);
    for run in designed.runs() {
        let Some(share) = &run.parts.run.drop_max else { continue };
        let about = About::run(run.id);
        let (Some(volts), Some(drop_v)) = (volts, run.size.drop_v) else {
            let (missing, hint) = match (volts, run.length.path_mm) {
                (None, _) => ("the system voltage", "state `voltage` under [system]"),
                (_, None) => ("the length", "measure the path: `length`"),
                _ => ("the heat", "state current, air and frequency"),
            };
            let id = run.id;
            let message = format!(
                "the voltage drop of run {id} cannot be judged: {missing} is not known"
            );
            let finding = check.finding(Verdict::Unknown, share.at, message);
            notes.find(finding.hint(hint).about(about));
            continue;
        };
        let limit_v = share.value * volts;
        let verdict = Verdict::at_most(drop_v, limit_v);
        let message = format!(
            "run {} drops {}, {} the {} allowed",
            run.id,
            designed.show(drop_v, Dimension::Voltage),
            below(verdict, drop_v, limit_v),
            designed.show(limit_v, Dimension::Voltage),
        );
        notes.find(
            check
                .finding(verdict, share.at, message)
                .judged(drop_v, limit_v, Dimension::Voltage)
                .about(about),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_short_run_holds() {
        holds("voltage-drop", "");
    }

    #[test]
    fn a_fixed_size_with_a_tight_limit_fails() {
        check(
            r#"
            [run.dc]
            conductor = "2/0 AWG"
            drop-max = "0.1 %"   #! fails voltage-drop
            "#,
        );
    }

    #[test]
    fn without_a_length_it_is_unknown() {
        check(
            r#"
            [run.dc]   #! unknown length-unknown
            length = absent
            drop-max = "1 %"   #! unknown voltage-drop
            [protection]   #! unknown fuse-clears
            "#,
        );
    }
}
