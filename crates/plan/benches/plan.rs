//! Time of the whole plan of each example, with its duty where it has one, and of each without.

use plan::given::build::Build;
use plan::given::document::read;
use plan::given::face;
use plan::given::shelf::Shelf;
use plan::given::shelf_read::{standard, with_shop};

fn main() {
    divan::main();
}

const FIRST: &str = include_str!("../../../builds/first/build.toml");
const TRUCK: &str = include_str!("../../../builds/orchard-truck/build.toml");
const TRUCK_PARTS: &str = include_str!("../../../builds/orchard-truck/parts.toml");
const TRUCK_FACE: &str = include_str!("../../../builds/orchard-truck/motor-phases-face.toml");
const WAGON: &str = include_str!("../../../builds/hill-wagon/build.toml");

fn build(text: &str) -> Build {
    let reading = read(text);
    assert!(reading.errors.is_empty(), "the examples are right");
    let mut build = reading.build;
    face::attach(&mut build, "motor-phases-face.toml", TRUCK_FACE);
    build
}

fn time(bencher: divan::Bencher, text: &str, shelf: &Shelf) {
    let build = build(text);
    bencher.bench(|| plan::plan(&build, shelf));
}

/// Measured lengths, stated currents.
#[divan::bench]
fn first(bencher: divan::Bencher) {
    time(bencher, FIRST, standard());
}

/// Stated currents, plates and a surveyed face.
#[divan::bench]
fn orchard_truck(bencher: divan::Bencher) {
    time(bencher, TRUCK, &with_shop(standard(), TRUCK_PARTS).0);
}

/// Currents from a drive and three hard cases, hot terminals, sections.
#[divan::bench]
fn hill_wagon(bencher: divan::Bencher) {
    time(bencher, WAGON, standard());
}

/// The same with one current for ever.
#[divan::bench]
fn hill_wagon_without_its_duty(bencher: divan::Bencher) {
    let from = WAGON.find("[duty]").expect("the wagon is driven");
    let to = from + WAGON[from..].find("\n# ---").expect("devices follow");
    let stated = format!("{}{}", &WAGON[..from], &WAGON[to..])
        .replace("[run.phases]", "[run.phases]\ncurrent = \"120 A\"\nfrequency = \"500 Hz\"")
        .replace("[run.dc]", "[run.dc]\ncurrent = \"90 A\"");
    time(bencher, &stated, standard());
}
