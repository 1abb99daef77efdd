//! One section for each entry plate: grips, bolts, ring and groove, the block behind it.

use physics::units::Dimension;
use plan::design::layout::{Laid, OneWay, Rule, SLACK_MM};
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
            // The sheets of a plate that is laid out have its groove enlarged.
            if plate.laid.is_none()
                && let Some(drawing) = draw::sheets::ring(plate, words.units)
            {
                pages.figure(drawing, "", "Section through the ring in its groove");
            }
        }
        None => pages.text("The ring and its groove are not settled."),
    }
    block(words, plate, pages);
    sheets(words, plate, pages);
}

/// The plate as laid out, and the sheets of plate and block.
fn sheets(words: &Words<'_>, plate: &Plate, pages: &mut Pages) {
    if let Some(laid) = &plate.laid {
        pages.minor("As laid out");
        pages.facts(2, laid_facts(words, laid));
        proofs(words, laid, pages);
    } else {
        pages.quiet(
            "This plate is not drawn, for its face is not surveyed; what stands above is as stated in the \
             document.",
        );
    }
    let caption = format!(
        "{}: reduced to this page; the sheet for the shop, at the scale it states, is in the folder that \
         `loomwright plates` writes, with DXF, STEP and a template at full size.",
        words.port(&plate.port)
    );
    for drawing in draw::papers::plate(words.plan, &plate.port) {
        pages.sheet(drawing, &caption, "Dimensioned drawing of the plate");
    }
    for drawing in draw::papers::block(words.plan, &plate.port) {
        pages.sheet(drawing, &caption, "Dimensioned drawing of the block behind the plate");
    }
}

fn laid_facts(words: &Words<'_>, laid: &Laid) -> Vec<(&'static str, Cell)> {
    let verdict = if laid.refused() {
        Cell::new("refused: not for cutting", Tone::Fails)
    } else {
        Cell::new("every distance is kept", Tone::Holds)
    };
    let one_way = match laid.one_way {
        OneWay::ByBolts => "one way only, by its bolts".to_owned(),
        OneWay::Turned { by_deg, notched: true } => {
            format!(
                "also turned by {by_deg:.0} degrees; the notch and marks say which way is right"
            )
        }
        OneWay::Turned { by_deg, notched: false } => {
            format!("also turned by {by_deg:.0} degrees; only its marks say which way is right")
        }
    };
    let mut facts = vec![
        ("The layout", verdict),
        ("Goes on", one_way.into()),
        ("Grips apart", words.maybe(laid.pitch_mm, Dimension::Length)),
    ];
    if let Some(stiff) = &laid.stiff {
        facts.push(("Lifts under the seal", words.length(stiff.gap_mm).into()));
        facts.push(("May lift", words.length(stiff.gap_mm_max).into()));
    }
    if let Some(cord) = laid.seal.as_ref().and_then(|s| s.cord_mm) {
        facts.push(("Cord for the ring, cut", words.length(cord).into()));
    }
    facts
}

/// The tightest distance of each rule, as measured on the part.
fn proofs(words: &Words<'_>, laid: &Laid, pages: &mut Pages) {
    const RULES: [(Rule, &str); 8] = [
        (Rule::Fit, "holes meet the housing's"),
        (Rule::GrooveOnLand, "groove on the land"),
        (Rule::GrooveRadius, "ring follows the turns"),
        (Rule::RingLength, "ring as long as its groove"),
        (Rule::SpannerRoom, "spanners turn"),
        (Rule::GripWall, "metal around a grip"),
        (Rule::EdgeDistance, "metal around a bolt"),
        (Rule::Thickness, "metal under groove, head and thread"),
    ];
    let rows = RULES.into_iter().filter_map(|(rule, name)| {
        let proof = laid.tightest(rule)?;
        let held = proof.spare_mm() >= -SLACK_MM;
        let tone = if held { Tone::Plain } else { Tone::Fails };
        let mut what = Cell::from(proof.what.as_str());
        if let Some(cure) = laid.cure(rule).filter(|_| !held) {
            what = what.under(format!("To do: {cure}."));
        }
        Some(row([
            name.into(),
            what,
            Cell::new(words.length(proof.value_mm), tone),
            words.length(proof.least_mm).into(),
        ]))
    });
    let columns = vec![
        wide("Rule", 1.2),
        wide("Tightest", 1.6),
        wide("Measured on the part", 1.0),
        wide("At least", 1.0),
    ];
    pages.table(columns, rows.collect(), "Nothing could be measured");
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
