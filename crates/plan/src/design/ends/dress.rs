//! What dresses a cable's end: lug, crimp, strip, sleeve, grip. Stated, or the smallest on the shelf that fits.

use physics::laws::crimp as crimp_law;
use physics::laws::shrink;
use physics::laws::thread::Thread;

use super::{Early, EarlyKind, Site, SleeveFit};
use crate::design::joint;
use crate::finding::Notes;
use crate::given::build::{GripHole, Palm, Screen};
use crate::given::shelf::{Crimp, Grip, Lug, Sleeve};

/// Conductor seen between barrel and insulation: shows that it is home, and leaves room for the barrel, which grows as it
/// is pressed (common practice, no source).
const SEEN_MM: f64 = 2.0;

/// Lugs made for the site's conductor and thread whose palm fits the pad and its neighbour, smallest palm first; of
/// equals, one whose die the shop owns, then the shortest.
fn lugs_that_fit<'a>(site: &Site<'a>) -> Vec<&'a Lug> {
    let (Some(cable), Some(thread)) = (site.cable, site.thread()) else { return Vec::new() };
    let port = site.port.port;
    let room_mm = port.pad_width_mm.as_ref().map_or(f64::INFINITY, |w| w.value);
    let pitch_mm = match &port.pitch_mm {
        Some(pitch) if port.terminals.len() > 1 => pitch.value,
        _ => f64::INFINITY,
    };
    let family = site.parts.build.workshop.lug_family.as_ref().map(|f| f.value);
    let mut fits: Vec<&Lug> = site
        .parts
        .shelf
        .lugs
        .iter()
        .filter(|lug| lug.size == cable.size)
        .filter(|lug| family.is_none_or(|f| lug.family == f))
        .filter(|lug| {
            Thread::parse(&lug.stud).is_ok_and(|s| s.diameter_mm == thread.diameter_mm)
        })
        .filter(|lug| lug.palm_width_mm <= room_mm && lug.palm_width_mm < pitch_mm)
        .filter(|lug| site.palm() == Palm::Straight || lug.bendable)
        .collect();
    fits.sort_by(|a, b| {
        a.palm_width_mm
            .total_cmp(&b.palm_width_mm)
            .then(die_owned(site, b).cmp(&die_owned(site, a)))
            .then(a.length_mm.total_cmp(&b.length_mm))
    });
    fits
}

fn die_owned(site: &Site<'_>, lug: &Lug) -> bool {
    crimps_of(site, lug).any(|c| owned(site, c))
}

fn owned(site: &Site<'_>, crimp: &Crimp) -> bool {
    let dies = site.parts.build.workshop.dies.as_ref();
    dies.is_some_and(|dies| dies.value.iter().any(|d| d.value == crimp.die))
}

fn crimps_of<'a>(site: &Site<'a>, lug: &'a Lug) -> impl Iterator<Item = &'a Crimp> {
    let rows = &site.parts.shelf.crimps;
    lug.crimps.iter().filter_map(move |id| rows.iter().find(|c| c.row.id == *id))
}

/// The lug: stated, or the first that fits.
pub(super) fn lug<'a>(site: &Site<'a>, notes: &mut Notes) -> Option<&'a Lug> {
    if site.given.given.palm.is_none() {
        notes.assume(
            &format!("palm of the lugs of {}", site.name()),
            "straight",
            "as made; a bent palm must be stated",
            &site.end_key("palm"),
        );
    }
    match &site.given.given.lug {
        Some(_) => site.given.lug,
        None => lugs_that_fit(site).first().copied(),
    }
}

/// The crimp basis: the stated row or die code, else one whose die the shop owns, else the lug's first.
pub(super) fn crimp<'a>(site: &Site<'a>, lug: &'a Lug, notes: &mut Notes) -> Option<&'a Crimp> {
    if site.given.crimp.is_some() {
        return site.given.crimp;
    }
    if let Some(code) = &site.given.given.die {
        let rows = &site.parts.shelf.crimps;
        return crimps_of(site, lug)
            .find(|c| c.die == code.value)
            .or_else(|| rows.iter().find(|c| c.die == code.value && c.size == lug.size))
            .or_else(|| rows.iter().find(|c| c.die == code.value));
    }
    if let Some(found) = crimps_of(site, lug).find(|c| owned(site, c)) {
        return Some(found);
    }
    let first = crimps_of(site, lug).next()?;
    if site.parts.build.workshop.dies.is_none() {
        notes.assume(
            &format!("die for the lugs of {}", site.name()),
            &first.die,
            "the first die listed for the lug; the number is a code, not a size in mm",
            &site.end_key("die"),
        );
    }
    Some(first)
}

