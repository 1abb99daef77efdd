//! The boundary of a flat part: flat faces and upright walls, and from them its volume.
//!
//! Depths count from the surface a feature is cut in: a groove in a pocket from the pocket's floor. Engraved
//! marks are left out. What cannot be made of solid metal (a hole across a groove, a pocket that breaks
//! through) is refused, every fault at once.
//!
//! V = Σ area of upper face × its height − Σ area of lower face × its height
//!
//! Range   Features whose edges neither touch nor cross.
//! Source  Elementary geometry (divergence theorem for a body of flat faces and upright walls).

use std::f64::consts::PI;

use crate::part::{Face, FlatPart};
use crate::path::Path;
use crate::segment::{Point, Segment, apart_mm};

/// Edges nearer than this touch: thinner metal than this is none.
const TOUCH_MM: f64 = 1e-3;

/// A closed edge, counter-clockwise seen from the outer side.
#[derive(Clone, Debug, PartialEq)]
pub enum Ring {
    /// A whole circle.
    Circle {
        /// Centre.
        centre: Point,
        /// Radius.
        radius_mm: f64,
    },
    /// Lines and arcs.
    Path(Path),
}

/// A horizontal face.
#[derive(Clone, Debug, PartialEq)]
pub struct Flat {
    /// What it is.
    pub name: String,
    /// Height above the seal side.
    pub z_mm: f64,
    /// To which side it looks.
    pub face: Face,
    /// Its outer edge, an index of the rings.
    pub outer: usize,
    /// Its inner edges.
    pub inner: Vec<usize>,
}

/// On which side of an upright wall the metal is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Metal {
    /// Inside the ring, as at the outline.
    Within,
    /// Outside the ring, as at a hole.
    Around,
}

/// An upright wall along a ring.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// What it is.
    pub name: String,
    /// Which ring.
    pub ring: usize,
    /// Its lower edge.
    pub low_mm: f64,
    /// Its upper edge.
    pub high_mm: f64,
    /// Where the metal is.
    pub metal: Metal,
}

/// The boundary of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// All edges in plan, each once.
    pub rings: Vec<Ring>,
    /// Horizontal faces.
    pub flats: Vec<Flat>,
    /// Upright walls.
    pub walls: Vec<Wall>,
    thickness_mm: f64,
    seal: Side,
    outer: Side,
}

/// Why a part cannot be a body: one sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// What is wrong.
    pub message: String,
}

/// A piece of a section, between two places along the line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slice {
    /// Where it starts.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
    /// Lower and upper surface of the metal; none where the line runs through an opening.
    pub metal: Option<(f64, f64)>,
    /// Lower and upper surface as the eye sees them past an opening: those the opening is cut in.
    pub seen: (f64, f64),
}

/// What is cut along a ring.
#[derive(Clone, Copy, Debug, PartialEq)]
enum What {
    /// A floor at this depth inside the ring.
    Floor(f64),
    /// The metal left standing inside a groove, whose floor is the cut before.
    Island,
    /// Nothing is left inside.
    Through,
}

#[derive(Clone, Debug, PartialEq)]
struct Cut {
    ring: usize,
    name: String,
    what: What,
    /// The cut it lies in; none on the part's own face.
    parent: Option<usize>,
}

#[derive(Clone, Debug, Default, PartialEq)]
struct Side {
    cuts: Vec<Cut>,
}

impl Ring {
    /// A path as a ring: a circle where it is one.
    pub fn of(path: &Path) -> Ring {
        let path = path.counter_clockwise();
        let segments = path.segments();
        if let Some(&Segment::Arc { centre, radius_mm, .. }) = segments.first() {
            let whole = segments.iter().all(|s| match s {
                Segment::Arc { centre: c, radius_mm: r, sweep, .. } => {
                    *sweep > 0.0 && apart_mm(*c, centre) < 1e-5 && (r - radius_mm).abs() < 1e-5
                }
                Segment::Line { .. } => false,
            });
            if whole {
                return Ring::Circle { centre, radius_mm };
            }
        }
        Ring::Path(path)
    }

