//! What keeps a plate from going on turned: its bolt holes, or a notch and marks.

use space::part::{Face, FlatPart, Mark};
use space::path::{Path, Vertex};
use space::segment::{Point, Segment, apart_mm};

use super::{LIP_MM, Wanted, point};

/// Whether the plate can be bolted on turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OneWay {
    /// Its bolt holes meet the housing's one way only.
    ByBolts,
    /// They also meet when it is turned by this angle; a notch at the top edge, where there is room for one, and
    /// marks say which way is right.
    Turned {
        /// The least such angle, degrees.
        by_deg: f64,
        /// Whether a notch was cut.
        notched: bool,
    },
}

/// Capitals of a cable's letter.
const LETTER_MM: f64 = 5.0;
/// Capitals of the other marks.
const SMALL_MM: f64 = 3.5;
/// Width of a letter in heights, of a plain engraving font with its gaps.
const LETTER_WIDE: f64 = 0.8;
/// From a letter to the plate's edge, past its chamfer.
const EDGE_MM: f64 = 2.0;
/// Radius of the notch.
const NOTCH_MM: f64 = 3.0;

/// Whether the bolt pattern maps onto itself when turned, as far as holes have play.
pub(super) fn one_way(wanted: &Wanted<'_>, grips: &[Point]) -> OneWay {
    let holes: Vec<Point> = wanted.face.holes.iter().map(point).collect();
    // A plate with nothing off its middle may go on any way.
    if grips.is_empty() {
        return OneWay::ByBolts;
    }
    let n = holes.len() as f64;
    let sum = holes.iter().fold([0.0, 0.0], |s, h| [s[0] + h[0], s[1] + h[1]]);
    let middle = [sum[0] / n, sum[1] / n];
    // Turned on, every hole may be off by its play; the play of all together shifts the middle by as much again.
    let play_mm = wanted.bolt.hole_mm - wanted.bolt.diameter_mm;
    let angle = |p: Point| libm::atan2(p[1] - middle[1], p[0] - middle[0]);
    let first =
        holes.iter().max_by(|a, b| apart_mm(**a, middle).total_cmp(&apart_mm(**b, middle)));
    let Some(first) = first.copied() else { return OneWay::ByBolts };
    let turns = holes.iter().filter_map(|other| {
        let turn = angle(*other) - angle(first);
        let (s, c) = (libm::sin(turn), libm::cos(turn));
        let turned = |p: Point| {
            let (x, y) = (p[0] - middle[0], p[1] - middle[1]);
            [middle[0] + c * x - s * y, middle[1] + s * x + c * y]
        };
        let meets =
            |p: &Point| holes.iter().any(|h| apart_mm(turned(*p), *h) <= play_mm.max(0.0));
        let by_deg = turn.to_degrees().rem_euclid(360.0);
        let by_deg = by_deg.min(360.0 - by_deg);
        (by_deg > 1.0 && holes.iter().all(meets)).then_some(by_deg)
    });
    match turns.min_by(f64::total_cmp) {
        Some(by_deg) => OneWay::Turned { by_deg, notched: false },
        None => OneWay::ByBolts,
    }
}

/// A rectangle that a text takes, from its lower left to its upper right.
type Room = (Point, Point);

/// Cuts the notch if one is needed, and engraves.
pub(super) fn engrave(
    wanted: &Wanted<'_>,
    grips: &[Point],
    one_way: &mut OneWay,
    part: &mut FlatPart,
) {
    if let OneWay::Turned { notched, .. } = one_way
        && let Some(cut) = notched_outline(part)
    {
        part.outline = cut;
        *notched = true;
    }
    let mut taken: Vec<Room> = Vec::new();
    let mut round: Vec<(Point, f64)> =
        wanted.grips.iter().zip(grips).map(|(g, at)| (*at, g.corners_mm / 2.0)).collect();
    for hole in &wanted.face.holes {
        let head =
            wanted.bolt.head_mm.max(wanted.bolt.sunk_mm.map_or(0.0, |_| wanted.bolt.socket_mm));
        round.push((point(hole), head / 2.0));
    }
    let mut put = |text: &str, height_mm: f64, at: &[Point], part: &mut FlatPart| {
        let room = |p: &Point| room(text, height_mm, *p);
        let free = at.iter().find(|p| is_free(room(p), &part.outline, &round, &taken));
        if let Some(p) = free {
            taken.push(room(p));
            part.marks.push(Mark {
                text: text.to_owned(),
                x_mm: (p[0] * 100.0).round() / 100.0,
                y_mm: (p[1] * 100.0).round() / 100.0,
                height_mm,
                face: Face::Outer,
            });
        }
        free.is_some()
    };
    for (grip, at) in wanted.grips.iter().zip(grips) {
        let around = around(*at, grip.corners_mm / 2.0);
        let _ = put(&grip.terminal, LETTER_MM, &around, part)
            || put(&grip.terminal, SMALL_MM, &around, part);
    }
    let (mut top, mut low) = (spots(&part.outline), spots(&part.outline));
    top.sort_by(|a, b| b[1].total_cmp(&a[1]).then(a[0].abs().total_cmp(&b[0].abs())));
    low.sort_by(|a, b| a[1].total_cmp(&b[1]).then(a[0].abs().total_cmp(&b[0].abs())));
    let _ = put("THIS SIDE UP", SMALL_MM, &top, part) || put("UP", SMALL_MM, &top, part);
    if !wanted.title.is_empty() {
        let _ = put(&wanted.title, SMALL_MM, &low, part) || put(&wanted.title, 2.5, &low, part);
    }
}

