//! What the assembler does, in an order that works.

mod bench;

use std::collections::{BTreeMap, BTreeSet};

use super::keys::{self, slug};
use super::kit::spoken;
use crate::design::cuts::RunCut;
use crate::design::ends::{EarlyKind, End, Stack};
use crate::design::plates::Plate;
use crate::design::protect::Protected;
use crate::design::settle::SizedRun;
use crate::finding::About;
use crate::given::build::{Carries, GripHole, Palm};
use crate::given::parts::{Parts, PortParts, RunParts};
use crate::given::shelf::Cable;
use physics::units::{Dimension, System, show, show_both};

/// One thing the assembler does.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Kebab-case id, stable while the build's structure is: "phases-u-inverter-crimp".
    pub id: String,
    /// One line: "Crimp the lug on U at the inverter end".
    pub title: String,
    /// What to do, sentence by sentence.
    pub text: Vec<String>,
    /// What kind of work: bench work first, then the vehicle.
    pub action: Action,
    /// Where: "bench", "device.port".
    pub place: String,
    /// Run, cable and end it concerns, where it does.
    pub about: About,
    /// Kit parts used: key and count.
    pub parts: Vec<(String, u32)>,
    /// Tools with their size: "socket 13 mm", "hydraulic crimper, die 50".
    pub tools: Vec<String>,
    /// Torque, where one is due.
    pub torque_nm: Option<f64>,
    /// Ids of steps that must be done before.
    pub after: Vec<String>,
    /// Why the order matters, where it does.
    pub why: Option<String>,
    /// Caution, where the hand is about to act on something that can hurt.
    pub caution: Option<String>,
}

/// The kinds of step, in no order of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Action {
    /// Isolate, lock, wait, measure, prove the meter.
    Isolate,
    /// Cut a cable.
    Cut,
    /// Mark a cable's letter at both ends.
    Mark,
    /// Put grip, sleeve on the cable.
    Thread,
    /// Strip.
    Strip,
    /// Crimp the lug.
    Crimp,
    /// Bend the palm.
    Bend,
    /// Shrink the sleeve.
    Shrink,
    /// Test made-up cable on the bench.
    Test,
    /// Fit the spacer block.
    Block,
    /// Lay the O-ring.
    Ring,
    /// Offer up a plate, bolts loose.
    Offer,
    /// Lay the cable along its way and clip it.
    Lay,
    /// Land a lug, bolt loose.
    Land,
    /// Torque a lug bolt.
    TorqueLug,
    /// Torque the plate bolts.
    TorquePlate,
    /// Tighten grip body and nut.
    TightenGrip,
    /// Fit a cover.
    Cover,
    /// Fit the fuse.
    Fuse,
    /// Prove before energising.
    Prove,
}

/// Writes the steps.
pub fn write(
    parts: &Parts<'_>,
    sizes: &[SizedRun],
    cuts: &[RunCut],
    ends: &[End],
    plates: &[Plate],
    protection: Option<&Protected>,
) -> Vec<Step> {
    let work = Work { parts, sizes, cuts, ends, plates, protection };
    let mut steps = vec![work.isolate()];
    for run in &parts.runs {
        work.make_up(run, &mut steps);
        steps.push(work.lay(run));
        steps.push(work.identify(run));
    }
    for port in work.ports() {
        work.prepare(port, &mut steps);
        work.land(port, &mut steps);
        work.tighten(port, &mut steps);
    }
    work.close(&mut steps);
    let ordered = order(steps);
    assert!(in_order(&ordered), "a step stands before one it must follow");
    ordered
}

/// What the steps are written from.
struct Work<'a> {
    parts: &'a Parts<'a>,
    sizes: &'a [SizedRun],
    cuts: &'a [RunCut],
    ends: &'a [End],
    plates: &'a [Plate],
    protection: Option<&'a Protected>,
}

const ISOLATE: &str = "isolate";
const BENCH: &str = "bench";

const CAUTION_ISOLATE: &str = "Traction voltages kill, and a charged capacitor bank looks the same as a \
discharged one. Work only if you are qualified to by the rules where you are; follow the makers' documents";
const CAUTION_HANDS: &str = "A hydraulic press crushes fingers: hold the cable, not the die";
const CAUTION_HEAT: &str =
    "The air from the gun and the sleeve burn; keep both off other insulation";
const CAUTION_BLADE: &str =
    "The blade slips towards the hand that holds the cable: cut away from it";
