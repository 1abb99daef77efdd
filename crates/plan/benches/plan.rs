//! Time of the whole plan of each example, with its duty where it has one, and of each without.

use plan::design::layout::stiff;
use plan::design::{drive, ends, length, plates, settle, survey};
use plan::finding::Notes;
use plan::given::build::Build;
use plan::given::document::read;
use plan::given::parts;
use plan::given::shelf::Shelf;
use plan::given::shelf_read::{standard, with_shop};

fn main() {
    divan::main();
}

const FIRST: &str = include_str!("../../../builds/first/build.toml");
const TRUCK: &str = include_str!("../../../builds/orchard-truck/build.toml");
const TRUCK_PARTS: &str = include_str!("../../../builds/orchard-truck/parts.toml");
#[path = "../tests/shared/mod.rs"]
mod shared;

const WAGON: &str = include_str!("../../../builds/hill-wagon/build.toml");

fn build(text: &str) -> Build {
    let reading = read(text);
    assert!(reading.errors.is_empty(), "the examples are right");
    let mut build = reading.build;
    shared::attach_faces(&mut build, &shared::FACES);
    build
}

/// Three faces surveyed, three plates and a block laid out, proven and solved, and nothing else.
fn time_plates(bencher: divan::Bencher, text: &str) {
    let build = build(text);
    let (shelf, mut notes) = (standard(), Notes::default());
    let parts = parts::resolve(&build, shelf, &mut notes);
    let lengths = length::measure(&parts, &mut notes);
    let course = drive::drive(&parts, &mut notes);
    let sizes = settle::settle(&parts, &lengths, course.as_ref(), &mut notes);
    let ends = ends::finish(&parts, &sizes, &mut notes);
    let fit = || {
        stiff::forget();
        let mut notes = Notes::default();
        let faces = survey::measure(&parts, &mut notes);
        plates::fit(&parts, &ends, &faces, &mut notes)
    };
    let fitted = fit();
    assert!(fitted.len() == 3 && fitted.iter().all(|p| p.laid.is_some()), "all are laid out");
    assert!(fitted.iter().any(|p| p.block.as_ref().is_some_and(|b| b.part.is_some())));
    bencher.bench(fit);
}

/// Rings and thicknesses as stated.
#[divan::bench]
fn plates_of_the_orchard_truck(bencher: divan::Bencher) {
    time_plates(bencher, TRUCK);
}

/// Ring, groove and thickness are all to be found.
#[divan::bench]
fn plates_of_the_orchard_truck_with_nothing_stated(bencher: divan::Bencher) {
    let sought = ["o-ring", "groove-", "grip-at"];
    let left = TRUCK.lines().filter(|l| !sought.iter().any(|s| l.starts_with(s)));
    let text: Vec<&str> = left.collect();
    let mut text = text.join("\n");
    for stated in ["12 mm", "14 mm"] {
        let plate = "material = \"aluminium-6082-t6\"\n";
        text = text.replace(&format!("{plate}thickness = \"{stated}\"\n"), plate);
    }
    time_plates(bencher, &text);
}

fn time(bencher: divan::Bencher, text: &str, shelf: &Shelf) {
    let build = build(text);
    bencher.bench(|| {
        stiff::forget();
        plan::plan(&build, shelf)
    });
}

/// Measured lengths, stated currents.
#[divan::bench]
fn first(bencher: divan::Bencher) {
    time(bencher, FIRST, standard());
}

/// From the texts to the build.
#[divan::bench]
fn read_the_orchard_truck() -> Build {
    build(divan::black_box(TRUCK))
}

/// The standard shelf with the shop's parts.
#[divan::bench]
fn shelf_of_the_orchard_truck() -> Shelf {
    with_shop(standard(), divan::black_box(TRUCK_PARTS)).0
}

/// As the bench plans it after an edit that leaves the plates alone.
#[divan::bench]
fn orchard_truck_again(bencher: divan::Bencher) {
    let build = build(TRUCK);
    let shelf = with_shop(standard(), TRUCK_PARTS).0;
    bencher.bench(|| plan::plan(&build, &shelf));
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