    /// The ring as an outline.
    pub fn path(&self) -> Path {
        match self {
            Ring::Circle { centre, radius_mm } => Path::circle(*centre, *radius_mm),
            Ring::Path(path) => path.clone(),
        }
    }

    /// What it encloses.
    pub fn area_mm2(&self) -> f64 {
        match self {
            Ring::Circle { radius_mm, .. } => PI * radius_mm * radius_mm,
            Ring::Path(path) => path.area_mm2(),
        }
    }

    /// Its length.
    pub fn length_mm(&self) -> f64 {
        match self {
            Ring::Circle { radius_mm, .. } => 2.0 * PI * radius_mm,
            Ring::Path(path) => path.length_mm(),
        }
    }

    fn point(&self) -> Point {
        match self {
            Ring::Circle { centre, radius_mm } => [centre[0] + radius_mm, centre[1]],
            Ring::Path(path) => path.vertices[0].point(),
        }
    }

    fn contains(&self, point: Point) -> bool {
        match self {
            Ring::Circle { centre, radius_mm } => apart_mm(*centre, point) < *radius_mm,
            Ring::Path(path) => path.contains(point),
        }
    }

    fn gap_mm(&self, other: &Ring) -> f64 {
        match (self, other) {
            (
                Ring::Circle { centre: a, radius_mm: ra },
                Ring::Circle { centre: b, radius_mm: rb },
            ) => {
                let apart = apart_mm(*a, *b);
                (apart - ra - rb).max((ra - rb).abs() - apart).max(0.0)
            }
            _ => self.path().gap(&other.path()).map_or(0.0, |(gap, ..)| gap),
        }
    }

    /// Where a line of constant y crosses the ring.
    fn crossings(&self, y_mm: f64, reach_mm: f64) -> Vec<f64> {
        let line = Segment::new([-reach_mm, y_mm], [reach_mm, y_mm], 0.0);
        let path = self.path();
        path.segments().iter().flat_map(|s| s.crossings(&line)).map(|p| p[0]).collect()
    }
}

/// The boundary of a part.
///
/// # Errors
/// Every reason why it is no body, each in a sentence.
pub fn solid(part: &FlatPart) -> Result<Solid, Vec<Fault>> {
    let mut making = Making::default();
    making.sizes(part);
    if !making.faults.is_empty() {
        return Err(making.faults);
    }
    making.rings.push(Ring::of(&part.outline));
    making.names.push("outline".to_owned());
    making.through(part);
    making.recesses(part);
    if making.faults.is_empty() {
        making.crossings();
    }
    if making.faults.is_empty() {
        making.nest();
        making.breakthrough(part.thickness_mm);
    }
    if making.faults.is_empty() { Ok(making.finish(part)) } else { Err(making.faults) }
}

#[derive(Default)]
struct Making {
    rings: Vec<Ring>,
    names: Vec<String>,
    sides: [Side; 2],
    faults: Vec<Fault>,
}

fn index(face: Face) -> usize {
    match face {
        Face::Seal => 0,
        Face::Outer => 1,
    }
}

fn side_word(face: Face) -> &'static str {
    match face {
        Face::Seal => "seal side",
        Face::Outer => "outer side",
    }
}

impl Making {
    fn fault(&mut self, message: String) {
        self.faults.push(Fault { message });
    }

    fn size(&mut self, what: &str, value_mm: f64) {
        if !(value_mm.is_finite() && value_mm > TOUCH_MM) {
            self.fault(format!("{what} is {value_mm} mm, which is no size"));
        }
    }

