//! Every end of every cable: lug, crimp, strip, sleeve, grip, bolt stack, torque.
//!
//! All cables of a run have the same ends at one port, so each side of a run is finished once and every
//! cable gets it. What is stated is taken, and judged by the checks; what is not is chosen, smallest that
//! fits first. What can neither be known nor chosen is absent, and the check that misses it says what to
//! measure.

mod dress;

use physics::laws::thread::Thread;
use physics::units::{Dimension, show_both};

use super::joint::{Joint, Stated, Turned, Wanted, note_work};
use super::settle::SizedRun;
use crate::finding::{About, Notes, Place, Quantity, Worked};
use crate::given::build::{Landing, Maybe, Palm};
use crate::given::parts::{EndParts, Parts, PortParts, RunParts};
use crate::given::shelf::{Cable, Crimp, Grip, Lug, Sleeve};

pub use super::joint::{Stack, TorqueChoice, TorqueLimit};
pub(crate) use dress::sleeve_span_mm;

/// Which end of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// At the run's from-port.
    From,
    /// At the run's to-port.
    To,
}

/// One end of one cable. A part that could not be chosen is absent and named in a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// Run id.
    pub run: String,
    /// Cable label: its from-terminal.
    pub cable: String,
    /// Which end.
    pub side: Side,
    /// "device.port".
    pub port: String,
    /// Terminal it lands on.
    pub terminal: String,
    /// Lug.
    pub lug: Option<Lug>,
    /// Crimp basis.
    pub crimp: Option<Crimp>,
    /// How the palm is used.
    pub palm: Palm,
    /// Length to strip.
    pub strip_mm: Option<f64>,
    /// Sleeve as fitted.
    pub sleeve: Option<SleeveFit>,
    /// Grip, where the port has a plate.
    pub grip: Option<Grip>,
    /// Bolt stack.
    pub stack: Option<Stack>,
    /// Torque of the bolt.
    pub torque: Option<TorqueChoice>,
    /// What must be on the cable before the lug is crimped, in the order it goes on.
    pub before_lug: Vec<Early>,
}

/// A part that goes on the cable before the lug, and whether it could still pass afterwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Early {
    /// Which kind of part.
    pub kind: EarlyKind,
    /// Shelf id of the part, or the port of a plate.
    pub part: String,
    /// What it is: "grip nut, seal and body", "sleeve".
    pub what: String,
    /// Its opening.
    pub opening_mm: f64,
    /// What it would have to pass: the widest of the crimped lug.
    pub lug_mm: f64,
}

/// The kinds of part a lug may be too wide for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EarlyKind {
    /// Grip nut, seal and body.
    Grip,
    /// The entry plate.
    Plate,
    /// Locknut of a grip.
    Locknut,
    /// Sleeve.
    Sleeve,
}

/// A sleeve cut and shrunk.
#[derive(Clone, Debug, PartialEq)]
pub struct SleeveFit {
    /// The sleeve.
    pub sleeve: Sleeve,
    /// Length to cut.
    pub length_mm: f64,
    /// Length after shrinking.
    pub shrunk_mm: f64,
    /// What it has to cover: the gap, the barrel and the overlap on the insulation.
    pub cover_mm: f64,
}

/// One side of a run with all that is stated about it.
#[derive(Clone, Copy, Debug)]
pub struct Site<'a> {
    /// The build, looked up.
    pub parts: &'a Parts<'a>,
    /// The run.
    pub run: &'a RunParts<'a>,
    /// Which side of it.
    pub side: Side,
    /// The port there.
    pub port: &'a PortParts<'a>,
    /// What is stated for the end.
    pub given: &'a EndParts<'a>,
    /// The cable, if its size is settled.
    pub cable: Option<&'a Cable>,
}

/// Both sides of every run, in the order written.
pub fn sites<'a>(parts: &'a Parts<'a>, sizes: &'a [SizedRun]) -> Vec<Site<'a>> {
    let mut sites = Vec::new();
    for (run, sized) in parts.runs.iter().zip(sizes) {
        for (side, port, given) in
            [(Side::From, run.from, &run.from_end), (Side::To, run.to, &run.to_end)]
        {
            let port = &parts.ports[port];
            sites.push(Site { parts, run, side, port, given, cable: sized.cable.as_ref() });
        }
    }
    sites
}

