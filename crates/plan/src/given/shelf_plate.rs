//! A kept plate as a row of the shop's file: read, written, said in a line.
//!
//! ```toml
//! [plate."seven M6, three M25"]
//! material = "aluminium-6082-t6"
//! thickness = "14 mm"
//! outline = ["238.4 mm, -111.5 mm, turns 89.2 deg", "247.7 mm, -101.6 mm"]
//! holes = [{ name = "B1", for = "bolt M6", at = "0.46 mm, 99.97 mm", diameter = "6.6 mm" }]
//! groove = ["230.9 mm, -29.4 mm", "224.8 mm, -14.8 mm"]
//! ```
//!
//! A closed line is given corner by corner; where an arc leads to the next corner, so is by how much it turns,
//! to the left counted positive.

use std::fmt::Write as _;

use physics::units::{Dimension as D, System, parse, show_both};
use space::part::{Counterbore, Face, Hole, Mark};
use space::path::{Path, Vertex};
use space::solid::solid;
use toml::de::{DeTable, DeValue};

use super::shelf::*;
use super::shelf_draft::{Counted, Draft, Number, number, text_item};
use super::shelf_kinds::{Kept, Part};

impl Part for KeptPlate {
    const KIND: &'static str = "plate";
    fn of(shelf: &Shelf) -> &[Self] {
        &shelf.plates
    }
    fn row(&self) -> &Row {
        &self.row
    }
    fn line(&self, system: System) -> String {
        let mm = |v: f64| show_both(v, D::Length, system);
        let (low, high) = self.outline.bounds().unwrap_or_default();
        let ring = match (&self.oring, self.cord_section_mm) {
            (Some(id), _) => format!("O-ring {id}"),
            (None, Some(section)) => format!("ring of {} cord", mm(section)),
            (None, None) => "no ring".to_owned(),
        };
        let record = &self.record;
        format!(
            "{} x {} x {}, {} bolts, {} grips, {ring}, {}; kept by {} on {}, {} readings, {} checks",
            mm(high[0] - low[0]),
            mm(high[1] - low[1]),
            mm(self.thickness_mm),
            self.holes_for("bolt").count(),
            self.holes_for("grip").count(),
            self.material,
            record.kept_by,
            record.kept_on,
            record.measured.len(),
            record.checks.len()
        )
    }
}

const fn mm(name: &'static str, key: &'static str) -> Number {
    number(name, key, D::Length)
}