const CAUTION_TESTER: &str = "An insulation tester gives hundreds of volts: keep hands off, and discharge the \
cable after each reading";
const CAUTION_DEAD: &str = "Prove dead at these terminals again before touching them";
const CAUTION_LIVE: &str = "From here on the cabling is live: covers on, tools and hands out, one person \
at the switch, and a second who can open it";

impl<'a> Work<'a> {
    /// Ports that have an end, in the order of the document.
    fn ports(&self) -> Vec<&'a PortParts<'a>> {
        self.parts.ports.iter().filter(|p| self.ends.iter().any(|e| e.port == p.name)).collect()
    }

    fn ends_at(&self, port: &str) -> Vec<&'a End> {
        self.ends.iter().filter(|e| e.port == port).collect()
    }

    fn plate_at(&self, port: &str) -> Option<&'a Plate> {
        self.plates.iter().find(|p| p.port == port)
    }

    fn isolate(&self) -> Step {
        let voltage = self.parts.voltage_v_max.map_or_else(
            || "the system voltage".to_owned(),
            |v| show(v, Dimension::Voltage, System::Metric),
        );
        Step {
            text: vec![
                "Switch off, open the service disconnect, lock it and keep the key.".to_owned(),
                "Wait as long as the makers of inverter and battery state.".to_owned(),
                format!(
                    "Prove the meter on a known source up to {voltage}, measure pole to pole and each \
                     pole to chassis at every terminal you will touch, and prove the meter again."
                ),
                "Below 60 V DC and 30 V AC everywhere: go on. Otherwise: stop.".to_owned(),
            ],
            tools: vec!["voltage detector, two-pole".to_owned(), "lock and tag".to_owned()],
            caution: Some(CAUTION_ISOLATE.to_owned()),
            ..step(
                ISOLATE,
                "Isolate, lock, wait, measure, prove the meter",
                Action::Isolate,
                "vehicle",
            )
        }
    }

    /// Bench work on every cable of a run.
    fn make_up(&self, run: &RunParts<'_>, steps: &mut Vec<Step>) {
        let id = &run.run.id.value;
        let index = self.parts.runs.iter().position(|r| r.run.id.value == *id);
        let cut_mm = index.and_then(|i| self.cuts.get(i)).and_then(|c| c.cut_mm);
        let sized = index.and_then(|i| self.sizes.get(i)).and_then(|s| s.cable.as_ref());
        for cable in &run.cables {
            let mine: Vec<&End> =
                self.ends.iter().filter(|e| e.run == *id && e.cable == cable.from).collect();
            if mine.is_empty() {
                continue;
            }
            let name = slug(&[id, &cable.from]);
            steps.push(self.cut(&name, About::cable(id, &cable.from), cut_mm, sized));
            steps.push(Step {
                text: vec![format!(
                    "Put a label at both ends that names the run and the letter: {} {}.",
                    id, cable.from
                )],
                parts: vec![(
                    keys::label(id, &cable.from),
                    u32::try_from(mine.len()).unwrap_or(2),
                )],
                after: vec![format!("{name}-cut")],
                why: Some(
                    "letters must match at both ends when all cables look alike".to_owned(),
                ),
                about: About::cable(id, &cable.from),
                ..step(
                    &format!("{name}-mark"),
                    &format!("Mark {id} {} at both ends", cable.from),
                    Action::Mark,
                    BENCH,
                )
            });
            for end in &mine {
                self.finish_end(&name, end, steps);
            }
            steps.push(bench_test(&name, id, &cable.from, &mine));
        }
    }

    fn cut(
        &self,
        name: &str,
        about: About,
        cut_mm: Option<f64>,
        cable: Option<&Cable>,
    ) -> Step {
        let length = cut_mm.map_or_else(
            || "the length, which is not known yet".to_owned(),
            |mm| show_both(mm, Dimension::Length, self.parts.units),
        );
        let part = cable.filter(|_| cut_mm.is_some()).map(|c| (keys::cable(c), 1));
        let title = format!(
            "Cut {} {}",
            about.run.as_deref().unwrap_or_default(),
            about.cable.as_deref().unwrap_or_default()
        );
        Step {
            text: vec![
                format!("Cut one piece of {length}, square to the axis."),
                "All cables of this run have the same length: lay them side by side and compare."
                    .to_owned(),
            ],
            parts: part.into_iter().collect(),
            tools: vec!["cable cutter".to_owned(), "tape".to_owned()],
            about,
            ..step(&format!("{name}-cut"), &title, Action::Cut, BENCH)
        }
    }

    /// Thread, strip, crimp, bend, shrink: one end on the bench.
    fn finish_end(&self, name: &str, end: &End, steps: &mut Vec<Step>) {
        let name = format!("{name}-{}", slug(&[&end.port]));
        let at = format!("{} {}, {} end", end.run, end.cable, spoken(&end.port));
        let about = About::end(&end.run, Some(&end.cable), &end.port);
        let cable_marked = format!("{}-mark", slug(&[&end.run, &end.cable]));
        let mut last = cable_marked;
        if let Some(threaded) = self.thread(&name, end, &at, &last) {
            last.clone_from(&threaded.id);
            steps.push(threaded);
        }
        let mut before_crimp = vec![last];
        if self.plate_goes_first(&end.port) {
            before_crimp.push(plate_on(&end.port));
        }
        if let Some(screen) = end.screen.as_ref().filter(|s| s.how.is_some()) {
            let dressed = self.screen(&name, screen, &at, &about, before_crimp);
            before_crimp = vec![dressed.id.clone()];
            steps.push(dressed);
        }
        steps.push(Step {
            text: vec![
                end.strip_mm.map_or_else(
                    || "Strip what the barrel needs and no more.".to_owned(),
                    |mm| {
                        let mm = show_both(mm, Dimension::Length, self.parts.units);
                        format!("Strip {mm}: what the barrel needs and no more.")
                    },
                ),
                "Nick no strand; a cut strand means cutting back and starting again."
                    .to_owned(),
            ],
            tools: vec!["cable stripper".to_owned()],
            after: before_crimp,
            caution: Some(CAUTION_BLADE.to_owned()),
            about: about.clone(),
            ..step(&format!("{name}-strip"), &format!("Strip {at}"), Action::Strip, BENCH)
        });
        let Some(lug) = &end.lug else { return };
        steps.push(bench::crimp(&name, end, lug, &at, &about));
        let mut last = format!("{name}-crimp");
        if end.palm == Palm::Bent {
            steps.push(self.bend(&name, end.bend.as_ref(), &at, &about));
            last = format!("{name}-bend");
        }
        let Some(fit) = &end.sleeve else { return };
        let early = goes_first(end, EarlyKind::Sleeve);
        steps.push(Step {
            text: vec![
                "Push the sleeve over the gap between barrel and insulation, covering both."
                    .to_owned(),
                "Shrink from the middle outwards until a bead of adhesive shows all round."
                    .to_owned(),
            ],
            parts: if early { Vec::new() } else { vec![(keys::sleeve(fit), 1)] },
            tools: vec!["hot-air gun".to_owned()],
            after: vec![last],
            caution: Some(CAUTION_HEAT.to_owned()),
            about,
            ..step(
                &format!("{name}-shrink"),
                &format!("Shrink the sleeve on {at}"),
                Action::Shrink,
                BENCH,
            )
        });
    }

    /// What goes on the cable before the lug, pushed well back.
    fn thread(&self, name: &str, end: &End, at: &str, after: &str) -> Option<Step> {
        let mut parts = Vec::new();
        let mut text = Vec::new();
        if let Some(grip) = &end.grip {
            parts.push((keys::grip(grip), 1));
            text.push(
                "Put on the grip: nut, seal, body, in that order, threads to the end."
                    .to_owned(),
            );
        }
        if let Some(grip) = end.grip.as_ref().filter(|_| goes_first(end, EarlyKind::Locknut)) {
            parts.push((keys::locknut(grip), 1));
            text.push("Put on the locknut, behind the plate's place.".to_owned());
        }
        if let Some(fit) = end.sleeve.as_ref().filter(|_| goes_first(end, EarlyKind::Sleeve)) {
            parts.push((keys::sleeve(fit), 1));
            text.push("Put on the sleeve.".to_owned());
        }
        if parts.is_empty() {
            return None;
        }
        text.push("Push everything well back, out of the way of blade and heat.".to_owned());
        let names: Vec<&str> = end.before_lug.iter().map(|e| e.what.as_str()).collect();
        let why = if names.is_empty() {
            None
        } else {
            Some(format!("{} cannot pass over the crimped lug", names.join(", ")))
        };
        Some(Step {
            text,
            parts,
            after: vec![after.to_owned()],
            why,
            about: About::end(&end.run, Some(&end.cable), &end.port),
            ..step(
                &format!("{name}-thread"),
                &format!("Put grip and sleeve on {at}"),
                Action::Thread,
                BENCH,
            )
        })
    }

    /// A plate whose holes a lug cannot pass must be on the cables before the lugs are crimped.
    fn plate_goes_first(&self, port: &str) -> bool {
        self.plate_at(port).is_some()
            && self.ends_at(port).iter().any(|end| goes_first(end, EarlyKind::Plate))
    }

    fn lay(&self, run: &RunParts<'_>) -> Step {
        let id = &run.run.id.value;
        let tests = run
            .cables
            .iter()
            .filter(|c| self.ends.iter().any(|e| e.run == *id && e.cable == c.from))
            .map(|c| format!("{}-test", slug(&[id, &c.from])));
        let mut text = vec![
            "Lay the cables along the measured way, letters outward, without twisting them."
                .to_owned(),
        ];
        if let Some(radius) = &run.run.bend_radius_mm {
            text.push(format!(
                "Bend nowhere tighter than {} to the axis.",
                show_both(radius.value, Dimension::Length, self.parts.units)
            ));
        }
        if let Some(spacing) = &run.run.clip_spacing_mm {
            text.push(format!(
                "Clip at most every {}; no clip on a bend that must move.",
                show_both(spacing.value, Dimension::Length, self.parts.units)
            ));
        }
        Step {
            text,
            tools: vec!["clips and their tool".to_owned()],
            after: tests.chain([ISOLATE.to_owned()]).collect(),
            about: About::run(id),
            ..step(
                &slug(&[id, "lay"]),
                &format!("Lay and clip run {id}"),
                Action::Lay,
                &format!("run {id}"),
            )
        }
    }

    /// Which cable is which, while both ends are still free: a winding joins all phases.
    fn identify(&self, run: &RunParts<'_>) -> Step {
        let id = &run.run.id.value;
        Step {
            text: vec![
                "Do the trials headed \"laid\" of this run: every lug to every lug, and the insulation between \
                 the cables."
                    .to_owned(),
            ],
            tools: vec!["continuity tester".to_owned(), "insulation tester".to_owned()],
            after: vec![slug(&[id, "lay"])],
            why: Some(
                match run.carries {
                    Carries::Phases => {
                        "once landed, the winding joins all phases and a swap cannot be measured"
                    }
                    Carries::Dc => {
                        "once landed, a swap of the poles shows only when it is energised"
                    }
                }
                .to_owned(),
            ),
            caution: Some(CAUTION_TESTER.to_owned()),
            about: About::run(id),
            ..step(
                &slug(&[id, "identify"]),
                &format!("Prove which cable of {id} is which"),
                Action::Test,
                &format!("run {id}"),
            )
        }
    }

    /// Block, ring, plate with loose bolts.
    fn prepare(&self, port: &PortParts<'_>, steps: &mut Vec<Step>) {
        let name = slug(&[&port.name]);
        let about = About::port(&port.name);
        let Some(plate) = self.plate_at(&port.name) else { return };
        if let Some(block) = &plate.block {
            let mut parts = vec![(keys::block(&port.name), 1)];
            let mut tools = Vec::new();
            if let Some((bolt, count)) = &block.bolts {
                parts.push((bolt.clone(), *count));
                let form = bolt.split(' ').nth(1).unwrap_or("hex");
                tools.extend(block.flats_mm.map(|flats| keys::driver(form, flats)));
            }
            if block.torque_nm.is_some() {
                tools.push("torque wrench".to_owned());
            }
            steps.push(Step {
                text: vec![
                    "Seat the block, put in all its bolts, then tighten them evenly."
                        .to_owned(),
                ],
                parts,
                tools,
                torque_nm: block.torque_nm,
                after: vec![ISOLATE.to_owned()],
                caution: Some(CAUTION_DEAD.to_owned()),
                about: about.clone(),
                ..step(
                    &format!("{name}-block"),
                    &format!("Fit the spacer block in {}", spoken(&port.name)),
                    Action::Block,
                    &port.name,
                )
            });
        }
        let mut ready = self.runs_laid(&port.name);
        if self.plate_goes_first(&port.name) {
            steps.push(self.plate_on_step(plate, &name));
            ready.push(plate_on(&port.name));
        }
        if let Some(seal) = &plate.seal {
            steps.push(Step {
                text: vec![
                    "Wipe groove and face; a hair or a score leaks.".to_owned(),
                    "Lay the ring in its groove without twisting it. The groove is wider than the ring so \
                     that the squeezed ring has room: that is right."
                        .to_owned(),
                ],
                parts: vec![(keys::oring(&seal.oring), 1)],
                after: ready.clone(),
                about: about.clone(),
                ..step(
                    &format!("{name}-ring"),
                    &format!("Lay the O-ring in the plate of {}", spoken(&port.name)),
                    Action::Ring,
                    &port.name,
                )
            });
            ready.push(format!("{name}-ring"));
        }
        steps.push(self.offer(port, plate, &name, ready));
    }

    fn runs_laid(&self, port: &str) -> Vec<String> {
        let runs =
            self.parts.runs.iter().filter(|r| {
                self.ends.iter().any(|e| e.run == r.run.id.value && e.port == port)
            });
        runs.map(|r| slug(&[&r.run.id.value, "lay"])).collect()
    }

    fn plate_on_step(&self, plate: &Plate, name: &str) -> Step {
        let threaded = self.ends_at(&plate.port);
        let after = threaded
            .iter()
            .map(|e| format!("{}-{}-thread", slug(&[&e.run, &e.cable]), slug(&[&e.port])))
            .collect();
        let letters: Vec<&str> = threaded.iter().map(|e| e.cable.as_str()).collect();
        Step {
            text: vec![
                format!(
                    "Slide the plate over the cables, in its own order: {}.",
                    letters.join(", ")
                ),
                "Mind its right way up: the marked face looks out.".to_owned(),
            ],
            parts: vec![(keys::plate(&plate.port), 1)],
            after,
            why: Some("the lugs will not pass through the plate's holes".to_owned()),
            about: About::port(&plate.port),
            ..step(
                &format!("{name}-plate-on"),
                &format!("Put the plate of {} on its cables", spoken(&plate.port)),
                Action::Thread,
                BENCH,
            )
        }
    }

    fn offer(
        &self,
        port: &PortParts<'_>,
        plate: &Plate,
        name: &str,
        mut after: Vec<String>,
    ) -> Step {
        after.push(ISOLATE.to_owned());
        let mut parts = Vec::new();
        if !self.plate_goes_first(&port.name) {
            parts.push((keys::plate(&port.name), 1));
        }
        let mut tools = Vec::new();
        if let Some(bolts) = &plate.bolts {
            parts.extend(stack_parts(&bolts.stack, bolts.count));
            tools.extend(stack_tool(&bolts.stack));
        }
        let mut text = vec![
            "Screw the grip bodies into the plate, hand-tight, each over its own cable.".to_owned(),
            "Bring the plate to the housing, right way up, and start every bolt by hand; leave all loose."
                .to_owned(),
        ];
        if self.parts_clear_hole(port) {
            let later = self
                .ends_at(&port.name)
                .into_iter()
                .filter(|end| !goes_first(end, EarlyKind::Locknut))
                .filter_map(|end| end.grip.as_ref());
            parts.extend(later.map(|grip| (keys::locknut(grip), 1)));
            text[0] = "Put each grip body through its hole and run its locknut on, hand-tight."
                .to_owned();
        }
        Step {
            text,
            parts: merged(parts),
            tools,
            after,
            why: Some(
                "with the plate loose the lugs find their place without strain".to_owned(),
            ),
            about: About::port(&port.name),
            ..step(
                &format!("{name}-offer"),
                &format!("Offer up the plate of {}, bolts loose", spoken(&port.name)),
                Action::Offer,
                &port.name,
            )
        }
    }

    fn parts_clear_hole(&self, port: &PortParts<'_>) -> bool {
        let hole = port.plate.as_ref().and_then(|p| p.given.grip_hole.as_ref());
        hole.is_some_and(|h| h.value == GripHole::Clear)
    }

    /// Every lug of a port, bolts loose.
    fn land(&self, port: &PortParts<'_>, steps: &mut Vec<Step>) {
        let name = slug(&[&port.name]);
        let plate = self.plate_at(&port.name);
        for end in self.ends_at(&port.name) {
            let Some(stack) = &end.stack else { continue };
            let mut after = vec![ISOLATE.to_owned(), slug(&[&end.run, "identify"])];
            if plate.is_some() {
                after.push(format!("{name}-offer"));
            }
            if plate.is_some_and(|p| p.block.is_some()) {
                after.push(format!("{name}-block"));
            }
            let order = match (&stack.nut, &stack.washer) {
                (Some(_), Some(_)) => "lug, washer, nut",
                (Some(_), None) => "lug, nut",
                (None, Some(_)) => "bolt, washer, lug",
                (None, None) => "bolt, lug",
            };
            let mut text = vec![
                format!(
                    "Land {} on terminal {}: {order}; palm flat on the pad.",
                    end.cable, end.terminal
                ),
                "Turn it in by hand and leave it loose.".to_owned(),
            ];
            if let Some(thread) = end.screen.as_ref().and_then(|s| s.bolt.as_ref()) {
                text.push(format!(
                    "Bolt the screen's pigtail to bare metal of the housing, {thread}, by the shortest way."
                ));
            }
            steps.push(Step {
                text,
                parts: stack_parts(stack, 1),
                tools: stack_tool(stack).into_iter().collect(),
                after,
                why: Some("bolts stay loose until every lug has landed".to_owned()),
                caution: Some(CAUTION_DEAD.to_owned()),
                about: About::end(&end.run, Some(&end.cable), &end.port),
                ..step(
                    &land_id(end),
                    &format!("Land {} {} in {}, loose", end.run, end.cable, spoken(&end.port)),
                    Action::Land,
                    &port.name,
                )
            });
        }
    }

    /// Torque lugs, then the plate, then grips.
    fn tighten(&self, port: &PortParts<'_>, steps: &mut Vec<Step>) {
        let name = slug(&[&port.name]);
        let ends = self.ends_at(&port.name);
        let landed: Vec<String> = self.landed_with(&ends);
        let mut torqued = Vec::new();
        for end in &ends {
            let Some(stack) = &end.stack else { continue };
            let id = format!("{}-torque", land_id(end));
            let mut tools: Vec<String> = stack_tool(stack).into_iter().collect();
            tools.push("torque wrench".to_owned());
            steps.push(Step {
                text: vec![
                    "Hold the cable so that the lug does not turn, torque, and mark the head."
                        .to_owned(),
                ],
                tools,
                torque_nm: end.torque.as_ref().map(|t| t.torque_nm),
                after: landed.clone(),
                why: end.torque.as_ref().map(|t| governed(&t.governed_by)),
                about: About::end(&end.run, Some(&end.cable), &end.port),
                ..step(
                    &id,
                    &format!("Torque {} {} in {}", end.run, end.cable, spoken(&end.port)),
                    Action::TorqueLug,
                    &port.name,
                )
            });
            torqued.push(id);
        }
        let Some(plate) = self.plate_at(&port.name) else { return };
        if let Some(bolts) = &plate.bolts {
            let mut tools: Vec<String> = stack_tool(&bolts.stack).into_iter().collect();
            tools.push("torque wrench".to_owned());
            steps.push(Step {
                text: vec![
                    "Torque crosswise, half first, then all the way round again.".to_owned(),
                    "No gap may be seen between plate and housing.".to_owned(),
                ],
                tools,
                torque_nm: bolts.torque.as_ref().map(|t| t.torque_nm),
                after: torqued,
                about: About::port(&port.name),
                ..step(
                    &format!("{name}-plate-torque"),
                    &format!(
                        "Torque the {} plate bolts of {}",
                        bolts.count,
                        spoken(&port.name)
                    ),
                    Action::TorquePlate,
                    &port.name,
                )
            });
        }
        self.tighten_grips(port, plate, steps);
    }

    /// Lands of the port and of the far ends of the same runs: a joint is torqued when all have landed.
    fn landed_with(&self, ends: &[&End]) -> Vec<String> {
        self.ends
            .iter()
            .filter(|e| e.stack.is_some() && ends.iter().any(|mine| mine.run == e.run))
            .map(land_id)
            .collect()
    }

    fn tighten_grips(&self, port: &PortParts<'_>, plate: &Plate, steps: &mut Vec<Step>) {
        let name = slug(&[&port.name]);
        let after = match &plate.bolts {
            Some(_) => vec![format!("{name}-plate-torque")],
            None => vec![format!("{name}-offer")],
        };
        for held in &plate.grips {
            let flats = show(held.grip.flats_mm, Dimension::Length, System::Metric);
            steps.push(Step {
                text: vec![
                    "Tighten the body in the plate, then the nut on the cable, until the seal grips.".to_owned(),
                    "Pull once by hand: the cable does not slide.".to_owned(),
                ],
                tools: vec![format!("open spanner {flats}, two"), "torque wrench".to_owned()],
                torque_nm: Some(held.grip.torque_nm),
                after: after.clone(),
                why: Some("grips come last so that no torque twists the cable".to_owned()),
                about: About::end(&held.run, Some(&held.cable), &port.name),
                ..step(
                    &slug(&[&held.run, &held.cable, &port.name, "grip"]),
                    &format!("Tighten the grip of {} {} in {}", held.run, held.cable, spoken(&port.name)),
                    Action::TightenGrip,
                    &port.name,
                )
            });
        }
    }

    /// Prove, cover, fuse, energise.
    fn close(&self, steps: &mut Vec<Step>) {
        let everything: Vec<String> = steps.iter().map(|s| s.id.clone()).collect();
        steps.push(Step {
            text: vec![
                "Do the trials headed \"fitted\" and write every reading down.".to_owned(),
                "A reading outside its limit: find out why before anything is covered.".to_owned(),
            ],
            tools: vec!["insulation tester".to_owned(), "four-wire ohmmeter".to_owned()],
            after: everything,
            why: Some("a fault found now costs a cover, not a fire".to_owned()),
            caution: Some(
                "An insulation tester gives hundreds of volts: keep hands off, discharge afterwards, and \
                 never test through electronics that its maker does not allow"
                    .to_owned(),
            ),
            ..step("prove-fitted", "Prove the fitted cabling, still dead", Action::Prove, "vehicle")
        });
        let mut covered = Vec::new();
        for port in self.ports() {
            let id = slug(&[&port.name, "cover"]);
            steps.push(Step {
                text: vec!["Fit the cover and its warning label.".to_owned()],
                parts: vec![(keys::WARNING_LABEL.to_owned(), 1)],
                after: vec!["prove-fitted".to_owned()],
                about: About::port(&port.name),
                ..step(&id, &format!("Cover {}", spoken(&port.name)), Action::Cover, &port.name)
            });
            covered.push(id);
        }
        let parts = self.protection_parts();
        if !parts.is_empty() {
            steps.push(Step {
                text: vec![
                    "Fit pre-charge and discharge resistors where the makers' documents put them.".to_owned(),
                    "Fit the fuse last.".to_owned(),
                ],
                parts,
                after: covered.clone(),
                caution: Some(CAUTION_DEAD.to_owned()),
                ..step("fuse", "Fit the resistors and the fuse", Action::Fuse, "protection")
            });
            covered.push("fuse".to_owned());
        }
        steps.push(Step {
            text: vec![
                "Do the trials headed \"first power\" and \"first drive\", in that order."
                    .to_owned(),
            ],
            after: covered,
            caution: Some(CAUTION_LIVE.to_owned()),
            ..step("prove-live", "Energise and prove", Action::Prove, "vehicle")
        });
    }

    fn protection_parts(&self) -> Vec<(String, u32)> {
        let Some(protected) = self.protection else { return Vec::new() };
        let given = self.parts.build.protection.as_ref();
        let mut parts: Vec<(String, u32)> =
            protected.fuse.iter().map(|fuse| (keys::fuse(fuse), 1)).collect();
        let ohms = [
            ("pre-charge", given.and_then(|p| p.precharge_ohm.as_ref())),
            ("discharge", given.and_then(|p| p.discharge_ohm.as_ref())),
        ];
        for (what, ohm) in ohms {
            parts.extend(ohm.map(|ohm| (keys::resistor(what, ohm.value), 1)));
        }
        parts
    }
}

