//! The way of the groove between opening and bolts, and the ring that lies in it.
//!
//! The way is a parallel of the opening. Where the opening's corners are tighter than the ring bears, it is a
//! belt instead: the opening's convex hull shrunk by s and a belt of radius s + d around what is left, which runs
//! d from the sides and rounds the corners with at least that radius. d grows from the least until the way meets
//! bolts or the land's edge; of all d that are clear, the one that suits a standard ring best is taken.

use physics::laws::oring::{self, Ring, Sized};
use space::path::{Circle, Path, Vertex};
use std::f64::consts::PI;

use super::{
    LIP_MM, LaidSeal, RADIUS_SECTIONS, Rule, Wanted, circles_of, drilled_mm, point, unsure_mm,
};
use crate::given::shelf::{Oring, Row, Standing};

/// A way that is clear, with its ring.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    pub(super) middle: Path,
    pub(super) seal: LaidSeal,
}

/// The way that came nearest to being clear.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Miss {
    pub(super) section_mm: f64,
    /// What it runs into, by how much it is short there, and what is asked there.
    pub(super) what: String,
    pub(super) value_mm: f64,
    pub(super) least_mm: f64,
    /// The rule it breaks.
    pub(super) rule: Rule,
}

/// What the search gave.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Search {
    pub(super) found: Option<Found>,
    pub(super) miss: Option<Miss>,
}

/// Sections in the order in which they are tried: the usual one for covers first (common practice, no source).
const SECTIONS_MM: [f64; 5] = [3.53, 2.62, 5.33, 1.78, 6.99];
/// How far the way moves out between two tries.
const STEP_MM: f64 = 0.25;
/// The way is not looked for farther out.
const OUT_MM_MAX: f64 = 40.0;
/// Stretch aimed at: enough to hold the ring on its inner wall.
const STRETCH_AIM: f64 = 0.01;
/// Stretch of a ring on the inner wall of a face groove, most (seal maker's table, read: ring inside × 1.00 to 1.03).
pub(crate) const STRETCH_MOST: f64 = 0.03;

/// A groove's section.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Cut {
    section_mm: f64,
    depth_mm: f64,
    width_mm: f64,
}

/// Finds the way and the ring.
pub(super) fn run(wanted: &Wanted<'_>, opening: &Path) -> Search {
    let stated = (!wanted.seal.cord).then(|| wanted.seal.rings.first()).flatten();
    let sections: Vec<f64> = match stated {
        Some(ring) => vec![ring.section_mm],
        None => SECTIONS_MM.to_vec(),
    };
    let mut misses: Vec<Miss> = Vec::new();
    let mut cord: Option<Found> = None;
    for section_mm in sections {
        let Some(cut) = cut(wanted, section_mm) else { continue };
        match clear_ways(wanted, opening, &cut) {
            Err(miss) => misses.push(miss),
            Ok(ways) => {
                if let Some(found) = with_ring(wanted, &cut, &ways) {
                    return Search { found: Some(found), miss: None };
                }
                if wanted.seal.cord && cord.is_none() {
                    cord = Some(of_cord(&cut, &ways[0]));
                } else if !wanted.seal.cord {
                    misses.push(too_long(wanted, &cut, &ways));
                }
            }
        }
    }
    let miss = misses
        .into_iter()
        .max_by(|a, b| (a.value_mm - a.least_mm).total_cmp(&(b.value_mm - b.least_mm)));
    Search { found: cord, miss }
}

/// The largest section whose groove would find a way, tried over the standard ones.
pub(super) fn section_that_fits_mm(wanted: &Wanted<'_>, opening: &Path) -> Option<f64> {
    let mut sections = SECTIONS_MM;
    sections.sort_by(|a, b| b.total_cmp(a));
    sections
        .into_iter()
        .find(|s| cut(wanted, *s).is_some_and(|c| clear_ways(wanted, opening, &c).is_ok()))
}