impl Kept for KeptPlate {
    const COUNTED: Counted = Counted::Piece;
    fn of_mut(shelf: &mut Shelf) -> &mut Vec<Self> {
        &mut shelf.plates
    }
    fn row_mut(&mut self) -> &mut Row {
        &mut self.row
    }
    fn read(d: &mut Draft<'_>, was: Option<&Self>, row: Row) -> Self {
        let record = was.map(|w| &w.record);
        let corners = |path: &Path| path.vertices.clone();
        let (outline, groove) =
            (was.map(|w| corners(&w.outline)), was.map(|w| corners(&w.groove)));
        KeptPlate {
            row,
            material: d.text("material", was.map(|w| &w.material)),
            thickness_mm: d
                .number(mm("thickness", "thickness_mm"), was.map(|w| w.thickness_mm)),
            outline: Path { vertices: d.list("outline", "outline", outline.as_ref(), corner) },
            holes: d.list("holes", "holes", was.map(|w| &w.holes), hole),
            groove: Path { vertices: d.list("groove", "groove", groove.as_ref(), corner) },
            groove_depth_mm: d
                .number(mm("groove-depth", "groove_depth_mm"), was.map(|w| w.groove_depth_mm)),
            groove_width_mm: d
                .number(mm("groove-width", "groove_width_mm"), was.map(|w| w.groove_width_mm)),
            groove_tolerance_mm: d.number(
                mm("groove-tolerance", "groove_tolerance_mm").may_be_zero(),
                was.map(|w| w.groove_tolerance_mm),
            ),
            oring: d.text_or("o-ring", was.and_then(|w| w.oring.as_ref())),
            cord_section_mm: d.number_or(
                mm("cord-section", "cord_section_mm"),
                was.and_then(|w| w.cord_section_mm),
            ),
            marks: d.list_or("marks", was.map(|w| &w.marks), mark),
            record: PlateRecord {
                kept_by: d.text("kept-by", record.map(|r| &r.kept_by)),
                kept_on: d.text("kept-on", record.map(|r| &r.kept_on)),
                kept_from: d.text("kept-from", record.map(|r| &r.kept_from)),
                checks: d.list_or("checks", record.map(|r| &r.checks), text_item),
                measured: d.list_or("measured", record.map(|r| &r.measured), reading),
            },
        }
    }
    fn title(&self) -> String {
        format!("entry plate {}", self.row.id)
    }
    fn faults(&self, shelf: &Shelf) -> Vec<(&'static str, String)> {
        let mut faults = Vec::new();
        if !shelf.materials.iter().any(|m| m.row.id == self.material) {
            faults.push(("material", format!("there is no material `{}`", self.material)));
        }
        match (&self.oring, self.cord_section_mm) {
            (Some(id), None) if !shelf.orings.iter().any(|o| o.row.id == *id) => {
                faults.push(("o-ring", format!("there is no O-ring `{id}` on the shelf")));
            }
            (Some(_), None) | (None, Some(_)) => {}
            _ => faults.push(("o-ring", "state one of `o-ring` and `cord-section`".to_owned())),
        }
        for hole in &self.holes {
            if !["bolt", "grip"].iter().any(|w| hole.purpose.starts_with(&format!("{w} "))) {
                let message = format!("hole {} is for \"bolt M6\" or \"grip U\"", hole.name);
                faults.push(("holes", message));
            }
        }
        for reading in self.record.measured.iter().filter(|r| !r.good()) {
            let message = format!("{} was read outside its limits", reading.what);
            faults.push(("measured", message));
        }
        if faults.is_empty()
            && let Err(wrong) = solid(&self.part("plate"))
        {
            faults.extend(wrong.into_iter().map(|f| ("outline", f.message)));
        }
        faults
    }
}

impl PlateReading {
    /// Whether it lies between its limits.
    pub fn good(&self) -> bool {
        self.least_mm - 1e-9 <= self.read_mm && self.read_mm <= self.most_mm + 1e-9
    }
}

fn length(text: &str) -> Result<f64, String> {
    match parse(text.trim(), D::Length) {
        Ok(mm) if mm.abs() <= 5000.0 => Ok(mm),
        Ok(_) => Err(format!("`{}` is more than 5 m", text.trim())),
        Err(error) => Err(format!("`{}`: {}", text.trim(), error.message(D::Length))),
    }
}

fn place(text: &str) -> Result<[f64; 2], String> {
    let (x, y) = text.split_once(',').ok_or_else(|| format!("`{text}` is no place: x, y"))?;
    Ok([length(x)?, length(y)?])
}

/// "12 mm, 30 mm", and "turns 90 deg" where an arc leads on.
fn corner(value: &DeValue<'_>, _: bool) -> Result<Vertex, String> {
    let text = value.as_str().ok_or("a corner is a text: \"12 mm, 30 mm\"")?;
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let bulge = match parts.get(2) {
        None => 0.0,
        Some(words) => {
            let turn = words.strip_prefix("turns ").ok_or_else(|| {
                format!("`{words}`: write \"turns 90 deg\" where an arc leads on")
            })?;
            let deg = parse(turn, D::Angle)
                .map_err(|error| format!("`{turn}`: {}", error.message(D::Angle)))?;
            if deg.abs() > 350.0 {
                return Err(format!("`{turn}`: an arc turns by at most 350 deg"));
            }
            libm::tan(deg.to_radians() / 4.0)
        }
    };
    let (Some(x), Some(y), true) = (parts.first(), parts.get(1), parts.len() <= 3) else {
        return Err(format!("`{text}` is no corner: \"12 mm, 30 mm\""));
    };
    Ok(Vertex { x_mm: length(x)?, y_mm: length(y)?, bulge })
}