    /// Every length of the part, before any is used.
    fn sizes(&mut self, part: &FlatPart) {
        self.size("the thickness", part.thickness_mm);
        let recess = |name: &str, depth_mm: f64, making: &mut Making| {
            making.size(&format!("the depth of {name}"), depth_mm);
            if depth_mm >= part.thickness_mm {
                let t = part.thickness_mm;
                making.fault(format!(
                    "{name} is {depth_mm} mm deep, and the part is only {t} mm thick"
                ));
            }
        };
        let mut paths = vec![("the outline".to_owned(), &part.outline)];
        for hole in &part.holes {
            self.size(&format!("the diameter of {}", hole.name), hole.diameter_mm);
            if !(hole.x_mm.is_finite() && hole.y_mm.is_finite()) {
                self.fault(format!("{} has no place", hole.name));
            }
            if let Some(depth_mm) = hole.drill_depth_mm {
                recess(&hole.name, depth_mm, self);
                if hole.counterbore.is_some_and(|b| b.face == Face::Seal) {
                    self.fault(format!(
                        "{} is drilled from the outer side and counterbored from the other",
                        hole.name
                    ));
                }
            }
            if let Some(bore) = hole.counterbore {
                recess(&format!("the counterbore of {}", hole.name), bore.depth_mm, self);
                if !(bore.diameter_mm > hole.diameter_mm + 2.0 * TOUCH_MM) {
                    self.fault(format!(
                        "the counterbore of {} is {} mm wide and the hole {} mm",
                        hole.name, bore.diameter_mm, hole.diameter_mm
                    ));
                }
            }
        }
        for (i, groove) in part.grooves.iter().enumerate() {
            let name = numbered("the groove", i, part.grooves.len());
            self.size(&format!("the width of {name}"), groove.width_mm);
            recess(&name, groove.depth_mm, self);
            paths.push((name, &groove.middle));
        }
        for (i, pocket) in part.pockets.iter().enumerate() {
            let name = numbered("the pocket", i, part.pockets.len());
            recess(&name, pocket.depth_mm, self);
            paths.push((name, &pocket.edge));
        }
        for (i, opening) in part.openings.iter().enumerate() {
            paths.push((numbered("the opening", i, part.openings.len()), opening));
        }
        for (name, path) in paths {
            let finite = path
                .vertices
                .iter()
                .all(|v| v.x_mm.is_finite() && v.y_mm.is_finite() && v.bulge.is_finite());
            if !finite || path.vertices.len() < 2 || path.area_mm2().abs() < TOUCH_MM {
                self.fault(format!("{name} encloses nothing"));
            } else if path.crosses_itself() {
                self.fault(format!("{name} crosses itself"));
            }
        }
    }

    fn ring(&mut self, ring: Ring, name: &str) -> usize {
        self.rings.push(ring);
        self.names.push(name.to_owned());
        self.rings.len() - 1
    }

    fn cut(&mut self, face: Face, ring: usize, what: What) {
        let name = self.names[ring].clone();
        self.sides[index(face)].cuts.push(Cut { ring, name, what, parent: None });
    }

    fn through(&mut self, part: &FlatPart) {
        for hole in &part.holes {
            let centre = [hole.x_mm, hole.y_mm];
            let circle =
                |diameter_mm: f64| Ring::Circle { centre, radius_mm: diameter_mm / 2.0 };
            if let Some(bore) = hole.counterbore {
                let name = format!("{} counterbore", hole.name);
                let ring = self.ring(circle(bore.diameter_mm), &name);
                self.cut(bore.face, ring, What::Floor(bore.depth_mm));
            }
            let ring = self.ring(circle(hole.diameter_mm), &hole.name);
            if let Some(depth_mm) = hole.drill_depth_mm {
                // Depths count from the surface a feature is cut in, a drilling's from the part's own.
                let sunk_mm = hole.counterbore.map_or(0.0, |b| b.depth_mm);
                self.cut(Face::Outer, ring, What::Floor(depth_mm - sunk_mm));
                continue;
            }
            self.cut(Face::Seal, ring, What::Through);
            self.cut(Face::Outer, ring, What::Through);
        }
        for (i, opening) in part.openings.iter().enumerate() {
            let name = numbered("opening", i, part.openings.len());
            let ring = self.ring(Ring::of(opening), &name);
            self.cut(Face::Seal, ring, What::Through);
            self.cut(Face::Outer, ring, What::Through);
        }
    }

