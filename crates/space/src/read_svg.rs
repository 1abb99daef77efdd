//! Reads the drawing of a face from an SVG text: paths of lines and arcs, circles, rectangles, polygons.
//!
//! The unit follows from `width` and `viewBox` of the outermost element: a width of "120mm" over a box 120
//! wide makes a user unit a millimetre. A width without unit is in pixels of 1/96 inch. y runs down in SVG
//! and up here. Groups may shift, turn, mirror and scale evenly; definitions, symbols and text are skipped.
//!
//! Range    path commands M L H V A Z, absolute and relative; arcs of circles; at most 5000 pieces.
//! Source   W3C, Scalable Vector Graphics 1.1 and 2, paths and coordinate systems (memory).
//! Caveat   curves (C S Q T) and ellipses are refused rather than bent: a sealing face has none.

use crate::drawing::{Drawing, Fault, Sketch};

/// How deep groups may lie in each other.
const DEPTH_MAX: usize = 100;

/// Elements whose insides are not part of the picture.
const SKIPPED: &[&str] = &[
    "defs", "symbol", "clipPath", "mask", "marker", "pattern", "text", "style", "title",
    "desc", "metadata",
];

/// Reads a text.
pub fn read(text: &str) -> Result<Drawing, Fault> {
    let mut sketch = Sketch::default();
    let mut stack: Vec<Level<'_>> = Vec::new();
    let mut sheet: Option<Sheet> = None;
    let mut at = 0;
    while let Some(tag) = next_tag(text, &mut at)? {
        if tag.closes {
            if stack.last().is_some_and(|l| l.name == tag.name) {
                stack.pop();
            }
            continue;
        }
        let above = stack.last().map_or(Level::top(), |l| *l);
        let skipped = above.skipped || SKIPPED.contains(&tag.name);
        if sheet.is_none() {
            if tag.name != "svg" {
                return Err(Fault::new(
                    tag.at,
                    "this is no SVG: it does not begin with an svg element",
                ));
            }
            sheet = Some(Sheet::of(&tag)?);
        }
        let mut way = above.way;
        if let Some(text) = tag.attribute("transform")
            && !skipped
        {
            way = way.then(&Way::read(text, tag.at)?);
        }
        if !skipped {
            if sketch.full() {
                return Err(Fault::new(tag.at, "the drawing has more than 5000 pieces"));
            }
            element(&tag, &way, &mut sketch)?;
        }
        if !tag.empty {
            if stack.len() >= DEPTH_MAX {
                return Err(Fault::new(tag.at, "groups lie in each other more than 100 deep"));
            }
            stack.push(Level { name: tag.name, way, skipped });
        }
    }
    let Some(sheet) = sheet else {
        return Err(Fault::new(0, "this is no SVG: there is nothing in it"));
    };
    Ok(sketch.finish(sheet.scale, Some(sheet.bottom), sheet.stated))
}

/// An open element.
#[derive(Clone, Copy, Debug)]
struct Level<'t> {
    name: &'t str,
    way: Way,
    skipped: bool,
}

impl Level<'_> {
    fn top() -> Self {
        Level {
            name: "",
            way: Way { a: 1.0, b: 0.0, mirrored: false, x: 0.0, y: 0.0 },
            skipped: false,
        }
    }
}

/// What the outermost element says of unit and size.
struct Sheet {
    scale: f64,
    bottom: f64,
    stated: bool,
}

impl Sheet {
    fn of(tag: &Tag<'_>) -> Result<Sheet, Fault> {
        let view = match tag.attribute("viewBox") {
            Some(text) => {
                let list = numbers(text, tag.at)?;
                match list.as_slice() {
                    [_, y, w, h] if *w > 0.0 && *h > 0.0 => Some((*y, *w, *h)),
                    _ => {
                        return Err(Fault::new(
                            tag.at,
                            "viewBox has four numbers, the last two above zero",
                        ));
                    }
                }
            }
            None => None,
        };
        let width = match tag.attribute("width").filter(|w| !w.trim().ends_with('%')) {
            Some(text) => Some(length_mm(text, tag.at)?),
            None => None,
        };
        let height = match tag.attribute("height").filter(|w| !w.trim().ends_with('%')) {
            Some(text) => Some(length_mm(text, tag.at)?.0),
            None => None,
        };
        const PIXEL_MM: f64 = 25.4 / 96.0;
        Ok(match (view, width) {
            (Some((y, w, h)), Some((mm, stated))) if mm > 0.0 => {
                Sheet { scale: mm / w, bottom: y + h, stated }
            }
            (Some((y, _, h)), _) => Sheet { scale: 1.0, bottom: y + h, stated: false },
            (None, _) => {
                let bottom = height.map_or(0.0, |mm| mm / PIXEL_MM);
                Sheet { scale: PIXEL_MM, bottom, stated: width.is_some() }
            }
        })
    }
}

