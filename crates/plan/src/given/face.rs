//! Reads what was measured on a sealing face: a table of the build document, or a face file of its own.
//!
//! A build may name a face file or a drawing beside it. Whoever holds the disk reads them and hands their
//! text to [`attach`]; [`wanted`] says which.

use std::ops::Range;

use physics::units::{Dimension, parse};
use space::{read_dxf, read_svg};
use toml::de::DeTable;

use super::build::{
    At, Build, Face, FaceEdge, FaceOutline, FacePhoto, FacePoint, FaceReading, Maybe, Measure,
    OutlinePoint, Passing, PhotoPoint,
};
use super::keys;
use super::nearest::nearest;
use super::read::{DocumentError, Fields, Reader, brief};
use crate::finding::Place;

/// Reads a face file.
pub fn read_file(text: &str) -> (Face, Vec<DocumentError>) {
    let mut reader = Reader::new(text);
    let Some(root) = reader.parse() else { return (Face::default(), reader.finish()) };
    let face = read_table(&mut reader, &(0..0), "", &root);
    if let Some(file) = &face.file {
        let message = "a face file names no other face file".to_owned();
        reader.error_at(file.at, message, Some("write the tables here".to_owned()));
    }
    (face, reader.finish())
}

/// What a face names beside its document, in the order of reading: name and where it is named.
pub fn wanted(face: &Face) -> Vec<At<String>> {
    [&face.file, &face.dxf, &face.svg].into_iter().flatten().cloned().collect()
}

/// All files the faces of a build name, each once.
pub fn all_wanted(build: &Build) -> Vec<At<String>> {
    let mut all: Vec<At<String>> = Vec::new();
    let faces = build.devices.iter().flat_map(|d| &d.ports).filter_map(|p| p.face.as_ref());
    for name in faces.flat_map(wanted) {
        if !all.iter().any(|n| n.value == name.value) {
            all.push(name);
        }
    }
    all
}

/// Puts the text of a named file where a build's faces name it; mistakes are places in that text.
pub fn attach(build: &mut Build, name: &str, text: &str) -> Vec<DocumentError> {
    let mut errors = Vec::new();
    for port in build.devices.iter_mut().flat_map(|d| &mut d.ports) {
        if let Some(face) = &mut port.face {
            errors = attach_to(face, name, text).into_iter().chain(errors).collect();
        }
    }
    errors.sort_by_key(|e| (e.span.start, e.span.end));
    errors.dedup();
    errors
}

/// The same for one face.
pub fn attach_to(face: &mut Face, name: &str, text: &str) -> Vec<DocumentError> {
    let named = |maybe: &Maybe<String>| maybe.as_ref().is_some_and(|n| n.value == name);
    if named(&face.file) {
        let (read, errors) = read_file(text);
        let (file, at) = (face.file.take(), face.at);
        let place = file.as_ref().map_or(at, |f| f.at);
        *face = Face { at, file, ..read };
        replace(face, place);
        return errors;
    }
    let drawing = if named(&face.dxf) {
        read_dxf::read(text)
    } else if named(&face.svg) {
        read_svg::read(text)
    } else {
        return Vec::new();
    };
    match drawing {
        Ok(drawing) => {
            face.drawn = Some(drawing);
            Vec::new()
        }
        Err(fault) => {
            let reader = Reader::new(text);
            let span = fault.at..fault.at;
            let at = reader.place(&span);
            vec![DocumentError { at, span, message: fault.message, hint: None }]
        }
    }
}

/// Moves every place of a face read from its own file to where the build names that file: a finding of the
/// build can only point into the build.
fn replace(face: &mut Face, at: Place) {
    for reading in &mut face.readings {
        reading.at = at;
    }
    for point in face.holes.iter_mut().chain(&mut face.terminals).chain(&mut face.corners) {
        point.id.at = at;
    }
    for outline in [&mut face.opening, &mut face.outline].into_iter().flatten() {
        outline.at = at;
    }
    if let Some(photo) = &mut face.photo {
        photo.at = at;
    }
    for named in [&mut face.dxf, &mut face.svg].into_iter().flatten() {
        named.at = at;
    }
}