    fn recesses(&mut self, part: &FlatPart) {
        for (i, groove) in part.grooves.iter().enumerate() {
            let name = numbered("groove", i, part.grooves.len());
            let Some([outer, inner]) = edges(&groove.middle, groove.width_mm) else {
                self.fault(format!(
                    "the {name} turns tighter than half its width of {} mm",
                    groove.width_mm
                ));
                continue;
            };
            let outer = self.ring(Ring::of(&outer), &format!("{name} outer edge"));
            self.cut(groove.face, outer, What::Floor(groove.depth_mm));
            let inner = self.ring(Ring::of(&inner), &format!("{name} inner edge"));
            self.cut(groove.face, inner, What::Island);
        }
        for (i, pocket) in part.pockets.iter().enumerate() {
            let name = numbered("pocket", i, part.pockets.len());
            let ring = self.ring(Ring::of(&pocket.edge), &name);
            self.cut(pocket.face, ring, What::Floor(pocket.depth_mm));
        }
    }

    /// Edges that touch on one side, or leave the outline.
    fn crossings(&mut self) {
        let mut found = Vec::new();
        for i in 1..self.rings.len() {
            let (outline, ring) = (&self.rings[0], &self.rings[i]);
            let name = &self.names[i];
            if !outline.contains(ring.point()) || outline.gap_mm(ring) < TOUCH_MM {
                found.push(format!("{name} runs over the edge of the part"));
            }
        }
        for (side, face) in self.sides.iter().zip([Face::Seal, Face::Outer]) {
            for (i, a) in side.cuts.iter().enumerate() {
                for b in &side.cuts[i + 1..] {
                    let (ra, rb) = (&self.rings[a.ring], &self.rings[b.ring]);
                    if ra.gap_mm(rb) < TOUCH_MM {
                        let message = format!(
                            "{} and {} run into each other on the {}",
                            a.name,
                            b.name,
                            side_word(face)
                        );
                        // Two holes meet on both sides; that is said once.
                        let both = a.what == What::Through && b.what == What::Through;
                        if !(both && face == Face::Outer) {
                            found.push(message);
                        }
                    }
                }
            }
        }
        self.faults.extend(found.into_iter().map(|message| Fault { message }));
    }

    /// Finds for every cut the one it lies in.
    fn nest(&mut self) {
        let mut found = Vec::new();
        for side in &mut self.sides {
            let parents: Vec<Option<usize>> = (0..side.cuts.len())
                .map(|i| {
                    side.smallest_around(
                        &self.rings,
                        self.rings[side.cuts[i].ring].point(),
                        Some(i),
                    )
                })
                .collect();
            for (i, parent) in parents.into_iter().enumerate() {
                side.cuts[i].parent = parent;
                let cut = &side.cuts[i];
                if let Some(p) = parent
                    && side.cuts[p].what == What::Through
                {
                    found.push(format!("{} lies inside {}", cut.name, side.cuts[p].name));
                }
                if cut.what == What::Island && parent != Some(i - 1) {
                    found.push(format!("{} is not inside its outer edge", cut.name));
                }
            }
        }
        found.dedup();
        self.faults.extend(found.into_iter().map(|message| Fault { message }));
    }

    /// Floors of the two sides that meet.
    ///
    /// Where a floor of one side lies over one of the other, the edge of one of them is inside the other or
    /// crosses it; so it is enough to look along the edges.
    fn breakthrough(&mut self, thickness_mm: f64) {
        let mut found = Vec::new();
        for (here, there) in [(0, 1), (1, 0)] {
            let (side, other) = (&self.sides[here], &self.sides[there]);
            for (i, cut) in side.cuts.iter().enumerate() {
                if cut.what == What::Through {
                    continue;
                }
                let ring = &self.rings[cut.ring];
                let under = other.smallest_around(&self.rings, ring.point(), None);
                let crossed = (0..other.cuts.len())
                    .filter(|c| ring.gap_mm(&self.rings[other.cuts[*c].ring]) <= 0.0);
                for region in under.into_iter().chain(crossed) {
                    let left =
                        thickness_mm - side.depth_mm(Some(i)) - other.depth_mm(Some(region));
                    if left < TOUCH_MM {
                        let name = &other.cuts[region].name;
                        found.push(format!("{} breaks through into {name}", cut.name));
                    }
                }
            }
        }
        found.dedup();
        self.faults.extend(found.into_iter().map(|message| Fault { message }));
    }

