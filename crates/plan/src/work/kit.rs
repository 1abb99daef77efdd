//! What is bought, made and packed: every part with its count per place, spares, cuts, cost.

use super::cutting;
use super::keys;
use crate::design::cuts::RunCut;
use crate::design::ends::{End, ScreenEnd, Stack};
use crate::design::plates::Plate;
use crate::design::protect::Protected;
use crate::design::settle::SizedRun;
use crate::given::build::GripHole;
use crate::given::parts::Parts;
use crate::given::shelf::{Row, Standing};
use physics::units::{Dimension, System, show};

/// The kit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kit {
    /// Parts in packing order: cable, lugs, sleeves, grips, fasteners, rings, plates, protection, labels.
    pub items: Vec<Item>,
    /// Pieces to cut from reels.
    pub cuts: Vec<Reel>,
    /// Cost of everything that has a price.
    pub cost: f64,
    /// Items without a price.
    pub unpriced: usize,
    /// Mass of everything that has one.
    pub mass_kg: f64,
}

/// What kind of thing an item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Cable by the metre.
    Cable,
    /// Lug.
    Lug,
    /// Sleeve, cut.
    Sleeve,
    /// Grip.
    Grip,
    /// Locknut of a grip.
    Locknut,
    /// Bolt.
    Bolt,
    /// Nut on a stud.
    Nut,
    /// Washer.
    Washer,
    /// O-ring.
    Oring,
    /// Entry plate, made.
    Plate,
    /// Spacer block, made.
    Block,
    /// Fuse.
    Fuse,
    /// Pre-charge or discharge resistor.
    Resistor,
    /// Label.
    Label,
}

/// One line of the kit.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Key used by steps and packing: "hex M8x16 8.8", "2/0 AWG M8", "258".
    pub part: String,
    /// What a person calls it.
    pub name: String,
    /// Kind.
    pub kind: Kind,
    /// Pieces used, without spares; for cable, pieces cut.
    pub count: u32,
    /// Spares packed on top, by the stated rule.
    pub spares: u32,
    /// Length in all, for cable and sleeve.
    pub length_mm: Option<f64>,
    /// Where they are used.
    pub uses: Vec<Use>,
    /// Price of one (of one metre for cable).
    pub price: Option<f64>,
    /// Cost of all, spares included.
    pub cost: Option<f64>,
    /// Mass of all.
    pub mass_g: Option<f64>,
    /// How far the part's values may be trusted.
    pub standing: Standing,
    /// Source key.
    pub source: String,
}

impl Item {
    /// Whether a price list means this item by `name`: its name in the kit, and no part of it.
    ///
    /// A sleeve is bought by the metre, so the length it is cut to may be left out.
    pub fn is(&self, name: &str) -> bool {
        self.part == name || self.bought_as() == name
    }

    /// The name it is bought and priced by.
    pub fn bought_as(&self) -> &str {
        match self.kind {
            Kind::Sleeve => self.part.split_once(", ").map_or(&self.part, |(sleeve, _)| sleeve),
            _ => &self.part,
        }
    }
}

/// Some of an item at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// "motor lugs", "motor plate".
    pub place: String,
    /// How many.
    pub count: u32,
}

/// One reel and what is cut from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reel {
    /// Cable id.
    pub cable: String,
    /// Its length.
    pub reel_mm: f64,
    /// Pieces in cutting order: name and length.
    pub pieces: Vec<(String, f64)>,
    /// Left on the reel.
    pub left_mm: f64,
}

/// Lists the kit.
pub fn list(
    parts: &Parts<'_>,
    sizes: &[SizedRun],
    cuts: &[RunCut],
    ends: &[End],
    plates: &[Plate],
    protection: Option<&Protected>,
) -> Kit {
    let mut gather = Gather { parts, items: Vec::new() };
    gather.cables(sizes, cuts);
    for end in ends {
        gather.end(end);
    }
    for plate in plates {
        gather.plate(plate);
    }
    if let Some(protected) = protection {
        gather.protection(protected);
    }
    gather.labels(ends);
    let reels = reels(parts, sizes, cuts);
    gather.finish(reels)
}

