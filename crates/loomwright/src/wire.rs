//! What the program says to other programs: the only types that are serialised, and their schema.
//!
//! Keys carry their unit. A key is never renamed and never changes its meaning; new ones may appear.

mod ends;
mod protection;
mod survey;
mod field;
mod duty;
mod strips;
mod bench;
mod asked;
mod describe;

pub(crate) use asked::*;
pub(crate) use bench::*;
pub(crate) use describe::{Call, Shape, openapi, shape, typescript};
pub(crate) use ends::stack_name;
use ends::{EndWire, StackWire, TorqueWire, end, stack, torque, word};
use std::collections::BTreeMap;

use duty::CourseWire;
use field::FieldPointWire;
use plan::Plan;
use plan::design::ends::Side;
use plan::design::plates::Plate;
use plan::design::profile::{Band, Profile};
use plan::design::settle::{Heat, SizedRun};
use plan::figures::{Answer, Figure};
use plan::finding::{About, Finding, Place};
use plan::given::build::{Carries, Lie};
use plan::given::keys;
use plan::given::shelf_look::ShelfHit;
use plan::verify::Judged;
use plan::work::kit::{Item, Kind, Kit};
use plan::work::steps::Step;
use plan::work::trials::{self, Limit, Trial, When};
use protection::{ProtectionWire, protection};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;
pub(crate) use strips::*;
use survey::FaceWire;
pub(crate) use survey::survey;

/// The whole plan: `loomwright plan --json`.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "The plan of a build")]
pub(crate) struct PlanWire {
    /// What was planned.
    build: BuildWire,
    /// The worst verdict among the findings.
    verdict: VerdictWire,
    /// Whether the book may be built to: nothing fails, and nothing that hurts is unknown.
    for_building: bool,
    /// Findings, worst first.
    findings: Vec<FindingWire>,
    /// What the build left out and the program filled in.
    assumed: Vec<AssumedWire>,
    /// Runs in the order of the document.
    runs: Vec<RunWire>,
    /// Protection of the DC side.
    protection: Option<ProtectionWire>,
    /// How the vehicle is driven, where the build says.
    duty: Option<CourseWire>,
    /// Magnetic field at the points named, beside the published reference levels.
    field: Vec<FieldPointWire>,
    /// Surveyed faces, one a port that has one.
    faces: Vec<FaceWire>,
    /// Entry plates.
    plates: Vec<PlateWire>,
    /// What is bought, made and packed.
    kit: KitWire,
    /// What the assembler does, in order.
    steps: Vec<StepWire>,
    /// Tests of the made-up cabling.
    trials: Vec<TrialWire>,
    /// How the numbers came about.
    worked: Vec<WorkedWire>,
    /// What the source keys stand for.
    sources: Vec<SourceWire>,
}

#[derive(Serialize, JsonSchema)]
struct BuildWire {
    title: String,
    /// SHA-256 of what the plan was made from.
    digest: String,
    made_by: Option<String>,
    date: Option<String>,
    /// Which units are printed first: "metric" or "us".
    units: &'static str,
    currency: Option<String>,
    voltage_v: Option<f64>,
    voltage_v_max: Option<f64>,
    altitude_m: f64,
    devices: Vec<DeviceWire>,
}

#[derive(Serialize, JsonSchema)]
struct DeviceWire {
    id: String,
    name: String,
    kind: Option<&'static str>,
    ports: Vec<PortWire>,
}

#[derive(Serialize, JsonSchema)]
struct PortWire {
    /// "device.port".
    id: String,
    terminals: Vec<String>,
}

/// How a check came out.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum VerdictWire {
    Fails,
    Unknown,
    Close,
    Holds,
}

/// One thing the plan tells the maker.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct FindingWire {
    /// Kebab-case, never reused.
    pub(crate) code: &'static str,
    pub(crate) verdict: VerdictWire,
    pub(crate) message: String,
    /// The value judged, in `unit`.
    pub(crate) value: Option<f64>,
    /// The limit it is judged against, in `unit`.
    pub(crate) limit: Option<f64>,
    pub(crate) unit: Option<&'static str>,
    pub(crate) hint: Option<String>,
    /// Key of the source of the rule.
    pub(crate) source: &'static str,
    /// An unknown here keeps the book from being built to.
    pub(crate) safety: bool,
    pub(crate) at: Option<AtWire>,
    pub(crate) about: AboutWire,
}

/// A place in the build document, counted from 1 in characters.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct AtWire {
    pub(crate) file: String,
    pub(crate) line: u32,
    pub(crate) column: u32,
    pub(crate) width: u32,
}

