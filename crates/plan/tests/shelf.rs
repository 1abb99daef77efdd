//! The shelf that ships with the program, and a shop's parts over it.

use physics::laws::conductor::ConductorSize;
use physics::units::System;
use plan::given::shelf::*;
use plan::given::shelf_look::{Part, looked_for};
use plan::given::shelf_read::{RowError, kinds, standard, with_shop};

fn rows_of<P: Part>(shelf: &Shelf) -> Vec<(&'static str, Row)> {
    P::of(shelf).iter().map(|p| (P::KIND, p.row().clone())).collect()
}

fn all_rows(shelf: &Shelf) -> Vec<(&'static str, Row)> {
    [
        rows_of::<Conductor>(shelf),
        rows_of::<Cable>(shelf),
        rows_of::<Insulation>(shelf),
        rows_of::<Lug>(shelf),
        rows_of::<Crimp>(shelf),
        rows_of::<Sleeve>(shelf),
        rows_of::<Grip>(shelf),
        rows_of::<Oring>(shelf),
        rows_of::<Bolt>(shelf),
        rows_of::<Nut>(shelf),
        rows_of::<Washer>(shelf),
        rows_of::<ThreadHoles>(shelf),
        rows_of::<Material>(shelf),
        rows_of::<BoltClass>(shelf),
        rows_of::<Fuse>(shelf),
        rows_of::<Contactor>(shelf),
    ]
    .concat()
}

#[test]
fn every_row_has_a_source_and_a_standing_of_a_published_kind() {
    let shelf = standard();
    let rows = all_rows(shelf);
    assert!(700 < rows.len(), "{} rows", rows.len());
    for (kind, row) in &rows {
        assert!(shelf.source(&row.source).is_some(), "{kind} {}: {}", row.id, row.source);
        assert_ne!(row.standing, Standing::Shop, "{kind} {}", row.id);
        assert!(!row.id.is_empty() && !row.name.is_empty(), "{kind} {row:?}");
        assert_eq!(row.price, None, "no prices ship: {}", row.id);
    }
}

#[test]
fn every_source_has_a_title_and_says_how_it_was_seen() {
    let sources = &standard().sources;
    for (at, source) in sources.iter().enumerate() {
        assert!(!source.title.is_empty() && !source.seen.is_empty(), "{source:?}");
        assert!(sources[..at].iter().all(|s| s.key != source.key), "{source:?}");
    }
}

#[test]
fn no_id_is_there_twice_in_any_kind() {
    // A build's price list names parts by id alone.
    let mut ids: Vec<String> = all_rows(standard()).into_iter().map(|(_, r)| r.id).collect();
    ids.sort();
    let twice: Vec<&[String]> = ids.windows(2).filter(|w| w[0] == w[1]).collect();
    assert!(twice.is_empty(), "{twice:?}");
}

#[test]
fn values_only_typical_say_so() {
    let shelf = standard();
    for (kind, row) in rows_of::<Cable>(shelf).iter().chain(&rows_of::<Fuse>(shelf)) {
        assert_eq!(row.standing, Standing::Typical, "{kind} {}", row.id);
    }
}

fn oring(dash: &str) -> &'static Oring {
    standard().find::<Oring>(dash).expect("the ring is on the shelf")
}

#[test]
fn val_as568_spot_values() {
    // -028 and -222: AS568 as printed in every seal guide; -258 the same. The others are sizes that widely
    // copied lists have wrong: inch sizes 17.955, 1.037, 9.975 in.
    for (dash, inside_mm, section_mm) in [
        ("028", 34.65, 1.78),
        ("222", 37.69, 3.53),
        ("258", 151.99, 3.53),
        ("284", 17.955 * 25.4, 3.53),
        ("319", 1.037 * 25.4, 5.33),
        ("377", 9.975 * 25.4, 5.33),
    ] {
        let ring = oring(dash);
        // Half of the last printed place, 0.01 mm.
        assert!((ring.inside_mm - inside_mm).abs() < 0.0051, "{dash}: {}", ring.inside_mm);
        assert_eq!(ring.section_mm, section_mm, "{dash}");
    }
    assert_eq!((oring("028").inside_tol_mm, oring("222").inside_tol_mm), (0.33, 0.38));
    assert_eq!((oring("239").inside_tol_mm, oring("386").inside_tol_mm), (0.71, 2.03));
}

