//! Parts for the round trips: an ordinary plate, an awkward one with every feature, and it turned over.

use space::part::{Counterbore, Face, FlatPart, Groove, Hole, Mark, Pocket};
use space::path::{Path, Vertex};

pub(crate) fn hole(name: &str, purpose: &str, place: [f64; 2], diameter_mm: f64) -> Hole {
    Hole {
        name: name.to_owned(),
        purpose: purpose.to_owned(),
        x_mm: place[0],
        y_mm: place[1],
        diameter_mm,
        thread: None,
        thread_depth_mm: None,
        drill_depth_mm: None,
        counterbore: None,
    }
}

/// A rounded plate 200 x 80 x 12 with three bores, six screw holes and a ring's groove around the bores.
pub(crate) fn ordinary() -> FlatPart {
    let mut holes = Vec::new();
    for (name, x) in [("G1", -52.0), ("G2", 0.0), ("G3", 52.0)] {
        let mut grip = hole(name, "grip M25x1.5", [x, 0.0], 23.5);
        grip.thread = Some("M25x1.5".to_owned());
        holes.push(grip);
    }
    for (i, place) in
        [[-90.0, -30.0], [0.0, -34.0], [90.0, -30.0], [90.0, 30.0], [0.0, 34.0], [-90.0, 30.0]]
            .into_iter()
            .enumerate()
    {
        holes.push(hole(&format!("B{}", i + 1), "bolt M6", place, 6.6));
    }
    FlatPart {
        name: "plate inverter.phases".to_owned(),
        outline: Path::rounded_rectangle([0.0, 0.0], 200.0, 80.0, 12.0),
        thickness_mm: 12.0,
        holes,
        grooves: vec![Groove {
            middle: Path::rounded_rectangle([0.0, 0.0], 158.0, 54.0, 18.0),
            width_mm: 4.8,
            depth_mm: 2.64,
            face: Face::Seal,
        }],
        marks: vec![
            mark("U", [-52.0, 18.0], Face::Outer),
            mark("V", [0.0, 18.0], Face::Outer),
            mark("W", [52.0, 18.0], Face::Outer),
            mark("UP", [-76.0, 30.0], Face::Outer),
        ],
        ..FlatPart::default()
    }
}

fn mark(text: &str, place: [f64; 2], face: Face) -> Mark {
    Mark { text: text.to_owned(), x_mm: place[0], y_mm: place[1], height_mm: 5.0, face }
}

fn path(corners: &[(f64, f64, f64)]) -> Path {
    let vertex = |c: &(f64, f64, f64)| Vertex { x_mm: c.0, y_mm: c.1, bulge: c.2 };
    Path { vertices: corners.iter().map(vertex).collect() }
}

fn awkward_holes() -> Vec<Hole> {
    let mut holes: Vec<Hole> = [
        ([12.0, 11.0], 6.6),
        ([83.5, 8.5], 6.6),
        ([158.0, 17.0], 9.0),
        ([171.0, 71.5], 6.6),
        ([121.0, 108.0], 5.5),
        ([52.0, 121.0], 6.6),
        ([9.0, 74.0], 9.0),
    ]
    .into_iter()
    .enumerate()
    .map(|(i, (place, d))| hole(&format!("B{}", i + 1), "bolt", place, d))
    .collect();
    holes[0].counterbore =
        Some(Counterbore { diameter_mm: 11.0, depth_mm: 6.8, face: Face::Outer });
    holes[3].counterbore =
        Some(Counterbore { diameter_mm: 11.0, depth_mm: 3.2, face: Face::Seal });
    for (name, place, d, thread) in [
        ("G1", [45.0, 42.0], 30.5, "M32x1.5"),
        ("G2", [95.0, 57.0], 23.5, "M25x1.5"),
        ("T1", [66.0, 92.0], 4.2, "M5"),
    ] {
        let mut tapped = hole(name, "grip or block", place, d);
        tapped.thread = Some(thread.to_owned());
        holes.push(tapped);
    }
    holes.last_mut().expect("just put there").thread_depth_mm = Some(8.0);
    let mut deep = hole("P1", "earth stud M6", [135.0, 47.0], 6.6);
    deep.counterbore =
        Some(Counterbore { diameter_mm: 14.0, depth_mm: 2.0, face: Face::Outer });
    holes.push(deep);
    holes
}

fn awkward_ring() -> Path {
    Path::filleted(
        &[
            [20.0, 14.0],
            [92.0, 16.0],
            [152.0, 28.0],
            [162.0, 74.0],
            [118.0, 98.0],
            [54.0, 110.0],
            [18.0, 72.0],
        ],
        &[10.0, 40.0, 12.0, 12.0, 25.0, 12.0, 15.0],
    )
    .expect("the corners have room for their radii")
}

