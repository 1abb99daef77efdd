//! Where the grips go: at their terminals, pushed aside only as far as they must.
//!
//! Grips are moved apart, away from bolts and into the opening until nothing is too near, a little at a time and
//! always straight, so that they end near where they began. An open spanner is tried first, then a socket, then
//! what turns them from above.

use physics::laws::spanner::{Tool, grip_pitch_mm_min};
use space::path::Path;
use space::segment::{Point, apart_mm};

use super::{LIP_MM, PLAY_MM, WALL_MM, Wanted, point, unsure_mm};
use crate::design::survey::SurveyedPoint;

/// Grips as placed.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Placed {
    pub(super) at: Vec<Point>,
    pub(super) aside_mm: Vec<f64>,
    pub(super) tool: Tool,
    /// How far the worst distance falls short; zero where all are kept.
    pub(super) short_mm: f64,
}

/// Tools from the most wanted to the last resort. The socket's wall is common practice.
pub(super) const TOOLS: [Tool; 3] =
    [Tool::OpenSpanner, Tool::Socket { wall_mm: 4 }, Tool::FromAbove];
/// Rounds of pushing; a row of six settles in fewer than a hundred.
const ROUNDS: usize = 400;
/// Pushed this much too far, so that rounding to a hundredth loses nothing.
const AIM_MM: f64 = 0.02;
/// No grip for power cable is smaller across flats.
const FLATS_MM_MIN: u32 = 14;
/// Distances are kept to this.
pub(super) const KEPT_MM: f64 = 1e-4;

/// Places every grip with the first tool that has room, or as well as may be.
pub(super) fn place(wanted: &Wanted<'_>, opening: &Path) -> Placed {
    let start = starts(wanted);
    let fixed: Vec<bool> = wanted.grips.iter().map(|g| g.at.is_some()).collect();
    let mut last = None;
    for tool in TOOLS {
        let placed = settle(wanted, opening, tool, &start, &fixed);
        if placed.short_mm <= KEPT_MM {
            return placed;
        }
        last = Some(placed);
    }
    // The last tool asks least, so its shortfall is the plate's own.
    last.expect("there are tools")
}

/// How far a grip stands from its terminal.
pub(super) fn aside_mm(wanted: &Wanted<'_>, grip: &super::GripWanted, at: Point) -> f64 {
    let terminal = wanted.face.terminals.iter().find(|t| t.name == grip.terminal);
    terminal.map_or(0.0, |t| apart_mm(point(t), at))
}

/// Where a grip would like to be.
fn start(wanted: &Wanted<'_>, grip: &super::GripWanted) -> Point {
    let terminal = wanted.face.terminals.iter().find(|t| t.name == grip.terminal);
    let terminal = terminal.map(point);
    grip.at.or(terminal).expect("`missing` asks for every terminal")
}

/// Where all grips would like to be.
pub(super) fn starts(wanted: &Wanted<'_>) -> Vec<Point> {
    let at: Vec<Point> = wanted.grips.iter().map(|g| start(wanted, g)).collect();
    // What the maker has placed stays where it is.
    if wanted.grips.iter().any(|g| g.at.is_some()) {
        return at;
    }
    in_row(at, &wanted.face.terminals)
}

/// Points that stand in a row as far as the survey of the terminals can tell are taken to do so, and a row along
/// an axis likewise: nobody wants three grips a tenth out of line.
pub(crate) fn in_row(mut at: Vec<Point>, terminals: &[SurveyedPoint]) -> Vec<Point> {
    let (Some(&first), Some(&last)) = (at.first(), at.last()) else { return at };
    let length_mm = apart_mm(first, last);
    if at.len() < 2 || length_mm < 1.0 {
        return at;
    }
    let unsure_mm = unsure_mm(terminals).max(PLAY_MM / 10.0);
    let n = at.len() as f64;
    let sum = at.iter().fold([0.0, 0.0], |s, p| [s[0] + p[0], s[1] + p[1]]);
    let middle = [sum[0] / n, sum[1] / n];
    let mut along = direction(first, last);
    for axis in [[1.0, 0.0], [0.0, 1.0]] {
        let forward = along[0] * axis[0] + along[1] * axis[1];
        let leaning_mm = (along[0] * axis[1] - along[1] * axis[0]).abs() * length_mm / 2.0;
        if leaning_mm <= unsure_mm {
            along = axis.map(|v| v * forward.signum());
        }
    }
    let off = |p: &Point| [p[0] - middle[0], p[1] - middle[1]];
    let aside_mm = |p: &Point| (along[0] * off(p)[1] - along[1] * off(p)[0]).abs();
    if at.iter().all(|p| aside_mm(p) <= unsure_mm) {
        for p in &mut at {
            let far_mm = along[0] * off(p)[0] + along[1] * off(p)[1];
            *p = [middle[0] + along[0] * far_mm, middle[1] + along[1] * far_mm];
        }
    }
    at
}

