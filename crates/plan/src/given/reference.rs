//! The declarations of the document as pages: its reference, and the starter build.

use physics::units::Dimension;

use super::keys::{Key, Kind, TABLES, Table, bound};
use super::read::listed;

/// The reference of the build document, Markdown.
pub fn reference() -> String {
    let mut text = String::from(
        "# The build document\n\n\
         A build is a folder with a `build.toml`, a [TOML](https://toml.io) document.\n\
         A quantity is text with its unit, `\"1.42 m\"`, `\"4 ft 8 in\"`, `\"80 lbf in\"`; plain numbers stand only where something is counted.\n\
         Only the title and both ports of a run are needed to read a document: whatever else is left out is unknown, and a finding asks for it, or it is assumed, and listed as such.\n\
         A value outside its range is an error: the ranges are those of sense, not of any rule.\n",
    );
    for table in TABLES {
        text.push_str(&section(table));
    }
    text.push_str("\n## Units\n\n| quantity | accepted |\n|---|---|\n");
    for dimension in Dimension::ALL {
        let used = TABLES.iter().flat_map(|t| t.keys).any(|k| measures(k) == Some(dimension));
        if used {
            let called = dimension.called().split_once(' ').map_or("", |(_, noun)| noun);
            text.push_str(&format!("| {called} | {} |\n", dimension.accepted()));
        }
    }
    text
}

fn section(table: &Table) -> String {
    let title = match table.path {
        "" => "Top of the document".to_owned(),
        path => format!("`[{path}]`"),
    };
    let mut text = format!("\n## {title}\n\n{}.\n\n", table.what);
    text.push_str("| key | what it is | value | example |\n|---|---|---|---|\n");
    for key in table.keys {
        let example = key.example.replace('|', "\\|");
        text.push_str(&format!(
            "| `{}` | {} | {} | `{example}` |\n",
            key.name,
            key.what,
            accepted(key)
        ));
    }
    text
}

fn measures(key: &Key) -> Option<Dimension> {
    match key.kind {
        Kind::Quantity(d, ..) | Kind::Quantities(d, ..) | Kind::QuantityByName(d, ..) => {
            Some(d)
        }
        Kind::Count(..)
        | Kind::Number(..)
        | Kind::Numbers(..)
        | Kind::NumberByName(..)
        | Kind::Text
        | Kind::Texts(_)
        | Kind::TextByName
        | Kind::PlaceByName
        | Kind::Day
        | Kind::Choice(_)
        | Kind::Size
        | Kind::Thread
        | Kind::Bolt
        | Kind::Port
        | Kind::Truth => None,
    }
}

/// What may stand after a key, in words.
pub fn accepted(key: &Key) -> String {
    let range = |d: Dimension, least, most| {
        let noun = d.called();
        format!("{noun}, {} to {}", bound(least, d), bound(most, d))
    };
    match key.kind {
        Kind::Quantity(d, least, most) => range(d, least, most),
        Kind::Quantities(d, least, most) => format!("list, each {}", range(d, least, most)),
        Kind::QuantityByName(d, least, most) => {
            format!("by terminal, each {}", range(d, least, most))
        }
        Kind::Count(least, most) => format!("whole number, {least} to {most}"),
        Kind::Number(least, most) | Kind::NumberByName(least, most) => {
            format!("number, {least} to {most}")
        }
        Kind::Numbers(least, most) => format!("list, each a number, {least} to {most}"),
        Kind::Text => "text".to_owned(),
        Kind::Texts(most) => format!("list of texts, at most {most}"),
        Kind::TextByName => "terminal by terminal".to_owned(),
        Kind::PlaceByName => "x and y, name by name".to_owned(),
        Kind::Day => "day".to_owned(),
        Kind::Choice(words) => listed(&words()),
        Kind::Size => "conductor size: AWG, mm2 or kcmil".to_owned(),
        Kind::Thread => "metric thread".to_owned(),
        Kind::Bolt => "thread and length".to_owned(),
        Kind::Port => "device and port".to_owned(),
        Kind::Truth => "true or false".to_owned(),
    }
}

/// One table of the starter: its header, the keys it gives, and of which declaration.
struct Start {
    header: &'static str,
    declared: &'static Table,
    given: &'static [(&'static str, &'static str)],
    /// Whether the keys not given are listed as comments: once for each declaration is enough.
    rest: Rest,
}

enum Rest {
    Listed,
    Left,
}

