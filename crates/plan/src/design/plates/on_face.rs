//! What a build tells a layout, and what the layout tells the plate.

use physics::laws::oring_heat::{self, Swing};
use physics::laws::spacing::{self, Insulation, MaterialGroup, Pollution};
use physics::laws::spanner;
use physics::laws::thread::Thread;
use physics::units::{Dimension, show_both};

use super::{Cut, GROOVE_TOLERANCE_MM, hardness_shore_a, key, wanted};
use crate::design::ends::End;
use crate::design::joint;
use crate::design::layout::{
    self, BlockWanted, BoltWanted, GripWanted, Laid, SealWanted, Wanted,
};
use crate::design::survey::SurveyedFace;
use crate::finding::{About, Notes, Quantity, Worked};
use crate::given::build::GripHole;
use crate::given::parts::{Parts, PlateParts, PortParts};
use crate::given::shelf::Oring;

/// Distance from heads and groove to the plate's edge where none is stated.
const MARGIN_MM: f64 = 2.0;
/// Young's modulus where the material is not known: the softest metal that plates are made of.
const ALUMINIUM_MPA: f64 = 69_000.0;

/// Why there is no layout.
pub(super) enum Unlaid {
    /// What the face or the build does not tell.
    Missing(Vec<String>),
    /// Why the kept plate is none for this face.
    Misfit(String),
}

/// Lays the plate out on its face, or holds the kept one against it.
pub(super) fn lay(
    parts: &Parts<'_>,
    port: &PortParts<'_>,
    plate: &PlateParts<'_>,
    face: &SurveyedFace,
    ends: &[End],
    notes: &mut Notes,
) -> Result<Laid, Unlaid> {
    let given = plate.given;
    let Some(bolt) = bolt(parts, port, plate, notes) else {
        return Err(Unlaid::Missing(vec!["the plate's `bolt`, \"M6x20\"".to_owned()]));
    };
    let margin_mm = given.margin_mm.as_ref().map_or_else(
        || {
            if plate.kept.is_some() {
                return MARGIN_MM;
            }
            let why = "room for a chamfer and a file (common practice, no source)";
            let what = format!("margin of the plate of {}", port.name);
            notes.assume(&what, "2 mm (0.079 in)", why, &key(port, "plate.margin"));
            MARGIN_MM
        },
        |m| m.value,
    );
    let wanted = Wanted {
        face,
        name: format!("plate {}", port.name),
        title: parts.build.title.as_ref().map(|t| t.value.clone()).unwrap_or_default(),
        grips: grips(parts, port, plate, ends, notes),
        bolt,
        seal: seal(parts, port, plate, notes),
        thickness_mm: given.thickness_mm.as_ref().map(|t| t.value),
        modulus_mpa: plate.material.map_or(ALUMINIUM_MPA, |m| m.modulus_mpa),
        margin_mm,
        units: parts.units,
    };
    let laid = match plate.kept {
        Some(kept) => layout::reuse(&wanted, kept, plate.oring)
            .map_err(|layout::Misfit(why)| Unlaid::Misfit(why))?,
        None => layout::lay(&wanted).map_err(Unlaid::Missing)?,
    };
    note(port, &laid, parts, notes);
    Ok(laid)
}

fn bolt(
    parts: &Parts<'_>,
    port: &PortParts<'_>,
    plate: &PlateParts<'_>,
    notes: &mut Notes,
) -> Option<BoltWanted> {
    let (diameter_mm, _) = joint::written_mm(&plate.given.bolt.as_ref()?.value)?;
    let thread = Thread::parse(&format!("M{diameter_mm}")).ok()?.designation();
    let wanted = wanted(parts, port, plate);
    let head = wanted.head(parts.shelf, &thread, notes)?;
    let washer =
        wanted.washer(parts.shelf, &joint::Turned::Bolt(head), &thread, f64::INFINITY, notes);
    let hole = parts.shelf.holes.iter().find(|h| h.row.id == thread);
    let head_mm = head.head_diameter_mm.max(washer.map_or(0.0, |w| w.outside_mm));
    let sunk = plate.given.counterbore.as_ref().is_some_and(|c| c.value);
    // A socket head's key goes inside it; any other head has a socket around it.
    let socket_mm = if head.form.starts_with("socket") {
        head_mm
    } else {
        spanner::bolt_room(diameter_mm).map_or(2.0 * head.flats_mm, |r| r.socket_mm)
    };
    Some(BoltWanted {
        thread,
        diameter_mm,
        hole_mm: hole.map_or(1.1 * diameter_mm, |h| h.clearance_mm),
        head_mm,
        socket_mm,
        sunk_mm: sunk.then(|| head.head_height_mm + washer.map_or(0.0, |w| w.thickness_mm)),
    })
}

