//! Every end of every cable: lug, crimp, strip, sleeve, grip, bolt stack, torque.
//!
//! All cables of a run have the same ends at one port, so each side of a run is finished once and every
//! cable gets it. What is stated is taken, and judged by the checks; what is not is chosen, smallest that
//! fits first. What can neither be known nor chosen is absent, and the check that misses it says what to
//! measure.

mod dress;
mod screen;
pub(crate) mod tool;
mod tongue;
mod warm;

use physics::laws::clamp::Roughness;
use physics::laws::thread::Thread;
use physics::units::{Dimension, show_both};

use super::joint::{Joint, Stated, Turned, Wanted, note_work};
use super::preload::{self, Kept};
use super::settle::{Heat, SizedRun};
use crate::finding::{About, Notes, Place, Quantity, Worked};
use crate::given::build::{Landing, Maybe, Palm};
use crate::given::parts::{EndParts, Parts, PortParts, RunParts};
use crate::given::shelf::{Cable, Crimp, Grip, Lug, Sleeve};

pub use super::joint::{Stack, TorqueChoice, TorqueLimit};
pub(crate) use dress::sleeve_span_mm;
pub use screen::ScreenEnd;
pub use tongue::Tongue;
pub use warm::LugHeat;

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
    /// What is left of the bolt's preload.
    pub kept: Option<Kept>,
    /// How the palm is bent, where it is used bent.
    pub bend: Option<Tongue>,
    /// How warm the lug becomes.
    pub warm: Option<LugHeat>,
    /// How the screen ends, on a screened cable.
    pub screen: Option<ScreenEnd>,
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
    /// How warm it becomes, if that is known.
    pub heat: Option<&'a Heat>,
}

/// Both sides of every run, in the order written.
pub fn sites<'a>(parts: &'a Parts<'a>, sizes: &'a [SizedRun]) -> Vec<Site<'a>> {
    let mut sites = Vec::new();
    for (run, sized) in parts.runs.iter().zip(sizes) {
        for (side, port, given) in
            [(Side::From, run.from, &run.from_end), (Side::To, run.to, &run.to_end)]
        {
            let port = &parts.ports[port];
            let (cable, heat) = (sized.cable.as_ref(), sized.heat.as_ref());
            sites.push(Site { parts, run, side, port, given, cable, heat });
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
    let kept =
        lug.zip(torque.as_ref()).and_then(|(lug, torque)| keep(site, lug, torque, notes));
    let warm =
        lug.and_then(|lug| warm::warm(site, lug, kept.as_ref().map(Kept::worst_n), notes));
    let bend = lug.and_then(|lug| tongue::bend(site, lug, stack.as_ref(), notes));
    let screen = screen::finish(site, lug, strip_mm, notes);
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
        kept,
        bend,
        warm,
        screen,
        before_lug,
    }
}

/// Coldest air taken where none is stated, degC.
const COLD_C: f64 = -20.0;

/// How rough the faces of a landing are: the pad decides, for palm and washer are drawn and rolled.
fn roughness(site: &Site<'_>, notes: &mut Notes) -> Roughness {
    match &site.port.port.pad_roughness_mm {
        Some(stated) => Roughness::of_mean_depth_um(stated.value * 1000.0),
        None => {
            notes.assume(
                &format!("faces at {}", site.port.name),
                "smooth, Rz below 10 um",
                "palm and washer are drawn and rolled, and a pad is tinned or fine-turned; a milled pad settles \
                 about a quarter more",
                &site.port_key("pad-roughness"),
            );
            Roughness::Below10Um
        }
    }
}

