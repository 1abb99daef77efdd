//! Time of the heat network: a drive of half an hour, and how it grows with cells and with seconds.

use physics::heat::{Arrangement, Cable, Surroundings};
use physics::laws::conductor::Material;
use physics::network::{Cut, Load, Network, Piece, Precision, Run, Section, Terminal, Within};

fn main() {
    divan::main();
}

fn run(length_m: f64) -> Run {
    let cable = Cable {
        resistance_20_ohm_per_m: 0.272e-3,
        material: Material::Copper,
        conductor_area_mm2_effective: 63.39,
        conductor_diameter_mm: 12.0,
        outer_diameter_mm: 17.0,
        insulation_resistivity_k_m_per_w: 3.5,
        insulation_heat_j_m3k: 2.4e6,
        emissivity: 0.9,
        current_a_rms: 1.0,
    };
    let section = |length_m: f64, arrangement: Arrangement, air_c: f64| Section {
        length_m,
        arrangement,
        surroundings: Surroundings::still_air(air_c),
        within: Within::Open,
        sun_w_m2: 0.0,
    };
    Run {
        cables: vec![cable; 3],
        screen: None,
        conductivity_w_mk: 390.0,
        lay: 1.0,
        frequency_hz: (0.0, 1200.0),
        sections: vec![
            section(0.4 * length_m, Arrangement::Trefoil, 60.0),
            section(0.6 * length_m, Arrangement::FlatTouching, 40.0),
        ],
        ends: vec![
            [
                Terminal { body: Some((90.0, 0.3)), joint_ohm: 20e-6 },
                Terminal { body: Some((65.0, 0.3)), joint_ohm: 20e-6 },
            ];
            3
        ],
        harmonics: Vec::new(),
    }
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
