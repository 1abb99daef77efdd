//! The spacer block as a part: terminal bores, fixing holes, and slots that lengthen the way along its surface.
//!
//! A slot of depth n between two pads adds 2 n to the creepage, and must be long enough that the way around its
//! end is no shorter:
//!
//! s = p − b,  n ≥ (needed − s)/2,  a ≥ √[((needed + b)/2)² − (p/2)²]     p pitch, b pad, a half the slot's length
//!
//! The terminals' holes are blind: a bolt, or what falls down its hole, must not reach the housing below.
//!
//! Source  Creepage follows the walls of a groove that is wide enough (IEC 60664-1, memory): 1.5 mm at pollution
//!         degree 3, so that a 2 mm cutter serves everywhere.

use space::part::{Counterbore, Face, FlatPart, Hole, Pocket};
use space::path::{Circle, Path};
use space::segment::{Point, apart_mm};

use super::{Proof, Rule, WALL_MM, beside, hundredth};

/// A block to be made.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockWanted {
    /// Name of the part: "block motor.phases".
    pub name: String,
    /// Terminals: label and place.
    pub terminals: Vec<(String, Point)>,
    /// Thread of the terminals: "M8".
    pub thread: String,
    /// Tap drill, or bore for an insert.
    pub tap_mm: f64,
    /// Depth of full thread.
    pub thread_depth_mm: f64,
    /// Where the full thread begins below the pad.
    pub thread_start_mm: f64,
    /// Pitch of the thread.
    pub pitch_mm: f64,
    /// Width of a pad.
    pub pad_mm: f64,
    /// Thickness.
    pub thickness_mm: f64,
    /// Places of the fixing holes.
    pub fixings: Vec<Point>,
    /// Thread of the fixings: "M5".
    pub fixing: String,
    /// Diameter of the fixing holes.
    pub fixing_mm: f64,
    /// Head of the fixing bolts and how deep it is sunk below the pads.
    pub fixing_head_mm: (f64, f64),
    /// Creepage needed between two terminals, and from a terminal to a fixing; zero where it is not known.
    pub creepage_mm: f64,
    /// The opening it goes in through, where that is known, and the play it needs there.
    pub opening: Option<(Path, f64)>,
}

/// Width of a slot.
const SLOT_MM: f64 = 2.0;
/// Pitches that a tap needs below the full thread (common practice, no source).
const TAP_LEAD_PITCHES: f64 = 2.0;

impl BlockWanted {
    /// How deep a terminal's hole is drilled, to the half millimetre up.
    fn drill_mm(&self) -> f64 {
        let least_mm =
            self.thread_start_mm + self.thread_depth_mm + TAP_LEAD_PITCHES * self.pitch_mm;
        (least_mm * 2.0 - 1e-9).ceil() / 2.0
    }
}

/// The block, and its distances.
pub fn lay_block(wanted: &BlockWanted) -> (FlatPart, Vec<Proof>) {
    let slots: Vec<(Pocket, f64)> = wanted
        .terminals
        .windows(2)
        .filter_map(|pair| slot(wanted, pair[0].1, pair[1].1))
        .collect();
    let half_mm = slots.iter().map(|s| s.1).fold(0.0, f64::max);
    let around_mm = (wanted.pad_mm / 2.0).max(half_mm + SLOT_MM / 2.0) + WALL_MM;
    let mut circles: Vec<Circle> =
        wanted.terminals.iter().map(|t| Circle { centre: t.1, radius_mm: around_mm }).collect();
    let head_mm = head_mm(wanted);
    circles.extend(
        wanted
            .fixings
            .iter()
            .map(|f| Circle { centre: *f, radius_mm: head_mm / 2.0 + WALL_MM }),
    );
    let mut proofs = Vec::new();
    let mut part = FlatPart {
        name: wanted.name.clone(),
        outline: Path::belt(&circles),
        thickness_mm: wanted.thickness_mm,
        holes: holes(wanted),
        pockets: slots.iter().map(|s| s.0.clone()).collect(),
        ..FlatPart::default()
    };
    part.holes.sort_by(|a, b| a.name.cmp(&b.name));
    proofs.extend(walls(wanted, &part));
    proofs.extend(ways(wanted));
    if let Some((opening, play_mm)) = &wanted.opening {
        let inside = opening.encloses(&part.outline);
        let gap_mm = opening.gap(&part.outline).map_or(0.0, |g| g.0);
        proofs.push(Proof {
            rule: Rule::Fit,
            what: "block and the edge of the opening".to_owned(),
            value_mm: if inside { gap_mm } else { -gap_mm.max(1.0) },
            least_mm: *play_mm,
        });
    }
    (part, proofs)
}

