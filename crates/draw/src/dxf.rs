//! A flat part as a DXF file (the year-2000 form of the format): closed loops on layers by operation.
//!
//! Seen from the outer side, in millimetres. Outlines are closed polylines with arcs as arcs, holes are circles.
//! What is cut from the seal side stands on layers that say so, at the place where it lies under the eye. A
//! groove is given three times: its two edges to mill to, and its middle for a cutter of its width.
//!
//! Source  The format's published reference for AC1015; read back by an independent library in the tests.

use std::fmt::Write as _;

use space::part::{Face, FlatPart, Hole};
use space::path::Path;
use space::solid::{Ring, edges};

use crate::frame::mm;

/// A layer: its name, its colour by number, what is done there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layer {
    /// Name in capitals.
    pub name: String,
    /// Colour by the format's table.
    pub colour: u8,
}

/// What is done, and its colour by the format's table: the layer's name follows, with the side where it matters.
const OPERATIONS: [(&str, u8); 9] = [
    ("OUTLINE", 7),
    ("OPENING", 1),
    ("DRILL", 5),
    ("TAP", 3),
    ("COUNTERBORE", 4),
    ("GROOVE", 6),
    ("POCKET", 30),
    ("ENGRAVE", 2),
    ("NOTES", 8),
];

/// Name of a layer for what is cut from one side: `GROOVE_SEAL_SIDE`.
fn sided(operation: &str, face: Face) -> String {
    match face {
        Face::Seal => format!("{operation}_SEAL_SIDE"),
        Face::Outer => format!("{operation}_OUTER_SIDE"),
    }
}

enum Shape {
    Circle { x_mm: f64, y_mm: f64, radius_mm: f64 },
    Loop(Path),
    Words(Words),
}

struct Words {
    text: String,
    x_mm: f64,
    y_mm: f64,
    height_mm: f64,
    /// Read from the other side.
    mirrored: bool,
    /// About its place, or from it.
    centred: bool,
}

/// The DXF file of a part.
pub fn dxf(part: &FlatPart) -> Vec<u8> {
    let entities = entities(part);
    let mut layers: Vec<Layer> = Vec::new();
    for (name, _) in &entities {
        if !layers.iter().any(|l| l.name == *name) {
            let begins = |(operation, _): &&(&str, u8)| name.starts_with(operation);
            let colour = OPERATIONS.iter().find(begins).map_or(7, |(_, colour)| *colour);
            layers.push(Layer { name: name.clone(), colour });
        }
    }
    layers.sort_by(|a, b| a.name.cmp(&b.name));
    let mut file = File::default();
    file.header(part);
    file.tables(&layers);
    file.blocks();
    file.start("ENTITIES");
    for (layer, shape) in &entities {
        file.shape(layer, shape);
    }
    file.end();
    file.objects();
    file.put(0, "EOF");
    let text = file.body.replace(SEED, &format!("{:X}", file.handle + 1));
    // Code page 1252: where it has letters of Europe's west, their numbers are the same.
    text.chars().map(|c| u8::try_from(u32::from(c)).unwrap_or(b'?')).collect()
}

fn ring(path: &Path) -> Shape {
    match Ring::of(path) {
        Ring::Circle { centre: [x_mm, y_mm], radius_mm } => {
            Shape::Circle { x_mm, y_mm, radius_mm }
        }
        Ring::Path(path) => Shape::Loop(path),
    }
}

