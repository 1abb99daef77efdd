//! Tests of the made-up cabling, each with its limit.

use super::keys::slug;
use super::kit::spoken;
use crate::design::cuts::RunCut;
use crate::design::ends::End;
use crate::design::plates::Plate;
use crate::design::protect::Protected;
use crate::design::settle::{Heat, SizedRun};
use crate::finding::{About, Quantity};
use crate::given::build::{Carries, Screen};
use crate::given::parts::{Parts, RunParts};
use physics::laws::contact;
use physics::laws::isolation::{self, Bus};
use physics::units::{Dimension, System, show, show_both};

/// One test.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// Kebab-case id.
    pub id: String,
    /// What is measured, in the words of all trials like it: "Resistance of each cable, lug to lug, at 20 degC".
    pub kind: &'static str,
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
    /// To be seen: "no gap between plate and housing".
    Seen(String),
    /// Every pair of ends, and whether it is closed: ("U to V", false).
    Pairs(Vec<(String, bool)>),
    /// Cannot be computed because something is unknown: what.
    Unknown(String),
}

/// "U to U closed", "U to V open".
pub fn pair(named: &str, closed: bool) -> String {
    format!("{named} {}", if closed { "closed" } else { "open" })
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
        let [between, chassis] = insulation(parts, run, protection);
        trials.extend((1 < run.cables.len()).then_some(between));
        trials.push(chassis);
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
        trials.extend(ends.iter().filter(|e| e.port == port).filter_map(screen));
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
        trials.extend(sized.heat.iter().flat_map(|heat| warm_lugs(run, heat, ends)));
    }
    trials
}

fn trial(id: String, when: When, source: &'static str, limit: Limit) -> Trial {
    Trial {
        id,
        kind: "",
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
        kind: "Resistance of each cable, lug to lug, at 20 degC",
        what: format!("Resistance of {id} {cable}, lug to lug, at 20 degC"),
        connect: "Four-wire, current at the palms, voltage at the palms inside the current; note the \
                  cable's Celsius temperature T and multiply the reading by 254.5 / (234.5 + T)"
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
        kind: "Largest less smallest resistance in each run",
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
    let mut pairs = Vec::new();
    for a in &run.cables {
        for b in &run.cables {
            pairs.push((format!("{} to {}", a.from, b.to), a == b));
        }
    }
    Some(Trial {
        kind: "Identity of the cables",
        what: format!("Identity of the cables of {id}"),
        connect: format!(
            "Continuity from each lug at {from} to each lug at {to}, before either end is landed; \
             all of them, not only the pairs that should be closed"
        ),
        about: About::run(id),
        ..trial(slug(&[id, "identity"]), When::Laid, "common-practice", Limit::Pairs(pairs))
    })
}

/// Between its cables a run is tested before it is landed: then a winding or a link capacitor joins them.
fn insulation(
    parts: &Parts<'_>,
    run: &RunParts<'_>,
    protection: Option<&Protected>,
) -> [Trial; 2] {
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
    let told = |what: &str, kind: &'static str, connect: String, when: When, ending: &str| {
        Trial {
        kind,
        what: format!("Insulation of {id} {what}"),
        connect,
        about: About::run(id),
        caution: Some(
            "The tester's voltage can hurt and the cable stays charged: discharge it after each reading"
                .to_owned(),
        ),
        ..trial(slug(&[id, ending]), when, "un-r100", limit.clone())
    }
    };
    [
        told(
            "between its cables",
            "Insulation between the cables of each run",
            format!(
                "{volts} DC for one minute from each cable to all others joined, both ends free and clear of \
                 metal; dry new cable usually reads far above the limit"
            ),
            When::Laid,
            "insulation-between",
        ),
        told(
            "to chassis",
            "Insulation of each run to chassis",
            format!(
                "{volts} DC for one minute, electronics disconnected or as their makers allow; \
                 dry new cable usually reads far above the limit"
            ),
            When::Fitted,
            "insulation",
        ),
    ]
}