/// The texts of an inline table, every one of which must be known.
struct Inline<'d>(&'d DeTable<'d>);

impl<'d> Inline<'d> {
    fn of(value: &'d DeValue<'d>, known: &[&str]) -> Result<Inline<'d>, String> {
        let table =
            value.as_table().ok_or_else(|| format!("{{ {} }} is due", known.join(", ")))?;
        match table.keys().find(|k| !known.contains(&k.get_ref().as_ref())) {
            Some(key) => Err(format!(
                "there is no `{}` here; there are {}",
                key.get_ref(),
                known.join(", ")
            )),
            None => Ok(Inline(table)),
        }
    }
    fn maybe(&self, key: &str) -> Result<Option<&'d str>, String> {
        match self.0.get(key) {
            None => Ok(None),
            Some(v) => v.get_ref().as_str().map(Some).ok_or(format!("`{key}` is a text")),
        }
    }
    fn text(&self, key: &str) -> Result<&'d str, String> {
        self.maybe(key)?.ok_or(format!("`{key}` is missing"))
    }
}

fn hole(value: &DeValue<'_>, _: bool) -> Result<Hole, String> {
    let t = Inline::of(value, &["name", "for", "at", "diameter", "thread", "counterbore"])?;
    let [x_mm, y_mm] = place(t.text("at")?)?;
    let counterbore = t.maybe("counterbore")?.map(|text| {
        let (wide, deep) = text
            .split_once(" x ")
            .ok_or_else(|| format!("`{text}`: a counterbore is \"11 mm x 6 mm\""))?;
        let (diameter_mm, depth_mm) = (length(wide)?, length(deep)?);
        Ok::<_, String>(Counterbore { diameter_mm, depth_mm, face: Face::Outer })
    });
    Ok(Hole {
        name: t.text("name")?.to_owned(),
        purpose: t.text("for")?.to_owned(),
        x_mm,
        y_mm,
        diameter_mm: length(t.text("diameter")?)?,
        thread: t.maybe("thread")?.map(str::to_owned),
        thread_depth_mm: None,
        drill_depth_mm: None,
        counterbore: counterbore.transpose()?,
    })
}

fn mark(value: &DeValue<'_>, _: bool) -> Result<Mark, String> {
    let t = Inline::of(value, &["text", "at", "height"])?;
    let [x_mm, y_mm] = place(t.text("at")?)?;
    let height_mm = length(t.text("height")?)?;
    let text = t.text("text")?.to_owned();
    Ok(Mark { text, x_mm, y_mm, height_mm, face: Face::Outer })
}

fn reading(value: &DeValue<'_>, _: bool) -> Result<PlateReading, String> {
    let t = Inline::of(value, &["what", "read", "least", "most"])?;
    Ok(PlateReading {
        what: t.text("what")?.to_owned(),
        read_mm: length(t.text("read")?)?,
        least_mm: length(t.text("least")?)?,
        most_mm: length(t.text("most")?)?,
    })
}

