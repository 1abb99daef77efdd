//! Further circuits of the DC side, each with a fuse and a cable of its own: a DC converter, a heater, a charger.
//!
//! A thin cable behind the main fuse is not protected by it. Each branch is therefore asked what the main run is
//! asked: what it carries, what its fuse bears, what its cable bears, and who is faster at every fault.

use physics::heat::{self, Arrangement, Group, Surroundings};
use physics::laws::fault::Loop;
use physics::units::{Dimension, show_both};

use super::along::{self, Guess};
use super::coordinate::{Coordination, EVER_S, Told, bears, behind, coordinate, withstand_a2s};
use super::fuse::{self, Asked};
use crate::finding::{Notes, Place};
use crate::given::build::BranchGiven;
use crate::given::parts::Parts;
use crate::given::shelf::{Cable, Fuse};

/// A further circuit with a fuse of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Branch {
    /// What it feeds.
    pub name: String,
    /// Where it stands.
    pub at: Place,
    /// A fuse was named that does not exist.
    pub fuse_missing: bool,
    /// Its fuse.
    pub fuse: Option<Fuse>,
    /// What that may carry where it sits.
    pub fuse_carries_a: Option<f64>,
    /// Its cable on the shelf.
    pub cable: Option<String>,
    /// What its place asks of the fuse.
    pub asked: Asked,
    /// Fuse, cable, fault and load laid over each other.
    pub coordination: Option<Coordination>,
}

/// What a branch is fed by.
#[derive(Clone, Debug)]
pub struct Fed<'a> {
    /// The build.
    pub parts: &'a Parts<'a>,
    /// As written.
    pub branch: &'a BranchGiven,
    /// Whether a fuse is named, and the one found.
    pub fuse: (bool, Option<&'a Fuse>),
    /// Cable family where it names none: that of the protected run.
    pub family: Option<&'a str>,
    /// Fault right behind its fuse, which sits where the main fuse sits.
    pub near: Option<Loop>,
    /// Class of fuse where it names none.
    pub class: Option<&'a str>,
    /// Air along it where it states none.
    pub air_c: Option<f64>,
    /// Air around its fuse where it states none.
    pub fuse_air_c: Option<f64>,
    /// How often the fuses bear their peaks.
    pub cycles: f64,
}

/// Chooses and lays out one branch.
pub fn protect(fed: &Fed<'_>, notes: &mut Notes) -> Branch {
    let branch = fed.branch;
    let value = |m: &Option<crate::given::build::At<f64>>| m.as_ref().map(|m| m.value);
    let name = branch.name.as_ref().map_or_else(|| "branch".to_owned(), |n| n.value.clone());
    let cable = fed.cable();
    let air_c = value(&branch.air_c).or(fed.air_c);
    let rating_a = value(&branch.rating_a).or_else(|| fed.rating(&name, cable?, air_c?, notes));
    let short_a2s = cable.and_then(|c| withstand_a2s(fed.parts, c)).map(|(a2s, _)| a2s);
    let far = fed.far(cable);
    let current_a = value(&branch.current_a);
    let asked = Asked {
        current_a,
        peak: value(&branch.peak_a).zip(value(&branch.peak_s)),
        air_c: value(&branch.fuse_air_c).or(fed.fuse_air_c),
        voltage_v_max: fed.parts.voltage_v_max.filter(|v| *v > 0.0),
        prospective_a_max: fed.near.map(|f| f.prospective_a()),
        prospective_a_min: far.map(|f| f.prospective_a()),
        cable_rating_a: rating_a,
        cable_withstand_a2s: short_a2s,
        is_tripped: false,
    };
    let fuse = fed.chosen(&asked);
    let borne = cable.zip(rating_a).zip(air_c).and_then(|((cable, rating_a), air_c)| {
        bears(fed.parts, cable, short_a2s?, (rating_a, air_c, cable.limit_c))
    });
    let peak = asked.peak.map(|(amps, seconds)| (seconds, amps, None));
    let ever = current_a.map(|amps| (EVER_S, amps, None));
    let coordination = fuse.and_then(|fuse| {
        coordinate(&Told {
            name: &name,
            fuse,
            air_c: asked.air_c,
            cable: borne,
            near: fed.near,
            far,
            loads: peak.into_iter().chain(ever).collect(),
            cycles: fed.cycles,
            // The control watches the main current; a branch may burn well below its trip.
            trip: None,
        })
    });
    Branch {
        at: branch.at,
        fuse_missing: fed.fuse.0 && fed.fuse.1.is_none(),
        fuse_carries_a: fuse.zip(asked.air_c).map(|(f, air_c)| fuse::carries_a(f, air_c)),
        fuse: fuse.cloned(),
        cable: cable.map(|c| c.row.id.clone()),
        name,
        asked,
        coordination,
    }
}

impl<'a> Fed<'a> {
    fn cable(&self) -> Option<&'a Cable> {
        let stated = self.branch.cable.as_ref().map(|c| c.value.as_str());
        let family = stated.or(self.family)?;
        let size = self.branch.conductor.as_ref()?.value;
        let same = |c: &&Cable| {
            c.family == family && (c.size.area_mm2() - size.area_mm2()).abs() < 1e-6
        };
        self.parts.shelf.cables.iter().find(same)
    }

    /// What the pair carries for ever in open air.
    fn rating(&self, name: &str, cable: &Cable, air_c: f64, notes: &mut Notes) -> Option<f64> {
        let one = along::one(self.parts, cable, &Guess::USED)?;
        let group = Group {
            cables: vec![one; 2],
            arrangement: Arrangement::PairTouching,
            frequency_hz: 0.0,
            harmonics: Vec::new(),
            surroundings: Surroundings {
                altitude_m: self.parts.around.altitude_m,
                ..Surroundings::still_air(air_c)
            },
        };
        let rating_a = heat::rating(&group, cable.limit_c)?.current_a;
        notes.assume(
            &format!("what the cable of branch {name} carries for ever"),
            &show_both(rating_a, Dimension::Current, self.parts.units),
            "two touching cables in open, still air; less in a conduit or a bundle",
            "protection.branch.rating",
        );
        Some(rating_a)
    }

    /// The fault at the far end, its cable at its limit.
    fn far(&self, cable: Option<&Cable>) -> Option<Loop> {
        let (near, cable) = (self.near?, cable?);
        let one_way_m = self.branch.length_mm.as_ref()?.value / 1000.0;
        Some(behind(near, cable, one_way_m, cable.diameter_mm()))
    }

    /// The fuse named, or the smallest that gives what is asked.
    fn chosen(&self, asked: &Asked) -> Option<&'a Fuse> {
        let (is_named, found) = self.fuse;
        if is_named || asked.current_a.is_none() || asked.voltage_v_max.is_none() {
            return found;
        }
        let stated = self.branch.fuse_class.as_ref().map(|c| c.value.as_str());
        fuse::smallest(&self.parts.shelf.fuses, stated.or(self.class)?, asked)
    }
}
