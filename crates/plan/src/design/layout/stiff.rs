//! How far the ring lifts the plate off its land between the bolts, and the thickness that keeps it down.
//!
//! The plate as it is cut, its grips' holes open and its groove taken out of the thickness, held by its bolts as
//! springs under their heads and pushed by the ring along the groove at its most squeeze. Contact with the housing
//! outside the bolts is left out, so that it lifts more than it will.
//!
//! gap ≤ (squeeze at the worst of the tolerances − 10 %) · section
//!
//! Source  10 % is the least squeeze of a static face seal (read); thickness steps are stock sizes.

use std::sync::{Mutex, PoisonError};

use physics::laws::oring::SQUEEZE_LIMITS;
use physics::laws::oring_load;
use physics::laws::thread::Thread;
use space::mesh::Mesh;
use space::part::FlatPart;
use space::path::Path;
use space::plate_fe::{Elastic, Hold, add_line_n, deflections_mm};
use space::segment::{Point, on_circle};

use super::{BoltWanted, LaidSeal, STOCK_MM, Wanted, groove, point, stock_mm};

/// How far the plate lifts.
#[derive(Clone, Debug, PartialEq)]
pub struct Stiff {
    /// Thickness it was solved for.
    pub thickness_mm: f64,
    /// Force of the ring per length, at its most squeeze.
    pub load_n_per_mm: f64,
    /// Greatest gap under the groove.
    pub gap_mm: f64,
    /// Where.
    pub at: Point,
    /// The gap that leaves the ring its least squeeze.
    pub gap_mm_max: f64,
    /// Corners of the mesh it was solved on.
    pub nodes: usize,
}

/// Poisson's ratio of the metals plates are made of: aluminium 0.33, steel 0.30; the larger bends less by 2 %
/// (memory).
const POISSON: f64 = 0.33;
/// Young's modulus of a steel bolt.
const STEEL_MPA: f64 = 205_000.0;
/// Corners of the mesh aimed at: within 2 % of one four times as fine on a plate of six bolts.
const NODES: f64 = 900.0;

/// Solves the stated thickness, or the least stock size from `least_mm` up whose gap is small enough.
pub(super) fn settle(
    wanted: &Wanted<'_>,
    part: &FlatPart,
    grips: &[Point],
    seal: Option<&LaidSeal>,
    least_mm: f64,
) -> Option<Stiff> {
    let seal = seal?;
    let question = Question::of(wanted, part, grips, seal, least_mm);
    if let Some(stiff) = question.answered() {
        return Some(stiff);
    }
    let stiff = solve(wanted, part, grips, seal, least_mm)?;
    question.keep(&stiff);
    Some(stiff)
}

fn solve(
    wanted: &Wanted<'_>,
    part: &FlatPart,
    grips: &[Point],
    seal: &LaidSeal,
    least_mm: f64,
) -> Option<Stiff> {
    let model = Model::new(wanted, part, grips, NODES)?;
    if let Some(stated_mm) = wanted.thickness_mm {
        return model.solve(wanted, seal, stated_mm);
    }
    let first_mm = stock_mm(least_mm);
    let mut best = model.solve(wanted, seal, first_mm)?;
    for thickness_mm in STOCK_MM.into_iter().filter(|t| *t > first_mm) {
        if best.gap_mm <= best.gap_mm_max {
            break;
        }
        best = model.solve(wanted, seal, thickness_mm)?;
    }
    Some(best)
}

/// All that the answer depends on. Most edits of a build leave its plates alone, and the mesh and its solution are
/// the longest part of a plan; the same question has the same answer, so it is looked up.
#[derive(Clone, Debug, PartialEq)]
struct Question {
    part: FlatPart,
    grips: Vec<(Point, f64)>,
    bolts: Vec<Point>,
    bolt: BoltWanted,
    seal: LaidSeal,
    tolerance_mm: f64,
    hardness_shore_a: f64,
    modulus_mpa: f64,
    thickness_mm: Option<f64>,
    least_mm: f64,
}

/// The last questions with their answers, newest last.
static ANSWERED: Mutex<Vec<(Question, Stiff)>> = Mutex::new(Vec::new());
/// As many plates as a few open builds have.
const ANSWERED_MAX: usize = 24;

/// Forgets every answer, for whoever measures how long finding one takes.
pub fn forget() {
    ANSWERED.lock().unwrap_or_else(PoisonError::into_inner).clear();
}

impl Question {
    fn of(
        wanted: &Wanted<'_>,
        part: &FlatPart,
        grips: &[Point],
        seal: &LaidSeal,
        least_mm: f64,
    ) -> Question {
        let bores = wanted.grips.iter().map(|g| g.thread_mm.max(g.bore_mm));
        Question {
            part: part.clone(),
            grips: grips.iter().copied().zip(bores).collect(),
            bolts: wanted.face.holes.iter().map(point).collect(),
            bolt: wanted.bolt.clone(),
            seal: seal.clone(),
            tolerance_mm: wanted.seal.tolerance_mm,
            hardness_shore_a: wanted.seal.hardness_shore_a,
            modulus_mpa: wanted.modulus_mpa,
            thickness_mm: wanted.thickness_mm,
            least_mm,
        }
    }

    fn answered(&self) -> Option<Stiff> {
        let kept = ANSWERED.lock().unwrap_or_else(PoisonError::into_inner);
        kept.iter().rev().find(|(asked, _)| asked == self).map(|(_, stiff)| stiff.clone())
    }

