//! What a build says of a plate by naming a kept one: the plate's own sizes, put where the build would state them.

use std::borrow::Cow;

use super::build::{At, Build, GripHole, PlateGiven};
use super::shelf::{KeptPlate, Shelf};

/// The build with the sizes of the kept plates it names; a name that leads nowhere is left to the look-up.
pub fn filled<'a>(build: &'a Build, shelf: &Shelf) -> Cow<'a, Build> {
    let plates = build.devices.iter().flat_map(|d| &d.ports).filter_map(|p| p.plate.as_ref());
    if plates.filter(|p| p.kept.is_some()).count() == 0 {
        return Cow::Borrowed(build);
    }
    let mut build = build.clone();
    for port in build.devices.iter_mut().flat_map(|d| &mut d.ports) {
        let Some(plate) = &mut port.plate else { continue };
        let Some(named) = plate.kept.clone() else { continue };
        if let Some(kept) = shelf.plates.iter().find(|k| k.row.id == named.value) {
            fill(plate, kept, &named);
        }
    }
    Cow::Owned(build)
}

fn fill(plate: &mut PlateGiven, kept: &KeptPlate, named: &At<String>) {
    let at = named.at;
    let mm = |value: f64| Some(At { value, at });
    let text = |value: &str| Some(At { value: value.to_owned(), at });
    plate.material = Some(At { value: kept.material.clone(), at });
    plate.thickness_mm = mm(kept.thickness_mm);
    plate.groove_depth_mm = mm(kept.groove_depth_mm);
    plate.groove_width_mm = mm(kept.groove_width_mm);
    plate.groove_tolerance_mm = mm(kept.groove_tolerance_mm);
    plate.oring = kept.oring.as_deref().and_then(text);
    plate.counterbore =
        Some(At { value: kept.holes_for("bolt").any(|h| h.counterbore.is_some()), at });
    let grip = kept.holes_for("grip").next();
    let thread = grip.and_then(|h| h.thread.as_deref());
    plate.grip_thread = thread.and_then(text);
    let tapped = if thread.is_some() { GripHole::Tapped } else { GripHole::Clear };
    plate.grip_hole = grip.map(|_| At { value: tapped, at });
}
