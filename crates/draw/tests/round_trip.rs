//! Writes parts as files, with what we say of them, for independent libraries to read back (`tests/python`).

mod samples;

use std::fmt::Write as _;
use std::path::PathBuf;

use space::part::FlatPart;
use space::path::Path;
use space::solid::{Solid, edges, solid};

#[expect(
    clippy::disallowed_methods,
    reason = "the files are for libraries outside this program"
)]
fn write(name: &str, bytes: impl AsRef<[u8]>) {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("parts");
    std::fs::create_dir_all(&folder).expect("the test's own folder");
    std::fs::write(folder.join(name), bytes).expect("the test's own file");
}

/// What a reader must find: one line each, fields apart by tabs.
fn facts(name: &str, part: &FlatPart, solid: &Solid) -> String {
    let mut out = String::new();
    let (volume, surface) = (solid.volume_mm3(), solid.surface_mm2());
    let _ = writeln!(out, "part\t{name}\t{volume}\t{surface}\t{}", part.thickness_mm);
    for hole in &part.holes {
        let (x, y, d) = (hole.x_mm, hole.y_mm, hole.diameter_mm);
        let deep = hole.drill_depth_mm.unwrap_or(f64::INFINITY);
        let _ = writeln!(out, "hole\t{name}\t{x}\t{y}\t{d}\t{deep}");
    }
    let mut closed = |layer: &str, path: &Path| {
        let _ = writeln!(out, "loop\t{name}\t{layer}\t{}", path.area_mm2().abs());
    };
    closed("OUTLINE", &part.outline);
    for opening in &part.openings {
        closed("OPENING", opening);
    }
    for groove in &part.grooves {
        let side = if groove.face == space::part::Face::Seal { "SEAL" } else { "OUTER" };
        closed(&format!("GROOVE_{side}_SIDE_MIDDLE"), &groove.middle);
        // The edges by another way than the one that drew them: a band of constant width (Pappus).
        let band = groove.middle.length_mm() * groove.width_mm;
        let [outer, inner] =
            edges(&groove.middle, groove.width_mm).expect("a groove has edges");
        assert!((outer.area_mm2() - inner.area_mm2() - band).abs() < 1e-3);
        closed(&format!("GROOVE_{side}_SIDE"), &outer);
        closed(&format!("GROOVE_{side}_SIDE"), &inner);
    }
    for pocket in &part.pockets {
        let side = if pocket.face == space::part::Face::Seal { "SEAL" } else { "OUTER" };
        closed(&format!("POCKET_{side}_SIDE"), &pocket.edge);
    }
    out
}

#[test]
fn parts_are_written_for_others_to_read() {
    let mut all = String::new();
    let truck = samples::truck();
    let (pieces, _) = draw::papers::pieces(&truck);
    let mut stems: Vec<&str> = pieces.iter().map(|p| p.stem.as_str()).collect();
    stems.sort_unstable();
    let expected = [
        "block-motor-phases",
        "plate-inverter-dc",
        "plate-inverter-phases",
        "plate-motor-phases",
    ];
    assert_eq!(stems, expected, "every plate and the block of the example are laid out");
    let laid = pieces.iter().map(|p| (p.stem.as_str(), p.part.clone()));
    let odd = samples::awkwardly_faced();
    let odd = awkward_plate(&odd);
    for (name, part) in samples::all().into_iter().chain(laid).chain([("plate-awkward", odd)]) {
        let solid = solid(&part).unwrap_or_else(|faults| panic!("{name}: {faults:?}"));
        write(&format!("{name}.step"), draw::step::step(&part.name, &solid));
        write(&format!("{name}.dxf"), draw::dxf::dxf(&part));
        write(&format!("{name}.glb"), draw::glb::glb(&[draw::glb::part_body(name, &solid)]));
        all.push_str(&facts(name, &part, &solid));
    }
    write("facts.tsv", all);
}

/// The plate on the awkward face: laid out without a broken rule, and nothing of its plan fails.
fn awkward_plate(plan: &plan::Plan) -> FlatPart {
    use plan::finding::Verdict;
    let fails: Vec<_> = plan.findings.iter().filter(|f| f.verdict == Verdict::Fails).collect();
    assert!(fails.is_empty(), "{fails:#?}");
    let plate = plan.plates.iter().find(|p| p.port == "motor.phases").expect("a plate");
    let laid = plate.laid.as_ref().expect("laid out");
    assert!(!laid.refused() && laid.part.holes.len() == 7 + 3);
    let heights: Vec<f64> = laid.grips.iter().map(|g| g.at[1]).collect();
    assert!((heights[0] - heights[1]).abs() > 5.0 && (heights[1] - heights[2]).abs() > 5.0);
    laid.part.clone()
}

#[test]
fn turning_a_part_over_changes_neither_volume_nor_surface() {
    let part = samples::awkward();
    let (here, there) = (solid(&part).unwrap(), solid(&samples::turned(&part)).unwrap());
    assert!((here.volume_mm3() - there.volume_mm3()).abs() < 1e-3);
    assert!((here.surface_mm2() - there.surface_mm2()).abs() < 1e-3);
}

#[test]
fn the_same_part_gives_the_same_bytes() {
    let part = samples::awkward();
    let body = solid(&part).unwrap();
    assert_eq!(draw::step::step("a", &body), draw::step::step("a", &solid(&part).unwrap()));
    assert_eq!(draw::dxf::dxf(&part), draw::dxf::dxf(&part));
}

/// Every edge of a body is run once each way: nothing is open, nothing is inside out.
#[test]
fn bodies_of_every_end_are_closed() {
    use std::collections::BTreeMap;
    let truck = samples::truck();
    let mut seen = 0;
    for end in &truck.ends {
        let (Some(stack), Some(lug)) = (draw::sheets::stack_of(&truck, end), &end.lug) else {
            continue;
        };
        let bodies = draw::end_bodies::end_bodies(&stack, lug.palm_width_mm, None);
        let name = format!("end-{}-{}-{}", end.run, end.cable, end.port).replace('.', "-");
        for body in &bodies {
            let key =
                |i: u32| body.mesh.positions[i as usize].map(|v| (v * 1e5).round() as i64);
            let mut edges: BTreeMap<_, i32> = BTreeMap::new();
            for t in &body.mesh.triangles {
                for (a, b) in [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])] {
                    *edges.entry((key(a), key(b))).or_default() += 1;
                    *edges.entry((key(b), key(a))).or_default() -= 1;
                }
            }
            assert!(edges.values().all(|n| *n == 0), "{name}: {} is open", body.name);
            assert!(body.mesh.volume_mm3() > 0.0, "{name}: {} is inside out", body.name);
        }
        seen += 1;
    }
    assert!(seen > 3, "the example has ends");
    let ends = draw::papers::ends(&truck);
    assert_eq!(ends.len(), seen);
    for (i, (name, bytes)) in ends.iter().enumerate() {
        assert!(!ends[..i].iter().any(|(other, _)| other == name), "{name} is there twice");
        write(&format!("{name}.glb"), bytes);
    }
}
