//! The entry plates: seal, bolts, grips. Where a face is surveyed they are laid out on it, else they are as stated.

mod on_face;

use on_face::Unlaid;

use physics::laws::oring::{self, Groove, Ring, Sized};
use physics::laws::oring_heat::Swing;
use physics::laws::oring_load;
use physics::laws::thread::Thread;
use physics::units::{Dimension, show_both};

use super::ends::End;
use super::joint::{self, Joint, Stack, Stated, TorqueChoice, Turned, Wanted};
use super::layout::{Laid, Proof, Rule, lay_block};
use super::survey::SurveyedFace;
use super::together::together;
use crate::finding::{About, Notes, Quantity, Worked};
use crate::given::build::{Block, GripHole};
use crate::given::parts::{Parts, PlateParts, PortParts};
use space::part::FlatPart;

use crate::given::shelf::{Grip, KeptPlate, Material, Oring, PlateRecord, Row, Standing};

/// One entry plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// "device.port".
    pub port: String,
    /// Material.
    pub material: Option<Material>,
    /// Thickness.
    pub thickness_mm: Option<f64>,
    /// Grips it carries: run, cable, grip.
    pub grips: Vec<PlateGrip>,
    /// Centre distance of neighbouring grips.
    pub grip_pitch_mm: Option<f64>,
    /// Hole for a grip: tapped thread, or clearance diameter.
    pub grip_hole: Option<String>,
    /// Bolts.
    pub bolts: Option<PlateBolts>,
    /// Seal.
    pub seal: Option<Seal>,
    /// Block behind it, held by its own bolts.
    pub block: Option<BlockFit>,
    /// The plate as laid out on its face, where that is surveyed.
    pub laid: Option<Laid>,
    /// What is missing to lay it out, where a face is surveyed.
    pub missing: Vec<String>,
    /// The kept plate it is, where the build names one.
    pub kept: Option<KeptUse>,
}

/// A kept plate in use.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptUse {
    /// Its id on the shelf.
    pub id: String,
    /// Its record.
    pub record: PlateRecord,
    /// Why it is none for this face, if so.
    pub misfit: Option<String>,
}

/// A grip in a plate.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateGrip {
    /// Run id.
    pub run: String,
    /// Cable label.
    pub cable: String,
    /// The grip.
    pub grip: Grip,
}

/// The plate's bolts.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateBolts {
    /// How many.
    pub count: u32,
    /// Each one's stack.
    pub stack: Stack,
    /// Torque.
    pub torque: Option<TorqueChoice>,
}

/// An O-ring in its groove.
#[derive(Clone, Debug, PartialEq)]
pub struct Seal {
    /// Ring.
    pub oring: Oring,
    /// Groove depth, nominal.
    pub groove_depth_mm: f64,
    /// Groove width.
    pub groove_width_mm: f64,
    /// Groove inside diameter.
    pub groove_inside_mm: f64,
    /// Tolerance of the depth.
    pub groove_tolerance_mm: f64,
    /// Squeeze: least, nominal, most, as parts of the section.
    pub squeeze: [f64; 3],
    /// Fill of the groove: nominal and most.
    pub fill: [f64; 2],
    /// Stretch of the inside diameter; none where the groove's is not stated.
    pub stretch: f64,
    /// Force of the ring per length at its most squeeze.
    pub load_n_per_mm: f64,
    /// Force of the whole ring at its most squeeze.
    pub load_n: f64,
    /// Squeeze when cold and fill when hot.
    pub swing: Option<Swing>,
}

/// A spacer block and what holds it.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockFit {
    /// Its material.
    pub material: Option<Material>,
    /// Kit name of its bolts: "bolt hex M5x20", and how many.
    pub bolts: Option<(String, u32)>,
    /// Torque of its bolts.
    pub torque_nm: Option<f64>,
    /// Across flats (or key) of its bolts.
    pub flats_mm: Option<f64>,
    /// The block as a part, where face, thickness and places of its bolts are known.
    pub part: Option<FlatPart>,
    /// Its distances.
    pub proofs: Vec<Proof>,
}

