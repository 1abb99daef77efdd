//! The paper a part is drawn on: sheet sizes, border, title block, tables, and text that keeps off other text.

use physics::units::{System, number};

use crate::letters::{width_mm, wrap};
use crate::svg::{
    Anchor, Drawing, FINE, GREY, INK, OUTLINE, Pen, Place, RED, SMALL, Sheet, Type, at,
};

/// What a part's papers say beside its geometry.
#[derive(Clone, Debug, PartialEq)]
pub struct Making {
    /// Title of the build.
    pub build: String,
    /// What it is made of.
    pub material: Option<String>,
    /// The ring that lies in its groove.
    pub ring: Option<String>,
    /// How closely the groove's depth is held; the general tolerance where not stated.
    pub groove_depth_tolerance_mm: Option<f64>,
    /// How closely the groove's width is held.
    pub groove_width_tolerance_mm: Option<f64>,
    /// Who made the build.
    pub made_by: Option<String>,
    /// Date as written in the build.
    pub date: Option<String>,
    /// What the plan was made from.
    pub digest: String,
    /// Nothing fails and nothing that could hurt is unknown.
    pub for_building: bool,
    /// System of the sizes in words.
    pub units: System,
}

/// Sheets, landscape: name, width, height.
pub const SHEETS: [(&str, f64, f64); 2] = [("A4", 297.0, 210.0), ("A3", 420.0, 297.0)];
/// From the sheet's edge to the border.
pub const BORDER_MM: f64 = 8.0;
/// Height of the title block.
pub const TITLE_MM: f64 = 38.0;
/// Height of a table's row.
pub const ROW_MM: f64 = 4.0;
/// Print of tables and notes.
pub const PRINT: Type = Type { size: 2.3, heavy: false, colour: INK, anchor: Anchor::Start };
/// Smallest print that is still read on a bench.
const SIZE_MM_MIN: f64 = 1.7;

/// A length as a drawing says it: no more decimals than it has, at most three.
pub fn mm(value: f64) -> String {
    let text = number(value, 3);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A size as a workshop measures it: to the hundredth.
pub fn size(value: f64) -> String {
    mm((value * 100.0).round() / 100.0)
}

/// An upright box on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Upper left corner.
    pub from: Place,
    /// Lower right corner.
    pub to: Place,
}

impl Area {
    /// A box from its sides.
    pub fn new(left: f64, top: f64, right: f64, bottom: f64) -> Area {
        Area { from: at(left, top), to: at(right, bottom) }
    }

    /// Whether two boxes share more than an edge.
    pub fn meets(&self, other: &Area) -> bool {
        self.from.x < other.to.x
            && other.from.x < self.to.x
            && self.from.y < other.to.y
            && other.from.y < self.to.y
    }

    fn holds(&self, place: Place) -> bool {
        (self.from.x..=self.to.x).contains(&place.x)
            && (self.from.y..=self.to.y).contains(&place.y)
    }
}

/// The box of one line of text on its base line.
pub fn box_of(place: Place, text: &str, kind: Type) -> Area {
    let width = width_mm(text, kind);
    let left = match kind.anchor {
        Anchor::Start => place.x,
        Anchor::Middle => place.x - width / 2.0,
        Anchor::End => place.x - width,
    };
    // Capitals stand 0.7 of the body above the base line, tails hang 0.22 below.
    Area::new(left, place.y - 0.75 * kind.size, left + width, place.y + 0.22 * kind.size)
}

/// The box of a text that reads upwards.
pub fn box_upwards(place: Place, text: &str, kind: Type) -> Area {
    let flat = box_of(at(0.0, 0.0), text, kind);
    Area::new(
        place.x + flat.from.y,
        place.y - flat.to.x,
        place.x + flat.to.y,
        place.y - flat.from.x,
    )
}

/// A sheet that remembers where text stands and lines run.
pub struct Page {
    /// The drawing.
    pub sheet: Sheet,
    texts: Vec<Area>,
    lines: Vec<Place>,
}

impl Page {
    /// An empty page.
    pub fn new(width_mm: f64, height_mm: f64) -> Page {
        Page { sheet: Sheet::new(width_mm, height_mm), texts: Vec::new(), lines: Vec::new() }
    }

