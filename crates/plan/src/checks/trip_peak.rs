//! The control does not open the contactors in what the vehicle is built to do.
//!
//! A trip on a hill is a car dead on a hill, and contacts opened under load again and again.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::{Check, Designed, below};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "trip-peak",
    rule: "no load that lasts as long as the trip takes is above its current",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let Some((given, protected)) = designed.protected() else { return };
    // Without a trip `overload-limit` says what is missing, if anything.
    let (Some(trip), Some(sheet)) = (protected.trip, &protected.coordination) else { return };
    let at = given.trip_a.as_ref().map_or(given.at, |t| t.at);
    let lasting = sheet.loads.iter().filter(|l| trip.seconds <= l.seconds);
    let Some(load) = lasting.max_by(|a, b| a.rms_a.total_cmp(&b.rms_a)) else { return };
    let verdict = Verdict::at_most(load.rms_a, trip.current_a);
    let message = format!(
        "{} for {} lie {} the {} at which the control opens",
        designed.show(load.rms_a, Dimension::Current),
        designed.show(load.seconds, Dimension::Time),
        below(verdict, load.rms_a, trip.current_a),
        designed.show(trip.current_a, Dimension::Current),
    );
    let mut finding = check
        .finding(verdict, at, message)
        .judged(load.rms_a, trip.current_a, Dimension::Current)
        .about(About::run(&protected.run));
    if verdict == Verdict::Fails {
        finding =
            finding.hint("a higher `trip-current`, or a limit of the drive's own below it");
    }
    notes.find(finding);
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_control_of_the_base_bears_its_peak() {
        holds("trip-peak", "");
    }

    #[test]
    fn a_trip_below_the_peak_fails() {
        check(
            r#"
            [protection]
            trip-current = "220 A"   #! fails trip-peak
            "#,
        );
    }

    #[test]
    fn a_peak_shorter_than_the_trip_passes() {
        // Half a minute of 260 A does not trip what waits a minute; the 214 A for ever must stay below.
        holds("trip-peak", "[protection]\ntrip-current = \"220 A\"\ntrip-time = \"1 min\"");
    }
}
