//! The plate's ring and groove are known.
//!
//! Source: common practice, no source.

use super::view::{Fitted, plates};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "oring-known",
    rule: "the ring and the groove of every plate are known",
    source: "as568",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        notes.findings.extend(known(check, &fitted));
    }
}

fn known(check: &Check, fitted: &Fitted<'_>) -> Option<Finding> {
    let given = fitted.given;
    if let Some(seal) = &fitted.plate.seal {
        let message = format!(
            "O-ring {}, {} by {}, at {}",
            seal.oring.row.id,
            fitted.mm(seal.oring.inside_mm),
            fitted.mm(seal.oring.section_mm),
            fitted.name()
        );
        return Some(fitted.find(check, Verdict::Holds, fitted.at(&given.oring), message));
    }
    // A layout without a seal says why by its own rules.
    if fitted.plate.laid.is_some() {
        return None;
    }
    if given.oring.is_some() && fitted.looked_up.oring.is_none() {
        // A name that leads nowhere is a finding of the look-up.
        return None;
    }
    let missing: Vec<&str> = [
        ("`groove-depth`", given.groove_depth_mm.is_none()),
        ("`groove-width`", given.groove_width_mm.is_none()),
        ("`groove-inside`", given.oring.is_none() && given.groove_inside_mm.is_none()),
    ]
    .iter()
    .filter(|(_, missing)| *missing)
    .map(|(key, _)| *key)
    .collect();
    if missing.is_empty() {
        let message = format!("no O-ring on the shelf suits the groove of {}", fitted.name());
        return Some(
            fitted
                .find(check, Verdict::Fails, fitted.at(&given.groove_depth_mm), message)
                .hint("cut the groove for a ring that is made, or name the ring in `o-ring`"),
        );
    }
    let message = format!("seal of the plate of {} is not known", fitted.name());
    Some(
        fitted
            .find(check, Verdict::Unknown, given.at, message)
            .hint(format!("state {}: it settles ring, squeeze and fill", missing.join(", "))),
    )
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, check, holds, merge, planned};

    #[test]
    fn a_stated_ring_holds() {
        holds("oring-known", "");
    }

    #[test]
    fn a_ring_left_out_is_chosen_to_suit_the_groove() {
        let patch = "[device.inverter.port.dc.plate]\no-ring = absent";
        let plan = planned(&merge(BASE, patch));
        let plate = plan.plates.iter().find(|p| p.port == "inverter.dc").expect("the plate");
        // 154 mm takes AS568-258, 151.99 mm by 3.53 mm, with 1.3 % of stretch.
        assert_eq!(plate.seal.as_ref().map(|s| s.oring.row.id.as_str()), Some("258"));
        assert!(plan.assumed.iter().any(|a| a.key == "device.inverter.port.dc.plate.o-ring"));
        holds("oring-known", patch);
    }

    #[test]
    fn a_groove_no_ring_suits_fails() {
        check(
            r#"
            [device.inverter.port.dc.plate]
            o-ring = absent
            groove-depth = "9 mm"   #! fails oring-known
            "#,
        );
    }

    #[test]
    fn an_unknown_groove_is_asked_for() {
        check(
            r#"
            [device.inverter.port.dc.plate]   #! unknown oring-known
            groove-width = absent
            "#,
        );
    }
}
