//! The papers of a part: no text on other text, nothing over the edge of the sheet.

mod samples;

use draw::frame::{Area, Making, box_of, box_upwards};
use draw::svg::{Anchor, Drawing, INK, Type, at};
use physics::units::System;
use space::part::FlatPart;
use space::solid::solid;

fn making() -> Making {
    Making {
        build: "Orchard truck".to_owned(),
        material: Some("Aluminium EN AW-6082 T6".to_owned()),
        ring: Some("O-ring AS568-263, 183.74 x 3.53 mm, EPDM 70 Shore A".to_owned()),
        groove_depth_tolerance_mm: Some(0.05),
        groove_width_tolerance_mm: None,
        made_by: Some("The workshop by the mill".to_owned()),
        date: Some("2026-11-25".to_owned()),
        digest: "0123456789abcdef0123".to_owned(),
        for_building: false,
        units: System::Metric,
    }
}

#[expect(clippy::disallowed_methods, reason = "the pictures are for a person to look at")]
fn keep(name: &str, drawing: &Drawing) {
    let folder = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("papers");
    std::fs::create_dir_all(&folder).expect("the test's own folder");
    std::fs::write(folder.join(name), &drawing.svg).expect("the test's own file");
}

fn attribute<'a>(element: &'a str, name: &str) -> Option<&'a str> {
    let start = element.find(&format!(" {name}=\""))? + name.len() + 3;
    element[start..].split('"').next()
}

/// Every text of a drawing with its box, read from the finished drawing and not from what made it.
fn texts(drawing: &Drawing) -> Vec<(String, Area)> {
    let number =
        |text: Option<&str>| text.and_then(|t| t.parse::<f64>().ok()).expect("a number");
    drawing
        .svg
        .lines()
        .filter(|line| line.starts_with("<text"))
        .map(|line| {
            let words = line.split('>').nth(1).expect("words").trim_end_matches("</text");
            let words = words.replace("&amp;", "&").replace("&lt;", "<").replace("&gt;", ">");
            let anchor = match attribute(line, "text-anchor").expect("an anchor") {
                "start" => Anchor::Start,
                "middle" => Anchor::Middle,
                _ => Anchor::End,
            };
            let kind = Type {
                size: number(attribute(line, "font-size")),
                heavy: line.contains("font-weight"),
                colour: INK,
                anchor,
            };
            let area = match attribute(line, "transform") {
                None => {
                    let place = at(number(attribute(line, "x")), number(attribute(line, "y")));
                    box_of(place, &words, kind)
                }
                Some(turned) => {
                    let inner = turned.trim_start_matches("translate(");
                    let mut pair = inner.split(')').next().unwrap_or_default().split(' ');
                    let place = at(number(pair.next()), number(pair.next()));
                    box_upwards(place, &words, kind)
                }
            };
            (words, area)
        })
        .collect()
}

fn clashes(drawing: &Drawing) -> Vec<String> {
    let texts = texts(drawing);
    assert!(texts.len() > 10, "a sheet says something");
    let sheet = Area::new(3.0, 3.0, drawing.width_mm - 3.0, drawing.height_mm - 3.0);
    let mut found = Vec::new();
    for (i, (words, area)) in texts.iter().enumerate() {
        let inside = sheet.from.x <= area.from.x
            && sheet.from.y <= area.from.y
            && area.to.x <= sheet.to.x
            && area.to.y <= sheet.to.y;
        if !inside {
            found.push(format!("{words:?} leaves the sheet"));
        }
        for (other, there) in &texts[i + 1..] {
            if area.meets(there) {
                found.push(format!("{words:?} stands on {other:?}"));
            }
        }
    }
    found
}

fn papers(name: &str, part: &FlatPart) -> Vec<(String, Drawing)> {
    let body = solid(part).expect("a body");
    let mut all = Vec::new();
    for (i, drawing) in
        draw::plate_drawing::plate_drawing(part, &body, &making()).into_iter().enumerate()
    {
        all.push((format!("{name}-{}.svg", i + 1), drawing));
    }
    all.push((
        format!("{name}-template.svg"),
        draw::plate_template::plate_template(part, &making()),
    ));
    for (i, drawing) in draw::plate_check::plate_check(part, &making()).into_iter().enumerate()
    {
        all.push((format!("{name}-check-{}.svg", i + 1), drawing));
    }
    all
}

#[test]
fn text_never_stands_on_text() {
    let mut parts = samples::all();
    let mut small = samples::ordinary();
    small.outline = space::path::Path::rounded_rectangle([0.0, 0.0], 60.0, 40.0, 5.0);
    small.grooves.clear();
    small.marks.clear();
    small.holes.truncate(3);
    for (hole, x) in small.holes.iter_mut().zip([-20.0, 0.0, 20.0]) {
        (hole.x_mm, hole.diameter_mm) = (x, 10.0);
    }
    parts.push(("small", small));
    let mut many = samples::ordinary();
    many.grooves.clear();
    for i in 0..60 {
        let place = [-87.0 + 6.0 * f64::from(i % 30), -25.0 + 46.0 * f64::from(i / 30)];
        many.holes.push(samples::hole(&format!("N{i}"), "many", place, 3.0));
    }
    parts.push(("many", many));
    let truck = samples::truck();
    let (pieces, absent) = draw::papers::pieces(&truck);
    assert_eq!(pieces.len() + absent.len(), 4, "{absent:?}");
    parts.extend(pieces.iter().map(|p| (p.stem.as_str(), p.part.clone())));
    let odd = samples::awkwardly_faced();
    let (pieces, _) = draw::papers::pieces(&odd);
    let odd = pieces.iter().find(|p| p.stem == "plate-motor-phases").expect("laid out");
    parts.push(("plate-awkward", odd.part.clone()));
    for (name, part) in parts {
        for (file, drawing) in papers(name, &part) {
            keep(&file, &drawing);
            let found = clashes(&drawing);
            assert!(found.is_empty(), "{file}: {found:#?}");
        }
    }
}

#[test]
fn the_clash_test_sees_a_planted_clash() {
    let mut sheet = draw::svg::Sheet::new(100.0, 100.0);
    for i in 0..11 {
        sheet.text(at(10.0, 10.0 + 5.0 * f64::from(i)), "words", draw::svg::SMALL);
    }
    sheet.text(at(12.0, 10.0), "on", draw::svg::SMALL);
    assert_eq!(clashes(&sheet.finish()), ["\"words\" stands on \"on\""]);
}