/// Reads a face's table and says what in it contradicts itself.
pub(super) fn read_table<'t>(
    reader: &mut Reader<'t>,
    span: &Range<usize>,
    called: &str,
    table: &DeTable<'t>,
) -> Face {
    let at = reader.place(span);
    let mut f = Fields::new(reader, &keys::FACE, called, table);
    let mut face = Face {
        at,
        title: f.text("title"),
        file: f.text("file"),
        dxf: f.text("dxf"),
        svg: f.text("svg"),
        origin: f.text("origin"),
        x_axis: f.text("x-axis"),
        ..Face::default()
    };
    let tables = [
        ("hole", f.tables("hole")),
        // A terminal is called as the port calls it, `+` among others.
        ("terminal", f.labelled_tables("terminal")),
        ("corner", f.tables("corner")),
    ];
    let edges = f.tables("edge");
    let readings = f.rows("reading");
    let outlines = ["opening", "outline"].map(|kind| (kind, f.table(kind)));
    let photo = f.table("photo");
    let reader = f.reader;
    let dot = if called.is_empty() { "" } else { "." };
    let [holes, terminals, corners] = tables.map(|(kind, points)| {
        let read = |(id, t)| read_point(reader, id, &format!("{called}{dot}{kind}"), t);
        points.into_iter().map(read).collect()
    });
    (face.holes, face.terminals, face.corners) = (holes, terminals, corners);
    face.edges = edges
        .into_iter()
        .map(|(id, t)| {
            let header = format!("{called}{dot}edge.{}", id.value);
            let mut f = Fields::new(reader, &keys::FACE_EDGE, &header, t);
            FaceEdge { side: f.choice("side", keys::SIDES), id }
        })
        .collect();
    let header = format!("{called}{dot}reading");
    let mut spoiled = Vec::new();
    for (span, t) in readings {
        let reading = read_reading(reader, &span, &header, t);
        // A value that could not be read has been said; that there is none need not be said too.
        let written = MEASURES.iter().filter(|(name, _)| t.contains_key(*name)).count();
        spoiled.push(written != reading.values_mm.len());
        face.readings.push(reading);
    }
    let [opening, outline] = outlines.map(|(kind, found)| {
        found.map(|(span, t)| read_outline(reader, &span, &format!("{called}{dot}{kind}"), t))
    });
    (face.opening, face.outline) = (opening, outline);
    face.photo =
        photo.map(|(span, t)| read_photo(reader, &span, &format!("{called}{dot}photo"), t));
    check(reader, &face, &spoiled);
    face
}

fn read_point<'t>(
    reader: &mut Reader<'t>,
    id: At<String>,
    called: &str,
    table: &DeTable<'t>,
) -> FacePoint {
    let mut f =
        Fields::new(reader, &keys::FACE_POINT, &format!("{called}.{}", id.value), table);
    let diameter_mm = f.quantity("diameter");
    let tool = f.choice("tool", keys::TOOLS);
    let (at, near) = (f.quantities("at"), f.quantities("near"));
    let reader = f.reader;
    FacePoint {
        diameter_mm,
        tool,
        stated_mm: place(reader, "at", at),
        near_mm: place(reader, "near", near),
        id,
    }
}

/// Two lengths as a place.
fn place(reader: &mut Reader<'_>, name: &str, list: Maybe<Vec<At<f64>>>) -> Maybe<[f64; 2]> {
    let At { value, at } = list?;
    if let [x, y] = value.as_slice() {
        return Some(At { value: [x.value, y.value], at });
    }
    let message = format!("`{name}` is a place and has two lengths, x and y");
    reader.error_at(at, message, Some(format!("write {name} = [\"12 mm\", \"30 mm\"]")));
    None
}

