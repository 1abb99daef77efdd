//! The dimensioned drawing of a flat part: both faces, a section, the groove enlarged, tables, notes.
//!
//! Holes are given by coordinates from one datum, in a table and as ordinates at the view, because that is how
//! a machine is set and a plate is measured. Outlines that cannot be said in words are given point by point.
//! The largest standard scale that fits is taken, on the smaller sheet where that shows the part at full size.
//!
//! Source  General tolerances: ISO 2768-1 class m (memory). Finish of a static seal's groove, 0.8 µm: a
//!         published O-ring guide ("32 microinches" for static seals). Edge breaks, flatness and the position
//!         tolerance of holes are common practice, no source.

use physics::units::{Dimension, show_both};
use space::part::{Counterbore, Face, FlatPart, Hole};
use space::path::Path;
use space::segment::{Point, Segment};
use space::solid::{Solid, edges};

use crate::frame::{
    Area, BORDER_MM, Line, Making, Page, SHEETS, TITLE_MM, Title, flow, mm, notes, size,
};
use crate::letters::typeset;
use crate::marks::ratio;
use crate::plate_views::{
    DETAIL_MM, Datum, ORDINATES_MM, View, datum, detail, level, section, section_at,
    shape_words,
};
use crate::svg::{CENTRE, Drawing, OUTLINE, Pen, SMALL, at};

/// Standard scales (ISO 5455), largest first.
const SCALES: [f64; 6] = [2.0, 1.0, 0.5, 0.2, 0.1, 0.05];
/// How closely a groove's width is held where nothing is stated (common practice).
pub const GROOVE_WIDTH_TOLERANCE_MM: f64 = 0.1;
/// How closely hole positions are held (common practice for a machining centre, no source).
pub const POSITION_TOLERANCE_MM: f64 = 0.1;
/// Between views.
const GAP_MM: f64 = 7.0;
/// Room for the title above a view.
const TITLE_ABOVE_MM: f64 = 6.0;

/// The drawing of a part, one or more sheets.
pub fn plate_drawing(part: &FlatPart, solid: &Solid, making: &Making) -> Vec<Drawing> {
    let layout = Layout::choose(part);
    let datum = datum(part);
    let contours = contours(part, &datum);
    let mut page = Page::new(layout.sheet.1, layout.sheet.2);
    let mut beside = if layout.tables_apart { Vec::new() } else { vec![layout.column()] };
    beside.extend(layout.between(part));
    beside.extend(layout.below(part));
    let lines = lines(part, solid, making, (&datum, &contours), layout.column_mm);
    let mut trial = Page::new(layout.sheet.1, layout.sheet.2);
    let mut left = flow(&mut trial, &beside, &lines);
    let mut sheets = 1;
    while !left.is_empty() {
        let before = left.len();
        left = flow(&mut trial, &layout.columns(), &left);
        sheets += 1;
        assert!(left.len() < before, "a sheet of columns takes at least a row");
    }
    let whole = over_all(part, making);
    let scale = ratio(layout.scale);
    let (what, sheet) = ("Drawing: views, holes, notes", format!("1 of {sheets}"));
    let titled =
        Title { part: &part.name, what, size: &whole, scale: &scale, sheet: &sheet, making };
    page.frame((layout.sheet.1, layout.sheet.2), layout.column_mm, &titled);
    layout.views(&mut page, part, solid, making, (&datum, &contours));
    let mut left = flow(&mut page, &beside, &lines);
    let mut drawings = vec![page.finish()];
    while !left.is_empty() {
        let mut page = Page::new(layout.sheet.1, layout.sheet.2);
        let sheet = format!("{} of {sheets}", drawings.len() + 1);
        let what = "Drawing: tables and notes";
        let titled = Title {
            part: &part.name,
            what,
            size: &whole,
            scale: "none",
            sheet: &sheet,
            making,
        };
        page.frame((layout.sheet.1, layout.sheet.2), layout.column_mm, &titled);
        left = flow(&mut page, &layout.columns(), &left);
        drawings.push(page.finish());
    }
    drawings
}

