use super::*;
use crate::part::{Counterbore, Groove, Hole, Pocket};

fn hole(name: &str, x_mm: f64, y_mm: f64, diameter_mm: f64) -> Hole {
    Hole {
        name: name.to_owned(),
        purpose: String::new(),
        x_mm,
        y_mm,
        diameter_mm,
        thread: None,
        thread_depth_mm: None,
        drill_depth_mm: None,
        counterbore: None,
    }
}

fn plate() -> FlatPart {
    FlatPart {
        name: "plate".to_owned(),
        outline: Path::rounded_rectangle([0.0, 0.0], 200.0, 80.0, 12.0),
        thickness_mm: 12.0,
        holes: vec![hole("G1", -50.0, 0.0, 25.0), hole("B1", -90.0, -30.0, 6.6)],
        grooves: vec![Groove {
            middle: Path::rounded_rectangle([0.0, 0.0], 166.0, 46.0, 15.0),
            width_mm: 4.8,
            depth_mm: 2.6,
            face: Face::Seal,
        }],
        ..FlatPart::default()
    }
}

/// A rounded rectangle by the formula of the schoolbook.
fn rounded(w: f64, h: f64, r: f64) -> f64 {
    w * h - (4.0 - PI) * r * r
}

#[test]
fn volume_is_that_of_the_formula() {
    let solid = solid(&plate()).unwrap();
    let length = 2.0 * (166.0 - 30.0) + 2.0 * (46.0 - 30.0) + 2.0 * PI * 15.0;
    let expected = 12.0 * (rounded(200.0, 80.0, 12.0) - PI * (12.5 * 12.5 + 3.3 * 3.3))
        - length * 4.8 * 2.6;
    assert!((solid.volume_mm3() - expected).abs() < 1e-3, "{} {expected}", solid.volume_mm3());
    // Below the groove the metal is 9.4 mm; what stands inside it is as high as around it.
    assert_eq!(solid.flats.iter().filter(|f| f.face == Face::Seal).count(), 3);
    let groove = solid.section(0.0)[1];
    assert_eq!(groove.metal, Some((2.6, 12.0)));
    assert!((groove.to_mm - groove.from_mm - 4.8).abs() < 1e-6);
}

#[test]
fn a_counterbore_in_a_pocket_counts_from_its_floor() {
    let mut part = plate();
    part.pockets = vec![Pocket {
        edge: Path::rounded_rectangle([40.0, 0.0], 60.0, 30.0, 5.0),
        depth_mm: 3.0,
        face: Face::Outer,
    }];
    let mut inner = hole("P1", 40.0, 0.0, 6.0);
    inner.counterbore =
        Some(Counterbore { diameter_mm: 11.0, depth_mm: 4.0, face: Face::Outer });
    part.holes.push(inner);
    let with = solid(&part).unwrap();
    let taken = solid(&plate()).unwrap().volume_mm3() - with.volume_mm3();
    let expected = 3.0 * rounded(60.0, 30.0, 5.0) + 4.0 * PI * 5.5 * 5.5 + 5.0 * PI * 9.0;
    assert!((taken - expected).abs() < 1e-3, "{taken} {expected}");
    let wall = with.walls.iter().find(|w| w.name == "P1").unwrap();
    assert_eq!((wall.low_mm, wall.high_mm), (0.0, 5.0));
}

#[test]
fn what_is_no_body_is_refused_with_every_reason() {
    let mut part = plate();
    part.holes.push(hole("B2", -50.0, 20.0, 25.0));
    part.holes.push(hole("B3", 99.0, 0.0, 6.0));
    let faults: Vec<String> =
        solid(&part).unwrap_err().into_iter().map(|f| f.message).collect();
    assert!(faults.contains(&"B3 runs over the edge of the part".to_owned()), "{faults:?}");
    assert!(
        faults.contains(&"G1 and B2 run into each other on the seal side".to_owned()),
        "{faults:?}"
    );
    assert!(faults.iter().any(|f| f.contains("B2 and groove")), "{faults:?}");

    let mut part = plate();
    part.holes.clear();
    part.pockets = vec![Pocket {
        edge: Path::rounded_rectangle([0.0, 0.0], 180.0, 60.0, 5.0),
        depth_mm: 10.0,
        face: Face::Outer,
    }];
    let faults = solid(&part).unwrap_err();
    assert!(faults.iter().any(|f| f.message.contains("breaks through")), "{faults:?}");
    // The same pocket within what the groove leaves standing meets nothing.
    part.pockets[0].edge = Path::rounded_rectangle([0.0, 0.0], 80.0, 20.0, 5.0);
    assert!(solid(&part).is_ok());
}

#[test]
fn nonsense_is_refused_and_does_not_panic() {
    for spoil in [
        |p: &mut FlatPart| p.thickness_mm = f64::NAN,
        |p: &mut FlatPart| p.outline = Path::default(),
        |p: &mut FlatPart| p.holes[0].diameter_mm = -1.0,
        |p: &mut FlatPart| p.grooves[0].width_mm = 80.0,
        |p: &mut FlatPart| p.grooves[0].depth_mm = 12.0,
        |p: &mut FlatPart| p.holes[0].x_mm = f64::INFINITY,
        |p: &mut FlatPart| p.outline.vertices.truncate(1),
    ] {
        let mut part = plate();
        spoil(&mut part);
        assert!(!solid(&part).unwrap_err().is_empty());
    }
}
