//! The build with its names looked up: ports, runs and parts instead of words.
//!
//! A name that leads nowhere is a finding with the nearest right one, and what hangs on it is left out.
//! After this stage nothing reads a part's name again.

use physics::units::System;

use super::build::{
    At, Build, Carries, Device, EndGiven, Lie, Maybe, PlateGiven, Port, Run, Series,
};
use super::nearest::nearest;
use super::shelf::{
    BoltClass, Cable, Contactor, Crimp, Fuse, Grip, KeptPlate, Lug, Material, Oring, Row,
    Shelf, Sleeve,
};
use crate::finding::{About, Finding, Notes, Place, Verdict};

/// The build, looked up.
#[derive(Clone, Debug)]
pub struct Parts<'a> {
    /// The build as written.
    pub build: &'a Build,
    /// The shelf it was looked up on.
    pub shelf: &'a Shelf,
    /// Which system of units comes first.
    pub units: System,
    /// Settled surroundings.
    pub around: Around,
    /// Settled habits of the shop.
    pub shop: Shop,
    /// Highest DC working voltage, if known.
    pub voltage_v_max: Option<f64>,
    /// Nominal DC voltage, if known.
    pub voltage_v: Option<f64>,
    /// The fuse the build names.
    pub fuse: Option<&'a Fuse>,
    /// A fuse was named that does not exist.
    pub fuse_missing: bool,
    /// The contactor the build names.
    pub contactor: Option<&'a Contactor>,
    /// The fuses of the branches, in their order: named, and found.
    pub branch_fuses: Vec<(bool, Option<&'a Fuse>)>,
    /// All ports, in the order written.
    pub ports: Vec<PortParts<'a>>,
    /// Runs whose two ports exist, in the order written.
    pub runs: Vec<RunParts<'a>>,
}

/// Surroundings with assumptions made (and noted).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around {
    /// Altitude.
    pub altitude_m: f64,
    /// Pollution degree of IEC 60664-1.
    pub pollution_degree: u8,
    /// Overvoltage category of IEC 60664-1.
    pub overvoltage_category: u8,
}

/// Habits of the shop with assumptions made (and noted).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shop {
    /// Cut lengths are multiples of this.
    pub cut_step_mm: f64,
    /// Extra at each end.
    pub trim_mm: f64,
    /// Length of a new reel.
    pub reel_mm: f64,
    /// Share of small parts packed extra.
    pub spares: f64,
    /// Friction of thread and head.
    pub friction: f64,
}

/// A port with its materials.
#[derive(Clone, Debug)]
pub struct PortParts<'a> {
    /// "device.port".
    pub name: String,
    /// Its device.
    pub device: &'a Device,
    /// As written.
    pub port: &'a Port,
    /// What the terminals' thread is cut in.
    pub thread_material: Option<&'a Material>,
    /// What the palm lies on.
    pub pad_material: Option<&'a Material>,
    /// What lies between terminals.
    pub insulator: Option<&'a Material>,
    /// The block's material.
    pub block_material: Option<&'a Material>,
    /// The plate.
    pub plate: Option<PlateParts<'a>>,
}

/// A plate with its parts.
#[derive(Clone, Debug)]
pub struct PlateParts<'a> {
    /// As written.
    pub given: &'a PlateGiven,
    /// Plate material.
    pub material: Option<&'a Material>,
    /// What the housing's holes are cut in.
    pub thread_material: Option<&'a Material>,
    /// Class of the bolts.
    pub class: Option<&'a BoltClass>,
    /// Ring.
    pub oring: Option<&'a Oring>,
    /// The kept plate it is, where one is named.
    pub kept: Option<&'a KeptPlate>,
}

/// A run with its ports and cables.
#[derive(Clone, Debug)]
pub struct RunParts<'a> {
    /// As written.
    pub run: &'a Run,
    /// Index of the from-port in [`Parts::ports`].
    pub from: usize,
    /// Index of the to-port.
    pub to: usize,
    /// What it carries.
    pub carries: Carries,
    /// Its cables: labels at both ends.
    pub cables: Vec<CablePair>,
    /// How they lie.
    pub lie: Lie,
    /// Hottest air along it, if known.
    pub air_c: Option<f64>,
    /// Frequency; zero for DC; unknown for phases with none stated.
    pub frequency_hz: Option<f64>,
    /// Cables to choose from, smallest first; one only where the size is fixed.
    pub choice: Vec<&'a Cable>,
    /// The series sized from.
    pub series: Series,
    /// The size is the maker's, not ours.
    pub fixed: bool,
    /// What is stated for the end at `from`.
    pub from_end: EndParts<'a>,
    /// What is stated for the end at `to`.
    pub to_end: EndParts<'a>,
}

