//! What the drive cannot do, how far the battery sags, what a log leaves open.

use physics::duty::ripple;
use physics::units::{Dimension, show, show_both};

use super::{Course, Driver, Missed};
use crate::finding::{Finding, Notes, Place, Quantity, Verdict, Worked};
use crate::given::build::Logged;

/// How far above the resonance the ripple must lie: at twice, a third of it flows in the cables (common practice).
pub const RESONANCE_APART: f64 = 2.0;

impl Driver<'_> {
    fn show(&self, value: f64, dimension: Dimension) -> String {
        show_both(value, dimension, self.parts.units)
    }

    pub(super) fn judge_torque(&self, missed: &[(String, Missed, usize)], notes: &mut Notes) {
        for (name, worst, count) in missed {
            let by = worst.by();
            let message = format!(
                "the drive falls short in {count} intervals of {name}: {} are asked at {} rev/min after {}, and {by} allows {}",
                self.show(worst.asked_nm, Dimension::Torque),
                physics::units::number(worst.speed_rpm, 0),
                show(worst.time_s, Dimension::Time, self.parts.units),
                self.show(worst.left_nm, Dimension::Torque),
            );
            notes.find(
                Finding::new("torque-reachable", Verdict::Fails, self.duty.at, "morimoto-1990", message)
                    .judged(worst.asked_nm, worst.left_nm, Dimension::Torque)
                    .hint("an easier drive, another gear or more voltage; the currents are those of the torque that is left"),
            );
        }
        if missed.is_empty() && self.drive.is_some() {
            notes.find(Finding::new(
                "torque-reachable",
                Verdict::Holds,
                self.duty.at,
                "morimoto-1990",
                "the drive gives every torque that is asked".to_owned(),
            ));
        }
    }

    pub(super) fn judge_speed(&self, course: &Course, notes: &mut Notes) {
        let Some(most) = self.parts.build.motor.as_ref().and_then(|m| m.speed_rpm_max.as_ref())
        else {
            return;
        };
        let rows = course.stretches.iter().flat_map(|s| &s.rows);
        let fastest = rows.map(|r| r.speed_rpm).fold(0.0, f64::max);
        // The case of the greatest speed stands at the limit by its making.
        let verdict =
            if fastest <= most.value * (1.0 + 1e-9) { Verdict::Holds } else { Verdict::Fails };
        let number = |rpm: f64| physics::units::number(rpm, 0);
        let message = format!(
            "the motor turns at {} rev/min, its limit is {} rev/min",
            number(fastest),
            number(most.value)
        );
        notes.find(
            Finding::new("speed-reachable", verdict, most.at, "common-practice", message)
                .judged(fastest, most.value, Dimension::Rotation),
        );
    }

    pub(super) fn judge_voltage(&self, course: &Course, notes: &mut Notes) {
        let Some(battery) = &self.parts.build.battery else { return };
        let Some(least) = &battery.voltage_v_min else { return };
        let rows = course.stretches.iter().flat_map(|s| &s.rows).filter(|r| 0.0 < r.dc_v);
        let lowest = rows.map(|r| r.dc_v).fold(f64::INFINITY, f64::min);
        if !lowest.is_finite() {
            return;
        }
        let message = format!(
            "the battery sags to {}, its least is {}",
            self.show(lowest, Dimension::Voltage),
            self.show(least.value, Dimension::Voltage)
        );
        notes.find(
            Finding::new(
                "voltage-sag",
                Verdict::at_least(lowest, least.value),
                least.at,
                "common-practice",
                message,
            )
            .judged(lowest, least.value, Dimension::Voltage),
        );
    }

    /// The link's ripple, and whether cables and capacitor swing with it.
    pub(super) fn judge_ripple(&self, course: &Course, notes: &mut Notes) {
        let q = Quantity::new;
        let rows = course.stretches.iter().flat_map(|s| &s.rows);
        let Some(worst) = rows.reduce(|a, b| if a.ripple_a >= b.ripple_a { a } else { b })
        else {
            return;
        };
        if worst.ripple_a <= 0.0 {
            return;
        }
        notes.work(Worked {
            what: "greatest ripple in the DC link".to_owned(),
            about: crate::finding::About::default(),
            value: q(worst.ripple_a, Dimension::Current),
            law: "Ic = I sqrt(2 M [sqrt 3 / (4 pi) + cos2 (sqrt 3 / pi - 9 M / 16)]), M = 2 u / Vdc",
            inputs: vec![
                ("I", q(worst.phase_a_rms, Dimension::Current)),
                ("Vdc", q(worst.dc_v, Dimension::Voltage)),
            ],
            source: "kolar-round-2006",
        });
        let build = self.parts.build;
        let carrier = build.motor.as_ref().and_then(|m| m.carrier_hz.as_ref());
        let link =
            build.protection.as_ref().map(|p| (&p.capacitance_f, &p.source_inductance_h));
        let (Some(carrier), Some((Some(farad), Some(henry)))) = (carrier, link) else { return };
        // The cables only add to the inductance, so the true resonance lies lower still.
        let resonance_hz = ripple::resonance_hz(henry.value, farad.value);
        let ripple_hz = 2.0 * carrier.value;
        let share = ripple::cable_share(ripple_hz, resonance_hz);
        let least_hz = RESONANCE_APART * resonance_hz;
        let in_cables = if least_hz <= ripple_hz {
            format!(
                ", and {} of it flow in the cables",
                self.show(share * worst.ripple_a, Dimension::Current)
            )
        } else {
            String::new()
        };
        let message = format!(
            "the link's ripple of {} at {} meets a resonance of battery and capacitor at {}{in_cables}",
            self.show(worst.ripple_a, Dimension::Current),
            self.show(ripple_hz, Dimension::Frequency),
            self.show(resonance_hz, Dimension::Frequency),
        );
        let mut finding = Finding::new(
            "link-resonance",
            Verdict::at_least(ripple_hz, least_hz),
            carrier.at,
            "kolar-round-2006",
            message,
        )
        .judged(ripple_hz, least_hz, Dimension::Frequency);
        if ripple_hz < least_hz {
            finding = finding.hint(
                "a higher carrier, more capacitance, or measure the current in the DC cables",
            );
        }
        notes.find(finding);
    }

    pub(super) fn judge_log(&self, at: Place, log: &Logged, notes: &mut Notes) {
        let longest = log.gaps.iter().copied().reduce(|a, b| if a.1 >= b.1 { a } else { b });
        if let Some((when, long)) = longest {
            let message = format!(
                "the log has {} longer than is bridged; the longest, after {}, is {}",
                match log.gaps.len() {
                    1 => "a gap".to_owned(),
                    n => format!("{n} gaps"),
                },
                show(when, Dimension::Time, self.parts.units),
                show(long, Dimension::Time, self.parts.units)
            );
            notes.find(
                Finding::new("log-gaps", Verdict::Unknown, at, "common-practice", message)
                    .hint(
                        "what flowed in a gap is not known: log again, or state a longer `gap`",
                    )
                    .safety(),
            );
        }
        if log.rows_bad > 0 {
            let message =
                format!("{} rows of the log hold no number and were left out", log.rows_bad);
            notes.find(Finding::new(
                "log-rows",
                Verdict::Close,
                at,
                "common-practice",
                message,
            ));
        }
    }

    pub(super) fn note_work(&self, course: &Course, notes: &mut Notes) {
        for stretch in course.stretches.iter().filter(|s| s.repeats) {
            let Some(work) = stretch.work else { continue };
            let per_km = |joule: f64| joule / 3.6 / work.distance_m;
            let q = Quantity::new;
            notes.work(Worked {
                what: format!("energy at the wheels over {}", stretch.name),
                about: crate::finding::About::default(),
                value: q(per_km(work.traction_j), Dimension::EnergyPerLength),
                law: "E = sum(F ds), F = A + B v + C v2 + (m + mr) a > 0",
                inputs: vec![
                    ("s", q(1000.0 * work.distance_m, Dimension::Length)),
                    ("P most", q(work.peak_w, Dimension::Power)),
                    ("m", q(self.vehicle.map_or(0.0, |v| v.mass_kg), Dimension::Mass)),
                ],
                source: "un-gtr-15",
            });
        }
    }
}