#[test]
fn as568_is_whole_and_rises_within_every_series() {
    let rings = &standard().orings;
    // "AS568 describes 369 O-rings".
    assert_eq!(rings.len(), 369);
    let number = |ring: &Oring| ring.row.id.parse::<u32>().unwrap();
    for pair in rings.windows(2) {
        // Series by hundreds; the first three of the 0 series have their own thin sections, and the
        // boss rings -9xx have a section that grows.
        let (a, b) = (&pair[0], &pair[1]);
        if number(a) / 100 == number(b) / 100 && number(a) < number(b) {
            assert!(a.inside_mm < b.inside_mm, "{} {}", a.row.id, b.row.id);
            assert!(a.section_mm <= b.section_mm, "{} {}", a.row.id, b.row.id);
        }
    }
    for ring in rings {
        assert!(ring.inside_tol_mm < ring.inside_mm && ring.section_tol_mm < ring.section_mm);
        let marked = ring.row.note.as_deref().is_some_and(|n| n.contains("one list"));
        assert!(number(ring) < 900 || marked, "{}", ring.row.id);
    }
}

#[test]
fn sections_of_as568_by_series() {
    let section = |number: u32| match number {
        1 => Some(1.02),
        2 => Some(1.27),
        3 => Some(1.52),
        4..=99 => Some(1.78),
        100..=199 => Some(2.62),
        200..=299 => Some(3.53),
        300..=399 => Some(5.33),
        400..=499 => Some(6.99),
        _ => None,
    };
    for ring in &standard().orings {
        if let Some(due) = section(ring.row.id.parse().unwrap()) {
            assert_eq!(ring.section_mm, due, "{}", ring.row.id);
        }
    }
}

#[test]
fn cables_fit_around_their_conductors() {
    let shelf = standard();
    for cable in &shelf.cables {
        let id = &cable.row.id;
        assert_eq!(*id, format!("{} {}", cable.family, cable.size));
        assert!(cable.size.solid_diameter_mm() * 0.9 < cable.conductor_diameter_mm, "{id}");
        assert!(cable.conductor_diameter_mm + 2.0 < cable.core_diameter_mm, "{id}");
        assert!(cable.core_diameter_mm <= cable.diameter_mm_max, "{id}");
        assert!(cable.diameter_mm_min < cable.diameter_mm_max, "{id}");
        if cable.screened {
            assert!(cable.core_diameter_mm + 1.0 < cable.diameter_mm_min, "{id}");
        }
        shelf.find::<Insulation>(&cable.insulation).unwrap();
        let same = |c: &&Conductor| c.size == cable.size && c.class == cable.class;
        let conductor = shelf.conductors.iter().find(same).unwrap();
        assert_eq!(conductor.resistance_ohm_per_km, cable.resistance_ohm_per_km, "{id}");
        assert_eq!(conductor.diameter_mm, cable.conductor_diameter_mm, "{id}");
        assert!(conductor.mass_kg_per_km < cable.mass_kg_per_km, "{id}");
    }
}

#[test]
fn cable_diameters_are_those_met_in_practice() {
    // Common practice, no source: 2/0 AWG flexible 15.0 to 17.5 mm, 70 mm2 screened 18 to 20 mm.
    let shelf = standard();
    let range = |id: &str| {
        let cable = shelf.find::<Cable>(id).unwrap();
        (cable.diameter_mm_min, cable.diameter_mm_max)
    };
    for id in ["flex-105 2/0 AWG", "flex-125 2/0 AWG", "flex-150 2/0 AWG"] {
        let (min, max) = range(id);
        assert!(15.0 <= min && max <= 17.5, "{id}: {min} to {max}");
    }
    let (min, max) = range("flex-180-screened 70 mm2");
    assert!(18.0 <= min && max <= 20.0, "{min} to {max}");
}

