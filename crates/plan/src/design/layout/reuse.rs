//! A plate that is there already, held against a surveyed face.
//!
//! The face is turned and moved onto the plate, bolt hole on bolt hole by least squares; of all ways in which the
//! pattern meets, the one that brings the terminals nearest to their grips. Then the plate keeps the same proofs
//! as one laid out for that face.
//!
//! θ = atan2(Σ a × b, Σ a · b), a and b from their middles     (least squares of two patterns in a plane)
//!
//! Source  Closed form in the plane (Procrustes, memory).

use space::part::{FlatPart, Hole};
use space::path::Path;
use space::segment::{Point, apart_mm};

use super::grips::{self, KEPT_MM, Placed, TOOLS};
use super::groove::{self, Search};
use super::{
    GripWanted, Laid, LaidGrip, OneWay, Rule, SLACK_MM, Wanted, marks, missing, point, proof,
    stiff,
};
use crate::design::survey::{SurveyedFace, SurveyedPoint};
use crate::given::shelf::{KeptPlate, Oring};

/// Why a kept plate is none for this face: one sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misfit(pub String);

/// Farther off than this, a bolt hole is another hole.
const OTHER_HOLE_MM: f64 = 3.0;

/// How a face comes to lie on a plate.
#[derive(Clone, Debug)]
struct Laying {
    /// Cosine and sine of its turn.
    turn: [f64; 2],
    /// Where its origin goes.
    shift: Point,
    /// For each hole of the face, the plate's.
    pairs: Vec<usize>,
    /// Distance of the worst pair.
    worst_mm: f64,
}

impl Laying {
    fn at(&self, p: Point) -> Point {
        let [c, s] = self.turn;
        [c * p[0] - s * p[1] + self.shift[0], s * p[0] + c * p[1] + self.shift[1]]
    }
}

/// The kept plate on this face, with its proofs; or why it is none for it.
///
/// # Errors
/// The face tells too little, or holes, threads or grips are others.
pub fn reuse(
    wanted: &Wanted<'_>,
    kept: &KeptPlate,
    ring: Option<&Oring>,
) -> Result<Laid, Misfit> {
    let unknown = missing(wanted);
    if !unknown.is_empty() {
        return Err(Misfit(format!("its face does not tell {}", unknown.join("; "))));
    }
    let bolts: Vec<&Hole> = kept.holes_for("bolt").collect();
    let bores = bores(wanted, kept)?;
    let grips: Vec<Point> = bores.iter().map(|h| [h.x_mm, h.y_mm]).collect();
    let laying = laying(wanted, &bolts, &grips)?;
    let face = moved(wanted.face, &laying, &bolts);
    let mut here = wanted.clone();
    here.face = &face;
    here.thickness_mm = Some(kept.thickness_mm);
    for (grip, bore) in here.grips.iter_mut().zip(&bores) {
        grip.bore_mm = bore.diameter_mm;
    }
    Ok(judged(&here, kept, grips, ring))
}

/// The hole of each grip, in their order.
fn bores<'k>(wanted: &Wanted<'_>, kept: &'k KeptPlate) -> Result<Vec<&'k Hole>, Misfit> {
    let mut found = Vec::new();
    for grip in &wanted.grips {
        let purpose = format!("grip {}", grip.terminal);
        let hole = kept.holes.iter().find(|h| h.purpose == purpose).ok_or_else(|| {
            Misfit(format!("it has no hole for the grip of {}", grip.terminal))
        })?;
        if hole.thread != grip.tapped {
            let has = |thread: &Option<String>| match thread {
                Some(thread) => format!("tapped {thread}"),
                None => "clear".to_owned(),
            };
            return Err(Misfit(format!(
                "its hole for the grip of {} is {}, and {} is needed",
                grip.terminal,
                has(&hole.thread),
                has(&grip.tapped)
            )));
        }
        if hole.thread.is_none() && hole.diameter_mm < grip.thread_mm {
            return Err(Misfit(format!(
                "its hole for the grip of {} is narrower than the grip's thread",
                grip.terminal
            )));
        }
        found.push(hole);
    }
    let open = kept.holes_for("grip").count();
    if open > found.len() {
        return Err(Misfit(format!(
            "it has {open} holes for grips, and {} are used",
            found.len()
        )));
    }
    Ok(found)
}