fn bonding(port: &str) -> Trial {
    let limit = Limit::AtMost(Quantity::new(BOND_OHM_MAX, Dimension::Resistance));
    Trial {
        kind: "Bond of each plate to chassis",
        what: format!("Bond of the plate of {} to chassis", spoken(port)),
        connect:
            "Four-wire, at least 0.2 A, from bare metal of the plate to the chassis ground"
                .to_owned(),
        about: About::port(port),
        ..trial(slug(&[port, "bond"]), When::Fitted, "un-r100", limit)
    }
}

/// A screen that is landed conducts there: a contact over paint or oxide screens nothing.
fn screen(end: &End) -> Option<Trial> {
    let landed = end.screen.as_ref()?.how;
    let from = match landed {
        Some(Screen::GripContact) => "the braid beside the grip's contact",
        Some(Screen::Pigtail) => "the screen where the pigtail leaves it",
        None => "the screen",
        Some(Screen::None) => return None,
    };
    let limit = match landed {
        Some(_) => Limit::AtMost(Quantity::new(SCREEN_OHM_MAX, Dimension::Resistance)),
        None => Limit::Unknown("how the screen ends is not stated".to_owned()),
    };
    let (run, cable, port) = (&end.run, &end.cable, &end.port);
    Some(Trial {
        what: format!("Bond of the screen of {run} {cable} to {}", spoken(port)),
        connect: format!(
            "Four-wire, at least 0.2 A, from {from} to bare metal of the housing, the box open and the \
             screen's other end not landed"
        ),
        about: About::end(run, Some(cable), port),
        ..trial(slug(&[run, cable, port, "screen"]), When::Laid, "common-practice", limit)
    })
}

fn marked(port: &str) -> Trial {
    Trial {
        kind: "Every bolt torqued and marked",
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
        kind: "Seat of each plate",
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
        kind: "Link voltage as pre-charge ends",
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
        kind: "Time until the link is under 60 V",
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
        kind: "First spin, wheels off the ground",
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
        kind: "Hottest place of the cables",
        what: format!("Hottest place of the cables of {id}"),
        connect: format!("Thermal indicator or camera {}", warmed(heat)),
        about: About::cable(id, &heat.cable),
        ..trial(
            slug(&[id, "warm"]),
            When::FirstDrive,
            "computed",
            Limit::AtMost(Quantity::new(surface_c, Dimension::Temperature)),
        )
    })
}

/// A lug is warmer than its cable by what its joint makes; a label tells it behind a closed cover.
fn warm_lugs(run: &RunParts<'_>, heat: &Heat, ends: &[End]) -> Vec<Trial> {
    let id = &run.run.id.value;
    let mut trials: Vec<Trial> = Vec::new();
    for end in ends.iter().filter(|e| e.run == *id) {
        let Some(warm) = &end.warm else { continue };
        let name = slug(&[id, &end.port, "warm"]);
        // The lugs of one side are alike; the warmest of them is the limit.
        if trials.iter().any(|t| t.id == name) {
            continue;
        }
        trials.push(Trial {
            kind: "Hottest lug at each landing",
            what: format!("Hottest lug of {id} at {}", spoken(&end.port)),
            connect: format!(
                "Temperature label on each lug before its cover is closed, read {}",
                warmed(heat)
            ),
            about: About::end(id, None, &end.port),
            ..trial(
                name,
                When::FirstDrive,
                "computed",
                Limit::AtMost(Quantity::new(warm.lug_c, Dimension::Temperature)),
            )
        });
    }
    trials
}

fn warmed(heat: &Heat) -> String {
    format!(
        "after half an hour at {} in air of {}; at less current or cooler air the limit is lower",
        show(heat.current_a_rms, Dimension::Current, System::Metric),
        show_both(heat.air_c, Dimension::Temperature, System::Metric)
    )
}

