//! Views of a flat part: a face with its features, ordinates from the datum, a section, a groove enlarged.

use space::part::{Face, FlatPart, Hole};
use space::path::Path;
use space::segment::{Point, Segment, apart_mm};
use space::solid::{Ring, Slice, Solid, edges};

use crate::frame::{Page, mm, size};
use crate::hatch::{PLATE, fill};
use crate::letters::spread;
use crate::marks::{across, arrow};
use crate::svg::{
    CENTRE, DASHED, FINE, GREY, INK, OUTLINE, PAPER, Pen, Place, SMALL, Sheet, Type, at,
};

/// Print of what stands in a view.
const NOTE: Type = SMALL.of_size(2.2);
/// Room that ordinates take below a view and at its left.
pub const ORDINATES_MM: f64 = 17.0;

/// Where sizes are taken from.
#[derive(Clone, Debug, PartialEq)]
pub struct Datum {
    /// The point.
    pub point: Point,
    /// Which it is, in words.
    pub words: String,
}

/// The lower left corner where two straight edges make one; else the first hole.
pub fn datum(part: &FlatPart) -> Datum {
    let Some((low, _)) = part.outline.bounds() else {
        return Datum { point: [0.0, 0.0], words: "the origin".to_owned() };
    };
    let straight = |axis: usize| {
        part.outline.segments().iter().any(|s| match s {
            Segment::Line { from, to } => {
                (from[axis] - low[axis]).abs() < 1e-6
                    && (to[axis] - low[axis]).abs() < 1e-6
                    && apart_mm(*from, *to) > 5.0
            }
            Segment::Arc { .. } => false,
        })
    };
    match part.holes.first() {
        Some(hole) if !(straight(0) && straight(1)) => Datum {
            point: [hole.x_mm, hole.y_mm],
            words: format!("the middle of {}", hole.name),
        },
        _ => Datum { point: low, words: "the left and the lower edge".to_owned() },
    }
}

/// A part on paper, seen from one side.
#[derive(Clone, Copy)]
pub struct View<'a> {
    /// The part.
    pub part: &'a FlatPart,
    /// From which side.
    pub face: Face,
    /// Paper over life.
    pub scale: f64,
    /// Upper left corner of the outline's bounds on paper.
    pub corner: Place,
}

