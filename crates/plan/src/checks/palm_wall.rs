//! A lug keeps the clearance to the wall of its box.
//!
//! The wall is earthed metal. The lug may turn a little before its bolt holds it, so its widest reach about the hole counts:
//! half a palm, its tip, the washer, the head. Where the face was surveyed, the distance is that from the terminal to the
//! edge of the opening; where it is stated too, the smaller one counts.
//!
//! Source: IEC 60664-1 for the clearance, basic insulation at the altitude.

use physics::units::Dimension;

use super::terminal_clearance::clearance_mm;
use super::view::{Side, sides};
use super::{Check, Designed};
use crate::design::ends::tool;
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "palm-wall",
    rule: "palm, washer and head keep the clearance to the wall of their box",
    source: "iec-60664-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(wall(check, designed, &side));
    }
}

/// From a terminal's centre to the edge of the surveyed opening, the least of all.
pub(super) fn surveyed_mm(designed: &Designed<'_>, port: &str) -> Option<f64> {
    let face = designed.faces.iter().find(|f| f.port == port)?;
    let opening = face.opening.as_ref()?;
    let distances = face.terminals.iter().map(|t| {
        let centre = [t.x_mm, t.y_mm];
        if opening.contains(centre) { opening.distance_mm(centre) } else { 0.0 }
    });
    distances.min_by(f64::total_cmp).filter(|mm| mm.is_finite())
}

/// The nearest wall, stated or surveyed.
pub(super) fn nearest_mm(designed: &Designed<'_>, side: &Side<'_>) -> Option<f64> {
    let stated = side.site.port.port.wall_mm.as_ref().map(|w| w.value);
    let surveyed = surveyed_mm(designed, side.port());
    match (stated, surveyed) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    }
}

fn wall(check: &Check, designed: &Designed<'_>, side: &Side<'_>) -> Option<Finding> {
    let lug = side.end.lug.as_ref()?;
    // Without a voltage the clearance between terminals asks for it already.
    let needed_mm = clearance_mm(side.site.parts)?;
    let seat_mm = side.end.stack.as_ref().map_or(0.0, tool::seat_mm);
    let reach_mm = (lug.palm_width_mm / 2.0).max(lug.hole_to_tip_mm).max(seat_mm / 2.0);
    let at = side.site.at_port(&side.site.port.port.wall_mm);
    let Some(wall_mm) = nearest_mm(designed, side) else {
        let message = format!(
            "distance from the terminals to the wall at {} is not known, {} are needed",
            side.port(),
            side.mm(reach_mm + needed_mm)
        );
        let hint = "measure from an outer terminal's centre to the nearest wall or earthed metal and state `wall`";
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint).safety());
    };
    let gap_mm = wall_mm - reach_mm;
    let message = format!(
        "gap between lug and wall at {} is {}, the clearance for basic insulation is {}",
        side.port(),
        side.mm(gap_mm),
        side.mm(needed_mm)
    );
    Some(
        side.find(check, Verdict::at_least(gap_mm, needed_mm), at, message)
            .judged(gap_mm, needed_mm, Dimension::Length)
            .hint("take a narrower lug or washer, or line the wall with an insulating sheet that is held in place"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::{fails, unknown};

    #[test]
    fn a_roomy_box_holds() {
        holds("palm-wall", "");
    }

    #[test]
    fn a_lug_that_nearly_touches_the_wall_fails() {
        let found = fails("palm-wall", "wall", "[device.battery.port.main]\nwall = \"12 mm\"");
        // IEC 60664-1 tables F.1 and F.2, case A: 4 kV, 3.0 mm.
        assert_eq!(found.limit.map(|l| l.value), Some(3.0));
    }

    #[test]
    fn thin_air_needs_more() {
        let patch = "[surroundings]\naltitude = \"4000 m\"\n[device.battery.port.main]\nwall = \"13 mm\"";
        let found = fails("palm-wall", "wall", patch);
        // IEC 60664-1 table A.2: 1.29 at 4000 m.
        assert!((found.limit.map_or(0.0, |l| l.value) - 3.87).abs() < 1e-9);
    }

    #[test]
    fn an_unknown_wall_is_asked_for() {
        let patch = "[device.battery.port.main]\nwall = absent";
        assert!(unknown("palm-wall", "device.battery.port.main", patch).safety);
    }

    #[test]
    fn a_surveyed_opening_counts_as_the_wall() {
        let face = r#"
            [device.battery.port.main.face.terminal.plus]
            at = ["-30 mm", "0 mm"]
            [device.battery.port.main.face.terminal.minus]
            at = ["30 mm", "0 mm"]
            [device.battery.port.main.face.corner.a]
            at = ["-42 mm", "-30 mm"]
            [device.battery.port.main.face.corner.b]
            at = ["42 mm", "-30 mm"]
            [device.battery.port.main.face.corner.c]
            at = ["42 mm", "30 mm"]
            [device.battery.port.main.face.corner.d]
            at = ["-42 mm", "30 mm"]
            [device.battery.port.main.face.opening]
            points = ["a", "b", "c", "d"]
        "#;
        // The wall lies 12 mm from the terminals, nearer than the stated one.
        let found = fails("palm-wall", "wall", face);
        assert_eq!(found.value.map(|v| (v.value * 10.0).round()), Some(14.0));
    }
}