/// A length with its unit in mm, and whether it has one.
fn length_mm(text: &str, at: usize) -> Result<(f64, bool), Fault> {
    let text = text.trim();
    let units = [
        ("mm", 1.0),
        ("cm", 10.0),
        ("in", 25.4),
        ("pt", 25.4 / 72.0),
        ("pc", 25.4 / 6.0),
        ("px", 25.4 / 96.0),
    ];
    let found = units.iter().find_map(|(unit, mm)| text.strip_suffix(unit).map(|n| (n, *mm)));
    let (digits, mm) = found.unwrap_or((text, 25.4 / 96.0));
    let stated = found.is_some() && !text.ends_with("px");
    match digits.trim().parse::<f64>() {
        Ok(n) if n.abs() < 1e7 => Ok((n * mm, stated)),
        _ => Err(Fault::new(at, "width and height are lengths, such as 120mm")),
    }
}

/// A shift, turn, even scale and perhaps a mirroring: (x, y) to (a x - b y, b x + a y) + (x0, y0), y turned
/// over first where mirrored.
#[derive(Clone, Copy, Debug)]
struct Way {
    a: f64,
    b: f64,
    mirrored: bool,
    x: f64,
    y: f64,
}

impl Way {
    fn place(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let y = if self.mirrored { -y } else { y };
        [self.a * x - self.b * y + self.x, self.b * x + self.a * y + self.y]
    }

    fn scale(&self) -> f64 {
        (self.a * self.a + self.b * self.b).sqrt()
    }

    fn hand(&self) -> f64 {
        if self.mirrored { -1.0 } else { 1.0 }
    }

    /// This one after an inner one.
    fn then(&self, inner: &Way) -> Way {
        let [x, y] = self.place([inner.x, inner.y]);
        let b = if self.mirrored { -inner.b } else { inner.b };
        Way {
            a: self.a * inner.a - self.b * b,
            b: self.b * inner.a + self.a * b,
            mirrored: self.mirrored != inner.mirrored,
            x,
            y,
        }
    }

    /// From the six numbers of a matrix.
    fn matrix([a, b, c, d, x, y]: [f64; 6], at: usize) -> Result<Way, Fault> {
        let near = |p: f64, q: f64| (p - q).abs() <= 1e-6 * (a * a + b * b).sqrt();
        if near(a, d) && near(b, -c) {
            Ok(Way { a, b, mirrored: false, x, y })
        } else if near(a, -d) && near(b, c) {
            Ok(Way { a, b, mirrored: true, x, y })
        } else {
            Err(Fault::new(at, "a transform scales unevenly or shears: circles would be none"))
        }
    }

    fn read(text: &str, at: usize) -> Result<Way, Fault> {
        let mut way = Level::top().way;
        for part in text.split(')').map(|p| p.trim_matches([' ', ',', '\n', '\t', '\r'])) {
            if part.is_empty() {
                continue;
            }
            let unknown =
                || Fault::new(at, "a transform is translate, rotate, scale or matrix");
            let (name, inside) = part.split_once('(').ok_or_else(unknown)?;
            let list = numbers(inside, at)?;
            let turn = |degrees: f64| {
                let angle = degrees.to_radians();
                (libm::cos(angle), libm::sin(angle))
            };
            let one = match (name.trim(), list.as_slice()) {
                ("translate", [x]) => [1.0, 0.0, 0.0, 1.0, *x, 0.0],
                ("translate", [x, y]) => [1.0, 0.0, 0.0, 1.0, *x, *y],
                ("scale", [s]) => [*s, 0.0, 0.0, *s, 0.0, 0.0],
                ("scale", [s, t]) => [*s, 0.0, 0.0, *t, 0.0, 0.0],
                ("rotate", [angle]) => {
                    let (c, s) = turn(*angle);
                    [c, s, -s, c, 0.0, 0.0]
                }
                ("rotate", [angle, x, y]) => {
                    let (c, s) = turn(*angle);
                    [c, s, -s, c, x - c * x + s * y, y - s * x - c * y]
                }
                ("matrix", [a, b, c, d, x, y]) => [*a, *b, *c, *d, *x, *y],
                _ => return Err(unknown()),
            };
            way = way.then(&Way::matrix(one, at)?);
        }
        Ok(way)
    }
}