#[test]
fn every_family_has_both_series_and_rises() {
    let shelf = standard();
    for name in [
        "flex-105",
        "flex-125",
        "flex-150",
        "flex-125-screened",
        "flex-150-screened",
        "flex-180-screened",
    ] {
        let family = shelf.family(name).unwrap();
        assert_eq!(family.len(), 16, "{name}");
        for series in [true, false] {
            let sizes: Vec<&&Cable> = family
                .iter()
                .filter(|c| matches!(c.size, ConductorSize::Awg(_)) == series)
                .collect();
            for pair in sizes.windows(2) {
                let (a, b) = (pair[0], pair[1]);
                assert!(b.resistance_ohm_per_km < a.resistance_ohm_per_km, "{}", b.row.id);
                assert!(a.diameter_mm() < b.diameter_mm(), "{}", b.row.id);
            }
        }
    }
    assert_eq!(shelf.family("flex-15O").unwrap_err().near.as_deref(), Some("flex-150"));
}

#[test]
fn val_conductors_against_published_values() {
    let shelf = standard();
    // NBS Handbook 100, solid copper at 20 degC (memory), and IEC 60228 classes 2 and 5 (read).
    for (id, ohm_per_km) in [
        ("2/0 AWG solid", 0.2557),
        ("4/0 AWG solid", 0.1608),
        ("70 mm2 class 2", 0.268),
        ("70 mm2 class 5", 0.272),
        ("50 mm2 class 5", 0.386),
    ] {
        let conductor = shelf.find::<Conductor>(id).unwrap();
        assert_eq!(conductor.resistance_ohm_per_km, ohm_per_km, "{id}");
    }
}

#[test]
fn conductor_rows_agree_with_the_law() {
    use physics::laws::conductor::{Class, Finish, Material as Metal, conductor};
    for row in &standard().conductors {
        let class = match row.class.as_str() {
            "solid" => Class::Solid,
            "1" => Class::One,
            "2" => Class::Two,
            _ => Class::Five,
        };
        let law = conductor(row.size, class, Metal::Copper, Finish::Plain);
        let ratio = row.resistance_ohm_per_km / law.resistance_20_ohm_km;
        // Rows are printed to four figures.
        assert!((ratio - 1.0).abs() < 5e-4, "{}: {ratio}", row.row.id);
        if class == Class::Five {
            let ratio = row.diameter_mm / law.diameter_mm;
            assert!((ratio - 1.0).abs() < 2e-3, "{}: diameter {ratio}", row.row.id);
        }
    }
}

#[test]
fn every_barrel_takes_its_conductor() {
    let shelf = standard();
    for lug in &shelf.lugs {
        let id = &lug.row.id;
        for cable in shelf.cables.iter().filter(|c| c.size == lug.size) {
            assert!(
                cable.conductor_diameter_mm < lug.barrel_inside_mm,
                "{id} {}",
                cable.row.id
            );
            // A conductor that rattles cannot be pressed without voids.
            assert!(lug.barrel_inside_mm < 1.2 * cable.conductor_diameter_mm, "{id}");
        }
        for crimp in &lug.crimps {
            assert_eq!(shelf.find::<Crimp>(crimp).unwrap().size, lug.size, "{id}");
        }
        let thread_mm: f64 = lug.stud[1..].parse().unwrap();
        assert!(thread_mm < lug.hole_mm && lug.hole_mm <= thread_mm + 1.0, "{id}");
        assert!(lug.hole_mm + 2.0 < lug.palm_width_mm, "{id}");
        // The palm is the tube pressed flat.
        let walls_mm = lug.barrel_outside_mm - lug.barrel_inside_mm;
        assert!((lug.palm_thickness_mm - walls_mm).abs() < 0.3, "{id}");
        let mean_mm = (lug.barrel_outside_mm + lug.barrel_inside_mm) / 2.0;
        let flat_mm = std::f64::consts::FRAC_PI_2 * mean_mm;
        let made_of_din = id.starts_with("DIN");
        assert!(made_of_din || flat_mm <= lug.palm_width_mm, "{id}: {flat_mm}");
    }
}

#[test]
fn every_cable_size_has_a_lug_for_m8_and_m10() {
    let shelf = standard();
    for cable in shelf.family("flex-125").unwrap() {
        for stud in ["M8", "M10"] {
            let fits = |l: &&Lug| l.size == cable.size && l.stud == stud;
            assert!(shelf.lugs.iter().any(|l| fits(&l)), "{} {stud}", cable.size);
        }
    }
    let lug = shelf.find::<Lug>("2/0 M8").unwrap();
    // Hole for a 5/16 in stud, common practice, no source: 8.3 to 8.5 mm.
    assert!((8.3..=8.5).contains(&lug.hole_mm));
    assert_eq!(shelf.find::<Crimp>("hex 2/0 AWG").unwrap().die, "50");
    assert_eq!(shelf.find::<Crimp>("din 70 mm2").unwrap().die, "16");
}