/// What is left of the lug bolt's preload over the temperatures its joint meets.
fn keep(site: &Site<'_>, lug: &Lug, torque: &TorqueChoice, notes: &mut Notes) -> Option<Kept> {
    let joint = joint(site, lug, &mut Notes::default())?;
    let cold_c = site.parts.build.surroundings.cold_c.as_ref().map_or_else(
        || {
            notes.assume(
                "coldest air",
                &show_both(COLD_C, Dimension::Temperature, site.parts.units),
                "a winter night outdoors; bolted joints shrink in it",
                "surroundings.cold",
            );
            COLD_C
        },
        |c| c.value,
    );
    let hot_c = site.heat.and_then(|heat| {
        let peak = heat.peak.as_ref().map_or(f64::NEG_INFINITY, |p| p.conductor_c);
        heat.conductor_c.map(|steady| steady.max(peak)).filter(|c| c.is_finite())
    });
    let wanted_n = preload::wanted_n(warm::drop_ohm(site)?);
    let rough = roughness(site, notes);
    let kept = preload::keep(&joint, torque.preload_n, wanted_n, rough, cold_c, hot_c)?;
    preload::note(&site.name(), &site.about(), &kept, notes);
    Some(kept)
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
        Landing::Stud => Turned::Nut(wanted.nut(shelf, &designation, notes)?),
    };
    let class = wanted.class(shelf, &turned, notes)?;
    let pad_mm = port.pad_width_mm.as_ref().map_or(f64::INFINITY, |w| w.value);
    let room_mm = lug.palm_width_mm.min(pad_mm);
    let washer = wanted.washer(shelf, &turned, &designation, room_mm, notes);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Plan;
    use crate::checks::marked::{BASE, merge, planned};

    fn end<'a>(plan: &'a Plan, run: &str, side: Side) -> &'a End {
        plan.ends.iter().find(|e| e.run == run && e.side == side).expect("an end")
    }

    fn length_mm(patch: &str, run: &str, side: Side) -> f64 {
        let plan = planned(&merge(BASE, patch));
        end(&plan, run, side).stack.as_ref().expect("a stack").length_mm
    }

    #[test]
    fn every_cable_has_two_ends_on_its_own_terminals() {
        let plan = planned(BASE);
        let all: Vec<(&str, &str, Side, &str)> = plan
            .ends
            .iter()
            .map(|e| (e.run.as_str(), e.cable.as_str(), e.side, e.terminal.as_str()))
            .collect();
        let expected = [
            ("phases", "U", Side::From, "U"),
            ("phases", "U", Side::To, "U"),
            ("phases", "V", Side::From, "V"),
            ("phases", "V", Side::To, "V"),
            ("phases", "W", Side::From, "W"),
            ("phases", "W", Side::To, "W"),
            ("dc", "+", Side::From, "+"),
            ("dc", "+", Side::To, "+"),
            ("dc", "-", Side::From, "-"),
            ("dc", "-", Side::To, "-"),
        ];
        assert_eq!(all, expected);
    }

    #[test]
    fn bolts_come_out_as_the_trade_takes_them() {
        // Common practice, no source: with block and plate depth M8 bolts of 16 mm, directly on the inverter's pads 12 mm.
        let free = "[run.phases.to-end]\nbolt = absent\n[run.phases.from-end]\nbolt = absent\nhead = \"hex\"";
        assert_eq!(length_mm(free, "phases", Side::To), 16.0);
        assert_eq!(length_mm(free, "phases", Side::From), 12.0);
        // Common practice, no source: the same torque serves the phase and the DC lugs of an inverter.
        let plan = planned(BASE);
        let torque = |run, side| end(&plan, run, side).torque.as_ref().map(|t| t.torque_nm);
        assert_eq!(torque("phases", Side::From), torque("dc", Side::To));
    }

    #[test]
    fn the_lug_is_the_one_the_trade_takes() {
        // Common practice, no source: 2/0 AWG on M8 is a lug with a 5/16 in hole, pressed with the die marked 50.
        let plan = planned(BASE);
        let end = end(&plan, "phases", Side::To);
        let lug = end.lug.as_ref().expect("a lug");
        assert_eq!((lug.size.to_string().as_str(), lug.stud.as_str()), ("2/0 AWG", "M8"));
        assert_eq!(end.crimp.as_ref().map(|c| c.die.as_str()), Some("50"));
        // The barrel's depth and 2 mm in sight, to the next half millimetre.
        assert_eq!(end.strip_mm, Some((2.0 * (lug.barrel_depth_mm + 2.0)).ceil() / 2.0));
    }

    #[test]
    fn what_a_lug_cannot_pass_goes_on_first_in_order() {
        let kinds = |patch: &str| -> Vec<EarlyKind> {
            let plan = planned(&merge(BASE, patch));
            end(&plan, "dc", Side::To).before_lug.iter().map(|e| e.kind).collect()
        };
        // A palm of 21 mm does not pass a grip of 17 mm; a sleeve of 24 mm passes it.
        assert_eq!(kinds(""), [EarlyKind::Grip]);
        // A sleeve of 19 mm does not.
        let narrow = "[run.dc.to-end]\nsleeve = \"3:1 19/6\"";
        assert_eq!(kinds(narrow), [EarlyKind::Grip, EarlyKind::Sleeve]);
        // Neither does the hole for an M20 entry thread, nor its locknut.
        let small = "[device.inverter.port.dc.plate]\ngrip-hole = \"clear\"\n[run.dc.to-end]\ngrip = \"M20x1.5 brass 6.5-14\"";
        assert_eq!(kinds(small), [EarlyKind::Grip, EarlyKind::Plate, EarlyKind::Locknut]);
        // A wide grip passes a straight palm, but not a bent one.
        let wide = "[run.dc.to-end]\ngrip = \"M32x1.5 brass 17-26.3\"\npalm = ";
        assert_eq!(kinds(&format!("{wide}\"straight\"")), []);
        assert_eq!(kinds(&format!("{wide}\"bent\"")), [EarlyKind::Grip]);
    }

    #[test]
    fn a_sleeve_is_cut_for_what_it_covers_and_loses() {
        let plan = planned(BASE);
        let end = end(&plan, "dc", Side::From);
        let (fit, lug) =
            (end.sleeve.as_ref().expect("a sleeve"), end.lug.as_ref().expect("a lug"));
        let cable = plan.sizes.iter().find(|s| s.run == "dc").and_then(|s| s.cable.as_ref());
        let overlap = cable.expect("a size").diameter_mm_max;
        let strip = end.strip_mm.expect("a strip length");
        assert!(
            (fit.cover_mm - (strip - lug.barrel_depth_mm + lug.barrel_depth_mm + overlap))
                .abs()
                < 1e-9
        );
        assert!(fit.shrunk_mm >= fit.cover_mm);
        assert_eq!(fit.length_mm % 5.0, 0.0);
        // Five millimetres less would not cover.
        assert!((fit.length_mm - 5.0) * (1.0 - fit.sleeve.length_loss) < fit.cover_mm);
    }

    #[test]
    fn a_shops_die_decides_between_crimps_of_one_lug() {
        let plan = planned(&merge(
            BASE,
            "[workshop]\ndies = absent\n[run.dc.from-end]\ndie = absent\n[run.dc.to-end]\ndie = absent",
        ));
        // No dies stated: the lug's first, said aloud.
        assert_eq!(
            end(&plan, "dc", Side::From).crimp.as_ref().map(|c| c.row.id.as_str()),
            Some("hex 2/0 AWG")
        );
        assert!(plan.assumed.iter().any(|a| a.key == "run.dc.from-end.die"));
    }

    #[test]
    fn every_number_of_an_end_says_how_it_came_about() {
        let plan = planned(BASE);
        for end in &plan.ends {
            let about = About::end(&end.run, None, &end.port);
            let worked = |what: &str| {
                plan.worked.iter().any(|w| {
                    w.about == about && w.what.starts_with(what) && w.value.value.is_finite()
                })
            };
            for what in [
                "strip length",
                "sleeve, length to cover",
                "sleeve, length after shrinking",
                "thread engagement",
                "thread left",
                "torque limit",
                "preload",
            ] {
                assert!(worked(what), "{what} of {} at {}", end.run, end.port);
            }
        }
    }

    #[test]
    fn a_washer_that_would_overhang_a_small_palm_is_left_out_aloud() {
        let small = "[run.dc]\nconductor = \"6 AWG\"\n[run.dc.from-end]\nwasher = absent";
        let plan = planned(&merge(BASE, small));
        let end = end(&plan, "dc", Side::From);
        assert_eq!(end.lug.as_ref().map(|l| l.row.id.as_str()), Some("6 M8"));
        assert!(end.stack.as_ref().is_some_and(|s| s.washer.is_none()));
        let said = plan.assumed.iter().find(|a| a.key == "run.dc.from-end.washer");
        assert_eq!(said.map(|a| a.value.as_str()), Some("none"));
    }

    #[test]
    fn what_is_not_stated_and_not_chosen_is_assumed_aloud() {
        let patch = "[run.phases.to-end]\npalm = absent\nbolt-class = absent\nhead = absent\nwasher = absent\n[device.motor.port.phases]\nthread-start = absent";
        let plan = planned(&merge(BASE, patch));
        for key in [
            "run.phases.to-end.palm",
            "run.phases.to-end.bolt-class",
            "run.phases.to-end.head",
            "run.phases.to-end.washer",
            "device.motor.port.phases.thread-start",
        ] {
            let said = plan.assumed.iter().find(|a| a.key == key);
            assert!(said.is_some_and(|a| !a.value.is_empty() && !a.why.is_empty()), "{key}");
        }
    }

    /// Sets one number of every row of one kind.
    type Set = fn(&mut crate::given::shelf::Shelf, f64);

    const NUMBERS: &[Set] = &[
        |s, v| s.lugs.iter_mut().for_each(|r| r.hole_mm = v),
        |s, v| s.lugs.iter_mut().for_each(|r| r.barrel_inside_mm = v),
        |s, v| s.lugs.iter_mut().for_each(|r| r.barrel_outside_mm = v),
        |s, v| s.lugs.iter_mut().for_each(|r| r.barrel_depth_mm = v),
        |s, v| s.lugs.iter_mut().for_each(|r| r.palm_width_mm = v),
        |s, v| s.lugs.iter_mut().for_each(|r| r.palm_thickness_mm = v),
        |s, v| s.lugs.iter_mut().for_each(|r| r.length_mm = v),
        |s, v| s.sleeves.iter_mut().for_each(|r| r.supplied_mm = v),
        |s, v| s.sleeves.iter_mut().for_each(|r| r.recovered_mm = v),
        |s, v| s.sleeves.iter_mut().for_each(|r| r.length_loss = v),
        |s, v| s.grips.iter_mut().for_each(|r| r.clamp_mm_min = v),
        |s, v| s.grips.iter_mut().for_each(|r| r.clamp_mm_max = v),
        |s, v| s.grips.iter_mut().for_each(|r| r.flats_mm = v),
        |s, v| s.grips.iter_mut().for_each(|r| r.corners_mm = v),
        |s, v| s.grips.iter_mut().for_each(|r| r.thread_length_mm = v),
        |s, v| s.orings.iter_mut().for_each(|r| r.inside_mm = v),
        |s, v| s.orings.iter_mut().for_each(|r| r.inside_tol_mm = v),
        |s, v| s.orings.iter_mut().for_each(|r| r.section_mm = v),
        |s, v| s.orings.iter_mut().for_each(|r| r.section_tol_mm = v),
        |s, v| s.bolts.iter_mut().for_each(|r| r.bearing_mm = v),
        |s, v| s.bolts.iter_mut().for_each(|r| r.lengths_mm = vec![v]),
        |s, v| s.nuts.iter_mut().for_each(|r| r.height_mm = v),
        |s, v| s.washers.iter_mut().for_each(|r| r.inside_mm = v),
        |s, v| s.washers.iter_mut().for_each(|r| r.outside_mm = v),
        |s, v| s.washers.iter_mut().for_each(|r| r.thickness_mm = v),
        |s, v| s.washers.iter_mut().for_each(|r| r.height_mm = Some(v)),
        |s, v| s.materials.iter_mut().for_each(|r| r.modulus_mpa = v),
        |s, v| s.materials.iter_mut().for_each(|r| r.expansion_um_per_mk = v),
        |s, v| s.bolts.iter_mut().for_each(|r| r.flats_mm = v),
        |s, v| s.bolts.iter_mut().for_each(|r| r.head_height_mm = v),
        |s, v| s.nuts.iter_mut().for_each(|r| r.flats_mm = v),
        |s, v| s.nuts.iter_mut().for_each(|r| r.bearing_mm = v),
        |s, v| s.cables.iter_mut().for_each(|r| r.core_diameter_mm = v),
        |s, v| s.holes.iter_mut().for_each(|r| r.clearance_mm = v),
        |s, v| s.materials.iter_mut().for_each(|r| r.tensile_mpa = v),
        |s, v| s.materials.iter_mut().for_each(|r| r.shear_mpa = v),
        |s, v| s.materials.iter_mut().for_each(|r| r.bearing_mpa = v),
        |s, v| s.materials.iter_mut().for_each(|r| r.engagement_d = v),
        |s, v| s.materials.iter_mut().for_each(|r| r.tracking_index = Some(v)),
        |s, v| s.classes.iter_mut().for_each(|r| r.tensile_mpa = v),
        |s, v| s.classes.iter_mut().for_each(|r| r.yield_mpa = v),
    ];

    #[test]
    fn parts_with_senseless_numbers_are_planned_without_panic() {
        use crate::given::shelf_read::standard;
        // Stated parts reach every stage even where none would be chosen.
        let stated = "[run.dc]\ncable = \"flex-125-screened\"\n[run.dc.from-end]\nscreen = \"pigtail\"\nwasher = \"disc\"\n[run.dc.to-end]\nscreen = \"grip-contact\"\nlug = \"2/0 M8\"\nsleeve = \"3:1 24/8\"\ngrip = \"M25x1.5 brass 10-17\"";
        let given = crate::given::document::read(&merge(BASE, stated)).build;
        for set in NUMBERS {
            for value in [-1.0, 0.0, 1e-9, 1e9] {
                let mut shelf = standard().clone();
                set(&mut shelf, value);
                let plan = crate::plan(&given, &shelf);
                assert!(!plan.findings.is_empty());
            }
        }
    }
}