fn entities(part: &FlatPart) -> Vec<(String, Shape)> {
    let mut all = vec![("OUTLINE".to_owned(), ring(&part.outline))];
    all.extend(part.openings.iter().map(|path| ("OPENING".to_owned(), ring(path))));
    for hole in &part.holes {
        let layer = if hole.thread.is_some() { "TAP" } else { "DRILL" };
        let circle = |diameter_mm: f64| Shape::Circle {
            x_mm: hole.x_mm,
            y_mm: hole.y_mm,
            radius_mm: diameter_mm / 2.0,
        };
        // What does not go through is on a layer of its own: a jet would cut it through.
        let layer = match hole.drill_depth_mm {
            Some(_) => sided(layer, Face::Outer),
            None => layer.to_owned(),
        };
        all.push((layer, circle(hole.diameter_mm)));
        if let Some(bore) = hole.counterbore {
            all.push((sided("COUNTERBORE", bore.face), circle(bore.diameter_mm)));
        }
    }
    for groove in &part.grooves {
        let layer = sided("GROOVE", groove.face);
        // A groove without edges is refused where the body is made; its middle is still true.
        for edge in edges(&groove.middle, groove.width_mm).iter().flatten() {
            all.push((layer.clone(), ring(edge)));
        }
        all.push((format!("{layer}_MIDDLE"), ring(&groove.middle)));
    }
    for pocket in &part.pockets {
        all.push((sided("POCKET", pocket.face), ring(&pocket.edge)));
    }
    for mark in &part.marks {
        all.push((
            sided("ENGRAVE", mark.face),
            Shape::Words(Words {
                text: mark.text.clone(),
                x_mm: mark.x_mm,
                y_mm: mark.y_mm,
                height_mm: mark.height_mm,
                mirrored: mark.face == Face::Seal,
                centred: true,
            }),
        ));
    }
    all.extend(notes(part));
    all
}

/// What the loops do not say: beside the part, so that nothing is cut along a letter.
fn notes(part: &FlatPart) -> Vec<(String, Shape)> {
    let Some((low, high)) = part.outline.bounds() else { return Vec::new() };
    let mut lines = vec![
        format!(
            "{}, {} mm thick, mm, seen from the outer side",
            part.name,
            mm(part.thickness_mm)
        ),
        "What is cut from the seal side is drawn where it lies under the outer side".to_owned(),
    ];
    for hole in &part.holes {
        lines.push(said(hole));
    }
    for groove in &part.grooves {
        let layer = sided("GROOVE", groove.face);
        lines.push(format!(
            "{layer}: {} wide, {} deep",
            mm(groove.width_mm),
            mm(groove.depth_mm)
        ));
    }
    for pocket in &part.pockets {
        lines.push(format!("{}: {} deep", sided("POCKET", pocket.face), mm(pocket.depth_mm)));
    }
    let height_mm = 3.0;
    let words = |(i, text): (usize, String)| {
        let words = Words {
            text,
            x_mm: high[0] + 15.0,
            y_mm: high[1] - height_mm - i as f64 * 5.0,
            height_mm,
            mirrored: false,
            centred: false,
        };
        ("NOTES".to_owned(), Shape::Words(words))
    };
    debug_assert!(low[0] <= high[0]);
    lines.into_iter().enumerate().map(words).collect()
}

fn said(hole: &Hole) -> String {
    let mut text = format!(
        "{} ({}): x {} y {}, diameter {}",
        hole.name,
        hole.purpose,
        mm(hole.x_mm),
        mm(hole.y_mm),
        mm(hole.diameter_mm)
    );
    if let Some(thread) = &hole.thread {
        let depth =
            hole.thread_depth_mm.map_or("through".to_owned(), |d| format!("{} deep", mm(d)));
        let _ = write!(text, ", thread {thread} {depth}");
    }
    if let Some(depth_mm) = hole.drill_depth_mm {
        let _ = write!(text, ", drilled {} deep", mm(depth_mm));
    }
    if let Some(bore) = hole.counterbore {
        let side = match bore.face {
            Face::Seal => "seal",
            Face::Outer => "outer",
        };
        let _ = write!(
            text,
            ", counterbore diameter {} depth {} from the {side} side",
            mm(bore.diameter_mm),
            mm(bore.depth_mm)
        );
    }
    text
}

/// Stands for the next free handle, which is known only when all is written.
const SEED: &str = "@HANDSEED@";
/// Fixed handles of what others point to.
const BLOCK_RECORDS: &str = "1";
const MODEL_RECORD: &str = "1F";
const PAPER_RECORD: &str = "1B";
const ROOT: &str = "C";
const PLOT_STYLES: &str = "E";
const PLOT_STYLE: &str = "F";
const LAYOUTS: &str = "1A";
const MODEL_LAYOUT: &str = "22";
const PAPER_LAYOUT: &str = "1E";

struct File {
    body: String,
    handle: usize,
}

impl Default for File {
    fn default() -> File {
        // Lower handles are fixed ones.
        File { body: String::new(), handle: 0xFF }
    }
}

