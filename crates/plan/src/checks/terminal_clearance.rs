//! Lugs side by side leave the gap in air that the voltage needs.
//!
//! The gap is what the terminals' pitch leaves between the widest parts that lie on them: palms, washers, heads.
//! The clearance is that of the impulse voltage which the overvoltage category gives for the highest
//! voltage, at the altitude. An insulating wall between the lugs lengthens the way; it is not counted.
//!
//! Source: IEC 60664-1, tables F.1, F.2 and A.2.

use physics::laws::spacing::{
    self, Insulation, MaterialGroup, Overvoltage, Pollution, Situation,
};
use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};
use crate::given::parts::Parts;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "terminal-clearance",
    rule: "the gap in air between neighbouring lugs is no less than the clearance the voltage needs",
    source: "iec-60664-1",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        if side.site.port.port.terminals.len() < 2 {
            continue;
        }
        if let Some(finding) = clearance(check, &side) {
            notes.find(finding);
        }
    }
}

fn clearance(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let lug = side.end.lug.as_ref()?;
    let parts = side.site.parts;
    let pitch = &side.site.port.port.pitch_mm;
    let at = side.site.at_port(pitch);
    let unknown = |at, message: String, hint: &str| {
        Some(side.find(check, Verdict::Unknown, at, message).hint(hint).safety())
    };
    let Some(pitch) = pitch else {
        let message = format!("distance between the terminals at {} is not known", side.port());
        let hint = "measure from centre to centre and state `pitch`: it settles the gap between the lugs";
        return unknown(at, message, hint);
    };
    let Some(voltage_v) = parts.voltage_v_max.filter(|v| *v > 0.0) else {
        let message = format!("highest voltage at {} is not known", side.port());
        let hint = "state `voltage-max` in [system]: it settles the clearance between lugs";
        return unknown(parts.build.system.at, message, hint);
    };
    let needed = match situation(parts, voltage_v, MaterialGroup::IiiA) {
        Some(situation) => spacing::spacing(&situation),
        None => return None,
    };
    let needed = match needed {
        Ok(spacing) => spacing.clearance_mm,
        Err(error) => return unknown(at, error.message(), "have the spacing judged by hand"),
    };
    let washer =
        side.end.stack.as_ref().and_then(|s| s.washer.as_ref()).map_or(0.0, |w| w.outside_mm);
    let head = side
        .end
        .stack
        .as_ref()
        .and_then(|s| s.bolt.as_ref())
        .map_or(0.0, |b| b.head_diameter_mm);
    let widest = lug.palm_width_mm.max(washer).max(head);
    let gap = pitch.value - widest;
    let message = format!(
        "gap between the lugs at {} is {}, the clearance for basic insulation at {} is {}",
        side.port(),
        side.mm(gap),
        side.mm(1000.0 * parts.around.altitude_m),
        side.mm(needed)
    );
    Some(
        side.find(check, Verdict::at_least(gap, needed), at, message)
            .judged(gap, needed, Dimension::Length)
            .hint("take lugs with a narrower palm, turn the palms away from each other, or part them with an insulating wall"),
    )
}

/// The clearance for basic insulation at the build's highest voltage and altitude, where the standard gives one.
pub(super) fn clearance_mm(parts: &Parts<'_>) -> Option<f64> {
    let voltage_v = parts.voltage_v_max.filter(|v| *v > 0.0)?;
    let situation = situation(parts, voltage_v, MaterialGroup::IiiA)?;
    spacing::spacing(&situation).ok().map(|s| s.clearance_mm)
}

/// The situation of the standard for two neighbouring terminals.
pub(super) fn situation(
    parts: &Parts<'_>,
    voltage_v: f64,
    group: MaterialGroup,
) -> Option<Situation> {
    let pollution = match parts.around.pollution_degree {
        1 => Pollution::One,
        2 => Pollution::Two,
        3 => Pollution::Three,
        _ => return None,
    };
    let category = match parts.around.overvoltage_category {
        1 => Overvoltage::I,
        2 => Overvoltage::Ii,
        3 => Overvoltage::Iii,
        4 => Overvoltage::Iv,
        _ => return None,
    };
    let altitude_m = parts.around.altitude_m;
    let insulation = Insulation::Basic;
    Some(Situation { voltage_v, pollution, group, category, altitude_m, insulation })
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::{fails, unknown};

    #[test]
    fn lugs_well_apart_hold() {
        holds("terminal-clearance", "");
    }

    #[test]
    fn lugs_that_nearly_touch_fail() {
        let found = fails(
            "terminal-clearance",
            "pitch",
            "[device.battery.port.main]\npitch = \"23 mm\"",
        );
        // IEC 60664-1 table F.1: over 300 to 600 V, category II: 4 kV; table F.2, case A: 3.0 mm up to 2000 m.
        assert_eq!(found.limit.map(|l| l.value), Some(3.0));
    }

    #[test]
    fn thin_air_needs_more() {
        let patch = "[surroundings]\naltitude = \"4000 m\"\n[device.battery.port.main]\npitch = \"23 mm\"";
        let found = fails("terminal-clearance", "pitch", patch);
        // IEC 60664-1 table A.2: 1.29 at 4000 m.
        assert!((found.limit.map_or(0.0, |l| l.value) - 3.87).abs() < 1e-9);
    }

    #[test]
    fn an_unknown_pitch_is_asked_for() {
        let patch = "[device.battery.port.main]\npitch = absent";
        let found = unknown("terminal-clearance", "device.battery.port.main", patch);
        assert!(found.safety);
    }
}