/// A tag of the text.
struct Tag<'t> {
    name: &'t str,
    inside: &'t str,
    at: usize,
    closes: bool,
    empty: bool,
}

impl<'t> Tag<'t> {
    /// The value of an attribute, without its quotes.
    fn attribute(&self, wanted: &str) -> Option<&'t str> {
        let mut rest = self.inside;
        loop {
            let (name, after) = rest.split_once('=')?;
            let after = after.trim_start();
            let quote = after.chars().next().filter(|c| *c == '"' || *c == '\'')?;
            let (value, left) = after[1..].split_once(quote)?;
            if name.trim() == wanted {
                return Some(value);
            }
            rest = left;
        }
    }

    fn number(&self, name: &str) -> Result<Option<f64>, Fault> {
        let Some(text) = self.attribute(name) else { return Ok(None) };
        let digits = text.trim().trim_end_matches("px");
        match digits.parse::<f64>() {
            Ok(n) if n.abs() < 1e7 => Ok(Some(n)),
            _ => Err(Fault::new(
                self.at,
                format!("`{name}` of this {} is no plain number", shown(self.name)),
            )),
        }
    }

    fn length(&self, name: &str) -> Result<f64, Fault> {
        Ok(self.number(name)?.unwrap_or(0.0))
    }
}

/// A name short enough for a message.
fn shown(name: &str) -> String {
    name.chars().filter(|c| !c.is_control()).take(30).collect()
}

/// The next tag, past comments, declarations and what stands between tags.
fn next_tag<'t>(text: &'t str, at: &mut usize) -> Result<Option<Tag<'t>>, Fault> {
    loop {
        let Some(start) = text[*at..].find('<').map(|i| *at + i) else { return Ok(None) };
        let rest = &text[start..];
        for (open, close) in [("<!--", "-->"), ("<![CDATA[", "]]>"), ("<?", "?>")] {
            if rest.starts_with(open) {
                let Some(end) = rest.find(close) else {
                    return Err(Fault::new(start, "what begins here does not end"));
                };
                *at = start + end + close.len();
            }
        }
        if *at > start {
            continue;
        }
        let mut quote = None;
        let end = rest.char_indices().find(|(_, c)| match quote {
            Some(q) => {
                if *c == q {
                    quote = None;
                }
                false
            }
            None if *c == '"' || *c == '\'' => {
                quote = Some(*c);
                false
            }
            None => *c == '>',
        });
        let Some((end, _)) = end else {
            return Err(Fault::new(start, "this tag does not end"));
        };
        *at = start + end + 1;
        let body = &rest[1..end];
        if body.starts_with('!') {
            continue;
        }
        let closes = body.starts_with('/');
        let empty = body.ends_with('/');
        let body = body.trim_start_matches('/').trim_end_matches('/');
        let name = body.split(char::is_whitespace).next().unwrap_or("");
        let inside = &body[name.len()..];
        let name = name.rsplit(':').next().unwrap_or(name);
        return Ok(Some(Tag { name, inside, at: start, closes, empty }));
    }
}

fn element(tag: &Tag<'_>, way: &Way, sketch: &mut Sketch) -> Result<(), Fault> {
    match tag.name {
        "svg" | "g" | "a" | "switch" => {}
        "circle" => {
            let centre = [tag.length("cx")?, tag.length("cy")?];
            sketch.circle(way.place(centre), way.scale() * tag.length("r")?.abs());
        }
        "line" => {
            let from = way.place([tag.length("x1")?, tag.length("y1")?]);
            sketch.piece(from, way.place([tag.length("x2")?, tag.length("y2")?]), 0.0);
        }
        "rect" => rectangle(tag, way, sketch)?,
        "polygon" | "polyline" => {
            let list = numbers(tag.attribute("points").unwrap_or(""), tag.at)?;
            let corners: Vec<([f64; 2], f64)> =
                list.chunks_exact(2).map(|p| (way.place([p[0], p[1]]), 0.0)).collect();
            if corners.len() > 1 {
                sketch.run(&corners, tag.name == "polygon");
            }
        }
        "path" => path(tag, way, sketch)?,
        other => sketch.unread(&shown(other)),
    }
    Ok(())
}