#[test]
fn every_cable_finds_a_grip_and_a_sleeve() {
    let shelf = standard();
    for cable in &shelf.cables {
        let id = &cable.row.id;
        let clamps = |g: &Grip| {
            g.clamp_mm_min <= cable.diameter_mm_min && cable.diameter_mm_max <= g.clamp_mm_max
        };
        let screened = |g: &Grip| g.screen_contact == cable.screened;
        assert!(shelf.grips.iter().any(|g| clamps(g) && screened(g)), "{id}");
        for lug in shelf.lugs.iter().filter(|l| l.size == cable.size) {
            let passes = |s: &Sleeve| {
                lug.palm_width_mm.max(cable.diameter_mm_max) < s.supplied_mm
                    && s.recovered_mm < lug.barrel_outside_mm.min(cable.diameter_mm_min)
            };
            assert!(
                shelf.sleeves.iter().any(|s| s.adhesive && passes(s)),
                "{id} {}",
                lug.row.id
            );
        }
    }
}

#[test]
fn grips_clamp_a_range_and_their_corners_are_those_of_a_chamfered_hexagon() {
    for grip in &standard().grips {
        let id = &grip.row.id;
        assert!(grip.clamp_mm_min < grip.clamp_mm_max, "{id}");
        let ratio = grip.corners_mm / grip.flats_mm;
        // The read rows have 1.108 to 1.111; a sharp hexagon has 1.1547.
        assert!((1.10..1.1547).contains(&ratio), "{id}: {ratio}");
        let thread_mm: f64 = grip.thread[1..].split_once('x').unwrap().0.parse().unwrap();
        assert!(grip.clamp_mm_max < thread_mm && thread_mm < grip.flats_mm, "{id}");
        standard().find::<ThreadHoles>(&grip.thread).unwrap();
    }
}

#[test]
fn val_heads_of_m8_and_m6() {
    // ISO 4017 13 and 10 mm, ISO 4162 10 mm, EN 1665 13 mm, ISO 4762 key 6 mm; 12 mm is common practice.
    let shelf = standard();
    for (id, flats_mm) in [
        ("hex M6", 10.0),
        ("hex M8", 13.0),
        ("hex-small M8", 12.0),
        ("hex-flange M8", 10.0),
        ("hex-flange-heavy M8", 13.0),
        ("socket M8", 6.0),
    ] {
        assert_eq!(shelf.find::<Bolt>(id).unwrap().flats_mm, flats_mm, "{id}");
    }
    for bolt in &shelf.bolts {
        assert_eq!(bolt.row.id, format!("{} {}", bolt.form, bolt.thread));
        assert!(bolt.bearing_mm < bolt.head_diameter_mm, "{}", bolt.row.id);
        assert!(bolt.lengths_mm.contains(&25.0), "{}", bolt.row.id);
        shelf.find::<ThreadHoles>(&bolt.thread).unwrap();
        shelf.find::<Nut>(&format!("nut {}", bolt.thread)).unwrap();
        shelf.find::<Washer>(&format!("plain {}", bolt.thread)).unwrap();
    }
    // ISO 273 medium; two code lists have 14 for M12.
    assert_eq!(shelf.find::<ThreadHoles>("M12").unwrap().clearance_mm, 13.5);
}

