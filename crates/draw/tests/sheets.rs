//! Every drawing of the example builds: its words stay on the sheet and never stand on each other.

use draw::letters::width_mm;
use draw::svg::{Drawing, SMALL};
use plan::Plan;

/// Rows of three, and a run between neighbours.
const FORKED: &str = include_str!("forked.toml");

#[path = "../../plan/tests/shared/mod.rs"]
mod shared;

/// Reads a build with the faces it may name.
fn planned(text: &str) -> Plan {
    let mut build = plan::given::document::read(text).build;
    shared::attach_faces(&mut build, &shared::FACES);
    plan::plan(&build, plan::given::shelf_read::standard())
}

fn builds() -> Vec<(&'static str, Plan)> {
    let texts = [
        ("first", include_str!("../../../builds/first/build.toml")),
        ("orchard-truck", include_str!("../../../builds/orchard-truck/build.toml")),
        ("forked", FORKED),
    ];
    let mut plans = Vec::new();
    for (name, text) in texts {
        for units in ["metric", "us"] {
            let text = text.replace("units = \"metric\"", &format!("units = \"{units}\""));
            plans.push((name, planned(&text)));
        }
    }
    plans
}

fn drawings(plan: &Plan) -> Vec<(String, Drawing)> {
    let mut all = vec![("single-line".to_owned(), draw::sheets::single_line(plan))];
    for run in &plan.runs {
        all.extend(
            draw::sheets::strip(plan, &run.id).map(|d| (format!("strip {}", run.id), d)),
        );
        all.extend(draw::sheets::heat(plan, &run.id).map(|d| (format!("heat {}", run.id), d)));
    }
    for end in &plan.ends {
        let name = format!("end {} {} {}", end.run, end.cable, end.port);
        all.extend(draw::sheets::end(plan, end).map(|d| (name, d)));
    }
    for plate in &plan.plates {
        let name = format!("ring {}", plate.port);
        all.extend(draw::sheets::ring(plate, plan.heading.units).map(|d| (name, d)));
    }
    all
}

/// A text on a sheet: its words, and the box it fills (left, top, right, bottom).
type Word = (String, [f64; 4]);

fn words(svg: &str) -> Vec<Word> {
    svg.lines().filter(|line| line.starts_with("<text")).map(word).collect()
}

fn word(line: &str) -> Word {
    let field = |name: &str| {
        let from = line.find(&format!("{name}=\""))? + name.len() + 2;
        Some(&line[from..from + line[from..].find('"')?])
    };
    let number = |text: &str| text.parse::<f64>().expect("a number");
    let text = &line
        [line.find('>').expect("an element") + 1..line.rfind("</text>").expect("an element")];
    let size = number(field("font-size").expect("its place and kind"));
    let kind = if field("font-weight").is_some() { SMALL.heavy() } else { SMALL };
    let long = width_mm(text, kind.of_size(size));
    let start = match field("text-anchor").expect("its place and kind") {
        "start" => 0.0,
        "middle" => -long / 2.0,
        _ => -long,
    };
    // Letters reach about 0.7 of the body above the base line and 0.2 below.
    let (above, below) = (0.7 * size, 0.2 * size);
    let reach = match field("transform") {
        Some(turn) => {
            let at = turn.trim_start_matches("translate(").split([' ', ')']);
            let at: Vec<f64> = at.take(2).map(number).collect();
            [at[0] - above, at[1] - start - long, at[0] + below, at[1] - start]
        }
        None => {
            let (x, y) = (
                number(field(" x").expect("its place and kind")),
                number(field(" y").expect("its place and kind")),
            );
            [x + start, y - above, x + start + long, y + below]
        }
    };
    (text.to_owned(), reach)
}

#[test]
fn words_stay_on_the_sheet() {
    for (build, plan) in builds() {
        for (name, drawing) in drawings(&plan) {
            for (text, [left, top, right, bottom]) in words(&drawing.svg) {
                let inside = left >= -0.3
                    && top >= -0.3
                    && right <= drawing.width_mm + 0.3
                    && bottom <= drawing.height_mm + 0.3;
                assert!(inside, "{build}, {name}: \"{text}\" leaves the sheet");
            }
        }
    }
}

#[test]
fn words_do_not_stand_on_each_other() {
    for (build, plan) in builds() {
        for (name, drawing) in drawings(&plan) {
            let words = words(&drawing.svg);
            for (i, (a, at)) in words.iter().enumerate() {
                for (b, other) in &words[i + 1..] {
                    let across = at[2].min(other[2]) - at[0].max(other[0]);
                    let down = at[3].min(other[3]) - at[1].max(other[1]);
                    let apart = across < 0.3 || down < 0.3;
                    assert!(apart, "{build}, {name}: \"{a}\" stands on \"{b}\"");
                }
            }
        }
    }
}

/// Whatever a maker writes is drawn on a sheet that fits a page, or not drawn.
#[test]
fn senseless_numbers_stay_on_a_page() {
    let text = include_str!("../../../builds/orchard-truck/build.toml");
    let lines: Vec<&str> = text.lines().collect();
    let mut drawn = 0;
    for (i, line) in lines.iter().enumerate() {
        let Some((key, value)) = line.split_once(" = ") else { continue };
        let unit = value.trim_matches('"').trim_start_matches(|c: char| {
            c.is_ascii_digit() || c == '.' || c == '-' || c == ' '
        });
        let is_quantity =
            value.starts_with('"') && value[1..].starts_with(|c: char| c.is_ascii_digit());
        if !is_quantity || unit.len() > 6 {
            continue;
        }
        for number in ["0", "190"] {
            let changed = format!("{key} = \"{number} {unit}\"");
            let mut lines = lines.clone();
            lines[i] = &changed;
            let build = plan::given::document::read(&lines.join("\n")).build;
            let plan = plan::plan(&build, plan::given::shelf_read::standard());
            for (name, drawing) in drawings(&plan) {
                drawn += 1;
                let fits = drawing.width_mm <= 175.0 && drawing.height_mm <= 235.0;
                assert!(fits, "{changed}: {name} is {} mm high", drawing.height_mm);
                assert!(drawing.svg.len() < 600_000, "{changed}: {name} is too much");
            }
        }
    }
    assert!(drawn > 1000, "{drawn}");
}

#[test]
fn the_same_plan_is_drawn_alike() {
    for (_, plan) in builds() {
        assert_eq!(drawings(&plan), drawings(&plan));
    }
}

#[test]
fn a_section_is_to_scale() {
    let (_, plan) = builds().swap_remove(2);
    let end = plan.ends.iter().find(|e| e.lug.is_some() && e.sleeve.is_some()).unwrap();
    let svg = draw::sheets::end(&plan, end).unwrap().svg;
    // The scale bar: its length on paper over the length it names is the scale it names.
    let (text, at) = words(&svg)
        .into_iter()
        .find(|(text, _)| text.contains(", scale "))
        .expect("a scale bar");
    let named: f64 =
        text.split('\u{a0}').next().unwrap().split(' ').next().unwrap().parse().unwrap();
    let ratio = text.rsplit(' ').next().unwrap();
    let (paper, world) = ratio.split_once(':').unwrap();
    let scale = paper.parse::<f64>().unwrap() / world.parse::<f64>().unwrap();
    // The bar starts 1 mm from the edge and its words 2 mm after its end.
    let bar = at[0] - 2.0 - 1.0;
    assert!((bar - named * scale).abs() < 0.02 * bar, "{text}: {bar} mm on paper");
}