/// Pushes grips from `start` until they keep their distances; those that are fixed stay.
pub(super) fn settle(
    wanted: &Wanted<'_>,
    opening: &Path,
    tool: Tool,
    start: &[Point],
    fixed: &[bool],
) -> Placed {
    // A row in line can only spread along itself; the second try starts a little out of line.
    let bent = start.iter().enumerate().map(|(i, p)| {
        let side = if i % 2 == 0 { 1.0 } else { -1.0 };
        if fixed[i] { *p } else { [p[0] + 0.3 * side, p[1] + 2.0 * side] }
    });
    let mut best: Option<Placed> = None;
    for from in [start.to_vec(), bent.collect()] {
        let mut at = from;
        for _ in 0..ROUNDS {
            if push(wanted, opening, tool, &mut at, fixed) < KEPT_MM {
                break;
            }
        }
        // To a hundredth, as a drawing says it.
        for (p, _) in at.iter_mut().zip(fixed).filter(|(_, f)| !**f) {
            *p = p.map(|v| (v * 100.0).round() / 100.0);
        }
        let short_mm = short_mm(wanted, opening, tool, &at);
        let aside_mm =
            at.iter().zip(&wanted.grips).map(|(p, g)| aside_mm(wanted, g, *p)).collect();
        let kept = short_mm <= KEPT_MM;
        let placed = Placed { at, aside_mm, tool, short_mm };
        let better = best.as_ref().is_none_or(|b| placed.short_mm < b.short_mm);
        if better {
            best = Some(placed);
        }
        if kept {
            break;
        }
    }
    best.expect("two were tried")
}

/// Least distance of two grips: the tool around one passes the other's corners.
pub(super) fn pair_mm(wanted: &Wanted<'_>, tool: Tool, i: usize, j: usize) -> f64 {
    let of = |k: usize| grip_pitch_mm_min(wanted.grips[k].flats_mm, tool, PLAY_MM);
    of(i)
        .max(of(j))
        .max((wanted.grips[i].corners_mm + wanted.grips[j].corners_mm) / 2.0 + PLAY_MM)
}

/// Least distance of a grip from a bolt: its corners pass the head, and the bolt's socket passes its corners.
pub(super) fn bolt_mm(wanted: &Wanted<'_>, i: usize) -> f64 {
    let bolt = wanted.bolt.head_mm.max(wanted.bolt.socket_mm);
    (wanted.grips[i].corners_mm + bolt) / 2.0 + PLAY_MM
}

/// Least depth of a grip's centre in the opening: what is behind the plate clears its edge, and there is metal
/// between hole and groove.
pub(super) fn depth_mm(wanted: &Wanted<'_>, i: usize) -> f64 {
    let grip = &wanted.grips[i];
    let unsure_mm = unsure_mm(&wanted.face.corners).max(unsure_mm(&wanted.face.holes));
    let behind = grip.behind_mm() + PLAY_MM / 2.0 + unsure_mm;
    behind.max(grip.thread_mm.max(grip.bore_mm) / 2.0 + WALL_MM - LIP_MM)
}

