use super::*;
use proptest::prelude::*;
use std::f64::consts::PI;

fn near(ours: f64, theirs: f64, within: f64) {
    assert!((ours - theirs).abs() <= within, "{ours} against {theirs}");
}

fn circle(x: f64, y: f64, radius_mm: f64) -> Circle {
    Circle { centre: [x, y], radius_mm }
}

#[test]
fn closed_forms() {
    let disc = Path::circle([3.0, -4.0], 5.0);
    near(disc.length_mm(), 10.0 * PI, 1e-12);
    near(disc.area_mm2(), 25.0 * PI, 1e-12);
    assert!(apart_mm(disc.centroid().unwrap(), [3.0, -4.0]) < 1e-12);
    near(disc.radius_mm_min().unwrap(), 5.0, 1e-12);

    let plate = Path::rounded_rectangle([10.0, 20.0], 80.0, 50.0, 8.0);
    near(plate.area_mm2(), 80.0 * 50.0 - (4.0 - PI) * 64.0, 1e-9);
    near(plate.length_mm(), 2.0 * (64.0 + 34.0) + 16.0 * PI, 1e-9);
    near(plate.radius_mm_min().unwrap(), 8.0, 1e-9);
    let (low, high) = plate.bounds().unwrap();
    assert!(apart_mm(low, [-30.0, -5.0]) < 1e-9 && apart_mm(high, [50.0, 45.0]) < 1e-9);

    let slot = Path::stadium([0.0, 0.0], [30.0, 40.0], 6.0);
    near(slot.area_mm2(), 50.0 * 12.0 + 36.0 * PI, 1e-9);
    near(slot.length_mm(), 100.0 + 12.0 * PI, 1e-9);

    // A half disc: its middle lies 4 r/(3 π) from its straight side.
    let half = Path { vertices: vec![vertex([2.0, 0.0], 1.0), vertex([-2.0, 0.0], 0.0)] };
    near(half.area_mm2(), 2.0 * PI, 1e-12);
    assert!(apart_mm(half.centroid().unwrap(), [0.0, 8.0 / (3.0 * PI)]) < 1e-12);
    assert_eq!(half.radius_mm_min(), Some(0.0));
}

#[test]
fn a_belt_over_two_unequal_pulleys() {
    // Open belt: L = 2 √(c² − (R − r)²) + π (R + r) + 2 (R − r) asin((R − r)/c).
    let belt = Path::belt(&[circle(0.0, 0.0, 30.0), circle(100.0, 0.0, 10.0)]);
    let by_hand = 2.0 * (100.0_f64 * 100.0 - 400.0).sqrt() + 40.0 * PI + 40.0 * libm::asin(0.2);
    near(belt.length_mm(), by_hand, 1e-9);
    assert_eq!(belt.vertices.len(), 4);
    assert!(!belt.crosses_itself());
    // One circle inside another is not met; three in a row are two arcs.
    let one = Path::belt(&[circle(0.0, 0.0, 30.0), circle(5.0, 0.0, 10.0)]);
    near(one.area_mm2(), 900.0 * PI, 1e-9);
    let row =
        Path::belt(&[circle(0.0, 0.0, 5.0), circle(20.0, 0.0, 5.0), circle(40.0, 0.0, 5.0)]);
    near(row.area_mm2(), 400.0 + 25.0 * PI, 1e-9);
    assert_eq!(row.vertices.len(), 4);
    assert!(Path::belt(&[]).vertices.is_empty());
    // Points are circles too.
    let triangle =
        Path::belt(&[circle(0.0, 0.0, 0.0), circle(9.0, 0.0, 0.0), circle(0.0, 9.0, 0.0)]);
    near(triangle.area_mm2(), 40.5, 1e-9);
}

#[test]
fn fillets_take_what_they_must() {
    let square = [[0.0, 0.0], [20.0, 0.0], [20.0, 20.0], [0.0, 20.0]];
    let round = Path::filleted(&square, &[3.0; 4]).unwrap();
    near(round.area_mm2(), 400.0 - (4.0 - PI) * 9.0, 1e-9);
    near(round.radius_mm_min().unwrap(), 3.0, 1e-9);
    assert!(Path::filleted(&square, &[11.0; 4]).is_none());
    // An L has one corner that turns the other way: its fillet adds what the others take.
    let l = [[0.0, 0.0], [30.0, 0.0], [30.0, 10.0], [10.0, 10.0], [10.0, 30.0], [0.0, 30.0]];
    let round = Path::filleted(&l, &[2.0; 6]).unwrap();
    near(round.area_mm2(), 500.0 - (5.0 - 1.0) * (4.0 - PI), 1e-9);
    assert!(!round.crosses_itself());
}