    /// One line of text at a fixed place.
    pub fn text(&mut self, place: Place, text: &str, kind: Type) {
        if text.is_empty() {
            return;
        }
        self.texts.push(box_of(place, text, kind));
        self.sheet.text(place, text, kind);
    }

    /// One line of text that reads upwards.
    pub fn upwards(&mut self, place: Place, text: &str, kind: Type) {
        self.texts.push(box_upwards(place, text, kind));
        self.sheet.text_upwards(place, text, kind);
    }

    /// One line of text, smaller or cut short if the room asks for it.
    pub fn fitted(&mut self, place: Place, text: &str, kind: Type, room_mm: f64) {
        let size = (kind.size * room_mm / width_mm(text, kind).max(1e-9)).min(kind.size);
        let kind = kind.of_size(size.max(SIZE_MM_MIN));
        let mut kept = text.to_owned();
        let mut shown = kept.clone();
        while width_mm(&shown, kind) > room_mm {
            if kept.pop().is_none() {
                return;
            }
            shown = format!("{}...", kept.trim_end());
        }
        self.text(place, &shown, kind);
    }

    /// Remembers a drawn line, so that labels keep off it.
    pub fn keep_off(&mut self, places: &[Place]) {
        for pair in places.windows(2) {
            let length = libm::hypot(pair[1].x - pair[0].x, pair[1].y - pair[0].y);
            let steps = length.ceil().clamp(1.0, 2000.0);
            for i in 0..=(steps as usize) {
                let share = i as f64 / steps;
                self.lines.push(at(
                    pair[0].x + share * (pair[1].x - pair[0].x),
                    pair[0].y + share * (pair[1].y - pair[0].y),
                ));
            }
        }
    }

    /// A label as near to a point as other text and, if possible, lines allow; a leader where it is far.
    pub fn label(&mut self, point: Place, clear_mm: f64, text: &str, kind: Type) {
        let kind = kind.middle();
        let width = width_mm(text, kind);
        let place = self.free(point, clear_mm, text, kind);
        let off = libm::hypot(place.x - point.x, place.y - point.y);
        if off > clear_mm + width / 2.0 + 6.0 {
            let box_ = box_of(place, text, kind);
            let foot = at(
                point.x.clamp(box_.from.x, box_.to.x),
                if point.y > place.y { box_.to.y } else { box_.from.y },
            );
            self.sheet.line(foot, point, FINE);
        }
        self.text(place, text, kind);
    }

    fn free(&self, point: Place, clear_mm: f64, text: &str, kind: Type) -> Place {
        const WAYS: [(f64, f64); 8] = [
            (0.7, -0.7),
            (0.7, 0.7),
            (-0.7, -0.7),
            (-0.7, 0.7),
            (0.0, -1.0),
            (0.0, 1.0),
            (1.0, 0.0),
            (-1.0, 0.0),
        ];
        let half = width_mm(text, kind) / 2.0;
        let tries = |step: usize| {
            let far = clear_mm + 0.5 + 1.2 * step as f64;
            WAYS.map(|(x, y)| {
                at(
                    point.x + x * far + x.signum() * half * f64::from(x != 0.0),
                    point.y + y * (far + kind.size * 0.4) + kind.size * 0.36,
                )
            })
        };
        let roomy = |place: &Place| {
            let b = box_of(*place, text, kind);
            Area::new(b.from.x - 0.5, b.from.y - 0.3, b.to.x + 0.5, b.to.y + 0.3)
        };
        let off_text = |place: &Place| !self.texts.iter().any(|t| t.meets(&roomy(place)));
        let off_lines = |place: &Place| !self.lines.iter().any(|l| roomy(place).holds(*l));
        (0..10)
            .flat_map(tries)
            .find(|p| off_text(p) && off_lines(p))
            .or_else(|| (0..60).flat_map(tries).find(off_text))
            .unwrap_or(point)
    }

    /// The finished drawing.
    pub fn finish(self) -> Drawing {
        self.sheet.finish()
    }

