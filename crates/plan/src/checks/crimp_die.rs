//! The die belongs to the lug, presses its conductor, and is in the shop.
//!
//! A die's number is a code, not a size in mm: only the lug maker's table says which die presses which lug. A crimp
//! with the wrong die looks right and heats up.
//!
//! Source: common practice, no source.

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "crimp-die",
    rule: "the die is one the lug is made for, presses its conductor and is among the shop's",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(die(check, &side));
    }
}

fn die(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let lug = side.end.lug.as_ref()?;
    let given = &side.site.given.given.die;
    let at = side.site.at_end(given);
    let fails = |message: String| Some(side.find(check, Verdict::Fails, at, message));
    let Some(crimp) = &side.end.crimp else {
        if given.is_some() {
            // A die that no row knows is a finding of the look-up.
            return None;
        }
        let message = format!("no die is known for lug {} at {}", lug.row.id, side.port());
        return Some(
            side.find(check, Verdict::Unknown, at, message)
                .hint("look it up in the lug maker's die table and put a crimp row into parts.toml")
                .safety(),
        );
    };
    if !lug.crimps.contains(&crimp.row.id) || crimp.size != lug.size {
        return fails(format!(
            "die {} of {} is not one for lug {} at {}",
            crimp.die,
            crimp.row.id,
            lug.row.id,
            side.port()
        ))
        .map(|f| f.hint(format!("its crimp rows are {}", lug.crimps.join(", "))));
    }
    // A code has a digit; words stand where none can be stated.
    if !crimp.die.chars().any(|c| c.is_ascii_digit()) {
        let message =
            format!("the die for lug {} at {} has no known code", lug.row.id, side.port());
        return Some(
            side.find(check, Verdict::Unknown, at, message)
                .hint(format!(
                    "look it up in the lug maker's die table and put [crimp.\"{}\"] with its die into parts.toml",
                    crimp.row.id
                ))
                .safety(),
        );
    }
    let dies = side.site.parts.build.workshop.dies.as_ref();
    let owned = dies.is_none_or(|dies| dies.value.iter().any(|d| d.value == crimp.die));
    if !owned {
        let all: Vec<&str> =
            dies.iter().flat_map(|d| d.value.iter()).map(|d| d.value.as_str()).collect();
        let message = format!(
            "die {} for lug {} at {} is not among the shop's: {}",
            crimp.die,
            lug.row.id,
            side.port(),
            all.join(", ")
        );
        return fails(message)
            .map(|f| f.hint("get the die, or a lug that one of yours presses"));
    }
    let message = format!("die {} presses lug {} at {}", crimp.die, lug.row.id, side.port());
    Some(side.find(check, Verdict::Holds, at, message))
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn the_die_for_the_lug_holds() {
        // Common practice: a 2/0 AWG lug with a 5/16 in hole takes an M8 bolt and is pressed with the die marked 50.
        holds("crimp-die", "");
    }

    #[test]
    fn a_die_for_another_lug_fails() {
        check(
            r#"
            [workshop]
            dies = ["50", "70"]
            [run.dc.from-end]
            die = "70"   #! fails crimp-die
            "#,
        );
    }

    #[test]
    fn a_die_the_shop_lacks_fails() {
        check(
            r#"
            [workshop]
            dies = ["54"]
            [run.phases.from-end]
            die = "50"   #! fails crimp-die
            [run.phases.to-end]
            die = "50"   #! fails crimp-die
            [run.dc.from-end]
            die = "50"   #! fails crimp-die
            [run.dc.to-end]
            die = "50"   #! fails crimp-die
            "#,
        );
    }

    #[test]
    fn a_lug_without_a_known_die_is_asked_about() {
        check(
            r#"
            [device.inverter.port.dc.plate]
            grip-pitch = "64 mm"
            [device.inverter.port.dc]
            room-above = "64 mm"
            [device.battery.port.main]
            torque = "12 N m"
            [run.dc]
            conductor = "3/0 AWG"
            [run.dc.from-end]   #! unknown crimp-die
            die = absent
            [run.dc.to-end]     #! unknown crimp-die
            die = absent
            straight-after-lug = "45 mm"
            "#,
        );
    }
}