#[test]
fn fuse_rows_keep_their_rule() {
    for fuse in &standard().fuses {
        let id = &fuse.row.id;
        let (least_s, most_a) = *fuse.melting_curve.last().unwrap();
        // Below 1 ms no heat leaves the element: the integral is that of the last point. Rows have
        // three figures.
        let ratio = fuse.melting_a2s / (most_a * most_a * least_s);
        assert!((ratio - 1.0).abs() < 0.015, "{id}: {ratio}");
        let (hour_s, hour_a) = fuse.melting_curve[0];
        assert_eq!(hour_s, 3600.0);
        assert!((1.4..1.8).contains(&(hour_a / fuse.rated_a)), "{id}");
        assert!(fuse.rated_a < fuse.breaking_a_min, "{id}");
        assert!(fuse.melting_a2s < fuse.clearing_a2s, "{id}");
    }
    // IEC 60269-4 gR: fusing current 1.6 In; IEC 60269-6 gPV: 1.45 In (memory).
    for (id, fusing) in [("gR 200 A", 1.6), ("gPV 200 A", 1.45)] {
        let fuse = standard().find::<Fuse>(id).unwrap();
        let ratio = fuse.melting_curve[0].1 / fuse.rated_a;
        assert!((ratio - fusing).abs() < 0.03, "{id}: {ratio}");
    }
}

#[test]
fn a_full_range_fuse_blows_before_the_heavy_duty_of_the_published_example() {
    // "500 A 10 s, 350 A 100 s": a 200 A fuse is too small although its rating covers the mean
    // (batterydesign.net, read). Ours must say the same of the first: it melts at 500 A in 10 s.
    let fuse = standard().find::<Fuse>("bolt-in-450 200 A").unwrap();
    let at = |s: f64| fuse.melting_curve.iter().find(|p| p.0 == s).unwrap().1;
    assert!(at(10.0) <= 500.0, "{}", at(10.0));
    assert!(350.0 / at(100.0) > 0.5, "over half of the melting curve");
}

#[test]
fn materials_agree_with_the_laws_that_know_them() {
    let shelf = standard();
    for law in physics::laws::strip::TAPPED {
        let row = shelf.find::<Material>(law.name).unwrap();
        assert_eq!(row.tensile_mpa, law.tensile_mpa, "{}", law.name);
        assert!((row.shear_mpa - law.shear_mpa).abs() < 1e-9, "{}", law.name);
        assert!(law.engagement_rule.is_none_or(|d| d == row.engagement_d), "{}", law.name);
    }
    for (name, limit_mpa, _) in physics::laws::bearing::LIMITS_MPA {
        assert_eq!(shelf.find::<Material>(name).unwrap().bearing_mpa, limit_mpa, "{name}");
    }
}

#[test]
fn orings_agree_with_the_law_that_knows_them() {
    for law in &physics::laws::oring_as568::SIZES {
        let row = oring(law.dash);
        assert_eq!(row.inside_mm, law.inside_mm, "{}", law.dash);
        assert_eq!(row.inside_tol_mm, law.inside_tol_mm, "{}", law.dash);
        assert_eq!(row.section_mm, law.section_mm, "{}", law.dash);
        assert_eq!(row.section_tol_mm, law.section_tol_mm, "{}", law.dash);
    }
}

mod shared;

#[test]
fn every_source_a_plan_cites_is_in_the_list() {
    for text in [
        include_str!("../../../builds/first/build.toml"),
        include_str!("../../../builds/orchard-truck/build.toml"),
    ] {
        let mut reading = plan::given::document::read(text);
        assert_eq!(reading.errors, []);
        assert_eq!(shared::attach_faces(&mut reading.build, &shared::FACES), []);
        let plan = plan::plan(&reading.build, standard());
        let findings = plan.findings.iter().map(|f| (f.code, f.source));
        let worked = plan.worked.iter().map(|w| (w.law, w.source));
        for (what, key) in findings.chain(worked) {
            assert!(standard().source(key).is_some(), "{what}: {key}");
        }
        assert!(!plan.findings.is_empty() && !plan.worked.is_empty());
        let missing: Vec<&str> = plan
            .findings
            .iter()
            .filter(|f| f.code == "part-exists")
            .map(|f| f.message.as_str())
            .collect();
        assert!(missing.is_empty(), "{missing:#?}");
    }
}

fn shop(text: &str) -> Shelf {
    let (shelf, errors) = with_shop(standard(), text);
    assert_eq!(errors, []);
    shelf
}

#[test]
fn an_empty_parts_file_changes_nothing() {
    assert_eq!(shop(""), *standard());
}