/// Irregular outline with a hollow, seven unequal bolts, every feature from both sides.
pub(crate) fn awkward() -> FlatPart {
    FlatPart {
        name: "plate Motor.phases (Größe 2)".to_owned(),
        // A hollow below between the second and third bolt, a round shoulder, corners without radius.
        outline: path(&[
            (0.0, 6.0, 0.414_213_562_373_095),
            (6.0, 0.0, 0.0),
            (100.0, 0.0, -0.35),
            (140.0, 0.0, 0.0),
            (172.0, 6.0, 0.0),
            (184.0, 66.0, 0.45),
            (160.0, 96.0, 0.0),
            (128.0, 118.0, 0.0),
            (60.0, 134.0, 0.3),
            (36.0, 124.0, 0.0),
            (0.0, 86.0, 0.0),
        ]),
        thickness_mm: 14.0,
        holes: awkward_holes(),
        openings: vec![path(&[
            (110.0, 78.0, 0.0),
            (128.0, 78.0, 1.0),
            (128.0, 88.0, 0.0),
            (110.0, 88.0, 1.0),
        ])],
        grooves: vec![Groove {
            middle: awkward_ring(),
            width_mm: 3.6,
            depth_mm: 1.98,
            face: Face::Seal,
        }],
        pockets: vec![
            Pocket {
                edge: Path::rounded_rectangle([135.0, 50.0], 24.0, 32.0, 6.0),
                depth_mm: 4.0,
                face: Face::Outer,
            },
            Pocket {
                edge: path(&[
                    (70.0, 72.0, 0.0),
                    (92.0, 76.0, 0.2),
                    (92.0, 94.0, 0.0),
                    (76.0, 88.0, -0.3),
                ]),
                depth_mm: 3.0,
                face: Face::Seal,
            },
        ],
        marks: vec![mark("U", [45.0, 66.0], Face::Outer), mark("IN", [70.0, 30.0], Face::Seal)],
    }
}

/// The same part turned over about the y axis: every face changes side.
pub(crate) fn turned(part: &FlatPart) -> FlatPart {
    let other = |face: Face| match face {
        Face::Seal => Face::Outer,
        Face::Outer => Face::Seal,
    };
    let flip = |path: &Path| path.mirrored().counter_clockwise();
    let mut part = part.clone();
    part.name.push_str(", turned");
    part.outline = flip(&part.outline);
    part.openings = part.openings.iter().map(flip).collect();
    for hole in &mut part.holes {
        hole.x_mm = -hole.x_mm;
        if let Some(bore) = &mut hole.counterbore {
            bore.face = other(bore.face);
        }
    }
    for groove in &mut part.grooves {
        groove.middle = flip(&groove.middle);
        groove.face = other(groove.face);
    }
    for pocket in &mut part.pockets {
        pocket.edge = flip(&pocket.edge);
        pocket.face = other(pocket.face);
    }
    for mark in &mut part.marks {
        mark.x_mm = -mark.x_mm;
        mark.face = other(mark.face);
    }
    part
}

#[path = "../../../plan/tests/shared/mod.rs"]
mod shared;

/// The example's plan.
pub(crate) fn truck() -> plan::Plan {
    planned(include_str!("../../../../builds/orchard-truck/build.toml"), &shared::FACES)
}

/// The same with a face on the motor that nobody would draw: an irregular opening and land, seven bolts at seven
/// distances, terminals off centre and out of line; ring and groove are left to the layout.
pub(crate) fn awkwardly_faced() -> plan::Plan {
    let build = include_str!("../../../../builds/orchard-truck/build.toml");
    let (before, plate) =
        build.split_once("[device.motor.port.phases.plate]").expect("a plate");
    let (block, _) = before.split_once("[device.motor.port.phases.block]").expect("a block");
    let sought = ["grip-pitch", "o-ring", "groove-depth", "groove-width", "groove-inside"];
    let plate: Vec<&str> =
        plate.lines().filter(|l| !sought.iter().any(|s| l.starts_with(s))).collect();
    // The terminals stand on the casting here, 38 mm from its wall.
    let text = format!(
        "{}[device.motor.port.phases.face]\nfile = \"motor-phases-face.toml\"\n\n\
         [device.motor.port.phases.plate]{}\n",
        block.replace("wall = \"34 mm\"", "wall = \"38 mm\""),
        plate.join("\n")
    );
    let mut faces = shared::FACES;
    faces[0].1 = include_str!("awkward-face.toml");
    planned(&text, &faces)
}

fn planned(build: &str, faces: &[(&str, &str)]) -> plan::Plan {
    let shop = include_str!("../../../../builds/orchard-truck/parts.toml");
    let mut reading = plan::given::document::read(build);
    assert_eq!(reading.errors, Vec::new());
    assert_eq!(shared::attach_faces(&mut reading.build, faces), Vec::new());
    let (shelf, errors) =
        plan::given::shelf_read::with_shop(plan::given::shelf_read::standard(), shop);
    assert!(errors.is_empty());
    plan::plan(&reading.build, &shelf)
}

pub(crate) fn all() -> Vec<(&'static str, FlatPart)> {
    let awkward = awkward();
    let turned = turned(&awkward);
    vec![("ordinary", ordinary()), ("awkward", awkward), ("turned", turned)]
}