/// Ways along the surface: between neighbouring terminals, and from each to each fixing, which is earthed.
fn ways(wanted: &BlockWanted) -> Vec<Proof> {
    if wanted.creepage_mm <= 0.0 {
        return Vec::new();
    }
    let mut all = Vec::new();
    let mut hold = |what: String, value_mm: f64| {
        let least_mm = wanted.creepage_mm;
        all.push(Proof { rule: Rule::Creepage, what, value_mm, least_mm });
    };
    for pair in wanted.terminals.windows(2) {
        let slot = slot(wanted, pair[0].1, pair[1].1);
        let over_mm = slot.map_or(0.0, |(pocket, _)| 2.0 * pocket.depth_mm);
        let surface_mm = apart_mm(pair[0].1, pair[1].1) - wanted.pad_mm;
        hold(format!("way from terminal {} to {}", pair[0].0, pair[1].0), surface_mm + over_mm);
    }
    let head_mm = head_mm(wanted);
    for (label, at) in &wanted.terminals {
        for (i, fixing) in wanted.fixings.iter().enumerate() {
            let way_mm = apart_mm(*at, *fixing) - wanted.pad_mm / 2.0 - head_mm / 2.0;
            hold(format!("way from terminal {label} to fixing F{}", i + 1), way_mm);
        }
    }
    all
}

/// Width of a fixing on the surface: its head, or the counterbore it lies in.
fn head_mm(wanted: &BlockWanted) -> f64 {
    let (head_mm, sunk_mm) = wanted.fixing_head_mm;
    if sunk_mm > 0.0 { head_mm + 1.0 } else { head_mm.max(wanted.fixing_mm) }
}

/// Metal, or rather plastic, between bores, slots, edges and floors.
fn walls(wanted: &BlockWanted, part: &FlatPart) -> Vec<Proof> {
    let mut proofs = Vec::new();
    let mut hold = |rule, what: String, value_mm, least_mm| {
        proofs.push(Proof { rule, what, value_mm, least_mm });
    };
    for (i, a) in part.holes.iter().enumerate() {
        let at = [a.x_mm, a.y_mm];
        let edge = part.outline.depth_mm(at) - a.diameter_mm / 2.0;
        hold(Rule::EdgeDistance, format!("wall outside hole {}", a.name), edge, WALL_MM);
        for b in &part.holes[i + 1..] {
            let wall = apart_mm(at, [b.x_mm, b.y_mm]) - (a.diameter_mm + b.diameter_mm) / 2.0;
            hold(
                Rule::GripWall,
                format!("wall between holes {} and {}", a.name, b.name),
                wall,
                WALL_MM,
            );
        }
        for pocket in &part.pockets {
            let wall = -pocket.edge.depth_mm(at) - a.diameter_mm / 2.0;
            hold(
                Rule::GripWall,
                format!("wall between hole {} and a slot", a.name),
                wall,
                WALL_MM,
            );
        }
    }
    for pocket in &part.pockets {
        let what = "floor under a creepage slot".to_owned();
        hold(Rule::Thickness, what, wanted.thickness_mm - pocket.depth_mm, WALL_MM);
    }
    let floor = wanted.thickness_mm - wanted.drill_mm();
    hold(Rule::Thickness, "floor under the terminals' holes".to_owned(), floor, WALL_MM);
    proofs
}

/// A slot between two pads where the way along the surface is too short, and half its length.
fn slot(wanted: &BlockWanted, a: Point, b: Point) -> Option<(Pocket, f64)> {
    let pitch = apart_mm(a, b);
    let surface = pitch - wanted.pad_mm; // s = p − b
    if surface >= wanted.creepage_mm || pitch <= 0.0 {
        return None;
    }
    // To the half millimetre up.
    let depth_mm = ((wanted.creepage_mm - surface) / 2.0 * 2.0).ceil() / 2.0;
    let reach = f64::midpoint(wanted.creepage_mm, wanted.pad_mm);
    let half = (reach * reach - pitch * pitch / 4.0).max(0.0).sqrt().max(wanted.pad_mm / 2.0);
    let across = [-(b[1] - a[1]) / pitch, (b[0] - a[0]) / pitch];
    let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
    let end =
        |side: f64| [middle[0] + side * half * across[0], middle[1] + side * half * across[1]];
    let edge = Path::stadium(end(-1.0), end(1.0), SLOT_MM / 2.0);
    Some((Pocket { edge, depth_mm, face: Face::Outer }, half))
}

fn holes(wanted: &BlockWanted) -> Vec<Hole> {
    let terminals = wanted.terminals.iter().map(|(label, at)| Hole {
        name: beside("T", label),
        purpose: format!("terminal {label}"),
        x_mm: hundredth(at[0]),
        y_mm: hundredth(at[1]),
        diameter_mm: wanted.tap_mm,
        thread: Some(wanted.thread.clone()),
        thread_depth_mm: Some(wanted.thread_start_mm + wanted.thread_depth_mm),
        drill_depth_mm: Some(wanted.drill_mm()),
        counterbore: None,
    });
    let (head_mm, sunk_mm) = wanted.fixing_head_mm;
    let sunk = (sunk_mm > 0.0).then_some(Counterbore {
        diameter_mm: head_mm + 1.0,
        depth_mm: sunk_mm.min(wanted.thickness_mm / 2.0),
        face: Face::Outer,
    });
    let fixings = wanted.fixings.iter().enumerate().map(|(i, at)| Hole {
        name: format!("F{}", i + 1),
        purpose: format!("fixing {}", wanted.fixing),
        x_mm: at[0],
        y_mm: at[1],
        diameter_mm: wanted.fixing_mm,
        thread: None,
        thread_depth_mm: None,
        drill_depth_mm: None,
        counterbore: sunk,
    });
    terminals.chain(fixings).collect()
}
