//! The short answer: cable, lengths, ends, fuse, cost, worst findings.

use physics::units::Dimension;
use plan::design::ends::{End, Side};
use plan::finding::Verdict;

use super::findings;
use crate::model::{Cell, Pages, Tone, narrow, row, wide};
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    runs(words, pages);
    ends(words, pages);
    facts(words, pages);
    worst(words, pages);
}

fn runs(words: &Words<'_>, pages: &mut Pages) {
    let plan = words.plan;
    let rows = plan.runs.iter().map(|run| {
        let sized = plan.sizes.iter().find(|s| s.run == run.id);
        let cable = sized.and_then(|s| s.cable.as_ref());
        let heat = sized.and_then(|s| s.heat.as_ref());
        let cut = plan.cuts.iter().find(|c| c.run == run.id).and_then(|c| c.cut_mm);
        let ports = format!("{} to {}", words.port(&run.ports[0]), words.port(&run.ports[1]));
        let conductor = heat.and_then(|h| h.conductor_c);
        row([
            Cell::new(run.id.as_str(), Tone::Strong).under(Cell::new(ports, Tone::Quiet)),
            match cable {
                Some(cable) => format!("{} x {}", run.cables.len(), cable.row.name).into(),
                None => Cell::unknown(),
            },
            words.maybe(cut, Dimension::Length),
            words.maybe(run.current_a_rms, Dimension::Current),
            match heat {
                Some(heat) => words.maybe(conductor, Dimension::Temperature).under(Cell::new(
                    format!("limit {}", words.one(heat.limit_c, Dimension::Temperature)),
                    Tone::Quiet,
                )),
                None => Cell::unknown(),
            },
            words.maybe(sized.and_then(|s| s.drop_v), Dimension::Voltage),
        ])
    });
    let rows = rows.collect();
    pages.table(
        vec![
            wide("Run", 1.6),
            wide("Cable", 1.3),
            wide("Cut, each", 1.0),
            narrow("Current"),
            wide("Conductor", 1.0),
            narrow("Drop"),
        ],
        rows,
        "The build has no run whose two ports exist",
    );
}

/// One line for each side of each run: the first cable's end stands for all, the chapter Ends has the rest.
fn ends(words: &Words<'_>, pages: &mut Pages) {
    let plan = words.plan;
    let mut rows = Vec::new();
    for run in &plan.runs {
        for side in [Side::From, Side::To] {
            let mut of_side = plan.ends.iter().filter(|e| e.run == run.id && e.side == side);
            if let Some(end) = of_side.next() {
                rows.push(row(end_cells(words, end)));
            }
        }
    }
    if rows.is_empty() {
        return;
    }
    pages.minor("Ends");
    let columns = vec![
        wide("At", 1.3),
        wide("Lug", 1.3),
        narrow("Die"),
        wide("Bolt", 1.1),
        wide("Torque", 1.2),
        wide("Grip", 0.9),
    ];
    pages.table(columns, rows, "");
}

fn end_cells(words: &Words<'_>, end: &End) -> [Cell; 6] {
    let named = |name: Option<&str>| name.map_or_else(Cell::unknown, Cell::from);
    [
        Cell::new(words.port(&end.port), Tone::Strong)
            .under(Cell::new(format!("run {}", end.run), Tone::Quiet)),
        named(end.lug.as_ref().map(|l| l.row.name.as_str())),
        named(end.crimp.as_ref().map(|c| c.die.as_str())),
        end.stack.as_ref().map_or_else(Cell::unknown, |s| super::ends::fastener(s).into()),
        words.chosen(end.torque.as_ref()),
        match &end.grip {
            Some(grip) => grip.thread.as_str().into(),
            None => Cell::new("none", Tone::Quiet),
        },
    ]
}

fn facts(words: &Words<'_>, pages: &mut Pages) {
    let plan = words.plan;
    let protection = plan.protection.as_ref();
    let fuse = match protection {
        Some(p) => p.fuse.as_ref().map_or_else(Cell::unknown, |f| f.row.name.as_str().into()),
        None => Cell::new("no protection in the build", Tone::Quiet),
    };
    let kit = &plan.kit;
    let mut cost = super::kit::cost(words);
    if kit.unpriced > 0 && kit.unpriced < kit.items.len() {
        cost = cost.under(Cell::new(
            format!("{} without a price are not in it", super::kit::lines(kit.unpriced)),
            Tone::Quiet,
        ));
    }
    let loss: f64 = plan.sizes.iter().filter_map(|s| s.loss_w).sum();
    let longest: f64 = kit.items.iter().filter_map(cable_mm).sum();
    pages.minor("Fuse, kit, loss");
    pages.facts(
        2,
        vec![
            ("Fuse", fuse),
            ("Cable in all", words.length(longest).into()),
            ("Loss at continuous current", words.both(loss, Dimension::Power).into()),
            ("Kit cost", cost),
            ("Kit mass", words.both(kit.mass_kg, Dimension::Mass).into()),
            (
                "Steps and trials",
                format!("{} and {}", plan.steps.len(), plan.trials.len()).into(),
            ),
        ],
    );
}

fn cable_mm(item: &plan::work::kit::Item) -> Option<f64> {
    (item.kind == plan::work::kit::Kind::Cable).then_some(item.length_mm).flatten()
}

/// As many findings as a summary has room for.
const SHOWN: usize = 6;

fn worst(words: &Words<'_>, pages: &mut Pages) {
    let mut worst: Vec<_> =
        words.plan.findings.iter().filter(|f| f.verdict != Verdict::Holds).collect();
    let all = worst.len();
    worst.truncate(SHOWN);
    pages.minor(&match all {
        all if SHOWN < all => format!("Worst findings, {SHOWN} of {all}"),
        _ => "Worst findings".to_owned(),
    });
    pages.table(
        findings::columns(),
        worst.into_iter().map(|f| findings::brief(words, f)).collect(),
        "Every rule that was judged is kept",
    );
}
