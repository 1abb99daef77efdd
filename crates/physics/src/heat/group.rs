//! What a cable's place in its group means: what it sees, what air reaches it, what it loses beside others.

use super::{Arrangement, CEILING_C, Group, SAMPLES, SAMPLES_C};
use crate::complex::Complex;
use crate::laws::air::Air;
use crate::laws::conductor::resistance_factor;
use crate::laws::convection::GRAVITY_M_S2;
use crate::laws::proximity::{self, Wire};
use crate::laws::radiation;

/// What a cable's place in the group means for it.
#[derive(Clone, Debug)]
pub(crate) struct Surround {
    /// Share of the girth that meets moving air.
    pub(crate) open: f64,
    /// Diameter of the body of air that rises along it.
    pub(crate) body_mm: f64,
    /// Cables below: which, and how far.
    pub(crate) below: Vec<Below>,
}

/// Cables at one level below.
#[derive(Clone, Debug)]
pub(crate) struct Below {
    pub(crate) cables: Vec<usize>,
    pub(crate) height_mm: f64,
}

pub(crate) fn check(group: &Group) {
    assert!(!group.cables.is_empty(), "a group has cables");
    for c in &group.cables {
        assert!(0.0 < c.resistance_20_ohm_per_m && 0.0 < c.conductor_area_mm2_effective);
        assert!(
            0.0 < c.conductor_diameter_mm && c.conductor_diameter_mm <= c.outer_diameter_mm
        );
        assert!(0.0 <= c.insulation_resistivity_k_m_per_w && 0.0 <= c.insulation_heat_j_m3k);
        assert!((0.0..=1.0).contains(&c.emissivity) && 0.0 <= c.current_a_rms);
    }
    let s = &group.surroundings;
    assert!((-60.0..CEILING_C).contains(&s.air_c) && 0.0 <= s.air_speed_m_s);
    assert!(0.0 <= group.frequency_hz);
    assert!(s.fixed_k_m_per_w.is_none_or(|fixed| 0.0 < fixed));
}

/// Where the axis of each cable is, mm, and in which bunch it lies; bunches are far apart.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    pub(crate) bunch: usize,
    pub(crate) x_mm: f64,
    pub(crate) y_mm: f64,
}

/// Mean diameter: touching cables of one group are about the same.
fn diameter_mm(group: &Group) -> f64 {
    group.cables.iter().map(|c| c.outer_diameter_mm).sum::<f64>() / group.cables.len() as f64
}

pub(crate) fn places(group: &Group) -> Vec<Place> {
    let d = diameter_mm(group);
    (0..group.cables.len())
        .map(|i| {
            let at = i as f64;
            match group.arrangement {
                Arrangement::Single => Place { bunch: i, x_mm: 0.0, y_mm: 0.0 },
                Arrangement::PairTouching | Arrangement::FlatTouching => {
                    Place { bunch: 0, x_mm: at * d, y_mm: 0.0 }
                }
                Arrangement::FlatSpaced => Place { bunch: 0, x_mm: 2.0 * at * d, y_mm: 0.0 },
                Arrangement::VerticalSpaced => {
                    Place { bunch: 0, x_mm: 0.0, y_mm: 2.0 * at * d }
                }
                Arrangement::Trefoil => {
                    let (x, y) = [(0.0, 0.0), (1.0, 0.0), (0.5, 0.75f64.sqrt())][i % 3];
                    Place { bunch: i / 3, x_mm: x * d, y_mm: y * d }
                }
            }
        })
        .collect()
}

/// View factors, row by row. Cables in a row see only the next ones: those hide the rest.
pub(crate) fn views(group: &Group, places: &[Place]) -> Vec<f64> {
    let n = places.len();
    let d = diameter_mm(group);
    let mut views = vec![0.0; n * n];
    for i in 0..n {
        for j in 0..n {
            if i == j || places[i].bunch != places[j].bunch {
                continue;
            }
            let pitch = (places[i].x_mm - places[j].x_mm).abs() / d;
            let next = i.abs_diff(j) == 1;
            let others = places.iter().filter(|p| p.bunch == places[i].bunch).count();
            views[i * n + j] = match group.arrangement {
                Arrangement::Single | Arrangement::FlatSpaced => 0.0,
                Arrangement::PairTouching | Arrangement::FlatTouching if next => {
                    radiation::view_factor(pitch)
                }
                Arrangement::VerticalSpaced if next => radiation::view_factor(2.0),
                // A full trefoil: half of the view outside the triangle, and a sixth of the girth faces the
                // enclosed cusp, shared between the two others.
                Arrangement::Trefoil if others == 3 => {
                    radiation::view_factor(1.0) / 2.0 + 1.0 / 12.0
                }
                Arrangement::Trefoil => radiation::view_factor(1.0),
                _ => 0.0,
            };
        }
    }
    views
}

pub(crate) fn surround(group: &Group, places: &[Place], views: &[f64]) -> Vec<Surround> {
    let n = places.len();
    let touching = matches!(
        group.arrangement,
        Arrangement::PairTouching | Arrangement::FlatTouching | Arrangement::Trefoil
    );
    (0..n)
        .map(|i| {
            let outer = group.cables[i].outer_diameter_mm;
            let open_of = |i: usize| 1.0 - views[i * n..(i + 1) * n].iter().sum::<f64>();
            let bunch: Vec<usize> =
                (0..n).filter(|j| places[*j].bunch == places[i].bunch).collect();
            let (open, body_mm) = if touching {
                // The string around the bunch has the length of what its members show of their girth.
                (open_of(i), outer * bunch.iter().map(|j| open_of(*j)).sum::<f64>())
            } else {
                (1.0, outer)
            };
            Surround { open, body_mm, below: below(group, places, i, &bunch) }
        })
        .collect()
}

