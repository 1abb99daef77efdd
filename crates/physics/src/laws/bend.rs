//! Least bend radius of a cable, to its inside, as a multiple of its outer diameter.
//!
//! r = n D
//!
//! Range   Cables up to 0.6/1 kV.
//! Source  DIN VDE 0298-3 (read, reproduced in a cable handbook) and a maker-neutral table of
//!         low-voltage cables (read); screened vehicle cable by makers' custom (memory).
//! Caveat  The maker's own figure rules where there is one. Radius is to the inside of the bend.

/// A rule: multiples by outer diameter, each (diameter up to mm, multiple).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Our name for it.
    pub name: &'static str,
    /// What it is for.
    pub condition: &'static str,
    /// (outer diameter up to and including, multiple of the diameter).
    pub steps: &'static [(f64, f64)],
    /// Where it comes from.
    pub source: &'static str,
}

const ALL: f64 = f64::INFINITY;
const VDE: &str = "DIN VDE 0298-3, flexible cables (read)";
const VDE_POWER: &str = "DIN VDE 0298-3, power cables 0.6/1 kV (read)";
const TABLE: &str = "low-voltage cable table, maker-neutral (read)";
const CUSTOM: &str = "makers' custom for vehicle cable (memory)";

/// Every rule, by name.
pub const RULES: [Rule; 18] = [
    rule("vde-fixed", "flexible cable, fixed installation", &[(12.0, 3.0), (ALL, 4.0)], VDE),
    rule(
        "vde-free",
        "flexible cable, free movement",
        &[(8.0, 3.0), (12.0, 4.0), (ALL, 5.0)],
        VDE,
    ),
    rule(
        "vde-inlet",
        "flexible cable, at an inlet without tension",
        &[(8.0, 3.0), (12.0, 4.0), (ALL, 5.0)],
        VDE,
    ),
    rule("vde-trailing", "flexible cable, trailing", &[(20.0, 5.0), (ALL, 6.0)], VDE),
    rule(
        "vde-festoon",
        "flexible cable, trolley or festoon",
        &[(8.0, 3.0), (12.0, 4.0), (ALL, 5.0)],
        VDE,
    ),
    rule("vde-drag-chain", "flexible cable, drag chain", &[(12.0, 4.0), (ALL, 5.0)], VDE),
    rule("vde-sheave", "flexible cable, return sheave", &[(ALL, 7.5)], VDE),
    rule("vde-power-fixed", "power cable, fixed laying", &[(ALL, 4.0)], VDE_POWER),
    rule(
        "vde-power-form-once",
        "power cable, formed out once",
        &[(10.0, 1.0), (25.0, 2.0), (ALL, 3.0)],
        VDE_POWER,
    ),
    rule(
        "unarmoured-installing",
        "unarmoured cable, while being installed",
        &[(25.0, 6.0), (ALL, 9.0)],
        TABLE,
    ),
    rule(
        "unarmoured-in-place",
        "unarmoured cable, in place",
        &[(25.0, 4.0), (ALL, 6.0)],
        TABLE,
    ),
    rule(
        "tape-screened-installing",
        "copper-tape screened cable, while being installed",
        &[(ALL, 18.0)],
        TABLE,
    ),
    rule(
        "tape-screened-in-place",
        "copper-tape screened cable, in place",
        &[(ALL, 12.0)],
        TABLE,
    ),
    rule("flexible-flexing", "flexible cable, flexing", &[(ALL, 6.0)], TABLE),
    rule("flexible-in-place", "flexible cable, installation wiring", &[(ALL, 4.0)], TABLE),
    rule(
        "vehicle-unscreened-fixed",
        "vehicle cable without screen, fixed",
        &[(ALL, 4.0)],
        CUSTOM,
    ),
    rule(
        "vehicle-screened-fixed",
        "vehicle cable with braid screen, fixed",
        &[(ALL, 5.0)],
        CUSTOM,
    ),
    rule(
        "vehicle-screened-moving",
        "vehicle cable with braid screen, moving",
        &[(ALL, 8.0)],
        CUSTOM,
    ),
];

const fn rule(
    name: &'static str,
    condition: &'static str,
    steps: &'static [(f64, f64)],
    source: &'static str,
) -> Rule {
    Rule { name, condition, steps, source }
}

/// A rule by name.
pub fn find(name: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.name.eq_ignore_ascii_case(name.trim()))
}

impl Rule {
    /// The multiple for an outer diameter.
    pub fn multiple(&self, outer_diameter_mm: f64) -> f64 {
        assert!(outer_diameter_mm > 0.0 && outer_diameter_mm.is_finite());
        self.steps
            .iter()
            .find(|step| outer_diameter_mm <= step.0)
            .expect("the last step of a bend rule covers every diameter")
            .1
    }

    /// Least radius to the inside of the bend.
    pub fn bend_radius_mm_min(&self, outer_diameter_mm: f64) -> f64 {
        self.multiple(outer_diameter_mm) * outer_diameter_mm // r = n D
    }
}

/// Straight length to keep after a lug or a grip before the first bend, over the diameter: "not
/// bent directly after the plug or crimp" (read); one to two diameters from memory.
pub const STRAIGHT_AFTER_END: (f64, f64) = (1.0, 2.0);

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn val_vde_0298_3_at_16_mm() {
        // Read: flexible cable of 12 to 20 mm: 4 D fixed, 5 D in free movement.
        assert_eq!(find("vde-fixed").unwrap().bend_radius_mm_min(16.0), 64.0);
        assert_eq!(find("vde-free").unwrap().bend_radius_mm_min(16.0), 80.0);
        assert_eq!(find("vde-power-form-once").unwrap().bend_radius_mm_min(16.0), 32.0);
    }

    #[test]
    fn every_rule_covers_every_diameter_in_order() {
        for rule in &RULES {
            assert_eq!(rule.steps.last().unwrap().0, f64::INFINITY, "{}", rule.name);
            assert!(rule.steps.windows(2).all(|p| p[0].0 < p[1].0 && p[0].1 <= p[1].1));
        }
    }

    proptest! {
        #[test]
        fn prop_a_thicker_cable_never_bends_tighter(d in 1.0f64..60.0, more in 0.0f64..20.0) {
            for rule in &RULES {
                prop_assert!(rule.bend_radius_mm_min(d) <= rule.bend_radius_mm_min(d + more));
            }
        }
    }
}
