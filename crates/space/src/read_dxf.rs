//! Reads the drawing of a face from a DXF text: lines, arcs, circles and polylines.
//!
//! A DXF is a list of pairs of lines, a group code and a value. Read are the entities LINE, ARC, CIRCLE,
//! LWPOLYLINE and POLYLINE of the ENTITIES section and the unit in the header; other entities are named as
//! unread, and blocks are not unfolded.
//!
//! Range    ASCII DXF; at most 5000 pieces.
//! Source   the open DXF reference, group codes of entities (memory).
//! Caveat   entities drawn from behind (extrusion along -z) are turned over, other tilts are taken as flat.

use crate::drawing::{Drawing, Fault, Sketch};

/// Reads a text.
pub fn read(text: &str) -> Result<Drawing, Fault> {
    let groups = groups(text)?;
    let mut sketch = Sketch::default();
    let mut section = "";
    let mut at = 0;
    let mut unit = None;
    while at < groups.len() {
        let group = groups[at];
        let next =
            (at + 1..groups.len()).find(|i| groups[*i].code == 0).unwrap_or(groups.len());
        match (group.code, group.value) {
            (0, "SECTION") => {
                section = groups.get(at + 1).filter(|g| g.code == 2).map_or("", |g| g.value)
            }
            (0, "ENDSEC") => section = "",
            (0, "EOF") => break,
            _ => {}
        }
        if section == "HEADER" {
            unit = unit.or(unit_of(&groups[at..next]));
        }
        if section == "ENTITIES" && group.code == 0 && group.value != "SECTION" {
            if sketch.full() {
                return Err(Fault::new(group.at, "the drawing has more than 5000 pieces"));
            }
            at += entity(&groups[at..], next - at, &mut sketch)?;
        } else {
            at = next;
        }
    }
    let scale = unit.flatten();
    Ok(sketch.finish(scale.unwrap_or(1.0), None, scale.is_some()))
}

/// A pair of lines.
#[derive(Clone, Copy, Debug)]
struct Group<'t> {
    code: i32,
    value: &'t str,
    /// Byte of the value.
    at: usize,
}

fn groups(text: &str) -> Result<Vec<Group<'_>>, Fault> {
    let mut groups = Vec::new();
    let mut offset = 0;
    let mut code: Option<i32> = None;
    for line in text.split_inclusive('\n') {
        let value = line.trim();
        let at = offset + (line.len() - line.trim_start().len());
        offset += line.len();
        match code.take() {
            None if value.is_empty() && text[offset..].trim().is_empty() => break,
            None => match value.parse::<i32>() {
                Ok(read) => code = Some(read),
                Err(_) => {
                    return Err(Fault::new(
                        at.min(text.len()),
                        "this is no DXF: a group code is a whole number",
                    ));
                }
            },
            Some(code) => groups.push(Group { code, value, at: at.min(text.len()) }),
        }
    }
    if groups.is_empty() {
        return Err(Fault::new(0, "this is no DXF: there is nothing in it"));
    }
    Ok(groups)
}

/// Millimetres in a drawing's unit, where a stretch of the header says it.
fn unit_of(groups: &[Group<'_>]) -> Option<Option<f64>> {
    let at = groups.iter().position(|g| g.code == 9 && g.value == "$INSUNITS")?;
    let unit = groups.get(at + 1).filter(|g| g.code == 70)?;
    Some(match unit.value {
        "1" => Some(25.4),
        "2" => Some(304.8),
        "4" => Some(1.0),
        "5" => Some(10.0),
        "6" => Some(1000.0),
        _ => None,
    })
}

/// The numbers of an entity by their group code.
struct Numbers<'g, 't> {
    groups: &'g [Group<'t>],
}

impl Numbers<'_, '_> {
    fn find(&self, code: i32) -> Result<Option<f64>, Fault> {
        self.groups[1..].iter().find(|g| g.code == code).map(number).transpose()
    }

    fn need(&self, code: i32) -> Result<f64, Fault> {
        let lacks = || {
            Fault::new(
                self.groups[0].at,
                format!("this {} lacks its group {code}", self.groups[0].value),
            )
        };
        self.find(code)?.ok_or_else(lacks)
    }

    /// -1 where it was drawn from behind.
    fn hand(&self) -> Result<f64, Fault> {
        Ok(if self.find(230)?.is_some_and(|z| z < 0.0) { -1.0 } else { 1.0 })
    }
}

