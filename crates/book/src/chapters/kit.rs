//! What is bought, made and packed, with a box to tick for every line.

use physics::units::Dimension;
use plan::work::kit::{Item, Kind};

use crate::model::{Cell, Pages, Row, Tone, group, narrow, number, row, wide};
use crate::words::{Words, count, doubtful};

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let kit = &words.plan.kit;
    let mut rows: Vec<Row> = Vec::new();
    let mut before = None;
    for item in &kit.items {
        let heading = heading(item.kind);
        if before != Some(heading) {
            rows.push(group(heading));
            before = Some(heading);
        }
        rows.push(line(words, item));
    }
    let currency = words.plan.heading.currency.as_deref().unwrap_or_default();
    let priced = |name: &str| format!("{name} {currency}").trim_end().to_owned();
    pages.table(
        vec![
            narrow(""),
            wide("Part", 2.2),
            number("Count"),
            number("Spare"),
            wide("Where", 2.0),
            number(&priced("Each")),
            number(&priced("Cost")),
        ],
        rows,
        "The kit is empty",
    );
    let mut facts = vec![
        ("Cost of everything priced", cost(words)),
        ("Mass of everything known", words.both(kit.mass_kg, Dimension::Mass).into()),
    ];
    if kit.unpriced > 0 {
        facts.push(("Without a price", Cell::new(lines(kit.unpriced), Tone::Unknown)));
    }
    pages.facts(1, facts);
    let guessed = kit.items.iter().filter(|i| doubtful(i)).count();
    if guessed > 0 {
        pages.quiet(&format!(
            "* {} rest on values that are typical, remembered or common practice; compare with the part's own \
             sheet before buying. The chapter Sources names them.",
            lines(guessed)
        ));
    }
}

/// What everything with a price costs; nothing has one, then nothing is known.
pub(crate) fn cost(words: &Words<'_>) -> Cell {
    let kit = &words.plan.kit;
    if kit.items.iter().all(|i| i.cost.is_none()) {
        return Cell::new("no prices stated", Tone::Quiet);
    }
    Cell::new(words.money(kit.cost), Tone::Strong)
}

/// "1 line", "3 lines" of the kit.
pub(crate) fn lines(number: usize) -> String {
    count(number, "line", "lines")
}

fn heading(kind: Kind) -> &'static str {
    match kind {
        Kind::Cable => "Cable",
        Kind::Lug => "Lugs",
        Kind::Sleeve => "Sleeves",
        Kind::Grip | Kind::Locknut => "Grips",
        Kind::Bolt | Kind::Nut | Kind::Washer => "Fasteners",
        Kind::Oring => "Rings",
        Kind::Plate | Kind::Block => "Made parts",
        Kind::Fuse | Kind::Resistor => "Protection",
        Kind::Label => "Labels",
    }
}

fn line(words: &Words<'_>, item: &Item) -> Row {
    let mark = if doubtful(item) { "\u{a0}*" } else { "" };
    let mut part = Cell::new(format!("{}{mark}", item.name), Tone::Strong);
    if let Some(mm) = item.length_mm {
        part = part.under(format!("{} in all", words.length(mm)));
    }
    if item.part != item.name {
        part = part.under(Cell::verbatim(&item.part, Tone::Quiet));
    }
    let uses: Vec<String> =
        item.uses.iter().map(|u| format!("{} at {}", u.count, words.place(&u.place))).collect();
    let money = |amount: Option<f64>| match amount {
        Some(amount) => Cell::from(format!("{amount:.2}")),
        None => Cell::new("no price", Tone::Quiet),
    };
    let spare = if item.spares == 0 { String::new() } else { item.spares.to_string() };
    let mut places = Cell::from(uses.first().map_or("", String::as_str));
    for place in uses.iter().skip(1) {
        places = places.under(place.as_str());
    }
    row([
        Cell::tick(),
        part,
        item.count.to_string().into(),
        spare.into(),
        places,
        match item.price {
            // Cable and sleeve are bought by the metre.
            Some(price) if item.length_mm.is_some() => format!("{price:.2} per m").into(),
            price => money(price),
        },
        money(item.cost),
    ])
}
