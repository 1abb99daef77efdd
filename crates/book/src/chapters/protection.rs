//! The DC side: fuse, fault, pre-charge, discharge, isolation.

use draw::chart::{Chart, Panel, chart};
use physics::units::Dimension;
use plan::design::protect::{Fault, Precharge, Protected};

use crate::model::{Cell, Pages, Tone, row, wide};
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let Some(protected) = &words.plan.protection else {
        pages.text("The build states no protection.");
        return;
    };
    fuse(words, protected, pages);
    fault(words, protected, pages);
    if let Some(precharge) = &protected.precharge {
        precharge_facts(words, precharge, pages);
    }
    pages.minor("Discharge and isolation");
    pages.facts(
        2,
        vec![
            ("Link under 60 V after", words.maybe(protected.discharge_s, Dimension::Time)),
            ("Least isolation", words.maybe(protected.isolation_ohm, Dimension::Resistance)),
            ("Energy in Y-capacitors", words.maybe(protected.y_energy_j, Dimension::Energy)),
        ],
    );
}

fn fuse(words: &Words<'_>, protected: &Protected, pages: &mut Pages) {
    pages.minor(&format!("Main fuse of run {}", protected.run));
    let Some(fuse) = &protected.fuse else {
        pages.text(Cell::new("No fuse could be settled.", Tone::Unknown));
        return;
    };
    let factor = protected.fuse_ambient_factor.map(|f| format!("{f:.2}").into());
    pages.facts(
        2,
        vec![
            ("Fuse", Cell::new(fuse.row.name.as_str(), Tone::Strong)),
            ("Rated current", words.both(fuse.rated_a, Dimension::Current).into()),
            ("Rated voltage, DC", words.both(fuse.voltage_v_dc, Dimension::Voltage).into()),
            ("Breaking capacity", words.both(fuse.breaking_a, Dimension::Current).into()),
            (
                "Least current it breaks",
                words.both(fuse.breaking_a_min, Dimension::Current).into(),
            ),
            ("Clearing integral", words.both(fuse.clearing_a2s, Dimension::Joule).into()),
            ("Ambient factor", factor.unwrap_or_else(Cell::unknown)),
            (
                "May carry where it sits",
                words.maybe(protected.fuse_carries_a, Dimension::Current),
            ),
            ("Continuous current", words.maybe(protected.current_a, Dimension::Current)),
            ("Cable withstands", words.maybe(protected.cable_withstand_a2s, Dimension::Joule)),
        ],
    );
}

fn fault(words: &Words<'_>, protected: &Protected, pages: &mut Pages) {
    pages.minor("Short circuit");
    let places = [&protected.fault_near, &protected.fault];
    if places.iter().all(|p| p.is_none()) {
        pages.text(Cell::new(
            "Not known: it needs the resistance and inductance of the source.",
            Tone::Unknown,
        ));
        return;
    }
    let line = |name: &str, of: fn(&Fault) -> f64, dimension: Dimension| {
        let [near, far] = places.map(|p| words.maybe(p.as_ref().map(of), dimension));
        row([name.into(), near, far])
    };
    let rows = vec![
        line("Prospective current", |f| f.prospective_a, Dimension::Current),
        line("Loop resistance", |f| f.resistance_ohm, Dimension::Resistance),
        line("Loop inductance", |f| f.inductance_h, Dimension::Inductance),
        line("Time constant", |f| f.time_constant_s, Dimension::Time),
    ];
    let columns = vec![
        wide("Short circuit", 1.0),
        wide("Right behind the fuse", 1.0),
        wide("At the far end of the run", 1.0),
    ];
    pages.table(columns, rows, "");
    pages.quiet(
        "The fuse must be able to break the first, the greatest; it must still see the second, the least, as a \
         short circuit.",
    );
}

fn precharge_facts(words: &Words<'_>, of: &Precharge, pages: &mut Pages) {
    pages.minor("Pre-charge");
    pages.facts(
        2,
        vec![
            ("Resistor", words.both(of.resistance_ohm, Dimension::Resistance).into()),
            ("Link capacitance", words.both(of.capacitance_f, Dimension::Capacitance).into()),
            ("Energy in the resistor", words.both(of.energy_j, Dimension::Energy).into()),
            ("Peak power", words.both(of.peak_w, Dimension::Power).into()),
            ("Peak current", words.both(of.peak_a, Dimension::Current).into()),
            ("Time constant", words.both(of.time_constant_s, Dimension::Time).into()),
            ("Contactor closes after", words.both(of.close_s, Dimension::Time).into()),
            ("Difference left then", words.both(of.left_v, Dimension::Voltage).into()),
        ],
    );
    let full = words.plan.heading.voltage_v[1].or(words.plan.heading.voltage_v[0]);
    let drawing = chart(&Chart {
        upright: "link, V".to_owned(),
        panels: vec![Panel {
            name: "link".to_owned(),
            across: "seconds".to_owned(),
            points: of.curve.clone(),
            share: 1.0,
            dashed: false,
        }],
        levels: full.map(|v| (format!("pack {v:.0} V"), v)).into_iter().collect(),
    });
    if let Some(drawing) = drawing {
        pages.figure(drawing, "Voltage of the link during pre-charge.", "Pre-charge curve");
    }
}