#[test]
fn a_bow_tie_crosses_itself() {
    let tie = Path::polygon(&[[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 10.0]]);
    assert!(tie.crosses_itself());
    assert!(!Path::circle([0.0, 0.0], 4.0).crosses_itself());
    assert!(!Path::rounded_rectangle([0.0, 0.0], 30.0, 20.0, 4.0).crosses_itself());
}

#[test]
fn parallels_of_an_l() {
    let l = [[0.0, 0.0], [30.0, 0.0], [30.0, 10.0], [10.0, 10.0], [10.0, 30.0], [0.0, 30.0]];
    let l = Path::polygon(&l);
    // Outside: A + L d + (5 quarter discs) d², less the square the inner corner saves.
    let [out] = &l.parallel(2.0)[..] else { panic!("one outline") };
    near(out.area_mm2(), 500.0 + 120.0 * 2.0 + 5.0 * PI - 4.0, 1e-4);
    // Inside: an L of thickness 6, its inner corner rounded.
    let [inner] = &l.parallel(-2.0)[..] else { panic!("one outline") };
    near(inner.area_mm2(), 26.0 * 26.0 - 20.0 * 20.0 - (PI - 4.0), 1e-4);
    assert!(l.parallel(-6.0).is_empty());
    // A waist of 4 mm parts into two.
    let waist = [
        [0.0, 0.0],
        [20.0, 0.0],
        [20.0, 8.0],
        [30.0, 8.0],
        [30.0, 0.0],
        [50.0, 0.0],
        [50.0, 20.0],
        [30.0, 20.0],
        [30.0, 12.0],
        [20.0, 12.0],
        [20.0, 20.0],
        [0.0, 20.0],
    ];
    assert_eq!(Path::polygon(&waist).parallel(-3.0).len(), 2);
}

#[test]
fn inside_and_gap() {
    let ring = Path::circle([0.0, 0.0], 10.0);
    let inner = Path::rounded_rectangle([1.0, 0.0], 8.0, 6.0, 2.0);
    assert!(ring.encloses(&inner) && !inner.encloses(&ring));
    // The corner arc centres lie at (3, 1): the far ones at √10 and 2 more from the middle.
    near(ring.gap(&inner).unwrap().0, 8.0 - 10.0_f64.sqrt(), 1e-9);
    near(ring.depth_mm([4.0, 3.0]), 5.0, 1e-12);
    near(ring.depth_mm([12.0, 0.0]), -2.0, 1e-12);
    let far = Path::circle([25.0, 0.0], 5.0);
    near(ring.gap(&far).unwrap().0, 10.0, 1e-12);
    assert_eq!(ring.gap(&Path::circle([12.0, 0.0], 5.0)).unwrap().0, 0.0);
    assert!(ring.gap(&Path::default()).is_none());
}

fn a_belt() -> impl Strategy<Value = Path> {
    prop::collection::vec((-60.0f64..60.0, -40.0f64..40.0, 3.0f64..15.0), 3..8).prop_map(|c| {
        Path::belt(&c.iter().map(|(x, y, r)| circle(*x, *y, *r)).collect::<Vec<_>>())
    })
}