const STARTER: &[Start] = &[
    Start {
        header: "",
        declared: &super::keys::TOP,
        given: &[("title", "\"My build\""), ("units", "\"metric\""), ("currency", "\"EUR\"")],
        rest: Rest::Listed,
    },
    Start {
        header: "system",
        declared: &super::keys::SYSTEM,
        given: &[("voltage", "\"350 V\""), ("voltage-max", "\"410 V\"")],
        rest: Rest::Listed,
    },
    Start {
        header: "surroundings",
        declared: &super::keys::SURROUNDINGS,
        given: &[("air", "\"60 degC\"")],
        rest: Rest::Listed,
    },
    Start {
        header: "workshop",
        declared: &super::keys::WORKSHOP,
        given: &[],
        rest: Rest::Listed,
    },
    Start {
        header: "device.inverter",
        declared: &super::keys::DEVICE,
        given: &[("kind", "\"inverter\"")],
        rest: Rest::Listed,
    },
    Start {
        header: "device.inverter.port.phases",
        declared: &super::keys::PORT,
        given: &[
            ("terminals", "[\"U\", \"V\", \"W\"]"),
            ("landing", "\"tapped\""),
            ("thread", "\"M8\""),
            ("inside-length", "\"70 mm\""),
        ],
        rest: Rest::Listed,
    },
    Start {
        header: "device.motor",
        declared: &super::keys::DEVICE,
        given: &[("kind", "\"motor\"")],
        rest: Rest::Left,
    },
    Start {
        header: "device.motor.port.phases",
        declared: &super::keys::PORT,
        given: &[
            ("terminals", "[\"U\", \"V\", \"W\"]"),
            ("landing", "\"tapped\""),
            ("thread", "\"M8\""),
            ("inside-length", "\"90 mm\""),
        ],
        rest: Rest::Left,
    },
    Start {
        header: "device.motor.port.phases.block",
        declared: &super::keys::BLOCK,
        given: &[],
        rest: Rest::Listed,
    },
    Start {
        header: "device.motor.port.phases.plate",
        declared: &super::keys::PLATE,
        given: &[],
        rest: Rest::Listed,
    },
    Start {
        header: "run.phases",
        declared: &super::keys::RUN,
        given: &[
            ("from", "\"inverter.phases\""),
            ("to", "\"motor.phases\""),
            ("carries", "\"phases\""),
            ("length", "\"1.42 m\""),
            ("current", "\"180 A\""),
            ("frequency", "\"400 Hz\""),
            // A tinned contact bears 105 degC, and the lug is some kelvin warmer than its cable.
            ("limit", "\"100 degC\""),
        ],
        rest: Rest::Listed,
    },
    Start {
        header: "run.phases.from-end",
        declared: &super::keys::END,
        given: &[],
        rest: Rest::Listed,
    },
    Start {
        header: "protection",
        declared: &super::keys::PROTECTION,
        given: &[],
        rest: Rest::Listed,
    },
    Start { header: "prices", declared: &super::keys::PRICES, given: &[], rest: Rest::Listed },
];

/// A commented build to start from: a few keys written, the others as comments.
pub fn starter() -> String {
    let mut text = String::from(
        "# A build for loomwright. The lines without # are an example: put your own values there.\n\
         # Take the # away before a line to use it. Quantities carry their unit, and inches, lbf in and\n\
         # degF are as good as mm, N m and degC. What you leave out is asked for, or assumed and listed.\n\
         # `loomwright plan` says what it makes of this.\n",
    );
    for start in STARTER {
        text.push('\n');
        text.push_str(&format!("# {}.\n", start.declared.what));
        if !start.header.is_empty() {
            let mark = if start.given.is_empty() { "# " } else { "" };
            text.push_str(&format!("{mark}[{}]\n", start.header));
        }
        // Who begins has kept no plate yet, and one would stand for all the keys after it.
        for key in start.declared.keys.iter().filter(|k| k.name != "use") {
            let given = start.given.iter().find(|(name, _)| *name == key.name);
            match (given, &start.rest) {
                (Some((name, value)), _) => text.push_str(&line("", name, value, key.what)),
                (None, Rest::Listed) => {
                    text.push_str(&line("# ", key.name, key.example, key.what));
                }
                (None, Rest::Left) => {}
            }
        }
    }
    text
}

fn line(mark: &str, name: &str, value: &str, what: &str) -> String {
    let name = if name == "NAME" { "\"name in the kit\"" } else { name };
    format!("{:<46} # {what}\n", format!("{mark}{name} = {value}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::given::document::read;

    #[test]
    fn the_starter_is_read_without_an_error() {
        let reading = read(&starter());
        assert_eq!(reading.errors, []);
        assert_eq!(reading.build.runs.len(), 1);
        assert_eq!(reading.build.devices.len(), 2);
    }

    #[test]
    fn every_commented_key_of_the_starter_may_be_uncommented() {
        let whole: String = starter()
            .lines()
            .map(|l| match l.strip_prefix("# ") {
                Some(rest) if rest.starts_with('[') || rest.contains(" = ") => rest,
                _ => l,
            })
            .map(|l| format!("{l}\n"))
            .collect();
        let errors = read(&whole).errors;
        // An example of a run named "dc" has no run in this build.
        let left: Vec<_> =
            errors.iter().filter(|e| !e.message.contains("no run `dc`")).collect();
        assert!(left.is_empty(), "{whole}\n{left:#?}");
    }

    #[test]
    fn the_reference_names_every_key() {
        let text = reference();
        for key in TABLES.iter().flat_map(|t| t.keys) {
            assert!(text.contains(&format!("| `{}` |", key.name)), "{}", key.name);
        }
        assert!(text.lines().all(|l| !l.contains("  ")), "columns are not padded");
    }
}