#[test]
fn a_price_alone_changes_only_the_price() {
    let shelf =
        shop("[lug.\"2/0 M8\"]\nprice = \"4.20\"\n[grip.\"M25x1.5 brass 10-17\"]\nprice = 9\n");
    let (ours, theirs) =
        (shelf.find::<Lug>("2/0 M8").unwrap(), standard().find::<Lug>("2/0 M8").unwrap());
    assert_eq!(ours.row.price, Some(4.2));
    let mut without = ours.clone();
    without.row.price = None;
    assert_eq!(without, *theirs);
    assert_eq!(shelf.find::<Grip>("M25x1.5 brass 10-17").unwrap().row.price, Some(9.0));
}

#[test]
fn a_stated_value_makes_the_row_the_shops() {
    let shelf = shop(
        "[crimp.\"hex 4/0 AWG\"]\ndie = \"95\"\n[[lug]]\nid = \"2/0 M8\"\nhole = \"8.5 mm\"\nmass = \"23 g\"\n",
    );
    let crimp = shelf.find::<Crimp>("hex 4/0 AWG").unwrap();
    assert_eq!((crimp.die.as_str(), crimp.row.standing), ("95", Standing::Shop));
    assert_eq!(crimp.row.source, "shop");
    let lug = shelf.find::<Lug>("2/0 M8").unwrap();
    assert_eq!(lug.hole_mm, 8.5);
    assert!((lug.row.mass_g.unwrap() - 23.0).abs() < 1e-9);
    assert_eq!(lug.barrel_inside_mm, 11.71, "the rest stays");
}

#[test]
fn a_new_part_may_be_like_another() {
    let shelf = shop(
        "[source.seller]\ntitle = \"Sheet of our seller\"\n\
         [lug.\"2/0 M8 narrow\"]\nlike = \"2/0 M8\"\npalm-width = \"19 mm\"\nsource = \"seller\"\nprice = 5.5\n",
    );
    let lug = shelf.find::<Lug>("2/0 M8 narrow").unwrap();
    assert_eq!((lug.palm_width_mm, lug.hole_mm), (19.0, 8.4));
    assert_eq!((lug.row.source.as_str(), lug.row.standing), ("seller", Standing::Shop));
    assert_eq!(lug.row.name, "ring lug 2/0 AWG, stud M8");
    assert_eq!(shelf.lugs.len(), standard().lugs.len() + 1);
}

#[test]
fn a_whole_new_cable_is_read_in_the_shops_units() {
    let shelf = shop(
        r#"
[cable."our-orange 2/0 AWG"]
family = "our-orange"
size = "2/0 AWG"
class = "AWG"
conductor-diameter = "0.46 in"
resistance = "0.0820 ohm/1000 ft"
diameter-min = "15.2 mm"
diameter-max = "16.4 mm"
screened = false
temperature-class = "D"
limit = "302 degF"
voltage = "1 kV"
insulation = "silicone"
colour = "orange"
mass = "0.8 kg/m"
price = "21.50"
"#,
    );
    let cable = shelf.find::<Cable>("our-orange 2/0 AWG").unwrap();
    assert!((cable.conductor_diameter_mm - 11.684).abs() < 1e-9);
    assert!((cable.resistance_ohm_per_km - 0.0820 / 0.3048).abs() < 1e-9);
    assert!((cable.limit_c - 150.0).abs() < 1e-9);
    assert_eq!((cable.voltage_v_dc, cable.mass_kg_per_km), (1000.0, 800.0));
    assert_eq!(cable.core_diameter_mm, 16.4, "no screen: the core is the outside");
    assert_eq!(shelf.family("our-orange").unwrap().len(), 1);
}

fn mistakes(text: &str) -> Vec<RowError> {
    let (shelf, errors) = with_shop(standard(), text);
    for error in &errors {
        assert!(
            error.span.start <= error.span.end && error.span.end <= text.len(),
            "{error:?}"
        );
        assert!(text.get(error.span.clone()).is_some(), "{error:?}");
        assert!(!error.message.is_empty() && !error.message.ends_with('.'), "{error:?}");
    }
    // What is wrong is left as it was.
    assert_eq!(shelf.lugs, standard().lugs);
    errors
}