/// Two numbers as a pair.
fn pair(reader: &mut Reader<'_>, name: &str, list: Maybe<Vec<f64>>) -> Maybe<[f64; 2]> {
    let At { value, at } = list?;
    if let [x, y] = value.as_slice() {
        return Some(At { value: [*x, *y], at });
    }
    let message = format!("`{name}` has two numbers");
    reader.error_at(at, message, Some(format!("write {name} = [812.5, 440.0]")));
    None
}

fn read_reading<'t>(
    reader: &mut Reader<'t>,
    span: &Range<usize>,
    called: &str,
    table: &DeTable<'t>,
) -> FaceReading {
    let at = reader.place(span);
    let mut f = Fields::new(reader, &keys::FACE_READING, called, table);
    let mut reading = FaceReading {
        at,
        between: f.texts("between"),
        from: f.text("from"),
        edge: f.text("edge"),
        line: f.texts("line"),
        across: f.text("across"),
        values_mm: Vec::new(),
        tool: f.choice("tool", keys::TOOLS),
        deviation_mm: f.quantity("deviation"),
    };
    for (name, measure) in MEASURES {
        if let Some(value) = f.quantity(name) {
            reading.values_mm.push((*measure, value));
        }
    }
    reading
}

/// The keys that carry a reading's value.
const MEASURES: &[(&str, Measure)] = &[
    ("centres", Measure::Centres),
    ("outside", Measure::Outside),
    ("inside", Measure::Inside),
    ("centre", Measure::Centre),
    ("near-side", Measure::NearSide),
    ("far-side", Measure::FarSide),
    ("diameter", Measure::Diameter),
];

/// What was read, by the names of points and edges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReadingOf<'a> {
    /// Two points: centres, outside or inside.
    Between(Measure, &'a str, &'a str),
    /// A point and an edge: centre, near side or far side.
    ToEdge(Measure, &'a str, &'a str),
    /// A point, and the line through two others.
    ToLine(&'a str, [&'a str; 2]),
    /// A hole's diameter.
    Across(&'a str),
}

impl FaceReading {
    /// What was read and the value; in words what is wrong with it where it makes no sense.
    pub fn of(&self) -> Result<(ReadingOf<'_>, f64), &'static str> {
        let [(measure, value)] = self.values_mm.as_slice() else {
            return Err(match self.values_mm.len() {
                0 => {
                    "has no value: add one of centres, outside, inside, centre, near-side, far-side or diameter"
                }
                _ => "has more than one value: give each reading its own [[reading]]",
            });
        };
        let of = match (&self.between, &self.from, &self.edge, &self.line, &self.across) {
            (Some(two), None, None, None, None) => {
                let [a, b] = two.value.as_slice() else { return Err("is between two points") };
                match measure {
                    Measure::Centres | Measure::Outside | Measure::Inside => {
                        ReadingOf::Between(*measure, &a.value, &b.value)
                    }
                    _ => return Err("between two points is `centres`, `outside` or `inside`"),
                }
            }
            (None, Some(from), Some(edge), None, None) => match measure {
                Measure::Centre | Measure::NearSide | Measure::FarSide => {
                    ReadingOf::ToEdge(*measure, &from.value, &edge.value)
                }
                _ => return Err("to an edge is `centre`, `near-side` or `far-side`"),
            },
            (None, Some(from), None, Some(line), None) => {
                let [b, c] = line.value.as_slice() else {
                    return Err("is to the line through two points");
                };
                match measure {
                    Measure::Centre => ReadingOf::ToLine(&from.value, [&b.value, &c.value]),
                    _ => return Err("to a line is `centre`"),
                }
            }
            (None, None, None, None, Some(hole)) => match measure {
                Measure::Diameter => ReadingOf::Across(&hole.value),
                _ => return Err("across a hole is `diameter`"),
            },
            _ => {
                return Err(
                    "needs one of `between`, `from` with `edge`, `from` with `line`, or `across`",
                );
            }
        };
        Ok((of, value.value))
    }

    /// Every name in it, points first: where it stands and whether it is an edge.
    fn names(&self) -> Vec<(&At<String>, bool)> {
        let lists = self.between.iter().chain(&self.line).flat_map(|l| &l.value);
        let points = lists.chain(&self.from).chain(&self.across).map(|n| (n, false));
        points.chain(self.edge.iter().map(|n| (n, true))).collect()
    }
}

fn read_outline<'t>(
    reader: &mut Reader<'t>,
    span: &Range<usize>,
    called: &str,
    table: &DeTable<'t>,
) -> FaceOutline {
    let at = reader.place(span);
    let mut f = Fields::new(reader, &keys::FACE_OUTLINE, called, table);
    let points = f.texts("points");
    let radius_mm = f.quantity("radius");
    let centre = f.text("centre");
    let diameter_mm = f.quantity("diameter");
    let reader = f.reader;
    let mut outline = FaceOutline { at, radius_mm, diameter_mm, ..FaceOutline::default() };
    outline.centre = centre.and_then(|c| point_of(reader, &c, &c.value));
    for item in points.map(|p| p.value).unwrap_or_default() {
        let (text, passing) = match item.value.strip_prefix("through ") {
            Some(rest) => (rest, Passing::Through),
            None => (item.value.as_str(), Passing::Corner),
        };
        if let Some(point) = point_of(reader, &item, text) {
            outline.points.push((point, passing));
        }
    }
    outline
}