/// The strip length: stated, or the barrel's depth and what stays seen, up to the next half millimetre.
pub(super) fn strip_mm(site: &Site<'_>, lug: Option<&Lug>, notes: &mut Notes) -> Option<f64> {
    if let Some(stated) = &site.given.given.strip_mm {
        return Some(stated.value);
    }
    let lug = lug?;
    let strip_mm = (2.0 * (lug.barrel_depth_mm + SEEN_MM)).ceil() / 2.0;
    site.work(
        "strip length",
        strip_mm,
        "strip = barrel depth + conductor left in sight",
        &[("barrel depth", lug.barrel_depth_mm), ("in sight", SEEN_MM)],
        "common-practice",
        notes,
    );
    Some(strip_mm)
}

/// The largest a sleeve passes over and the smallest it grips: it goes on along the cable and over the barrel, and
/// shrinks onto the insulation and onto the pressed barrel.
///
/// A pressed barrel is taken as the hexagon that holds its metal and the conductor without voids.
pub(crate) fn sleeve_span_mm(site: &Site<'_>, lug: &Lug) -> Option<[f64; 2]> {
    let cable = site.cable?;
    let [least_mm, _] = site.insulation_mm()?;
    let tube = lug.barrel_outside_mm > lug.barrel_inside_mm && lug.barrel_inside_mm > 0.0;
    let pressed_mm = if tube {
        let metal = crimp_law::barrel_area_mm2(lug.barrel_outside_mm, lug.barrel_inside_mm);
        crimp_law::void_free_hexagon_mm(cable.size.area_mm2(), metal).min(lug.barrel_outside_mm)
    } else {
        lug.barrel_outside_mm
    };
    Some([cable.diameter_mm_max.max(lug.barrel_outside_mm), least_mm.min(pressed_mm)])
}

/// The sleeve and its length.
pub(super) fn sleeve(
    site: &Site<'_>,
    lug: &Lug,
    strip_mm: f64,
    notes: &mut Notes,
) -> Option<SleeveFit> {
    let [passed_mm, gripped_mm] = sleeve_span_mm(site, lug)?;
    let sleeve = match &site.given.given.sleeve {
        Some(_) => site.given.sleeve?,
        None => choose_sleeve(&site.parts.shelf.sleeves, passed_mm, gripped_mm)?,
    };
    let overlap_mm = site.insulation_mm()?[1];
    let gap_mm = (strip_mm - lug.barrel_depth_mm).max(0.0);
    let cover_mm = gap_mm + lug.barrel_depth_mm + overlap_mm;
    let kept = 1.0 - sleeve.length_loss.clamp(0.0, 0.9);
    let length_mm = match &site.given.given.sleeve_length_mm {
        Some(stated) => stated.value,
        // The quotient of two decimals may come out a hair above a whole step.
        None => (cover_mm / kept / 5.0 - 1e-9).ceil() * 5.0,
    };
    site.work(
        "sleeve, length to cover",
        cover_mm,
        "cover = gap + barrel + overlap of one diameter",
        &[("gap", gap_mm), ("barrel", lug.barrel_depth_mm), ("overlap", overlap_mm)],
        "common-practice",
        notes,
    );
    site.work(
        "sleeve, length after shrinking",
        length_mm * kept,
        "shrunk = cut (1 - loss); cut = cover / (1 - loss), up to the next 5 mm",
        &[("cover", cover_mm), ("cut", length_mm)],
        "ams-dtl-23053",
        notes,
    );
    Some(SleeveFit { sleeve: sleeve.clone(), length_mm, shrunk_mm: length_mm * kept, cover_mm })
}

/// The smallest adhesive-lined sleeve with the usual slack and grip, else the smallest that goes at all.
pub(super) fn choose_sleeve(
    shelf: &[Sleeve],
    passed_mm: f64,
    gripped_mm: f64,
) -> Option<&Sleeve> {
    let mut lined: Vec<&Sleeve> = shelf.iter().filter(|s| s.adhesive).collect();
    lined.sort_by(|a, b| {
        a.supplied_mm.total_cmp(&b.supplied_mm).then(b.recovered_mm.total_cmp(&a.recovered_mm))
    });
    let goes = |slide: f64, grip: f64| {
        lined
            .iter()
            .copied()
            .find(|s| s.supplied_mm >= slide * passed_mm && s.recovered_mm <= grip * gripped_mm)
    };
    goes(shrink::SLIDE, shrink::GRIP).or_else(|| goes(1.0, 1.0))
}

