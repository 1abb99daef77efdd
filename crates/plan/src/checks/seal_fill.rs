//! The groove is not filled: rubber does not compress, it needs somewhere to go.
//!
//! Nominal fill up to 85 %; at the worst of the tolerances up to 95 %, so that swell and heat have room. (The recommended groove
//! for 3.53 mm itself comes to 81 % and 89 %.)
//!
//! Source: O-ring design guide: 65 to 85 % (read); the 95 % is common practice, no source.

use physics::laws::oring::FILL_LIMITS;
use physics::units::Dimension;

use super::view::{percent, plates};
use super::{Check, Designed};
use crate::finding::{Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "seal-fill",
    rule: "the ring fills no more than 85 % of its groove, 95 % at the worst of the tolerances",
    source: "oring-guide-groove",
    judge,
};

/// Most fill with every tolerance against us.
const WORST: f64 = 0.95;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        let Some(seal) = &fitted.plate.seal else { continue };
        let [nominal, most] = seal.fill;
        let usual = Verdict::at_most(nominal, FILL_LIMITS.2);
        let worst = Verdict::at_most(most, WORST);
        let (value, limit) =
            if usual <= worst { (nominal, FILL_LIMITS.2) } else { (most, WORST) };
        let message = format!(
            "O-ring {} at {} fills {} of its groove, {} at most",
            seal.oring.row.id,
            fitted.name(),
            percent(nominal),
            percent(most)
        );
        notes.find(
            fitted
                .find(
                    check,
                    usual.min(worst),
                    fitted.at(&fitted.given.groove_width_mm),
                    message,
                )
                .judged(value, limit, Dimension::Ratio)
                .hint("cut the groove wider"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::holds;
    use super::super::view::seen::fails;

    #[test]
    fn a_usual_groove_holds() {
        holds("seal-fill", "");
    }

    #[test]
    fn a_groove_too_narrow_fails() {
        let patch = "[device.inverter.port.dc.plate]\ngroove-width = \"3.9 mm\"";
        fails("seal-fill", "groove-width", patch);
    }
}
