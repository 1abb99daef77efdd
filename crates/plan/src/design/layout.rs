//! A plate laid out on a surveyed face: grips, groove, bolts, outline, thickness and marks, and the proof that
//! each keeps its distance.
//!
//! 1. grips go to their terminals, and from there only as far as spanners, bolts and the opening push them
//! 2. the groove runs between opening and bolts, as near to the opening as the ring's least radius allows
//! 3. the outline is a belt around bolts and groove, or the land's own edge where the belt would hang over
//! 4. the thickness is the least of the stock sizes that threads, groove, heads and the gap under the seal bear
//! 5. marks say which cable, which side is up, and whose plate it is
//!
//! Every distance that matters is then measured on the finished part, not on what it was meant to be, and kept
//! as a [`Proof`]; the checks judge those. A part with a broken proof is refused: it is shown, with what would
//! cure it, and not for cutting.

mod blocks;
mod grips;
mod groove;
mod marks;
mod proof;
pub mod stiff;
mod reuse;

pub use blocks::{BlockWanted, lay_block};
pub(crate) use grips::in_row;
pub(crate) use groove::STRETCH_MOST;
pub use marks::OneWay;
pub use reuse::{Misfit, reuse};
pub use stiff::Stiff;

use physics::laws::spanner::Tool;
use physics::units::System;
use space::part::{Counterbore, Face, FlatPart, Groove, Hole};
use space::path::{Circle, Path};
use space::segment::{Point, Segment};

use super::survey::{SurveyedFace, SurveyedPoint};
use crate::given::shelf::Oring;

/// What is to be laid out.
#[derive(Clone, Debug)]
pub struct Wanted<'a> {
    /// The face it must fit.
    pub face: &'a SurveyedFace,
    /// Name of the part: "plate motor.phases".
    pub name: String,
    /// Title of the build, engraved.
    pub title: String,
    /// Grips in the order of their cables.
    pub grips: Vec<GripWanted>,
    /// Bolts.
    pub bolt: BoltWanted,
    /// Seal.
    pub seal: SealWanted<'a>,
    /// Thickness as stated.
    pub thickness_mm: Option<f64>,
    /// Young's modulus of the plate.
    pub modulus_mpa: f64,
    /// From a bolt's head, or the groove, to the plate's edge.
    pub margin_mm: f64,
    /// Units of messages.
    pub units: System,
}

/// A grip to be placed.
#[derive(Clone, Debug, PartialEq)]
pub struct GripWanted {
    /// Its terminal's label.
    pub terminal: String,
    /// Thread tapped in the plate; none for a clear hole with a locknut.
    pub tapped: Option<String>,
    /// Outside diameter of its thread.
    pub thread_mm: f64,
    /// Hole as drilled: the tap drill, or the clear hole.
    pub bore_mm: f64,
    /// Pitch of its thread.
    pub pitch_mm: f64,
    /// Length of its thread.
    pub thread_length_mm: f64,
    /// Across flats.
    pub flats_mm: f64,
    /// Across corners.
    pub corners_mm: f64,
    /// Where the maker wants it, whatever the terminal says.
    pub at: Option<Point>,
}

impl GripWanted {
    /// Radius of what passes through or behind the plate: the thread, or its locknut.
    fn behind_mm(&self) -> f64 {
        if self.tapped.is_some() { self.thread_mm / 2.0 } else { self.corners_mm / 2.0 }
    }
}

/// The bolts that hold the plate.
#[derive(Clone, Debug, PartialEq)]
pub struct BoltWanted {
    /// Thread: "M6".
    pub thread: String,
    /// Its diameter.
    pub diameter_mm: f64,
    /// Clearance hole, ISO 273.
    pub hole_mm: f64,
    /// Head or washer, whichever is wider.
    pub head_mm: f64,
    /// Outside of the socket that turns it.
    pub socket_mm: f64,
    /// Sunk by this much into a counterbore, where wanted.
    pub sunk_mm: Option<f64>,
}

/// The seal.
#[derive(Clone, Debug)]
pub struct SealWanted<'a> {
    /// Rings to choose from; one only where the maker states it.
    pub rings: Vec<&'a Oring>,
    /// Whether a ring may be made of cord where none fits.
    pub cord: bool,
    /// Groove depth as stated.
    pub depth_mm: Option<f64>,
    /// Groove width as stated.
    pub width_mm: Option<f64>,
    /// Tolerance of the depth.
    pub tolerance_mm: f64,
    /// Hardness.
    pub hardness_shore_a: f64,
}