/// Items as they are found, before spares and prices.
struct Gather<'a> {
    parts: &'a Parts<'a>,
    items: Vec<Item>,
}

/// One find: what, whose values, where, how many.
struct Found<'a> {
    kind: Kind,
    part: String,
    name: String,
    row: Option<&'a Row>,
    place: String,
    count: u32,
    length_mm: Option<f64>,
}

impl Gather<'_> {
    fn add(&mut self, found: Found<'_>) {
        let uses = Use { place: found.place, count: found.count };
        if let Some(item) = self.items.iter_mut().find(|i| i.part == found.part) {
            item.count += uses.count;
            if let (Some(sum), Some(more)) = (&mut item.length_mm, found.length_mm) {
                *sum += more;
            }
            match item.uses.iter_mut().find(|u| u.place == uses.place) {
                Some(same) => same.count += uses.count,
                None => item.uses.push(uses),
            }
            return;
        }
        self.items.push(Item {
            part: found.part,
            name: found.name,
            kind: found.kind,
            count: uses.count,
            spares: 0,
            length_mm: found.length_mm,
            uses: vec![uses],
            price: found.row.and_then(|r| r.price),
            cost: None,
            mass_g: found.row.and_then(|r| r.mass_g),
            standing: found.row.map_or(Standing::CommonPractice, |r| r.standing),
            source: found
                .row
                .map_or_else(|| "common-practice".to_owned(), |r| r.source.clone()),
        });
    }

    fn cables(&mut self, sizes: &[SizedRun], cuts: &[RunCut]) {
        for ((run, sized), cut) in self.parts.runs.iter().zip(sizes).zip(cuts) {
            let (Some(cable), Some(cut_mm)) = (&sized.cable, cut.cut_mm) else { continue };
            let count = u32::try_from(run.cables.len()).expect("a run has few cables");
            self.add(Found {
                kind: Kind::Cable,
                part: keys::cable(cable),
                name: cable.row.name.clone(),
                row: Some(&cable.row),
                place: format!("run {}", run.run.id.value),
                count,
                length_mm: Some(cut_mm * f64::from(count)),
            });
            // The row's mass of a cable is per kilometre; the item carries grams per metre until the end.
            if let Some(item) = self.items.iter_mut().find(|i| i.part == keys::cable(cable)) {
                item.mass_g = Some(cable.mass_kg_per_km);
            }
        }
    }

    fn end(&mut self, end: &End) {
        let place = format!("{} lugs", spoken(&end.port));
        if let Some(lug) = &end.lug {
            self.one(Kind::Lug, keys::lug(lug), &lug.row, &place);
        }
        if let Some(fit) = &end.sleeve {
            self.add(Found {
                kind: Kind::Sleeve,
                part: keys::sleeve(fit),
                name: format!("{}, cut {} mm", fit.sleeve.row.name, fit.length_mm),
                row: Some(&fit.sleeve.row),
                place: place.clone(),
                count: 1,
                length_mm: Some(fit.length_mm),
            });
        }
        if let Some(grip) = &end.grip {
            let at_plate = format!("{} plate", spoken(&end.port));
            self.one(Kind::Grip, keys::grip(grip), &grip.row, &at_plate);
            if self.clear_hole(&end.port) {
                self.add(Found {
                    kind: Kind::Locknut,
                    part: keys::locknut(grip),
                    name: format!("Locknut {} for a grip", grip.thread),
                    row: None,
                    place: at_plate,
                    count: 1,
                    length_mm: None,
                });
            }
        }
        if let Some(stack) = &end.stack {
            self.stack(stack, 1, &place);
        }
        if let Some(screen) = &end.screen {
            self.screen(screen, &format!("{} screens", spoken(&end.port)));
        }
    }

    fn screen(&mut self, screen: &ScreenEnd, place: &str) {
        if let Some(thread) = &screen.bolt {
            self.add(Found {
                kind: Kind::Lug,
                part: keys::pigtail(thread),
                name: format!("Ring lug for the screen's pigtail, {thread}"),
                row: None,
                place: place.to_owned(),
                count: 1,
                length_mm: None,
            });
        }
        if let Some(fit) = &screen.cover {
            self.add(Found {
                kind: Kind::Sleeve,
                part: keys::sleeve(fit),
                name: format!("{}, cut {} mm", fit.sleeve.row.name, fit.length_mm),
                row: Some(&fit.sleeve.row),
                place: place.to_owned(),
                count: 1,
                length_mm: Some(fit.length_mm),
            });
        }
    }

    fn clear_hole(&self, port: &str) -> bool {
        let plate =
            self.parts.ports.iter().find(|p| p.name == port).and_then(|p| p.plate.as_ref());
        plate
            .and_then(|p| p.given.grip_hole.as_ref())
            .is_some_and(|hole| hole.value == GripHole::Clear)
    }

    fn stack(&mut self, stack: &Stack, count: u32, place: &str) {
        if let (Some(part), Some(bolt)) = (keys::bolt(stack), &stack.bolt) {
            let name = format!(
                "Bolt {}x{}, class {}, {} head, {} across flats",
                bolt.thread,
                stack.length_mm,
                stack.class.row.id,
                bolt.form,
                show(bolt.flats_mm, Dimension::Length, System::Metric)
            );
            self.many(Kind::Bolt, part, name, &bolt.row, place, count);
        }
        if let Some(nut) = &stack.nut {
            let name = nut.row.name.clone();
            self.many(Kind::Nut, keys::nut(nut), name, &nut.row, place, count);
        }
        if let Some(washer) = &stack.washer {
            let name = washer.row.name.clone();
            self.many(Kind::Washer, keys::washer(washer), name, &washer.row, place, count);
        }
    }

    fn plate(&mut self, plate: &Plate) {
        let place = format!("{} plate", spoken(&plate.port));
        self.made(Kind::Plate, keys::plate(&plate.port), "Entry plate", &plate.port, &place);
        if let Some(bolts) = &plate.bolts {
            self.stack(&bolts.stack, bolts.count, &place);
        }
        if let Some(seal) = &plate.seal {
            self.one(Kind::Oring, keys::oring(&seal.oring), &seal.oring.row, &place);
        }
        let Some(block) = &plate.block else { return };
        let place = format!("{} block", spoken(&plate.port));
        self.made(Kind::Block, keys::block(&plate.port), "Spacer block", &plate.port, &place);
        if let Some((bolt, count)) = &block.bolts {
            self.add(Found {
                kind: Kind::Bolt,
                part: bolt.clone(),
                name: format!("Bolt {}", bolt.trim_start_matches("bolt ")),
                row: None,
                place,
                count: *count,
                length_mm: None,
            });
        }
    }

    fn protection(&mut self, protected: &Protected) {
        let place = format!("run {}", protected.run);
        if let Some(fuse) = &protected.fuse {
            self.one(Kind::Fuse, keys::fuse(fuse), &fuse.row, &place);
        }
        let given = self.parts.build.protection.as_ref();
        let resistors = [
            ("pre-charge", given.and_then(|p| p.precharge_ohm.as_ref())),
            ("discharge", given.and_then(|p| p.discharge_ohm.as_ref())),
        ];
        for (what, ohm) in resistors {
            let Some(ohm) = ohm else { continue };
            let text = show(ohm.value, Dimension::Resistance, System::Metric);
            self.add(Found {
                kind: Kind::Resistor,
                part: keys::resistor(what, ohm.value),
                name: format!("Resistor for {what}, {text}"),
                row: None,
                place: place.clone(),
                count: 1,
                length_mm: None,
            });
        }
    }

    fn labels(&mut self, ends: &[End]) {
        for end in ends {
            self.add(Found {
                kind: Kind::Label,
                part: keys::label(&end.run, &end.cable),
                name: format!("Label {} {}", end.run, end.cable),
                row: None,
                place: format!("{} lugs", spoken(&end.port)),
                count: 1,
                length_mm: None,
            });
        }
        let mut ports: Vec<&str> = ends.iter().map(|e| e.port.as_str()).collect();
        ports.sort_unstable();
        ports.dedup();
        for port in ports {
            self.add(Found {
                kind: Kind::Label,
                part: keys::WARNING_LABEL.to_owned(),
                name: "Label: high voltage, orange".to_owned(),
                row: None,
                place: format!("{} cover", spoken(port)),
                count: 1,
                length_mm: None,
            });
        }
    }

    fn one(&mut self, kind: Kind, part: String, row: &Row, place: &str) {
        self.many(kind, part, row.name.clone(), row, place, 1);
    }

    fn many(
        &mut self,
        kind: Kind,
        part: String,
        name: String,
        row: &Row,
        place: &str,
        count: u32,
    ) {
        let found = Found {
            kind,
            part,
            name,
            row: Some(row),
            place: place.to_owned(),
            count,
            length_mm: None,
        };
        self.add(found);
    }

    fn made(&mut self, kind: Kind, part: String, what: &str, port: &str, place: &str) {
        let found = Found {
            kind,
            part,
            name: format!("{what} of {}", spoken(port)),
            row: None,
            place: place.to_owned(),
            count: 1,
            length_mm: None,
        };
        self.add(found);
    }

    fn finish(mut self, cuts: Vec<Reel>) -> Kit {
        self.items.sort_by_key(|i| i.kind);
        let spares = self.parts.shop.spares;
        let mut kit = Kit { items: self.items, cuts, cost: 0.0, unpriced: 0, mass_kg: 0.0 };
        for item in &mut kit.items {
            item.spares = spare_count(item.kind, item.count, spares);
            let stated = self.parts.build.prices.iter().find(|(key, _)| item.is(&key.value));
            item.price = stated.map(|(_, price)| *price).or(item.price);
            let with_spares = f64::from(item.count + item.spares);
            let amount = match item.length_mm {
                Some(length_mm) => {
                    length_mm / 1000.0 * with_spares / f64::from(item.count.max(1))
                }
                None => with_spares,
            };
            item.cost = item.price.map(|p| p * amount);
            item.mass_g = item.mass_g.map(|m| m * amount);
            kit.cost += item.cost.unwrap_or(0.0);
            kit.unpriced += usize::from(item.cost.is_none());
            kit.mass_kg += item.mass_g.unwrap_or(0.0) / 1000.0;
        }
        kit
    }
}