fn rectangle(tag: &Tag<'_>, way: &Way, sketch: &mut Sketch) -> Result<(), Fault> {
    let (x, y) = (tag.length("x")?, tag.length("y")?);
    let (w, h) = (tag.length("width")?, tag.length("height")?);
    if !(w > 0.0 && h > 0.0) {
        return Ok(());
    }
    let (rx, ry) = (tag.number("rx")?, tag.number("ry")?);
    if let (Some(rx), Some(ry)) = (rx, ry)
        && (rx - ry).abs() > 1e-9
    {
        return Err(Fault::new(tag.at, "the corners of this rect are elliptic"));
    }
    let r = rx.or(ry).unwrap_or(0.0).clamp(0.0, w.min(h) / 2.0);
    let quarter = way.hand() * libm::tan(std::f64::consts::PI / 8.0);
    let corners: Vec<([f64; 2], f64)> = if r > 0.0 {
        [
            ([x + r, y], 0.0),
            ([x + w - r, y], quarter),
            ([x + w, y + r], 0.0),
            ([x + w, y + h - r], quarter),
            ([x + w - r, y + h], 0.0),
            ([x + r, y + h], quarter),
            ([x, y + h - r], 0.0),
            ([x, y + r], quarter),
        ]
        .map(|(p, bulge)| (way.place(p), bulge))
        .to_vec()
    } else {
        [[x, y], [x + w, y], [x + w, y + h], [x, y + h]].map(|p| (way.place(p), 0.0)).to_vec()
    };
    sketch.run(&corners, true);
    Ok(())
}

/// Reads numbers and flags one after the other.
struct Scan<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Scan<'t> {
    fn skip(&mut self) {
        let rest = &self.text[self.at..];
        self.at +=
            rest.len() - rest.trim_start_matches([' ', ',', '\n', '\t', '\r', '\u{c}']).len();
    }

    fn command(&mut self) -> Option<char> {
        self.skip();
        let c = self.text[self.at..].chars().next()?;
        if c.is_ascii_alphabetic() {
            self.at += 1;
            return Some(c);
        }
        None
    }

    fn ended(&mut self) -> bool {
        self.skip();
        self.at >= self.text.len()
    }

    fn number(&mut self) -> Option<f64> {
        self.skip();
        let rest = &self.text.as_bytes()[self.at..];
        let mut end = usize::from(matches!(rest.first(), Some(b'+' | b'-')));
        let mut point = false;
        while let Some(c) = rest.get(end) {
            match c {
                b'0'..=b'9' => {}
                b'.' if !point => point = true,
                _ => break,
            }
            end += 1;
        }
        if matches!(rest.get(end), Some(b'e' | b'E')) {
            let sign = usize::from(matches!(rest.get(end + 1), Some(b'+' | b'-')));
            let digits =
                rest[end + 1 + sign..].iter().take_while(|c| c.is_ascii_digit()).count();
            if digits > 0 {
                end += 1 + sign + digits;
            }
        }
        let value = self.text[self.at..self.at + end].parse::<f64>().ok()?;
        self.at += end;
        (value.abs() < 1e7).then_some(value)
    }

    fn flag(&mut self) -> Option<bool> {
        self.skip();
        let flag = match self.text.as_bytes().get(self.at)? {
            b'0' => false,
            b'1' => true,
            _ => return None,
        };
        self.at += 1;
        Some(flag)
    }
}

fn numbers(text: &str, at: usize) -> Result<Vec<f64>, Fault> {
    let mut scan = Scan { text, at: 0 };
    let mut list = Vec::new();
    while !scan.ended() {
        let Some(number) = scan.number() else {
            return Err(Fault::new(
                at,
                "this element has something else where numbers are due",
            ));
        };
        list.push(number);
        if list.len() > 20_000 {
            return Err(Fault::new(at, "this element has more than 20000 numbers"));
        }
    }
    Ok(list)
}