/// Whether the screen ends in the grip: stated so, or not stated.
fn wants_contact(site: &Site<'_>) -> bool {
    site.cable.is_some_and(|c| c.screened)
        && site.given.given.screen.as_ref().is_none_or(|s| s.value == Screen::GripContact)
}

/// Grips that clamp the cable over its whole range and go into the plate, smallest first.
fn grips_that_fit<'a>(site: &Site<'a>) -> Vec<&'a Grip> {
    let (Some(cable), Some(plate)) = (site.cable, &site.port.plate) else { return Vec::new() };
    let thread = plate.given.grip_thread.as_ref().map(|t| t.value.as_str());
    let pitch_mm = plate.given.grip_pitch_mm.as_ref().map_or(f64::INFINITY, |p| p.value);
    let mut fits: Vec<&Grip> = site
        .parts
        .shelf
        .grips
        .iter()
        .filter(|g| thread.is_none_or(|t| joint::same_thread(t, &g.thread)))
        .filter(|g| g.clamp_mm_min <= cable.diameter_mm_min)
        .filter(|g| cable.diameter_mm_max <= g.clamp_mm_max)
        .filter(|g| g.screen_contact == wants_contact(site))
        .filter(|g| g.corners_mm < pitch_mm)
        .collect();
    fits.sort_by(|a, b| {
        let diameter = |g: &Grip| Thread::parse(&g.thread).map_or(0.0, |t| t.diameter_mm);
        diameter(a)
            .total_cmp(&diameter(b))
            .then(a.flats_mm.total_cmp(&b.flats_mm))
            // Metal before plastic of the same size: a box with live terminals wants a bonded entry.
            .then((a.material == "polyamide").cmp(&(b.material == "polyamide")))
            .then(b.thread_length_mm.total_cmp(&a.thread_length_mm))
    });
    fits
}

/// The grip, where the port has a plate.
pub(super) fn grip<'a>(site: &Site<'a>) -> Option<&'a Grip> {
    site.port.plate.as_ref()?;
    if site.given.given.grip.is_some() {
        return site.given.grip;
    }
    grips_that_fit(site).first().copied()
}

/// The widest of the crimped lug, which a ring would have to pass: its palm or its barrel; a bent tongue stands out by
/// its length.
fn widest_mm(site: &Site<'_>, lug: &Lug) -> f64 {
    let flat = lug.palm_width_mm.max(lug.barrel_outside_mm);
    match site.palm() {
        Palm::Straight => flat,
        Palm::Bent => flat.max(lug.length_mm - lug.barrel_depth_mm),
    }
}

/// What must be on the cable before the lug, in the order it goes on, from the far end of the cable's dressed end to the lug.
///
/// The plate and a locknut are tilted over the lug before its palm is bent, so only width counts for them.
pub(super) fn before_lug(
    site: &Site<'_>,
    lug: &Lug,
    grip: Option<&Grip>,
    sleeve: Option<&SleeveFit>,
) -> Vec<Early> {
    let mut early = Vec::new();
    let mut goes_first =
        |kind: EarlyKind, part: &str, what: &str, opening_mm: f64, lug_mm: f64| {
            if !(opening_mm > lug_mm) {
                early.push(Early {
                    kind,
                    part: part.to_owned(),
                    what: what.to_owned(),
                    opening_mm,
                    lug_mm,
                });
            }
        };
    let flat_mm = lug.palm_width_mm.max(lug.barrel_outside_mm);
    if let Some(grip) = grip {
        goes_first(
            EarlyKind::Grip,
            &grip.row.id,
            "grip nut, seal and body",
            grip.clamp_mm_max,
            widest_mm(site, lug),
        );
        let hole = site.port.plate.as_ref().and_then(|p| p.given.grip_hole.as_ref());
        if let (Some(hole), Ok(thread)) = (hole, Thread::parse(&grip.thread)) {
            let tapped_mm = thread.minor_diameter_mm();
            let opening_mm = match hole.value {
                GripHole::Tapped => tapped_mm,
                GripHole::Clear => thread.diameter_mm + 0.5,
            };
            goes_first(EarlyKind::Plate, &site.port.name, "entry plate", opening_mm, flat_mm);
            if hole.value == GripHole::Clear {
                goes_first(
                    EarlyKind::Locknut,
                    &grip.row.id,
                    "grip locknut",
                    tapped_mm,
                    flat_mm,
                );
            }
        }
    }
    if let Some(fit) = sleeve {
        goes_first(
            EarlyKind::Sleeve,
            &fit.sleeve.row.id,
            "sleeve",
            fit.sleeve.supplied_mm,
            flat_mm,
        );
    }
    early
}
