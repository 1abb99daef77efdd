//! The entry plates as stated: seal, bolts, grips. (Their outlines and hole positions follow from a face survey.)

use super::ends::{Stack, TorqueChoice};
use crate::given::shelf::{Grip, Material, Oring};

/// One entry plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// "device.port".
    pub port: String,
    /// Material.
    pub material: Option<Material>,
    /// Thickness.
    pub thickness_mm: Option<f64>,
    /// Grips it carries: run, cable, grip.
    pub grips: Vec<PlateGrip>,
    /// Centre distance of neighbouring grips.
    pub grip_pitch_mm: Option<f64>,
    /// Hole for a grip: tapped thread, or clearance diameter.
    pub grip_hole: Option<String>,
    /// Bolts.
    pub bolts: Option<PlateBolts>,
    /// Seal.
    pub seal: Option<Seal>,
    /// Block behind it, held by its own bolts.
    pub block: Option<BlockFit>,
}

/// A grip in a plate.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateGrip {
    /// Run id.
    pub run: String,
    /// Cable label.
    pub cable: String,
    /// The grip.
    pub grip: Grip,
}

/// The plate's bolts.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateBolts {
    /// How many.
    pub count: u32,
    /// Each one's stack.
    pub stack: Stack,
    /// Torque.
    pub torque: Option<TorqueChoice>,
}

/// An O-ring in its groove.
#[derive(Clone, Debug, PartialEq)]
pub struct Seal {
    /// Ring.
    pub oring: Oring,
    /// Groove depth, nominal.
    pub groove_depth_mm: f64,
    /// Groove width.
    pub groove_width_mm: f64,
    /// Groove inside diameter.
    pub groove_inside_mm: f64,
    /// Tolerance of the depth.
    pub groove_tolerance_mm: f64,
    /// Squeeze: least, nominal, most, as parts of the section.
    pub squeeze: [f64; 3],
    /// Fill of the groove: nominal and most.
    pub fill: [f64; 2],
    /// Stretch of the inside diameter.
    pub stretch: f64,
    /// Force of the squeezed ring per length.
    pub load_n_per_mm: f64,
    /// Force of the whole ring.
    pub load_n: f64,
}

/// A spacer block and what holds it.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockFit {
    /// Its material.
    pub material: Option<Material>,
    /// Kit name of its bolts: "hex M5x20", and how many.
    pub bolts: Option<(String, u32)>,
    /// Torque of its bolts.
    pub torque_nm: Option<f64>,
    /// Across flats (or key) of its bolts.
    pub flats_mm: Option<f64>,
}

use super::ends::End;
use crate::finding::Notes;
use crate::given::parts::Parts;

/// Fits the plates.
pub fn fit(_parts: &Parts<'_>, _ends: &[End], _notes: &mut Notes) -> Vec<Plate> {
    Vec::new()
}