/// Every end's grip at this port, with the hole it needs.
fn grips(
    parts: &Parts<'_>,
    port: &PortParts<'_>,
    plate: &PlateParts<'_>,
    ends: &[End],
    notes: &mut Notes,
) -> Vec<GripWanted> {
    let given = plate.given;
    let tapped = given.grip_hole.as_ref().map_or_else(
        || {
            let what = format!("grip holes of the plate of {}", port.name);
            let why = "a tapped plate needs no room for locknuts behind it";
            notes.assume(&what, "tapped", why, &key(port, "plate.grip-hole"));
            true
        },
        |h| h.value == GripHole::Tapped,
    );
    let mut wanted = Vec::new();
    for end in ends.iter().filter(|e| e.port == port.name) {
        let Some(grip) = &end.grip else { continue };
        let named = given.grip_thread.as_ref().map_or(&grip.thread, |t| &t.value);
        let Ok(thread) = Thread::parse(named) else { continue };
        let hole = parts.shelf.holes.iter().find(|h| h.row.id == *named);
        let tap_mm = hole.map_or(thread.diameter_mm - thread.pitch_mm, |h| h.tap_mm);
        // EN 50262: the entry thread's diameter and half a millimetre.
        let clear_mm = hole.map_or(thread.diameter_mm + 0.5, |h| h.clearance_mm);
        let at = given.grip_at.iter().find(|(label, _)| label.value == end.terminal);
        wanted.push(GripWanted {
            terminal: end.terminal.clone(),
            tapped: tapped.then(|| named.clone()),
            thread_mm: thread.diameter_mm,
            bore_mm: if tapped { tap_mm } else { clear_mm },
            pitch_mm: thread.pitch_mm,
            thread_length_mm: grip.thread_length_mm,
            flats_mm: grip.flats_mm,
            corners_mm: grip.corners_mm,
            at: at.map(|(_, p)| p.value),
        });
    }
    // A shop's part may say anything: what has no size is not laid out.
    wanted.retain(|g| g.flats_mm > 0.0 && g.corners_mm >= 0.0 && g.thread_mm > 0.0);
    wanted
}

fn seal<'a>(
    parts: &Parts<'a>,
    port: &PortParts<'_>,
    plate: &PlateParts<'a>,
    notes: &mut Notes,
) -> SealWanted<'a> {
    let given = plate.given;
    let rings = match (plate.oring, &given.oring) {
        (Some(ring), _) => vec![ring],
        (None, _) => parts.shelf.orings.iter().collect(),
    };
    let mm = |m: &crate::given::build::Maybe<f64>| m.as_ref().map(|v| v.value);
    SealWanted {
        rings,
        cord: plate.oring.is_none(),
        depth_mm: mm(&given.groove_depth_mm),
        width_mm: mm(&given.groove_width_mm),
        tolerance_mm: mm(&given.groove_tolerance_mm).unwrap_or(GROOVE_TOLERANCE_MM),
        hardness_shore_a: hardness_shore_a(port, plate, notes),
    }
}

/// The ring and groove of a layout, for the seal's own numbers.
pub(super) fn ring_and_cut(laid: &Laid, tolerance_mm: f64) -> Option<(Oring, Cut)> {
    let seal = laid.seal.as_ref()?;
    let cut = Cut {
        depth_mm: seal.depth_mm,
        width_mm: seal.width_mm,
        inside_mm: Some(seal.inside_mm),
        tolerance_mm,
    };
    (seal.depth_mm > tolerance_mm).then(|| (seal.oring.clone(), cut))
}

/// How the numbers of a layout came about.
fn note(port: &PortParts<'_>, laid: &Laid, parts: &Parts<'_>, notes: &mut Notes) {
    let mm = |v: f64| Quantity::new(v, Dimension::Length);
    let about = About::port(&port.name);
    let mut work = |what: String, value, law, inputs, source| {
        notes.work(Worked { what, about: about.clone(), value, law, inputs, source });
    };
    let place = format!("the plate of {}", port.name);
    if let Some(seal) = &laid.seal {
        work(
            format!("inside diameter of a round groove as long as that of {place}"),
            mm(seal.inside_mm),
            "d = (L - pi b) / pi, L along the middle of the groove",
            vec![("L", mm(seal.length_mm)), ("b", mm(seal.width_mm))],
            "geometry",
        );
    }
    if let Some(stiff) = &laid.stiff {
        work(
            format!("gap under the seal of {place}"),
            mm(stiff.gap_mm),
            "plate of its own outline by finite elements, held by its bolts, pushed by the ring",
            vec![
                ("thickness", mm(stiff.thickness_mm)),
                ("ring's load", Quantity::new(stiff.load_n_per_mm, Dimension::LineLoad)),
                ("modulus", Quantity::new(modulus(port), Dimension::Stress)),
            ],
            "katili-1993",
        );
        work(
            format!("gap that {place} may have"),
            mm(stiff.gap_mm_max),
            "g = (least squeeze - 10 %) section",
            vec![("section", mm(laid.seal.as_ref().map_or(0.0, |s| s.oring.section_mm)))],
            "oring-guide-groove",
        );
    }
    for grip in laid.grips.iter().filter(|g| g.aside_mm > 0.05) {
        let show = |v: f64| show_both(v, Dimension::Length, parts.units);
        notes.assume(
            &format!("place of grip {} in {place}", grip.terminal),
            &format!("x {}, y {}", show(grip.at[0]), show(grip.at[1])),
            &format!(
                "{} from its terminal, for spanner, bolts or opening",
                show(grip.aside_mm)
            ),
            &key(port, "plate.grip-at"),
        );
    }
}

