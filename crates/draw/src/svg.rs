//! A small writer of SVG: shapes and text in millimetres on paper, escaped, same bytes for the same
//! drawing.
//!
//! One user unit is one millimetre, so a drawing printed at its own size is to the scale it states. The
//! writer knows no arcs and no patterns: curves are polygons and hatching is lines, which every viewer and
//! printer draws alike.

use std::fmt::Write as _;

/// A place on the sheet, mm from its upper left corner, y downwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// mm to the right.
    pub x: f64,
    /// mm downwards.
    pub y: f64,
}

/// Shorthand for a place on the sheet.
pub fn at(x: f64, y: f64) -> Place {
    Place { x, y }
}

/// The family that the book ships; a browser without it falls back.
pub const FAMILY: &str = "IBM Plex Sans, sans-serif";
/// Lines and letters.
pub const INK: &str = "#1c2126";
/// Dimension and leader lines, small print.
pub const GREY: &str = "#5b646e";
/// Grid lines and quiet fills.
pub const PALE: &str = "#dfe3e8";
/// High-voltage cable; about half black in grey print.
pub const ORANGE: &str = "#d9640f";
/// What goes against the maker.
pub const RED: &str = "#b3261e";
/// The paper.
pub const PAPER: &str = "#ffffff";

/// A line: colour, width in mm, and the dash pattern if it is not solid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// A colour of this module.
    pub colour: &'static str,
    /// mm.
    pub width: f64,
    /// Lengths of dash and gap in mm.
    pub dash: Option<(f64, f64)>,
}

/// Outlines of parts.
pub const OUTLINE: Pen = Pen { colour: INK, width: 0.35, dash: None };
/// Hatching, dimension and leader lines.
pub const FINE: Pen = Pen { colour: GREY, width: 0.18, dash: None };
/// Centre lines.
pub const CENTRE: Pen = Pen { colour: GREY, width: 0.18, dash: Some((3.0, 1.0)) };
/// Hidden edges and limits.
pub const DASHED: Pen = Pen { colour: INK, width: 0.25, dash: Some((1.6, 1.0)) };

/// Where a text stands about its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The text starts there.
    Start,
    /// The text is centred there.
    Middle,
    /// The text ends there.
    End,
}

/// How a text is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Type {
    /// Height of the letters' body, mm.
    pub size: f64,
    /// Semi-bold instead of regular.
    pub heavy: bool,
    /// A colour of this module.
    pub colour: &'static str,
    /// About its place.
    pub anchor: Anchor,
}

/// The usual small print of a drawing.
pub const SMALL: Type = Type { size: 2.5, heavy: false, colour: INK, anchor: Anchor::Start };

impl Type {
    /// The same, semi-bold.
    pub const fn heavy(self) -> Type {
        Type { heavy: true, ..self }
    }
    /// The same, centred.
    pub const fn middle(self) -> Type {
        Type { anchor: Anchor::Middle, ..self }
    }
    /// The same, ending at its place.
    pub const fn end(self) -> Type {
        Type { anchor: Anchor::End, ..self }
    }
    /// The same in another colour.
    pub const fn in_colour(self, colour: &'static str) -> Type {
        Type { colour, ..self }
    }
    /// The same in another size (mm).
    pub const fn of_size(self, size: f64) -> Type {
        Type { size, ..self }
    }
}

/// A finished drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// The SVG text.
    pub svg: String,
    /// Width at the stated scale.
    pub width_mm: f64,
    /// Height at the stated scale.
    pub height_mm: f64,
}

/// A drawing under way.
#[derive(Clone, Debug)]
pub struct Sheet {
    width_mm: f64,
    height_mm: f64,
    body: String,
}

impl Sheet {
    /// An empty sheet of this size.
    pub fn new(width_mm: f64, height_mm: f64) -> Sheet {
        assert!(width_mm > 0.0 && height_mm > 0.0, "a sheet has a size");
        Sheet { width_mm, height_mm, body: String::new() }
    }