/// Small parts get the stated share, at least one: a dropped washer must not stop the job.
fn spare_count(kind: Kind, count: u32, share: f64) -> u32 {
    let small = matches!(
        kind,
        Kind::Lug | Kind::Sleeve | Kind::Bolt | Kind::Nut | Kind::Washer | Kind::Oring
    );
    if !small || share <= 0.0 {
        return 0;
    }
    // Shares are at most one and counts small, so the product fits.
    let spares = libm::ceil(f64::from(count) * share);
    (spares as u32).max(1)
}

/// "motor.phases" as a person says it.
pub fn spoken(port: &str) -> String {
    port.replace('.', " ")
}

fn reels(parts: &Parts<'_>, sizes: &[SizedRun], cuts: &[RunCut]) -> Vec<Reel> {
    let mut by_cable: Vec<(String, Vec<cutting::Piece>)> = Vec::new();
    for ((run, sized), cut) in parts.runs.iter().zip(sizes).zip(cuts) {
        let (Some(cable), Some(cut_mm)) = (&sized.cable, cut.cut_mm) else { continue };
        let pieces =
            run.cables.iter().map(|c| (format!("{} {}", run.run.id.value, c.from), cut_mm));
        match by_cable.iter_mut().find(|(id, _)| *id == cable.row.id) {
            Some((_, all)) => all.extend(pieces),
            None => by_cable.push((cable.row.id.clone(), pieces.collect())),
        }
    }
    let reel_mm = parts.shop.reel_mm;
    let mut reels = Vec::new();
    for (cable, pieces) in by_cable {
        for pieces in cutting::share(&pieces, reel_mm) {
            let used: f64 = pieces.iter().map(|p| p.1).sum();
            reels.push(Reel { cable: cable.clone(), reel_mm, pieces, left_mm: reel_mm - used });
        }
    }
    reels
}
