//! The lug is made for the conductor, and the conductor goes into its barrel.
//!
//! A barrel for another size is pressed too loosely or not fully; a fine-strand conductor is thicker than the
//! solid one of its area and may not go in at all.
//!
//! Source: common practice, no source.

use physics::units::Dimension;

use super::view::sides;
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "lug-conductor",
    rule: "the lug is made for the conductor, and the strands go into its barrel",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let (Some(lug), Some(cable)) = (&side.end.lug, side.site.cable) else { continue };
        let at = side.site.at_end(&side.site.given.given.lug);
        if lug.size != cable.size {
            let message = format!(
                "lug {} at {} is made for {}, the cable is {}",
                lug.row.id,
                side.port(),
                lug.size,
                cable.size
            );
            let hint =
                format!("take a lug for {}, or leave `lug` out and one is chosen", cable.size);
            notes.find(side.find(check, Verdict::Fails, at, message).hint(hint));
            continue;
        }
        let enters = cable.conductor_diameter_mm <= lug.barrel_inside_mm;
        let message = format!(
            "conductor of {} goes into a barrel of {} at {}",
            side.mm(cable.conductor_diameter_mm),
            side.mm(lug.barrel_inside_mm),
            side.port()
        );
        let message =
            if enters { message } else { message.replace("goes into", "does not go into") };
        notes.find(
            side.find(check, Verdict::kept(enters), at, message)
                .judged(cable.conductor_diameter_mm, lug.barrel_inside_mm, Dimension::Length)
                .hint(
                    "measure the bare conductor: strands and lugs of one size differ by maker",
                ),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};

    #[test]
    fn a_chosen_lug_suits_its_conductor() {
        holds("lug-conductor", "");
    }

    #[test]
    fn a_lug_for_another_conductor_fails() {
        check(
            r#"
            [device.battery.port.main]
            torque = "12 N m"
            [run.dc.from-end]
            lug = "6 M8"   #! fails lug-conductor
            die = "50"     #! fails crimp-die
            washer = "none"
            "#,
        );
    }
}