/// Largest resistance between an exposed conductive part and the chassis (UN R100, 5.1.2.2).
const BOND_OHM_MAX: f64 = 0.1;
/// Largest resistance of a screen's landing: a sound one reads a milliohm or two, a painted one far more
/// (common practice, no source).
const SCREEN_OHM_MAX: f64 = 0.01;
const LIVE: &str =
    "The cabling is live: covers on, no hand inside, a second person at the disconnect";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::marked::{BASE, merge, planned};

    #[test]
    fn every_landed_screen_is_measured() {
        let patch = "[run.dc]\ncable = \"flex-125-screened\"\n[run.dc.from-end]\nscreen = \"pigtail\"\n\
                     [run.dc.to-end]\nscreen = \"grip-contact\"";
        let trials = |patch: &str| -> Vec<Trial> {
            let all = planned(&merge(BASE, patch)).trials;
            all.into_iter().filter(|t| t.id.ends_with("-screen")).collect()
        };
        let found = trials(patch);
        let ids: Vec<&str> = found.iter().map(|t| t.id.as_str()).collect();
        let expected = [
            "dc-plus-battery-main-screen",
            "dc-minus-battery-main-screen",
            "dc-plus-inverter-dc-screen",
            "dc-minus-inverter-dc-screen",
        ];
        assert_eq!(ids, expected);
        for trial in &found {
            let Limit::AtMost(limit) = trial.limit else { panic!("{:?}", trial.limit) };
            assert_eq!((limit.value, limit.dimension), (0.01, Dimension::Resistance));
            assert!(trial.connect.contains("0.2 A"));
        }
        assert!(found[0].connect.contains("pigtail") && found[2].connect.contains("grip"));
        // Cut back there is nothing to measure; not stated, the limit waits for it.
        let cut = trials(&patch.replace("\"pigtail\"", "\"none\""));
        assert_eq!(cut.len(), 2);
        let open = trials(&patch.replace("screen = \"pigtail\"", ""));
        assert!(open.iter().any(|t| matches!(t.limit, Limit::Unknown(_))));
        assert!(trials("").is_empty());
    }

    #[test]
    fn any_swap_changes_two_readings_of_the_identity_matrix() {
        let plan = planned(BASE);
        let run = plan.runs.iter().find(|r| r.cables.len() == 3).expect("a three-phase run");
        let identity = plan.trials.iter().find(|t| t.id == format!("{}-identity", run.id));
        let Limit::Pairs(expected) = &identity.expect("an identity trial").limit else {
            panic!("identity is tried in pairs")
        };
        assert_eq!(expected.len(), 9);
        let labels: Vec<&str> = run.cables.iter().map(|c| c.from.as_str()).collect();
        for order in [[0, 2, 1], [1, 0, 2], [2, 1, 0], [1, 2, 0], [2, 0, 1]] {
            let mut differ = 0;
            for (i, a) in labels.iter().enumerate() {
                for (j, b) in labels.iter().enumerate() {
                    let read = (format!("{a} to {b}"), order[i] == j);
                    differ += usize::from(!expected.contains(&read));
                }
            }
            assert!(differ >= 2, "{order:?} changes only {differ} readings");
        }
    }

    #[test]
    fn cables_are_tried_against_each_other_before_a_winding_joins_them() {
        let plan = planned(BASE);
        for run in &plan.runs {
            let of = |ending: &str| {
                let id = format!("{}-{ending}", run.id);
                plan.trials.iter().find(|t| t.id == id).unwrap_or_else(|| panic!("{id}")).when
            };
            assert_eq!(of("insulation-between"), When::Laid);
            assert_eq!(of("insulation"), When::Fitted);
        }
    }

    #[test]
    fn a_lug_may_be_as_warm_as_it_was_computed() {
        let plan = planned(BASE);
        for end in &plan.ends {
            let lug_c = end.warm.as_ref().expect("a warm lug").lug_c;
            let id = slug(&[&end.run, &end.port, "warm"]);
            let trial = plan.trials.iter().find(|t| t.id == id).expect("a trial of its lugs");
            assert_eq!(
                trial.limit,
                Limit::AtMost(Quantity::new(lug_c, Dimension::Temperature))
            );
        }
    }
}
