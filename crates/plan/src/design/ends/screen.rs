//! The screen of a screened cable at one end: how far the sheath comes off, and what the screen then needs.
//!
//! sheath off = inside length + plate - lug reach           into the contact of the grip
//! sheath off = inside length - lug reach - 10 mm           pigtail, or cut back: the sheath ends in the box
//!
//! Lengths are from the conductor's end. All of them are common practice, no source.

use super::dress::choose_sleeve;
use super::{Site, SleeveFit};
use crate::finding::Notes;
use crate::given::build::Screen;
use crate::given::shelf::Lug;

/// Screen left beyond the sheath for the contact of a grip.
const CONTACT_MM: f64 = 12.0;
/// Screen gathered to a pigtail: short, for a long one screens little at a few megahertz.
const PIGTAIL_MM: f64 = 50.0;
/// Sheath that stands inside the box where the screen does not end in the grip.
const INSIDE_MM: f64 = 10.0;
/// Sleeve over the cut edge of a screen, as cut.
const COVER_MM: f64 = 40.0;

/// How a screen ends.
#[derive(Clone, Debug, PartialEq)]
pub struct ScreenEnd {
    /// As stated; unknown where it is not.
    pub how: Option<Screen>,
    /// Sheath to take off.
    pub sheath_mm: Option<f64>,
    /// Screen that stays beyond the sheath.
    pub screen_mm: f64,
    /// Core that stays between screen and bare conductor.
    pub core_mm: Option<f64>,
    /// Core the lug's sleeve needs to itself.
    pub core_mm_min: f64,
    /// Sleeve over the screen's cut edge.
    pub cover: Option<SleeveFit>,
    /// Thread the pigtail's lug lands on.
    pub bolt: Option<String>,
}

/// The screen's end; none on a cable without one.
pub(super) fn finish(
    site: &Site<'_>,
    lug: Option<&Lug>,
    strip_mm: Option<f64>,
    notes: &mut Notes,
) -> Option<ScreenEnd> {
    let cable = site.cable.filter(|c| c.screened)?;
    let how = site.given.given.screen.as_ref().map(|s| s.value);
    let plate = site.port.plate.as_ref().and_then(|p| p.given.thickness_mm.as_ref());
    let inside = site.port.port.inside_length_mm.as_ref().map(|i| i.value);
    let reach_mm = lug.map(|l| (l.length_mm - l.barrel_depth_mm - l.hole_to_tip_mm).max(0.0));
    let from_end = inside.zip(reach_mm).map(|(inside, reach)| inside - reach);
    let sheath_mm = from_end.map(|mm| match how {
        Some(Screen::GripContact) => mm + plate.map_or(0.0, |p| p.value),
        Some(Screen::Pigtail | Screen::None) | None => (mm - INSIDE_MM).max(0.0),
    });
    let screen_mm = match how {
        Some(Screen::GripContact) => CONTACT_MM,
        Some(Screen::Pigtail) => PIGTAIL_MM,
        Some(Screen::None) | None => 0.0,
    };
    // A pigtail is drawn aside at the sheath's edge and takes nothing of the core's length.
    let along_mm = if how == Some(Screen::GripContact) { screen_mm } else { 0.0 };
    let core_mm = sheath_mm.zip(strip_mm).map(|(sheath, strip)| sheath - along_mm - strip);
    let covered = matches!(how, Some(Screen::Pigtail | Screen::None));
    let cover = covered.then(|| cover(site)).flatten();
    if let (Some(sheath), Some(strip)) = (sheath_mm, strip_mm) {
        let inputs = [("sheath", sheath), ("screen", along_mm), ("strip", strip)];
        let law = "core = sheath off - screen left - strip";
        let value = sheath - along_mm - strip;
        site.work(
            "core between screen and conductor",
            value,
            law,
            &inputs,
            "common-practice",
            notes,
        );
    }
    let bolt = (how == Some(Screen::Pigtail)).then(|| bolt(site, notes));
    Some(ScreenEnd {
        how,
        sheath_mm,
        screen_mm,
        core_mm,
        core_mm_min: cable.core_diameter_mm,
        cover,
        bolt,
    })
}

/// The sleeve that passes over the sheath and grips the core.
fn cover(site: &Site<'_>) -> Option<SleeveFit> {
    let cable = site.cable?;
    let sleeves = &site.parts.shelf.sleeves;
    let sleeve = choose_sleeve(sleeves, cable.diameter_mm_max, cable.core_diameter_mm)?;
    let shrunk_mm = COVER_MM * (1.0 - sleeve.length_loss.clamp(0.0, 0.9));
    let cover_mm = shrunk_mm.min(2.0 * INSIDE_MM);
    Some(SleeveFit { sleeve: sleeve.clone(), length_mm: COVER_MM, shrunk_mm, cover_mm })
}

/// The bolt on the housing the pigtail lands on: stated, else one of the plate's, else M6; both said aloud.
fn bolt(site: &Site<'_>, notes: &mut Notes) -> String {
    if let Some(stated) = &site.given.given.screen_bolt {
        return stated.value.clone();
    }
    let plate = site.port.plate.as_ref().and_then(|p| p.given.bolt.as_ref());
    let of_plate =
        plate.and_then(|b| b.value.split_once('x')).map(|(thread, _)| thread.to_owned());
    let (thread, why) = match of_plate {
        Some(thread) => (thread, "a bolt hole of the housing, as those of the plate"),
        None => ("M6".to_owned(), "the usual size of an earthing bolt in a terminal box"),
    };
    notes.assume(
        &format!("bolt for the screen's pigtail of {}", site.name()),
        &thread,
        why,
        &site.end_key("screen-bolt"),
    );
    thread
}