/// What something is about, so that one thing leads to another.
#[derive(Clone, Serialize, JsonSchema)]
pub(crate) struct AboutWire {
    pub(crate) run: Option<String>,
    pub(crate) cable: Option<String>,
    /// "device.port".
    pub(crate) port: Option<String>,
}

#[derive(Serialize, JsonSchema)]
struct AssumedWire {
    what: String,
    value: String,
    why: String,
    /// What in the document would replace it.
    key: String,
}

#[derive(Serialize, JsonSchema)]
struct RunWire {
    id: String,
    /// "device.port" at both ends.
    from: String,
    to: String,
    /// "phases" or "dc".
    carries: &'static str,
    lie: &'static str,
    /// Shelf id of the cable.
    cable: Option<String>,
    path_mm: Option<f64>,
    /// From lug hole to lug hole when made up.
    made_length_mm: Option<f64>,
    cables: Vec<CableWire>,
    /// What the duty puts through one cable, where the run states no current.
    duty: Option<DutyWire>,
    heat: Option<HeatWire>,
    drop_v: Option<f64>,
    loss_w: Option<f64>,
    settle_trail: Vec<PassWire>,
}

#[derive(Serialize, JsonSchema)]
struct CableWire {
    /// Its from-terminal.
    id: String,
    from: String,
    to: String,
    conductor: Option<String>,
    cut_length_mm: Option<f64>,
    /// From, then to.
    ends: Vec<EndWire>,
}

#[derive(Serialize, JsonSchema)]
struct DutyWire {
    /// Over the drive that is repeated, or the hard case that has most.
    current_a_rms: f64,
    /// At the lower edge of the band, where only the motor's nameplate is known.
    current_a_rms_least: f64,
    /// One frequency that stands for all, weighted by what it heats.
    frequency_hz: Option<f64>,
    /// Greatest rms over windows.
    windows: Vec<WindowWire>,
    /// The conductor at the hottest moment.
    hottest_c: Option<f64>,
    /// In which stretch of the duty.
    hottest_in: Option<String>,
    /// When in it.
    hottest_s: Option<f64>,
    /// The drive that is repeated, then the hard cases.
    stretches: Vec<StretchWire>,
}

#[derive(Serialize, JsonSchema)]
struct WindowWire {
    seconds: f64,
    current_a_rms: f64,
    stretch: String,
    begins_s: f64,
}

#[derive(Serialize, JsonSchema)]
struct StretchWire {
    name: String,
    /// Repeated for ever, or once from warm.
    repeats: bool,
    /// Pairs of seconds and the conductor's degC.
    conductor: Vec<(f64, f64)>,
}

#[derive(Serialize, JsonSchema)]
struct HeatWire {
    /// The hottest cable.
    cable: String,
    air_c: f64,
    limit_c: f64,
    current_a_rms: f64,
    conductor_c: Option<f64>,
    surface_c: Option<f64>,
    ac_ratio: f64,
    loss_w_per_m: f64,
    rating_a: f64,
    peak: Option<PeakWire>,
    /// Pairs of seconds and degC, from the air's temperature to steady state.
    warming: Vec<(f64, f64)>,
    /// Along the run; absent where it never settles.
    along: Option<AlongWire>,
}

#[derive(Serialize, JsonSchema)]
struct AlongWire {
    /// The hottest cable from its first terminal to its last.
    spots: Vec<SpotWire>,
    sections: Vec<SectionWire>,
    /// At the first and the last terminal.
    ends: Vec<EndHeatWire>,
    /// The steady conductor over the bounds of what is assumed.
    band: BandWire,
    ratings: Vec<RatingWire>,
    to_limit: ToLimitWire,
    ageing: AgeingWire,
    made_w: f64,
    into_ends_w: f64,
}