impl<'a> Site<'a> {
    /// What a finding here is about.
    pub fn about(&self) -> About {
        About::end(&self.run.run.id.value, None, &self.port.name)
    }

    /// "run.phases.to-end.KEY".
    pub fn end_key(&self, key: &str) -> String {
        let end = match self.side {
            Side::From => "from-end",
            Side::To => "to-end",
        };
        format!("run.{}.{end}.{key}", self.run.run.id.value)
    }

    /// "device.motor.port.phases.KEY".
    pub fn port_key(&self, key: &str) -> String {
        format!("device.{}.port.{}.{key}", self.port.device.id.value, self.port.port.id)
    }

    /// "phases at motor.phases".
    pub fn name(&self) -> String {
        format!("{} at {}", self.run.run.id.value, self.port.name)
    }

    /// Where a stated value of the end stands, else the end itself.
    pub fn at_end<T>(&self, given: &Maybe<T>) -> Place {
        let end = self.given.given.at;
        let end = if end == Place::default() { self.run.run.id.at } else { end };
        given.as_ref().map_or(end, |g| g.at)
    }

    /// Where a stated value of the port stands, else the port itself.
    pub fn at_port<T>(&self, given: &Maybe<T>) -> Place {
        given.as_ref().map_or(self.port.port.at, |g| g.at)
    }

    /// A length as a person reads it, in both systems.
    pub fn length(&self, mm: f64) -> String {
        show_both(mm, Dimension::Length, self.parts.units)
    }

    /// The thread of the landing.
    pub fn thread(&self) -> Option<Thread> {
        self.port.port.thread.as_ref().and_then(|t| Thread::parse(&t.value).ok())
    }

    /// How the lug lands: on a tapped hole unless the port says otherwise.
    pub fn landing(&self) -> Landing {
        self.port.port.landing.as_ref().map_or(Landing::Tapped, |l| l.value)
    }

    /// How the palm is used: as made unless the end says otherwise.
    pub fn palm(&self) -> Palm {
        self.given.given.palm.as_ref().map_or(Palm::Straight, |p| p.value)
    }

