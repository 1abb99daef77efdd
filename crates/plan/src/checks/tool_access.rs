//! The socket goes over the head inside the box.
//!
//! Beside a bolt stand its neighbour's head, the wall, and the barrels of bent lugs, its own and its neighbour's. A
//! socket is wider than the head it turns by a third or more.
//!
//! Source: socket diameters of an engineering handbook site (read, called conservative there); a measured socket rules.

use physics::units::Dimension;

use super::palm_wall::nearest_mm;
use super::view::{Side, sides};
use super::{Check, Designed};
use crate::design::ends::tool;
use crate::finding::{Finding, Notes, Verdict};
use crate::given::build::Landing;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "tool-access",
    rule: "a socket fits over each lug's bolt beside its neighbour, the wall and a bent lug's barrel",
    source: "roymech-spanner-room",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(access(check, designed, &side));
    }
}

/// What stands nearest to the bolt's centre: how far, and what it is.
fn nearest(designed: &Designed<'_>, side: &Side<'_>) -> Option<(f64, &'static str)> {
    let (stack, lug) = (side.end.stack.as_ref()?, side.end.lug.as_ref()?);
    let mut beside = Vec::new();
    if let Some(bend) = &side.end.bend {
        beside.push((bend.from_hole_mm, "its own bent lug"));
    }
    beside.extend(nearest_mm(designed, side).map(|mm| (mm, "the wall")));
    let port = side.site.port.port;
    if let (Some(pitch), true) = (&port.pitch_mm, port.terminals.len() > 1) {
        let barrel_mm = side.end.bend.as_ref().map_or(0.0, |_| {
            let sleeve_mm = side.end.sleeve.as_ref().map_or(0.0, |s| s.sleeve.wall_mm);
            lug.barrel_outside_mm / 2.0 + sleeve_mm
        });
        let neighbour_mm = barrel_mm.max(tool::head_mm(stack) / 2.0);
        beside.push((pitch.value - neighbour_mm, "its neighbour"));
    }
    beside.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))
}

fn access(check: &Check, designed: &Designed<'_>, side: &Side<'_>) -> Option<Finding> {
    let stack = side.end.stack.as_ref()?;
    let tool_mm = tool::outside_mm(&side.site, stack)? / 2.0;
    let given = &side.site.given.given.socket_mm;
    let at = side.site.at_end(given);
    let what = match side.site.landing() {
        Landing::Tapped => "bolt",
        Landing::Stud => "nut",
    };
    let Some((room_mm, beside)) = nearest(designed, side) else {
        let message =
            format!("room for a socket on the {what} at {} is not known", side.port());
        let hint = "state `pitch` and `wall` of the port: they settle whether the tool goes in";
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint));
    };
    let message = format!(
        "a socket of {} on the {what} at {} needs {} to its side, {beside} leaves {}",
        side.mm(2.0 * tool_mm),
        side.port(),
        side.mm(tool_mm),
        side.mm(room_mm)
    );
    Some(
        side.find(check, Verdict::kept(room_mm >= tool_mm), at, message)
            .judged(room_mm, tool_mm, Dimension::Length)
            .hint("measure a slimmer socket and state `socket`, or take a head with smaller flats or an inside hexagon"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};
    use super::super::view::seen::fails;

    #[test]
    fn a_usual_socket_goes_in() {
        holds("tool-access", "");
    }

    #[test]
    fn a_thick_socket_meets_its_neighbour() {
        check(
            r#"
            [run.phases.from-end]
            socket = "64 mm"   #! fails tool-access
            "#,
        );
    }

    #[test]
    fn a_near_wall_is_in_the_way() {
        let patch = "[device.battery.port.main]\nwall = \"12 mm\"\n[run.dc.from-end]\nsocket = \"26 mm\"";
        let found = fails("tool-access", "socket", patch);
        assert!(found.message.contains("the wall"), "{}", found.message);
        holds("tool-access", "[device.battery.port.main]\nwall = \"14 mm\"");
    }
}
