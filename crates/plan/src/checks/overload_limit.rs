//! An overload ends before it has aged the cable: by a fuse that may be trusted with it, or by the control.
//!
//! A fuse for cables ends within the hour what is 1.45 times the cable's rating. A fuse for semiconductors is made to
//! be fast at a short, and its rating says nothing of an hour: then the battery's control has to open the contactors,
//! at a current no higher, and sooner than the cable is hurt by whatever the fuse leaves to it.
//!
//! Source: IEC 60364-4-43: I2 at most 1.45 Iz (memory).

use physics::laws::withstand::ENDS_OVERLOAD;
use physics::units::Dimension;

use super::fuses::{Fused, fused};
use super::{Check, Designed, below};
use crate::design::fuse::for_cables;
use crate::finding::{Finding, Notes, Verdict};
use crate::given::shelf::Fuse;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "overload-limit",
    rule: "what ends an overload, a fuse for cables or the control, does so at no more than 1.45 times the rating of the cable",
    source: "iec-60364-4-43",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for circuit in fused(designed) {
        let (Some(fuse), Some(rating_a)) = (circuit.fuse, circuit.asked.cable_rating_a) else {
            // `fuse-chosen` and `fuse-overload` say what is missing.
            continue;
        };
        let finding = match for_cables(fuse) {
            true => by_fuse(check, designed, &circuit, fuse, rating_a),
            false => by_control(check, designed, &circuit, fuse, rating_a),
        };
        notes.find(finding);
    }
}

fn by_fuse(
    check: &Check,
    designed: &Designed<'_>,
    circuit: &Fused<'_>,
    fuse: &Fuse,
    rating_a: f64,
) -> Finding {
    let (value, limit) = (fuse.breaking_a_min, ENDS_OVERLOAD * rating_a);
    // The rule is itself the margin.
    let verdict = Verdict::kept(value <= limit * (1.0 + 1e-9));
    let message = format!(
        "fuse {} ends an overload of {}, {} the {} its cable may see for an hour",
        fuse.row.id,
        designed.show(value, Dimension::Current),
        below(verdict, value, limit),
        designed.show(limit, Dimension::Current),
    );
    let finding = circuit.finding(check, verdict, &message);
    finding.judged(value, limit, Dimension::Current).hint("a smaller fuse, or a thicker cable")
}

fn by_control(
    check: &Check,
    designed: &Designed<'_>,
    circuit: &Fused<'_>,
    fuse: &Fuse,
    rating_a: f64,
) -> Finding {
    let limit_a = ENDS_OVERLOAD * rating_a;
    let amperes = |a| designed.show(a, Dimension::Current);
    let Some(sheet) = circuit.coordination.filter(|c| c.trip.is_some()) else {
        let message = format!(
            "what ends an overload is not known: fuse {} is none for cables, its rating does not promise it",
            fuse.row.id
        );
        let hint = match circuit.is_main {
            true => format!(
                "state what the battery's control does: `trip-current`, at most {}, and `trip-time`",
                amperes(limit_a)
            ),
            false => {
                "take a fuse for cables, or state a load that cannot draw more and its proof"
                    .to_owned()
            }
        };
        return circuit.finding(check, Verdict::Unknown, &message).hint(hint).safety();
    };
    let trip = sheet.trip.expect("filtered");
    let bears_s = sheet.guard.as_ref().and_then(|g| Some((g.from_a?, g.from_bears_s?)));
    if let Some((from_a, bears_s)) = bears_s
        && trip.current_a <= limit_a
        && bears_s < trip.seconds
    {
        let time = |s| designed.show(s, Dimension::Time);
        let message = format!(
            "the control opens after {}, but the cable bears the {} below which the fuse is slower for {} only",
            time(trip.seconds),
            amperes(from_a),
            time(bears_s),
        );
        return circuit
            .finding(check, Verdict::Fails, &message)
            .judged(trip.seconds, bears_s, Dimension::Time)
            .hint("a control that opens sooner: `trip-time`");
    }
    let verdict = Verdict::kept(trip.current_a <= limit_a);
    let message = format!(
        "the control opens at {}, {} the {} the cable may see for an hour, and sooner than the cable is hurt",
        amperes(trip.current_a),
        below(verdict, trip.current_a, limit_a),
        amperes(limit_a),
    );
    let message = match verdict {
        Verdict::Fails => message.replace(", and sooner than the cable is hurt", ""),
        _ => message,
    };
    circuit
        .finding(check, verdict, &message)
        .judged(trip.current_a, limit_a, Dimension::Current)
        .hint("a lower `trip-current`, or a thicker cable")
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds, verdicts};
    use crate::finding::Verdict;

    #[test]
    fn the_control_of_the_base_holds() {
        holds("overload-limit", "");
    }

    #[test]
    fn a_high_trip_fails() {
        assert_eq!(
            verdicts("overload-limit", "[protection]\ntrip-current = \"800 A\""),
            [Verdict::Fails]
        );
    }

    #[test]
    fn a_slow_control_fails() {
        assert_eq!(
            verdicts("overload-limit", "[protection]\ntrip-time = \"40 min\""),
            [Verdict::Fails]
        );
    }

    #[test]
    fn without_a_control_it_keeps_the_book_back() {
        check(
            r#"
            [protection]   #! unknown overload-limit; unknown contactor-breaks
            trip-current = absent
            trip-time = absent
            "#,
        );
    }

    #[test]
    fn a_fuse_for_cables_needs_no_control() {
        let patch =
            "[protection]\nfuse = \"gPV 250 A\"\ntrip-current = absent\ntrip-time = absent";
        assert_eq!(verdicts("overload-limit", patch), [Verdict::Holds]);
    }
}
