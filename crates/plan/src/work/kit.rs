//! What is bought, made and packed: every part with its count per place, spares, cuts, cost.

use crate::given::shelf::Standing;

/// The kit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kit {
    /// Parts in packing order: cable, lugs, sleeves, grips, fasteners, rings, plates, protection, labels.
    pub items: Vec<Item>,
    /// Pieces to cut from reels.
    pub cuts: Vec<Reel>,
    /// Cost of everything that has a price.
    pub cost: f64,
    /// Items without a price.
    pub unpriced: usize,
    /// Mass of everything that has one.
    pub mass_kg: f64,
}

/// What kind of thing an item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Cable by the metre.
    Cable,
    /// Lug.
    Lug,
    /// Sleeve, cut.
    Sleeve,
    /// Grip.
    Grip,
    /// Locknut of a grip.
    Locknut,
    /// Bolt.
    Bolt,
    /// Nut on a stud.
    Nut,
    /// Washer.
    Washer,
    /// O-ring.
    Oring,
    /// Entry plate, made.
    Plate,
    /// Spacer block, made.
    Block,
    /// Fuse.
    Fuse,
    /// Pre-charge or discharge resistor.
    Resistor,
    /// Label.
    Label,
}

/// One line of the kit.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Key used by steps and packing: "hex M8x16 8.8", "2/0 AWG M8", "258".
    pub part: String,
    /// What a person calls it.
    pub name: String,
    /// Kind.
    pub kind: Kind,
    /// Pieces used, without spares; for cable, pieces cut.
    pub count: u32,
    /// Spares packed on top, by the stated rule.
    pub spares: u32,
    /// Length in all, for cable and sleeve.
    pub length_mm: Option<f64>,
    /// Where they are used.
    pub uses: Vec<Use>,
    /// Price of one (of one metre for cable).
    pub price: Option<f64>,
    /// Cost of all, spares included.
    pub cost: Option<f64>,
    /// Mass of all.
    pub mass_g: Option<f64>,
    /// How far the part's values may be trusted.
    pub standing: Standing,
    /// Source key.
    pub source: String,
}

/// Some of an item at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// "motor lugs", "motor plate".
    pub place: String,
    /// How many.
    pub count: u32,
}

/// One reel and what is cut from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reel {
    /// Cable id.
    pub cable: String,
    /// Its length.
    pub reel_mm: f64,
    /// Pieces in cutting order: name and length.
    pub pieces: Vec<(String, f64)>,
    /// Left on the reel.
    pub left_mm: f64,
}

use crate::design::cuts::RunCut;
use crate::design::ends::End;
use crate::design::plates::Plate;
use crate::design::protect::Protected;
use crate::design::settle::SizedRun;
use crate::given::parts::Parts;

/// Lists the kit.
pub fn list(
    _parts: &Parts<'_>,
    _sizes: &[SizedRun],
    _cuts: &[RunCut],
    _ends: &[End],
    _plates: &[Plate],
    _protection: Option<&Protected>,
) -> Kit {
    Kit::default()
}