/// Why the torque of a lug's bolt is this one.
fn governed(by: &str) -> String {
    if by.starts_with("stated") {
        format!("the torque is {by}")
    } else {
        format!("the torque is limited by {by}")
    }
}

fn step(id: &str, title: &str, action: Action, place: &str) -> Step {
    Step {
        id: id.to_owned(),
        title: title.to_owned(),
        text: Vec::new(),
        action,
        place: place.to_owned(),
        about: About::default(),
        parts: Vec::new(),
        tools: Vec::new(),
        torque_nm: None,
        after: Vec::new(),
        why: None,
        caution: None,
    }
}

fn bench_test(name: &str, run: &str, cable: &str, ends: &[&End]) -> Step {
    let after = ends
        .iter()
        .map(|end| {
            let end_name = format!("{name}-{}", slug(&[&end.port]));
            let last = match (&end.lug, &end.sleeve, end.palm) {
                (None, _, _) => "strip",
                (Some(_), Some(_), _) => "shrink",
                (Some(_), None, Palm::Bent) => "bend",
                (Some(_), None, Palm::Straight) => "crimp",
            };
            format!("{end_name}-{last}")
        })
        .collect();
    Step {
        text: vec![
            "Do the trials headed \"bench\" on this cable and write the readings down."
                .to_owned(),
            "Pull each lug by hand and look for strands outside the barrel.".to_owned(),
        ],
        tools: vec!["four-wire ohmmeter".to_owned(), "thermometer".to_owned()],
        after,
        about: About::cable(run, cable),
        ..step(
            &format!("{name}-test"),
            &format!("Prove {run} {cable} on the bench"),
            Action::Test,
            BENCH,
        )
    }
}

