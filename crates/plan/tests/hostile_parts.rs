//! A shop's parts with absurd numbers in every field: refused with a place, or planned; never a panic.

use plan::given::document::read;
use plan::given::face::attach;
use plan::given::shelf::Shelf;
use plan::given::shelf_read::{kinds, standard, with_shop};
use plan::plan;

const TRUCK: &str = include_str!("../../../builds/orchard-truck/build.toml");
const FACE: &str = include_str!("../../../builds/orchard-truck/motor-phases-face.toml");

/// Parts the truck uses, so that their numbers go through the whole pipe.
const USED: [(&str, &str); 22] = [
    ("conductor", "2/0 AWG solid"),
    ("cable", "flex-125 6 AWG"),
    ("cable", "flex-125 2/0 AWG"),
    ("insulation", "xlpe"),
    ("lug", "2/0 M8"),
    ("crimp", "hex 2/0 AWG"),
    ("sleeve", "3:1 24/8"),
    ("grip", "M25x1.5 brass 10-17"),
    ("oring", "265"),
    ("bolt", "hex M8"),
    ("bolt", "hex-small M8"),
    ("bolt", "hex M6"),
    ("nut", "nut M8"),
    ("washer", "plain M8"),
    ("holes", "M8"),
    ("material", "aluminium-cast"),
    ("material", "copper-tinned"),
    ("material", "pa66-gf30"),
    ("material", "brass"),
    ("class", "8.8"),
    ("fuse", "gR 250 A"),
    ("fuse", "gR 315 A"),
];

/// The numeric fields of a kind, each with the unit it is due in; plain numbers have none.
fn numeric(kind: &str, id: &str) -> Vec<(&'static str, String)> {
    let fields = kinds().into_iter().find(|(k, _)| *k == kind).expect("a kind of part").1;
    let refused = |field: &str, value: &str| {
        with_shop(standard(), &format!("[{kind}.\"{id}\"]\n{field} = {value}\n")).1
    };
    let mut numeric = Vec::new();
    for field in fields {
        if !refused(field, "true").iter().any(|e| e.message.ends_with("a number is due")) {
            continue;
        }
        // A bare number is refused with the unit that is due: write hole = "1 mm".
        let hint = refused(field, "1").into_iter().find_map(|e| e.hint);
        let unit =
            hint.and_then(|h| Some(h.split_once("\"1 ")?.1.split_once('"')?.0.to_owned()));
        numeric.push((field, unit.unwrap_or_default()));
    }
    numeric
}

/// Reads one field and plans the truck if it was taken; says whether it was.
fn taken(kind: &str, id: &str, field: &str, value: &str) -> bool {
    let text = format!("[{kind}.\"{id}\"]\n{field} = {value}\n");
    let (shelf, errors) = with_shop(standard(), &text);
    for error in &errors {
        assert!(error.span.end <= text.len(), "{text}{error:?}");
        assert!(!error.message.is_empty() && !error.message.ends_with('.'), "{error:?}");
    }
    if errors.is_empty() {
        planned(&shelf, &text);
    }
    errors.is_empty()
}

fn planned(shelf: &Shelf, text: &str) {
    let mut build = read(TRUCK).build;
    attach(&mut build, "motor-phases-face.toml", FACE);
    let plan = plan(&build, shelf);
    for finding in &plan.findings {
        for quantity in [finding.value, finding.limit].into_iter().flatten() {
            assert!(quantity.value.is_finite(), "{text}{finding:?}");
        }
    }
}

#[test]
fn the_parts_tried_are_on_the_shelf() {
    for (kind, id) in USED {
        let (_, errors) = with_shop(standard(), &format!("[{kind}.\"{id}\"]\nprice = 1\n"));
        assert_eq!(errors, [], "{kind} {id}");
    }
}

#[test]
fn what_no_part_can_be_is_refused() {
    let mut fields = 0;
    for (kind, id) in USED {
        for (field, unit) in numeric(kind, id) {
            fields += 1;
            for number in ["-1", "nan", "inf", "1e300", "1e400"] {
                let with_unit = format!("\"{number} {unit}\"");
                assert!(!taken(kind, id, field, &with_unit), "{kind} {id} {field} {with_unit}");
                assert!(!taken(kind, id, field, number), "{kind} {id} {field} {number}");
            }
        }
    }
    assert!(fields > 100, "only {fields} numeric fields were found");
}

#[test]
fn a_cable_without_resistance_is_refused_at_its_place() {
    for number in ["0", "-0.3"] {
        let text = format!("[cable.\"flex-125 2/0 AWG\"]\nresistance = \"{number} ohm/km\"\n");
        let (shelf, errors) = with_shop(standard(), &text);
        assert_eq!(errors.len(), 1, "{errors:?}");
        assert_eq!(
            errors[0].message,
            format!("`resistance` is {number} but must be above zero")
        );
        assert!(text[errors[0].span.clone()].contains(number));
        // The row is left as it was, so the plan is that of the shelf.
        planned(&shelf, &text);
    }
}

#[test]
fn tiny_and_large_numbers_are_planned_or_refused() {
    let mut plans = 0;
    for (kind, id) in USED {
        for (field, unit) in numeric(kind, id) {
            for number in ["0", "1e-6", "1e4"] {
                let value = match unit.as_str() {
                    "" => number.to_owned(),
                    unit => format!("\"{number} {unit}\""),
                };
                plans += usize::from(taken(kind, id, field, &value));
            }
        }
    }
    assert!(plans > 100, "only {plans} were taken");
}
