//! A flat machined part: what a plate or a block is, before anyone draws it.
//!
//! The part lies in the plane with its seal side down: z = 0 is the side that meets the housing,
//! z = thickness the side a person sees. Features say which side they are cut from.

use crate::path::Path;

/// Which side a feature is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// The side that meets the housing (z = 0).
    Seal,
    /// The side a person sees (z = thickness).
    Outer,
}

/// A flat part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FlatPart {
    /// What it is called: "plate motor.phases".
    pub name: String,
    /// Outline, counter-clockwise.
    pub outline: Path,
    /// Thickness.
    pub thickness_mm: f64,
    /// Round holes.
    pub holes: Vec<Hole>,
    /// Openings through the part that are not round, clockwise or counter-clockwise.
    pub openings: Vec<Path>,
    /// Grooves of constant width along closed paths.
    pub grooves: Vec<Groove>,
    /// Recesses with a flat floor.
    pub pockets: Vec<Pocket>,
    /// Engraved marks.
    pub marks: Vec<Mark>,
}

/// A round hole, through the part or as deep as it is drilled.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Its name in the hole table: "B1", "G2".
    pub name: String,
    /// What it is for: "bolt M6", "grip U".
    pub purpose: String,
    /// Centre.
    pub x_mm: f64,
    /// Centre.
    pub y_mm: f64,
    /// Diameter as drilled (the tap drill for a thread).
    pub diameter_mm: f64,
    /// Thread cut in it: "M25x1.5".
    pub thread: Option<String>,
    /// Depth of full thread; the whole thickness where absent and there is a thread.
    pub thread_depth_mm: Option<f64>,
    /// How deep it is drilled from the outer side; through the part where absent.
    pub drill_depth_mm: Option<f64>,
    /// Counterbore.
    pub counterbore: Option<Counterbore>,
}

/// A flat-bottomed enlargement of a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counterbore {
    /// Diameter.
    pub diameter_mm: f64,
    /// Depth.
    pub depth_mm: f64,
    /// From which side.
    pub face: Face,
}

/// A groove of constant width.
#[derive(Clone, Debug, PartialEq)]
pub struct Groove {
    /// Its middle, counter-clockwise.
    pub middle: Path,
    /// Width.
    pub width_mm: f64,
    /// Depth.
    pub depth_mm: f64,
    /// From which side.
    pub face: Face,
}

/// A recess with a flat floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Pocket {
    /// Its edge, counter-clockwise.
    pub edge: Path,
    /// Depth.
    pub depth_mm: f64,
    /// From which side.
    pub face: Face,
}

/// An engraved mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Text.
    pub text: String,
    /// Middle of its baseline.
    pub x_mm: f64,
    /// Middle of its baseline.
    pub y_mm: f64,
    /// Height of capitals.
    pub height_mm: f64,
    /// On which side.
    pub face: Face,
}
