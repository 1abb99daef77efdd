//! Turns a build into a plan.
//!
//! ```text
//! given    build + shelf -> parts
//! design   lengths, drive -> (size <-> heat) -> ends -> cuts -> faces -> plates -> protection -> field
//! work     kit -> steps -> trials
//! ```
//!
//! Pure: the same build and shelf give the same plan, to the bit. Never fails: what cannot be settled is
//! left out and named in a finding.

pub mod finding;
pub mod given;
pub mod design;
pub mod work;
pub mod checks;
pub mod figures;
pub mod verify;

use physics::units::System;

use design::cuts::{self, RunCut};
use design::drive::{self, Course};
use design::ends::{self, End};
use design::field::{self, FieldPoint};
use design::length::{self, RunLength};
use design::plates::{self, Plate};
use design::protect::{self, Protected};
use design::settle::{self, SizedRun};
use design::survey::{self, SurveyedFace};
use finding::{Assumed, Finding, Notes, Verdict, Worked};
use given::build::{Build, Carries, DeviceKind, Lie};
use given::kept;
use given::parts::{self, CablePair, Parts};
use given::shelf::{Shelf, Source};
use work::kit::{self, Kit};
use work::steps::{self, Step};
use work::trials::{self, Trial};

/// Everything that follows from a build.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Title, dates, units: what heads every page.
    pub heading: Heading,
    /// Devices, as written.
    pub devices: Vec<DeviceFacts>,
    /// Runs, as looked up.
    pub runs: Vec<RunFacts>,
    /// Paths, one a run.
    pub lengths: Vec<RunLength>,
    /// How the vehicle is driven, if the build says.
    pub course: Option<Course>,
    /// Sizes and heat, one a run.
    pub sizes: Vec<SizedRun>,
    /// Ends: for each run, for each cable, from then to.
    pub ends: Vec<End>,
    /// Cuts, one a run.
    pub cuts: Vec<RunCut>,
    /// Surveyed faces, one a port that has one.
    pub faces: Vec<SurveyedFace>,
    /// Entry plates.
    pub plates: Vec<Plate>,
    /// Protection of the DC side.
    pub protection: Option<Protected>,
    /// Points whose magnetic field is asked for, one each.
    pub field: Vec<FieldPoint>,
    /// What is bought, made and packed.
    pub kit: Kit,
    /// What the assembler does.
    pub steps: Vec<Step>,
    /// How it is proved.
    pub trials: Vec<Trial>,
    /// Findings, worst first, then in the order of the document.
    pub findings: Vec<Finding>,
    /// The ledger of assumptions.
    pub assumed: Vec<Assumed>,
    /// How the numbers came about.
    pub worked: Vec<Worked>,
    /// Sources named by anything above.
    pub sources: Vec<Source>,
}

/// What heads every page.
#[derive(Clone, Debug, PartialEq)]
pub struct Heading {
    /// Title of the build.
    pub title: String,
    /// Who made the document.
    pub made_by: Option<String>,
    /// The day it speaks of.
    pub date: Option<String>,
    /// Which system of units comes first.
    pub units: System,
    /// Currency of all costs.
    pub currency: Option<String>,
    /// Nominal and highest DC voltage.
    pub voltage_v: [Option<f64>; 2],
    /// Altitude.
    pub altitude_m: f64,
    /// Digest of the document and the shop's parts.
    pub digest: String,
}

/// A device, as written.
#[derive(Clone, Debug, PartialEq)]
pub struct DeviceFacts {
    /// Its id.
    pub id: String,
    /// Its name, or its id.
    pub name: String,
    /// What it is.
    pub kind: Option<DeviceKind>,
    /// Its ports: "device.port" and terminal labels.
    pub ports: Vec<(String, Vec<String>)>,
}

/// A run, as looked up.
#[derive(Clone, Debug, PartialEq)]
pub struct RunFacts {
    /// Its id.
    pub id: String,
    /// "device.port" at both ends.
    pub ports: [String; 2],
    /// What it carries.
    pub carries: Carries,
    /// Its cables.
    pub cables: Vec<CablePair>,
    /// How they lie.
    pub lie: Lie,
    /// Continuous current.
    pub current_a_rms: Option<f64>,
    /// Frequency.
    pub frequency_hz: Option<f64>,
}

impl Plan {
    /// The worst verdict among the findings.
    pub fn verdict(&self) -> Verdict {
        self.findings.iter().map(|f| f.verdict).min().unwrap_or(Verdict::Holds)
    }

    /// Whether the book may be built to: nothing fails and nothing that hurts is unknown.
    pub fn for_building(&self) -> bool {
        self.findings.iter().all(|f| match f.verdict {
            Verdict::Fails => false,
            Verdict::Unknown => !f.safety,
            Verdict::Close | Verdict::Holds => true,
        })
    }
}