/// Whether a kind of part must be on the cable before the lug.
fn goes_first(end: &End, kind: EarlyKind) -> bool {
    end.before_lug.iter().any(|e| e.kind == kind)
}

fn stack_parts(stack: &Stack, count: u32) -> Vec<(String, u32)> {
    let keys = [
        keys::bolt(stack),
        stack.nut.as_ref().map(keys::nut),
        stack.washer.as_ref().map(keys::washer),
    ];
    keys.into_iter().flatten().map(|key| (key, count)).collect()
}

fn stack_tool(stack: &Stack) -> Option<String> {
    let bolt = stack.bolt.as_ref().map(|b| keys::driver(&b.form, b.flats_mm));
    bolt.or_else(|| stack.nut.as_ref().map(|n| keys::driver("hex", n.flats_mm)))
}

fn merged(parts: Vec<(String, u32)>) -> Vec<(String, u32)> {
    let mut sum: Vec<(String, u32)> = Vec::new();
    for (part, count) in parts {
        match sum.iter_mut().find(|(p, _)| *p == part) {
            Some((_, n)) => *n += count,
            None => sum.push((part, count)),
        }
    }
    sum
}

fn land_id(end: &End) -> String {
    slug(&[&end.run, &end.cable, &end.port, "land"])
}

fn plate_on(port: &str) -> String {
    slug(&[port, "plate-on"])
}