fn cut(wanted: &Wanted<'_>, section_mm: f64) -> Option<Cut> {
    let row = oring::face_groove(section_mm)?;
    let seal = &wanted.seal;
    let middle = f64::midpoint(row.depth_mm.0, row.depth_mm.1);
    let usual = (middle * 100.0).round() / 100.0;
    Some(Cut {
        section_mm,
        depth_mm: seal.depth_mm.unwrap_or(usual),
        width_mm: seal.width_mm.unwrap_or(row.width_mm.1),
    })
}

/// Every way that is clear, nearest to the opening first; or the one that came nearest to it.
fn clear_ways(wanted: &Wanted<'_>, opening: &Path, cut: &Cut) -> Result<Vec<Path>, Miss> {
    let hull = Path::belt(&circles_of(opening, 0.0));
    let convex = hull.area_mm2() / opening.area_mm2().abs() < 1.0 + 1e-6;
    let radius_mm = RADIUS_SECTIONS * cut.section_mm + cut.width_mm / 2.0;
    let (mut ways, mut best): (Vec<Path>, Option<Miss>) = (Vec::new(), None);
    let unsure_mm = unsure_mm(&wanted.face.corners);
    let least_mm = LIP_MM + unsure_mm + cut.width_mm / 2.0;
    let steps = ((OUT_MM_MAX - least_mm) / STEP_MM) as usize;
    for step in 0..steps {
        let out_mm = least_mm + step as f64 * STEP_MM;
        let mut blocked = true;
        for way in candidates(opening, &hull, convex, out_mm, radius_mm) {
            match clear(wanted, opening, cut, &way) {
                None => {
                    ways.push(way);
                    blocked = false;
                    break;
                }
                Some(miss) => {
                    // Farther out, a way comes nearer to bolts and edge only; its turns and the opening ease.
                    blocked &=
                        miss.rule != Rule::GrooveRadius && !miss.what.contains("opening");
                    let nearer = best.as_ref().is_none_or(|b| {
                        miss.value_mm - miss.least_mm > b.value_mm - b.least_mm
                    });
                    if nearer {
                        best = Some(miss);
                    }
                }
            }
        }
        if blocked {
            break;
        }
    }
    if ways.is_empty() {
        return Err(best.unwrap_or_else(|| Miss {
            section_mm: cut.section_mm,
            what: "the opening".to_owned(),
            value_mm: 0.0,
            least_mm: LIP_MM,
            rule: Rule::GrooveOnLand,
        }));
    }
    Ok(ways)
}

/// Ways at a distance: the parallel, and the belt where the parallel turns too tightly or winds.
fn candidates(
    opening: &Path,
    hull: &Path,
    convex: bool,
    out_mm: f64,
    radius_mm: f64,
) -> Vec<Path> {
    let mut ways = Vec::new();
    if !convex && let [parallel] = &opening.parallel(out_mm)[..] {
        ways.push(parallel.clone());
    }
    let shrunk_mm = (radius_mm - out_mm).max(0.0);
    if let [core] = &hull.parallel(-shrunk_mm)[..] {
        ways.push(Path::belt(&circles_of(core, shrunk_mm + out_mm)));
    } else if let Some((low, high)) = hull.bounds() {
        // A narrow opening shrinks to nothing: a belt around its long middle line.
        let (w, h) = (high[0] - low[0], high[1] - low[1]);
        let middle = [f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])];
        let half = (w.max(h) / 2.0 - w.min(h) / 2.0).max(0.0);
        let along = if w > h { [half, 0.0] } else { [0.0, half] };
        let circle = |side: f64| Circle {
            centre: [middle[0] + side * along[0], middle[1] + side * along[1]],
            radius_mm: (w.min(h) / 2.0 + out_mm).max(radius_mm),
        };
        ways.push(Path::belt(&[circle(-1.0), circle(1.0)]));
    }
    ways
}

/// The worst that a way runs into, if anything.
fn clear(wanted: &Wanted<'_>, opening: &Path, cut: &Cut, way: &Path) -> Option<Miss> {
    measured(wanted, opening, cut.section_mm, cut.width_mm, way)
        .into_iter()
        .filter(|m| m.value_mm < m.least_mm - 1e-6)
        .min_by(|a, b| (a.value_mm - a.least_mm).total_cmp(&(b.value_mm - b.least_mm)))
}