/// A point by its name, or by x and y.
fn point_of(
    reader: &mut Reader<'_>,
    item: &At<String>,
    text: &str,
) -> Option<At<OutlinePoint>> {
    let at = item.at;
    let Some((x, y)) = text.split_once(',') else {
        let name = text.trim().to_owned();
        return Some(At { value: OutlinePoint::Named(name), at });
    };
    let mut read = |part: &str| match parse(part.trim(), Dimension::Length) {
        Ok(mm) if mm.abs() <= 5000.0 => Some(mm),
        Ok(_) => {
            let message = format!("`{}` is outside -5 m to 5 m", brief(part.trim()));
            reader.error_at(at, message, Some("check the number and its unit".to_owned()));
            None
        }
        Err(error) => {
            let message = format!("`{}`: {}", brief(text), error.message(Dimension::Length));
            reader.error_at(at, message, Some("write it like \"12 mm, 30 mm\"".to_owned()));
            None
        }
    };
    let (x, y) = (read(x), read(y));
    Some(At { value: OutlinePoint::Position([x?, y?]), at })
}

fn read_photo<'t>(
    reader: &mut Reader<'t>,
    span: &Range<usize>,
    called: &str,
    table: &DeTable<'t>,
) -> FacePhoto {
    let at = reader.place(span);
    let mut f = Fields::new(reader, &keys::FACE_PHOTO, called, table);
    let size = f.numbers("size");
    let distortion = f.count("distortion");
    let click_px = f.number("click");
    let points = f.tables("point");
    let reader = f.reader;
    let size_px = pair(reader, "size", size);
    let mut read = |(id, t): (At<String>, &DeTable<'t>)| {
        let header = format!("{called}.point.{}", id.value);
        let mut f = Fields::new(reader, &keys::FACE_PHOTO_POINT, &header, t);
        let span = f.reader.span(id.at);
        f.need("pixel", span);
        let (at, pixel) = (f.quantities("at"), f.numbers("pixel"));
        let reader = &mut *f.reader;
        PhotoPoint { at_mm: place(reader, "at", at), pixel: pair(reader, "pixel", pixel), id }
    };
    let points = points.into_iter().map(&mut read).collect();
    FacePhoto { at, size_px, distortion, click_px, points }
}