#[test]
fn all_mistakes_come_at_once_with_their_places() {
    let text = r#"
[lug."2/0 M8"]
hole = 8.4
barel-inside = "11.7 mm"
palm-width = "-3 mm"
price = "-1"

[lug."2/0 M9"]
price = 4

[lgu."x"]
price = 1

[[grip]]
clamp-min = "10 mm"

[grips."M25"]
"#;
    let errors = mistakes(text);
    let said: Vec<(&str, &str, Option<&str>)> = errors
        .iter()
        .map(|e| (&text[e.span.clone()], e.message.as_str(), e.hint.as_deref()))
        .collect();
    let expected = [
        ("8.4", "`hole` is 8.4 without a unit: a length is due"),
        ("barel-inside", "a lug has no `barel-inside`"),
        ("\"-3 mm\"", "`palm-width` is -3 but must be above zero"),
        ("\"-1\"", "`price` is -1 but must be zero or more"),
        ("\"2/0 M9\"", "there is no lug `2/0 M9` on the shelf"),
        ("lgu", "there is no kind of part `lgu`"),
    ];
    for (at, (place, message)) in expected.iter().enumerate() {
        assert_eq!((said[at].0, said[at].1), (*place, *message), "{said:#?}");
    }
    assert_eq!(said[1].2, Some("did you mean `barrel-inside`?"));
    // Every stud of 2/0 is as near; the first on the shelf is offered.
    assert!(said[4].2.unwrap().starts_with("did you mean `2/0 M"), "{said:#?}");
    assert_eq!(said[5].2, Some("did you mean `lug`?"));
    assert!(said.iter().any(|s| s.1 == "a grip has no id"));
    assert!(said.iter().any(|s| s.1 == "there is no kind of part `grips`"));
    assert_eq!(said.len(), 8, "{said:#?}");
}

#[test]
fn what_cannot_be_is_refused() {
    for (text, message) in [
        (
            "[lug.\"2/0 M8\"]\nbarrel-inside = \"15 mm\"\n",
            "lug `2/0 M8`: `barrel-inside` of 15 is not below `barrel-outside` of 14.3",
        ),
        (
            "[lug.\"2/0 M8\"]\nmaterial = \"unobtainium\"\n",
            "lug `2/0 M8`: there is no material `unobtainium` on the shelf",
        ),
        (
            "[crimp.\"hex 2/0 AWG\"]\npresses = 1.5\n",
            "crimp `hex 2/0 AWG`: `presses` must be a whole number from 1 to 99",
        ),
        ("[lug.\"2/0 M8\"]\nprice = 1\n[[lug]]\nid = \"x\"\n", ""),
        (
            "[[lug]]\nid = \"2/0 M8\"\nhole = \"8.4 mm\"\n[[lug]]\nid = \"2/0 M8\"\nhole = \"8.5 mm\"\n",
            "lug `2/0 M8` is there twice",
        ),
        (
            "[lug.\"2/0 M8\"]\nsize = \"banana\"\n",
            "`banana` is no conductor size: write \"2/0 AWG\", \"70 mm2\" or \"250 kcmil\"",
        ),
        (
            "[lug.\"2/0 M8\"]\nsource = \"isoo-4017\"\nhole = \"8 mm\"\n",
            "there is no source `isoo-4017`",
        ),
        ("[lug.\"2/0 M8\"]\nbendable = \"yes\"\n", "`bendable` must be true or false"),
        ("[lug.\"mine\"]\nlike = \"2/0 M88\"\n", "there is no lug `2/0 M88` to be like"),
        (
            "[lug.\"mine\"]\nhole = \"8.4 mm\"\n",
            "lug `mine` does not say its family, size, stud, barrel-inside, barrel-outside, barrel-depth, palm-width, palm-thickness, length, hole-to-tip, bendable, crimps, material",
        ),
    ] {
        let (shelf, errors) = with_shop(standard(), text);
        assert!(!errors.is_empty(), "{text}");
        assert!(
            errors.iter().any(|e| message.is_empty() || e.message == message),
            "{text}: {errors:#?}"
        );
        assert!(shelf.lugs.len() <= standard().lugs.len());
    }
}