/// One cable of a run by its two terminals.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CablePair {
    /// Terminal at the from-port; also the cable's name.
    pub from: String,
    /// Terminal at the to-port.
    pub to: String,
    /// Where it is written (the run where it follows from equal labels).
    pub at: Place,
}

/// What is stated for an end, looked up. An absent part is the program's to choose.
#[derive(Clone, Debug)]
pub struct EndParts<'a> {
    /// As written.
    pub given: &'a EndGiven,
    /// The lug.
    pub lug: Option<&'a Lug>,
    /// The crimp basis.
    pub crimp: Option<&'a Crimp>,
    /// The sleeve.
    pub sleeve: Option<&'a Sleeve>,
    /// The grip.
    pub grip: Option<&'a Grip>,
    /// The bolt's class.
    pub class: Option<&'a BoltClass>,
    /// A name was written for some part that does not exist: do not choose another one silently.
    pub missing: bool,
}

/// Looks up the build on the shelf.
pub fn resolve<'a>(build: &'a Build, shelf: &'a Shelf, notes: &mut Notes) -> Parts<'a> {
    let mut look = Lookup { shelf, notes };
    let units = build.units.as_ref().map_or_else(
        || {
            look.notes.assume(
                "units to display",
                "metric first",
                "the build does not say",
                "units",
            );
            System::Metric
        },
        |u| u.value,
    );
    let ports = look.ports(build);
    let runs = look.runs(build, &ports, units);
    let fuse_named = build.protection.as_ref().and_then(|p| p.fuse.as_ref());
    let fuse = look.part("fuse", &shelf.fuses, |f| &f.row, fuse_named, &About::default());
    let contactor_named = build.protection.as_ref().and_then(|p| p.contactor.as_ref());
    let contactor = look.part(
        "contactor",
        &shelf.contactors,
        |c| &c.row,
        contactor_named,
        &About::default(),
    );
    let branches = build.protection.iter().flat_map(|p| &p.branches);
    let branch_fuses = branches
        .map(|b| {
            let named = b.fuse.as_ref();
            (
                named.is_some(),
                look.part("fuse", &shelf.fuses, |f| &f.row, named, &About::default()),
            )
        })
        .collect();
    let parts = Parts {
        build,
        shelf,
        units,
        around: around(build, look.notes),
        shop: shop(build, look.notes),
        voltage_v_max: build.system.voltage_v_max.as_ref().map(|v| v.value),
        voltage_v: build.system.voltage_v.as_ref().map(|v| v.value),
        fuse_missing: fuse_named.is_some() && fuse.is_none(),
        fuse,
        contactor,
        branch_fuses,
        ports,
        runs,
    };
    terminals_used_once(&parts, notes);
    parts
}

fn around(build: &Build, notes: &mut Notes) -> Around {
    let given = &build.surroundings;
    let altitude_m = given.altitude_mm.as_ref().map_or_else(
        || {
            notes.assume(
                "altitude",
                "1000 m",
                "the usual basis of ratings; thinner air cools less and insulates less",
                "surroundings.altitude",
            );
            1000.0
        },
        |a| a.value / 1000.0,
    );
    let pollution_degree = given.pollution_degree.as_ref().map_or_else(
        || {
            notes.assume(
                "pollution degree",
                "3",
                "dust and damp reach terminal boxes that are opened in a workshop",
                "surroundings.pollution-degree",
            );
            3
        },
        |p| p.value,
    );
    let overvoltage_category = build.system.overvoltage_category.as_ref().map_or_else(
        || {
            notes.assume(
                "overvoltage category",
                "II",
                "usual for a traction battery bus that never meets the grid directly (memory)",
                "system.overvoltage-category",
            );
            2
        },
        |c| c.value,
    );
    Around { altitude_m, pollution_degree, overvoltage_category }
}

