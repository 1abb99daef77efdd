use super::course::{Line, ladder, shells};
use super::group::{places, wires};
use super::*;
use crate::laws::adiabatic;
use crate::laws::proximity;
use proptest::prelude::*;

/// 70 mm2 class 5 in XLPE from 12 to 17 mm.
pub(crate) fn cable(current_a_rms: f64) -> Cable {
    Cable {
        resistance_20_ohm_per_m: 0.272e-3,
        material: Material::Copper,
        conductor_area_mm2_effective: 63.39,
        conductor_diameter_mm: 12.0,
        outer_diameter_mm: 17.0,
        insulation_resistivity_k_m_per_w: 3.5,
        insulation_heat_j_m3k: 2.4e6,
        emissivity: 0.9,
        current_a_rms,
    }
}

fn group(count: usize, arrangement: Arrangement, current_a: f64) -> Group {
    Group {
        cables: vec![cable(current_a); count],
        arrangement,
        frequency_hz: 0.0,
        harmonics: Vec::new(),
        surroundings: Surroundings::still_air(30.0),
    }
}

fn rated(group: &Group) -> f64 {
    rating(group, 90.0).unwrap().current_a
}

fn near(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "{got} against {expected}");
}

#[test]
fn val_single_cable_in_free_air() {
    // 350.8 A with Churchill-Chu, surface 81.7 degC; 358.6 A with Morgan (computed independently).
    let one = group(1, Arrangement::Single, 1.0);
    let found = rating(&one, 90.0).unwrap();
    near(found.current_a, 350.8, 0.4);
    near(found.steady.cables[0].surface_c, 81.7, 0.1);
    let mut morgan = one;
    morgan.surroundings.correlation = Correlation::Morgan;
    near(rated(&morgan), 358.6, 0.4);
}

#[test]
fn val_ratios_of_touching_to_spaced() {
    // IEC 60364-5-52 table of methods F and G, 70 mm2, XLPE: 310, 279, 268, 318 over 353 A. Of the 4 %, two
    // are the table's own run of each ratio from 25 to 120 mm2.
    let spaced = rated(&group(3, Arrangement::FlatSpaced, 1.0));
    for (count, arrangement, published) in [
        (2, Arrangement::PairTouching, 310.0 / 353.0),
        (3, Arrangement::FlatTouching, 279.0 / 353.0),
        (3, Arrangement::Trefoil, 268.0 / 353.0),
        (3, Arrangement::VerticalSpaced, 318.0 / 353.0),
    ] {
        let ratio = rated(&group(count, arrangement, 1.0)) / spaced;
        assert!((ratio / published - 1.0).abs() < 0.04, "{arrangement:?} {ratio}");
    }
}

#[test]
fn val_trefoil_convects_half_of_what_three_alone_do() {
    // Thermal Science 26 (2022) 4797: 38.7 to 58.5 % less for three attached isothermal cylinders.
    let trefoil = rating(&group(3, Arrangement::Trefoil, 1.0), 90.0).unwrap().steady;
    let (mut here, mut alone) = (0.0, 0.0);
    for c in &trefoil.cables {
        here += c.convected_w_per_m;
        alone += convection(&Cylinder {
            diameter_mm: 17.0,
            surface_c: c.surface_c,
            air_c: 30.0,
            pressure_pa: air::SEA_LEVEL_PA,
            air_speed_m_s: 0.0,
            correlation: Correlation::ChurchillChu,
        })
        .loss_w_per_m;
    }
    let less = 1.0 - here / alone;
    assert!((0.387..0.585).contains(&less), "{less}");
}

#[test]
fn val_column_ratio_of_aircraft_wire() {
    // FAA AC 43.13-1B table 11-9, 2/0, 70 degC ambient: 147, 222, 285 A at 105, 150, 200 degC, which is
    // 1 : 1.51 : 1.94. A constant coefficient gives 1 : 1.42 : 1.70. At 60 000 ft (18 288 m).
    let mut wire = group(1, Arrangement::Single, 1.0);
    wire.surroundings.air_c = 70.0;
    wire.surroundings.altitude_m = 18_288.0;
    let at = |limit: f64| rating(&wire, limit).unwrap().current_a;
    near(at(150.0) / at(105.0), 222.0 / 147.0, 0.03 * 1.51);
    near(at(200.0) / at(105.0), 285.0 / 147.0, 0.03 * 1.94);
}

#[test]
fn val_shells_against_the_equation_of_heat() {
    // Insulation 12 to 17 mm, T4 1.10146 K m/W, step of 46.3147 W/m; 200 shells (computed independently).
    let ladder = ladder(&Cable { conductor_area_mm2_effective: 63.3900, ..cable(0.0) });
    let outside = 1.0 / 1.10146;
    let mut nodes = [0.0; NODES];
    let (mut t, dt) = (0.0, 0.05);
    let mut expected = vec![
        (3600.0, 59.867),
        (1200.0, 52.259),
        (600.0, 38.622),
        (300.0, 24.474),
        (120.0, 11.816),
        (60.0, 6.657),
        (30.0, 3.803),
    ];
    while let Some((at, rise)) = expected.last().copied() {
        let old = nodes;
        let outward = Line { value: outside * nodes[NODES - 1], slope: outside };
        nodes = shells(&ladder, &old, &old, Line { value: 46.3147, slope: 0.0 }, outward, dt);
        t += dt;
        if at <= t + 1e-6 {
            near(nodes[0], rise, 0.004 * rise);
            expected.pop();
        }
    }
}