    fn finish(self, part: &FlatPart) -> Solid {
        let Making { rings, sides: [seal, outer], .. } = self;
        let mut solid = Solid {
            rings,
            flats: Vec::new(),
            walls: Vec::new(),
            thickness_mm: part.thickness_mm,
            seal,
            outer,
        };
        solid.walls.push(Wall {
            name: "outline".to_owned(),
            ring: 0,
            low_mm: 0.0,
            high_mm: part.thickness_mm,
            metal: Metal::Within,
        });
        for face in [Face::Seal, Face::Outer] {
            solid.surfaces(face);
        }
        solid.through_walls();
        solid
    }
}

fn numbered(name: &str, i: usize, of: usize) -> String {
    if of == 1 { name.to_owned() } else { format!("{name} {}", i + 1) }
}

/// The two edges of a groove, outer and inner; none where it turns too tightly.
pub fn edges(middle: &Path, width_mm: f64) -> Option<[Path; 2]> {
    let one = |out_mm: f64| {
        let mut found = middle.parallel(out_mm);
        (found.len() == 1).then(|| found.remove(0))
    };
    Some([one(width_mm / 2.0)?, one(-width_mm / 2.0)?])
}

impl Side {
    /// The smallest cut whose ring lies around a point, but for one; none on the part's own face.
    fn smallest_around(
        &self,
        rings: &[Ring],
        point: Point,
        but: Option<usize>,
    ) -> Option<usize> {
        let around = |i: &usize| Some(*i) != but && rings[self.cuts[*i].ring].contains(point);
        (0..self.cuts.len()).filter(around).min_by(|a, b| {
            let area = |i: &usize| rings[self.cuts[*i].ring].area_mm2();
            area(a).total_cmp(&area(b))
        })
    }

    /// Depth of the surface inside a cut below the part's own face; that of its surroundings for a hole.
    fn depth_mm(&self, cut: Option<usize>) -> f64 {
        let Some(i) = cut else { return 0.0 };
        let parent = self.cuts[i].parent;
        match self.cuts[i].what {
            What::Floor(depth_mm) => self.depth_mm(parent) + depth_mm,
            // What a groove leaves standing is as high as what is around the groove.
            What::Island => parent.map_or(0.0, |p| self.depth_mm(self.cuts[p].parent)),
            What::Through => self.depth_mm(parent),
        }
    }
}

impl Solid {
    fn side(&self, face: Face) -> &Side {
        match face {
            Face::Seal => &self.seal,
            Face::Outer => &self.outer,
        }
    }

    fn z_mm(&self, face: Face, region: Option<usize>) -> f64 {
        let depth_mm = self.side(face).depth_mm(region);
        match face {
            Face::Seal => depth_mm,
            Face::Outer => self.thickness_mm - depth_mm,
        }
    }

    /// The flats of one side and the walls of what is cut from it.
    fn surfaces(&mut self, face: Face) {
        let side = self.side(face).clone();
        let regions = std::iter::once(None).chain((0..side.cuts.len()).map(Some));
        for region in regions {
            if region.is_some_and(|i| side.cuts[i].what == What::Through) {
                continue;
            }
            let inner = side.cuts.iter().filter(|c| c.parent == region).map(|c| c.ring);
            let name = region.map_or_else(
                || side_word(face).to_owned(),
                |i| match side.cuts[i].what {
                    What::Island => format!("{} island", side_word(face)),
                    What::Floor(_) | What::Through => format!("{} floor", side.cuts[i].name),
                },
            );
            self.flats.push(Flat {
                name,
                z_mm: self.z_mm(face, region),
                face,
                outer: region.map_or(0, |i| side.cuts[i].ring),
                inner: inner.collect(),
            });
        }
        for (i, cut) in side.cuts.iter().enumerate() {
            if cut.what == What::Through {
                continue;
            }
            let (a, b) = (self.z_mm(face, cut.parent), self.z_mm(face, Some(i)));
            let metal = match cut.what {
                What::Island => Metal::Within,
                What::Floor(_) | What::Through => Metal::Around,
            };
            self.walls.push(Wall {
                name: cut.name.clone(),
                ring: cut.ring,
                low_mm: a.min(b),
                high_mm: a.max(b),
                metal,
            });
        }
    }

