//! Neither the palm under the head nor the pad under the palm is pressed beyond what its material bears.
//!
//! Judged at the torque that is stated, by the build or by the terminal's maker: one that the program sets never presses more
//! than is borne. Soft copper and plastic creep from under a head; the preload goes with them. The pressure spreads through the palm at 30
//! degrees, no farther than its edge.
//!
//! Source: VDI 2230-1, limiting pressures (memory).

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "pad-pressure",
    rule: "palm and pad are pressed no more than their materials bear",
    source: "vdi-2230-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(pressure(check, &side));
    }
}

fn pressure(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let (lug, torque) = (side.end.lug.as_ref()?, side.end.torque.as_ref()?);
    let joint = side.joint(lug)?;
    let given = &side.site.port.port.pad_material;
    let at = side.site.at_port(given);
    if given.is_none() {
        let message = format!("what the lugs lie on at {} is not known", side.port());
        return Some(
            side.find(check, Verdict::Unknown, at, message)
                .hint("state `pad-material`: it settles what pressure the contact face bears"),
        );
    }
    let stated =
        side.site.given.given.torque_nm.as_ref().or(side.site.port.port.torque_nm.as_ref());
    let preload_n = joint.preload_n(stated.map_or(torque.torque_nm, |t| t.value));
    let rings = joint.rings();
    let (worst, pressed, bears) = rings
        .iter()
        .filter_map(|ring| {
            let material = ring.material.filter(|m| m.bearing_mpa > 0.0)?;
            Some((material, ring.pressure_mpa(preload_n)?, material.bearing_mpa))
        })
        .max_by(|a, b| (a.1 / a.2).total_cmp(&(b.1 / b.2)))?;
    let message = format!(
        "{} at {} is pressed with {pressed:.0} MPa, it bears {bears:.0} MPa",
        worst.row.id,
        side.port()
    );
    let at = side.site.given.given.torque_nm.as_ref().map_or(at, |t| t.at);
    Some(
        side.find(check, Verdict::at_most(pressed, bears), at, message)
            .judged(pressed, bears, Dimension::Stress)
            .hint("take a wider washer, or less torque"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};
    use super::super::view::seen::fails;
    use crate::design::joint::Ring;

    #[test]
    fn copper_under_a_washer_holds() {
        holds("pad-pressure", "");
    }

    #[test]
    fn a_soft_pad_under_a_stated_torque_fails() {
        fails(
            "pad-pressure",
            "pad-material",
            "[device.inverter.port.phases]\npad-material = \"ptfe\"",
        );
    }

    #[test]
    fn an_unknown_pad_is_asked_for() {
        check(
            r#"
            [device.battery.port.main]   #! unknown pad-pressure
            pad-material = absent
            "#,
        );
    }

    #[test]
    fn a_hole_as_wide_as_the_washer_has_no_pressure_to_judge() {
        let ring = Ring { outside_mm: 16.0, hole_mm: 16.0, material: None };
        assert_eq!(ring.pressure_mpa(1000.0), None);
    }
}
