//! Writes parts as files, with what we say of them, for independent libraries to read back (`tests/python`).

mod samples;

use std::fmt::Write as _;
use std::path::PathBuf;

use space::part::FlatPart;
use space::path::Path;
use space::solid::{Solid, edges, solid};

fn folder() -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("parts");
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

#[expect(
    clippy::disallowed_methods,
    reason = "the files are for libraries outside this program"
)]
fn write(name: &str, bytes: impl AsRef<[u8]>) {
    std::fs::write(folder().join(name), bytes).unwrap();
}

/// What a reader must find: one line each, fields apart by tabs.
fn facts(name: &str, part: &FlatPart, solid: &Solid) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "part\t{name}\t{}\t{}", solid.volume_mm3(), solid.surface_mm2());
    let _ = writeln!(out, "holes\t{name}\t{}", part.holes.len());
    for hole in &part.holes {
        let (x, y, d) = (hole.x_mm, hole.y_mm, hole.diameter_mm);
        let _ = writeln!(out, "hole\t{name}\t{x}\t{y}\t{d}");
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
        let [outer, inner] = edges(&groove.middle, groove.width_mm).unwrap();
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
    for (name, part) in samples::all() {
        let solid = solid(&part).unwrap_or_else(|faults| panic!("{name}: {faults:?}"));
        write(&format!("{name}.step"), draw::step::step(&part.name, &solid));
        write(&format!("{name}.dxf"), draw::dxf::dxf(&part));
        all.push_str(&facts(name, &part, &solid));
    }
    write("facts.tsv", all);
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