impl BlockFit {
    /// The distance with least to spare among those that some rules hold.
    pub fn tightest(&self, rules: &[Rule]) -> Option<&Proof> {
        let of = self.proofs.iter().filter(|p| rules.contains(&p.rule));
        of.min_by(|a, b| a.spare_mm().total_cmp(&b.spare_mm()))
    }
}

/// A plate as laid out, to be kept under a name; its record is still to be filled. None where it has no
/// layout, no known material or no seal.
pub fn keep(plate: &Plate, id: &str) -> Option<KeptPlate> {
    let (laid, material) = (plate.laid.as_ref()?, plate.material.as_ref()?);
    let (laid_seal, seal) = (laid.seal.as_ref()?, plate.seal.as_ref()?);
    let groove = laid.part.grooves.first()?;
    let ring = &laid_seal.oring;
    Some(KeptPlate {
        row: Row {
            id: id.to_owned(),
            name: format!("entry plate {id}"),
            source: "shop".to_owned(),
            standing: Standing::Shop,
            note: None,
            price: None,
            mass_g: None,
        },
        material: material.row.id.clone(),
        thickness_mm: laid.part.thickness_mm,
        outline: laid.part.outline.clone(),
        holes: laid.part.holes.clone(),
        groove: groove.middle.clone(),
        groove_depth_mm: groove.depth_mm,
        groove_width_mm: groove.width_mm,
        groove_tolerance_mm: seal.groove_tolerance_mm,
        oring: laid_seal.cord_mm.is_none().then(|| ring.row.id.clone()),
        cord_section_mm: laid_seal.cord_mm.map(|_| ring.section_mm),
        marks: laid.part.marks.clone(),
        record: PlateRecord::default(),
    })
}

/// Depth tolerance of a milled groove where none is stated (common practice).
const GROOVE_TOLERANCE_MM: f64 = 0.05;
/// Hardness of a ring where none is stated: the commonest compound (common practice).
const HARDNESS_SHORE_A: f64 = 70.0;

/// Fits the plates; those whose face is surveyed are laid out on it.
pub fn fit(
    parts: &Parts<'_>,
    ends: &[End],
    faces: &[SurveyedFace],
    notes: &mut Notes,
) -> Vec<Plate> {
    let plated: Vec<(&PortParts<'_>, &PlateParts<'_>)> =
        parts.ports.iter().filter_map(|port| Some((port, port.plate.as_ref()?))).collect();
    let all = together(&plated, |(port, given)| {
        let mut notes = Notes::default();
        let plate = fit_one(parts, port, given, (ends, faces), &mut notes);
        (plate, notes)
    });
    let mut plates = Vec::new();
    for (plate, noted) in all {
        plates.push(plate);
        notes.take(noted);
    }
    plates
}

fn fit_one(
    parts: &Parts<'_>,
    port: &PortParts<'_>,
    given: &PlateParts<'_>,
    (ends, faces): (&[End], &[SurveyedFace]),
    notes: &mut Notes,
) -> Plate {
    let face = faces.iter().find(|f| f.port == port.name);
    let mut kept = given.kept.map(|k| KeptUse {
        id: k.row.id.clone(),
        record: k.record.clone(),
        misfit: None,
    });
    let (laid, missing) = match face.map(|f| on_face::lay(parts, port, given, f, ends, notes)) {
        Some(Ok(laid)) => (Some(laid), Vec::new()),
        Some(Err(Unlaid::Misfit(why))) => {
            kept.iter_mut().for_each(|k| k.misfit = Some(why.clone()));
            (None, Vec::new())
        }
        Some(Err(Unlaid::Missing(missing))) => (None, missing),
        None => (None, Vec::new()),
    };
    let stated_mm = given.given.thickness_mm.as_ref().map(|t| t.value);
    let stated_pitch_mm = given.given.grip_pitch_mm.as_ref().map(|p| p.value);
    let thickness_mm = stated_mm.or(laid.as_ref().map(|l| l.part.thickness_mm));
    let count = laid.as_ref().and(face).map(|f| f.holes.len() as u32);
    Plate {
        port: port.name.clone(),
        material: given.material.cloned(),
        thickness_mm,
        grips: grips(port, ends),
        grip_pitch_mm: laid.as_ref().map_or(stated_pitch_mm, |l| l.pitch_mm),
        grip_hole: grip_hole(parts, port, given, ends),
        bolts: bolts(parts, port, given, (thickness_mm, count), notes),
        seal: seal(parts, port, given, laid.as_ref(), notes),
        block: port.port.block.as_ref().map(|b| block(parts, port, b, face, notes)),
        laid,
        missing,
        kept,
    }
}