#[test]
fn broken_toml_is_an_error_and_never_a_panic() {
    for text in [
        "[lug",
        "lug = 3",
        "lug = [1, {}, { id = 4 }]",
        "[lug]\nhole = 3",
        "[fuse.x]\nmelting-curve = [[1], \"a\", [\"1 s\", \"2 mm\"]]",
        "[cable.x]\nlike = 3",
        "[source.x]",
        "source = 1",
        "[source]\nx = 1",
        "[lug.\"2/0 M8\"]\nprice = nan",
        "[lug.\"2/0 M8\"]\nprice = inf",
        "[lug.\"2/0 M8\"]\nhole = \"\"",
        "[lug.\"2/0 M8\"]\nname = 3",
        "[lug.\"2/0 M8\"]\nstanding = \"sure\"",
        "\u{feff}[\u{0}",
        "a.b.c = { d = [[[",
        "[lug.\"µ\"]\nµ = \"µ\"",
    ] {
        assert!(!with_shop(standard(), text).1.is_empty(), "{text}");
    }
}

#[test]
fn words_find_what_they_name() {
    let shelf = standard();
    let ids = |words: &str| -> Vec<String> {
        looked_for(shelf, words, System::Metric).into_iter().map(|h| h.id).collect()
    };
    assert_eq!(ids("2/0 lug M8"), ["2/0 M8"]);
    assert_eq!(ids("LUG din 70 m8"), ["DIN 70 mm2 M8"]);
    assert!(ids("cable screened 70").iter().all(|id| id.ends_with("-screened 70 mm2")));
    assert_eq!(ids("cable screened 70").len(), 3);
    assert_eq!(ids("oring 258"), ["258"]);
    assert!(ids("no-such-thing").is_empty());
    assert_eq!(ids("").len(), all_rows(shelf).len());
    let hit = &looked_for(shelf, "2/0 lug M8", System::Metric)[0];
    assert_eq!((hit.kind, hit.standing), ("lug", Standing::Typical));
    assert!(hit.text.contains("hole 8.40 mm (0.331 in)"), "{}", hit.text);
}

#[test]
fn a_misspelt_id_is_answered_with_the_nearest() {
    let wrong = standard().find::<Material>("aluminium-6082").unwrap_err();
    assert_eq!(wrong.message(), "there is no material `aluminium-6082` on the shelf");
    assert_eq!(wrong.hint(), "did you mean `aluminium-6082-t6`?");
    assert_eq!(standard().find::<Lug>("?").unwrap_err().near, None);
}

#[test]
fn a_stated_source_is_kept_even_beside_a_price_alone() {
    let text = "[source.seller]\ntitle = \"Their list\"\n[lug.\"2/0 M8\"]\nprice = 4\nsource = \"seller\"\n";
    let shelf = shop(text);
    let row = &shelf.find::<Lug>("2/0 M8").unwrap().row;
    assert_eq!((row.source.as_str(), row.standing), ("seller", Standing::Typical));
}

#[test]
fn what_a_part_may_say_is_told() {
    let kinds = kinds();
    assert_eq!(kinds.len(), 17);
    let lug = &kinds.iter().find(|k| k.0 == "lug").unwrap().1;
    for key in ["hole", "palm-width", "price", "like", "crimps", "mass"] {
        assert!(lug.contains(&key), "{key}");
    }
}

proptest::proptest! {
    /// Whatever the text, the answer is a shelf and mistakes with places in the text.
    #[test]
    fn prop_no_parts_file_panics(pieces in proptest::collection::vec(
        proptest::sample::select(vec![
            "[lug.\"2/0 M8\"]\n", "[[lug]]\n", "[fuse.x]\n", "[cable.\"flex-105 2/0 AWG\"]\n", "id = ",
            "like = ", "hole = ", "price = ", "crimps = ", "melting-curve = ", "screened = ",
            "\"8.4 mm\"\n", "\"2/0 M8\"\n", "-3\n", "1e400\n", "0x1F\n", "nan\n", "[1, [2], \"a\"]\n", "true\n",
            "1979-05-27\n", "{ a = 1 }\n", "\"", "[", "]", "=", "\n", "\u{b5}", "diameter-max = ",
        ]),
        0..24,
    )) {
        let text = pieces.concat();
        let (shelf, errors) = with_shop(standard(), &text);
        proptest::prop_assert!(standard().lugs.len() <= shelf.lugs.len());
        for error in errors {
            proptest::prop_assert!(text.get(error.span.clone()).is_some(), "{:?}", error);
        }
    }
}
