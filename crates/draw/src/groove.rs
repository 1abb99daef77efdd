//! The ring in its groove, enlarged: what is machined, the ring before and after it is squeezed.

use physics::units::{Dimension, System, show};

use crate::hatch::{HOUSING, PLATE, RUBBER, fill};
use crate::marks::{Label, Shelf, across, ratio, upright};
use crate::section::{oval, ring_half_width};
use crate::stack::Ring;
use crate::svg::{DASHED, Drawing, FINE, GREY, OUTLINE, SMALL, Sheet, at};

/// Width of the drawing on paper.
pub const WIDTH_MM: f64 = 120.0;

/// Draws the groove in the plate, the housing above it and the ring between them.
pub fn groove(ring: &Ring, thickness_mm: f64, system: System) -> Drawing {
    let largest = ring.width_mm.max(ring.section_mm).max(ring.depth_mm);
    // The largest round scale at which the groove is at most 40 mm wide on paper.
    let scale = [20.0, 10.0, 5.0, 2.0, 1.0]
        .into_iter()
        .find(|s| largest * s <= 40.0)
        .unwrap_or(40.0 / largest);
    let size = |mm: f64| show(mm, Dimension::Length, system);
    let (middle, face) = (WIDTH_MM / 2.0, 24.0);
    let depth = ring.depth_mm * scale;
    let half = ring.width_mm / 2.0 * scale;
    let plate = (thickness_mm * scale).min(depth + 14.0);
    let mut sheet = Sheet::new(WIDTH_MM, face + plate + 24.0);
    let (left, right) = (middle - half - 18.0, middle + half + 18.0);
    let housing =
        [at(left, face - 9.0), at(right, face - 9.0), at(right, face), at(left, face)];
    fill(&mut sheet, &housing, HOUSING, None);
    sheet.line(at(left, face), at(right, face), OUTLINE);
    let cut = [
        at(left, face),
        at(middle - half, face),
        at(middle - half, face + depth),
        at(middle + half, face + depth),
        at(middle + half, face),
        at(right, face),
        at(right, face + plate),
        at(left, face + plate),
    ];
    fill(&mut sheet, &cut, PLATE, None);
    sheet.polyline(&cut[..6], OUTLINE);
    let wide = ring_half_width(ring) * scale;
    let squeezed = oval(at(middle, face + depth / 2.0), wide, depth / 2.0);
    fill(&mut sheet, &squeezed, RUBBER, None);
    // The free ring stands on the groove's floor and above the face by what is squeezed.
    let free = ring.section_mm / 2.0 * scale;
    sheet.polyline(&closed(oval(at(middle, face + depth - free), free, free)), DASHED);
    let width = format!("groove {}", size(ring.width_mm));
    across(
        &mut sheet,
        (middle - half, middle + half),
        face + depth,
        face + plate + 5.0,
        &width,
    );
    let x = middle - half - 6.0;
    upright(&mut sheet, (face, face + depth), middle - half, x, &size(ring.depth_mm));
    let label = |x: f64, y: f64, name: &str, detail: &str| Label {
        point: at(x, y),
        name: name.to_owned(),
        detail: detail.to_owned(),
    };
    let labels = vec![
        label(left + 4.0, face - 5.0, "Housing", ""),
        label(middle, face + depth / 2.0, "O-ring", &ring.name),
        label(right - 4.0, face + depth * 0.6, "Plate", ""),
    ];
    Shelf::new(labels, WIDTH_MM - 2.0).above(&mut sheet, 1.0, WIDTH_MM - 1.0, face - 13.0);
    let words =
        format!("scale {}; dashed: the ring of {} before", ratio(scale), size(ring.section_mm));
    let last = face + plate + 14.0;
    sheet.text(at(middle, last), &words, SMALL.middle().in_colour(GREY));
    sheet.line(at(left, face + plate), at(right, face + plate), FINE);
    sheet.finish()
}

fn closed(mut places: Vec<crate::svg::Place>) -> Vec<crate::svg::Place> {
    places.extend(places.first().copied());
    places
}
