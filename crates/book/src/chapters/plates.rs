//! One section for each entry plate: grips, bolts, ring and groove, the block behind it.

use physics::units::Dimension;
use plan::design::plates::{Plate, Seal};

use super::ends::{fastener, limits, spanner};
use crate::model::{Cell, Pages, Tone, narrow, row, wide};
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    if words.plan.plates.is_empty() {
        pages.text("The build has no entry plates.");
    }
    for (i, plate) in words.plan.plates.iter().enumerate() {
        let title = words.port(&plate.port);
        if i == 0 {
            pages.heading(&title)
        } else {
            pages.page(&title)
        }
        one(words, plate, pages);
    }
}

fn one(words: &Words<'_>, plate: &Plate, pages: &mut Pages) {
    let material = plate.material.as_ref().map(|m| m.row.name.as_str());
    pages.facts(
        2,
        vec![
            ("Material", material.map_or_else(Cell::unknown, Cell::from)),
            ("Thickness", words.maybe(plate.thickness_mm, Dimension::Length)),
            (
                "Hole for a grip",
                plate.grip_hole.as_deref().map_or_else(Cell::unknown, Cell::from),
            ),
            ("Grip pitch", words.maybe(plate.grip_pitch_mm, Dimension::Length)),
        ],
    );
    let rows = plate.grips.iter().map(|g| {
        row([
            Cell::new(g.cable.as_str(), Tone::Strong),
            g.run.as_str().into(),
            g.grip.row.name.as_str().into(),
            words.flats(g.grip.flats_mm).into(),
            Cell::new(words.torque(g.grip.torque_nm), Tone::Strong),
        ])
    });
    let rows = rows.collect();
    pages.table(
        vec![
            narrow("Cable"),
            narrow("Run"),
            wide("Grip", 1.4),
            wide("Across flats", 1.0),
            wide("Torque of body and nut", 1.0),
        ],
        rows,
        "No grips",
    );
    bolts(words, plate, pages);
    match &plate.seal {
        Some(seal) => {
            seal_facts(words, seal, pages);
            if let Some(drawing) = draw::sheets::ring(plate, words.units) {
                pages.figure(drawing, "", "Section through the ring in its groove");
            }
        }
        None => pages.text("The ring and its groove are not settled."),
    }
    block(words, plate, pages);
}

fn bolts(words: &Words<'_>, plate: &Plate, pages: &mut Pages) {
    pages.minor("Plate bolts");
    let Some(bolts) = &plate.bolts else {
        pages.text("The plate's bolts are not settled.");
        return;
    };
    let stack = &bolts.stack;
    let washer = stack.washer.as_ref().map(|w| w.row.name.as_str());
    pages.facts(
        2,
        vec![
            ("Bolts", format!("{} x {}", bolts.count, fastener(stack)).into()),
            ("Class", stack.class.row.id.as_str().into()),
            ("Tool", spanner(words, stack).into()),
            ("Washer", washer.map_or_else(|| Cell::new("none", Tone::Quiet), Cell::from)),
            ("Engagement", words.length(stack.engagement_mm).into()),
            ("Needed", words.length(stack.engagement_mm_min).into()),
            ("Thread left", words.length(stack.left_mm).into()),
            ("Torque", words.chosen(bolts.torque.as_ref())),
        ],
    );
    if let Some(torque) = &bolts.torque {
        limits(words, torque, pages);
    }
}

fn seal_facts(words: &Words<'_>, seal: &Seal, pages: &mut Pages) {
    let part = |share: f64| words.both(share, Dimension::Ratio);
    let [least, nominal, most] = seal.squeeze;
    let ring = &seal.oring;
    let depth = format!(
        "{} plus or minus {}",
        words.length(seal.groove_depth_mm),
        words.length(seal.groove_tolerance_mm)
    );
    pages.minor("Ring and groove");
    pages.facts(
        2,
        vec![
            ("O-ring", ring.row.name.as_str().into()),
            ("Inside diameter", words.length(ring.inside_mm).into()),
            ("Section", words.length(ring.section_mm).into()),
            ("Groove depth", depth.into()),
            ("Groove width", words.length(seal.groove_width_mm).into()),
            ("Groove inside", words.length(seal.groove_inside_mm).into()),
            (
                "Squeeze",
                format!("{} ({} to {})", part(nominal), part(least), part(most)).into(),
            ),
            ("Fill", format!("{}, at most {}", part(seal.fill[0]), part(seal.fill[1])).into()),
            ("Stretch", part(seal.stretch).into()),
            ("Force of the ring", words.both(seal.load_n, Dimension::Force).into()),
        ],
    );
}

fn block(words: &Words<'_>, plate: &Plate, pages: &mut Pages) {
    let Some(block) = &plate.block else { return };
    let material = block.material.as_ref().map(|m| m.row.name.as_str());
    let bolts = block.bolts.as_ref().map(|(name, count)| format!("{count} x {name}"));
    pages.minor("Block behind the plate");
    pages.facts(
        2,
        vec![
            ("Material", material.map_or_else(Cell::unknown, Cell::from)),
            ("Bolts", bolts.map_or_else(Cell::unknown, Cell::from)),
            ("Torque", words.maybe(block.torque_nm, Dimension::Torque)),
            (
                "Spanner or key",
                block.flats_mm.map_or_else(Cell::unknown, |mm| words.flats(mm).into()),
            ),
        ],
    );
}
