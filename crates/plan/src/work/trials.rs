//! Tests of the made-up cabling, each with its limit.

use super::keys::slug;
use super::kit::spoken;
use crate::design::cuts::RunCut;
use crate::design::ends::End;
use crate::design::plates::Plate;
use crate::design::protect::Protected;
use crate::design::settle::{Heat, SizedRun};
use crate::finding::{About, Quantity};
use crate::given::build::Carries;
use crate::given::parts::{Parts, RunParts};
use physics::laws::contact;
use physics::laws::isolation::{self, Bus};
use physics::units::{Dimension, System, show, show_both};

/// One test.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// Kebab-case id.
    pub id: String,
    /// What is measured.
    pub what: String,
    /// How to connect and read.
    pub connect: String,
    /// When: before or after fitting.
    pub when: When,
    /// What it is about.
    pub about: About,
    /// Whether the reading must be at most or at least the limit; a trial without a number is seen or not.
    pub limit: Limit,
    /// Where the limit comes from: source key.
    pub source: &'static str,
    /// Caution, where it can hurt.
    pub caution: Option<String>,
}

/// The limit of a trial.
#[derive(Clone, Debug, PartialEq)]
pub enum Limit {
    /// At most this.
    AtMost(Quantity),
    /// At least this.
    AtLeast(Quantity),
    /// Between these.
    Between(Quantity, Quantity),
    /// To be seen: "U to U only, nothing to V, W or chassis".
    Seen(String),
    /// Cannot be computed because something is unknown: what.
    Unknown(String),
}

/// When a trial is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum When {
    /// On the bench, with the made-up cable.
    Bench,
    /// Laid along its way, before any end is landed.
    Laid,
    /// Fitted, before energising.
    Fitted,
    /// At pre-charge and first energising.
    FirstPower,
    /// First spin and first drive.
    FirstDrive,
}

/// Requires the trials, in the order they are done.
pub fn require(
    parts: &Parts<'_>,
    sizes: &[SizedRun],
    cuts: &[RunCut],
    ends: &[End],
    plates: &[Plate],
    protection: Option<&Protected>,
) -> Vec<Trial> {
    let mut trials = Vec::new();
    for ((run, sized), cut) in parts.runs.iter().zip(sizes).zip(cuts) {
        for cable in &run.cables {
            trials.push(resistance(run, &cable.from, sized, cut));
        }
        trials.extend(spread(run, sized, cut));
    }
    for run in &parts.runs {
        trials.extend(identity(parts, run));
    }
    for run in &parts.runs {
        trials.push(insulation(parts, run, protection));
    }
    let mut ports: Vec<&str> = Vec::new();
    for end in ends {
        if !ports.contains(&end.port.as_str()) {
            ports.push(&end.port);
        }
    }
    for port in ports {
        trials.push(marked(port));
        if let Some(plate) = plates.iter().find(|p| p.port == port) {
            trials.push(bonding(port));
            trials.extend(plate.seal.as_ref().map(|_| gap(port)));
        }
    }
    if let Some(protected) = protection {
        trials.extend(precharge(parts, protected));
        trials.extend(discharge(parts, protected));
    }
    for (run, sized) in parts.runs.iter().zip(sizes) {
        if run.carries == Carries::Phases {
            trials.push(first_spin(run));
        }
        trials.extend(sized.heat.as_ref().and_then(|heat| warm(run, heat)));
    }
    trials
}

fn trial(id: String, when: When, source: &'static str, limit: Limit) -> Trial {
    Trial {
        id,
        what: String::new(),
        connect: String::new(),
        when,
        about: About::default(),
        limit,
        source,
        caution: None,
    }
}

/// Lug to lug: the conductor's largest resistance over the made length, and for each crimp no more than
/// two inches of its own cable (as boat builders require of a terminal; memory).
fn resistance(run: &RunParts<'_>, cable: &str, sized: &SizedRun, cut: &RunCut) -> Trial {
    let id = &run.run.id.value;
    let limit = match (&sized.cable, cut.made_mm) {
        (Some(row), Some(made_mm)) => {
            // R = R20 l + 2 R_crimp
            let metal_ohm = row.resistance_ohm_per_km * made_mm / 1e6;
            let crimps_ohm = 2.0 * contact::drop_rule_ohm(row.resistance_ohm_per_km);
            Limit::AtMost(Quantity::new(metal_ohm + crimps_ohm, Dimension::Resistance))
        }
        (None, _) => Limit::Unknown("no cable is chosen".to_owned()),
        (_, None) => Limit::Unknown("the made length is not known".to_owned()),
    };
    Trial {
        what: format!("Resistance of {id} {cable}, lug to lug, at 20 degC"),
        connect: "Four-wire, current at the palms, voltage at the palms inside the current; note the \
                  cable's temperature T in degC and multiply the reading by 254.5 / (234.5 + T)"
            .to_owned(),
        about: About::cable(id, cable),
        ..trial(slug(&[id, cable, "resistance"]), When::Bench, "iec-60228", limit)
    }
}