impl View<'_> {
    fn bounds(&self) -> (Point, Point) {
        self.part.outline.bounds().unwrap_or_default()
    }

    /// A point of the part on paper; the seal side is seen turned over about the upright axis.
    pub fn p(&self, point: Point) -> Place {
        let (low, high) = self.bounds();
        let across = match self.face {
            Face::Outer => point[0] - low[0],
            Face::Seal => high[0] - point[0],
        };
        at(
            self.corner.x + across * self.scale,
            self.corner.y + (high[1] - point[1]) * self.scale,
        )
    }

    fn places(&self, path: &Path) -> Vec<Place> {
        path.sampled(0.02 / self.scale, 1e6).into_iter().map(|p| self.p(p)).collect()
    }

    fn closed(&self, page: &mut Page, path: &Path, pen: Pen) {
        let mut places = self.places(path);
        page.sheet.polygon(&places, None, Some(pen));
        places.extend(places.first().copied());
        page.keep_off(&places);
    }

    fn circle(&self, page: &mut Page, centre: Point, radius_mm: f64, pen: Pen) {
        page.sheet.circle(self.p(centre), radius_mm * self.scale, None, Some(pen));
        let mut ring = self.places(&Path::circle(centre, radius_mm));
        ring.extend(ring.first().copied());
        page.keep_off(&ring);
    }

    /// A cross through a middle, a little larger than its circle.
    fn cross(&self, page: &mut Page, centre: Point, reach_mm: f64) {
        let c = self.p(centre);
        // In a small circle a chain line would show a dash and a half.
        let pen = if reach_mm < 5.0 { FINE } else { CENTRE };
        page.sheet.line(at(c.x - reach_mm, c.y), at(c.x + reach_mm, c.y), pen);
        page.sheet.line(at(c.x, c.y - reach_mm), at(c.x, c.y + reach_mm), pen);
        page.keep_off(&[at(c.x - reach_mm, c.y), at(c.x + reach_mm, c.y)]);
        page.keep_off(&[at(c.x, c.y - reach_mm), at(c.x, c.y + reach_mm)]);
    }

    /// All that is seen of this side; what is cut from the other is dashed where asked for.
    pub fn draw(&self, page: &mut Page, hidden: bool) {
        let part = self.part;
        self.closed(page, &part.outline, OUTLINE);
        let pen = |face: Face| match (face == self.face, hidden) {
            (true, _) => Some(OUTLINE),
            (false, true) => Some(DASHED),
            (false, false) => None,
        };
        for path in &part.openings {
            self.closed(page, path, OUTLINE);
        }
        for pocket in &part.pockets {
            if let Some(pen) = pen(pocket.face) {
                self.closed(page, &pocket.edge, pen);
            }
        }
        for groove in &part.grooves {
            let Some(pen) = pen(groove.face) else { continue };
            for edge in edges(&groove.middle, groove.width_mm).iter().flatten() {
                self.closed(page, edge, pen);
            }
            self.closed(page, &groove.middle, CENTRE);
        }
        for hole in &part.holes {
            let centre = [hole.x_mm, hole.y_mm];
            let blind = hole.drill_depth_mm.map(|_| Face::Outer);
            let Some(edge) = blind.map_or(Some(OUTLINE), pen) else { continue };
            self.circle(page, centre, hole.diameter_mm / 2.0, edge);
            let mut reach = hole.diameter_mm / 2.0;
            if let Some(bore) = hole.counterbore
                && let Some(pen) = pen(bore.face)
            {
                self.circle(page, centre, bore.diameter_mm / 2.0, pen);
                reach = bore.diameter_mm / 2.0;
            }
            self.cross(page, centre, reach * self.scale + 1.0);
        }
        for mark in part.marks.iter().filter(|m| m.face == self.face) {
            let kind =
                SMALL.middle().in_colour(GREY).of_size(mark.height_mm / 0.7 * self.scale);
            page.text(self.p([mark.x_mm, mark.y_mm]), &mark.text, kind);
        }
    }

    /// Names beside the holes, and numbers at the corners of what a table gives point by point.
    pub fn names(&self, page: &mut Page, corners: &[(String, Point)]) {
        let seen = |h: &&Hole| h.drill_depth_mm.is_none() || self.face == Face::Outer;
        for hole in self.part.holes.iter().filter(seen) {
            let bore = hole.counterbore.filter(|b| b.face == self.face);
            let d = bore.map_or(hole.diameter_mm, |b| b.diameter_mm);
            let clear = d / 2.0 * self.scale;
            page.label(self.p([hole.x_mm, hole.y_mm]), clear, &hole.name, NOTE.heavy());
        }
        for (name, point) in corners {
            let place = self.p(*point);
            page.sheet.circle(place, 0.4, Some(INK), None);
            page.label(place, 0.5, name, NOTE.of_size(1.8).in_colour(GREY));
        }
    }

    /// The size of the view on paper.
    pub fn size_mm(&self) -> (f64, f64) {
        let (low, high) = self.bounds();
        ((high[0] - low[0]) * self.scale, (high[1] - low[1]) * self.scale)
    }

    /// Ordinates from the datum below and at the left, each value once, spread so that none meets another.
    pub fn ordinates(&self, page: &mut Page, datum: &Datum) {
        let (low, high) = self.bounds();
        let (w, h) = self.size_mm();
        let foot = self.corner.y + h;
        for axis in 0..2 {
            let mut values: Vec<f64> =
                self.part.holes.iter().map(|h| [h.x_mm, h.y_mm][axis]).collect();
            values.extend([low[axis], high[axis], datum.point[axis]]);
            values.sort_by(f64::total_cmp);
            values.dedup_by(|a, b| (*a - *b).abs() < 0.005);
            let on_paper = |v: &f64| {
                let mut point = low;
                point[axis] = *v;
                let place = self.p(point);
                if axis == 0 { place.x } else { place.y }
            };
            let mut pairs: Vec<(f64, String)> =
                values.iter().map(|v| (on_paper(v), size(v - datum.point[axis]))).collect();
            pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
            let wishes: Vec<f64> = pairs.iter().map(|p| p.0).collect();
            let widths = vec![2.3; wishes.len()];
            let start = if axis == 0 { self.corner.x } else { self.corner.y };
            let end = start + if axis == 0 { w } else { h };
            let centres = spread(&wishes, &widths, 0.6, start - 6.0, end + 6.0);
            for ((wish, text), centre) in pairs.iter().zip(centres) {
                if axis == 0 {
                    let leader = [
                        at(*wish, foot + 1.0),
                        at(*wish, foot + 3.0),
                        at(centre, foot + 5.5),
                        at(centre, foot + 6.5),
                    ];
                    page.sheet.polyline(&leader, FINE);
                    page.keep_off(&leader);
                    page.upwards(at(centre + 0.8, foot + 7.0), text, NOTE.end());
                } else {
                    let x = self.corner.x;
                    let leader = [
                        at(x - 1.0, *wish),
                        at(x - 3.0, *wish),
                        at(x - 5.5, centre),
                        at(x - 6.5, centre),
                    ];
                    page.sheet.polyline(&leader, FINE);
                    page.keep_off(&leader);
                    page.text(at(x - 7.0, centre + 0.8), text, NOTE.end());
                }
            }
        }
        let place = self.p(datum.point);
        page.sheet.circle(place, 1.3, Some(PAPER), Some(OUTLINE));
        page.sheet.circle(place, 0.5, Some(INK), None);
    }
}