/// Length, width, thickness, in both systems.
pub fn over_all(part: &FlatPart, making: &Making) -> String {
    let (low, high) = part.outline.bounds().unwrap_or_default();
    let both = |v: f64| typeset(&show_both(v, Dimension::Length, making.units));
    format!(
        "{} x {} x {}",
        both(high[0] - low[0]),
        both(high[1] - low[1]),
        both(part.thickness_mm)
    )
}

/// How the views stand on the sheet.
struct Layout {
    sheet: (&'static str, f64, f64),
    scale: f64,
    column_mm: f64,
    /// Tables begin on the second sheet, the views have the first.
    tables_apart: bool,
    seal_view: bool,
    /// The seal side stands at the right of the outer side, not below it.
    side_by_side: bool,
    detail: bool,
    /// The enlarged groove stands at the right of the section.
    detail_beside: bool,
}

/// Whether anything is to be seen on the seal side but holes that go through.
fn has_seal_side(part: &FlatPart) -> bool {
    part.grooves.iter().any(|g| g.face == Face::Seal)
        || part.pockets.iter().any(|p| p.face == Face::Seal)
        || part.marks.iter().any(|m| m.face == Face::Seal)
        || part.holes.iter().any(|h| h.counterbore.is_some_and(|b| b.face == Face::Seal))
}

impl Layout {
    fn choose(part: &FlatPart) -> Layout {
        let [small, large] = SHEETS.map(|sheet| Layout::best(part, sheet, false));
        if small.scale >= 1.0 {
            return small;
        }
        // Rather two large sheets with the part at full size than one on which it is small.
        let apart = Layout::best(part, SHEETS[1], true);
        let larger = if apart.scale > large.scale { apart } else { large };
        if small.scale >= larger.scale { small } else { larger }
    }