fn modulus(port: &PortParts<'_>) -> f64 {
    let material = port.plate.as_ref().and_then(|p| p.material);
    material.map_or(ALUMINIUM_MPA, |m| m.modulus_mpa)
}

/// Squeeze when cold and fill when hot, at the worst of the tolerances.
pub(super) fn swing(seal: &super::Seal, plate: &PlateParts<'_>) -> Option<Swing> {
    let metal = plate.material.map_or(23.4, |m| m.expansion_um_per_mk) * 1e-6;
    let section = (seal.oring.section_mm, seal.oring.section_tol_mm);
    let groove = (seal.groove_depth_mm, seal.groove_tolerance_mm, seal.groove_width_mm);
    oring_heat::swing(section, groove, seal.stretch, metal)
}

/// Everything a block needs to be drawn, if it is known.
pub(super) fn block_wanted(
    parts: &Parts<'_>,
    port: &PortParts<'_>,
    face: &SurveyedFace,
) -> Option<BlockWanted> {
    let (block, given) = (port.port.block.as_ref()?, port.port);
    let thread = &given.thread.as_ref()?.value;
    let (bolt_mm, _) = joint::written_mm(&block.bolt.as_ref()?.value)?;
    let bolt = format!("M{bolt_mm}");
    let holes = |id: &str| parts.shelf.holes.iter().find(|h| h.row.id == id);
    let tap = holes(thread)
        .map(|h| h.tap_mm)
        .or_else(|| Thread::parse(thread).ok().map(|t| t.diameter_mm - t.pitch_mm))?;
    let heads = parts.shelf.bolts.iter();
    let form = block.head.as_ref().map_or("socket", |h| h.value.as_str());
    let head = heads.into_iter().find(|b| b.form == form && b.thread == bolt);
    let places = face.terminals.iter().map(|t| [t.x_mm, t.y_mm]).collect();
    let places = layout::in_row(places, &face.terminals);
    let terminals: Vec<(String, [f64; 2])> =
        face.terminals.iter().zip(places).map(|(t, at)| (t.name.clone(), at)).collect();
    let fixings: Vec<[f64; 2]> = block.bolt_at.iter().map(|(_, at)| at.value).collect();
    (!terminals.is_empty() && !fixings.is_empty()).then_some(())?;
    let unsure_mm = layout::unsure_mm(&face.corners).max(layout::unsure_mm(&face.holes));
    Some(BlockWanted {
        name: format!("block {}", port.name),
        terminals,
        thread: thread.clone(),
        tap_mm: tap,
        thread_depth_mm: given.thread_depth_mm.as_ref()?.value,
        thread_start_mm: given.thread_start_mm.as_ref().map_or(0.0, |s| s.value),
        pitch_mm: Thread::parse(thread).ok()?.pitch_mm,
        pad_mm: given.pad_width_mm.as_ref()?.value,
        thickness_mm: block.thickness_mm.as_ref()?.value,
        fixings,
        fixing: bolt.clone(),
        fixing_mm: holes(&bolt).map_or(1.1 * bolt_mm, |h| h.clearance_mm),
        fixing_head_mm: head
            .map_or((2.0 * bolt_mm, 0.0), |h| (h.head_diameter_mm, h.head_height_mm)),
        creepage_mm: creepage_mm(parts, port).unwrap_or(0.0),
        opening: face.opening.clone().map(|o| (o, layout::PLAY_MM / 2.0 + unsure_mm)),
    })
}

/// Creepage needed between terminals on the block's material; the check of the terminals judges what cannot be.
fn creepage_mm(parts: &Parts<'_>, port: &PortParts<'_>) -> Option<f64> {
    let group = match port.block_material?.tracking_index? {
        i if i >= 600.0 => MaterialGroup::I,
        i if i >= 400.0 => MaterialGroup::Ii,
        i if i >= 175.0 => MaterialGroup::IiiA,
        _ => MaterialGroup::IiiB,
    };
    let pollution = match parts.around.pollution_degree {
        1 => Pollution::One,
        2 => Pollution::Two,
        _ => Pollution::Three,
    };
    spacing::creepage_mm(parts.voltage_v_max?, pollution, group, Insulation::Basic).ok()
}