#[derive(Serialize, JsonSchema)]
struct SpotWire {
    at_m: f64,
    steady_c: f64,
    /// At the hottest moment of duty or peak.
    hottest_c: Option<f64>,
    low_c: Option<f64>,
    high_c: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct SectionWire {
    name: String,
    from_m: f64,
    to_m: f64,
    steady_c: f64,
    at_m: f64,
    cable: String,
}

#[derive(Serialize, JsonSchema)]
struct EndHeatWire {
    terminal_c: Option<f64>,
    conductor_c: f64,
}

#[derive(Serialize, JsonSchema)]
struct BandWire {
    low_c: Option<f64>,
    high_c: Option<f64>,
    /// At the hottest moment of duty or peak: low, as planned, high.
    hottest_c: Option<Vec<f64>>,
    parts: Vec<BoundWire>,
}

#[derive(Serialize, JsonSchema)]
struct BoundWire {
    what: &'static str,
    /// Its cooler end, then its hotter one.
    between: Vec<String>,
    low_c: Option<f64>,
    high_c: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct RatingWire {
    /// Absent for ever.
    seconds: Option<f64>,
    cold_a: Option<f64>,
    warm_a: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct ToLimitWire {
    current_a: f64,
    cold_s: Option<f64>,
    warm_s: Option<f64>,
}

/// An indication by Arrhenius, not a promise.
#[derive(Serialize, JsonSchema)]
struct AgeingWire {
    hours: f64,
    service_hours: f64,
    at_limit_hours: f64,
    halves_k: f64,
    over_the_duty: bool,
}

#[derive(Serialize, JsonSchema)]
struct PeakWire {
    current_a_rms: f64,
    seconds: f64,
    conductor_c: f64,
    to_limit_s: Option<f64>,
    /// Pairs of seconds and degC from the start of the peak.
    curve: Vec<(f64, f64)>,
}

#[derive(Serialize, JsonSchema)]
struct PassWire {
    from: String,
    to: String,
    because: String,
}

#[derive(Serialize, JsonSchema)]
struct PlateWire {
    port: String,
    /// Id of the kept plate it is, where the build names one.
    kept: Option<String>,
    material: Option<String>,
    thickness_mm: Option<f64>,
    grips: Vec<PlateGripWire>,
    grip_pitch_mm: Option<f64>,
    grip_hole: Option<String>,
    bolt_count: Option<u32>,
    bolt: Option<StackWire>,
    torque_nm: Option<f64>,
    torque: Option<TorqueWire>,
    seal: Option<SealWire>,
    block: Option<BlockWire>,
}

#[derive(Serialize, JsonSchema)]
struct PlateGripWire {
    run: String,
    cable: String,
    grip: String,
}

#[derive(Serialize, JsonSchema)]
struct SealWire {
    oring: String,
    groove_depth_mm: f64,
    groove_width_mm: f64,
    groove_inside_mm: f64,
    groove_tolerance_mm: f64,
    /// Least, nominal, most, as parts of the section.
    squeeze: [f64; 3],
    /// Nominal, most.
    fill: [f64; 2],
    stretch: f64,
    load_n_per_mm: f64,
    load_n: f64,
}

#[derive(Serialize, JsonSchema)]
struct BlockWire {
    material: Option<String>,
    bolt: Option<String>,
    bolt_count: Option<u32>,
    torque_nm: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct KitWire {
    items: Vec<ItemWire>,
    cuts: Vec<ReelWire>,
    /// Of everything that has a price, in the build's currency.
    cost: f64,
    unpriced: usize,
    mass_kg: f64,
}

#[derive(Serialize, JsonSchema)]
struct ItemWire {
    part: String,
    name: String,
    kind: &'static str,
    /// Pieces used, without spares.
    count: u32,
    spares: u32,
    length_mm: Option<f64>,
    uses: Vec<UseWire>,
    price: Option<f64>,
    cost: Option<f64>,
    mass_g: Option<f64>,
    standing: &'static str,
    source: String,
}

#[derive(Serialize, JsonSchema)]
struct UseWire {
    #[serde(rename = "where")]
    place: String,
    count: u32,
}

#[derive(Serialize, JsonSchema)]
struct ReelWire {
    cable: String,
    reel_mm: f64,
    pieces: Vec<PieceWire>,
    left_mm: f64,
}

#[derive(Serialize, JsonSchema)]
struct PieceWire {
    name: String,
    /// Where it begins on the reel.
    from_mm: f64,
    length_mm: f64,
}

#[derive(Serialize, JsonSchema)]
struct StepWire {
    id: String,
    title: String,
    text: Vec<String>,
    place: String,
    about: AboutWire,
    parts: Vec<StepPartWire>,
    tools: Vec<String>,
    torque_nm: Option<f64>,
    /// Ids of steps that must be done before.
    after: Vec<String>,
    why: Option<String>,
    caution: Option<String>,
}

#[derive(Serialize, JsonSchema)]
struct StepPartWire {
    part: String,
    count: u32,
}

#[derive(Serialize, JsonSchema)]
struct TrialWire {
    id: String,
    what: String,
    when: WhenWire,
    about: AboutWire,
    /// How the reading is judged.
    rule: RuleWire,
    /// The limit, in `unit`; the lower one of two.
    limit: Option<f64>,
    /// The upper one of two limits, in `unit`.
    limit_upper: Option<f64>,
    unit: Option<&'static str>,
    /// What is to be seen, or what is unknown, where there is no number.
    words: Option<String>,
    connect: String,
    source: &'static str,
    caution: Option<String>,
}

#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
enum WhenWire {
    Bench,
    Laid,
    Fitted,
    FirstPower,
    FirstDrive,
}

#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
enum RuleWire {
    AtMost,
    AtLeast,
    Between,
    Seen,
    Unknown,
}

#[derive(Serialize, JsonSchema)]
struct WorkedWire {
    what: String,
    about: AboutWire,
    value: f64,
    unit: &'static str,
    law: &'static str,
    inputs: Vec<WorkedInputWire>,
    source: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct WorkedInputWire {
    name: &'static str,
    value: f64,
    unit: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct SourceWire {
    key: String,
    title: String,
    seen: String,
}

/// The plan as others read it; `file` is the document its findings point into.
pub(crate) fn plan(plan: &Plan, file: &str) -> PlanWire {
    let heading = &plan.heading;
    PlanWire {
        build: BuildWire {
            title: heading.title.clone(),
            digest: heading.digest.clone(),
            made_by: heading.made_by.clone(),
            date: heading.date.clone(),
            units: word(keys::UNITS, heading.units),
            currency: heading.currency.clone(),
            voltage_v: heading.voltage_v[0],
            voltage_v_max: heading.voltage_v[1],
            altitude_m: heading.altitude_m,
            devices: devices(plan),
        },
        verdict: verdict(plan.verdict()),
        for_building: plan.for_building(),
        findings: plan.findings.iter().map(|f| finding(f, file)).collect(),
        assumed: plan
            .assumed
            .iter()
            .map(|a| AssumedWire {
                what: a.what.clone(),
                value: a.value.clone(),
                why: a.why.clone(),
                key: a.key.clone(),
            })
            .collect(),
        runs: (0..plan.runs.len()).map(|i| run(plan, i)).collect(),
        protection: plan.protection.as_ref().map(protection),
        duty: plan.course.as_ref().map(duty::course),
        field: plan.field.iter().map(field::field).collect(),
        faces: plan.faces.iter().map(survey::survey).collect(),
        plates: plan.plates.iter().map(plate).collect(),
        kit: kit(&plan.kit),
        steps: plan.steps.iter().map(step).collect(),
        trials: plan.trials.iter().map(trial).collect(),
        worked: worked(plan),
        sources: plan
            .sources
            .iter()
            .map(|s| SourceWire {
                key: s.key.clone(),
                title: s.title.clone(),
                seen: s.seen.clone(),
            })
            .collect(),
    }
}

/// The word of the document for a choice.
fn devices(plan: &Plan) -> Vec<DeviceWire> {
    plan.devices
        .iter()
        .map(|d| DeviceWire {
            id: d.id.clone(),
            name: d.name.clone(),
            kind: d.kind.map(|k| word(keys::DEVICE_KINDS, k)),
            ports: d
                .ports
                .iter()
                .map(|(id, terminals)| PortWire {
                    id: id.clone(),
                    terminals: terminals.clone(),
                })
                .collect(),
        })
        .collect()
}

/// A verdict as others read it.
pub(crate) fn verdict(verdict: plan::finding::Verdict) -> VerdictWire {
    match verdict {
        plan::finding::Verdict::Fails => VerdictWire::Fails,
        plan::finding::Verdict::Unknown => VerdictWire::Unknown,
        plan::finding::Verdict::Close => VerdictWire::Close,
        plan::finding::Verdict::Holds => VerdictWire::Holds,
    }
}

/// A finding as others read it.
pub(crate) fn finding(f: &Finding, file: &str) -> FindingWire {
    FindingWire {
        code: f.code,
        verdict: verdict(f.verdict),
        message: f.message.clone(),
        value: f.value.map(|v| v.value),
        limit: f.limit.map(|v| v.value),
        unit: f.value.or(f.limit).map(|v| v.dimension.kept()),
        hint: f.hint.clone(),
        source: f.source,
        safety: f.safety,
        at: at(f.at, file),
        about: about(&f.about),
    }
}

/// A place as others read it; none is line 0.
pub(crate) fn at(place: Place, file: &str) -> Option<AtWire> {
    let Place { line, column, width } = place;
    (0 < line).then_some(AtWire { file: file.to_owned(), line, column, width })
}

/// The word for what a run carries.
pub(crate) fn carries(carries: Carries) -> &'static str {
    word(keys::CARRIES, carries)
}

/// What something is about, for others.
pub(crate) fn about(about: &About) -> AboutWire {
    AboutWire { run: about.run.clone(), cable: about.cable.clone(), port: about.port.clone() }
}

fn run(plan: &Plan, index: usize) -> RunWire {
    let facts = &plan.runs[index];
    let sized = plan.sizes.iter().find(|s| s.run == facts.id);
    let length = plan.lengths.iter().find(|l| l.run == facts.id);
    let cut = plan.cuts.iter().find(|c| c.run == facts.id);
    let cables = facts
        .cables
        .iter()
        .map(|pair| CableWire {
            id: pair.from.clone(),
            from: pair.from.clone(),
            to: pair.to.clone(),
            conductor: sized.and_then(conductor),
            cut_length_mm: cut.and_then(|c| c.cut_mm),
            ends: [Side::From, Side::To]
                .iter()
                .flat_map(|side| {
                    plan.ends.iter().filter(|e| {
                        e.run == facts.id && e.cable == pair.from && e.side == *side
                    })
                })
                .map(end)
                .collect(),
        })
        .collect();
    RunWire {
        id: facts.id.clone(),
        from: facts.ports[0].clone(),
        to: facts.ports[1].clone(),
        carries: word::<Carries>(keys::CARRIES, facts.carries),
        lie: word::<Lie>(keys::LIES, facts.lie),
        cable: sized.and_then(|s| s.cable.as_ref()).map(|c| c.row.id.clone()),
        path_mm: length.and_then(|l| l.path_mm),
        made_length_mm: cut.and_then(|c| c.made_mm),
        cables,
        duty: sized.and_then(duty),
        heat: sized.and_then(|s| s.heat.as_ref()).map(heat),
        drop_v: sized.and_then(|s| s.drop_v),
        loss_w: sized.and_then(|s| s.loss_w),
        settle_trail: sized.map(trail).unwrap_or_default(),
    }
}

fn conductor(sized: &SizedRun) -> Option<String> {
    sized.cable.as_ref().map(|c| c.size.to_string())
}

fn trail(sized: &SizedRun) -> Vec<PassWire> {
    sized
        .trail
        .iter()
        .map(|p| PassWire {
            from: p.from.clone(),
            to: p.to.clone(),
            because: p.because.clone(),
        })
        .collect()
}

fn duty(sized: &SizedRun) -> Option<DutyWire> {
    let carried = sized.carried.as_ref()?;
    let driven = sized.heat.as_ref().and_then(|h| h.driven.as_ref());
    Some(DutyWire {
        current_a_rms: carried.rms_a,
        current_a_rms_least: carried.rms_a_least,
        frequency_hz: carried.frequency_hz,
        windows: carried
            .windows
            .iter()
            .map(|w| WindowWire {
                seconds: w.seconds,
                current_a_rms: w.rms_a,
                stretch: w.stretch.clone(),
                begins_s: w.begins_s,
            })
            .collect(),
        hottest_c: driven.map(|d| d.hottest_c),
        hottest_in: driven.map(|d| d.stretch.clone()),
        hottest_s: driven.map(|d| d.at_s),
        stretches: carried
            .series
            .iter()
            .map(|series| StretchWire {
                name: series.name.clone(),
                repeats: series.repeats,
                conductor: driven
                    .and_then(|d| d.curves.iter().find(|(name, _)| *name == series.name))
                    .map_or_else(Vec::new, |(_, curve)| curve.clone()),
            })
            .collect(),
    })
}

fn heat(h: &Heat) -> HeatWire {
    HeatWire {
        cable: h.cable.clone(),
        air_c: h.air_c,
        limit_c: h.limit_c,
        current_a_rms: h.current_a_rms,
        conductor_c: h.conductor_c,
        surface_c: h.surface_c,
        ac_ratio: h.ac_ratio,
        loss_w_per_m: h.loss_w_per_m,
        rating_a: h.rating_a,
        peak: h.peak.as_ref().map(|p| PeakWire {
            current_a_rms: p.current_a_rms,
            seconds: p.seconds,
            conductor_c: p.conductor_c,
            to_limit_s: p.to_limit_s,
            curve: p.curve.clone(),
        }),
        warming: h.warming.clone(),
        along: h.profile.as_ref().map(along),
    }
}

fn along(p: &Profile) -> AlongWire {
    AlongWire {
        spots: p
            .spots
            .iter()
            .map(|s| SpotWire {
                at_m: s.at_m,
                steady_c: s.steady_c,
                hottest_c: s.hottest_c,
                low_c: s.low_c,
                high_c: s.high_c,
            })
            .collect(),
        sections: p
            .sections
            .iter()
            .map(|s| SectionWire {
                name: s.name.clone(),
                from_m: s.from_m,
                to_m: s.to_m,
                steady_c: s.steady_c,
                at_m: s.at_m,
                cable: s.cable.clone(),
            })
            .collect(),
        ends: p
            .ends
            .iter()
            .map(|e| EndHeatWire { terminal_c: e.terminal_c, conductor_c: e.conductor_c })
            .collect(),
        band: band(&p.band),
        ratings: p
            .ratings
            .iter()
            .map(|r| RatingWire { seconds: r.seconds, cold_a: r.cold_a, warm_a: r.warm_a })
            .collect(),
        to_limit: ToLimitWire {
            current_a: p.to_limit.current_a,
            cold_s: p.to_limit.cold_s,
            warm_s: p.to_limit.warm_s,
        },
        ageing: AgeingWire {
            hours: p.ageing.hours,
            service_hours: p.ageing.service_hours,
            at_limit_hours: p.ageing.at_limit_hours,
            halves_k: p.ageing.halves_k,
            over_the_duty: p.ageing.is_driven,
        },
        made_w: p.made_w,
        into_ends_w: p.into_ends_w,
    }
}

fn band(b: &Band) -> BandWire {
    BandWire {
        low_c: b.low_c,
        high_c: b.high_c,
        hottest_c: b.hottest_c.map(|c| c.to_vec()),
        parts: b
            .parts
            .iter()
            .map(|part| BoundWire {
                what: part.what,
                between: part.between.to_vec(),
                low_c: part.low_c,
                high_c: part.high_c,
            })
            .collect(),
    }
}

fn plate(p: &Plate) -> PlateWire {
    let bolts = p.bolts.as_ref();
    PlateWire {
        port: p.port.clone(),
        kept: p.kept.as_ref().map(|k| k.id.clone()),
        material: p.material.as_ref().map(|m| m.row.id.clone()),
        thickness_mm: p.thickness_mm,
        grips: p
            .grips
            .iter()
            .map(|g| PlateGripWire {
                run: g.run.clone(),
                cable: g.cable.clone(),
                grip: g.grip.row.id.clone(),
            })
            .collect(),
        grip_pitch_mm: p.grip_pitch_mm,
        grip_hole: p.grip_hole.clone(),
        bolt_count: bolts.map(|b| b.count),
        bolt: bolts.map(|b| stack(&b.stack)),
        torque_nm: bolts.and_then(|b| b.torque.as_ref()).map(|t| t.torque_nm),
        torque: bolts.and_then(|b| b.torque.as_ref()).map(torque),
        seal: p.seal.as_ref().map(|s| SealWire {
            oring: s.oring.row.id.clone(),
            groove_depth_mm: s.groove_depth_mm,
            groove_width_mm: s.groove_width_mm,
            groove_inside_mm: s.groove_inside_mm,
            groove_tolerance_mm: s.groove_tolerance_mm,
            squeeze: s.squeeze,
            fill: s.fill,
            stretch: s.stretch,
            load_n_per_mm: s.load_n_per_mm,
            load_n: s.load_n,
        }),
        block: p.block.as_ref().map(|b| BlockWire {
            material: b.material.as_ref().map(|m| m.row.id.clone()),
            bolt: b.bolts.as_ref().map(|b| b.0.clone()),
            bolt_count: b.bolts.as_ref().map(|b| b.1),
            torque_nm: b.torque_nm,
        }),
    }
}

fn kit(kit: &Kit) -> KitWire {
    KitWire {
        items: kit.items.iter().map(item).collect(),
        cuts: kit
            .cuts
            .iter()
            .map(|r| ReelWire {
                cable: r.cable.clone(),
                reel_mm: r.reel_mm,
                pieces: pieces(&r.pieces),
                left_mm: r.left_mm,
            })
            .collect(),
        cost: kit.cost,
        unpriced: kit.unpriced,
        mass_kg: kit.mass_kg,
    }
}

/// Pieces one behind the other, as they come off the reel.
fn pieces(all: &[(String, f64)]) -> Vec<PieceWire> {
    let mut from_mm = 0.0;
    all.iter()
        .map(|(name, length_mm)| {
            let piece = PieceWire { name: name.clone(), from_mm, length_mm: *length_mm };
            from_mm += length_mm;
            piece
        })
        .collect()
}

fn item(i: &Item) -> ItemWire {
    ItemWire {
        part: i.part.clone(),
        name: i.name.clone(),
        kind: kind(i.kind),
        count: i.count,
        spares: i.spares,
        length_mm: i.length_mm,
        uses: i
            .uses
            .iter()
            .map(|u| UseWire { place: u.place.clone(), count: u.count })
            .collect(),
        price: i.price,
        cost: i.cost,
        mass_g: i.mass_g,
        standing: i.standing.word(),
        source: i.source.clone(),
    }
}

/// The word for a kind of item.
pub(crate) fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Cable => "cable",
        Kind::Lug => "lug",
        Kind::Sleeve => "sleeve",
        Kind::Grip => "grip",
        Kind::Locknut => "locknut",
        Kind::Bolt => "bolt",
        Kind::Nut => "nut",
        Kind::Washer => "washer",
        Kind::Oring => "o-ring",
        Kind::Plate => "plate",
        Kind::Block => "block",
        Kind::Fuse => "fuse",
        Kind::Resistor => "resistor",
        Kind::Label => "label",
    }
}

fn step(s: &Step) -> StepWire {
    StepWire {
        id: s.id.clone(),
        title: s.title.clone(),
        text: s.text.clone(),
        place: s.place.clone(),
        about: about(&s.about),
        parts: s
            .parts
            .iter()
            .map(|(part, count)| StepPartWire { part: part.clone(), count: *count })
            .collect(),
        tools: s.tools.clone(),
        torque_nm: s.torque_nm,
        after: s.after.clone(),
        why: s.why.clone(),
        caution: s.caution.clone(),
    }
}

fn trial(t: &Trial) -> TrialWire {
    let (rule, limits, words) = match &t.limit {
        Limit::AtMost(q) => (RuleWire::AtMost, [Some(*q), None], None),
        Limit::AtLeast(q) => (RuleWire::AtLeast, [Some(*q), None], None),
        Limit::Between(a, b) => (RuleWire::Between, [Some(*a), Some(*b)], None),
        Limit::Seen(words) => (RuleWire::Seen, [None, None], Some(words.clone())),
        Limit::Pairs(pairs) => {
            let words: Vec<String> =
                pairs.iter().map(|(named, closed)| trials::pair(named, *closed)).collect();
            (RuleWire::Seen, [None, None], Some(words.join(", ")))
        }
        Limit::Unknown(words) => (RuleWire::Unknown, [None, None], Some(words.clone())),
    };
    TrialWire {
        id: t.id.clone(),
        what: t.what.clone(),
        when: match t.when {
            When::Bench => WhenWire::Bench,
            When::Laid => WhenWire::Laid,
            When::Fitted => WhenWire::Fitted,
            When::FirstPower => WhenWire::FirstPower,
            When::FirstDrive => WhenWire::FirstDrive,
        },
        about: about(&t.about),
        rule,
        limit: limits[0].map(|q| q.value),
        limit_upper: limits[1].map(|q| q.value),
        unit: limits[0].map(|q| q.dimension.kept()),
        words,
        connect: t.connect.clone(),
        source: t.source,
        caution: t.caution.clone(),
    }
}

fn worked(plan: &Plan) -> Vec<WorkedWire> {
    plan.worked
        .iter()
        .map(|w| WorkedWire {
            what: w.what.clone(),
            about: about(&w.about),
            value: w.value.value,
            unit: w.value.dimension.kept(),
            law: w.law,
            inputs: w
                .inputs
                .iter()
                .map(|(name, q)| WorkedInputWire {
                    name,
                    value: q.value,
                    unit: q.dimension.kept(),
                })
                .collect(),
            source: w.source,
        })
        .collect()
}

/// The schema of [`plan`]'s JSON.
pub(crate) fn plan_schema() -> Value {
    schemars::schema_for!(PlanWire).to_value()
}

/// The answer of a figure.
#[derive(Serialize, JsonSchema)]
pub(crate) struct AnswerWire {
    figure: &'static str,
    #[schemars(with = "BTreeMap<String, String>")]
    given: serde_json::Map<String, Value>,
    #[schemars(with = "BTreeMap<String, FoundWire>")]
    result: serde_json::Map<String, Value>,
    notes: Vec<String>,
    source: &'static str,
}

#[derive(JsonSchema)]
#[serde(untagged)]
#[expect(dead_code, reason = "it only describes what a list or a number becomes")]
enum NumbersWire {
    One(f64),
    Each(Vec<f64>),
}

/// One result of a figure.
#[derive(Serialize, JsonSchema)]
struct FoundWire {
    /// One number, or a list of them.
    #[schemars(with = "NumbersWire")]
    value: Value,
    unit: String,
}

/// A figure's answer as others read it.
pub(crate) fn answer(answer: &Answer) -> AnswerWire {
    let given =
        answer.given.iter().map(|(k, v)| ((*k).to_owned(), Value::from(v.clone()))).collect();
    let result = answer
        .results
        .iter()
        .map(|found| {
            let value = if found.is_list {
                Value::from(found.values.clone())
            } else {
                found.values[0].into()
            };
            let found_wire = FoundWire { value, unit: found.unit.clone() };
            (found.name.to_owned(), value_of(&found_wire))
        })
        .collect();
    AnswerWire {
        figure: answer.figure,
        given,
        result,
        notes: answer.notes.clone(),
        source: answer.source,
    }
}

fn value_of(what: &impl Serialize) -> Value {
    serde_json::to_value(what).expect("wire types have string keys only")
}

/// What an event may carry.
pub(crate) trait Told: Serialize {}
impl<T: Serialize> Told for T {}

/// JSON on one line, for a stream.
pub(crate) fn line<T: Serialize>(what: &T) -> String {
    serde_json::to_string(what).expect("wire types have string keys only")
}

/// Pretty JSON with a line end.
pub(crate) fn text<T: Serialize>(what: &T) -> String {
    let mut text =
        serde_json::to_string_pretty(what).expect("wire types have string keys only");
    text.push('\n');
    text
}

/// A calculator, for programs that offer it.
#[derive(Serialize, JsonSchema)]
pub(crate) struct FigureWire {
    figure: &'static str,
    purpose: &'static str,
    inputs: Vec<InputWire>,
    outputs: Vec<OutputWire>,
    /// Inputs that give an answer.
    #[schemars(with = "BTreeMap<String, String>")]
    example: serde_json::Map<String, Value>,
    source: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct InputWire {
    name: &'static str,
    needed: bool,
    default: Option<&'static str>,
    what: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct OutputWire {
    name: &'static str,
    unit: &'static str,
    what: &'static str,
}

/// All calculators.
pub(crate) fn figures(all: &'static [&'static Figure]) -> Vec<FigureWire> {
    all.iter()
        .map(|figure| FigureWire {
            figure: figure.name,
            purpose: figure.purpose,
            inputs: figure
                .inputs
                .iter()
                .map(|i| InputWire {
                    name: i.name,
                    needed: i.required,
                    default: i.default,
                    what: i.what,
                })
                .collect(),
            outputs: figure
                .outputs
                .iter()
                .map(|o| OutputWire { name: o.name, unit: o.unit, what: o.what })
                .collect(),
            example: figure
                .example
                .iter()
                .map(|(name, value)| ((*name).to_owned(), Value::from(*value)))
                .collect(),
            source: figure.source,
        })
        .collect()
}

/// A row of the shelf.
#[derive(Serialize, JsonSchema)]
pub(crate) struct HitWire {
    kind: &'static str,
    id: String,
    name: String,
    /// Its values in one line.
    text: String,
    standing: &'static str,
    source: String,
    note: Option<String>,
    price: Option<f64>,
}

/// Rows of the shelf as others read them.
pub(crate) fn hits(hits: &[ShelfHit]) -> Vec<HitWire> {
    hits.iter()
        .map(|hit| HitWire {
            kind: hit.kind,
            id: hit.id.clone(),
            name: hit.name.clone(),
            text: hit.text.clone(),
            standing: hit.standing.word(),
            source: hit.source.clone(),
            note: hit.note.clone(),
            price: hit.price,
        })
        .collect()
}

/// One number of a published case, judged.
#[derive(Serialize)]
pub(crate) struct JudgedWire {
    file: String,
    case: usize,
    line: usize,
    figure: String,
    given: serde_json::Map<String, Value>,
    output: String,
    ours: f64,
    theirs: f64,
    unit: String,
    difference: f64,
    /// How near ours must be.
    allowed: String,
    holds: bool,
    source: String,
    standing: String,
    note: String,
}

/// Published cases as others read them.
pub(crate) fn verified(files: &[(String, Vec<Judged>)]) -> Vec<JudgedWire> {
    let all = files.iter().flat_map(|(name, judged)| judged.iter().map(move |j| (name, j)));
    all.map(|(name, j)| JudgedWire {
        file: name.clone(),
        case: j.case,
        line: j.line,
        figure: j.figure.clone(),
        given: j.given.iter().map(|(k, v)| (k.clone(), Value::from(v.clone()))).collect(),
        output: j.output.clone(),
        ours: j.ours,
        theirs: j.theirs,
        unit: j.unit.clone(),
        difference: j.difference,
        allowed: j.rule.shown(&j.unit),
        holds: j.holds,
        source: j.source.clone(),
        standing: j.standing.clone(),
        note: j.note.clone(),
    })
    .collect()
}