fn key(port: &PortParts<'_>, key: &str) -> String {
    format!("device.{}.port.{}.{key}", port.device.id.value, port.port.id)
}

fn grips(port: &PortParts<'_>, ends: &[End]) -> Vec<PlateGrip> {
    let here = ends.iter().filter(|e| e.port == port.name);
    here.filter_map(|end| {
        let grip = end.grip.clone()?;
        Some(PlateGrip { run: end.run.clone(), cable: end.cable.clone(), grip })
    })
    .collect()
}

/// "tapped M32x1.5" or "clear 32.5 mm (1.280 in)".
fn grip_hole(
    parts: &Parts<'_>,
    port: &PortParts<'_>,
    plate: &PlateParts<'_>,
    ends: &[End],
) -> Option<String> {
    let hole = plate.given.grip_hole.as_ref()?.value;
    let here = ends.iter().find(|e| e.port == port.name && e.grip.is_some());
    let thread = match &plate.given.grip_thread {
        Some(stated) => stated.value.clone(),
        None => here.and_then(|e| e.grip.as_ref()).map(|g| g.thread.clone())?,
    };
    match hole {
        GripHole::Tapped => Some(format!("tapped {thread}")),
        GripHole::Clear => {
            let row = parts.shelf.holes.iter().find(|h| h.row.id == thread);
            let clear_mm = match row {
                Some(row) => row.clearance_mm,
                // EN 50262: the entry thread's diameter and half a millimetre.
                None => Thread::parse(&thread).ok()?.diameter_mm + 0.5,
            };
            Some(format!("clear {}", show_both(clear_mm, Dimension::Length, parts.units)))
        }
    }
}

/// What is stated about a plate's bolts.
fn wanted<'a>(parts: &Parts<'_>, port: &PortParts<'a>, plate: &PlateParts<'a>) -> Wanted<'a> {
    Wanted {
        place: format!("the plate of {}", port.name),
        keys: key(port, "plate."),
        head: &plate.given.head,
        washer: &plate.given.washer,
        class_named: &plate.given.bolt_class,
        class: plate.class,
        units: parts.units,
    }
}

fn bolts(
    parts: &Parts<'_>,
    port: &PortParts<'_>,
    plate: &PlateParts<'_>,
    (thickness_mm, holes): (Option<f64>, Option<u32>),
    notes: &mut Notes,
) -> Option<PlateBolts> {
    let joint = plate_joint(parts, port, plate, thickness_mm, notes)?;
    let (_, length_mm) = joint::written_mm(&plate.given.bolt.as_ref()?.value)?;
    // A surveyed face has as many bolts as it has holes.
    let count = holes.or(plate.given.bolt_count.as_ref().map(|c| c.value))?;
    let stated = Stated {
        by_build_nm: None,
        by_maker_nm: plate.given.torque_nm.as_ref().map(|t| t.value),
        maker: "housing's maker",
    };
    let torque = joint.choose_torque(joint.engagement_mm(length_mm), &stated);
    let stack = joint.stack(length_mm, torque.as_ref().map(|t| t.preload_n));
    let (of, about) = (format!("the plate of {}", port.name), About::port(&port.name));
    joint::note_work(&of, &about, &joint, &stack, torque.as_ref(), notes);
    Some(PlateBolts { count, stack, torque })
}