fn number(group: &Group<'_>) -> Result<f64, Fault> {
    let wrong =
        || Fault::new(group.at, format!("group {} is no number of a drawing", group.code));
    group.value.parse::<f64>().ok().filter(|v| v.abs() < 1e7).ok_or_else(wrong)
}

/// Reads one entity; gives how many groups it took.
fn entity(groups: &[Group<'_>], length: usize, sketch: &mut Sketch) -> Result<usize, Fault> {
    let of = Numbers { groups: &groups[..length] };
    match groups[0].value {
        "LINE" => {
            sketch.piece([of.need(10)?, of.need(20)?], [of.need(11)?, of.need(21)?], 0.0);
        }
        "CIRCLE" => {
            sketch.circle([of.hand()? * of.need(10)?, of.need(20)?], of.need(40)?.abs());
        }
        "ARC" => arc(&of, sketch)?,
        "LWPOLYLINE" => {
            let hand = of.hand()?;
            let mut corners: Vec<([f64; 2], f64)> = Vec::new();
            for group in &of.groups[1..] {
                match (group.code, corners.last_mut()) {
                    (10, _) => corners.push(([hand * number(group)?, 0.0], 0.0)),
                    (20, Some(last)) => last.0[1] = number(group)?,
                    (42, Some(last)) => last.1 = hand * number(group)?,
                    _ => {}
                }
            }
            polyline(sketch, &corners, closed(&of)?);
        }
        "POLYLINE" => return old_polyline(groups, length, sketch),
        "VERTEX" | "SEQEND" | "ENDSEC" | "EOF" => {}
        other => {
            let name: String = other.chars().filter(|c| !c.is_control()).take(30).collect();
            sketch.unread(&name);
        }
    }
    Ok(length)
}

fn closed(of: &Numbers<'_, '_>) -> Result<bool, Fault> {
    // The lowest bit of the flags.
    Ok(of.find(70)?.is_some_and(|flags| flags >= 0.0 && flags % 2.0 == 1.0))
}

fn polyline(sketch: &mut Sketch, corners: &[([f64; 2], f64)], closed: bool) {
    if corners.len() > 1 {
        sketch.run(corners, closed);
    }
}

fn arc(of: &Numbers<'_, '_>, sketch: &mut Sketch) -> Result<(), Fault> {
    let hand = of.hand()?;
    let (x, y, radius) = (of.need(10)?, of.need(20)?, of.need(40)?.abs());
    let (from, to) = (of.need(50)?, of.need(51)?);
    let mut sweep = (to - from) % 360.0;
    if sweep <= 0.0 {
        sweep += 360.0;
    }
    let at = |degrees: f64| {
        let angle = degrees.to_radians();
        [hand * (x + radius * libm::cos(angle)), y + radius * libm::sin(angle)]
    };
    if sweep > 359.999_999 {
        sketch.circle([hand * x, y], radius);
    } else {
        let bulge = libm::tan(sweep.to_radians() / 4.0);
        sketch.piece(at(from), at(to), hand * bulge);
    }
    Ok(())
}

/// A polyline of older drawings: its corners are entities of their own up to SEQEND.
fn old_polyline(
    groups: &[Group<'_>],
    length: usize,
    sketch: &mut Sketch,
) -> Result<usize, Fault> {
    let head = Numbers { groups: &groups[..length] };
    let (hand, is_closed) = (head.hand()?, closed(&head)?);
    let mut corners = Vec::new();
    let mut at = length;
    while at < groups.len() && groups[at].value == "VERTEX" {
        let next =
            (at + 1..groups.len()).find(|i| groups[*i].code == 0).unwrap_or(groups.len());
        let of = Numbers { groups: &groups[at..next] };
        let bulge = of.find(42)?.unwrap_or(0.0);
        corners.push(([hand * of.need(10)?, of.need(20)?], hand * bulge));
        at = next;
    }
    polyline(sketch, &corners, is_closed);
    Ok(at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Pairs written as "code value", one a line.
    fn dxf(pairs: &str) -> String {
        let pairs = pairs.lines().map(str::trim).filter(|l| !l.is_empty());
        pairs.map(|l| l.replacen(' ', "\n", 1) + "\n").collect()
    }

    const FACE: &str = "0 SECTION\n2 HEADER\n9 $INSUNITS\n70 1\n0 ENDSEC\n0 SECTION\n2 ENTITIES
        0 CIRCLE\n8 0\n10 1\n20 2\n40 0.13\n
        0 LINE\n10 0\n20 0\n11 4\n21 0\n
        0 ARC\n10 4\n20 1\n40 1\n50 270\n51 90\n
        0 LINE\n10 0\n20 2\n11 4\n21 2\n
        0 LINE\n10 0\n20 2\n11 0\n21 0\n
        0 SPLINE\n8 0\n0 LINE\n10 9\n20 9\n11 10\n21 9\n0 ENDSEC\n0 EOF";

    #[test]
    fn lines_and_arcs_are_joined_and_inches_are_inches() {
        let drawing = read(&dxf(FACE)).expect("a drawing");
        assert!(drawing.unit_stated);
        assert_eq!((drawing.loops.len(), drawing.open), (1, 1));
        assert_eq!(drawing.unread, ["SPLINE"]);
        let area = (8.0 + std::f64::consts::FRAC_PI_2) * 25.4 * 25.4;
        assert!((drawing.loops[0].area_mm2() - area).abs() < 1e-6);
        let hole = drawing.circles[0];
        assert!((hole.x_mm - 25.4).abs() < 1e-9 && (hole.diameter_mm - 6.604).abs() < 1e-9);
    }

    #[test]
    fn polylines_old_and_new_are_alike() {
        let new = "0 SECTION\n2 ENTITIES\n0 LWPOLYLINE\n90 3\n70 1\n10 0\n20 0\n10 10\n20 0\n42 1\n10 10\n20 8\n0 ENDSEC";
        let old = "0 SECTION\n2 ENTITIES\n0 POLYLINE\n66 1\n70 1\n0 VERTEX\n10 0\n20 0\n0 VERTEX\n10 10\n20 0\n42 1\n0 VERTEX\n10 10\n20 8\n0 SEQEND\n0 ENDSEC";
        let [new, old] = [new, old].map(|t| read(&dxf(t)).expect("a drawing"));
        assert_eq!(new, old);
        let area = 40.0 + 8.0 * std::f64::consts::PI;
        assert!((new.loops[0].area_mm2() - area).abs() < 1e-9 && !new.unit_stated);
        let round = "0 SECTION\n2 ENTITIES\n0 LWPOLYLINE\n70 1\n10 0\n20 0\n42 1\n10 6\n20 0\n42 1\n0 ENDSEC";
        assert_eq!(read(&dxf(round)).expect("a drawing").circles[0].diameter_mm, 6.0);
    }

    #[test]
    fn from_behind_is_turned_over() {
        let text = "0 SECTION\n2 ENTITIES\n0 CIRCLE\n10 -5\n20 2\n40 3\n230 -1\n0 ENDSEC";
        assert_eq!(read(&dxf(text)).expect("a drawing").circles[0].x_mm, 5.0);
    }

    #[test]
    fn faults_have_their_place() {
        assert_eq!(read("").expect_err("nothing").at, 0);
        let fault = read("0\nSECTION\nhello\n").expect_err("no code");
        assert_eq!(fault.at, 10);
        let text = dxf("0 SECTION\n2 ENTITIES\n0 CIRCLE\n10 x\n20 2\n40 1\n0 ENDSEC");
        let fault = read(&text).expect_err("no number");
        assert_eq!(&text[fault.at..fault.at + 1], "x");
        let text = dxf("0 SECTION\n2 ENTITIES\n0 CIRCLE\n20 2\n40 1\n0 ENDSEC");
        assert!(read(&text).expect_err("lacks").message.contains("lacks its group 10"));
    }

    proptest! {
        #[test]
        fn any_text_is_answered(text in any::<String>()) {
            let _ = read(&text);
        }

        #[test]
        fn any_groups_are_answered(pairs in prop::collection::vec(
            (prop::sample::select(vec![0, 2, 9, 10, 20, 11, 21, 40, 42, 50, 51, 70, 230]),
             prop::sample::select(vec!["SECTION", "ENTITIES", "HEADER", "$INSUNITS", "LINE", "ARC", "CIRCLE",
                "LWPOLYLINE", "POLYLINE", "VERTEX", "SEQEND", "ENDSEC", "0", "1", "-1", "3.5", "1e300", "nan", "inf", ""])),
            0..60)) {
            let body: String = pairs.iter().map(|(c, v)| format!("{c}\n{v}\n")).collect();
            let _ = read(&body);
            let _ = read(&format!("0\nSECTION\n2\nENTITIES\n{body}"));
        }

        #[test]
        fn any_piece_of_a_drawing_is_answered(from in 0usize..300, to in 0usize..300) {
            let text = dxf(FACE);
            let (from, to) = (from.min(text.len()), to.min(text.len()));
            let _ = read(&text[from.min(to)..to.max(from)]);
        }
    }
}