impl File {
    fn put(&mut self, code: u16, value: impl std::fmt::Display) {
        let _ = write!(self.body, "{code:>3}\r\n{value}\r\n");
    }

    fn real(&mut self, code: u16, value: f64) {
        assert!(value.is_finite(), "a part has finite lengths");
        let text = format!("{value:.9}");
        let text = text.trim_end_matches('0');
        let text = if text == "-0." { "0." } else { text };
        let whole = if text.ends_with('.') { "0" } else { "" };
        self.put(code, format!("{text}{whole}"));
    }

    fn place(&mut self, code: u16, x: f64, y: f64) {
        self.real(code, x);
        self.real(code + 10, y);
        self.real(code + 20, 0.0);
    }

    fn fresh(&mut self) -> String {
        self.handle += 1;
        format!("{:X}", self.handle)
    }

    fn start(&mut self, section: &str) {
        self.put(0, "SECTION");
        self.put(2, section);
    }

    fn end(&mut self) {
        self.put(0, "ENDSEC");
    }

    fn header(&mut self, part: &FlatPart) {
        let (low, high) = part.outline.bounds().unwrap_or_default();
        self.start("HEADER");
        for (name, code, value) in [
            ("$ACADVER", 1, "AC1015"),
            ("$DWGCODEPAGE", 3, "ANSI_1252"),
            ("$HANDSEED", 5, SEED),
        ] {
            self.put(9, name);
            self.put(code, value);
        }
        // Millimetres, metric.
        for (name, value) in [("$INSUNITS", 4), ("$MEASUREMENT", 1), ("$LUNITS", 2)] {
            self.put(9, name);
            self.put(70, value);
        }
        for (name, p) in [("$EXTMIN", low), ("$EXTMAX", high)] {
            self.put(9, name);
            self.place(10, p[0], p[1]);
        }
        self.end();
        self.start("CLASSES");
        self.end();
    }

    fn table(&mut self, name: &str, handle: &str, count: usize) {
        self.put(0, "TABLE");
        self.put(2, name);
        self.put(5, handle);
        self.put(330, "0");
        self.put(100, "AcDbSymbolTable");
        self.put(70, count);
    }

    fn record(&mut self, kind: &str, handle: &str, owner: &str, class: &str, name: &str) {
        self.put(0, kind);
        self.put(if kind == "DIMSTYLE" { 105 } else { 5 }, handle);
        self.put(330, owner);
        self.put(100, "AcDbSymbolTableRecord");
        self.put(100, class);
        self.put(2, name);
        if kind != "BLOCK_RECORD" {
            self.put(70, 0);
        }
    }

    fn tables(&mut self, layers: &[Layer]) {
        self.start("TABLES");
        self.view_tables();
        self.table("LTYPE", "5", 3);
        for (handle, name) in [("14", "ByBlock"), ("15", "ByLayer"), ("16", "Continuous")] {
            self.record("LTYPE", handle, "5", "AcDbLinetypeTableRecord", name);
            self.put(3, "");
            self.put(72, 65);
            self.put(73, 0);
            self.real(40, 0.0);
        }
        self.put(0, "ENDTAB");
        self.table("LAYER", "2", layers.len() + 1);
        let zero = Layer { name: "0".to_owned(), colour: 7 };
        for (i, layer) in std::iter::once(&zero).chain(layers).enumerate() {
            let handle = if i == 0 { "10".to_owned() } else { self.fresh() };
            self.record("LAYER", &handle, "2", "AcDbLayerTableRecord", &layer.name);
            self.put(62, layer.colour);
            self.put(6, "Continuous");
            self.put(390, PLOT_STYLE);
        }
        self.put(0, "ENDTAB");
        self.table("STYLE", "3", 1);
        self.record("STYLE", "11", "3", "AcDbTextStyleTableRecord", "Standard");
        self.real(40, 0.0);
        self.real(41, 1.0);
        self.real(50, 0.0);
        self.put(71, 0);
        self.real(42, 2.5);
        self.put(3, "txt");
        self.put(4, "");
        self.put(0, "ENDTAB");
        for (name, handle) in [("VIEW", "6"), ("UCS", "7")] {
            self.table(name, handle, 0);
            self.put(0, "ENDTAB");
        }
        self.table("APPID", "9", 1);
        self.record("APPID", "12", "9", "AcDbRegAppTableRecord", "ACAD");
        self.put(0, "ENDTAB");
        self.table("DIMSTYLE", "A", 1);
        self.put(100, "AcDbDimStyleTable");
        self.put(71, 1);
        self.record("DIMSTYLE", "27", "A", "AcDbDimStyleTableRecord", "Standard");
        self.put(340, "11");
        self.put(0, "ENDTAB");
        self.table("BLOCK_RECORD", BLOCK_RECORDS, 2);
        for (handle, name, layout) in [
            (MODEL_RECORD, "*Model_Space", MODEL_LAYOUT),
            (PAPER_RECORD, "*Paper_Space", PAPER_LAYOUT),
        ] {
            self.record("BLOCK_RECORD", handle, BLOCK_RECORDS, "AcDbBlockTableRecord", name);
            self.put(340, layout);
        }
        self.put(0, "ENDTAB");
        self.end();
    }