/// What in a face contradicts itself: names twice, names that stand for nothing, readings of nothing.
fn check(reader: &mut Reader<'_>, face: &Face, spoiled: &[bool]) {
    let points: Vec<&At<String>> =
        face.holes.iter().chain(&face.terminals).chain(&face.corners).map(|p| &p.id).collect();
    for (i, id) in points.iter().enumerate() {
        if points[..i].iter().any(|earlier| earlier.value == id.value) {
            let message = format!("a point of the face is named `{}` twice", brief(&id.value));
            reader.error_at(id.at, message, Some("give each its own name".to_owned()));
        }
    }
    if face.file.is_some() && !(points.is_empty() && face.readings.is_empty()) {
        let at = face.file.as_ref().map_or(face.at, |f| f.at);
        let hint = "write either `file` or the tables of the face".to_owned();
        reader.error_at(
            at,
            "the face is given twice, here and in its file".to_owned(),
            Some(hint),
        );
    }
    let names: Vec<&str> = points.iter().map(|p| p.value.as_str()).collect();
    for axis in [&face.origin, &face.x_axis].into_iter().flatten() {
        known(reader, axis, "point of the face", &names);
    }
    if let (Some(origin), Some(axis)) = (&face.origin, &face.x_axis)
        && origin.value == axis.value
    {
        let message = "the point on the x axis is the origin itself".to_owned();
        reader.error_at(axis.at, message, None);
    }
    for (reading, spoiled) in face.readings.iter().zip(spoiled) {
        if let Err(wrong) = reading.of()
            && !spoiled
        {
            reader.error_at(reading.at, format!("the reading {wrong}"), None);
        }
        let names = reading.names();
        for (i, (name, is_edge)) in names.iter().enumerate() {
            if *is_edge {
                let edges: Vec<&str> = face.edges.iter().map(|e| e.id.value.as_str()).collect();
                known(reader, name, "edge", &edges);
            } else if names[..i].iter().any(|(n, _)| n.value == name.value) {
                let message = format!("the reading names `{}` twice", brief(&name.value));
                reader.error_at(name.at, message, None);
            } else if face.dxf.is_none() && face.svg.is_none() {
                let points: Vec<&str> = points.iter().map(|p| p.value.as_str()).collect();
                known(reader, name, "point of the face", &points);
            }
        }
    }
    for outline in [&face.opening, &face.outline].into_iter().flatten() {
        check_outline(reader, face, outline, &points);
    }
}

fn check_outline(
    reader: &mut Reader<'_>,
    face: &Face,
    outline: &FaceOutline,
    points: &[&At<String>],
) {
    let names: Vec<&str> = points.iter().map(|p| p.value.as_str()).collect();
    let all = outline.points.iter().map(|(p, _)| p).chain(&outline.centre);
    for point in all {
        if let OutlinePoint::Named(name) = &point.value
            && face.dxf.is_none()
            && face.svg.is_none()
        {
            known(
                reader,
                &At { value: name.clone(), at: point.at },
                "point of the face",
                &names,
            );
        }
    }
    let passing: Vec<Passing> = outline.points.iter().map(|(_, p)| *p).collect();
    let next = |i: usize| passing[(i + 1) % passing.len()];
    let twice = (0..passing.len())
        .find(|i| passing[*i] == Passing::Through && next(*i) == Passing::Through);
    let wrong = if outline.centre.is_some() && !passing.is_empty() {
        "is a circle or has points, not both"
    } else if let Some(i) = twice {
        let at = outline.points[i].0.at;
        let message = "an arc passes through one point between two corners".to_owned();
        return reader.error_at(at, message, Some("add a corner between the two".to_owned()));
    } else if outline.radius_mm.is_some() && passing.contains(&Passing::Through) {
        "has arcs, so `radius` cannot round its corners"
    } else if outline.centre.is_none() && passing.len() < 3 {
        "needs three points, or a centre and a diameter"
    } else {
        return;
    };
    reader.error_at(outline.at, format!("the outline {wrong}"), None);
}

fn known(reader: &mut Reader<'_>, name: &At<String>, what: &str, names: &[&str]) {
    if names.contains(&name.value.as_str()) {
        return;
    }
    let message = format!("there is no {what} `{}`", brief(&name.value));
    let near = nearest(&name.value, names.iter().copied());
    reader.error_at(name.at, message, near.map(|near| format!("did you mean \"{near}\"?")));
}
