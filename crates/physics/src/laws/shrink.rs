//! Choosing a heat-shrink sleeve.
//!
//! supplied inside ≥ 1.2 × the largest it passes over · recovered inside ≤ 0.8 × the smallest it grips
//!
//! Range   Supplied 3 to 52 mm.
//! Source  2:1 thin wall sizes read in a maker-neutral sheet; adhesive-lined 3:1 and 4:1 sizes from
//!         memory; the two factors are common practice; supplied size is a minimum, recovered a
//!         maximum (read); length change 5 to 15 % (read).
//! Caveat  Sizes vary by maker: the sleeve's own two numbers rule.

/// Slack to slide over: supplied inside over largest diameter passed (common practice).
pub const SLIDE: f64 = 1.2;
/// Grip: recovered inside over smallest diameter covered, at most (common practice).
pub const GRIP: f64 = 0.8;
/// Shortening on recovery, (least, most) read.
pub const SHORTENING: (f64, f64) = (0.05, 0.15);

/// One sleeve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sleeve {
    /// Inside as supplied, least.
    pub supplied_mm: f64,
    /// Inside when free to recover, most.
    pub recovered_mm: f64,
    /// Wall when recovered.
    pub wall_mm: f64,
    /// Whether it carries adhesive.
    pub adhesive: bool,
}

const fn sleeve(supplied_mm: f64, recovered_mm: f64, wall_mm: f64, adhesive: bool) -> Sleeve {
    Sleeve { supplied_mm, recovered_mm, wall_mm, adhesive }
}

/// Thin wall 2:1 (read), then adhesive-lined 3:1 and 4:1 (memory, typical).
pub const SLEEVES: [Sleeve; 21] = [
    sleeve(3.2, 1.6, 0.48, false),
    sleeve(4.8, 2.4, 0.48, false),
    sleeve(6.4, 3.2, 0.56, false),
    sleeve(9.5, 4.8, 0.62, false),
    sleeve(12.7, 6.4, 0.62, false),
    sleeve(19.1, 9.5, 0.69, false),
    sleeve(25.4, 12.7, 0.89, false),
    sleeve(38.1, 19.1, 1.0, false),
    sleeve(50.8, 25.4, 1.1, false),
    sleeve(6.0, 2.0, 1.0, true),
    sleeve(9.0, 3.0, 1.4, true),
    sleeve(12.0, 4.0, 1.8, true),
    sleeve(19.0, 6.0, 2.2, true),
    sleeve(24.0, 8.0, 2.5, true),
    sleeve(39.0, 13.0, 2.5, true),
    sleeve(8.0, 2.0, 1.4, true),
    sleeve(12.0, 3.0, 1.8, true),
    sleeve(16.0, 4.0, 2.2, true),
    sleeve(24.0, 6.0, 2.4, true),
    sleeve(32.0, 8.0, 2.5, true),
    sleeve(52.0, 13.0, 2.5, true),
];

/// How a sleeve meets its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Supplied inside over the largest diameter it passes.
    pub slide: f64,
    /// Recovered inside over the smallest diameter it covers.
    pub grip: f64,
    /// It passes with the usual slack.
    pub passes: bool,
    /// It grips with the usual reserve.
    pub grips: bool,
}

/// Judges a sleeve: the largest diameter it must pass (often the palm of a lug) and the smallest it
/// must grip.
pub fn fit(sleeve: &Sleeve, largest_passed_mm: f64, smallest_covered_mm: f64) -> Fit {
    assert!(largest_passed_mm > 0.0 && smallest_covered_mm > 0.0);
    let slide = sleeve.supplied_mm / largest_passed_mm;
    let grip = sleeve.recovered_mm / smallest_covered_mm;
    Fit { slide, grip, passes: slide >= SLIDE, grips: grip <= GRIP }
}

/// The smallest sleeve that passes and grips; of two equally wide, the one of lower ratio.
pub fn choose(
    adhesive: bool,
    largest_passed_mm: f64,
    smallest_covered_mm: f64,
) -> Option<&'static Sleeve> {
    SLEEVES
        .iter()
        .filter(|s| s.adhesive == adhesive)
        .filter(|s| {
            let f = fit(s, largest_passed_mm, smallest_covered_mm);
            f.passes && f.grips
        })
        .min_by(|a, b| {
            (a.supplied_mm, -a.recovered_mm)
                .partial_cmp(&(b.supplied_mm, -b.recovered_mm))
                .expect("sleeve sizes are finite")
        })
}

/// Length to cut so that enough is left after the largest shortening.
pub fn cut_length_mm(covered_mm: f64) -> f64 {
    assert!(covered_mm > 0.0);
    covered_mm / (1.0 - SHORTENING.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lug_barrel_14_3_on_a_cable_of_15_5() {
        // By hand: 18.6 must pass and 11.4 still grip, so 19/6 is the smallest that does, and 24/8
        // does too.
        let chosen = choose(true, 15.5, 14.3).unwrap();
        assert_eq!((chosen.supplied_mm, chosen.recovered_mm), (19.0, 6.0));
        let fit = fit(&sleeve(24.0, 8.0, 2.5, true), 15.5, 14.3);
        assert!(fit.passes && fit.grips);
    }

    #[test]
    fn a_wide_palm_may_leave_no_thin_sleeve() {
        // 2:1 over a 30 mm palm onto a 15 mm cable: 38.1 passes but recovers to 19.1 and would hang
        // loose.
        assert_eq!(choose(false, 30.0, 15.0), None);
        assert!(choose(true, 30.0, 17.0).is_some());
    }

    #[test]
    fn cut_length_covers_after_shrinking() {
        let cut = cut_length_mm(50.0);
        assert!((cut * (1.0 - SHORTENING.1) - 50.0).abs() < 1e-9);
    }
}
