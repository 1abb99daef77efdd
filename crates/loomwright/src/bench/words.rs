//! The program's own tables as the pages need them: keys, units, chapters, kinds of parts.

use physics::units::{Dimension, System};
use plan::given::keys::{self, Key, Kind, TABLES, Table};
use plan::given::reference::accepted;
use plan::given::shelf_look::looked_for as look;
use plan::given::shelf_read::{kinds, standard};

use crate::wire::{
    self, BookPartWire, HitWire, KeyWire, ShelfKindWire, ShownUnitWire, TableWire, UnitWire,
    WordsAsked,
};

/// The words for systems of units.
pub(crate) fn systems() -> Vec<&'static str> {
    keys::words(keys::UNITS)
}

/// Every row of the shelf.
pub(crate) fn shelf_rows() -> usize {
    look(standard(), "", System::Metric).len()
}

/// Rows that have all the words.
pub(crate) fn looked_for(asked: &WordsAsked) -> Vec<HitWire> {
    let mut hits = look(standard(), asked.words.as_deref().unwrap_or_default(), System::Metric);
    if let Some(kind) = &asked.kind {
        hits.retain(|hit| hit.kind == kind);
    }
    wire::hits(&hits)
}

/// What the shop can add.
pub(crate) fn shelf_kinds() -> Vec<ShelfKindWire> {
    kinds().into_iter().map(|(kind, fields)| ShelfKindWire { kind, fields }).collect()
}

/// Chapters of the book in page order.
pub(crate) fn book_parts() -> Vec<BookPartWire> {
    let part = |p: &book::Part| BookPartWire { part: p.word(), title: title(*p) };
    book::Part::ALL.iter().map(part).collect()
}

fn title(part: book::Part) -> String {
    match part.title() {
        "" => "Cover".to_owned(),
        title => title.to_owned(),
    }
}

/// Every key of the document.
pub(crate) fn keys() -> Vec<TableWire> {
    TABLES.iter().map(of_table).collect()
}

fn of_table(table: &Table) -> TableWire {
    TableWire {
        path: table.path,
        what: table.what,
        keys: table.keys.iter().map(of_key).collect(),
        inner: table.inner.to_vec(),
    }
}

fn of_key(key: &Key) -> KeyWire {
    let (words, units) = match key.kind {
        Kind::Choice(words) => (words(), Vec::new()),
        Kind::Truth => (vec!["true", "false"], Vec::new()),
        Kind::Quantity(d, ..) | Kind::Quantities(d, ..) | Kind::QuantityByName(d, ..) => {
            (Vec::new(), d.units().iter().map(|unit| unit.names[0]).collect())
        }
        _ => (Vec::new(), Vec::new()),
    };
    KeyWire {
        name: key.name,
        what: key.what,
        example: key.example,
        accepts: accepted(key),
        words,
        units,
        shelf: on_shelf(key.name),
    }
}

/// Which kind of shelf row a key names.
fn on_shelf(key: &str) -> Option<&'static str> {
    const NAMED: [(&str, &str); 12] = [
        ("lug", "lug"),
        ("sleeve", "sleeve"),
        ("grip", "grip"),
        ("o-ring", "oring"),
        ("material", "material"),
        ("thread-material", "material"),
        ("pad-material", "material"),
        ("insulator", "material"),
        ("bolt", "bolt"),
        ("bolt-class", "class"),
        ("fuse", "fuse"),
        ("cable", "cable"),
    ];
    NAMED.iter().find(|(name, _)| *name == key).map(|(_, kind)| *kind)
}

/// How the plan's numbers are shown on an axis.
pub(crate) fn units() -> Vec<UnitWire> {
    let mut all: Vec<UnitWire> = Vec::new();
    for dimension in Dimension::ALL {
        let kept = dimension.kept();
        let (metric, us) = match dimension {
            Dimension::Length => (shown(dimension, "mm", 1), shown(dimension, "in", 2)),
            Dimension::Temperature => {
                (shown(dimension, "degC", 1), shown(dimension, "degF", 0))
            }
            Dimension::Torque => (shown(dimension, "N m", 1), shown(dimension, "lbf in", 0)),
            Dimension::Force => (shown(dimension, "N", 0), shown(dimension, "lbf", 0)),
            Dimension::Mass => (shown(dimension, "kg", 2), shown(dimension, "lb", 2)),
            _ => (shown(dimension, kept, 2), shown(dimension, kept, 2)),
        };
        all.push(UnitWire { kept, called: dimension.called(), metric, us });
    }
    // Parts are weighed in grams; their keys say so.
    let grams = |name: &str| {
        let of = shown(Dimension::Mass, name, 1);
        ShownUnitWire { factor: of.factor / 1000.0, ..of }
    };
    let metric = ShownUnitWire { unit: "g", factor: 1.0, ..grams("kg") };
    all.push(UnitWire {
        kept: "g",
        called: "a small mass",
        metric,
        us: ShownUnitWire { decimals: 3, ..grams("lb") },
    });
    all
}

fn shown(dimension: Dimension, name: &str, decimals: u32) -> ShownUnitWire {
    let units = dimension.units();
    let unit = units.iter().find(|u| u.names.contains(&name)).unwrap_or(&units[0]);
    // A unit tells how to read it; an axis needs the way back.
    ShownUnitWire {
        unit: unit.names[0],
        factor: 1.0 / unit.factor,
        offset: if unit.offset == 0.0 { 0.0 } else { -unit.offset / unit.factor },
        decimals,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axis_shows_what_the_page_prints() {
        let all = units();
        let of = |kept: &str| all.iter().find(|u| u.kept == kept).unwrap();
        let degrees = &of("degC").us;
        assert!((100.0 * degrees.factor + degrees.offset - 212.0).abs() < 1e-9);
        let inches = &of("mm").us;
        assert!((25.4 * inches.factor + inches.offset - 1.0).abs() < 1e-12);
        let pounds = &of("g").us;
        assert!((453.592_37 * pounds.factor + pounds.offset - 1.0).abs() < 1e-12);
        assert_eq!((of("A").us.factor, of("A").us.offset), (1.0, 0.0));
    }

    #[test]
    fn every_kind_a_key_names_is_on_the_shelf() {
        for table in keys() {
            for key in table.keys {
                if let Some(kind) = key.shelf {
                    assert!(shelf_kinds().iter().any(|k| k.kind == kind), "{kind}");
                }
            }
        }
    }
}