fn shop(build: &Build, notes: &mut Notes) -> Shop {
    let given = &build.workshop;
    let mut or =
        |maybe: &Maybe<f64>, assumed: f64, what: &str, text: &str, why: &str, key: &str| {
            maybe.as_ref().map_or_else(
                || {
                    notes.assume(what, text, why, key);
                    assumed
                },
                |m| m.value,
            )
        };
    Shop {
        cut_step_mm: or(
            &given.cut_step_mm,
            5.0,
            "step of cut lengths",
            "5 mm (0.20 in)",
            "what a tape and a cable cutter hold (common practice, no source)",
            "workshop.cut-step",
        ),
        trim_mm: or(
            &given.trim_mm,
            5.0,
            "trim at each end",
            "5 mm (0.20 in)",
            "a square cut costs a little cable (common practice, no source)",
            "workshop.trim",
        ),
        reel_mm: or(
            &given.reel_mm,
            30_000.0,
            "length of a new reel",
            "30 m",
            "pieces are cut from whole reels; state what yours hold",
            "workshop.reel",
        ),
        spares: or(
            &given.spares,
            0.1,
            "spares of small parts",
            "10 %, at least one",
            "a dropped washer must not stop the job (common practice, no source)",
            "workshop.spares",
        ),
        friction: or(
            &given.friction,
            0.12,
            "friction of thread and head",
            "0.12",
            "plated steel as delivered; less friction means more preload at the same torque",
            "workshop.friction",
        ),
    }
}

/// Looks names up and notes those that lead nowhere.
struct Lookup<'a, 'n> {
    shelf: &'a Shelf,
    notes: &'n mut Notes,
}