/// The laying in which the patterns meet and the terminals lie nearest to their grips.
fn laying(wanted: &Wanted<'_>, bolts: &[&Hole], grips: &[Point]) -> Result<Laying, Misfit> {
    let face: Vec<Point> = wanted.face.holes.iter().map(point).collect();
    let plate: Vec<Point> = bolts.iter().map(|h| [h.x_mm, h.y_mm]).collect();
    if face.len() != plate.len() {
        return Err(Misfit(format!(
            "it has {} bolt holes, and the face {}",
            plate.len(),
            face.len()
        )));
    }
    let terminals: Vec<(Point, Point)> = wanted
        .grips
        .iter()
        .zip(grips)
        .filter_map(|(g, at)| {
            let terminal = wanted.face.terminals.iter().find(|t| t.name == g.terminal)?;
            Some((point(terminal), *at))
        })
        .collect();
    let off_mm = |laying: &Laying| {
        let aside = terminals.iter().map(|(t, g)| apart_mm(laying.at(*t), *g));
        aside.fold(0.0, f64::max)
    };
    let mut best: Option<(f64, Laying)> = None;
    let mut nearest_mm = f64::INFINITY;
    for a in 0..face.len() {
        for b in (0..face.len()).filter(|b| *b != a) {
            let Some(found) = meeting(&face, &plate, (a, b)) else { continue };
            nearest_mm = nearest_mm.min(found.worst_mm);
            if found.worst_mm > OTHER_HOLE_MM {
                continue;
            }
            // Half a millimetre is play and survey; beyond that the better pattern counts.
            let cost = off_mm(&found) + 100.0 * (found.worst_mm - 0.5).max(0.0);
            if best.as_ref().is_none_or(|(least, _)| cost < *least) {
                best = Some((cost, found));
            }
        }
    }
    best.map(|(_, laying)| laying).ok_or_else(|| {
        Misfit(if nearest_mm.is_finite() {
            format!("a bolt hole is {nearest_mm:.1} mm off however it is turned")
        } else {
            "its bolt holes are another pattern".to_owned()
        })
    })
}

/// The laying that puts holes `a` and `b` of the face on the plate's first two, then settles all.
fn meeting(face: &[Point], plate: &[Point], (a, b): (usize, usize)) -> Option<Laying> {
    let (first, second) = (*plate.first()?, *plate.get(1)?);
    if (apart_mm(face[a], face[b]) - apart_mm(first, second)).abs() > 2.0 * OTHER_HOLE_MM {
        return None;
    }
    let pairs: Vec<(Point, Point)> = vec![(face[a], first), (face[b], second)];
    let rough = fitted(&pairs, Vec::new())?;
    let mut taken = vec![false; plate.len()];
    let mut order = Vec::new();
    for p in face {
        let at = rough.at(*p);
        let near = (0..plate.len())
            .min_by(|i, j| apart_mm(plate[*i], at).total_cmp(&apart_mm(plate[*j], at)))?;
        if std::mem::replace(&mut taken[near], true) {
            return None;
        }
        order.push(near);
    }
    let all: Vec<(Point, Point)> =
        face.iter().zip(&order).map(|(p, i)| (*p, plate[*i])).collect();
    let mut fitted = fitted(&all, order)?;
    fitted.worst_mm = all.iter().map(|(f, p)| apart_mm(fitted.at(*f), *p)).fold(0.0, f64::max);
    Some(fitted)
}

/// Turn and shift that bring the first of each pair nearest to the second, in the mean square.
fn fitted(pairs: &[(Point, Point)], order: Vec<usize>) -> Option<Laying> {
    let n = pairs.len() as f64;
    let mean = |of: fn(&(Point, Point)) -> Point| {
        let sum = pairs.iter().map(of).fold([0.0, 0.0], |s, p| [s[0] + p[0], s[1] + p[1]]);
        [sum[0] / n, sum[1] / n]
    };
    let (from, to) = (mean(|p| p.0), mean(|p| p.1));
    let (mut dot, mut cross) = (0.0, 0.0);
    for (p, q) in pairs {
        let (a, b) = ([p[0] - from[0], p[1] - from[1]], [q[0] - to[0], q[1] - to[1]]);
        dot += a[0] * b[0] + a[1] * b[1];
        cross += a[0] * b[1] - a[1] * b[0];
    }
    let size = libm::hypot(dot, cross);
    if !(size > 1e-9) {
        return None;
    }
    let turn = [dot / size, cross / size];
    let shift = [
        to[0] - turn[0] * from[0] + turn[1] * from[1],
        to[1] - turn[1] * from[0] - turn[0] * from[1],
    ];
    Some(Laying { turn, shift, pairs: order, worst_mm: 0.0 })
}

