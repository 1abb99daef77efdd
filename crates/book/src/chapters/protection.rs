//! The DC side: fuse, fault, pre-charge, discharge, isolation.

use physics::units::Dimension;
use plan::design::coordinate::Coordination;
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
    if let Some(of) = &protected.coordination {
        coordination(words, of, pages);
    }
    contactor(words, protected, pages);
    if let Some(precharge) = &protected.precharge {
        precharge_facts(words, precharge, pages);
    }
    link(words, protected, pages);
    branches(words, protected, pages);
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
    if 0.0 < of.standing_v {
        pages.quiet(&format!(
            "Of the difference left, {} stand for ever: the discharge resistor draws through the pre-charge \
             resistor.",
            words.both(of.standing_v, Dimension::Voltage)
        ));
    }
    let run = words.plan.protection.as_ref().map_or("", |p| p.run.as_str());
    if let Some(drawing) = draw::sheets::precharge(words.plan, run) {
        pages.figure(drawing, "Voltage of the link during pre-charge.", "Pre-charge curve");
    }
}

/// Fuse and cable over each other.
fn coordination(words: &Words<'_>, of: &Coordination, pages: &mut Pages) {
    pages.minor(&format!("Fuse and cable of {} together", of.name));
    let Some(drawing) = draw::sheets::coordination(words.plan, &of.name) else { return };
    pages.figure(
        drawing,
        "Left of the shaded band the fuse carries on, right of it the circuit is open. Where the band lies below \
         the cable's curve, the fuse is the faster; a load must stay left of its mark.",
        "Fuse, cable, faults and load",
    );
    let rows = of.loads.iter().map(|l| {
        let name = l.stretch.clone().unwrap_or_else(|| "as stated".to_owned());
        row([
            words.both(l.seconds, Dimension::Time).into(),
            name.into(),
            words.both(l.rms_a, Dimension::Current).into(),
            words.maybe(l.may_a, Dimension::Current),
        ])
    });
    let rows: Vec<_> = rows.collect();
    if !rows.is_empty() {
        let columns = vec![
            wide("For", 1.0),
            wide("Where", 1.4),
            wide("Current, rms", 1.0),
            wide("Fuse bears so long", 1.2),
        ];
        pages.table(columns, rows, "");
    }
}

/// The switch and what it meets.
fn contactor(words: &Words<'_>, protected: &Protected, pages: &mut Pages) {
    pages.minor("Contactor");
    let asked = &protected.contactor_asked;
    let part = protected.contactor.as_ref();
    let name =
        part.map_or_else(Cell::unknown, |c| Cell::new(c.row.name.as_str(), Tone::Strong));
    pages.facts(
        2,
        vec![
            ("Contactor", name),
            (
                "Rated voltage, DC",
                words.maybe(part.map(|c| c.voltage_v_dc), Dimension::Voltage),
            ),
            ("Opens against, here", words.maybe(asked.breaks_a, Dimension::Current)),
            ("Can open", words.maybe(part.map(|c| c.breaks_a), Dimension::Current)),
            ("Closes on, here", words.maybe(asked.closes_a, Dimension::Current)),
            ("Can close on", words.maybe(part.map(|c| c.makes_a), Dimension::Current)),
        ],
    );
    if let Some(trip) = protected.trip {
        pages.quiet(&format!(
            "The control opens above {} within {}. What the slowest fuse has not cleared by then is left to the \
             contactor; a control that opens sooner leaves it more.",
            words.both(trip.current_a, Dimension::Current),
            words.both(trip.seconds, Dimension::Time),
        ));
    }
}

/// Discharge and insulation.
fn link(words: &Words<'_>, protected: &Protected, pages: &mut Pages) {
    pages.minor("Discharge and isolation");
    let power = protected.discharge.as_ref().map(|d| d.power_w);
    pages.facts(
        2,
        vec![
            ("Link under 60 V after", words.maybe(protected.discharge_s, Dimension::Time)),
            ("Heat in the resistor", words.maybe(power, Dimension::Power)),
            ("Least isolation", words.maybe(protected.isolation_ohm, Dimension::Resistance)),
            ("Energy in Y-capacitors", words.maybe(protected.y_energy_j, Dimension::Energy)),
        ],
    );
    if let Some(drawing) = draw::sheets::discharge(words.plan, &protected.run) {
        pages.figure(
            drawing,
            "Voltage of the link after the contactors open. Wait, and prove it with a meter all the same.",
            "Discharge curve",
        );
    }
    let rows: Vec<_> = protected
        .circuits
        .iter()
        .map(|c| {
            let ohm = words.both(c.least_ohm, Dimension::Resistance);
            row([
                c.name.into(),
                format!("{:.0}", c.ohm_per_v).into(),
                Cell::new(ohm, if c.governs { Tone::Strong } else { Tone::Plain }),
            ])
        })
        .collect();
    if !rows.is_empty() {
        let columns = vec![
            wide("Circuit", 1.4),
            wide("Ohm for each volt", 1.0),
            wide("Least to the chassis", 1.0),
        ];
        pages.table(columns, rows, "");
        pages.quiet(
            "UN R100 5.1.3. The last line is the one to keep with the contactors closed.",
        );
    }
}

/// Circuits with a fuse of their own.
fn branches(words: &Words<'_>, protected: &Protected, pages: &mut Pages) {
    if protected.branches.is_empty() {
        return;
    }
    pages.minor("Branches");
    let rows = protected.branches.iter().map(|b| {
        row([
            b.name.as_str().into(),
            b.cable.as_deref().map_or_else(Cell::unknown, Cell::from),
            words.maybe(b.asked.cable_rating_a, Dimension::Current),
            b.fuse.as_ref().map_or_else(Cell::unknown, |f| f.row.id.as_str().into()),
            words.maybe(b.fuse_carries_a, Dimension::Current),
            words.maybe(b.asked.current_a, Dimension::Current),
        ])
    });
    let columns = vec![
        wide("Branch", 1.0),
        wide("Cable", 1.2),
        wide("Cable carries", 1.0),
        wide("Fuse", 1.0),
        wide("Fuse carries", 1.0),
        wide("Current", 1.0),
    ];
    pages.table(columns, rows.collect(), "");
    for branch in &protected.branches {
        if let Some(of) = &branch.coordination {
            coordination(words, of, pages);
        }
    }
}