impl<'a> Lookup<'a, '_> {
    /// A row by its id; a name that is on no shelf is a finding with the nearest right one.
    fn part<R>(
        &mut self,
        kind: &str,
        rows: &'a [R],
        row: fn(&R) -> &Row,
        named: Option<&At<String>>,
        about: &About,
    ) -> Option<&'a R> {
        let named = named?;
        if let Some(found) = rows.iter().find(|r| row(r).id == named.value) {
            return Some(found);
        }
        let near = nearest(&named.value, rows.iter().map(|r| row(r).id.as_str()));
        self.no_part(kind, named, near, about);
        None
    }

    fn no_part(&mut self, kind: &str, named: &At<String>, near: Option<&str>, about: &About) {
        let hint = near.map_or_else(
            || format!("`loomwright shelf {kind}` lists them; a part of your own goes into parts.toml"),
            |near| format!("did you mean `{near}`?"),
        );
        self.notes.find(Finding {
            code: "part-exists",
            verdict: Verdict::Fails,
            at: named.at,
            message: format!("there is no {kind} `{}` on the shelf", named.value),
            value: None,
            limit: None,
            hint: Some(hint),
            source: "common-practice",
            about: about.clone(),
            safety: true,
        });
    }

    fn ports(&mut self, build: &'a Build) -> Vec<PortParts<'a>> {
        let mut ports = Vec::new();
        for device in &build.devices {
            for port in &device.ports {
                let name = format!("{}.{}", device.id.value, port.id);
                let about = About { port: Some(name.clone()), ..About::default() };
                let thread_material = self.material(&port.thread_material, &about);
                let pad_material = self.material(&port.pad_material, &about);
                let insulator = self.material(&port.insulator, &about);
                let block = port.block.as_ref();
                let block_material = block.and_then(|b| self.material(&b.material, &about));
                let plate = port.plate.as_ref().map(|given| self.plate(given, &about));
                ports.push(PortParts {
                    name,
                    device,
                    port,
                    thread_material,
                    pad_material,
                    insulator,
                    block_material,
                    plate,
                });
            }
        }
        ports
    }

    fn material(&mut self, named: &'a Maybe<String>, about: &About) -> Option<&'a Material> {
        self.part("material", &self.shelf.materials, |m| &m.row, named.as_ref(), about)
    }

    fn plate(&mut self, given: &'a PlateGiven, about: &About) -> PlateParts<'a> {
        let (shelf, class) = (self.shelf, given.bolt_class.as_ref());
        PlateParts {
            given,
            material: self.material(&given.material, about),
            thread_material: self.material(&given.thread_material, about),
            class: self.part("bolt class", &shelf.classes, |c| &c.row, class, about),
            oring: self.part("O-ring", &shelf.orings, |o| &o.row, given.oring.as_ref(), about),
            kept: self.part("plate", &shelf.plates, |p| &p.row, given.kept.as_ref(), about),
        }
    }

    fn runs(
        &mut self,
        build: &'a Build,
        ports: &[PortParts<'a>],
        units: System,
    ) -> Vec<RunParts<'a>> {
        let mut runs = Vec::new();
        for run in &build.runs {
            let about = About { run: Some(run.id.value.clone()), ..About::default() };
            let from = self.port_of(run.from.as_ref(), ports, &about);
            let to = self.port_of(run.to.as_ref(), ports, &about);
            let (Some(from), Some(to)) = (from, to) else { continue };
            let cables = self.pair(run, &ports[from], &ports[to], &about);
            let Some(carries) = self.carries(run, &cables, &about) else { continue };
            let (series, family) = self.family(run, units, &about);
            let (choice, fixed) = self.choice(run, family, series, &about);
            runs.push(RunParts {
                run,
                from,
                to,
                carries,
                lie: self.lie(run, carries),
                air_c: self.air(run, build),
                frequency_hz: match carries {
                    Carries::Dc => Some(0.0),
                    Carries::Phases => run.frequency_hz.as_ref().map(|f| f.value),
                },
                choice,
                series,
                fixed,
                from_end: self.end(&run.from_end, &about),
                to_end: self.end(&run.to_end, &about),
                cables,
            });
        }
        runs
    }

    fn port_of(
        &mut self,
        named: Option<&At<String>>,
        ports: &[PortParts<'a>],
        about: &About,
    ) -> Option<usize> {
        let named = named?;
        if let Some(found) = ports.iter().position(|p| p.name == named.value) {
            return Some(found);
        }
        let near = nearest(&named.value, ports.iter().map(|p| p.name.as_str()));
        let all: Vec<&str> = ports.iter().map(|p| p.name.as_str()).collect();
        self.notes.find(Finding {
            code: "port-exists",
            verdict: Verdict::Fails,
            at: named.at,
            message: format!("there is no port `{}`", named.value),
            value: None,
            limit: None,
            hint: Some(match near {
                Some(near) => format!("did you mean `{near}`?"),
                None if all.is_empty() => {
                    "write a device with a port first: [device.motor.port.phases]".to_owned()
                }
                None => format!("the ports are {}", all.join(", ")),
            }),
            source: "common-practice",
            about: about.clone(),
            safety: true,
        });
        None
    }

    /// The cables of a run: as written, or terminal by terminal with equal labels.
    fn pair(
        &mut self,
        run: &'a Run,
        from: &PortParts<'a>,
        to: &PortParts<'a>,
        about: &About,
    ) -> Vec<CablePair> {
        let mut pairs = Vec::new();
        if run.cables.is_empty() {
            for terminal in &from.port.terminals {
                let label = &terminal.value;
                if to.port.terminals.iter().any(|t| t.value == *label) {
                    pairs.push(CablePair {
                        from: label.clone(),
                        to: label.clone(),
                        at: run.id.at,
                    });
                } else {
                    self.no_terminal(label, to, run.id.at, about);
                }
            }
            return pairs;
        }
        for (a, b) in &run.cables {
            let a_exists = from.port.terminals.iter().any(|t| t.value == a.value);
            let b_exists = to.port.terminals.iter().any(|t| t.value == b.value);
            if !a_exists {
                self.no_terminal(&a.value, from, a.at, about);
            }
            if !b_exists {
                self.no_terminal(&b.value, to, b.at, about);
            }
            if a_exists && b_exists {
                pairs.push(CablePair { from: a.value.clone(), to: b.value.clone(), at: b.at });
            }
        }
        pairs
    }

    fn no_terminal(&mut self, label: &str, port: &PortParts<'a>, at: Place, about: &About) {
        let labels: Vec<&str> = port.port.terminals.iter().map(|t| t.value.as_str()).collect();
        self.notes.find(Finding {
            code: "terminal-exists",
            verdict: Verdict::Fails,
            at,
            message: format!("port {} has no terminal `{label}`", port.name),
            value: None,
            limit: None,
            hint: Some(format!(
                "its terminals are {}; say which cable goes where with cables = {{ FROM = \"TO\" }}",
                labels.join(", ")
            )),
            source: "common-practice",
            about: About { port: Some(port.name.clone()), ..about.clone() },
            safety: true,
        });
    }

    fn carries(&mut self, run: &Run, cables: &[CablePair], about: &About) -> Option<Carries> {
        if let Some(carries) = &run.carries {
            return Some(carries.value);
        }
        let all = |labels: &[&str]| {
            !cables.is_empty() && cables.iter().all(|c| labels.contains(&c.from.as_str()))
        };
        if all(&PHASE_LABELS) {
            return Some(Carries::Phases);
        }
        if all(&DC_LABELS) {
            return Some(Carries::Dc);
        }
        if cables.is_empty() {
            // The missing terminals are findings already.
            return None;
        }
        self.notes.find(Finding {
            code: "carries-known",
            verdict: Verdict::Unknown,
            at: run.id.at,
            message: format!("it is not known what run {} carries", run.id.value),
            value: None,
            limit: None,
            hint: Some("write carries = \"phases\" or carries = \"dc\"".to_owned()),
            source: "common-practice",
            about: about.clone(),
            safety: true,
        });
        None
    }

    fn lie(&mut self, run: &Run, carries: Carries) -> Lie {
        if let Some(lie) = &run.lie {
            return lie.value;
        }
        let (lie, text) = match carries {
            Carries::Phases => (Lie::Trefoil, "three touching in a triangle"),
            Carries::Dc => (Lie::Flat, "two touching side by side"),
        };
        self.notes.assume(
            &format!("how the cables of {} lie", run.id.value),
            text,
            "the closest lie heats most",
            &format!("run.{}.lie", run.id.value),
        );
        lie
    }

    fn air(&mut self, run: &Run, build: &Build) -> Option<f64> {
        let air = run.air_c.as_ref().or(build.surroundings.air_c.as_ref());
        air.map(|a| a.value)
    }

    fn family(
        &mut self,
        run: &'a Run,
        units: System,
        about: &About,
    ) -> (Series, Option<String>) {
        let series = run.sizes.as_ref().map(|s| s.value).or_else(|| {
            run.conductor
                .as_ref()
                .map(|c| if is_awg(c.value) { Series::Awg } else { Series::Metric })
        });
        let series = series.unwrap_or_else(|| {
            let (series, text) = match units {
                System::Metric => (Series::Metric, "metric"),
                System::Us => (Series::Awg, "AWG"),
            };
            self.notes.assume(
                &format!("size series of {}", run.id.value),
                text,
                "follows the units the build is shown in",
                &format!("run.{}.sizes", run.id.value),
            );
            series
        });
        let mut families: Vec<&str> = Vec::new();
        for cable in &self.shelf.cables {
            if !families.contains(&cable.family.as_str()) {
                families.push(&cable.family);
            }
        }
        let Some(named) = &run.cable else {
            let usual = families.contains(&USUAL_FAMILY).then(|| USUAL_FAMILY.to_owned());
            if let Some(usual) = &usual {
                self.notes.assume(
                    &format!("cable family of {}", run.id.value),
                    usual,
                    "a common flexible cable; the temperature class decides the size",
                    &format!("run.{}.cable", run.id.value),
                );
            }
            return (series, usual);
        };
        if families.contains(&named.value.as_str()) {
            return (series, Some(named.value.clone()));
        }
        let near = nearest(&named.value, families.iter().copied());
        self.no_part("cable family", named, near, about);
        (series, None)
    }

    /// The cables to choose from, smallest first, and whether the maker fixed the size.
    fn choice(
        &mut self,
        run: &'a Run,
        family: Option<String>,
        series: Series,
        about: &About,
    ) -> (Vec<&'a Cable>, bool) {
        let mut all: Vec<&'a Cable> = self
            .shelf
            .cables
            .iter()
            .filter(|c| Some(&c.family) == family.as_ref())
            .filter(|c| is_awg(c.size) == (series == Series::Awg))
            .collect();
        all.sort_by(|a, b| a.size.area_mm2().total_cmp(&b.size.area_mm2()));
        let Some(fixed) = &run.conductor else { return (all, false) };
        let same = |c: &&&Cable| (c.size.area_mm2() - fixed.value.area_mm2()).abs() < 1e-6;
        if let Some(found) = all.iter().find(same) {
            return (vec![found], true);
        }
        if let Some(family) = family {
            let sizes: Vec<String> = all.iter().map(|c| c.size.to_string()).collect();
            self.notes.find(Finding {
                code: "part-exists",
                verdict: Verdict::Fails,
                at: fixed.at,
                message: format!("cable {family} is not on the shelf in {}", fixed.value),
                value: None,
                limit: None,
                hint: Some(format!("its sizes are {}", sizes.join(", "))),
                source: "common-practice",
                about: about.clone(),
                safety: true,
            });
        }
        (Vec::new(), true)
    }

    fn end(&mut self, given: &'a EndGiven, about: &About) -> EndParts<'a> {
        let shelf = self.shelf;
        let lug = self.part("lug", &shelf.lugs, |l| &l.row, given.lug.as_ref(), about);
        let sleeve =
            self.part("sleeve", &shelf.sleeves, |s| &s.row, given.sleeve.as_ref(), about);
        let grip = self.part("grip", &shelf.grips, |g| &g.row, given.grip.as_ref(), about);
        let class = self.part(
            "bolt class",
            &shelf.classes,
            |c| &c.row,
            given.bolt_class.as_ref(),
            about,
        );
        // A die may be named by its code, which several rows share: the lug then says which is meant.
        let by_code =
            given.die.as_ref().is_some_and(|d| shelf.crimps.iter().any(|c| c.die == d.value));
        let named_die = given.die.as_ref().filter(|_| !by_code);
        let crimp = self.part("crimp", &shelf.crimps, |c| &c.row, named_die, about);
        let missing = (given.lug.is_some() && lug.is_none())
            || (given.sleeve.is_some() && sleeve.is_none())
            || (given.grip.is_some() && grip.is_none())
            || (given.bolt_class.is_some() && class.is_none())
            || (named_die.is_some() && crimp.is_none());
        EndParts { given, lug, crimp, sleeve, grip, class, missing }
    }
}

/// Labels of phases; a cable between two different ones swaps phases.
pub const PHASE_LABELS: [&str; 6] = ["U", "V", "W", "L1", "L2", "L3"];
/// Labels of a DC pair.
pub const DC_LABELS: [&str; 4] = ["+", "-", "B+", "B-"];
const USUAL_FAMILY: &str = "flex-125";

fn is_awg(size: physics::laws::conductor::ConductorSize) -> bool {
    matches!(size, physics::laws::conductor::ConductorSize::Awg(_))
}

/// Every terminal takes one lug: two cables on one, or a terminal left open, is a mistake.
fn terminals_used_once(parts: &Parts<'_>, notes: &mut Notes) {
    for (index, port) in parts.ports.iter().enumerate() {
        let touched = parts.runs.iter().any(|r| r.from == index || r.to == index);
        if !touched {
            continue;
        }
        for terminal in &port.port.terminals {
            let label = &terminal.value;
            let used = parts.runs.iter().flat_map(|r| {
                let at_from =
                    r.cables.iter().filter(move |c| r.from == index && c.from == *label);
                let at_to = r.cables.iter().filter(move |c| r.to == index && c.to == *label);
                at_from.chain(at_to)
            });
            let used: Vec<&CablePair> = used.collect();
            let (at, message, hint) = match used.len() {
                1 => continue,
                0 => (
                    terminal.at,
                    format!("terminal {label} of {} has no cable", port.name),
                    "connect it, or leave it out of `terminals`",
                ),
                _ => (
                    used[used.len() - 1].at,
                    format!("terminal {label} of {} has {} cables", port.name, used.len()),
                    "each terminal takes one lug",
                ),
            };
            notes.find(Finding {
                code: "terminal-used-once",
                verdict: Verdict::Fails,
                at,
                message,
                value: None,
                limit: None,
                hint: Some(hint.to_owned()),
                source: "common-practice",
                about: About { port: Some(port.name.clone()), ..About::default() },
                safety: true,
            });
        }
    }
}