/// Equal cables differ by what their crimps and their cutting may differ.
fn spread(run: &RunParts<'_>, sized: &SizedRun, cut: &RunCut) -> Option<Trial> {
    if run.cables.len() < 2 {
        return None;
    }
    let id = &run.run.id.value;
    let row = sized.cable.as_ref()?;
    cut.cut_mm?;
    let crimps_ohm = 2.0 * contact::drop_rule_ohm(row.resistance_ohm_per_km);
    let limit = Limit::AtMost(Quantity::new(crimps_ohm, Dimension::Resistance));
    Some(Trial {
        what: format!("Largest less smallest resistance of the cables of {id}"),
        connect: "From the readings above, all at the same temperature".to_owned(),
        about: About::run(id),
        ..trial(slug(&[id, "spread"]), When::Bench, "common-practice", limit)
    })
}

/// Every pair of ends is tried, so that any swap shows in at least two readings.
fn identity(parts: &Parts<'_>, run: &RunParts<'_>) -> Option<Trial> {
    if run.cables.is_empty() {
        return None;
    }
    let id = &run.run.id.value;
    let [from, to] = [run.from, run.to].map(|port| spoken(&parts.ports[port].name));
    let mut seen = Vec::new();
    for a in &run.cables {
        for b in &run.cables {
            let state = if a == b { "closed" } else { "open" };
            seen.push(format!("{}-{} {state}", a.from, b.to));
        }
    }
    Some(Trial {
        what: format!("Identity of the cables of {id}"),
        connect: format!(
            "Continuity from each lug at {from} to each lug at {to}, before either end is landed; \
             all of them, not only the pairs that should be closed"
        ),
        about: About::run(id),
        ..trial(
            slug(&[id, "identity"]),
            When::Laid,
            "common-practice",
            Limit::Seen(seen.join(", ")),
        )
    })
}

fn insulation(parts: &Parts<'_>, run: &RunParts<'_>, protection: Option<&Protected>) -> Trial {
    let id = &run.run.id.value;
    let stated = protection.and_then(|p| p.isolation_ohm).or_else(|| {
        // Buses joined through an inverter are held to the AC value.
        parts.voltage_v_max.map(|v| isolation::least_resistance_ohm(v, Bus::Joined))
    });
    let limit = stated.map_or_else(
        || Limit::Unknown("system.voltage-max is not stated".to_owned()),
        |ohm| Limit::AtLeast(Quantity::new(ohm, Dimension::Resistance)),
    );
    let volts = parts.voltage_v_max.and_then(isolation::test_voltage_v).map_or_else(
        || "the test voltage".to_owned(),
        |v| show(v, Dimension::Voltage, System::Metric),
    );
    Trial {
        what: format!("Insulation of {id} to chassis, and between its cables"),
        connect: format!(
            "{volts} DC for one minute, electronics disconnected or as their makers allow; \
             dry new cable usually reads far above the limit"
        ),
        about: About::run(id),
        caution: Some(
            "The tester's voltage can hurt and the cable stays charged: discharge it after each reading"
                .to_owned(),
        ),
        ..trial(slug(&[id, "insulation"]), When::Fitted, "un-r100", limit)
    }
}

fn bonding(port: &str) -> Trial {
    let limit = Limit::AtMost(Quantity::new(BOND_OHM_MAX, Dimension::Resistance));
    Trial {
        what: format!("Bond of the plate of {} to chassis", spoken(port)),
        connect:
            "Four-wire, at least 0.2 A, from bare metal of the plate to the chassis ground"
                .to_owned(),
        about: About::port(port),
        ..trial(slug(&[port, "bond"]), When::Fitted, "un-r100", limit)
    }
}

fn marked(port: &str) -> Trial {
    Trial {
        what: format!("Every bolt of {} torqued and marked", spoken(port)),
        connect: "Look, with the steps beside you; do not torque again".to_owned(),
        about: About::port(port),
        ..trial(
            slug(&[port, "marked"]),
            When::Fitted,
            "common-practice",
            Limit::Seen("a paint line over each head and its seat".to_owned()),
        )
    }
}

fn gap(port: &str) -> Trial {
    Trial {
        what: format!("Seat of the plate of {}", spoken(port)),
        connect: "All round, with a lamp".to_owned(),
        about: About::port(port),
        ..trial(
            slug(&[port, "seat"]),
            When::Fitted,
            "common-practice",
            Limit::Seen("no gap between plate and housing".to_owned()),
        )
    }
}