/// The height that shows most: where a section meets the greatest number of surfaces.
pub fn section_at(part: &FlatPart, solid: &Solid) -> f64 {
    let (low, high) = part.outline.bounds().unwrap_or_default();
    let middle = (low[1] + high[1]) / 2.0;
    let mut heights: Vec<(f64, bool)> = part.holes.iter().map(|h| (h.y_mm, true)).collect();
    let shapes = part.openings.iter().chain(part.pockets.iter().map(|p| &p.edge));
    heights.extend(shapes.filter_map(Path::centroid).map(|c| (c[1], false)));
    heights.push((middle, false));
    // A hole cut through its middle is worth more than one cut anywhere.
    // How deep a blind hole is shows nowhere else.
    let blind = |y: f64| {
        let cut = |h: &&Hole| (h.y_mm - y).abs() < h.diameter_mm / 4.0;
        part.holes.iter().filter(|h| h.drill_depth_mm.is_some()).filter(cut).count()
    };
    // A hole that is cut beside its middle looks narrower than it is.
    let beside = |y: f64| {
        let off = |h: &&Hole| {
            (h.diameter_mm / 8.0..h.diameter_mm / 2.0).contains(&(h.y_mm - y).abs())
        };
        part.holes.iter().filter(off).count()
    };
    let shown = |(y, through_a_middle): (f64, bool)| {
        let good = solid.section(y).len() + usize::from(through_a_middle) + 4 * blind(y);
        good as isize - 3 * beside(y) as isize
    };
    heights
        .into_iter()
        .max_by(|a, b| {
            let nearer = (b.0 - middle).abs().total_cmp(&(a.0 - middle).abs());
            shown(*a).cmp(&shown(*b)).then(nearer)
        })
        .map_or(middle, |(y, _)| y)
}

/// Draws a section with its outer side up; `origin` is the paper's place of x = 0 and the seal side.
pub fn section(page: &mut Page, slices: &[Slice], origin: Place, scale: f64) {
    let p = |x: f64, z: f64| at(origin.x + x * scale, origin.y - z * scale);
    let sheet: &mut Sheet = &mut page.sheet;
    for slice in slices {
        if let Some((low, high)) = slice.metal {
            let shape = [
                p(slice.from_mm, low),
                p(slice.to_mm, low),
                p(slice.to_mm, high),
                p(slice.from_mm, high),
            ];
            fill(sheet, &shape, PLATE, None);
        }
        for z in [slice.seen.0, slice.seen.1] {
            sheet.line(p(slice.from_mm, z), p(slice.to_mm, z), OUTLINE);
        }
    }
    // Upright edges: where what is cut changes from one slice to the next.
    let edge = |sheet: &mut Sheet, x: f64, a: f64, b: f64| {
        if (a - b).abs() > 1e-9 {
            sheet.line(p(x, a), p(x, b), OUTLINE);
        }
    };
    for (i, slice) in slices.iter().enumerate() {
        let before =
            i.checked_sub(1).map(|i| &slices[i]).filter(|s| s.to_mm >= slice.from_mm - 1e-6);
        match (before.and_then(|s| s.metal), slice.metal) {
            (Some(a), Some(b)) => {
                edge(sheet, slice.from_mm, a.0, b.0);
                edge(sheet, slice.from_mm, a.1, b.1);
            }
            (Some(m), None) | (None, Some(m)) => edge(sheet, slice.from_mm, m.0, m.1),
            (None, None) => {}
        }
        let is_last = slices.get(i + 1).is_none_or(|s| s.from_mm > slice.to_mm + 1e-6);
        if let (true, Some(m)) = (is_last, slice.metal) {
            edge(sheet, slice.to_mm, m.0, m.1);
        }
    }
}

/// Width and height on paper of the enlarged groove.
pub const DETAIL_MM: (f64, f64) = (62.0, 34.0);