/// The face where it lies on the plate, its holes called as the plate's are.
fn moved(face: &SurveyedFace, laying: &Laying, bolts: &[&Hole]) -> SurveyedFace {
    let move_points = |points: &[SurveyedPoint]| -> Vec<SurveyedPoint> {
        let move_one = |p: &SurveyedPoint| {
            let [x_mm, y_mm] = laying.at(point(p));
            SurveyedPoint { x_mm, y_mm, ..p.clone() }
        };
        points.iter().map(move_one).collect()
    };
    let move_path = |path: &Path| {
        let mut path = path.clone();
        for v in &mut path.vertices {
            [v.x_mm, v.y_mm] = laying.at(v.point());
        }
        path
    };
    let mut here = face.clone();
    here.holes = move_points(&face.holes);
    for (hole, pair) in here.holes.iter_mut().zip(&laying.pairs) {
        hole.name.clone_from(&bolts[*pair].name);
    }
    here.terminals = move_points(&face.terminals);
    here.corners = move_points(&face.corners);
    here.opening = face.opening.as_ref().map(move_path);
    here.outline = face.outline.as_ref().map(move_path);
    here
}

/// The plate held to every proof on the face that now lies on it.
fn judged(here: &Wanted<'_>, kept: &KeptPlate, at: Vec<Point>, ring: Option<&Oring>) -> Laid {
    let opening = here.face.opening.as_ref().expect("`missing` asks for the opening");
    let part = kept.part(&here.name);
    let sizes = (kept.groove_depth_mm, kept.groove_width_mm);
    let section_mm = kept.cord_section_mm.unwrap_or(0.0);
    let seal = groove::as_cut(&kept.groove, sizes, ring.ok_or(section_mm));
    let placed = placed(here, &at);
    let stiff = stiff::settle(here, &part, &at, Some(&seal), kept.thickness_mm);
    let search = Search { found: None, miss: None };
    let proofs = proof::measure(here, opening, &placed, &part, Some(&seal), &search);
    let one_way = match marks::one_way(here, &at) {
        OneWay::Turned { by_deg, .. } => OneWay::Turned { by_deg, notched: notched(&part) },
        OneWay::ByBolts => OneWay::ByBolts,
    };
    let broken: std::collections::BTreeSet<Rule> =
        proofs.iter().filter(|p| !(p.spare_mm() >= -SLACK_MM)).map(|p| p.rule).collect();
    let cure = "the kept plate does not suit this face: leave `use` out and lay out a new one";
    let named = |(grip, p): (&GripWanted, &Point)| LaidGrip {
        terminal: grip.terminal.clone(),
        at: *p,
        aside_mm: grips::aside_mm(here, grip, *p),
    };
    Laid {
        grips: here.grips.iter().zip(&at).map(named).collect(),
        tool: placed.tool,
        pitch_mm: grips::pitch_mm(&at),
        part,
        seal: Some(seal),
        stiff,
        one_way,
        proofs,
        cures: broken.into_iter().map(|rule| (rule, cure.to_owned())).collect(),
    }
}

/// The grips where the plate has them, with the first tool that has room.
fn placed(here: &Wanted<'_>, at: &[Point]) -> Placed {
    let short_mm = |tool| {
        let pairs = (0..at.len()).flat_map(|i| (i + 1..at.len()).map(move |j| (i, j)));
        pairs
            .map(|(i, j)| grips::pair_mm(here, tool, i, j) - apart_mm(at[i], at[j]))
            .fold(0.0, f64::max)
    };
    let tool = TOOLS.into_iter().find(|t| short_mm(*t) <= KEPT_MM);
    let tool = tool.unwrap_or(TOOLS[TOOLS.len() - 1]);
    Placed { at: at.to_vec(), aside_mm: Vec::new(), tool, short_mm: short_mm(tool) }
}

/// Whether a half-round notch is in the edge.
fn notched(part: &FlatPart) -> bool {
    part.outline.counter_clockwise().vertices.iter().any(|v| v.bulge < -0.99)
}
