//! A palm bent at a right angle: how tight, where the bend lies, how far the barrel then stands up.
//!
//! The palm lies on the pad; the tongue rises beside the bolt's tool, and the cable leaves along the bolt's axis.

use physics::laws::tongue as law;
use physics::units::Dimension;

use super::{Site, Stack, tool};
use crate::finding::{Notes, Quantity, Worked};
use crate::given::build::Palm;
use crate::given::shelf::Lug;

/// A bent palm.
#[derive(Clone, Debug, PartialEq)]
pub struct Tongue {
    /// Radius to the inside of the bend.
    pub radius_mm: f64,
    /// The least that annealed copper of this thickness bears.
    pub radius_mm_min: f64,
    /// Stretch of the outside.
    pub strain: f64,
    /// Flat tongue between the hole's centre and the barrel.
    pub tongue_mm: f64,
    /// What must stay flat about the hole: half of washer or head, whichever is wider.
    pub flat_mm: f64,
    /// From the hole's centre to where the bend begins.
    pub from_hole_mm: f64,
    /// Length of the bend along its middle line.
    pub arc_mm: f64,
    /// Height of the barrel's mouth above the landing face.
    pub rise_mm: f64,
}

/// The bend of a palm that is used bent.
pub(super) fn bend(
    site: &Site<'_>,
    lug: &Lug,
    stack: Option<&Stack>,
    notes: &mut Notes,
) -> Option<Tongue> {
    let t = lug.palm_thickness_mm;
    let tongue_mm = lug.length_mm - lug.barrel_depth_mm - lug.hole_to_tip_mm;
    let sensible = t > 0.0 && t.is_finite() && tongue_mm.is_finite();
    if site.palm() == Palm::Straight || !sensible {
        return None;
    }
    let radius_mm_min = law::radius_mm_min(t);
    let stated = site.given.given.palm_radius_mm.as_ref().map(|r| r.value);
    // Vice jaws are rounded to half millimetres.
    let radius_mm = stated.unwrap_or_else(|| (2.0 * radius_mm_min - 1e-9).ceil() / 2.0);
    let arc_mm = law::arc_mm(radius_mm, t);
    let flat_mm = stack.map_or(0.0, tool::seat_mm) / 2.0;
    let tool_mm = stack.and_then(|s| tool::outside_mm(site, s)).unwrap_or(0.0) / 2.0;
    // As far from the bolt as its tool needs, if the tongue is long enough; never under the washer.
    let from_hole_mm = tool_mm.min(tongue_mm - arc_mm).max(flat_mm);
    let straight_mm = (tongue_mm - from_hole_mm - arc_mm).max(0.0);
    let rise_mm = t + radius_mm + straight_mm + lug.barrel_depth_mm;
    let mm = |v: f64| Quantity::new(v, Dimension::Length);
    let mut work = |what: &str, value, law, inputs, source| {
        let what = what.to_owned();
        notes.work(Worked { what, about: site.about(), value, law, inputs, source });
    };
    let least = "r_min = t for annealed copper";
    work(
        "least bend radius of the palm",
        mm(radius_mm_min),
        least,
        vec![("t", mm(t))],
        "common-practice",
    );
    let strain = law::outer_strain(radius_mm, t);
    let inputs = vec![("t", mm(t)), ("r", mm(radius_mm))];
    let value = Quantity::new(strain, Dimension::Ratio);
    work("stretch of the bent palm's outside", value, "e = t/(2 r + t)", inputs, "geometry");
    work(
        "height of the bent lug's barrel above the pad",
        mm(rise_mm),
        "h = t + r + (tongue - from hole - arc) + barrel",
        vec![
            ("t", mm(t)),
            ("r", mm(radius_mm)),
            ("tongue", mm(tongue_mm)),
            ("from hole", mm(from_hole_mm)),
            ("arc", mm(arc_mm)),
            ("barrel", mm(lug.barrel_depth_mm)),
        ],
        "geometry",
    );
    Some(Tongue {
        radius_mm,
        radius_mm_min,
        strain,
        tongue_mm,
        flat_mm,
        from_hole_mm,
        arc_mm,
        rise_mm,
    })
}