/// A groove enlarged, with its sizes; `corner` is the upper left corner of its place.
pub fn detail(page: &mut Page, sizes: (f64, f64), words: [&str; 2], corner: Place) -> f64 {
    let (width_mm, depth_mm) = sizes;
    let scale = [10.0, 5.0, 2.0, 1.0, 0.5]
        .into_iter()
        .find(|s| width_mm * s <= 26.0 && depth_mm * s <= 16.0)
        .unwrap_or(0.2);
    let (half, deep) = (width_mm * scale / 2.0, depth_mm * scale);
    let (middle, face) = (corner.x + 36.0, corner.y + 6.0);
    let (left, right, foot) = (middle - half - 7.0, middle + half + 7.0, face + deep + 5.0);
    let cut = [
        at(left, face),
        at(middle - half, face),
        at(middle - half, face + deep),
        at(middle + half, face + deep),
        at(middle + half, face),
        at(right, face),
        at(right, foot),
        at(left, foot),
    ];
    fill(&mut page.sheet, &cut, PLATE, None);
    page.sheet.polyline(&cut[..6], OUTLINE);
    across(&mut page.sheet, (middle - half, middle + half), face + deep, foot + 4.0, words[0]);
    // The words of the depth stand at the left, level, for they are long.
    let x = left - 3.0;
    level(page, (face, face + deep), middle - half, x, words[1]);
    finish(page, at(middle - 3.0, face + deep), "Ra 0.8");
    scale
}

/// The sign of a machined surface with its roughness, its foot on the surface.
fn finish(page: &mut Page, foot: Place, words: &str) {
    let pen = Pen { colour: INK, width: 0.2, dash: None };
    let (short, long) = (at(foot.x - 1.2, foot.y - 2.1), at(foot.x + 2.4, foot.y - 4.2));
    page.sheet.polyline(&[short, foot, long, at(long.x + 8.0, long.y)], pen);
    page.sheet.line(short, at(foot.x + 1.2, foot.y - 2.1), pen);
    page.text(at(long.x + 0.6, long.y + 2.4), words, NOTE);
}

/// An upright dimension at `x`, left of `edge`, whose words stand level at its left.
pub fn level(page: &mut Page, (top, foot): (f64, f64), edge: f64, x: f64, words: &str) {
    for y in [top, foot] {
        page.sheet.line(at(edge, y), at(x - 1.0, y), FINE);
    }
    // Where there is no room between the lines the arrows stand outside them.
    let inside = foot - top > 4.5;
    let (from, to) = if inside { (top, foot) } else { (top - 3.0, foot + 3.0) };
    page.sheet.line(at(x, from), at(x, to), FINE);
    let down = if inside { 1.0 } else { -1.0 };
    arrow(&mut page.sheet, at(x, top), at(0.0, down));
    arrow(&mut page.sheet, at(x, foot), at(0.0, -down));
    page.text(at(x - 1.6, (top + foot) / 2.0 + 0.8), words, SMALL.end());
}

/// The shape of an outline in a few words, where it has one that can be said: circle, rectangle with
/// rounded corners.
pub fn shape_words(path: &Path) -> Option<String> {
    if let Ring::Circle { radius_mm, .. } = Ring::of(path) {
        return Some(format!("Ø{}", mm(2.0 * radius_mm)));
    }
    let (low, high) = path.bounds()?;
    let (w, h) = (high[0] - low[0], high[1] - low[1]);
    // A rounded rectangle has the area w h - (4 - pi) r^2 and the length 2 (w + h) - (8 - 2 pi) r.
    let pi = std::f64::consts::PI;
    let radius = ((w * h - path.area_mm2().abs()).max(0.0) / (4.0 - pi)).sqrt();
    let length = 2.0 * (w + h) - (8.0 - 2.0 * pi) * radius;
    let plain = path.segments().iter().all(|s| match *s {
        Segment::Line { from, to } => {
            (from[0] - to[0]).abs() < 1e-5 || (from[1] - to[1]).abs() < 1e-5
        }
        Segment::Arc { radius_mm, .. } => (radius_mm - radius).abs() < 1e-3,
    });
    if !plain || (length - path.length_mm()).abs() > 1e-3 {
        return None;
    }
    Some(if radius < 1e-3 {
        format!("{} x {}", size(w), size(h))
    } else {
        format!("{} x {}, R{}", size(w), size(h), size(radius))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shapes_are_said_only_where_they_are_so() {
        let said = |p: &Path| shape_words(p);
        let plate = Path::rounded_rectangle([5.0, 5.0], 200.0, 80.0, 12.0);
        assert_eq!(said(&plate).as_deref(), Some("200 x 80, R12"));
        assert_eq!(said(&Path::circle([1.0, 2.0], 14.0)).as_deref(), Some("Ø28"));
        let slot = Path::stadium([0.0, 0.0], [20.0, 0.0], 5.0);
        assert_eq!(said(&slot).as_deref(), Some("30 x 10, R5"));
        let corners = [[0.0, 0.0], [10.0, 1.0], [10.0, 9.0], [0.0, 10.0]];
        assert_eq!(said(&Path::polygon(&corners)), None);
    }
}