/// Spots for a letter around a grip: above, below, then beside and across.
fn around(at: Point, radius_mm: f64) -> Vec<Point> {
    let far = radius_mm + 1.5;
    let side = far + LETTER_MM * LETTER_WIDE / 2.0;
    let slant = 0.75 * far;
    let low = LETTER_MM / 2.0;
    vec![
        [at[0], at[1] + far],
        [at[0], at[1] - far - LETTER_MM],
        [at[0] - side, at[1] - low],
        [at[0] + side, at[1] - low],
        [at[0] + slant + 2.0, at[1] + slant],
        [at[0] - slant - 2.0, at[1] + slant],
        [at[0] + slant + 2.0, at[1] - slant - LETTER_MM],
        [at[0] - slant - 2.0, at[1] - slant - LETTER_MM],
    ]
}

/// Spots all over an outline, to the whole millimetre.
fn spots(outline: &Path) -> Vec<Point> {
    let Some((low, high)) = outline.bounds() else { return Vec::new() };
    let step = ((high[0] - low[0]).max(high[1] - low[1]) / 40.0).max(2.0);
    let count = |axis: usize| ((high[axis] - low[axis]) / step) as usize;
    let mut spots = Vec::new();
    for i in 0..=count(0) {
        for j in 0..=count(1) {
            spots.push([low[0] + i as f64 * step, low[1] + j as f64 * step].map(f64::round));
        }
    }
    spots
}

fn room(text: &str, height_mm: f64, at: Point) -> Room {
    let half = text.chars().count() as f64 * height_mm * LETTER_WIDE / 2.0;
    ([at[0] - half, at[1]], [at[0] + half, at[1] + height_mm])
}

/// Whether a text lies on the plate, clear of what stands on it and of other texts.
fn is_free(room: Room, outline: &Path, round: &[(Point, f64)], taken: &[Room]) -> bool {
    let (low, high) = room;
    let clear_of_round = round.iter().all(|(centre, radius_mm)| {
        let near = [centre[0].clamp(low[0], high[0]), centre[1].clamp(low[1], high[1])];
        apart_mm(near, *centre) >= radius_mm + 1.0
    });
    let clear_of_texts = taken.iter().all(|(l, h)| {
        low[0] > h[0] + 1.0
            || high[0] + 1.0 < l[0]
            || low[1] > h[1] + 1.0
            || high[1] + 1.0 < l[1]
    });
    let middle = f64::midpoint(low[0], high[0]);
    let rim =
        [low, [middle, low[1]], [high[0], low[1]], high, [middle, high[1]], [low[0], high[1]]];
    let frame = || Path::polygon(&[low, [high[0], low[1]], high, [low[0], high[1]]]);
    // The corners tell most spots at little cost; the frame tells a notch between them.
    clear_of_round
        && clear_of_texts
        && rim.iter().all(|p| outline.depth_mm(*p) >= EDGE_MM)
        && outline.gap(&frame()).is_some_and(|gap| gap.0 >= EDGE_MM)
}

/// The outline with a half-round notch in the middle of its topmost straight side, if there is room for one.
fn notched_outline(part: &FlatPart) -> Option<Path> {
    let pieces = part.outline.segments();
    let height = |s: &Segment| s.from()[1] + s.to()[1];
    let (index, side) = pieces
        .iter()
        .enumerate()
        .filter(|(_, s)| matches!(s, Segment::Line { .. }) && s.length_mm() >= 5.0 * NOTCH_MM)
        .max_by(|a, b| height(a.1).total_cmp(&height(b.1)))?;
    let half = NOTCH_MM / side.length_mm();
    let (p, q) = (side.at(0.5 - half), side.at(0.5 + half));
    let mut cut = part.outline.clone();
    // The metal is to the left of its edge; an arc that turns right dents it.
    let notch = [
        Vertex { x_mm: p[0], y_mm: p[1], bulge: -1.0 },
        Vertex { x_mm: q[0], y_mm: q[1], bulge: 0.0 },
    ];
    cut.vertices.splice(index + 1..index + 1, notch);
    let clear = part
        .grooves
        .iter()
        .all(|g| cut.gap(&g.middle).is_some_and(|gap| gap.0 - g.width_mm / 2.0 >= LIP_MM));
    (clear && !cut.crosses_itself()).then_some(cut)
}