    /// What is stated about its bolts.
    fn wanted(&self) -> Wanted<'a> {
        let given = self.given.given;
        Wanted {
            place: self.name(),
            keys: self.end_key(""),
            head: &given.head,
            washer: &given.washer,
            class_named: &given.bolt_class,
            class: self.given.class,
            units: self.parts.units,
        }
    }

    /// Diameter the sleeve shrinks onto and the grip's inside sees inside the box: the core where there is a screen.
    pub fn insulation_mm(&self) -> Option<[f64; 2]> {
        self.cable.map(|c| {
            if c.screened {
                [c.core_diameter_mm, c.core_diameter_mm]
            } else {
                [c.diameter_mm_min, c.diameter_mm_max]
            }
        })
    }

    fn work(
        &self,
        what: &str,
        value: f64,
        law: &'static str,
        inputs: &[(&'static str, f64)],
        source: &'static str,
        notes: &mut Notes,
    ) {
        notes.work(Worked {
            what: what.to_owned(),
            about: self.about(),
            value: Quantity::new(value, Dimension::Length),
            law,
            inputs: inputs
                .iter()
                .map(|(name, mm)| (*name, Quantity::new(*mm, Dimension::Length)))
                .collect(),
            source,
        });
    }
}

/// Finishes every end.
pub fn finish(parts: &Parts<'_>, sizes: &[SizedRun], notes: &mut Notes) -> Vec<End> {
    let mut ends = Vec::new();
    let sites = sites(parts, sizes);
    for pair in sites.chunks(2) {
        let finished: Vec<End> = pair.iter().map(|site| finish_side(site, notes)).collect();
        for cable in &pair[0].run.cables {
            for end in &finished {
                let terminal = match end.side {
                    Side::From => &cable.from,
                    Side::To => &cable.to,
                };
                ends.push(End {
                    cable: cable.from.clone(),
                    terminal: terminal.clone(),
                    ..end.clone()
                });
            }
        }
    }
    ends
}

/// An end of any cable of a run: the cable and the terminal are still to be named.
fn finish_side(site: &Site<'_>, notes: &mut Notes) -> End {
    let lug = dress::lug(site, notes);
    let crimp = lug.and_then(|lug| dress::crimp(site, lug, notes));
    let strip_mm = dress::strip_mm(site, lug, notes);
    let sleeve =
        lug.zip(strip_mm).and_then(|(lug, strip)| dress::sleeve(site, lug, strip, notes));
    let grip = dress::grip(site);
    let (stack, torque) = lug.map_or((None, None), |lug| bolt(site, lug, notes));
    let before_lug =
        lug.map_or_else(Vec::new, |lug| dress::before_lug(site, lug, grip, sleeve.as_ref()));
    End {
        run: site.run.run.id.value.clone(),
        cable: String::new(),
        side: site.side,
        port: site.port.name.clone(),
        terminal: String::new(),
        lug: lug.cloned(),
        crimp: crimp.cloned(),
        palm: site.palm(),
        strip_mm,
        sleeve,
        grip: grip.cloned(),
        stack,
        torque,
        before_lug,
    }
}

/// The bolt or nut, how far it reaches, and its torque.
fn bolt(
    site: &Site<'_>,
    lug: &Lug,
    notes: &mut Notes,
) -> (Option<Stack>, Option<TorqueChoice>) {
    let Some(joint) = joint(site, lug, notes) else { return (None, None) };
    let stated =
        site.given.given.bolt.as_ref().and_then(|b| super::joint::written_mm(&b.value));
    let length_mm = match joint.turned {
        Turned::Nut(_) => Some(joint.depth_mm),
        Turned::Bolt(_) => stated.map(|(_, mm)| mm).or_else(|| joint.length_mm()),
    };
    let Some(length_mm) = length_mm else { return (None, None) };
    let torque = joint.choose_torque(
        joint.engagement_mm(length_mm),
        &Stated {
            by_build_nm: site.given.given.torque_nm.as_ref().map(|t| t.value),
            by_maker_nm: site.port.port.torque_nm.as_ref().map(|t| t.value),
            maker: "terminal's maker",
        },
    );
    let stack = joint.stack(length_mm, torque.as_ref().map(|t| t.preload_n));
    note_work(&site.name(), &site.about(), &joint, &stack, torque.as_ref(), notes);
    (Some(stack), torque)
}

/// The joint of a lug on its terminal, if everything it needs is known.
pub(crate) fn joint<'a>(site: &Site<'a>, lug: &'a Lug, notes: &mut Notes) -> Option<Joint<'a>> {
    let port = site.port.port;
    let thread = site.thread()?;
    let depth_mm = port.thread_depth_mm.as_ref()?.value;
    let start_mm = port.thread_start_mm.as_ref().map_or_else(
        || {
            notes.assume(
                &format!("start of the thread at {}", site.port.name),
                "0 mm",
                "full thread begins at the landing face unless a plate or bush lies between",
                &site.port_key("thread-start"),
            );
            0.0
        },
        |s| s.value,
    );
    let shelf = site.parts.shelf;
    let designation = thread.designation();
    let wanted = site.wanted();
    let turned = match site.landing() {
        Landing::Tapped => Turned::Bolt(wanted.head(shelf, &designation, notes)?),
        Landing::Stud => {
            Turned::Nut(shelf.nuts.iter().find(|n| n.form == "hex" && n.thread == designation)?)
        }
    };
    let class = wanted.class(shelf, &turned, notes)?;
    let washer = wanted.washer(shelf, &turned, &designation, notes);
    let positive = depth_mm > 0.0 && lug.palm_thickness_mm > 0.0 && lug.hole_mm > 0.0;
    let friction = site.parts.shop.friction;
    (positive && friction >= 0.0).then(|| Joint {
        thread,
        turned,
        class,
        class_stated: site.given.given.bolt_class.is_some(),
        washer,
        ply_mm: lug.palm_thickness_mm,
        hole_mm: lug.hole_mm,
        width_mm: Some(lug.palm_width_mm),
        ply: shelf.materials.iter().find(|m| m.row.id == lug.material),
        pad: site.port.pad_material,
        threaded: site.port.thread_material,
        start_mm,
        depth_mm,
        friction,
    })
}