proptest! {
    /// The belt holds every circle, touches nothing it should not, and has no corner.
    #[test]
    fn prop_a_belt_holds_its_circles(
        given in prop::collection::vec((-60.0f64..60.0, -40.0f64..40.0, 1.0f64..15.0), 1..9),
    ) {
        let circles: Vec<Circle> = given.iter().map(|(x, y, r)| circle(*x, *y, *r)).collect();
        let belt = Path::belt(&circles);
        prop_assert!(!belt.crosses_itself());
        for c in &circles {
            prop_assert!(belt.depth_mm(c.centre) > c.radius_mm - 1e-6, "{c:?} {belt:?}");
        }
        let least = circles.iter().map(|c| c.radius_mm).fold(f64::INFINITY, f64::min);
        prop_assert!(belt.radius_mm_min().unwrap() > least - 1e-6);
    }

    /// Steiner: outside a convex outline A + L d + π d², inside A − L d + π d² while the arcs last.
    #[test]
    fn prop_parallels_of_a_belt(belt in a_belt(), d in 0.1f64..2.9) {
        let (area, length) = (belt.area_mm2(), belt.length_mm());
        let out = belt.parallel(d);
        prop_assert_eq!(out.len(), 1);
        prop_assert!((out[0].area_mm2() - (area + length * d + PI * d * d)).abs() < 1e-3);
        let inner = belt.parallel(-d);
        prop_assert_eq!(inner.len(), 1);
        prop_assert!((inner[0].area_mm2() - (area - length * d + PI * d * d)).abs() < 1e-3);
        // A groove of width 2 d along the belt has the area of its length times its width.
        let groove = out[0].area_mm2() - inner[0].area_mm2();
        // Rounding to a nanometre moves each side by no more than that.
        prop_assert!((groove - 2.0 * d * length).abs() < 3e-6 * length);
        // Every corner of the parallel is at the distance.
        for v in &out[0].vertices {
            prop_assert!((belt.depth_mm(v.point()) + d).abs() < 1e-5);
        }
        prop_assert!((belt.gap(&out[0]).unwrap().0 - d).abs() < 1e-5);
    }

    /// Area by Green equals the area of a fine polygon; moving, turning and reversing keep what they must.
    #[test]
    fn prop_measures_hold_under_motion(belt in a_belt(), turn in -180.0f64..180.0, x in -50.0f64..50.0) {
        let fine = Path::polygon(&belt.sampled(1e-4, 1e3));
        prop_assert!((fine.area_mm2() / belt.area_mm2() - 1.0).abs() < 1e-4);
        prop_assert!(apart_mm(fine.centroid().unwrap(), belt.centroid().unwrap()) < 1e-2);
        let moved = belt.placed(turn, [x, 7.0]);
        prop_assert!((moved.area_mm2() - belt.area_mm2()).abs() < 1e-6);
        prop_assert!((moved.length_mm() - belt.length_mm()).abs() < 1e-6);
        for turned in [belt.reversed(), belt.mirrored()] {
            prop_assert!((turned.area_mm2() + belt.area_mm2()).abs() < 1e-6);
            prop_assert!((turned.length_mm() - belt.length_mm()).abs() < 1e-6);
        }
        prop_assert_eq!(belt.reversed().counter_clockwise().area_mm2().signum(), 1.0);
    }

    /// Inside or not agrees with a fine polygon away from the outline.
    #[test]
    fn prop_contains_as_a_polygon(b in prop::array::uniform4(-0.9f64..0.9), x in -25.0f64..25.0, y in -25.0f64..25.0) {
        let corners = [[10.0, -10.0], [10.0, 10.0], [-10.0, 10.0], [-10.0, -10.0]];
        let path = Path { vertices: (0..4).map(|i| vertex(corners[i], b[i])).collect() };
        prop_assume!(path.distance_mm([x, y]) > 1e-2);
        let fine = Path::polygon(&path.sampled(1e-4, 1e3));
        prop_assert_eq!(path.contains([x, y]), fine.contains([x, y]));
    }
}

#[test]
fn a_belt_passes_over_points_on_its_own_arcs() {
    // The corners of a rounded outline lie on the circles of its corners, to the last bit but one.
    let corners = [[10.8, 9.8], [234.8, 9.8], [234.8, 89.8], [10.8, 89.8]];
    let outline = Path::filleted(&corners, &[14.0; 4]).unwrap();
    let mut circles: Vec<Circle> =
        outline.vertices.iter().map(|v| circle(v.x_mm, v.y_mm, 0.0)).collect();
    for (x, y) in [(24.8, 23.8), (220.8, 23.8), (220.8, 75.8), (24.8, 75.8)] {
        circles.push(circle(x, y, 14.0));
        circles.push(circle(x, y, 14.0));
    }
    let belt = Path::belt(&circles);
    assert_eq!(belt.vertices.len(), 8);
    near(belt.area_mm2(), outline.area_mm2(), 1e-6);
}
