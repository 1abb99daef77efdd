//! Writes a section cut into triangles, with our temperatures and the time they took, for scikit-fem to solve
//! again on the same mesh (`tests/python/test_section.py`, `cargo xtask compare`).

use std::fmt::Write as _;
use std::time::Instant;

use space::section_fe::{Order, Outline, Region, Rim, Section, cut, temperatures};

#[test]
#[expect(
    clippy::disallowed_methods,
    reason = "the answer and its time are for other programs to compare"
)]
fn a_section_is_written_for_others_to_solve() {
    let circle = |x: f64, y: f64, r: f64, conductivity_w_mk: f64, heat_w_per_m: f64| Region {
        outline: Outline::Circle([x, y], r),
        conductivity_w_mk,
        heat_w_per_m,
    };
    let mut regions = vec![circle(0.0, 0.0, 20.0, 0.2, 0.0)];
    for (x, y) in [(0.0, 10.0), (-8.66, -5.0), (8.66, -5.0)] {
        regions.push(circle(x, y, 8.5, 1.0 / 3.5, 0.0));
        regions.push(circle(x, y, 6.0, 400.0, 40.0));
    }
    let section = Section { regions, rim: Rim::Film(12.0, 30.0) };
    let cut = cut(&section, 0.337, Order::Linear, 100_000).expect("it can be cut");
    let mut best_s = f64::INFINITY;
    let mut answer = None;
    for _ in 0..20 {
        let begun = Instant::now();
        answer = temperatures(&section, &cut);
        best_s = best_s.min(begun.elapsed().as_secs_f64());
    }
    let solved = answer.expect("it is held by air");
    assert!((19_000..22_000).contains(&cut.nodes.len()), "{}", cut.nodes.len());
    assert!((solved.out_w_per_m - 120.0).abs() < 1e-7, "heat in is heat out");
    let mut text = format!("seconds\t{best_s}\n");
    for (place, t) in cut.nodes.iter().zip(&solved.temperature_c) {
        let _ = writeln!(text, "node\t{}\t{}\t{t}", place[0], place[1]);
    }
    for (triangle, region) in cut.triangles.iter().zip(&cut.region) {
        let it = &section.regions[*region];
        let _ = writeln!(
            text,
            "triangle\t{}\t{}\t{}\t{}\t{}\t{region}",
            triangle[0], triangle[1], triangle[2], it.conductivity_w_mk, it.heat_w_per_m
        );
    }
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("peers");
    std::fs::create_dir_all(&folder).expect("the target folder can be written");
    std::fs::write(folder.join("section.tsv"), text).expect("the target folder can be written");
}