    /// Border and title block; gives the title block's box.
    pub fn frame(&mut self, size: (f64, f64), block_mm: f64, title: &Title<'_>) -> Area {
        let (w, h) = size;
        let pen = Pen { width: 0.5, ..OUTLINE };
        self.sheet.rect(
            at(BORDER_MM, BORDER_MM),
            at(w - BORDER_MM, h - BORDER_MM),
            None,
            Some(pen),
        );
        let block = Area::new(
            w - BORDER_MM - block_mm,
            h - BORDER_MM - TITLE_MM,
            w - BORDER_MM,
            h - BORDER_MM,
        );
        self.sheet.rect(block.from, block.to, None, Some(pen));
        let (left, top, room) = (block.from.x + 2.0, block.from.y, block_mm - 4.0);
        let heavy = SMALL.heavy().of_size(4.0);
        self.fitted(at(left, top + 6.0), title.part, heavy, room);
        self.fitted(at(left, top + 11.0), title.what, SMALL, room);
        self.sheet.line(at(block.from.x, top + 13.0), at(block.to.x, top + 13.0), FINE);
        let half = room / 2.0;
        let making = title.making;
        let unknown = "not stated";
        let fields = [
            ("Build", making.build.as_str()),
            ("Material", making.material.as_deref().unwrap_or(unknown)),
            ("Made by", making.made_by.as_deref().unwrap_or(unknown)),
            ("Date", making.date.as_deref().unwrap_or(unknown)),
            ("Scale", title.scale),
            ("Sheet", title.sheet),
            ("Made from", making.digest.get(..12).unwrap_or(&making.digest)),
            ("Size", title.size),
        ];
        for (i, (name, value)) in fields.iter().enumerate() {
            let x = left + (i % 2) as f64 * (half + 1.0);
            let y = top + 17.0 + (i / 2) as f64 * 4.2;
            // The last two are a short one and a long one.
            let x = if i == 7 { left + 34.0 } else { x };
            let indent = if i == 7 { 7.0 } else { 15.0 };
            let room = if i == 7 { room - 34.0 } else { half };
            self.text(at(x, y), name, PRINT.in_colour(GREY));
            self.fitted(at(x + indent, y), value, PRINT, room - indent - 1.0);
        }
        let (last, colour) = if making.for_building {
            ("Sizes in mm", INK)
        } else {
            ("NOT FOR BUILDING: the plan says what stands in the way. Sizes in mm", RED)
        };
        self.fitted(at(left, block.to.y - 2.2), last, SMALL.heavy().in_colour(colour), room);
        block
    }
}

/// What stands in a title block.
pub struct Title<'a> {
    /// Name of the part.
    pub part: &'a str,
    /// What the sheet shows.
    pub what: &'a str,
    /// Over all, in both systems.
    pub size: &'a str,
    /// "1:1".
    pub scale: &'a str,
    /// "1 of 2".
    pub sheet: &'a str,
    /// The rest.
    pub making: &'a Making,
}

/// One line of the column beside the views.
#[derive(Clone, Debug, PartialEq)]
pub enum Line {
    /// A heading.
    Head(String),
    /// The head of a table; repeated where the table goes on in the next column.
    Columns(Vec<(String, f64)>),
    /// A row of that table.
    Row(Vec<String>),
    /// A line of a note.
    Words(String),
    /// Air.
    Gap,
}

impl Line {
    fn height_mm(&self) -> f64 {
        match self {
            Line::Head(_) => 5.5,
            Line::Columns(_) | Line::Row(_) => ROW_MM,
            Line::Words(_) => 3.4,
            Line::Gap => 2.5,
        }
    }
}

/// Notes broken to a width, numbered.
pub fn notes(list: &[String], room_mm: f64) -> Vec<Line> {
    let mut lines = vec![Line::Head("Notes".to_owned())];
    for (i, note) in list.iter().enumerate() {
        for (n, line) in wrap(note, room_mm - 7.0, PRINT).into_iter().enumerate() {
            let number = if n == 0 { format!("{}", i + 1) } else { String::new() };
            lines.push(Line::Words(format!("{number}\t{line}")));
        }
    }
    lines
}

