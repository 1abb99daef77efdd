//! What a slider can move: what is stated or assumed, and how far it may sensibly go.

use physics::units::{Dimension, parse, show_both};
use plan::Plan;
use plan::given::build::Build;

use super::history::Texts;
use crate::disk;
use crate::wire::KnobWire;

/// A value that may be moved.
struct Knob {
    key: &'static str,
    what: &'static str,
    dimension: Dimension,
    /// The unit of the slider; empty for a plain number.
    unit: &'static str,
    range: [f64; 2],
    step: f64,
    /// Shown although the document says nothing: what is taken then.
    otherwise: Option<f64>,
}

const fn knob(
    key: &'static str,
    what: &'static str,
    (dimension, unit): (Dimension, &'static str),
    range: [f64; 2],
    step: f64,
) -> Knob {
    Knob { key, what, dimension, unit, range, step, otherwise: None }
}

impl Knob {
    const fn or(mut self, value: f64) -> Knob {
        self.otherwise = Some(value);
        self
    }
}

const CELSIUS: (Dimension, &str) = (Dimension::Temperature, "degC");
const AMPERE: (Dimension, &str) = (Dimension::Current, "A");
const LENGTH: (Dimension, &str) = (Dimension::Length, "mm");
const SPEED: (Dimension, &str) = (Dimension::Speed, "m/s");

const OF_A_RUN: &[Knob] = &[
    knob("current", "continuous current", AMPERE, [5.0, 600.0], 1.0),
    knob("peak", "peak current", AMPERE, [5.0, 1000.0], 5.0),
    knob("peak-time", "time at the peak", (Dimension::Time, "s"), [1.0, 300.0], 1.0),
    knob(
        "frequency",
        "electrical frequency",
        (Dimension::Frequency, "Hz"),
        [0.0, 1500.0],
        10.0,
    ),
    knob("air", "air along the run", CELSIUS, [-20.0, 120.0], 1.0),
    knob("air-speed", "speed of the air", SPEED, [0.0, 15.0], 0.1).or(0.0),
    knob("length", "path", LENGTH, [100.0, 8000.0], 10.0),
    knob("bend-radius", "tightest bend", LENGTH, [20.0, 400.0], 5.0),
    knob("limit", "limit of the conductor", CELSIUS, [60.0, 180.0], 1.0),
];

const OF_A_SECTION: &[Knob] = &[
    knob("air", "air", CELSIUS, [-20.0, 150.0], 1.0),
    knob("air-speed", "speed of the air", SPEED, [0.0, 15.0], 0.1),
    knob("length", "length", LENGTH, [50.0, 6000.0], 10.0),
];

/// Keys of tables there is one of.
const OF_THE_BUILD: &[(&str, Knob)] = &[
    ("surroundings", knob("air", "air everywhere else", CELSIUS, [-20.0, 80.0], 1.0)),
    (
        "surroundings",
        knob("altitude", "altitude", (Dimension::Length, "m"), [0.0, 4000.0], 50.0),
    ),
    ("system", knob("voltage", "DC voltage", (Dimension::Voltage, "V"), [24.0, 1000.0], 1.0)),
    (
        "workshop",
        knob("friction", "friction under a bolt", (Dimension::Ratio, ""), [0.06, 0.3], 0.005),
    ),
    (
        "vehicle",
        knob("mass", "mass of the vehicle", (Dimension::Mass, "kg"), [200.0, 5000.0], 10.0),
    ),
    ("vehicle", knob("drag-area", "drag area", (Dimension::Area, "m2"), [0.2, 3.0], 0.01)),
    (
        "vehicle",
        knob("rolling", "rolling resistance", (Dimension::Ratio, "%"), [0.5, 4.0], 0.05),
    ),
    ("duty", knob("grade", "grade of the climb", (Dimension::Ratio, "%"), [1.0, 40.0], 0.5)),
    (
        "protection",
        knob(
            "source-resistance",
            "resistance of the battery",
            (Dimension::Resistance, "mohm"),
            [5.0, 500.0],
            1.0,
        ),
    ),
];

/// All sliders of a build.
pub(crate) fn knobs(build: &Build, plan: &Plan, texts: &Texts) -> Vec<KnobWire> {
    // A text that cannot be read has no values to move; the plan shown is then of an older one.
    let document: toml::Table =
        texts.get(disk::DOCUMENT).and_then(|t| t.parse().ok()).unwrap_or_default();
    let mut all = Vec::new();
    for run in &build.runs {
        let id = run.id.value.as_str();
        for knob in OF_A_RUN {
            let path = ["run", id, knob.key];
            all.extend(of(knob, &document, plan, &path, Some(id), ""));
        }
        for (i, _) in run.sections.iter().enumerate() {
            let index = i.to_string();
            for knob in OF_A_SECTION {
                let path = ["run", id, "section", &index, knob.key];
                let where_to = format!("section {}: ", i + 1);
                all.extend(of(knob, &document, plan, &path, Some(id), &where_to));
            }
        }
        all.extend(emissivity(plan, texts, id));
    }
    for device in &build.devices {
        for port in &device.ports {
            let knob = knob("terminal-temperature", "terminals", CELSIUS, [20.0, 150.0], 1.0);
            let path = ["device", device.id.value.as_str(), "port", port.id.as_str(), knob.key];
            let where_to = format!("{}.{}: ", device.id.value, port.id);
            all.extend(of(&knob, &document, plan, &path, None, &where_to));
        }
    }
    for (table, knob) in OF_THE_BUILD {
        all.extend(of(knob, &document, plan, &[table, knob.key], None, ""));
    }
    all
}

fn of(
    knob: &Knob,
    document: &toml::Table,
    plan: &Plan,
    path: &[&str],
    run: Option<&str>,
    where_to: &str,
) -> Option<KnobWire> {
    let key = path.join(".");
    let stated = found(document, path).and_then(|value| kept(value, knob.dimension));
    let assumed = plan.assumed.iter().find(|a| a.key == key);
    let taken = assumed.and_then(|a| parse(&a.value, knob.dimension).ok());
    let scale = scale(knob);
    let otherwise = knob.otherwise.map(|value| value * scale);
    let value = stated.or(taken).or(otherwise)?;
    let shown = value / scale;
    Some(KnobWire {
        id: key,
        what: format!("{where_to}{}", knob.what),
        file: None,
        path: path.iter().map(|p| (*p).to_owned()).collect(),
        run: run.map(str::to_owned),
        value: Some(rounded(shown)),
        text: Some(if knob.unit.is_empty() {
            shown.to_string()
        } else {
            show_both(value, knob.dimension, plan.heading.units)
        }),
        unit: (!knob.unit.is_empty()).then_some(knob.unit),
        // What is stated lies on the slider, however unusual it is.
        least: knob.range[0].min(rounded(shown)),
        most: knob.range[1].max(rounded(shown)),
        step: knob.step,
        stated: stated.is_some(),
        why: assumed.filter(|_| stated.is_none()).map(|a| a.why.clone()),
    })
}

/// Kept units in one of the slider's; temperatures are kept in the slider's own.
fn scale(knob: &Knob) -> f64 {
    let units = knob.dimension.units();
    units.iter().find(|u| u.names.contains(&knob.unit)).map_or(1.0, |u| u.factor)
}

fn rounded(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

fn found<'t>(table: &'t toml::Table, path: &[&str]) -> Option<&'t toml::Value> {
    let (first, rest) = path.split_first()?;
    let mut value = table.get(*first)?;
    for name in rest {
        value = match value {
            toml::Value::Table(table) => table.get(*name)?,
            toml::Value::Array(items) => items.get(name.parse::<usize>().ok()?)?,
            _ => return None,
        };
    }
    Some(value)
}