#[test]
fn val_one_lump_with_rising_resistance() {
    // C dT/dt = I^2 R20 (1 + a (T-20)) - (T-Ta)/Rth, Rth 1.2955, 300 A: closed form.
    let mut lump = group(1, Arrangement::Single, 300.0);
    lump.cables[0].insulation_heat_j_m3k = 0.0;
    lump.surroundings.fixed_k_m_per_w = Some(1.2955 - 0.194_022);
    let start = State::uniform(&lump, 30.0);
    for (t, expected) in
        [(10.0, 31.146), (60.0, 36.371), (300.0, 52.751), (600.0, 61.755), (1200.0, 66.729)]
    {
        near(step(&lump, &start, t).end.hottest_c(), expected, 0.02);
    }
    near(steady(&lump).unwrap().hottest_c(), 67.653, 0.002);
    // 1/Rth = I^2 R20 a at 850 A: no steady state above, and none near it below the ceiling.
    lump.cables[0].current_a_rms = 851.0;
    assert_eq!(steady(&lump), Err(Runaway { cable: 0 }));
    let course = step(&lump, &start, 36_000.0);
    assert!(course.stopped_s.is_some());
    // 500 A warm it at 0.3109 K/s at 20 degC resistance.
    lump.cables[0].current_a_rms = 500.0;
    lump.surroundings.air_c = 20.0;
    let cold = step(&lump, &State::uniform(&lump, 20.0), 0.5).end.hottest_c();
    near((cold - 20.0) / 0.5, 0.3109, 3e-4);
}

#[test]
fn a_course_ends_in_the_steady_state() {
    let g = group(3, Arrangement::Trefoil, 200.0);
    let end = step(&g, &State::uniform(&g, 30.0), 50_000.0).end;
    for (there, here) in end.conductors_c().zip(&steady(&g).unwrap().cables) {
        near(there, here.conductor_c, 0.03);
    }
    let settled = State::settled(&g, &steady(&g).unwrap());
    let later = step(&g, &settled, 600.0).end;
    near(later.hottest_c(), settled.hottest_c(), 0.05);
}

#[test]
fn the_limit_is_reached_when_the_course_says_so() {
    let g = group(3, Arrangement::FlatTouching, 400.0);
    let start = State::uniform(&g, 30.0);
    let t = time_to_limit_s(&g, &start, 90.0).unwrap();
    near(step(&g, &start, t).end.hottest_c(), 90.0, 0.05);
    assert_eq!(time_to_limit_s(&group(1, Arrangement::Single, 200.0), &start, 90.0), None);
    assert_eq!(time_to_limit_s(&g, &State::uniform(&g, 95.0), 90.0), Some(0.0));
}

#[test]
fn a_rating_is_a_steady_state() {
    let mut g = group(3, Arrangement::FlatTouching, 0.0);
    g.frequency_hz = 800.0;
    let found = rating(&g, 90.0).unwrap();
    for c in &mut g.cables {
        c.current_a_rms = found.current_a;
    }
    near(steady(&g).unwrap().hottest_c(), 90.0, 1e-4);
    // The middle one works hardest.
    let cables = &found.steady.cables;
    assert!(cables[0].ac_ratio < cables[1].ac_ratio && cables[2].ac_ratio < cables[1].ac_ratio);
    assert!(rating(&g, 30.0).is_none());
}

#[test]
fn alternating_loss_is_that_of_the_exact_law() {
    let mut g = group(3, Arrangement::Trefoil, 150.0);
    g.frequency_hz = 1000.0;
    let hot = steady(&g).unwrap().cables[0];
    let exact = proximity::ratios(
        &wires(&g, &places(&g), &proximity::usual_currents(&[150.0; 3]), hot.conductor_c),
        1000.0,
    );
    near(hot.ac_ratio, exact[0], 1e-4 * exact[0]);
}

#[test]
fn ripple_adds_its_own_loss() {
    let mut g = group(3, Arrangement::Trefoil, 150.0);
    let plain = steady(&g).unwrap().cables[0].loss_w_per_m;
    g.harmonics.push(Harmonic { frequency_hz: 10_000.0, share: 0.05 });
    let rippled = steady(&g).unwrap().cables[0].loss_w_per_m;
    assert!(1.005 * plain < rippled && rippled < 1.05 * plain, "{plain} {rippled}");
}

#[test]
fn thinner_air_and_warmer_air_cool_less() {
    let base = rated(&group(3, Arrangement::Trefoil, 1.0));
    let mut high = group(3, Arrangement::Trefoil, 1.0);
    high.surroundings.altitude_m = 3000.0;
    let mut hot = group(3, Arrangement::Trefoil, 1.0);
    hot.surroundings.air_c = 50.0;
    let mut blown = group(3, Arrangement::Trefoil, 1.0);
    blown.surroundings.air_speed_m_s = 2.0;
    assert!(rated(&high) < base && rated(&hot) < base && base < rated(&blown));
}