/// A text in quotes as TOML wants them.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// To a nanometre, and an angle as finely, without zeros that say nothing.
fn plain(value: f64) -> String {
    let text = format!("{value:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn at(x_mm: f64, y_mm: f64) -> String {
    format!("\"{} mm, {} mm\"", plain(x_mm), plain(y_mm))
}

fn rows(out: &mut String, key: &str, items: impl Iterator<Item = String>) {
    let items: Vec<String> = items.collect();
    if !items.is_empty() {
        let _ = writeln!(out, "{key} = [\n    {},\n]", items.join(",\n    "));
    }
}

fn corners(path: &Path) -> impl Iterator<Item = String> {
    path.vertices.iter().map(|v| {
        if v.bulge == 0.0 {
            return at(v.x_mm, v.y_mm);
        }
        let turn = (4.0 * libm::atan(v.bulge)).to_degrees();
        format!("\"{} mm, {} mm, turns {} deg\"", plain(v.x_mm), plain(v.y_mm), plain(turn))
    })
}

/// The plate as a table of a shop's file; reading it gives the plate again, to some nanometres.
pub fn written(plate: &KeptPlate) -> String {
    let mut out = format!("[plate.{}]\n", quoted(&plate.row.id));
    let mut say = |key: &str, value: &str| {
        let _ = writeln!(out, "{key} = {value}");
    };
    let mm = |v: f64| format!("\"{} mm\"", plain(v));
    say("name", &quoted(&plate.row.name));
    say("material", &quoted(&plate.material));
    say("thickness", &mm(plate.thickness_mm));
    match (&plate.oring, plate.cord_section_mm) {
        (Some(id), _) => say("o-ring", &quoted(id)),
        (None, section) => say("cord-section", &mm(section.unwrap_or_default())),
    }
    say("groove-depth", &mm(plate.groove_depth_mm));
    say("groove-width", &mm(plate.groove_width_mm));
    say("groove-tolerance", &mm(plate.groove_tolerance_mm));
    say("kept-by", &quoted(&plate.record.kept_by));
    say("kept-on", &quoted(&plate.record.kept_on));
    say("kept-from", &quoted(&plate.record.kept_from));
    rows(&mut out, "outline", corners(&plate.outline));
    rows(&mut out, "groove", corners(&plate.groove));
    let hole = |h: &Hole| {
        let mut text = format!(
            "{{ name = {}, for = {}, at = {}, diameter = {}",
            quoted(&h.name),
            quoted(&h.purpose),
            at(h.x_mm, h.y_mm),
            mm(h.diameter_mm)
        );
        if let Some(thread) = &h.thread {
            let _ = write!(text, ", thread = {}", quoted(thread));
        }
        if let Some(bore) = h.counterbore {
            let (wide, deep) = (plain(bore.diameter_mm), plain(bore.depth_mm));
            let _ = write!(text, ", counterbore = \"{wide} mm x {deep} mm\"");
        }
        text + " }"
    };
    rows(&mut out, "holes", plate.holes.iter().map(hole));
    let mark = |m: &Mark| {
        let (place, height) = (at(m.x_mm, m.y_mm), mm(m.height_mm));
        format!("{{ text = {}, at = {place}, height = {height} }}", quoted(&m.text))
    };
    rows(&mut out, "marks", plate.marks.iter().map(mark));
    rows(&mut out, "checks", plate.record.checks.iter().map(|c| quoted(c)));
    let reading = |r: &PlateReading| {
        let (read, least, most) = (mm(r.read_mm), mm(r.least_mm), mm(r.most_mm));
        let what = quoted(&r.what);
        format!("{{ what = {what}, read = {read}, least = {least}, most = {most} }}")
    };
    rows(&mut out, "measured", plate.record.measured.iter().map(reading));
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::given::shelf_read::{standard, with_shop};
    use proptest::prelude::*;

    /// A round-cornered plate of four bolts and one grip, its ring of cord.
    const PLATE: &str = r#"
[plate.small]
material = "aluminium-6082-t6"
thickness = "10 mm"
cord-section = "3.53 mm"
groove-depth = "2.64 mm"
groove-width = "4.8 mm"
groove-tolerance = "0.05 mm"
outline = [
    "50 mm, -40 mm, turns 90 deg", "60 mm, -30 mm", "60 mm, 30 mm, turns 90 deg", "50 mm, 40 mm",
    "-50 mm, 40 mm, turns 90 deg", "-60 mm, 30 mm", "-60 mm, -30 mm, turns 90 deg", "-50 mm, -40 mm",
]
groove = ["20 mm, 0 mm, turns 180 deg", "-20 mm, 0 mm, turns 180 deg"]
holes = [
    { name = "B1", for = "bolt M6", at = "50 mm, 30 mm", diameter = "6.6 mm", counterbore = "12 mm x 5 mm" },
    { name = "B2", for = "bolt M6", at = "-50 mm, 30 mm", diameter = "6.6 mm" },
    { name = "B3", for = "bolt M6", at = "-50 mm, -30 mm", diameter = "6.6 mm" },
    { name = "G-U", for = "grip U", at = "0 mm, 0 mm", diameter = "23.5 mm", thread = "M25x1.5" },
]
marks = [{ text = "quote \" and \\ and \u00fc", at = "0 mm, 34 mm", height = "3.5 mm" }]
kept-by = "A. Turner"
kept-on = "2026-11-25"
kept-from = "a test"
checks = ["plate-fit: holds"]
measured = [{ what = "Thickness", read = "10.05 mm", least = "9.8 mm", most = "10.2 mm" }]
"#;

    fn read(text: &str) -> (Option<KeptPlate>, Vec<String>) {
        let (shelf, errors) = with_shop(standard(), text);
        (shelf.plates.first().cloned(), errors.into_iter().map(|e| e.message).collect())
    }

    #[test]
    fn a_plate_is_read_said_and_written_again() {
        let (plate, errors) = read(PLATE);
        let plate = plate.unwrap_or_else(|| panic!("{errors:?}"));
        let straight = 2.0 * (120.0 + 80.0) - 80.0 + 20.0 * std::f64::consts::PI;
        assert!((plate.outline.length_mm() - straight).abs() < 1e-9);
        assert!((plate.groove.length_mm() - 40.0 * std::f64::consts::PI).abs() < 1e-9);
        assert_eq!(plate.holes[0].counterbore.unwrap().depth_mm, 5.0);
        let (again, errors) = read(&written(&plate));
        assert_eq!((again.as_ref(), errors), (Some(&plate), Vec::new()));
        let line = plate.line(System::Metric);
        for words in ["3 bolts", "1 grips", "cord", "A. Turner on 2026-11-25", "1 readings"] {
            assert!(line.contains(words), "{line}");
        }
    }

    #[test]
    fn what_cannot_be_is_said() {
        for (from, to, said) in [
            ("10.05 mm", "10.25 mm", "Thickness was read outside its limits"),
            ("\"bolt M6\"", "\"screw M6\"", "hole B1 is for"),
            ("cord-section = \"3.53 mm\"\n", "", "one of `o-ring` and `cord-section`"),
            ("cord-section = \"3.53 mm\"", "o-ring = \"9999\"", "no O-ring `9999`"),
            ("aluminium-6082-t6", "cheese", "no material `cheese`"),
            ("at = \"-50 mm, 30 mm\"", "at = \"50 mm, 30 mm\"", "run into each other"),
            ("turns 90 deg", "round", "write \"turns 90 deg\""),
            ("turns 90 deg", "turns 400 deg", "at most 350 deg"),
            ("name = \"B1\",", "nmae = \"B1\",", "there is no `nmae` here"),
            ("kept-by = \"A. Turner\"\n", "", "does not say its kept-by"),
        ] {
            assert!(PLATE.contains(from));
            let (plate, errors) = read(&PLATE.replacen(from, to, 1));
            assert!(
                plate.is_none() && errors.iter().any(|e| e.contains(said)),
                "{said}: {errors:?}"
            );
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn prop_no_plate_panics(at in 0usize..1400, with in "[-0-9a-z \"{}\\[\\],=.]{0,6}", cut in 0usize..8) {
            let at = at.min(PLATE.len() - 1);
            let end = (at + cut).min(PLATE.len());
            let _ = read(&format!("{}{with}{}", &PLATE[..at], &PLATE[end..]));
        }
    }
}
