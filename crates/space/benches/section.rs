//! Time of a section of three cables in a jacket by finite elements, cut up beforehand.

use space::section_fe::{Cut, Order, Outline, Region, Rim, Section, cut, temperatures};

fn main() {
    divan::main();
}

fn section() -> Section {
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
    Section { regions, rim: Rim::Film(12.0, 30.0) }
}

/// About so many unknowns.
fn made(unknowns: f64, order: Order) -> (Section, Cut) {
    let section = section();
    let per_corner = if order == Order::Linear { 1.0 } else { 4.0 };
    // Refined triangles are about half as large as they may be.
    let size = (1256.6 / (unknowns / per_corner) / 0.433 / 1.3).sqrt();
    let cut = cut(&section, size, order, 400_000).expect("the section can be cut");
    (section, cut)
}

#[divan::bench(args = [5_000, 20_000, 80_000])]
fn linear(bencher: divan::Bencher, unknowns: usize) {
    let (section, cut) = made(unknowns as f64, Order::Linear);
    bencher
        .counter(divan::counter::ItemsCount::new(cut.nodes.len()))
        .bench(|| temperatures(&section, &cut));
}

#[divan::bench(args = [5_000, 20_000, 80_000])]
fn quadratic(bencher: divan::Bencher, unknowns: usize) {
    let (section, cut) = made(unknowns as f64, Order::Quadratic);
    bencher
        .counter(divan::counter::ItemsCount::new(cut.nodes.len()))
        .bench(|| temperatures(&section, &cut));
}

#[divan::bench]
fn cut_up(bencher: divan::Bencher) {
    let section = section();
    bencher.bench(|| cut(&section, 0.4, Order::Linear, 400_000));
}
