//! The way of a stiff cable, measured as straight legs and turned corners.
//!
//! A tape measures from corner to corner; a cable rounds the corner off. For a corner that turns by a
//! and is laid to the radius R of the cable's axis, the bend leaves and rejoins the legs
//!
//! t = R tan(a/2)            before and after the corner, and runs along
//! s = R a                   between (a in radians), so that the way is
//! L = sum(legs) - sum(2 R tan(a/2) - R a)
//!
//! Each corner lies in the plane of its own two legs; the planes of neighbouring corners may differ,
//! because neither length depends on the twist between them.
//!
//! Range    0 < a < 180 degrees; R >= 0.
//! Source   elementary geometry of the circle touching two lines.
//! Caveat   a real cable springs to a wider bend than it was formed to, which makes the way shorter: a
//!          cut by this length is never short for that reason.

/// The way along rounded corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Rounded {
    /// Along the axis, end to end.
    pub length_mm: f64,
    /// What is left straight of each leg; negative where the legs are too short for the radius.
    pub straights_mm: Vec<f64>,
    /// The tightest radius along the way; none where nothing turns.
    pub radius_mm_min: Option<f64>,
}

/// Why legs and corners are no way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoWay {
    /// There must be one leg more than corners.
    Count {
        /// Legs.
        legs: usize,
        /// Corners.
        corners: usize,
    },
    /// A leg has no length.
    Leg {
        /// Which, from 0.
        index: usize,
    },
    /// A corner turns by nothing, or all the way back.
    Corner {
        /// Which, from 0.
        index: usize,
    },
    /// The radius is negative or no number.
    Radius,
}

/// Rounds the corners between `legs_mm`, turned by `corners_deg`, to `radius_mm` at the axis.
pub fn round(legs_mm: &[f64], corners_deg: &[f64], radius_mm: f64) -> Result<Rounded, NoWay> {
    if legs_mm.len() != corners_deg.len() + 1 {
        return Err(NoWay::Count { legs: legs_mm.len(), corners: corners_deg.len() });
    }
    if !(radius_mm >= 0.0 && radius_mm.is_finite()) {
        return Err(NoWay::Radius);
    }
    if let Some(index) = legs_mm.iter().position(|l| !(*l > 0.0 && l.is_finite())) {
        return Err(NoWay::Leg { index });
    }
    if let Some(index) = corners_deg.iter().position(|a| !(*a > 0.0 && *a < 180.0)) {
        return Err(NoWay::Corner { index });
    }

    let mut straights_mm = legs_mm.to_vec();
    let mut arcs_mm = 0.0;
    for (corner, turned_deg) in corners_deg.iter().enumerate() {
        let turned = turned_deg.to_radians();
        // t = R tan(a/2)
        let tangent_mm = radius_mm * libm::tan(turned / 2.0);
        straights_mm[corner] -= tangent_mm;
        straights_mm[corner + 1] -= tangent_mm;
        // s = R a
        arcs_mm += radius_mm * turned;
    }
    let length_mm = straights_mm.iter().sum::<f64>() + arcs_mm;
    let radius_mm_min = (!corners_deg.is_empty()).then_some(radius_mm);
    Ok(Rounded { length_mm, straights_mm, radius_mm_min })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn near(got: f64, expected: f64) {
        assert!((got - expected).abs() < 1e-9 * expected.abs().max(1.0), "{got}: {expected}");
    }

    #[test]
    fn val_a_square_corner_saves_two_radii_less_a_quarter_circle() {
        // Two legs of 500 mm and a right angle to R 100: 1000 - 200 + 50 pi.
        let way = round(&[500.0, 500.0], &[90.0], 100.0).unwrap();
        near(way.length_mm, 800.0 + 50.0 * std::f64::consts::PI);
        near(way.straights_mm[0], 400.0);
        assert_eq!(way.radius_mm_min, Some(100.0));
    }

    #[test]
    fn val_a_hexagon_with_its_inner_circle() {
        // Half legs at both ends of five full sides: rounding to the apothem leaves no straight, and the
        // way is five sixths of the circle that touches all sides.
        let side = 200.0;
        let apothem = side * 3f64.sqrt() / 2.0;
        let legs = [side / 2.0, side, side, side, side, side / 2.0];
        let way = round(&legs, &[60.0; 5], apothem).unwrap();
        near(way.length_mm, 5.0 / 6.0 * 2.0 * std::f64::consts::PI * apothem);
        for straight in way.straights_mm {
            assert!(straight.abs() < 1e-9, "{straight}");
        }
    }

    #[test]
    fn legs_too_short_leave_less_than_nothing() {
        let way = round(&[300.0, 150.0, 300.0], &[90.0, 90.0], 100.0).unwrap();
        near(way.straights_mm[1], -50.0);
    }

    #[test]
    fn what_is_no_way_says_why() {
        assert_eq!(round(&[1.0], &[90.0], 1.0), Err(NoWay::Count { legs: 1, corners: 1 }));
        assert_eq!(round(&[1.0, 0.0], &[90.0], 1.0), Err(NoWay::Leg { index: 1 }));
        assert_eq!(round(&[1.0, 1.0], &[180.0], 1.0), Err(NoWay::Corner { index: 0 }));
        assert_eq!(round(&[1.0, 1.0], &[f64::NAN], 1.0), Err(NoWay::Corner { index: 0 }));
        assert_eq!(round(&[1.0, 1.0], &[90.0], -1.0), Err(NoWay::Radius));
        assert_eq!(round(&[1.0], &[], 5.0).unwrap().radius_mm_min, None);
    }

    proptest! {
        #[test]
        fn prop_reversing_keeps_the_length(
            (legs, corners) in (1usize..8).prop_flat_map(|corners| (
                prop::collection::vec(10.0..3000.0f64, corners + 1),
                prop::collection::vec(1.0..170.0f64, corners),
            )),
            radius in 0.0..300.0f64,
        ) {
            let there = round(&legs, &corners, radius).unwrap();
            let (mut legs, mut corners) = (legs, corners);
            legs.reverse();
            corners.reverse();
            let back = round(&legs, &corners, radius).unwrap();
            prop_assert!((there.length_mm - back.length_mm).abs() < 1e-6);
        }

        #[test]
        fn prop_a_rounder_corner_never_makes_the_way_longer(
            turned in 1.0..170.0f64, small in 0.0..200.0f64, more in 0.0..200.0f64,
        ) {
            let tight = round(&[5000.0, 5000.0], &[turned], small).unwrap();
            let wide = round(&[5000.0, 5000.0], &[turned], small + more).unwrap();
            prop_assert!(wide.length_mm <= tight.length_mm + 1e-9);
        }
    }
}