/// The joint of a plate's bolt in the housing, if everything it needs is known.
pub(crate) fn plate_joint<'a>(
    parts: &Parts<'a>,
    port: &PortParts<'a>,
    plate: &PlateParts<'a>,
    thickness_mm: Option<f64>,
    notes: &mut Notes,
) -> Option<Joint<'a>> {
    let given = plate.given;
    let (diameter_mm, _) = joint::written_mm(&given.bolt.as_ref()?.value)?;
    let thread = Thread::parse(&format!("M{diameter_mm}")).ok()?;
    let designation = thread.designation();
    let shelf = parts.shelf;
    let wanted = wanted(parts, port, plate);
    let turned = Turned::Bolt(wanted.head(shelf, &designation, notes)?);
    let class = wanted.class(shelf, &turned, notes)?;
    let hole = shelf.holes.iter().find(|h| h.row.id == designation);
    let sunk_mm = if given.counterbore.as_ref().is_some_and(|c| c.value) {
        let head = wanted.head(shelf, &designation, notes)?;
        let under = wanted.washer(shelf, &turned, &designation, f64::INFINITY, notes);
        head.head_height_mm + under.map_or(0.0, |w| w.thickness_mm)
    } else {
        0.0
    };
    let ply_mm = thickness_mm? - sunk_mm;
    let depth_mm = given.thread_depth_mm.as_ref()?.value;
    let friction = parts.shop.friction;
    (ply_mm > 0.0 && depth_mm > 0.0 && friction >= 0.0).then(|| Joint {
        thread,
        turned,
        class,
        class_stated: given.bolt_class.is_some(),
        washer: wanted.washer(shelf, &turned, &designation, f64::INFINITY, notes),
        ply_mm,
        // Medium clearance holes are about a tenth wider than the bolt.
        hole_mm: hole.map_or(1.1 * diameter_mm, |h| h.clearance_mm),
        width_mm: None,
        ply: plate.material,
        pad: None,
        threaded: plate.thread_material,
        start_mm: 0.0,
        depth_mm,
        friction,
    })
}

/// A groove as stated: depth, width, inside diameter, depth tolerance.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Cut {
    depth_mm: f64,
    width_mm: f64,
    inside_mm: Option<f64>,
    tolerance_mm: f64,
}

/// Tolerance of the groove's depth: as stated, else what a mill holds.
fn groove_tolerance_mm(port: &PortParts<'_>, plate: &PlateParts<'_>, notes: &mut Notes) -> f64 {
    plate.given.groove_tolerance_mm.as_ref().map_or_else(
        || {
            notes.assume(
                &format!("tolerance of the groove's depth at {}", port.name),
                "0.05 mm (0.002 in) either way",
                "what a milling machine in good order holds (common practice, no source)",
                &key(port, "plate.groove-tolerance"),
            );
            GROOVE_TOLERANCE_MM
        },
        |t| t.value,
    )
}

fn cut(port: &PortParts<'_>, plate: &PlateParts<'_>, notes: &mut Notes) -> Option<Cut> {
    let given = plate.given;
    let depth_mm = given.groove_depth_mm.as_ref()?.value;
    let width_mm = given.groove_width_mm.as_ref()?.value;
    let tolerance_mm = groove_tolerance_mm(port, plate, notes);
    let inside_mm = given.groove_inside_mm.as_ref().map(|i| i.value);
    let makes_sense = tolerance_mm >= 0.0
        && depth_mm > tolerance_mm
        && width_mm > 0.0
        && inside_mm.is_none_or(|i| i > 0.0);
    makes_sense.then_some(Cut { depth_mm, width_mm, inside_mm, tolerance_mm })
}