    /// The largest scale on one sheet.
    fn best(part: &FlatPart, sheet: (&'static str, f64, f64), tables_apart: bool) -> Layout {
        let column_mm = if sheet.0 == "A4" { 108.0 } else { 128.0 };
        let (low, high) = part.outline.bounds().unwrap_or_default();
        let (w, h) = (high[0] - low[0], high[1] - low[1]);
        let (inner_w, inner_h) = (sheet.1 - 2.0 * BORDER_MM, sheet.2 - 2.0 * BORDER_MM);
        let (room_w, room_h) = if tables_apart {
            (inner_w - 4.0, inner_h - TITLE_MM - 4.0)
        } else {
            (inner_w - column_mm - 8.0, inner_h - 6.0)
        };
        let (seal_view, detail) = (has_seal_side(part), !part.grooves.is_empty());
        let make = |scale, side_by_side, detail_beside| Layout {
            sheet,
            scale,
            column_mm,
            tables_apart,
            seal_view,
            side_by_side,
            detail,
            detail_beside,
        };
        for scale in SCALES {
            for (side_by_side, detail_beside) in
                [(false, true), (false, false), (true, true), (true, false)]
            {
                let layout = make(scale, side_by_side, detail_beside);
                let (needed_w, needed_h) = layout.needs(w, h, part.thickness_mm);
                if needed_w <= room_w && needed_h <= room_h {
                    return layout;
                }
            }
        }
        // Larger than a room: the scale is whatever fits, and the sheet says which.
        let fit = (room_w / (2.0 * w + 40.0)).min(room_h / (2.0 * h + 120.0)).min(0.05);
        make(fit.max(1e-4), false, true)
    }

    /// Width and height of all views together.
    fn needs(&self, w: f64, h: f64, thickness: f64) -> (f64, f64) {
        let (w, h, t) = (w * self.scale, h * self.scale, thickness * self.scale);
        let mut width = ORDINATES_MM + w + 9.0;
        let mut height = TITLE_ABOVE_MM + h + ORDINATES_MM;
        if self.seal_view && self.side_by_side {
            width += 2.0 + w;
        } else if self.seal_view {
            height += TITLE_ABOVE_MM + h + GAP_MM;
        }
        let mut low = TITLE_ABOVE_MM + t + 4.0;
        let mut low_width = ORDINATES_MM + w + 14.0;
        if self.detail && self.detail_beside {
            low = low.max(TITLE_ABOVE_MM + DETAIL_MM.1);
            low_width += DETAIL_MM.0;
        } else if self.detail {
            low += TITLE_ABOVE_MM + DETAIL_MM.1;
            low_width = low_width.max(DETAIL_MM.0);
        }
        (width.max(low_width), height + low)
    }

    fn column(&self) -> Area {
        let right = self.sheet.1 - BORDER_MM;
        let bottom = self.sheet.2 - BORDER_MM - TITLE_MM - 2.0;
        Area::new(right - self.column_mm, BORDER_MM + 1.0, right - 1.0, bottom)
    }

    /// A column in the room that a narrow part leaves between its views and the tables.
    fn between(&self, part: &FlatPart) -> Option<Area> {
        if self.tables_apart {
            return None;
        }
        let (low, high) = part.outline.bounds().unwrap_or_default();
        let (w, h) = ((high[0] - low[0]) * self.scale, (high[1] - low[1]) * self.scale);
        let across =
            if self.seal_view && self.side_by_side { 2.0 * w + GAP_MM + 4.0 } else { w };
        // Past the letter at the end of the section's line.
        let left = BORDER_MM + 3.0 + ORDINATES_MM + across + 10.0;
        let stacked = self.seal_view && !self.side_by_side;
        let views = TITLE_ABOVE_MM + h + if stacked { ORDINATES_MM + h } else { 0.0 };
        let area =
            Area::new(left, BORDER_MM + 1.0, left + self.column_mm - 1.0, BORDER_MM + views);
        (area.to.x + 4.0 <= self.column().from.x && views > 40.0).then_some(area)
    }

    /// Columns in the room that the views leave below them, left of the title block.
    fn below(&self, part: &FlatPart) -> Vec<Area> {
        let (low, high) = part.outline.bounds().unwrap_or_default();
        let (_, needed) = self.needs(high[0] - low[0], high[1] - low[1], part.thickness_mm);
        let (top, foot) = (BORDER_MM + needed + 8.0, self.sheet.2 - BORDER_MM - 2.0);
        if foot - top < 25.0 {
            return Vec::new();
        }
        let mut all = Vec::new();
        let mut left = BORDER_MM + 3.0;
        while left + self.column_mm < self.sheet.1 - BORDER_MM - self.column_mm - 3.0 {
            all.push(Area::new(left, top, left + self.column_mm - 1.0, foot));
            left += self.column_mm + 4.0;
        }
        all
    }

    /// Columns of a sheet without views: as many as stand side by side, the last above the title block.
    fn columns(&self) -> Vec<Area> {
        let last = self.column();
        let mut all = vec![last];
        let mut right = last.from.x - 4.0;
        while right - self.column_mm > BORDER_MM {
            all.push(Area::new(
                right - self.column_mm,
                last.from.y,
                right - 1.0,
                self.sheet.2 - BORDER_MM - 2.0,
            ));
            right -= self.column_mm + 4.0;
        }
        all.reverse();
        all
    }

    fn views(
        &self,
        page: &mut Page,
        part: &FlatPart,
        solid: &Solid,
        making: &Making,
        (datum, contours): (&Datum, &[Contour]),
    ) {
        let corner = at(BORDER_MM + 3.0 + ORDINATES_MM, BORDER_MM + 2.0 + TITLE_ABOVE_MM);
        let outer = View { part, face: Face::Outer, scale: self.scale, corner };
        let (w, h) = outer.size_mm();
        let heading = SMALL.heavy().of_size(2.8);
        page.text(at(corner.x, corner.y - 2.5), "Outer side", heading);
        outer.draw(page, !self.seal_view);
        outer.ordinates(page, datum);
        let y_mm = section_at(part, solid);
        self.cut_line(page, &outer, y_mm);
        let pick = |face: Face| -> Vec<(String, Point)> {
            contours.iter().filter(|c| c.face == face).flat_map(|c| c.points.clone()).collect()
        };
        let mut foot = corner.y + h + ORDINATES_MM;
        if self.seal_view {
            let corner = if self.side_by_side {
                at(corner.x + w + GAP_MM + 4.0, corner.y)
            } else {
                at(corner.x, foot + TITLE_ABOVE_MM)
            };
            let seal = View { face: Face::Seal, corner, ..outer };
            let words = "Seal side (turned over about the upright axis)";
            page.fitted(at(corner.x, corner.y - 2.5), words, heading, w.max(58.0));
            seal.draw(page, false);
            seal.names(page, &pick(Face::Seal));
            if !self.side_by_side {
                foot = corner.y + h + GAP_MM;
            }
        }
        outer.names(page, &pick(Face::Outer));
        self.low_row(page, part, (solid, y_mm), making, at(corner.x, foot));
    }

    /// Where the section runs: heavy ends outside the outline, a chain line between.
    fn cut_line(&self, page: &mut Page, outer: &View<'_>, y_mm: f64) {
        let (low, high) = outer.part.outline.bounds().unwrap_or_default();
        let (left, right) = (outer.p([low[0], y_mm]), outer.p([high[0], y_mm]));
        let heavy = Pen { width: 0.5, ..OUTLINE };
        page.sheet.line(left, right, CENTRE);
        page.keep_off(&[left, right]);
        page.sheet.line(at(right.x + 1.0, right.y), at(right.x + 5.0, right.y), heavy);
        // Inside the outline, for the ordinates stand at its left.
        page.sheet.line(left, at(left.x + 4.0, left.y), heavy);
        page.text(at(right.x + 5.6, right.y + 1.0), "A", SMALL.heavy());
        page.label(at(left.x + 3.0, left.y), 0.8, "A", SMALL.heavy());
    }

    /// The section and the enlarged groove.
    fn low_row(
        &self,
        page: &mut Page,
        part: &FlatPart,
        (solid, y_mm): (&Solid, f64),
        making: &Making,
        corner: crate::svg::Place,
    ) {
        let (low, high) = part.outline.bounds().unwrap_or_default();
        let t = part.thickness_mm * self.scale;
        let heading = SMALL.heavy().of_size(2.8);
        let top = corner.y + TITLE_ABOVE_MM;
        page.text(at(corner.x, top - 2.5), "A-A, outer side up", heading);
        let origin = at(corner.x - low[0] * self.scale, top + t);
        section(page, &solid.section(y_mm), origin, self.scale);
        level(page, (top, top + t), corner.x, corner.x - 4.0, &mm(part.thickness_mm));
        let Some(groove) = part.grooves.first() else { return };
        let place = if self.detail_beside {
            at(corner.x + (high[0] - low[0]) * self.scale + 8.0, corner.y + TITLE_ABOVE_MM)
        } else {
            at(corner.x - ORDINATES_MM, top + t + 4.0 + TITLE_ABOVE_MM)
        };
        let words = [
            format!("{} ±{}", mm(groove.width_mm), mm(width_tolerance_mm(making))),
            depth_words(groove.depth_mm, making),
        ];
        let scale =
            detail(page, (groove.width_mm, groove.depth_mm), [&words[0], &words[1]], place);
        let face = match groove.face {
            Face::Seal => "seal side up",
            Face::Outer => "outer side up",
        };
        let title = format!("Groove {}, {face}", ratio(scale));
        page.text(at(place.x + 8.0, place.y - 0.5), &title, heading);
    }
}

/// The tolerance of a groove's width.
pub fn width_tolerance_mm(making: &Making) -> f64 {
    making.groove_width_tolerance_mm.unwrap_or(GROOVE_WIDTH_TOLERANCE_MM)
}

fn depth_words(depth_mm: f64, making: &Making) -> String {
    match making.groove_depth_tolerance_mm {
        Some(tolerance) => format!("{} ±{}", mm(depth_mm), mm(tolerance)),
        None => mm(depth_mm),
    }
}

/// A closed line that is no hole: what it is, its shape, its depth, and its corners if words do not do.
struct Contour {
    name: String,
    shape: String,
    depth: String,
    face: Face,
    points: Vec<(String, Point)>,
    rows: Vec<Vec<String>>,
}

fn contours(part: &FlatPart, datum: &Datum) -> Vec<Contour> {
    let mut all = Vec::new();
    let one = |name: String, key: &str, path: &Path, depth: String, face: Face| {
        contour(name, key, path, depth, (face, datum))
    };
    all.push(one("Outline".to_owned(), "", &part.outline, "through".to_owned(), Face::Outer));
    let numbered = |name: &str, i: usize, of: usize| {
        if of == 1 { name.to_owned() } else { format!("{name} {}", i + 1) }
    };
    for (i, path) in part.openings.iter().enumerate() {
        let name = numbered("Opening", i, part.openings.len());
        all.push(one(name, &format!("o{}.", i + 1), path, "through".to_owned(), Face::Outer));
    }
    for (i, pocket) in part.pockets.iter().enumerate() {
        let name = numbered("Pocket", i, part.pockets.len());
        let depth = mm(pocket.depth_mm);
        all.push(one(name, &format!("p{}.", i + 1), &pocket.edge, depth, pocket.face));
    }
    for (i, groove) in part.grooves.iter().enumerate() {
        let name = numbered("Groove, middle", i, part.grooves.len());
        let depth = format!("{}, {} wide", mm(groove.depth_mm), mm(groove.width_mm));
        let key = format!("g{}.", i + 1);
        all.push(one(name, &key, &groove.middle, depth, groove.face));
        // The edges of a groove are measured; they are said where they can be.
        if let Some([_, inner]) = edges(&groove.middle, groove.width_mm)
            && let Some(shape) = shape_words(&inner)
        {
            let name = numbered("Groove, inner edge", i, part.grooves.len());
            let (points, rows) = (Vec::new(), Vec::new());
            let (depth, face) = (String::new(), groove.face);
            all.push(Contour { name, shape, depth, face, points, rows });
        }
    }
    all
}

fn contour(
    name: String,
    key: &str,
    path: &Path,
    depth: String,
    (face, datum): (Face, &Datum),
) -> Contour {
    let from = |p: Point| [p[0] - datum.point[0], p[1] - datum.point[1]];
    let (low, high) = path.bounds().unwrap_or_default();
    let middle = from([(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0]);
    if let Some(shape) = shape_words(path) {
        let shape = format!("{shape}, middle at {}, {}", size(middle[0]), size(middle[1]));
        return Contour { name, shape, depth, face, points: Vec::new(), rows: Vec::new() };
    }
    let (mut points, mut rows) = (Vec::new(), Vec::new());
    for (i, segment) in path.counter_clockwise().segments().iter().enumerate() {
        let label = format!("{key}{}", i + 1);
        let p = from(segment.from());
        let mut row = vec![label.clone(), mm(p[0]), mm(p[1])];
        match *segment {
            Segment::Line { .. } => row.push("line".to_owned()),
            Segment::Arc { centre, radius_mm, sweep, .. } => {
                let c = from(centre);
                let way = if sweep > 0.0 { "left" } else { "right" };
                row.push(format!("R{} {way} about {}, {}", mm(radius_mm), mm(c[0]), mm(c[1])));
            }
        }
        points.push((label, segment.from()));
        rows.push(row);
    }
    let shape = format!("{} points, see below", rows.len());
    Contour { name, shape, depth, face, points, rows }
}

/// "Ø6.6", or the thread with its drill.
pub fn bore_words(hole: &Hole) -> String {
    match &hole.thread {
        Some(thread) => format!("{thread}, drill Ø{}", mm(hole.diameter_mm)),
        None => format!("Ø{}", mm(hole.diameter_mm)),
    }
}

fn depth_of(hole: &Hole) -> String {
    let drilled = hole.drill_depth_mm.map_or("through".to_owned(), mm);
    match (&hole.thread, hole.thread_depth_mm) {
        (Some(_), Some(depth)) => format!("{drilled}, thread {}", mm(depth)),
        _ => drilled,
    }
}

fn side(face: Face) -> &'static str {
    match face {
        Face::Seal => "seal",
        Face::Outer => "outer",
    }
}

fn counterbore_words(bore: &Counterbore) -> String {
    format!("Ø{} x {} {}", mm(bore.diameter_mm), mm(bore.depth_mm), side(bore.face))
}

/// Column heads with their shares of the width.
fn columns(heads: &[(&str, f64)], width_mm: f64) -> Line {
    let total: f64 = heads.iter().map(|h| h.1).sum();
    let each = heads.iter().map(|(name, w)| ((*name).to_owned(), w / total * (width_mm - 1.0)));
    Line::Columns(each.collect())
}

fn lines(
    part: &FlatPart,
    solid: &Solid,
    making: &Making,
    (datum, contours): (&Datum, &[Contour]),
    width_mm: f64,
) -> Vec<Line> {
    let mut all = vec![
        Line::Head("Holes".to_owned()),
        columns(
            &[
                ("Hole", 8.0),
                ("X", 12.0),
                ("Y", 12.0),
                ("Diameter or thread", 24.0),
                ("Depth", 20.0),
                ("Counterbore", 19.0),
                ("For", 16.0),
            ],
            width_mm,
        ),
    ];
    all.extend(part.holes.iter().map(|hole| {
        Line::Row(vec![
            hole.name.clone(),
            mm(hole.x_mm - datum.point[0]),
            mm(hole.y_mm - datum.point[1]),
            bore_words(hole),
            depth_of(hole),
            hole.counterbore.as_ref().map(counterbore_words).unwrap_or_default(),
            hole.purpose.clone(),
        ])
    }));
    all.extend([
        Line::Gap,
        Line::Head("Outlines".to_owned()),
        columns(&[("What", 24.0), ("Shape", 56.0), ("Depth", 20.0), ("From", 10.0)], width_mm),
    ]);
    all.extend(contours.iter().map(|c| {
        Line::Row(vec![
            c.name.clone(),
            c.shape.clone(),
            c.depth.clone(),
            side(c.face).to_owned(),
        ])
    }));
    all.push(Line::Gap);
    all.extend(notes(&said(part, solid, making, datum), width_mm));
    for contour in contours.iter().filter(|c| !c.rows.is_empty()) {
        all.push(Line::Gap);
        all.push(Line::Head(format!("{}, point by point", contour.name)));
        all.push(columns(
            &[("Point", 10.0), ("X", 14.0), ("Y", 14.0), ("To the next", 50.0)],
            width_mm,
        ));
        all.extend(contour.rows.iter().map(|row| Line::Row(row.clone())));
    }
    all
}

/// The notes of a drawing.
fn said(part: &FlatPart, solid: &Solid, making: &Making, datum: &Datum) -> Vec<String> {
    let mut notes = vec![
        format!(
            "X and Y are taken from {}, seen from the outer side; the DXF and the STEP file have the same outline \
             in the part's own coordinates.",
            datum.words
        ),
        "General tolerances ISO 2768-m; hole positions within 0.1 mm of the stated X and Y."
            .to_owned(),
        "Break all outer edges 0.2 to 0.5 mm; no burr in any hole.".to_owned(),
    ];
    if !part.grooves.is_empty() {
        notes.push(
            "Groove: floor and walls Ra 0.8 µm, no tool marks across it, floor radius at most 0.4 mm, upper edges \
             broken 0.1 to 0.2 mm without burr; depth is measured at four places."
                .to_owned(),
        );
        notes.push(
            "Seal side flat within 0.05 mm and Ra 1.6 µm or better over the land of the groove.".to_owned(),
        );
        if let Some(ring) = &making.ring {
            notes.push(format!("Ring in the groove: {ring}."));
        }
    }
    if part.holes.iter().any(|h| h.thread.is_some()) {
        notes.push(
            "Threads ISO metric, 6H, through unless a depth is given; the STEP file has them at tap drill size."
                .to_owned(),
        );
    }
    if !part.marks.is_empty() {
        notes.push("Engrave the marks 0.3 mm deep; in the DXF they are text.".to_owned());
    }
    notes.push(
        "Before cutting: lay the paper template on the housing, check its scale bars with a rule, and see that every \
         hole meets its thread."
            .to_owned(),
    );
    notes.push(format!(
        "Volume of metal {} cm³.",
        mm((solid.volume_mm3() / 10.0).round() / 100.0)
    ));
    notes
}