    fn keep(self, stiff: &Stiff) {
        let mut kept = ANSWERED.lock().unwrap_or_else(PoisonError::into_inner);
        if ANSWERED_MAX <= kept.len() {
            kept.remove(0);
        }
        kept.push((self, stiff.clone()));
    }
}

/// The mesh and what is where on it.
struct Model {
    mesh: Mesh,
    /// Triangles that the groove runs through.
    grooved: Vec<bool>,
}

impl Model {
    fn new(wanted: &Wanted<'_>, part: &FlatPart, grips: &[Point], nodes: f64) -> Option<Model> {
        let groove = part.grooves.first()?;
        let size_mm = (part.outline.area_mm2() / (0.55 * nodes)).sqrt().clamp(1.0, 20.0);
        let bores = wanted.grips.iter().zip(grips);
        let voids: Vec<Path> =
            bores.map(|(g, at)| Path::circle(*at, g.thread_mm.max(g.bore_mm) / 2.0)).collect();
        // First the groove, then a ring of eight points and the middle under each bolt's head.
        let mut lists = vec![groove.middle.sampled(size_mm / 12.0, size_mm)];
        for hole in &wanted.face.holes {
            let eighth = std::f64::consts::FRAC_PI_4;
            let around = (0..8).map(|i| {
                on_circle(point(hole), wanted.bolt.head_mm / 2.0, f64::from(i) * eighth)
            });
            lists.push(around.chain([point(hole)]).collect());
        }
        let mesh = Mesh::new(&part.outline, &voids, &lists, size_mm)?;
        let middle = |t: &[usize; 3]| {
            let [a, b, c] = t.map(|n| mesh.nodes[n]);
            [(a[0] + b[0] + c[0]) / 3.0, (a[1] + b[1] + c[1]) / 3.0]
        };
        let near_mm = (groove.width_mm / 2.0).max(size_mm / 3.0);
        let grooved =
            mesh.triangles.iter().map(|t| groove.middle.distance_mm(middle(t)) < near_mm);
        Some(Model { grooved: grooved.collect(), mesh })
    }

    fn solve(&self, wanted: &Wanted<'_>, seal: &LaidSeal, thickness_mm: f64) -> Option<Stiff> {
        let mesh = &self.mesh;
        let fit = groove::fit(seal, wanted.seal.tolerance_mm)?;
        let most = fit.squeeze.most.clamp(0.0, 0.99);
        let hardness = wanted.seal.hardness_shore_a.clamp(1.0, 99.0);
        let load_n_per_mm = oring_load::load_n_per_mm(seal.oring.section_mm, hardness, most);
        let floor_mm = thickness_mm - seal.depth_mm;
        let stiff = wanted.modulus_mpa > 0.0 && floor_mm > 0.0;
        let thickness = |grooved: &bool| if *grooved { floor_mm } else { thickness_mm };
        let thickness: Vec<f64> = self.grooved.iter().map(thickness).collect();
        let [line, bolts @ ..] = &mesh.marked[..] else { return None };
        if !stiff || line.len() < 3 {
            return None;
        }
        let mut forces = vec![0.0; mesh.nodes.len()];
        add_line_n(mesh, line, load_n_per_mm, &mut forces);
        let elastic = Elastic { modulus_mpa: wanted.modulus_mpa, poisson: POISSON };
        let each = bolt_n_per_mm(wanted, thickness_mm)?;
        let holds: Vec<(usize, Hold)> = bolts
            .iter()
            .flat_map(|ring| ring.iter().map(|n| (*n, Hold::Spring(each / ring.len() as f64))))
            .collect();
        let w = deflections_mm(mesh, &elastic, &thickness, &holds, &forces)?;
        let worst = line.iter().copied().max_by(|a, b| w[*a].total_cmp(&w[*b]))?;
        let spare = fit.squeeze.least - SQUEEZE_LIMITS.0;
        Some(Stiff {
            thickness_mm,
            load_n_per_mm,
            gap_mm: w[worst].max(0.0),
            at: mesh.nodes[worst],
            gap_mm_max: (spare * seal.oring.section_mm).max(0.0),
            nodes: mesh.nodes.len(),
        })
    }
}

/// Stiffness of a bolt alone: its stress area over what it clamps, and 0.4 d in head and in thread each (VDI 2230,
/// memory).
fn bolt_n_per_mm(wanted: &Wanted<'_>, thickness_mm: f64) -> Option<f64> {
    let thread = Thread::parse(&wanted.bolt.thread).ok()?;
    let stretched_mm = thickness_mm + 0.8 * thread.diameter_mm;
    Some(STEEL_MPA * thread.stress_area_mm2() / stretched_mm) // E A/L
}

/// The gap on the mesh that is used, and on one four times as fine.
#[cfg(test)]
pub(super) fn coarse_and_fine(
    wanted: &Wanted<'_>,
    part: &FlatPart,
    grips: &[Point],
    seal: &LaidSeal,
    thickness_mm: f64,
) -> (f64, f64) {
    let gap = |nodes| {
        let model = Model::new(wanted, part, grips, nodes).unwrap();
        model.solve(wanted, seal, thickness_mm).unwrap().gap_mm
    };
    (gap(NODES), gap(4.0 * NODES))
}