fn laid(ring: &Oring, cut: &Cut) -> Option<oring::Fit> {
    let inside = Sized { mm: ring.inside_mm, tol_mm: ring.inside_tol_mm };
    let section = Sized { mm: ring.section_mm, tol_mm: ring.section_tol_mm };
    let tolerated = |s: Sized| s.tol_mm >= 0.0 && s.mm > s.tol_mm;
    (tolerated(inside) && tolerated(section)).then(|| {
        oring::fit(
            &Ring { inside, section },
            &Groove {
                depth: Sized { mm: cut.depth_mm, tol_mm: cut.tolerance_mm },
                width: Sized::exact(cut.width_mm),
                inside: cut.inside_mm.map(Sized::exact),
            },
        )
    })
}

/// The ring: as stated, or the one on the shelf that suits the groove, said aloud.
fn ring<'a>(
    parts: &Parts<'a>,
    port: &PortParts<'_>,
    plate: &PlateParts<'a>,
    cut: &Cut,
    notes: &mut Notes,
) -> Option<&'a Oring> {
    if plate.given.oring.is_some() {
        return plate.oring;
    }
    cut.inside_mm?;
    let (least, usual, most) = oring::SQUEEZE_LIMITS;
    let suits = |ring: &&Oring| {
        let standard = oring::face_groove(ring.section_mm).is_some();
        standard
            && laid(ring, cut).is_some_and(|fit| {
                least <= fit.squeeze.least
                    && fit.squeeze.most <= most
                    && fit.fill.most <= 1.0
                    && fit
                        .stretch
                        .is_some_and(|s| 0.0 <= s.nominal && s.nominal <= oring::STRETCH_MAX)
            })
    };
    let off = |ring: &Oring| {
        laid(ring, cut).map_or((f64::INFINITY, 0.0), |fit| {
            let stretch = fit.stretch.map_or(0.0, |s| s.nominal);
            ((fit.squeeze.nominal - usual).abs(), stretch)
        })
    };
    let best = parts.shelf.orings.iter().filter(suits).min_by(|a, b| {
        // Rings of one section differ in squeeze only by their stretch: to the percent they are equal.
        let (a, b) = (off(a), off(b));
        ((a.0 * 100.0).round(), a.1).partial_cmp(&((b.0 * 100.0).round(), b.1)).expect("finite")
    })?;
    notes.assume(
        &format!("O-ring of the plate of {}", port.name),
        &best.row.id,
        "the ring whose section suits the groove's depth and whose length suits it with least stretch",
        &key(port, "plate.o-ring"),
    );
    Some(best)
}

/// Hardness of the ring, within what its load can be computed for.
pub(crate) fn hardness_shore_a(
    port: &PortParts<'_>,
    plate: &PlateParts<'_>,
    notes: &mut Notes,
) -> f64 {
    let stated = plate.given.hardness_shore_a.as_ref().map(|h| h.value);
    stated.unwrap_or_else(|| {
        notes.assume(
            &format!("hardness of the O-ring at {}", port.name),
            "70 Shore A",
            "the commonest compound (common practice, no source)",
            &key(port, "plate.hardness"),
        );
        HARDNESS_SHORE_A
    })
}

fn seal(
    parts: &Parts<'_>,
    port: &PortParts<'_>,
    plate: &PlateParts<'_>,
    on_face: Option<&Laid>,
    notes: &mut Notes,
) -> Option<Seal> {
    let (ring, cut) = match on_face {
        Some(layout) => on_face::ring_and_cut(layout, groove_tolerance_mm(port, plate, notes))?,
        None => {
            let cut = cut(port, plate, notes)?;
            (ring(parts, port, plate, &cut, notes)?.clone(), cut)
        }
    };
    let ring = &ring;
    let fit = laid(ring, &cut)?;
    let hardness = hardness_shore_a(port, plate, notes).clamp(1.0, 99.0);
    let most = fit.squeeze.most.clamp(0.0, 0.99);
    let load_n_per_mm = oring_load::load_n_per_mm(ring.section_mm, hardness, most);
    let inside_mm = cut.inside_mm.unwrap_or(ring.inside_mm);
    let length_mm = std::f64::consts::PI * (inside_mm + ring.section_mm);
    let mut seal = Seal {
        oring: ring.clone(),
        groove_depth_mm: cut.depth_mm,
        groove_width_mm: cut.width_mm,
        groove_inside_mm: inside_mm,
        groove_tolerance_mm: cut.tolerance_mm,
        squeeze: [fit.squeeze.least, fit.squeeze.nominal, fit.squeeze.most],
        fill: [fit.fill.nominal, fit.fill.most],
        stretch: fit.stretch.map_or(0.0, |s| s.nominal),
        load_n_per_mm,
        load_n: load_n_per_mm * length_mm,
        swing: None,
    };
    seal.swing = on_face::swing(&seal, plate);
    note_seal(port, &seal, length_mm, notes);
    Some(seal)
}