/// A plate as laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid {
    /// The part.
    pub part: FlatPart,
    /// Where each grip went.
    pub grips: Vec<LaidGrip>,
    /// What turns the grips there.
    pub tool: Tool,
    /// Least distance of neighbouring grips; none for one grip.
    pub pitch_mm: Option<f64>,
    /// The ring and its way; none where no way was found.
    pub seal: Option<LaidSeal>,
    /// How far the plate lifts between its bolts.
    pub stiff: Option<Stiff>,
    /// Whether it can go on turned.
    pub one_way: OneWay,
    /// Every distance that matters.
    pub proofs: Vec<Proof>,
    /// What would cure a broken rule.
    pub cures: Vec<(Rule, String)>,
}

/// A grip as placed.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidGrip {
    /// Its terminal's label.
    pub terminal: String,
    /// Centre.
    pub at: Point,
    /// How far from its terminal.
    pub aside_mm: f64,
}

/// A ring as laid.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidSeal {
    /// The ring, or one made of cord.
    pub oring: Oring,
    /// Length of cord to cut, where it is made of cord.
    pub cord_mm: Option<f64>,
    /// Depth of the groove.
    pub depth_mm: f64,
    /// Width of the groove.
    pub width_mm: f64,
    /// Length of the groove's middle.
    pub length_mm: f64,
    /// Length of its inner wall over π: the diameter of a round groove of that length.
    pub inside_mm: f64,
    /// Tightest radius of its inner wall.
    pub radius_mm: f64,
}

/// Which rule a distance is held to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// Holes meet the housing's.
    Fit,
    /// The groove lies on the land.
    GrooveOnLand,
    /// The ring follows the groove's turns.
    GrooveRadius,
    /// The ring is as long as its groove.
    RingLength,
    /// Spanners turn.
    SpannerRoom,
    /// Metal around a grip.
    GripWall,
    /// Metal around a bolt, and the plate over its face.
    EdgeDistance,
    /// Metal under groove, head and thread.
    Thickness,
    /// Way along the insulation.
    Creepage,
}

/// A distance measured on the finished part, and the least it must be.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    /// The rule.
    pub rule: Rule,
    /// Between what: "grip U and bolt B3".
    pub what: String,
    /// As measured.
    pub value_mm: f64,
    /// The least.
    pub least_mm: f64,
}

impl Proof {
    /// What is left over; negative where the rule is broken.
    pub fn spare_mm(&self) -> f64 {
        self.value_mm - self.least_mm
    }
}

impl Laid {
    /// Whether a proof is broken, so that the part is not for cutting.
    pub fn refused(&self) -> bool {
        self.seal.is_none() || self.proofs.iter().any(|p| !(p.spare_mm() >= -SLACK_MM))
    }

    /// The proof of a rule with least to spare.
    pub fn tightest(&self, rule: Rule) -> Option<&Proof> {
        let of = self.proofs.iter().filter(|p| p.rule == rule);
        of.min_by(|a, b| a.spare_mm().total_cmp(&b.spare_mm()))
    }

    /// What would cure a rule.
    pub fn cure(&self, rule: Rule) -> Option<&str> {
        self.cures.iter().find(|c| c.0 == rule).map(|c| c.1.as_str())
    }
}

/// A proof may miss by what arithmetic loses.
pub const SLACK_MM: f64 = 1e-3;
/// Metal between the groove and any edge or hole (common practice, no source).
pub const LIP_MM: f64 = 1.5;
/// Metal around a grip's hole (common practice, no source).
pub const WALL_MM: f64 = 3.0;
/// Air between what turns and what stands.
pub const PLAY_MM: f64 = 1.0;
/// Ring's least radius at the groove's inner wall, in sections (seal makers' guides, memory).
pub const RADIUS_SECTIONS: f64 = 3.0;
/// Bolt's centre to the plate's edge, in hole diameters (common practice, no source).
pub const EDGE_HOLES: f64 = 1.5;
/// What rounding to a hundredth moves a hole by, at most: half of it in x and y.
const ROUNDED_MM: f64 = 0.0071;
/// How truly a drilled hole is placed (common practice, no source).
pub const DRILLED_MM: f64 = 0.1;
/// Widest hole in bolt diameters: no wider than the coarse series of ISO 273 in any size (memory).
pub const WIDE_HOLE: f64 = 1.15;
/// Turns of a grip's thread that hold it in a tapped plate (common practice, no source).
pub const GRIP_TURNS: f64 = 5.0;
/// Thicknesses that plate is sold in, mm (common practice, no source).
pub const STOCK_MM: [f64; 8] = [6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0];

