//! The hottest moment of a drive, on cables so thin that they swing within a step.

use super::*;

/// A cable of an area: diameters as the shelf's of about that size, copper's resistance.
fn of_area(area_mm2: f64) -> Cable {
    let conductor_diameter_mm = 1.5 * area_mm2.sqrt();
    Cable {
        resistance_20_ohm_per_m: 17.241e-3 / area_mm2,
        conductor_area_mm2_effective: area_mm2,
        conductor_diameter_mm,
        outer_diameter_mm: conductor_diameter_mm + 4.0,
        ..cable()
    }
}

/// Launches: seconds of three times what the cable carries for ever, and rests between them.
fn launches() -> Load {
    let pieces = (0..240)
        .map(|k| {
            let current_a = match k % 40 {
                0..6 => 3.0,
                6..20 => 0.5,
                _ => 0.0,
            };
            Piece { seconds: 1.0, current_a, frequency_hz: 0.0 }
        })
        .collect();
    Load { pieces }
}

/// One second in ten.
fn pulses() -> Load {
    let pieces = (0..300)
        .map(|k| Piece {
            seconds: 1.0,
            current_a: if k % 10 == 0 { 4.0 } else { 0.3 },
            frequency_hz: 0.0,
        })
        .collect();
    Load { pieces }
}

/// Three of a size, and about what they carry for ever.
fn three(area_mm2: f64, ends: [Terminal; 2]) -> (Network, f64) {
    let mut r = run(3, vec![section(1.5, Arrangement::FlatTouching, 40.0)], ends);
    r.cables = vec![of_area(area_mm2); 3];
    r.frequency_hz = (0.0, 1200.0);
    (Network::new(&r, &Cut::USUAL), 14.0 * libm::pow(area_mm2, 0.65))
}

#[test]
fn the_hottest_moment_is_within_a_tenth_of_a_kelvin_on_thin_cables_too() {
    // A warm terminal with a bad joint makes its own cell the hottest; without one it is the middle.
    let warm = Terminal { body: Some((80.0, 0.3)), joint_ohm: 20e-6 };
    for (area_mm2, ends) in [10.0, 16.0, 35.0, 70.0, 120.0]
        .iter()
        .flat_map(|area| [(*area, [warm; 2]), (*area, [Terminal::FREE; 2])])
    {
        let (net, usual_a) = three(area_mm2, ends);
        for load in [traffic().scaled(1.0 / 200.0), launches(), pulses()] {
            let load = load.scaled(usual_a);
            let usual = net.course(&net.cold(), &load, &Precision::USUAL);
            let fine = Precision { step_error_k: 1e-5, step_s_max: 0.25 };
            let fine = net.course(&net.cold(), &load, &fine);
            near(usual.hottest.hottest_c, fine.hottest.hottest_c, 0.1);
            near(usual.hottest.time_s, fine.hottest.time_s, 1.0);
            near(net.hottest(&usual.hottest_state).0, usual.hottest.hottest_c, 0.05);
            near(net.hottest(&usual.end).0, net.hottest(&fine.end).0, 0.1);
            assert!(usual.curve.len() < fine.curve.len() / 4, "{} points", usual.curve.len());
            assert!(usual.curve.windows(2).all(|w| w[0].time_s < w[1].time_s));
        }
    }
}