fn note_seal(port: &PortParts<'_>, seal: &Seal, length_mm: f64, notes: &mut Notes) {
    let mm = |v: f64| Quantity::new(v, Dimension::Length);
    let share = |v: f64| Quantity::new(v, Dimension::Ratio);
    let section = ("section", mm(seal.oring.section_mm));
    let section_tolerance = ("section tolerance", mm(seal.oring.section_tol_mm));
    let depth = ("depth", mm(seal.groove_depth_mm));
    let depth_tolerance = ("depth tolerance", mm(seal.groove_tolerance_mm));
    let guide = "oring-guide-groove";
    let mut work = |what: &str, value, law, inputs, source| {
        let what = format!("{what} of the O-ring at {}", port.name);
        notes.work(Worked { what, about: About::port(&port.name), value, law, inputs, source });
    };
    let all = vec![section, section_tolerance, depth, depth_tolerance];
    for (what, value) in ["squeeze, least", "squeeze", "squeeze, most"].iter().zip(seal.squeeze)
    {
        let law = "squeeze = (d - t) / d, d thinned by stretch to d / sqrt(1 + e)";
        work(what, share(value), law, all.clone(), guide);
    }
    let width = ("width", mm(seal.groove_width_mm));
    for (what, value) in ["fill", "fill, most"].iter().zip(seal.fill) {
        let inputs = [all.clone(), vec![width]].concat();
        work(what, share(value), "fill = (pi d^2 / 4) / (t b)", inputs, guide);
    }
    work(
        "stretch",
        share(seal.stretch),
        "e = groove inside / ring inside - 1",
        vec![
            ("groove inside", mm(seal.groove_inside_mm)),
            ("ring inside", mm(seal.oring.inside_mm)),
        ],
        guide,
    );
    work(
        "load per length",
        Quantity::new(seal.load_n_per_mm, Dimension::LineLoad),
        "f = E d (1.25 C^1.5 + 50 C^6), E by hardness (Gent)",
        vec![section, ("squeeze, most", share(seal.squeeze[2]))],
        "lindley-1967",
    );
    work(
        "load",
        Quantity::new(seal.load_n, Dimension::Force),
        "F = f pi (groove inside + section)",
        vec![
            ("f", Quantity::new(seal.load_n_per_mm, Dimension::LineLoad)),
            ("length", mm(length_mm)),
        ],
        "lindley-1967",
    );
}