/// How surely the face is known: thrice the worst standard deviation of its points.
pub(crate) fn unsure_mm(points: &[SurveyedPoint]) -> f64 {
    3.0 * points.iter().filter_map(|p| p.sigma_mm).fold(0.0, f64::max)
}

fn point(p: &SurveyedPoint) -> Point {
    [p.x_mm, p.y_mm]
}

/// The hole drilled for a bolt: the medium clearance of ISO 273, or as much wider as the survey is unsure, up to
/// [`WIDE_HOLE`].
fn drilled_mm(bolt: &BoltWanted, hole: &SurveyedPoint) -> f64 {
    let needed_mm = bolt.diameter_mm + 2.0 * (fit_mm(hole) + ROUNDED_MM);
    // To the tenth, as drills are.
    let wider_mm = (needed_mm * 10.0 - 1e-6).ceil() / 10.0;
    if wider_mm <= WIDE_HOLE * bolt.diameter_mm {
        bolt.hole_mm.max(wider_mm)
    } else {
        bolt.hole_mm
    }
}

/// Play that a bolt needs all around: what drilling and survey may be off.
fn fit_mm(hole: &SurveyedPoint) -> f64 {
    DRILLED_MM + 3.0 * hole.sigma_mm.unwrap_or(0.0)
}

/// Lays the plate out; or says what is missing.
pub fn lay(wanted: &Wanted<'_>) -> Result<Laid, Vec<String>> {
    let missing = missing(wanted);
    let Some(opening) = wanted.face.opening.as_ref().filter(|_| missing.is_empty()) else {
        return Err(missing);
    };
    let placed = grips::place(wanted, opening);
    let groove = groove::run(wanted, opening);
    let outline = outline(wanted, opening, groove.found.as_ref());
    let mut part = FlatPart { name: wanted.name.clone(), outline, ..FlatPart::default() };
    let seal = groove.found.as_ref().map(|f| f.seal.clone());
    if let Some(found) = &groove.found {
        part.grooves.push(Groove {
            middle: found.middle.clone(),
            width_mm: found.seal.width_mm,
            depth_mm: found.seal.depth_mm,
            face: Face::Seal,
        });
    }
    let mut one_way = marks::one_way(wanted, &placed.at);
    let least_mm = least_thickness_mm(wanted, seal.as_ref());
    let stiff = stiff::settle(wanted, &part, &placed.at, seal.as_ref(), least_mm);
    part.thickness_mm = stiff.as_ref().map_or_else(
        || wanted.thickness_mm.unwrap_or_else(|| stock_mm(least_mm)),
        |s| s.thickness_mm,
    );
    part.holes = holes(wanted, &placed.at, part.thickness_mm);
    marks::engrave(wanted, &placed.at, &mut one_way, &mut part);
    let proofs = proof::measure(wanted, opening, &placed, &part, seal.as_ref(), &groove);
    let grips = wanted.grips.iter().zip(&placed.at).zip(&placed.aside_mm);
    let grips = grips.map(|((grip, at), aside_mm)| LaidGrip {
        terminal: grip.terminal.clone(),
        at: *at,
        aside_mm: *aside_mm,
    });
    let mut laid = Laid {
        part,
        grips: grips.collect(),
        tool: placed.tool,
        pitch_mm: grips::pitch_mm(&placed.at),
        seal,
        stiff,
        one_way,
        proofs,
        cures: Vec::new(),
    };
    laid.cures = proof::cures(wanted, opening, &laid);
    Ok(laid)
}

/// What the face does not tell.
fn missing(wanted: &Wanted<'_>) -> Vec<String> {
    let face = wanted.face;
    let mut missing = Vec::new();
    if face.opening.as_ref().is_none_or(|o| o.crosses_itself() || !(o.area_mm2() > 1.0)) {
        missing.push("the opening as a closed outline".to_owned());
    }
    if face.outline.as_ref().is_some_and(|o| o.crosses_itself() || !(o.area_mm2() > 1.0)) {
        missing.push("the land's edge as a closed outline".to_owned());
    }
    if face.holes.len() < 3 {
        missing.push(format!("at least 3 bolt holes, there are {}", face.holes.len()));
    }
    for grip in &wanted.grips {
        if grip.at.is_none() && !face.terminals.iter().any(|t| t.name == grip.terminal) {
            missing.push(format!("where terminal {} lies", grip.terminal));
        }
    }
    missing
}