/// Lays lines into columns, first to last; gives what found no room.
pub fn flow(page: &mut Page, columns: &[Area], lines: &[Line]) -> Vec<Line> {
    let mut rest = lines;
    let mut table: Option<Line> = None;
    for column in columns {
        let mut y = column.from.y;
        let mut fresh = true;
        while let Some(line) = rest.first() {
            if fresh && matches!(line, Line::Gap) {
                rest = &rest[1..];
                continue;
            }
            let mut needed = line.height_mm();
            // A heading or a table's head alone at the foot of a column is of no use.
            match line {
                Line::Head(_) => needed += 2.0 * ROW_MM,
                Line::Columns(_) => needed += ROW_MM,
                _ => {}
            }
            if y + needed > column.to.y {
                break;
            }
            if fresh && let (Line::Row(_), Some(head)) = (line, &table) {
                y += head.height_mm();
                put(page, column, y, head, table.as_ref());
            }
            fresh = false;
            y += line.height_mm();
            put(page, column, y, line, table.as_ref());
            match line {
                Line::Columns(_) => table = Some(line.clone()),
                Line::Row(_) => {}
                _ => table = None,
            }
            rest = &rest[1..];
        }
    }
    let mut left = rest.to_vec();
    if let (Some(Line::Row(_)), Some(head)) = (left.first(), table) {
        left.insert(0, head);
    }
    left
}

fn put(page: &mut Page, column: &Area, y: f64, line: &Line, table: Option<&Line>) {
    let (left, right) = (column.from.x, column.to.x);
    let base = y - 1.2;
    match line {
        Line::Gap => {}
        Line::Head(text) => page.fitted(at(left, base), text, SMALL.heavy(), right - left),
        Line::Words(text) => {
            let (number, words) = text.split_once('\t').unwrap_or(("", text));
            page.text(at(left + 4.5, base), number, PRINT.end().in_colour(GREY));
            page.text(at(left + 6.0, base), words, PRINT);
        }
        Line::Columns(columns) => {
            let mut x = left;
            for (name, width) in columns {
                page.fitted(at(x + 0.6, base), name, PRINT.in_colour(GREY), width - 1.2);
                x += width;
            }
            page.sheet.line(at(left, y), at(x, y), OUTLINE);
        }
        Line::Row(cells) => {
            let Some(Line::Columns(columns)) = table else { return };
            let mut x = left;
            for ((_, width), cell) in columns.iter().zip(cells) {
                page.fitted(at(x + 0.6, base), cell, PRINT, width - 1.2);
                x += width;
            }
            page.sheet.line(at(left, y), at(x, y), FINE);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_that_does_not_fit_is_cut_and_still_fits() {
        let mut page = Page::new(50.0, 50.0);
        page.fitted(
            at(0.0, 10.0),
            "a very long text that can never stand in so little room",
            SMALL,
            20.0,
        );
        let only = page.texts[0];
        assert!(only.to.x - only.from.x <= 20.0 + 1e-9);
        assert!(page.finish().svg.contains("..."));
    }

    #[test]
    fn labels_of_one_point_do_not_meet() {
        let mut page = Page::new(100.0, 100.0);
        for i in 0..12 {
            page.label(at(50.0, 50.0), 3.0, &format!("B{i}"), SMALL);
        }
        for (i, a) in page.texts.iter().enumerate() {
            assert!(!page.texts[i + 1..].iter().any(|b| a.meets(b)), "{i}");
        }
    }

    #[test]
    fn a_table_goes_on_under_its_head() {
        let mut page = Page::new(100.0, 100.0);
        let mut lines = vec![Line::Columns(vec![("Hole".to_owned(), 20.0)])];
        lines.extend((0..9).map(|i| Line::Row(vec![format!("B{i}")])));
        let columns = [Area::new(0.0, 0.0, 20.0, 20.0), Area::new(30.0, 0.0, 50.0, 20.0)];
        let left = flow(&mut page, &columns, &lines);
        assert_eq!(left.len(), 2, "{left:?}");
        assert!(matches!(left[0], Line::Columns(_)));
        assert_eq!(page.finish().svg.matches(">Hole<").count(), 2);
    }
}