fn precharge(parts: &Parts<'_>, protected: &Protected) -> Option<Trial> {
    let precharge = protected.precharge.as_ref()?;
    let volts = parts.voltage_v.or(parts.voltage_v_max)?;
    let highest = parts.voltage_v_max.unwrap_or(volts);
    // The share reached does not depend on the voltage, so the reading scales with the pack's.
    let share = 1.0 - precharge.left_v / highest;
    let limit = Limit::AtLeast(Quantity::new(volts * share, Dimension::Voltage));
    Some(Trial {
        what: format!(
            "Link voltage {} after pre-charge begins",
            show(precharge.close_s, Dimension::Time, System::Metric)
        ),
        connect: format!(
            "Meter or log across the link, main contactor held open; the limit is for {} at the pack",
            show(volts, Dimension::Voltage, System::Metric)
        ),
        about: About::run(&protected.run),
        caution: Some(LIVE.to_owned()),
        ..trial("precharge".to_owned(), When::FirstPower, "computed", limit)
    })
}

fn discharge(parts: &Parts<'_>, protected: &Protected) -> Option<Trial> {
    let seconds = protected.discharge_s?;
    let given = parts.build.protection.as_ref().and_then(|p| p.discharge_s.as_ref());
    let limit_s = given.map_or(seconds, |g| g.value);
    Some(Trial {
        what: "Time until the link is under 60 V".to_owned(),
        connect: "Open the contactors, watch the link's voltage and a clock".to_owned(),
        about: About::run(&protected.run),
        caution: Some(LIVE.to_owned()),
        ..trial(
            "discharge".to_owned(),
            When::FirstPower,
            "iso-6469-4",
            Limit::AtMost(Quantity::new(limit_s, Dimension::Time)),
        )
    })
}

fn first_spin(run: &RunParts<'_>) -> Trial {
    let id = &run.run.id.value;
    Trial {
        what: "First spin, wheels off the ground".to_owned(),
        connect: "Least torque the drive allows, forward then reverse".to_owned(),
        about: About::run(id),
        caution: Some("Hair, sleeves and hands away from everything that turns".to_owned()),
        ..trial(
            slug(&[id, "spin"]),
            When::FirstDrive,
            "common-practice",
            Limit::Seen("turns the right way, evenly, without a fault code".to_owned()),
        )
    }
}

/// The computed surface temperature is what the driver should find; a hotter place is a bad joint.
fn warm(run: &RunParts<'_>, heat: &Heat) -> Option<Trial> {
    let id = &run.run.id.value;
    let surface_c = heat.surface_c?;
    Some(Trial {
        what: format!("Hottest place of {id}, cable and lugs"),
        connect: format!(
            "Thermal indicator or camera after half an hour at {} in air of {}; at less current or \
             cooler air the limit is lower",
            show(heat.current_a_rms, Dimension::Current, System::Metric),
            show_both(heat.air_c, Dimension::Temperature, System::Metric)
        ),
        about: About::cable(id, &heat.cable),
        ..trial(
            slug(&[id, "warm"]),
            When::FirstDrive,
            "computed",
            Limit::AtMost(Quantity::new(surface_c, Dimension::Temperature)),
        )
    })
}

/// Largest resistance between an exposed conductive part and the chassis (UN R100, 5.1.2.2).
const BOND_OHM_MAX: f64 = 0.1;
const LIVE: &str =
    "The cabling is live: covers on, no hand inside, a second person at the disconnect";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::marked::{BASE, planned};

    #[test]
    fn any_swap_changes_two_readings_of_the_identity_matrix() {
        let plan = planned(BASE);
        let run = plan.runs.iter().find(|r| r.cables.len() == 3).expect("a three-phase run");
        let identity = plan.trials.iter().find(|t| t.id == format!("{}-identity", run.id));
        let Limit::Seen(seen) = &identity.expect("an identity trial").limit else {
            panic!("identity is seen")
        };
        let expected: Vec<&str> = seen.split(", ").collect();
        assert_eq!(expected.len(), 9);
        let labels: Vec<&str> = run.cables.iter().map(|c| c.from.as_str()).collect();
        for order in [[0, 2, 1], [1, 0, 2], [2, 1, 0], [1, 2, 0], [2, 0, 1]] {
            let mut differ = 0;
            for (i, a) in labels.iter().enumerate() {
                for (j, b) in labels.iter().enumerate() {
                    let state = if order[i] == j { "closed" } else { "open" };
                    differ +=
                        usize::from(!expected.contains(&format!("{a}-{b} {state}").as_str()));
                }
            }
            assert!(differ >= 2, "{order:?} changes only {differ} readings");
        }
    }
}
