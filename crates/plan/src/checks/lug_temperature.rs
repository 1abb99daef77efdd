//! The lug, warmed by its own joint, stays below what its plating, its sleeve and the terminal's plastics bear.
//!
//! The joint is taken as bad as the drop rule allows, and all that it loses more than its cable flows into the cable. Bolted copper that is bare
//! oxidises from 90 degC on, tinned from 105 degC.
//!
//! Source: limits of bolted connections of IEC 60694, table 3 (read); sleeve and plastics by the shelf.

use physics::units::Dimension;

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "lug-temperature",
    rule: "a lug heated by its joint stays below what plating, sleeve and the terminal's plastics bear",
    source: "iec-60694",
    judge,
};

/// Bolted connection of bare copper, in air.
const BARE_C: f64 = 90.0;
/// The same, tinned.
const TINNED_C: f64 = 105.0;

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(warm(check, &side));
    }
}

fn warm(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let warm = side.end.warm.as_ref()?;
    let (limit_c, what) = limit(side)?;
    let units = side.site.parts.units;
    let c = |v: f64| physics::units::show_both(v, Dimension::Temperature, units);
    let k = physics::units::show_both(warm.rise_k, Dimension::Rise, units);
    let at = side.site.at_end(&side.site.given.given.lug);
    let message = format!(
        "the lug at {} reaches {}, {k} above its cable, {what} bears {}",
        side.port(),
        c(warm.lug_c),
        c(limit_c)
    );
    let hint = format!(
        "state a `limit` of the run of no more than {}, and a cable is chosen that keeps to it{}",
        c(libm::floor(limit_c - warm.rise_k)),
        if limit_c == BARE_C { "; or tin the lug and its pad" } else { "" }
    );
    Some(
        side.find(check, Verdict::at_most(warm.lug_c, limit_c), at, message)
            .judged(warm.lug_c, limit_c, Dimension::Temperature)
            .hint(hint),
    )
}

/// The least of what the lug touches bears, and what it is.
fn limit(side: &Side<'_>) -> Option<(f64, String)> {
    let lug = side.end.lug.as_ref()?;
    let port = side.site.port;
    let pad = port.pad_material.map(|m| m.row.id.as_str());
    let plated = |id: &str| id.contains("tinned");
    let both_tinned = plated(&lug.material) && pad.is_none_or(plated);
    let contact = if both_tinned { TINNED_C } else { BARE_C };
    let named = if both_tinned { "a tinned contact" } else { "a contact with a bare face" };
    let mut limits = vec![(contact, named.to_owned())];
    limits
        .extend(side.end.sleeve.as_ref().map(|s| (s.sleeve.limit_c, "its sleeve".to_owned())));
    let plastics = [port.thread_material, port.insulator, port.block_material];
    let plastics = plastics.into_iter().flatten();
    limits.extend(plastics.filter_map(|m| Some((m.limit_c?, m.row.name.clone()))));
    limits.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, holds, merge, planned, verdicts};
    use crate::finding::Verdict;

    #[test]
    fn a_usual_lug_holds() {
        holds("lug-temperature", "");
    }

    #[test]
    fn a_bare_pad_bears_less() {
        let limit = |patch: &str| {
            let plan = planned(&merge(BASE, patch));
            let mine = |f: &&crate::finding::Finding| {
                f.code == "lug-temperature" && f.about.port.as_deref() == Some("battery.main")
            };
            plan.findings.iter().find(mine).and_then(|f| f.limit).map(|l| l.value)
        };
        // IEC 60694 table 3, bolted in air: bare copper 90 degC, tin-coated 105 degC.
        assert_eq!(limit(""), Some(105.0));
        assert_eq!(limit("[device.battery.port.main]\npad-material = \"copper\""), Some(90.0));
    }

    #[test]
    fn a_hot_cable_heats_its_lug_too_far() {
        let patch = "[run.dc]\nconductor = \"6 AWG\"\ncurrent = \"110 A\"\nair = \"80 degC\"";
        assert!(verdicts("lug-temperature", patch).contains(&Verdict::Fails));
    }

    #[test]
    fn more_current_never_cools_a_lug() {
        let rise = |amps: u32| {
            let plan = planned(&merge(
                BASE,
                &format!(
                    "[run.dc]\nconductor = \"2/0 AWG\"\ncurrent = \"{amps} A\"\npeak = absent"
                ),
            ));
            let end = plan.ends.iter().find(|e| e.run == "dc").and_then(|e| e.warm.clone());
            end.expect("a known current").rise_k
        };
        assert!(0.0 < rise(100) && rise(100) < rise(150) && rise(150) < rise(200));
    }
}