/// One round of pushing; gives the worst shortfall it met.
fn push(
    wanted: &Wanted<'_>,
    opening: &Path,
    tool: Tool,
    at: &mut [Point],
    fixed: &[bool],
) -> f64 {
    let mut worst = 0.0_f64;
    for i in 0..at.len() {
        for j in i + 1..at.len() {
            let short = pair_mm(wanted, tool, i, j) + AIM_MM - apart_mm(at[i], at[j]);
            if short > 0.0 {
                worst = worst.max(short);
                let away = direction(at[j], at[i]);
                // A fixed one leaves all the moving to the other.
                let shares = if fixed[i] {
                    (0.0, 1.0)
                } else if fixed[j] {
                    (1.0, 0.0)
                } else {
                    (0.5, 0.5)
                };
                let moving = if fixed[i] && fixed[j] { (0.0, 0.0) } else { shares };
                shift(&mut at[i], away, short * moving.0);
                shift(&mut at[j], away, -short * moving.1);
            }
        }
    }
    for i in (0..at.len()).filter(|i| !fixed[*i]) {
        for hole in &wanted.face.holes {
            let short = bolt_mm(wanted, i) + AIM_MM - apart_mm(at[i], point(hole));
            if short > 0.0 {
                worst = worst.max(short);
                let away = direction(point(hole), at[i]);
                shift(&mut at[i], away, short);
            }
        }
        let short = depth_mm(wanted, i) + AIM_MM - opening.depth_mm(at[i]);
        if short > 0.0 {
            worst = worst.max(short);
            let inward = inward(opening, at[i]);
            shift(&mut at[i], inward, short);
        }
    }
    worst
}

fn shift(p: &mut Point, direction: Point, far: f64) {
    *p = [p[0] + direction[0] * far, p[1] + direction[1] * far];
}

fn direction(from: Point, to: Point) -> Point {
    let apart = apart_mm(from, to);
    // Two on one spot part along x.
    if apart < 1e-9 {
        [1.0, 0.0]
    } else {
        [(to[0] - from[0]) / apart, (to[1] - from[1]) / apart]
    }
}

/// The direction from the nearest edge of the opening to the inside.
fn inward(opening: &Path, at: Point) -> Point {
    let segments = opening.segments();
    let near = segments
        .iter()
        .map(|s| s.nearest(at))
        .min_by(|a, b| apart_mm(*a, at).total_cmp(&apart_mm(*b, at)));
    let near = near.expect("an opening has pieces");
    let out = direction(near, at);
    if opening.contains(at) { out } else { [-out[0], -out[1]] }
}

/// How far the worst distance falls short.
pub(super) fn short_mm(wanted: &Wanted<'_>, opening: &Path, tool: Tool, at: &[Point]) -> f64 {
    let mut worst = 0.0_f64;
    for i in 0..at.len() {
        for j in i + 1..at.len() {
            worst = worst.max(pair_mm(wanted, tool, i, j) - apart_mm(at[i], at[j]));
        }
        for hole in &wanted.face.holes {
            worst = worst.max(bolt_mm(wanted, i) - apart_mm(at[i], point(hole)));
        }
        worst = worst.max(depth_mm(wanted, i) - opening.depth_mm(at[i]));
    }
    worst
}

/// Least distance between two grips.
pub(super) fn pitch_mm(at: &[Point]) -> Option<f64> {
    let pairs = (0..at.len()).flat_map(|i| (i + 1..at.len()).map(move |j| (i, j)));
    pairs.map(|(i, j)| apart_mm(at[i], at[j])).min_by(f64::total_cmp)
}

/// The widest hexagon for which all grips would find room, if any: what a smaller grip may have.
pub(super) fn flats_that_fit_mm(wanted: &Wanted<'_>, opening: &Path) -> Option<f64> {
    let start = starts(wanted);
    let fixed: Vec<bool> = wanted.grips.iter().map(|g| g.at.is_some()).collect();
    let most = wanted.grips.iter().map(|g| g.flats_mm).fold(0.0, f64::max);
    let fits = |flats_mm: u32| {
        let mut smaller = wanted.clone();
        for grip in &mut smaller.grips {
            // Hexagon, thread and hole of a grip shrink together.
            let share = (f64::from(flats_mm) / grip.flats_mm).min(1.0);
            for size in [
                &mut grip.flats_mm,
                &mut grip.corners_mm,
                &mut grip.thread_mm,
                &mut grip.bore_mm,
            ] {
                *size *= share;
            }
        }
        settle(&smaller, opening, Tool::FromAbove, &start, &fixed).short_mm <= KEPT_MM
    };
    // What fits a hexagon fits a smaller one: the widest is found by halving.
    let (mut low, mut high) = (FLATS_MM_MIN, most.clamp(0.0, 500.0) as u32);
    if low > high || !fits(low) {
        return None;
    }
    while low < high {
        let middle = (low + high).div_ceil(2);
        if fits(middle) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    Some(f64::from(low))
}