fn path(tag: &Tag<'_>, way: &Way, sketch: &mut Sketch) -> Result<(), Fault> {
    let mut scan = Scan { text: tag.attribute("d").unwrap_or(""), at: 0 };
    let wrong = |what: &str| Fault::new(tag.at, format!("this path {what}"));
    let mut run: Vec<([f64; 2], f64)> = Vec::new();
    let (mut here, mut begin) = ([0.0, 0.0], [0.0, 0.0]);
    let mut command = None;
    while !scan.ended() {
        if sketch.full() || run.len() > 5000 {
            return Err(wrong("has more than 5000 pieces"));
        }
        let fresh = scan.command();
        command = fresh.or(match command {
            // What follows a move without a letter is a line.
            Some('M') => Some('L'),
            Some('m') => Some('l'),
            other => other,
        });
        let Some(c) = command else { return Err(wrong("does not begin with M")) };
        let base = if c.is_ascii_lowercase() { here } else { [0.0, 0.0] };
        let mut number = || scan.number().ok_or_else(|| wrong("lacks a number"));
        match c.to_ascii_uppercase() {
            'M' => {
                put(sketch, way, &mut run, false);
                here = [base[0] + number()?, base[1] + number()?];
                begin = here;
                run.push((here, 0.0));
                continue;
            }
            'Z' => {
                if fresh.is_none() {
                    return Err(wrong("has numbers after Z"));
                }
                put(sketch, way, &mut run, true);
                here = begin;
                continue;
            }
            'L' => here = [base[0] + number()?, base[1] + number()?],
            'H' => here = [base[0] + number()?, here[1]],
            'V' => here = [here[0], base[1] + number()?],
            'A' => {
                let (rx, ry) = (number()?.abs(), number()?.abs());
                number()?;
                let flags = (scan.flag(), scan.flag());
                let (Some(large), Some(sweep)) = flags else {
                    return Err(wrong("lacks a flag of an arc"));
                };
                let mut number = || scan.number().ok_or_else(|| wrong("lacks a number"));
                let to = [base[0] + number()?, base[1] + number()?];
                if (rx - ry).abs() > 1e-6 * rx.max(ry) {
                    return Err(wrong("has an arc of an ellipse"));
                }
                if let Some(last) = run.last_mut() {
                    last.1 = bulge(here, to, rx, [large, sweep]);
                }
                here = to;
            }
            'C' | 'S' | 'Q' | 'T' => {
                return Err(wrong("has curves that are no arcs: draw it with lines and arcs"));
            }
            _ => return Err(wrong("has a command that is none of M L H V A Z")),
        }
        if run.is_empty() {
            run.push((begin, 0.0));
        }
        run.push((here, 0.0));
    }
    put(sketch, way, &mut run, false);
    Ok(())
}

/// Hands a run of corners over; one that comes back to its start closes without Z too.
fn put(sketch: &mut Sketch, way: &Way, run: &mut Vec<([f64; 2], f64)>, closed: bool) {
    let mut corners: Vec<([f64; 2], f64)> =
        run.drain(..).map(|(p, bulge)| (way.place(p), way.hand() * bulge)).collect();
    let (Some(first), Some(last)) = (corners.first(), corners.last()) else { return };
    let gap = (first.0[0] - last.0[0]).abs() + (first.0[1] - last.0[1]).abs();
    let back = corners.len() > 2 && gap < 1e-6;
    if back {
        corners.pop();
    }
    if corners.len() > 1 {
        sketch.run(&corners, closed || back);
    }
}

