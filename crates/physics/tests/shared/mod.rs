//! Three cables between warm terminals: what the benchmarks time and what the peers solve again.

use physics::heat::{Arrangement, Cable, Surroundings};
use physics::laws::conductor::Material;
use physics::network::{Run, Section, Terminal, Within};

fn cable() -> Cable {
    Cable {
        resistance_20_ohm_per_m: 0.272e-3,
        material: Material::Copper,
        conductor_area_mm2_effective: 63.39,
        conductor_diameter_mm: 12.0,
        outer_diameter_mm: 17.0,
        insulation_resistivity_k_m_per_w: 3.5,
        insulation_heat_j_m3k: 2.4e6,
        emissivity: 0.9,
        current_a_rms: 1.0,
    }
}

/// A run in two sections, 2 to 3 in length: the first in warmer air and lying as told.
pub(crate) fn three_cables(length_m: f64, first: Arrangement, frequency_hz_max: f64) -> Run {
    let section = |length_m: f64, arrangement: Arrangement, air_c: f64| Section {
        length_m,
        arrangement,
        surroundings: Surroundings::still_air(air_c),
        within: Within::Open,
        sun_w_m2: 0.0,
    };
    let warm = |body_c: f64| Terminal { body: Some((body_c, 0.3)), joint_ohm: 20e-6 };
    Run {
        cables: vec![cable(); 3],
        screen: None,
        conductivity_w_mk: 390.0,
        lay: 1.0,
        frequency_hz: (0.0, frequency_hz_max),
        sections: vec![
            section(0.4 * length_m, first, 60.0),
            section(0.6 * length_m, Arrangement::FlatTouching, 40.0),
        ],
        ends: vec![[warm(90.0), warm(65.0)]; 3],
        harmonics: Vec::new(),
    }
}
