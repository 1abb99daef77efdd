//! The tool on a lug's bolt: how wide it is, and what lies under the head.

use physics::laws::spanner;

use super::{Site, Stack};

/// The widest that lies flat under a head or nut: washer or flange.
pub(crate) fn seat_mm(stack: &Stack) -> f64 {
    let washer = stack.washer.as_ref().map_or(0.0, |w| w.outside_mm);
    washer.max(head_mm(stack))
}

/// The widest of the head or nut.
pub(crate) fn head_mm(stack: &Stack) -> f64 {
    let bolt = stack.bolt.as_ref().map(|b| b.head_diameter_mm);
    let nut = stack.nut.as_ref().map(|n| spanner::across_corners_mm(n.flats_mm.max(1e-9)));
    bolt.or(nut).unwrap_or(0.0)
}

/// Outside of the tool: as stated, by the table for a socket, the head's own for a key.
pub(crate) fn outside_mm(site: &Site<'_>, stack: &Stack) -> Option<f64> {
    if let Some(stated) = &site.given.given.socket_mm {
        return Some(stated.value);
    }
    let flats_mm = match (&stack.bolt, &stack.nut) {
        (Some(bolt), _) if bolt.form == "socket" => return Some(bolt.head_diameter_mm),
        (Some(bolt), _) => bolt.flats_mm,
        (None, Some(nut)) => nut.flats_mm,
        (None, None) => return None,
    };
    (flats_mm > 0.0 && flats_mm.is_finite()).then(|| spanner::socket_outside_mm(flats_mm))
}