/// Plans a build.
pub fn plan(build: &Build, shelf: &Shelf) -> Plan {
    let mut notes = Notes::default();
    let build = &*kept::filled(build, shelf);

    let parts = parts::resolve(build, shelf, &mut notes);
    let lengths = length::measure(&parts, &mut notes);
    let course = drive::drive(&parts, &mut notes);
    let sizes = settle::settle(&parts, &lengths, course.as_ref(), &mut notes);
    let ends = ends::finish(&parts, &sizes, &mut notes);
    let cuts = cuts::settle(&parts, &lengths, &ends, &mut notes);
    let faces = survey::measure(&parts, &mut notes);
    let plates = plates::fit(&parts, &ends, &faces, &mut notes);
    let protection = protect::choose(&parts, &sizes, &lengths, &mut notes);
    let field = field::at_points(&parts, &lengths, course.as_ref(), &sizes, &mut notes);
    let kit = kit::list(&parts, &sizes, &cuts, &ends, &plates, protection.as_ref());
    let steps = steps::write(&parts, &sizes, &cuts, &ends, &plates, protection.as_ref());
    let trials = trials::require(&parts, &sizes, &cuts, &ends, &plates, protection.as_ref());

    let designed = checks::Designed {
        parts: &parts,
        lengths: &lengths,
        sizes: &sizes,
        ends: &ends,
        cuts: &cuts,
        faces: &faces,
        plates: &plates,
        protection: protection.as_ref(),
        field: &field,
        kit: &kit,
    };
    checks::judge(&designed, &mut notes);

    let Notes { mut findings, assumed, worked } = notes;
    // Worst first, then as the maker wrote it; the sort is stable, so checks keep their order.
    findings.sort_by_key(|f| (f.verdict, f.at));
    Plan {
        heading: heading(&parts),
        devices: device_facts(build),
        runs: run_facts(&parts, &sizes),
        sources: sources_named(shelf, &findings, &worked, &kit),
        lengths,
        course,
        sizes,
        ends,
        cuts,
        faces,
        plates,
        protection,
        field,
        kit,
        steps,
        trials,
        findings,
        assumed,
        worked,
    }
}

fn heading(parts: &Parts<'_>) -> Heading {
    let build = parts.build;
    let text = |m: &given::build::Maybe<String>| m.as_ref().map(|a| a.value.clone());
    Heading {
        title: text(&build.title).unwrap_or_default(),
        made_by: text(&build.made_by),
        date: text(&build.date),
        units: parts.units,
        currency: text(&build.currency),
        voltage_v: [parts.voltage_v, parts.voltage_v_max],
        altitude_m: parts.around.altitude_m,
        digest: build.digest.clone(),
    }
}

fn device_facts(build: &Build) -> Vec<DeviceFacts> {
    build
        .devices
        .iter()
        .map(|device| {
            let id = &device.id.value;
            let port = |p: &given::build::Port| {
                let labels = p.terminals.iter().map(|t| t.value.clone()).collect();
                (format!("{id}.{}", p.id), labels)
            };
            DeviceFacts {
                id: id.clone(),
                name: device.name.as_ref().map_or_else(|| id.clone(), |n| n.value.clone()),
                kind: device.kind.as_ref().map(|k| k.value),
                ports: device.ports.iter().map(port).collect(),
            }
        })
        .collect()
}

fn run_facts(parts: &Parts<'_>, sizes: &[SizedRun]) -> Vec<RunFacts> {
    parts
        .runs
        .iter()
        .zip(sizes)
        .map(|(r, size)| RunFacts {
            id: r.run.id.value.clone(),
            ports: [parts.ports[r.from].name.clone(), parts.ports[r.to].name.clone()],
            carries: r.carries,
            cables: r.cables.clone(),
            lie: r.lie,
            current_a_rms: match &size.carried {
                Some(carried) => Some(carried.rms_a),
                None => r.run.current_a_rms.as_ref().map(|c| c.value),
            },
            frequency_hz: r.frequency_hz.or(size.carried.as_ref().and_then(|c| c.frequency_hz)),
        })
        .collect()
}

fn sources_named(
    shelf: &Shelf,
    findings: &[Finding],
    worked: &[Worked],
    kit: &Kit,
) -> Vec<Source> {
    let named = |key: &str| {
        findings.iter().any(|f| f.source == key)
            || worked.iter().any(|w| w.source == key)
            || kit.items.iter().any(|i| i.source == key)
    };
    shelf.sources.iter().filter(|s| named(&s.key)).cloned().collect()
}