    fn through_walls(&mut self) {
        for cut in self.seal.cuts.iter().filter(|c| c.what == What::Through) {
            let there = self
                .outer
                .cuts
                .iter()
                .find(|c| c.ring == cut.ring)
                .expect("a hole is cut from both sides");
            self.walls.push(Wall {
                name: cut.name.clone(),
                ring: cut.ring,
                low_mm: self.z_mm(Face::Seal, cut.parent),
                high_mm: self.z_mm(Face::Outer, there.parent),
                metal: Metal::Around,
            });
        }
    }

    /// Volume of metal.
    pub fn volume_mm3(&self) -> f64 {
        self.flats
            .iter()
            .map(|flat| {
                let inner: f64 = flat.inner.iter().map(|r| self.rings[*r].area_mm2()).sum();
                let area = self.rings[flat.outer].area_mm2() - inner;
                match flat.face {
                    Face::Outer => area * flat.z_mm,
                    Face::Seal => -area * flat.z_mm,
                }
            })
            .sum()
    }

    /// Its whole surface.
    pub fn surface_mm2(&self) -> f64 {
        let flat = |f: &Flat| {
            let inner: f64 = f.inner.iter().map(|r| self.rings[*r].area_mm2()).sum();
            self.rings[f.outer].area_mm2() - inner
        };
        let wall = |w: &Wall| self.rings[w.ring].length_mm() * (w.high_mm - w.low_mm);
        self.flats.iter().map(flat).sum::<f64>() + self.walls.iter().map(wall).sum::<f64>()
    }

    /// Lower and upper surface at a point, and whether there is metal between them; none outside.
    fn at(&self, point: Point) -> Option<(f64, f64, bool)> {
        if !self.rings[0].contains(point) {
            return None;
        }
        let here = |face: Face| {
            let side = self.side(face);
            let region = side.smallest_around(&self.rings, point, None);
            let open = region.is_some_and(|i| side.cuts[i].what == What::Through);
            (self.z_mm(face, region), open)
        };
        let ((low, open), (high, _)) = (here(Face::Seal), here(Face::Outer));
        Some((low, high, !open))
    }

    /// The section along a line of constant y, from left to right.
    pub fn section(&self, y_mm: f64) -> Vec<Slice> {
        let Some((low, high)) = self.rings[0].path().bounds() else { return Vec::new() };
        let reach_mm = low[0].abs().max(high[0].abs()) + 10.0;
        let mut places: Vec<f64> =
            self.rings.iter().flat_map(|r| r.crossings(y_mm, reach_mm)).collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < TOUCH_MM / 2.0);
        let mut slices: Vec<Slice> = Vec::new();
        for pair in places.windows(2) {
            let Some((low, high, metal)) = self.at([(pair[0] + pair[1]) / 2.0, y_mm]) else {
                continue;
            };
            let metal = metal.then_some((low, high));
            let slice = Slice { from_mm: pair[0], to_mm: pair[1], metal, seen: (low, high) };
            match slices.last_mut() {
                Some(last)
                    if last.metal == slice.metal
                        && last.seen == slice.seen
                        && last.to_mm == slice.from_mm =>
                {
                    last.to_mm = slice.to_mm;
                }
                _ => slices.push(slice),
            }
        }
        slices
    }
}

#[cfg(test)]
mod tests;