    /// The window a program opens with.
    fn view_tables(&mut self) {
        self.table("VPORT", "8", 1);
        self.record("VPORT", "29", "8", "AcDbViewportTableRecord", "*Active");
        for (code, x, y) in [
            (10, 0.0, 0.0),
            (11, 1.0, 1.0),
            (12, 70.0, 50.0),
            (13, 0.0, 0.0),
            (14, 10.0, 10.0),
            (15, 10.0, 10.0),
        ] {
            self.real(code, x);
            self.real(code + 10, y);
        }
        self.real(16, 0.0);
        self.real(26, 0.0);
        self.real(36, 1.0);
        self.place(17, 0.0, 0.0);
        self.real(40, 300.0);
        self.real(41, 1.5);
        self.real(42, 50.0);
        for code in [43, 44, 50, 51] {
            self.real(code, 0.0);
        }
        for (code, value) in
            [(71, 0), (72, 100), (73, 1), (74, 3), (75, 0), (76, 0), (77, 0), (78, 0)]
        {
            self.put(code, value);
        }
        self.put(0, "ENDTAB");
    }

    fn blocks(&mut self) {
        self.start("BLOCKS");
        for (record, handles, name) in [
            (MODEL_RECORD, ["20", "21"], "*Model_Space"),
            (PAPER_RECORD, ["1C", "1D"], "*Paper_Space"),
        ] {
            for (kind, handle, class) in [
                ("BLOCK", handles[0], "AcDbBlockBegin"),
                ("ENDBLK", handles[1], "AcDbBlockEnd"),
            ] {
                self.put(0, kind);
                self.put(5, handle);
                self.put(330, record);
                self.put(100, "AcDbEntity");
                if name == "*Paper_Space" {
                    self.put(67, 1);
                }
                self.put(8, "0");
                self.put(100, class);
                if kind == "BLOCK" {
                    self.put(2, name);
                    self.put(70, 0);
                    self.place(10, 0.0, 0.0);
                    self.put(3, name);
                    self.put(1, "");
                }
            }
        }
        self.end();
    }

    fn entity(&mut self, kind: &str, layer: &str, class: &str) {
        let handle = self.fresh();
        self.put(0, kind);
        self.put(5, handle);
        self.put(330, MODEL_RECORD);
        self.put(100, "AcDbEntity");
        self.put(8, layer);
        self.put(100, class);
    }

    fn shape(&mut self, layer: &str, shape: &Shape) {
        match shape {
            Shape::Circle { x_mm, y_mm, radius_mm } => {
                self.entity("CIRCLE", layer, "AcDbCircle");
                self.place(10, *x_mm, *y_mm);
                self.real(40, *radius_mm);
            }
            Shape::Loop(path) => {
                self.entity("LWPOLYLINE", layer, "AcDbPolyline");
                self.put(90, path.vertices.len());
                self.put(70, 1);
                self.real(43, 0.0);
                for v in &path.vertices {
                    self.real(10, v.x_mm);
                    self.real(20, v.y_mm);
                    if v.bulge != 0.0 {
                        self.real(42, v.bulge);
                    }
                }
            }
            Shape::Words(words) => self.words(layer, words),
        }
    }