/// The cables whose plume meets cable i, level by level.
fn below(group: &Group, places: &[Place], i: usize, bunch: &[usize]) -> Vec<Below> {
    // Air that is blown across carries the plume away.
    if 0.0 < group.surroundings.air_speed_m_s {
        return Vec::new();
    }
    let mut levels: Vec<Below> = Vec::new();
    for &j in bunch {
        let height_mm = places[i].y_mm - places[j].y_mm;
        let beside = (places[i].x_mm - places[j].x_mm).abs();
        if height_mm <= 0.0 || group.cables[i].outer_diameter_mm < beside {
            continue;
        }
        match levels.iter_mut().find(|l| (l.height_mm - height_mm).abs() < 1e-6) {
            Some(level) => level.cables.push(j),
            None => levels.push(Below { cables: vec![j], height_mm }),
        }
    }
    levels
}

/// Heat content of the laminar plume, integral of f' phi, Pr 0.7 (own solution of the similarity equations;
/// its f'(0) = 0.6618 is the published one).
const PLUME_FLUX: f64 = 1.2117;
/// Integral of phi across the same plume.
const PLUME_WIDTH: f64 = 2.6496;

/// Rise of the air at a height above a line of heat, averaged over a width.
///
/// dT0 = [Q / (2 sqrt2 rho cp nu I)]^(4/5) [nu^2 / (g beta x^3)]^(1/5), eta = (y/x) (Gr/4)^(1/4)
/// (Gebhart, Pera and Schorr 1970, as remembered; constants recomputed).
pub(crate) fn plume_rise_k(
    air: &Air,
    air_c: f64,
    heat_w_per_m: f64,
    height_mm: f64,
    width_mm: f64,
) -> f64 {
    if heat_w_per_m <= 0.0 {
        return 0.0;
    }
    let x = height_mm * 1e-3;
    let nu = air.viscosity_m2_s;
    let g_beta = GRAVITY_M_S2 / (air_c + 273.15);
    let carried = 8f64.sqrt() * air.density_kg_m3 * air.heat_j_kgk * nu * PLUME_FLUX;
    let centre =
        libm::pow(heat_w_per_m / carried, 0.8) * libm::pow(nu * nu / (g_beta * x * x * x), 0.2);
    let grashof = g_beta * x * x * x * centre / (nu * nu);
    let width = PLUME_WIDTH * x / (grashof / 4.0).sqrt().sqrt();
    centre * (width / (width_mm * 1e-3)).min(1.0)
}

/// What reaches each surface of the emission of each other and of the surroundings (last column), per unit
/// of black-body emission.
pub(crate) fn exchange(group: &Group, views: &[f64]) -> Vec<f64> {
    let n = group.cables.len();
    let mut received = vec![0.0; n * (n + 1)];
    for source in 0..=n {
        // Radiosity J_i = e_i E_i + (1 - e_i) G_i, G_i = sum F_ij J_j + F_is E_s, E one for the source only.
        let mut incoming = vec![0.0; n];
        for _ in 0..60 {
            for i in 0..n {
                let row = &views[i * n..(i + 1) * n];
                let open = 1.0 - row.iter().sum::<f64>();
                let mut sum = if source == n { open } else { 0.0 };
                for j in 0..n {
                    let e = group.cables[j].emissivity;
                    let own = if source == j { e } else { 0.0 };
                    sum += row[j] * (own + (1.0 - e) * incoming[j]);
                }
                incoming[i] = sum;
            }
        }
        for i in 0..n {
            received[i * (n + 1) + source] = incoming[i];
        }
    }
    received
}

/// Loss over resistance at the sample temperatures for every cable.
pub(crate) fn losses(group: &Group, places: &[Place]) -> Vec<[f64; SAMPLES]> {
    let n = group.cables.len();
    let mut losses = vec![[0.0; SAMPLES]; n];
    let lines: Vec<(f64, f64)> = std::iter::once((group.frequency_hz, 1.0))
        .chain(group.harmonics.iter().map(|h| (h.frequency_hz, h.share)))
        .collect();
    let magnitudes: Vec<f64> = group.cables.iter().map(|c| c.current_a_rms).collect();
    let currents = proximity::usual_currents(&magnitudes);
    for (s, t) in SAMPLES_C.iter().enumerate() {
        for (frequency_hz, share) in &lines {
            let all = wires(group, places, &currents, *t);
            for bunch in 0..n {
                let members: Vec<usize> =
                    (0..n).filter(|i| places[*i].bunch == bunch).collect();
                let some: Vec<Wire> = members.iter().map(|i| all[*i]).collect();
                if some.is_empty() {
                    continue;
                }
                let found = if *frequency_hz == 0.0 {
                    direct(&some)
                } else {
                    proximity::loss_w_per_m(&some, *frequency_hz)
                };
                for ((i, wire), loss) in members.iter().zip(&some).zip(found) {
                    losses[*i][s] += share * share * loss / wire.resistance_ohm_per_m;
                }
            }
        }
    }
    losses
}

fn direct(wires: &[Wire]) -> Vec<f64> {
    wires.iter().map(|w| w.resistance_ohm_per_m * w.current_a.magnitude_squared()).collect()
}

pub(crate) fn wires(
    group: &Group,
    places: &[Place],
    currents: &[Complex],
    temperature_c: f64,
) -> Vec<Wire> {
    group
        .cables
        .iter()
        .zip(places)
        .zip(currents)
        .map(|((c, place), current_a)| Wire {
            x_mm: place.x_mm,
            y_mm: place.y_mm,
            diameter_mm: c.conductor_diameter_mm,
            resistance_ohm_per_m: c.resistance_20_ohm_per_m
                * resistance_factor(temperature_c, c.material),
            current_a: *current_a,
        })
        .collect()
}
