//! Resistance of a bolted lug joint.
//!
//! R_max = r × 2 in of the lug's own cable                      drop rule
//! R = (ρ/2) √(π H/F)                                           Holm, one plastic spot
//!
//! Range   Clean metal, force well above that of first contact.
//! Source  Drop rule: common in boat wiring (memory). Holm's spot from contact theory (memory);
//!         measured bolted copper joints 5 to 7 µohm and lugs 1.7 to 3.3 µohm (read in a
//!         practitioners' thread), good joint 5 to 15 µohm (read). "More than 50 % above the lowest
//!         of similar joints" asks for a look (read, acceptance-testing practice).
//! Caveat  Holm's single spot is a floor; films and few spots raise a real joint several times
//!         above it.

use std::f64::consts::PI;

/// Length of own cable whose drop a lug joint may have, mm.
pub const DROP_RULE_MM: f64 = 50.8;
/// A joint this many times the lowest of similar joints is looked at.
pub const SCATTER: f64 = 1.5;
/// Hardness of soft copper for Holm's spot, MPa (memory).
pub const COPPER_HARDNESS_MPA: f64 = 700.0;

/// Most a lug joint may have by the drop rule, from the cable's resistance in ohm/km.
pub fn drop_rule_ohm(cable_ohm_per_km: f64) -> f64 {
    assert!(cable_ohm_per_km > 0.0);
    cable_ohm_per_km * DROP_RULE_MM / 1.0e6 // R = r × 50.8 mm
}

/// Holm's estimate of one plastic contact spot.
pub fn holm_ohm(resistivity_ohm_m: f64, hardness_mpa: f64, force_n: f64) -> f64 {
    assert!(resistivity_ohm_m > 0.0 && hardness_mpa > 0.0 && force_n > 0.0);
    resistivity_ohm_m / 2.0 * (PI * hardness_mpa * 1e6 / force_n).sqrt() // R = (ρ/2) √(π H/F)
}

/// Force at which Holm's spot has a resistance.
pub fn holm_force_n(resistivity_ohm_m: f64, hardness_mpa: f64, resistance_ohm: f64) -> f64 {
    assert!(resistivity_ohm_m > 0.0 && hardness_mpa > 0.0 && resistance_ohm > 0.0);
    let half = resistivity_ohm_m / 2.0 / resistance_ohm;
    half * half * PI * hardness_mpa * 1e6 // F = (ρ/2R)² π H
}

/// Whether one of several like joints stands out: its ratio to the lowest.
pub fn scatter(joint_ohm: f64, lowest_ohm: f64) -> f64 {
    assert!(lowest_ohm > 0.0);
    joint_ohm / lowest_ohm
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn val_drop_rule_of_2_0() {
        // 2/0 at 0.26 ohm/km (read in a gauge table): 13.2 µohm, 4 mV at 300 A.
        let r = drop_rule_ohm(0.26);
        assert!((r - 13.2e-6).abs() < 0.05e-6);
        assert!((r * 300.0 - 4.0e-3).abs() < 0.05e-3);
    }

    #[test]
    fn val_holm_meets_measured_lugs() {
        // 15 kN on soft copper: 3.3 µohm, the top of the measured lug range 1.7 to 3.3 µohm (read).
        let r = holm_ohm(1.724e-8, COPPER_HARDNESS_MPA, 15_000.0);
        assert!((r - 3.3e-6).abs() < 0.05e-6, "{r}");
        assert!((holm_force_n(1.724e-8, COPPER_HARDNESS_MPA, r) - 15_000.0).abs() < 1e-6);
        // Four times the force halves it.
        assert!((holm_ohm(1.724e-8, 700.0, 60_000.0) / r - 0.5).abs() < 1e-12);
    }
}