/// The circles of a belt around an outline, wider by `out_mm`: its arcs and corners.
fn circles_of(path: &Path, out_mm: f64) -> Vec<Circle> {
    let mut circles: Vec<Circle> =
        path.vertices.iter().map(|v| Circle { centre: v.point(), radius_mm: out_mm }).collect();
    for piece in path.segments() {
        let Segment::Arc { centre, radius_mm, sweep, .. } = piece else { continue };
        if sweep <= 0.0 {
            continue;
        }
        // An arc whose whole circle lies inside is hugged by it; a shallow one by points along it, lest the
        // belt reach around a circle that is not there.
        if path.depth_mm(centre) > radius_mm - 1e-4 {
            circles.push(Circle { centre, radius_mm: radius_mm + out_mm });
            continue;
        }
        let steps = (sweep / 0.1).ceil().max(2.0) as usize;
        for i in 1..steps {
            let centre = piece.at(i as f64 / steps as f64);
            circles.push(Circle { centre, radius_mm: out_mm });
        }
    }
    circles
}

/// The plate's edge.
fn outline(wanted: &Wanted<'_>, opening: &Path, groove: Option<&groove::Found>) -> Path {
    let edge_mm = |hole: &SurveyedPoint| {
        let head_mm = wanted.bolt.head_mm / 2.0 + wanted.margin_mm;
        head_mm.max(EDGE_HOLES * drilled_mm(&wanted.bolt, hole))
    };
    let bolts = wanted.face.holes.iter();
    let mut circles: Vec<Circle> = bolts
        .map(|h| Circle { centre: point(h).map(hundredth), radius_mm: edge_mm(h) })
        .collect();
    match groove {
        Some(found) => {
            let out_mm = found.seal.width_mm / 2.0 + LIP_MM + wanted.margin_mm;
            circles.extend(circles_of(&found.middle, out_mm));
        }
        None => circles.extend(circles_of(opening, LIP_MM + wanted.margin_mm)),
    }
    let belt = Path::belt(&circles);
    match &wanted.face.outline {
        // Where the belt would hang over the land, the land's own edge is followed.
        Some(land) if !land.encloses(&belt) => land.counter_clockwise(),
        _ => belt,
    }
}

/// The least stock size that is no thinner.
fn stock_mm(least_mm: f64) -> f64 {
    STOCK_MM.into_iter().find(|t| *t >= least_mm).unwrap_or(least_mm.ceil())
}

/// The least thickness by threads, groove and heads.
fn least_thickness_mm(wanted: &Wanted<'_>, seal: Option<&LaidSeal>) -> f64 {
    proof::thickness_needs(wanted, seal).iter().map(|n| n.1).fold(0.0, f64::max)
}

/// To a hundredth, as a drawing says it, so that drawing, DXF and solid are one; what it moves a hole by is part
/// of the proof of fit.
fn hundredth(mm: f64) -> f64 {
    (mm * 100.0).round() / 100.0
}

/// A hole's name: "G-U" and "G+".
fn beside(kind: &str, label: &str) -> String {
    let dash = if label.starts_with(char::is_alphanumeric) { "-" } else { "" };
    format!("{kind}{dash}{label}")
}

fn holes(wanted: &Wanted<'_>, grips: &[Point], thickness_mm: f64) -> Vec<Hole> {
    let counterbore = wanted.bolt.sunk_mm.map(|sunk_mm| Counterbore {
        // Room for the head and the socket that turns it.
        diameter_mm: wanted.bolt.head_mm.max(wanted.bolt.socket_mm) + PLAY_MM,
        depth_mm: sunk_mm.min(thickness_mm / 2.0),
        face: Face::Outer,
    });
    let bolts = wanted.face.holes.iter().map(|hole| Hole {
        name: hole.name.clone(),
        purpose: format!("bolt {}", wanted.bolt.thread),
        x_mm: hundredth(hole.x_mm),
        y_mm: hundredth(hole.y_mm),
        diameter_mm: drilled_mm(&wanted.bolt, hole),
        thread: None,
        thread_depth_mm: None,
        drill_depth_mm: None,
        counterbore,
    });
    let grips = wanted.grips.iter().zip(grips).map(|(grip, at)| Hole {
        name: beside("G", &grip.terminal),
        purpose: format!("grip {}", grip.terminal),
        x_mm: at[0],
        y_mm: at[1],
        diameter_mm: grip.bore_mm,
        thread: grip.tapped.clone(),
        thread_depth_mm: None,
        drill_depth_mm: None,
        counterbore: None,
    });
    bolts.chain(grips).collect()
}

#[cfg(test)]
mod tests;