/// Every distance of a way: its turns, the opening, each bolt hole, the land's edge.
pub(super) fn measured(
    wanted: &Wanted<'_>,
    opening: &Path,
    section_mm: f64,
    width_mm: f64,
    way: &Path,
) -> Vec<Miss> {
    let half = width_mm / 2.0;
    let mut all = Vec::new();
    let mut hold = |what: String, value_mm: f64, least_mm: f64, rule: Rule| {
        all.push(Miss { section_mm, what, value_mm, least_mm, rule });
    };
    let turn = way.radius_mm_min().unwrap_or(0.0) - half;
    hold(
        "the groove's inner wall".to_owned(),
        turn,
        RADIUS_SECTIONS * section_mm,
        Rule::GrooveRadius,
    );
    // The gap to an outline, negative on its wrong side; where they cross, as much as a millimetre.
    let clear_mm = |other: &Path, right_side: bool| {
        let gap_mm = way.gap(other).map_or(0.0, |g| g.0);
        if gap_mm > 0.0 && right_side { gap_mm } else { -gap_mm.max(1.0) }
    };
    let starts = |path: &Path| path.vertices.first().map_or([f64::NAN; 2], Vertex::point);
    let lip = clear_mm(opening, way.contains(starts(opening)));
    let edge_mm = LIP_MM + unsure_mm(&wanted.face.corners);
    hold("groove and opening".to_owned(), lip - half, edge_mm, Rule::GrooveOnLand);
    for hole in &wanted.face.holes {
        let hole_mm = hole.diameter_mm.unwrap_or(0.0).max(drilled_mm(&wanted.bolt, hole));
        let unsure_mm = 3.0 * hole.sigma_mm.unwrap_or(0.0);
        let value_mm = -way.depth_mm(point(hole)) - half - hole_mm / 2.0;
        hold(
            format!("groove and bolt hole {}", hole.name),
            value_mm,
            LIP_MM + unsure_mm,
            Rule::GrooveOnLand,
        );
    }
    if let Some(land) = &wanted.face.outline {
        let value_mm = clear_mm(land, land.contains(starts(way)));
        hold(
            "groove and the land's edge".to_owned(),
            value_mm - half,
            edge_mm,
            Rule::GrooveOnLand,
        );
    }
    all
}

/// Length of a closed way's parallel inside it by half the width: 2π shorter by that half.
fn inside_mm(way: &Path, width_mm: f64) -> f64 {
    (way.length_mm() - PI * width_mm) / PI
}

/// The way and ring that suit each other best.
fn with_ring(wanted: &Wanted<'_>, cut: &Cut, ways: &[Path]) -> Option<Found> {
    let mut best: Option<(i64, usize, &Oring)> = None;
    for (index, way) in ways.iter().enumerate() {
        let inside_mm = inside_mm(way, cut.width_mm);
        for ring in &wanted.seal.rings {
            if (ring.section_mm - cut.section_mm).abs() > 0.02 || !(ring.inside_mm > 0.0) {
                continue;
            }
            let stretch = inside_mm / ring.inside_mm - 1.0;
            let most = inside_mm / (ring.inside_mm - ring.inside_tol_mm) - 1.0;
            if !(0.0..=STRETCH_MOST).contains(&stretch) || most > oring::STRETCH_MAX {
                continue;
            }
            // To the tenth of a percent all are equal; then the way nearest to the opening.
            let off = ((stretch - STRETCH_AIM).abs() * 1000.0).round() as i64;
            if best.is_none_or(|(o, i, _)| (off, index) < (o, i)) {
                best = Some((off, index, ring));
            }
        }
    }
    let (_, index, ring) = best?;
    Some(finish(cut, &ways[index], ring.clone(), None))
}

