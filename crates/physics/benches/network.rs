//! Time of the heat network: a drive of half an hour, and how it grows with cells and with seconds.

use physics::heat::Arrangement;
use physics::network::{Cut, Load, Network, Piece, Precision, Run};

fn main() {
    divan::main();
}

#[path = "../tests/shared/mod.rs"]
mod shared;

fn run(length_m: f64) -> Run {
    shared::three_cables(length_m, Arrangement::Trefoil, 1200.0)
}

/// Stop and go of a town, then ever faster: made up, as restless as a regulatory cycle, a value each second.
fn drive(seconds: usize) -> Load {
    let pieces = (0..seconds)
        .map(|k| {
            let t = k as f64;
            let phase = t / 1800.0;
            let pulse = libm::sin(t / (7.0 + 5.0 * phase)) + 0.6 * libm::sin(t / 3.1 + 1.0);
            let stopped = (k / 40).is_multiple_of(5);
            Piece {
                seconds: 1.0,
                current_a: if stopped { 0.0 } else { 90.0 + 170.0 * pulse.abs() },
                frequency_hz: if stopped { 0.0 } else { 300.0 + 600.0 * phase.min(1.0) },
            }
        })
        .collect();
    Load { pieces }
}

/// Everything: cutting, tables, loss laws, steady start, 1800 s. Three cables, 40 cells, three nodes across.
#[divan::bench]
fn half_an_hour(bencher: divan::Bencher) {
    let (run, load) = (run(1.0), drive(1800));
    bencher.bench(|| {
        let network = Network::new(&run, &Cut::even(25.0, 2));
        network.course(&network.cold(), &load, &Precision::USUAL)
    });
}

/// The same without making the network ready.
#[divan::bench(args = [20, 40, 80, 160])]
fn by_cells(bencher: divan::Bencher, cells: usize) {
    let (network, load) =
        (Network::new(&run(0.025 * cells as f64), &Cut::even(25.0, 2)), drive(1800));
    let start = network.cold();
    bencher.bench(|| network.course(&start, &load, &Precision::USUAL));
}

#[divan::bench(args = [900, 1800, 3600, 7200])]
fn by_seconds(bencher: divan::Bencher, seconds: usize) {
    let (network, load) = (Network::new(&run(1.0), &Cut::even(25.0, 2)), drive(seconds));
    let start = network.cold();
    bencher.bench(|| network.course(&start, &load, &Precision::USUAL));
}

#[divan::bench]
fn make_ready(bencher: divan::Bencher) {
    let run = run(1.0);
    bencher.bench(|| Network::new(&run, &Cut::even(25.0, 2)));
}

#[divan::bench]
fn steady(bencher: divan::Bencher) {
    let network = Network::new(&run(1.0), &Cut::USUAL);
    let load = Load::constant(200.0, 800.0);
    bencher.bench(|| network.steady(&load));
}

/// A duty for ever: as many rounds as it takes.
#[divan::bench]
fn periodic(bencher: divan::Bencher) {
    let network = Network::new(&run(1.0), &Cut::even(25.0, 2));
    let load = drive(1800);
    bencher.bench(|| network.periodic(&load, &Precision::USUAL, 0.05));
}