/// Orders steps so that each follows what it needs, and the assembler changes place and tool least.
///
/// Of the steps that may come next: first one with the same work at the same place, then the same
/// place, then the same work, else the first written. Greedy: each choice can be explained.
fn order(steps: Vec<Step>) -> Vec<Step> {
    // A large build has thousands of steps: what each still waits for is counted, not searched.
    let mut waits: Vec<usize> = steps.iter().map(|s| s.after.len()).collect();
    let mut followers: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (index, step) in steps.iter().enumerate() {
        for id in &step.after {
            followers.entry(id.clone()).or_default().push(index);
        }
    }
    let mut waiting: Vec<Option<Step>> = steps.into_iter().map(Some).collect();
    let mut done: Vec<Step> = Vec::with_capacity(waiting.len());
    while done.len() < waiting.len() {
        let next = waiting
            .iter()
            .enumerate()
            .filter(|(index, _)| waits[*index] == 0)
            .filter_map(|(index, s)| Some((change(done.last(), s.as_ref()?), index)))
            .min()
            .map(|(_, index)| index)
            .expect("steps wait for each other in a ring, or for one that does not exist");
        let step = waiting[next].take().expect("a step is done once");
        for follower in followers.get(&step.id).into_iter().flatten() {
            waits[*follower] -= 1;
        }
        done.push(step);
    }
    done
}

/// How much changes for the assembler from one step to the next.
fn change(last: Option<&Step>, next: &Step) -> u8 {
    let Some(last) = last else {
        // Bench work comes before the vehicle is touched.
        return u8::from(next.place != BENCH);
    };
    match (last.place == next.place, last.action == next.action) {
        (true, true) => 0,
        (true, false) => 1,
        (false, true) => 2,
        (false, false) => 3,
    }
}

fn in_order(steps: &[Step]) -> bool {
    let mut before: BTreeSet<&str> = BTreeSet::new();
    steps.iter().all(|step| {
        let follows = step.after.iter().all(|id| before.contains(id.as_str()));
        before.insert(&step.id);
        follows
    })
}
