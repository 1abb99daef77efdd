//! Where the nodes are: along the run and across each cable.

use super::{Cell, Cut, Screen, Section};
use crate::heat::Cable;
use crate::laws::conductor::Material;
use crate::laws::radial;

/// Nodes of a cable from conductor to surface, per metre.
#[derive(Clone, Debug)]
pub(crate) struct Ladder {
    /// Heat capacities, J/mK.
    pub(crate) capacity: Vec<f64>,
    /// From each node to the next, W/mK.
    pub(crate) conductance: Vec<f64>,
    /// Which node is the screen.
    pub(crate) screen: Option<usize>,
}

pub(crate) fn ladder(cable: &Cable, screen: Option<Screen>, shells: usize) -> Ladder {
    let spread = |from: f64, to: f64, count: usize| {
        (1..=count).map(move |k| from + (to - from) * k as f64 / count as f64)
    };
    let (from, to) = (cable.conductor_diameter_mm, cable.outer_diameter_mm);
    let mut diameters = vec![from];
    let mut screen_at = None;
    match screen {
        None => diameters.extend(spread(from, to, shells)),
        Some(s) => {
            diameters.extend(spread(from, s.diameter_mm, shells));
            screen_at = Some(diameters.len() - 1);
            diameters.extend(spread(s.diameter_mm, to, shells.div_ceil(2)));
        }
    }
    let mut capacity = vec![0.0; diameters.len()];
    capacity[0] =
        cable.conductor_area_mm2_effective * 1e-6 * cable.material.volumetric_heat_j_m3k();
    if let (Some(k), Some(s)) = (screen_at, screen) {
        capacity[k] += s.area_mm2 * 1e-6 * Material::Copper.volumetric_heat_j_m3k();
    }
    let mut conductance = Vec::new();
    for (k, pair) in diameters.windows(2).enumerate() {
        let (inner, outer) = (pair[0], pair[1]);
        let ring = |a: f64, b: f64| {
            std::f64::consts::FRAC_PI_4 * (b * b - a * a) * 1e-6 * cable.insulation_heat_j_m3k
        };
        // Each half of a shell goes to the node it touches.
        let middle = (inner + outer) / 2.0;
        capacity[k] += ring(inner, middle);
        capacity[k + 1] += ring(middle, outer);
        let resistance =
            radial::layer_k_m_per_w(cable.insulation_resistivity_k_m_per_w, inner, outer);
        // A bare conductor: the nodes are one, joined as firmly as arithmetic bears.
        conductance.push(1.0 / resistance.max(1e-6));
    }
    Ladder { capacity, conductance, screen: screen_at }
}

/// Cuts every section, finely at its ends and coarser between.
pub(crate) fn cells(sections: &[Section], cut: &Cut) -> Vec<Cell> {
    let mut cells = Vec::new();
    let mut from = 0.0;
    for (section, s) in sections.iter().enumerate() {
        for length_m in lengths(s.length_m, cut) {
            cells.push(Cell { length_m, at_m: from + length_m / 2.0, section });
            from += length_m;
        }
    }
    cells
}

fn lengths(whole_m: f64, cut: &Cut) -> Vec<f64> {
    let (mut next, most) = (cut.least_mm * 1e-3, cut.most_mm * 1e-3);
    // Half a section, from its end to its middle.
    let mut half = Vec::new();
    let mut sum = 0.0;
    while sum + next / 2.0 < whole_m / 2.0 && half.len() < 4000 {
        half.push(next);
        sum += next;
        next = (next * cut.growth).min(most);
    }
    if half.is_empty() {
        return vec![whole_m];
    }
    let scale = whole_m / (2.0 * sum);
    let near = half.iter().map(|l| l * scale);
    near.clone().chain(near.rev()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cells_are_as_long_as_the_section() {
        for whole in [0.004, 0.05, 0.6, 3.0] {
            for cut in [Cut::USUAL, Cut::even(25.0, 2)] {
                let cells = lengths(whole, &cut);
                assert!((cells.iter().sum::<f64>() - whole).abs() < 1e-12);
                assert!(cells.iter().all(|l| *l <= 2.0 * cut.most_mm * 1e-3));
            }
        }
        assert_eq!(lengths(1.0, &Cut::even(25.0, 2)).len(), 40);
    }
}