/// Bulge of an arc given the SVG way: radius and which of the four.
fn bulge(from: [f64; 2], to: [f64; 2], radius: f64, [large, sweep]: [bool; 2]) -> f64 {
    let d = [to[0] - from[0], to[1] - from[1]];
    let chord = (d[0] * d[0] + d[1] * d[1]).sqrt();
    if !(radius > 0.0 && chord > 0.0) {
        return 0.0;
    }
    let half = libm::asin((chord / (2.0 * radius)).min(1.0));
    let angle = if large { std::f64::consts::TAU - 2.0 * half } else { 2.0 * half };
    let size = libm::tan(angle / 4.0);
    if sweep { size } else { -size }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const FACE: &str = r#"<?xml version="1.0"?><!-- a face -->
        <svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 240 160">
        <defs><circle cx="9" cy="9" r="9"/></defs>
        <g transform="translate(20,10)">
          <rect x="0" y="0" width="200" height="140" rx="20" style="fill:none"/>
          <path d="M40 40h80a30 30 0 0 1 0 60H40z"/>
          <circle cx="10" cy="10" r="6.6"/>
          <path d="M 60 70 a 5 5 0 1 0 10 0 a 5 5 0 1 0 -10 0"/>
        </g>
        <text x="3">abc</text><ellipse rx="1" ry="2"/></svg>"#;

    #[test]
    fn paths_circles_and_rectangles_are_read_in_millimetres_with_y_up() {
        let drawing = read(FACE).expect("a drawing");
        assert!(drawing.unit_stated && drawing.open == 0);
        assert_eq!(drawing.unread, ["ellipse"]);
        let areas: Vec<f64> = drawing.loops.iter().map(|l| l.area_mm2()).collect();
        let quarter = std::f64::consts::PI * 100.0;
        assert!((areas[0] - (7000.0 - 400.0 + quarter)).abs() < 1e-9, "{areas:?}");
        assert!((areas[1] - (1200.0 + std::f64::consts::PI * 112.5)).abs() < 1e-9, "{areas:?}");
        let [hole, two] = drawing.circles.as_slice() else { panic!("{:?}", drawing.circles) };
        assert!((hole.x_mm - 15.0).abs() < 1e-12 && (hole.y_mm - 70.0).abs() < 1e-12);
        assert!((hole.diameter_mm - 6.6).abs() < 1e-12);
        assert!((two.x_mm - 42.5).abs() < 1e-9 && (two.diameter_mm - 5.0).abs() < 1e-9);
    }

    #[test]
    fn transforms_turn_mirror_and_scale() {
        let text = r#"<svg viewBox="0 0 10 10"><g transform="matrix(0 2 2 0 1 1)">
            <path transform="rotate(90 1 1) scale(-1,1)" d="M0 0L4 0A2 2 0 0 1 0 0Z"/></g></svg>"#;
        let drawing = read(text).expect("a drawing");
        assert!((drawing.loops[0].area_mm2() - 8.0 * std::f64::consts::PI).abs() < 1e-9);
        assert!(!drawing.unit_stated);
        // An odd number of mirrorings keeps an arc on its side: the half disc reaches where its point goes.
        let uneven = r#"<svg><g transform="scale(1,2)"/></svg>"#;
        assert!(read(uneven).expect_err("uneven").message.contains("unevenly"));
    }

    #[test]
    fn what_is_no_line_or_arc_is_refused_with_its_place() {
        for (d, word) in [
            ("M0 0C1 1 2 2 3 3", "curves"),
            ("M0 0A1 2 0 0 0 3 3", "ellipse"),
            ("M0", "number"),
            ("5 5", "begin"),
        ] {
            let text = format!("<svg><path d=\"{d}\"/></svg>");
            let fault = read(&text).expect_err(d);
            assert!(fault.message.contains(word) && fault.at == 5, "{fault:?}");
        }
        assert!(read("hello").is_err() && read("<html/>").is_err() && read("<svg").is_err());
    }

    proptest! {
        #[test]
        fn any_text_is_answered(text in any::<String>()) {
            let _ = read(&text);
            let _ = read(&format!("<svg>{text}"));
        }

        #[test]
        fn any_path_is_answered(d in "[MmLlHhVvAaZzC0-9 .,eE+-]{0,60}", transform in "[a-z(), 0-9.-]{0,30}") {
            let _ = read(&format!("<svg><path d='{d}'/></svg>"));
            let _ = read(&format!("<svg><path transform='{transform}' d='M0 0H{d}'/></svg>"));
        }

        #[test]
        fn any_piece_of_a_drawing_is_answered(from in 0usize..700, to in 0usize..700) {
            let (from, to) = (from.min(FACE.len()), to.min(FACE.len()));
            let _ = read(&FACE[from.min(to)..to.max(from)]);
        }
    }
}