fn finish(cut: &Cut, way: &Path, oring: Oring, cord_mm: Option<f64>) -> Found {
    let seal = LaidSeal {
        oring,
        cord_mm,
        depth_mm: cut.depth_mm,
        width_mm: cut.width_mm,
        length_mm: way.length_mm(),
        inside_mm: inside_mm(way, cut.width_mm),
        radius_mm: way.radius_mm_min().unwrap_or(0.0) - cut.width_mm / 2.0,
    };
    Found { middle: way.clone(), seal }
}

/// A groove that is there already, with its ring; one of cord where no ring is named.
pub(super) fn as_cut(
    middle: &Path,
    (depth_mm, width_mm): (f64, f64),
    ring: Result<&Oring, f64>,
) -> LaidSeal {
    let section_mm = ring.map_or_else(|section_mm| section_mm, |r| r.section_mm);
    let cut = Cut { section_mm, depth_mm, width_mm };
    match ring {
        Ok(ring) => finish(&cut, middle, ring.clone(), None).seal,
        Err(_) => of_cord(&cut, middle).seal,
    }
}

/// A ring cut from cord and spliced: as long as its own middle line when it lies on the inner wall.
fn of_cord(cut: &Cut, way: &Path) -> Found {
    let inside_mm = inside_mm(way, cut.width_mm);
    let cord_mm = PI * (inside_mm + cut.section_mm);
    let known = physics::laws::oring_as568::SIZES.iter();
    let tolerance = known.filter(|s| (s.section_mm - cut.section_mm).abs() < 0.02);
    let section_tol_mm = tolerance.map(|s| s.section_tol_mm).fold(0.0, f64::max);
    let row = Row {
        id: format!("cord {} x {cord_mm:.0} mm", cut.section_mm),
        name: format!("O-ring cord {} mm, cut to {cord_mm:.1} mm and spliced", cut.section_mm),
        source: "common-practice".to_owned(),
        standing: Standing::CommonPractice,
        note: None,
        price: None,
        mass_g: None,
    };
    let oring = Oring {
        row,
        inside_mm,
        // A splice is cut to half a millimetre of its length (common practice, no source).
        inside_tol_mm: 0.5 / PI,
        section_mm: cut.section_mm,
        section_tol_mm,
    };
    finish(cut, way, oring, Some(cord_mm))
}

/// A stated ring that no clear way suits.
fn too_long(wanted: &Wanted<'_>, cut: &Cut, ways: &[Path]) -> Miss {
    let inside: Vec<f64> = ways.iter().map(|w| inside_mm(w, cut.width_mm)).collect();
    let ring_mm = wanted.seal.rings.first().map_or(0.0, |r| r.inside_mm);
    let (short, long) = (inside[0], inside[inside.len() - 1]);
    // Too large a ring lies loose on the shortest way; too small a one is stretched on it already.
    let loose = ring_mm > long;
    let name = wanted.seal.rings.first().map_or("", |r| r.row.id.as_str());
    Miss {
        section_mm: cut.section_mm,
        what: format!(
            "ring {name}, {} for its way,",
            if loose { "too large" } else { "too small" }
        ),
        value_mm: if loose { long } else { ring_mm },
        least_mm: if loose { ring_mm } else { short / (1.0 + STRETCH_MOST) },
        rule: Rule::RingLength,
    }
}

/// Squeeze, fill and stretch of a ring as laid.
pub(crate) fn fit(seal: &LaidSeal, tolerance_mm: f64) -> Option<oring::Fit> {
    let ring = &seal.oring;
    let inside = Sized { mm: ring.inside_mm, tol_mm: ring.inside_tol_mm };
    let section = Sized { mm: ring.section_mm, tol_mm: ring.section_tol_mm };
    let sound = |s: Sized| s.tol_mm >= 0.0 && s.mm > s.tol_mm;
    let groove = oring::Groove {
        depth: Sized { mm: seal.depth_mm, tol_mm: tolerance_mm },
        width: Sized::exact(seal.width_mm),
        inside: Some(Sized::exact(seal.inside_mm)),
    };
    let sound = sound(inside) && sound(section) && sound(groove.depth) && seal.width_mm > 0.0;
    sound.then(|| oring::fit(&Ring { inside, section }, &groove))
}
