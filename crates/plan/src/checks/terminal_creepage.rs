//! The way along the insulation between terminals is as long as the voltage needs.
//!
//! Dirt and damp make a conducting film; a material that tracks easily needs a longer way. The group follows from the
//! comparative tracking index: 600 and more I, 400 II, 175 IIIa, 100 IIIb.
//!
//! Source: IEC 60664-1, table F.5; the groups from memory.

use physics::laws::spacing::{self, Insulation, MaterialGroup};
use physics::units::Dimension;

use super::terminal_clearance::situation;
use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "terminal-creepage",
    rule: "the way along the insulation between neighbouring terminals is no less than the creepage the voltage needs",
    source: "iec-60664-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        if side.site.port.port.terminals.len() < 2 {
            continue;
        }
        let found = creepage(check, &side, notes);
        notes.findings.extend(found);
    }
}

fn group(index: f64) -> Option<MaterialGroup> {
    match index {
        i if i >= 600.0 => Some(MaterialGroup::I),
        i if i >= 400.0 => Some(MaterialGroup::Ii),
        i if i >= 175.0 => Some(MaterialGroup::IiiA),
        i if i >= 100.0 => Some(MaterialGroup::IiiB),
        _ => None,
    }
}

fn creepage(check: &Check, side: &Side<'_>, notes: &mut Notes) -> Option<Finding> {
    let (parts, port) = (side.site.parts, side.site.port.port);
    // Without a voltage the clearance asks for it already.
    let voltage_v = parts.voltage_v_max.filter(|v| *v > 0.0)?;
    let insulator = side.site.port.insulator;
    let group = match insulator {
        Some(material) => match material.tracking_index.and_then(group) {
            Some(group) => group,
            None => {
                let message = format!(
                    "{} between the terminals at {} has no tracking index of 100 or more",
                    material.row.id,
                    side.port()
                );
                let at = side.site.at_port(&port.insulator);
                return Some(
                    side.find(check, Verdict::Fails, at, message)
                        .hint("name the plastic the terminals stand on; a material under 100 may not carry this voltage"),
                );
            }
        },
        None if port.insulator.is_some() => return None,
        None => {
            notes.assume(
                &format!("insulator at {}", side.port()),
                "material group IIIa",
                "the worst group that may be used throughout; name the plastic if you know it",
                &side.site.port_key("insulator"),
            );
            MaterialGroup::IiiA
        }
    };
    let at = side.site.at_port(&port.creepage_mm);
    let pollution = situation(parts, voltage_v, group)?.pollution;
    let needed = match spacing::creepage_mm(voltage_v, pollution, group, Insulation::Basic) {
        Ok(needed) => needed,
        Err(error) => {
            let finding = side.find(check, Verdict::Unknown, at, error.message());
            return Some(finding.hint("have the spacing judged by hand").safety());
        }
    };
    let Some(way) = &port.creepage_mm else {
        let message = format!(
            "way along the insulation between the terminals at {} is not known, {} is needed",
            side.port(),
            side.mm(needed)
        );
        let hint =
            "lay a thread along the surface from pad to pad, measure it and state `creepage`";
        return Some(side.find(check, Verdict::Unknown, at, message).hint(hint).safety());
    };
    let message = format!(
        "way along the insulation at {} is {}, the creepage for basic insulation is {}",
        side.port(),
        side.mm(way.value),
        side.mm(needed)
    );
    Some(
        side.find(check, Verdict::at_least(way.value, needed), at, message)
            .judged(way.value, needed, Dimension::Length)
            .hint("put a rib or a wall between the terminals, or a plastic that tracks less"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};
    use super::super::view::seen::{fails, unknown};

    #[test]
    fn a_long_way_holds() {
        holds("terminal-creepage", "");
    }

    #[test]
    fn a_short_way_fails() {
        let patch = "[device.battery.port.main]\ncreepage = \"5 mm\"";
        let found = fails("terminal-creepage", "creepage", patch);
        // IEC 60664-1 table F.5, degree 3, group II: 5.6 mm at 400 V, 7.1 mm at 500 V; at 403 V 5.645 mm.
        assert!((found.limit.map_or(0.0, |l| l.value) - 5.645).abs() < 1e-9);
    }

    #[test]
    fn a_plastic_that_tracks_needs_more() {
        check(
            r#"
            [device.battery.port.main]
            insulator = "g10-fr4"
            creepage = "6 mm"   #! fails terminal-creepage
            "#,
        );
    }

    #[test]
    fn metal_is_no_insulator() {
        fails(
            "terminal-creepage",
            "insulator",
            "[device.battery.port.main]\ninsulator = \"brass\"",
        );
    }

    #[test]
    fn an_unknown_way_is_asked_for() {
        let patch = "[device.battery.port.main]\ncreepage = absent";
        assert!(unknown("terminal-creepage", "device.battery.port.main", patch).safety);
    }
}