fn kept(value: &toml::Value, dimension: Dimension) -> Option<f64> {
    match value {
        toml::Value::String(text) => parse(text, dimension).ok(),
        toml::Value::Float(number) => Some(*number),
        toml::Value::Integer(number) => i32::try_from(*number).ok().map(f64::from),
        _ => None,
    }
}

/// How well the cable's surface radiates: a value of the shelf, moved by a line among the shop's parts.
fn emissivity(plan: &Plan, texts: &Texts, run: &str) -> Option<KnobWire> {
    let cable = plan.sizes.iter().find(|s| s.run == run)?.cable.as_ref()?;
    let id = cable.insulation.as_str();
    let insulation =
        plan::given::shelf_read::standard().insulations.iter().find(|i| i.row.id == id)?;
    let shop: toml::Table =
        texts.get(disk::SHOP).and_then(|t| t.parse().ok()).unwrap_or_default();
    let own = found(&shop, &["insulation", id, "emissivity"]);
    let own = own.and_then(|value| kept(value, Dimension::Ratio));
    let value = own.unwrap_or(insulation.emissivity);
    Some(KnobWire {
        id: format!("run.{run}.emissivity"),
        what: format!("emissivity of {}", insulation.row.name),
        file: Some(disk::SHOP.to_owned()),
        path: ["insulation", id, "emissivity"].map(str::to_owned).to_vec(),
        run: Some(run.to_owned()),
        value: Some(value),
        text: Some(format!("{value:.2}")),
        unit: None,
        least: 0.1,
        most: 0.98,
        step: 0.01,
        stated: own.is_some(),
        why: own.is_none().then(|| insulation.row.source.clone()),
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;
    use std::path::Path;

    use super::*;
    use crate::builds::{Read, read};

    fn all(name: &str) -> (Vec<KnobWire>, Texts, std::path::PathBuf) {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../builds").join(name);
        let document = folder.join(disk::DOCUMENT);
        let Read::Planned(planned, sheets) = read(&document, &BTreeMap::new()).unwrap() else {
            panic!("the example can be read");
        };
        let texts: Texts = sheets
            .into_iter()
            .map(|s| {
                let name =
                    Path::new(&s.name).file_name().unwrap().to_string_lossy().into_owned();
                (name, s.text)
            })
            .collect();
        (knobs(&planned.build, &planned.plan, &texts), texts, document)
    }

    #[test]
    fn every_slider_moves_the_document_and_the_document_stays_readable() {
        for name in ["first", "hill-wagon", "orchard-truck"] {
            let (knobs, texts, document) = all(name);
            assert!(knobs.len() >= 4, "{name}: {}", knobs.len());
            for knob in knobs {
                assert!(knob.least < knob.most && knob.step > 0.0, "{name} {}", knob.id);
                let value = (knob.value.unwrap() + knob.step).min(knob.most);
                let json = serde_number(value);
                let path: Vec<&str> = knob.path.iter().map(String::as_str).collect();
                let mut edit = crate::wire::edit_of(&path, Some(&json));
                edit.unit = knob.unit.map(str::to_owned);
                let file = knob.file.clone().unwrap_or_else(|| disk::DOCUMENT.to_owned());
                let mut texts = texts.clone();
                let old = texts.get(&file).cloned().unwrap_or_default();
                texts.insert(file, crate::bench::edit::set(&old, &edit).unwrap());
                match read(&document, &texts).unwrap() {
                    Read::Planned(..) => {}
                    Read::Wrong(sheets) => {
                        let errors: Vec<_> = sheets.into_iter().flat_map(|s| s.1).collect();
                        panic!("{name} {}: {errors:?}", knob.id);
                    }
                }
            }
        }
    }

    fn serde_number(value: f64) -> String {
        format!("{value}")
    }

    #[test]
    fn a_slider_begins_at_what_the_document_says() {
        let (knobs, ..) = all("orchard-truck");
        let of = |id: &str| knobs.iter().find(|k| k.id == id).unwrap();
        assert_eq!(of("run.phases.current").value, Some(182.0));
        assert!(of("run.phases.current").stated);
        assert_eq!(of("run.phases.air-speed").value, Some(0.0));
        assert!(!of("run.phases.air-speed").stated);
        assert_eq!(of("run.dc.length").value, Some(3650.0));
        assert_eq!(of("surroundings.altitude").value, Some(800.0));
    }
}