#[test]
fn cables_far_apart_are_single_cables() {
    let (one, three) = (
        rated(&group(1, Arrangement::Single, 1.0)),
        rated(&group(3, Arrangement::Single, 1.0)),
    );
    near(one, three, 1e-6 * one);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn prop_more_current_is_never_cooler(
        a in 1.0..300.0f64, more in 0.0..60.0f64, place in 0usize..6, hz in 0.0..1500.0f64,
    ) {
        let arrangement = Arrangement::ALL[place].0;
        let mut g = group(3, arrangement, a);
        g.frequency_hz = hz;
        let cool = steady(&g);
        for c in &mut g.cables {
            c.current_a_rms = a + more;
        }
        match (cool, steady(&g)) {
            (Ok(cool), Ok(hot)) => {
                for (c, h) in cool.cables.iter().zip(&hot.cables) {
                    prop_assert!(c.conductor_c <= h.conductor_c + 1e-6);
                    prop_assert!(30.0 <= c.surface_c + 1e-6 && c.surface_c <= c.conductor_c + 1e-6);
                }
            }
            (Err(_), Ok(_)) => prop_assert!(false, "more current settled, less did not"),
            _ => {}
        }
    }

    #[test]
    fn prop_a_thicker_jacket_raises_the_rating(
        d in 5.0..16.0f64, thin in 1.0..3.0f64, more in 0.2..2.0f64,
    ) {
        // Below the critical radius of some 18 mm, where every cable of the trade lies.
        let with = |jacket: f64| {
            let mut g = group(1, Arrangement::Single, 1.0);
            g.cables[0].conductor_diameter_mm = d;
            g.cables[0].outer_diameter_mm = d + 2.0 * jacket;
            rated(&g)
        };
        prop_assert!(with(thin) < with(thin + more));
    }

    #[test]
    fn prop_turning_a_row_round_changes_nothing(
        a in 20.0..200.0f64, b in 20.0..200.0f64, c in 20.0..200.0f64,
    ) {
        let row = |currents: [f64; 3]| {
            let mut g = group(3, Arrangement::FlatTouching, 0.0);
            for (cable, current) in g.cables.iter_mut().zip(currents) {
                cable.current_a_rms = current;
            }
            steady(&g).unwrap()
        };
        let (there, back) = (row([a, b, c]), row([c, b, a]));
        for i in 0..3 {
            prop_assert!((there.cables[i].conductor_c - back.cables[2 - i].conductor_c).abs() < 1e-5);
        }
    }

    #[test]
    fn prop_a_course_never_passes_the_steady_state_it_heads_for(
        a in 50.0..300.0f64, t in 1.0..4000.0f64,
    ) {
        let g = group(2, Arrangement::PairTouching, a);
        if let Ok(final_state) = steady(&g) {
            let course = step(&g, &State::uniform(&g, 30.0), t);
            prop_assert!(course.end.hottest_c() <= final_state.hottest_c() + 0.05);
            for pair in course.curve.windows(2) {
                prop_assert!(pair[0].time_s < pair[1].time_s);
                prop_assert!(pair[0].hottest_c <= pair[1].hottest_c + 0.02);
            }
        }
    }
}

#[test]
fn a_short_circuit_heats_no_faster_than_without_loss_and_never_cools() {
    // Without loss: IEC 60949's adiabatic equation. The insulation touching the conductor holds it back.
    for current_a in [1500.0, 5000.0, 20_000.0, 100_000.0] {
        let one = group(1, Arrangement::Single, current_a);
        let course = step(&one, &State::uniform(&one, 30.0), 3600.0);
        let stopped_s = course.stopped_s.unwrap();
        let least_s = adiabatic::duration_s(
            Material::Copper,
            63.39,
            30.0,
            course.end.hottest_c(),
            current_a,
        );
        assert!(
            least_s * 0.99 < stopped_s && stopped_s < least_s * 2.5,
            "{current_a} A: {stopped_s} s, {least_s} s"
        );
        assert!(
            course.curve.windows(2).all(|w| w[0].hottest_c <= w[1].hottest_c),
            "{current_a} A"
        );
    }
}

#[test]
fn a_course_in_pieces_is_the_course_in_one() {
    let g = group(3, Arrangement::Trefoil, 250.0);
    let start = State::uniform(&g, 30.0);
    let whole = step(&g, &start, 900.0).end;
    let pieces: Vec<(f64, f64)> = vec![(1.0, 1.0); 900];
    let parts = course(&g, &start, &pieces).end;
    near(parts.hottest_c(), whole.hottest_c(), 0.03);
    // Rest cools, and a short rest after a short pull leaves more than the air's temperature.
    let after = course(&g, &start, &[(300.0, 1.0), (300.0, 0.0)]).end.hottest_c();
    assert!(30.0 < after && after < step(&g, &start, 300.0).end.hottest_c());
}