    /// A straight line.
    pub fn line(&mut self, from: Place, to: Place, pen: Pen) {
        let (x1, y1, x2, y2) = (mm(from.x), mm(from.y), mm(to.x), mm(to.y));
        let stroke = stroke(Some(pen));
        self.put(&format!("<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"{stroke}/>"));
    }

    /// An open line through several places.
    pub fn polyline(&mut self, places: &[Place], pen: Pen) {
        let stroke = stroke(Some(pen));
        self.put(&format!("<polyline points=\"{}\" fill=\"none\"{stroke}/>", points(places)));
    }

    /// A closed shape.
    pub fn polygon(&mut self, places: &[Place], fill: Option<&str>, pen: Option<Pen>) {
        let (fill, stroke) = (fill.unwrap_or("none"), stroke(pen));
        self.put(&format!("<polygon points=\"{}\" fill=\"{fill}\"{stroke}/>", points(places)));
    }

    /// An upright rectangle given by two opposite corners.
    pub fn rect(&mut self, a: Place, b: Place, fill: Option<&str>, pen: Option<Pen>) {
        let (fill, stroke) = (fill.unwrap_or("none"), stroke(pen));
        let (x, y) = (mm(a.x.min(b.x)), mm(a.y.min(b.y)));
        let (w, h) = (mm((a.x - b.x).abs()), mm((a.y - b.y).abs()));
        self.put(&format!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" fill=\"{fill}\"{stroke}/>"
        ));
    }

    /// A circle.
    pub fn circle(&mut self, centre: Place, radius: f64, fill: Option<&str>, pen: Option<Pen>) {
        let (fill, stroke) = (fill.unwrap_or("none"), stroke(pen));
        let (x, y, r) = (mm(centre.x), mm(centre.y), mm(radius));
        self.put(&format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" fill=\"{fill}\"{stroke}/>"));
    }

    /// One line of text; `place` is on its base line.
    pub fn text(&mut self, place: Place, text: &str, kind: Type) {
        self.put(&format!(
            "<text x=\"{}\" y=\"{}\"{}",
            mm(place.x),
            mm(place.y),
            set(kind, text)
        ));
    }

    /// One line of text that reads upwards.
    pub fn text_upwards(&mut self, place: Place, text: &str, kind: Type) {
        let (x, y) = (mm(place.x), mm(place.y));
        self.put(&format!(
            "<text transform=\"translate({x} {y}) rotate(-90)\"{}",
            set(kind, text)
        ));
    }

    /// The finished drawing.
    pub fn finish(self) -> Drawing {
        let (w, h) = (mm(self.width_mm), mm(self.height_mm));
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" \
             viewBox=\"0 0 {w} {h}\" font-family=\"{FAMILY}\">\n{}</svg>\n",
            self.body
        );
        Drawing { svg, width_mm: self.width_mm, height_mm: self.height_mm }
    }

    fn put(&mut self, element: &str) {
        self.body.push_str(element);
        self.body.push('\n');
    }
}

fn set(kind: Type, text: &str) -> String {
    let anchor = match kind.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let weight = if kind.heavy { " font-weight=\"600\"" } else { "" };
    format!(
        " font-size=\"{}\"{weight} fill=\"{}\" text-anchor=\"{anchor}\">{}</text>",
        mm(kind.size),
        kind.colour,
        escape(text)
    )
}

fn stroke(pen: Option<Pen>) -> String {
    let Some(pen) = pen else { return String::new() };
    let mut text = format!(
        " stroke=\"{}\" stroke-width=\"{}\" stroke-linejoin=\"round\"",
        pen.colour,
        mm(pen.width)
    );
    if let Some((dash, gap)) = pen.dash {
        let _ = write!(text, " stroke-dasharray=\"{} {}\"", mm(dash), mm(gap));
    }
    text
}

fn points(places: &[Place]) -> String {
    let each: Vec<String> = places.iter().map(|p| format!("{},{}", mm(p.x), mm(p.y))).collect();
    each.join(" ")
}

/// A length with as many decimals as a printer can show.
///
/// A number that is not finite is a bug of the drawing, and would make the whole sheet unreadable.
fn mm(value: f64) -> String {
    assert!(value.is_finite(), "a drawing has finite lengths");
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Text as XML wants it; control characters, which XML forbids, become spaces.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => out.push(' '),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_cannot_leave_its_element() {
        let mut sheet = Sheet::new(10.0, 10.0);
        sheet.text(at(1.0, 1.0), "</text><script>\"&'\u{0}", SMALL);
        let svg = sheet.finish().svg;
        assert!(svg.contains("&lt;/text&gt;&lt;script&gt;&quot;&amp;' </text>"), "{svg}");
        assert_eq!(svg.matches("<text").count(), 1);
    }

    #[test]
    fn numbers_are_short_and_never_minus_zero() {
        assert_eq!(mm(-0.0001), "0");
        assert_eq!(mm(1.25), "1.25");
        assert_eq!(mm(100.0), "100");
    }
}