fn block(
    parts: &Parts<'_>,
    port: &PortParts<'_>,
    block: &Block,
    face: Option<&SurveyedFace>,
    notes: &mut Notes,
) -> BlockFit {
    let drawn = face.and_then(|f| on_face::block_wanted(parts, port, f)).map(|w| lay_block(&w));
    let (part, proofs) =
        drawn.map_or((None, Vec::new()), |(part, proofs)| (Some(part), proofs));
    let written = block.bolt.as_ref().and_then(|b| joint::written_mm(&b.value));
    let wanted = Wanted {
        place: format!("the block of {}", port.name),
        keys: key(port, "block."),
        head: &block.head,
        washer: &None,
        class_named: &None,
        class: None,
        units: parts.units,
    };
    let head = written.and_then(|(diameter_mm, _)| {
        wanted.head(parts.shelf, &format!("M{diameter_mm}"), notes)
    });
    let count = block.bolt_count.as_ref().map(|c| c.value);
    let bolts = block
        .bolt
        .as_ref()
        .zip(head)
        .zip(count)
        .map(|((bolt, head), count)| (format!("bolt {} {}", head.form, bolt.value), count));
    BlockFit {
        material: port.block_material.cloned(),
        bolts,
        torque_nm: block.torque_nm.as_ref().map(|t| t.value),
        flats_mm: head.map(|h| h.flats_mm),
        part,
        proofs,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Plan;
    use crate::checks::marked::{BASE, merge, planned};
    use crate::finding::Verdict;
    use crate::given::shelf_read::standard;
    use proptest::prelude::*;

    fn plate<'a>(plan: &'a Plan, port: &str) -> &'a Plate {
        plan.plates.iter().find(|p| p.port == port).expect("the port has a plate")
    }

    fn dc(patch: &str) -> Plate {
        let text = merge(BASE, &format!("[device.inverter.port.dc.plate]\n{patch}"));
        plate(&planned(&text), "inverter.dc").clone()
    }

    #[test]
    fn a_plate_carries_the_grips_of_its_cables() {
        let plan = planned(BASE);
        let cables = |port| -> Vec<String> {
            plate(&plan, port).grips.iter().map(|g| format!("{} {}", g.run, g.cable)).collect()
        };
        assert_eq!(cables("motor.phases"), ["phases U", "phases V", "phases W"]);
        assert_eq!(cables("inverter.dc"), ["dc +", "dc -"]);
        assert!(plan.plates.iter().all(|p| p.port != "battery.main"));
    }

    #[test]
    fn holes_for_grips_are_tapped_or_clear() {
        assert_eq!(dc("grip-hole = \"tapped\"").grip_hole.as_deref(), Some("tapped M25x1.5"));
        // EN 50262 table 1 (read): clearance hole of an M25 entry thread 25.5 mm, of M32 32.5 mm.
        let clear = |patch: &str| dc(&format!("grip-hole = \"clear\"\n{patch}")).grip_hole;
        assert_eq!(clear("").as_deref(), Some("clear 25.5 mm (1.004 in)"));
        assert_eq!(
            clear("grip-thread = \"M32x1.5\"").as_deref(),
            Some("clear 32.5 mm (1.280 in)")
        );
        assert_eq!(dc("grip-hole = absent").grip_hole, None);
    }

    #[test]
    fn bolts_reach_through_washer_and_plate_into_the_housing() {
        let bolts = dc("").bolts.expect("fully stated");
        assert_eq!(bolts.count, 4);
        // M6x25 through a washer of 1.6 mm and a plate of 12 mm.
        assert!((bolts.stack.engagement_mm - 11.4).abs() < 1e-9);
        assert!((bolts.stack.left_mm - 2.6).abs() < 1e-9);
        // The published rule for 8.8 in aluminium, 2 d, allows 11.4/12 of the bolt's own torque.
        let torque = bolts.torque.expect("a known housing");
        assert_eq!(torque.governed_by, "engagement rule for aluminium-cast");
        let bolt =
            torque.limits.iter().find(|l| l.what == "bolt 8.8").expect("the bolt limits");
        assert!((torque.torque_nm - bolt.torque_nm * 11.4 / 12.0).abs() < 0.1);
        // What its maker states is used where it is less.
        let stated = dc("torque = \"8 N m\"").bolts.and_then(|b| b.torque).expect("a torque");
        assert_eq!(
            (stated.torque_nm, stated.governed_by.as_str()),
            (8.0, "stated by the housing's maker")
        );
    }

    #[test]
    fn what_is_missing_is_left_out() {
        for key in ["bolt", "bolt-count", "thickness", "thread-depth"] {
            assert_eq!(dc(&format!("{key} = absent")).bolts, None, "{key}");
        }
        for key in ["groove-depth", "groove-width"] {
            assert_eq!(dc(&format!("{key} = absent")).seal, None, "{key}");
        }
    }

    #[test]
    fn a_seal_is_its_ring_in_its_groove() {
        let seal = dc("").seal.expect("fully stated");
        // AS568-258 (read): 151.99 mm by 3.53 mm with 0.10 mm of tolerance, in a groove of 154 mm, 2.64 mm deep.
        let stretch = 154.0 / 151.99 - 1.0;
        assert!((seal.stretch - stretch).abs() < 1e-9);
        let thinned = 3.53 / (1.0 + stretch).sqrt();
        assert!((seal.squeeze[1] - (1.0 - 2.64 / thinned)).abs() < 1e-9);
        assert!(seal.squeeze.is_sorted() && seal.fill.is_sorted());
        let length = std::f64::consts::PI * (154.0 + 3.53);
        assert!((seal.load_n - seal.load_n_per_mm * length).abs() < 1e-9);
        // A seal handbook (read) gives 0.88 to 3.15 N/mm for a 1.78 mm section at 70 Shore A and 20 %. Line load grows with the
        // section and the squeeze, so twice the section squeezed further must press more than the least of that.
        assert!(seal.load_n_per_mm > 0.88);
    }

    #[test]
    fn every_number_of_a_plate_says_how_it_came_about() {
        let plan = planned(BASE);
        for plate in &plan.plates {
            for what in [
                "squeeze of",
                "squeeze, least",
                "squeeze, most",
                "fill of",
                "fill, most",
                "stretch of",
                "load per length",
                "load of",
                "thread engagement of the plate",
                "thread left of the plate",
                "torque limit of the plate",
                "preload of the plate",
            ] {
                let about = About::port(&plate.port);
                let worked = plan.worked.iter().any(|w| {
                    w.about == about && w.what.starts_with(what) && w.value.value.is_finite()
                });
                assert!(worked, "{what} {}", plate.port);
            }
        }
    }

    #[test]
    fn a_groove_takes_every_ring_of_its_own_size() {
        // Each ring of the usual section, laid in the groove made for it, is chosen or a neighbour within its stretch is.
        for ring in standard().orings.iter().filter(|o| {
            (o.section_mm - 3.53).abs() < 0.01 && (80.0..300.0).contains(&o.inside_mm)
        }) {
            let inside = ring.inside_mm * 1.002;
            let plate = dc(&format!("o-ring = absent\ngroove-inside = \"{inside:.2} mm\""));
            let seal = plate.seal.expect("a ring is made for it");
            assert_eq!(seal.oring.row.id, ring.row.id, "{inside}");
        }
    }

    #[test]
    fn the_block_is_told_with_its_tool() {
        let plan = planned(BASE);
        let block = plate(&plan, "motor.phases").block.as_ref().expect("a block");
        assert_eq!(block.bolts, Some(("bolt socket M5x20".to_owned(), 4)));
        // ISO 4762: M5 socket heads take a key of 4 mm.
        assert_eq!((block.flats_mm, block.torque_nm), (Some(4.0), Some(3.0)));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        #[test]
        fn prop_any_groove_is_judged_without_panic(
            depth in 0.3..15.0_f64,
            width in 0.5..25.0_f64,
            inside in 1.0..1000.0_f64,
            tolerance in 0.0..1.0_f64,
            hardness in 30..96_u32,
        ) {
            let text = merge(BASE, &format!(
                "[device.inverter.port.dc.plate]\ngroove-depth = \"{depth:.3} mm\"\n\
                 groove-width = \"{width:.3} mm\"\ngroove-inside = \"{inside:.3} mm\"\n\
                 groove-tolerance = \"{tolerance:.3} mm\"\nhardness = {hardness}"
            ));
            let plan = planned(&text);
            if let Some(seal) = &plate(&plan, "inverter.dc").seal {
                prop_assert!(seal.load_n.is_finite() && seal.load_n >= 0.0);
                prop_assert!(seal.squeeze.is_sorted());
            } else {
                let asked = plan.findings.iter().any(|f| {
                    f.code == "oring-known" && f.verdict <= Verdict::Unknown
                });
                prop_assert!(asked, "no seal and no word of it");
            }
        }
    }
}