    fn words(&mut self, layer: &str, words: &Words) {
        self.entity("TEXT", layer, "AcDbText");
        self.place(10, words.x_mm, words.y_mm);
        self.real(40, words.height_mm);
        self.put(1, letters(&words.text));
        self.put(7, "Standard");
        if words.mirrored {
            self.put(71, 2);
        }
        if words.centred {
            self.put(72, 1);
            self.place(11, words.x_mm, words.y_mm);
        }
        self.put(100, "AcDbText");
    }

    fn dictionary(&mut self, handle: &str, owner: &str, entries: &[(&str, &str)]) {
        self.put(0, "DICTIONARY");
        self.put(5, handle);
        self.put(330, owner);
        self.put(100, "AcDbDictionary");
        self.put(281, 1);
        for (name, of) in entries {
            self.put(3, name);
            self.put(350, of);
        }
    }

    fn objects(&mut self) {
        self.start("OBJECTS");
        self.dictionary(
            ROOT,
            "0",
            &[
                ("ACAD_GROUP", "D"),
                ("ACAD_LAYOUT", LAYOUTS),
                ("ACAD_PLOTSTYLENAME", PLOT_STYLES),
            ],
        );
        self.dictionary("D", ROOT, &[]);
        self.dictionary(LAYOUTS, ROOT, &[("Layout1", PAPER_LAYOUT), ("Model", MODEL_LAYOUT)]);
        self.put(0, "ACDBDICTIONARYWDFLT");
        self.put(5, PLOT_STYLES);
        self.put(330, ROOT);
        self.put(100, "AcDbDictionary");
        self.put(281, 1);
        self.put(3, "Normal");
        self.put(350, PLOT_STYLE);
        self.put(100, "AcDbDictionaryWithDefault");
        self.put(340, PLOT_STYLE);
        self.put(0, "ACDBPLACEHOLDER");
        self.put(5, PLOT_STYLE);
        self.put(330, PLOT_STYLES);
        self.layout(MODEL_LAYOUT, "Model", MODEL_RECORD, 0);
        self.layout(PAPER_LAYOUT, "Layout1", PAPER_RECORD, 1);
        self.end();
    }

    fn layout(&mut self, handle: &str, name: &str, record: &str, order: u8) {
        self.put(0, "LAYOUT");
        self.put(5, handle);
        self.put(330, LAYOUTS);
        self.put(100, "AcDbPlotSettings");
        self.put(1, "");
        self.put(2, "");
        self.put(4, "");
        self.put(6, "");
        for code in 40..=43 {
            self.real(code, 7.5);
        }
        self.real(44, 420.0);
        self.real(45, 297.0);
        for code in [46, 47, 48, 49, 140, 141] {
            self.real(code, 0.0);
        }
        self.real(142, 1.0);
        self.real(143, 1.0);
        self.put(70, if order == 0 { 1024 + 688 } else { 688 });
        for (code, value) in [(72, 1), (73, 0), (74, 5)] {
            self.put(code, value);
        }
        self.put(7, "");
        self.put(75, 16);
        self.real(147, 1.0);
        self.real(148, 0.0);
        self.real(149, 0.0);
        self.put(100, "AcDbLayout");
        self.put(1, name);
        self.put(70, 1);
        self.put(71, order);
        self.real(10, 0.0);
        self.real(20, 0.0);
        self.real(11, 420.0);
        self.real(21, 297.0);
        self.place(12, 0.0, 0.0);
        self.place(14, 0.0, 0.0);
        self.place(15, 420.0, 297.0);
        self.real(146, 0.0);
        self.place(13, 0.0, 0.0);
        self.real(16, 1.0);
        self.real(26, 0.0);
        self.real(36, 0.0);
        self.real(17, 0.0);
        self.real(27, 1.0);
        self.real(37, 0.0);
        self.put(76, 0);
        self.put(330, record);
    }
}

/// Text of one line; what the file's code page has not, by its number.
fn letters(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '%' => out.push_str("%%37"),
            ' '..='~' | '\u{a0}'..='\u{ff}' => out.push(c),
            c if c.is_control() => out.push(' '),
            c => {
                let mut units = [0; 2];
                for unit in c.encode_utf16(&mut units) {
                    let _ = write!(out, "\\U+{unit:04X}");
                }
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_outside_the_old_code_page_are_numbered() {
        assert_eq!(letters("Ω Ø 5 %\n"), "\\U+03A9 Ø 5 %%37 ");
    }
}
