//! What leaves the surfaces of one cell, and how that changes with each of them.

use std::sync::Arc;

use super::table::{Cooling, Flow, Table, Tables};
use super::{Gap, Panel, Run, Section, Tube, Within};
use crate::heat::Group;
use crate::heat::group::{self, Surround};
use crate::laws::air;
use crate::laws::radiation::{SIGMA, black_body_w_m2};

/// One kind of surroundings, made ready.
#[derive(Clone, Debug)]
pub(crate) enum Outside {
    /// A known resistance, W/mK to a temperature.
    Fixed(f64, f64),
    /// Air all around.
    Air(AirAround),
    /// A tube around all cables.
    Tube(InTube),
}

#[derive(Clone, Debug)]
pub(crate) struct AirAround {
    air_c: f64,
    /// By cable.
    bodies: Vec<Body>,
    /// Row i: what of the emission of j reaches i, then of the surroundings; times emissivity and girth.
    exchange: Vec<f64>,
    /// Emission of the surroundings, W/m2.
    around_w_m2: f64,
    /// To the panel: W/mK and its temperature.
    panel: Option<(f64, f64)>,
}

#[derive(Clone, Debug)]
struct Body {
    /// Cooling in air as warm as the surroundings', and somewhat warmer where a plume may reach it.
    cooling: Vec<(f64, Arc<Cooling>)>,
    /// Girth that meets moving air, m.
    open_m: f64,
    /// Emissivity times girth, m.
    grey_m: f64,
    /// Sunshine taken up, W/m.
    sun_w_per_m: f64,
    below: Vec<(Vec<usize>, Table)>,
}

#[derive(Clone, Debug)]
pub(crate) struct InTube {
    /// Fixed conductances from each surface to the wall, row by row; or the air gap's.
    within: TubeHeat,
    /// Heat the wall stores, J/mK.
    pub(crate) wall_j_mk: f64,
    air_c: f64,
    cooling: Arc<Cooling>,
    girth_m: f64,
    grey_m: f64,
    sun_w_per_m: f64,
}

#[derive(Clone, Debug)]
enum TubeHeat {
    Rows(Vec<f64>),
    Air { gap: Gap, body_mm: f64 },
}

/// What leaves the surfaces of a cell per metre, and the slopes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Leaving<const N: usize> {
    /// W/m from each surface.
    pub(crate) out: [f64; N],
    /// Its slope with every surface.
    pub(crate) slope: [[f64; N]; N],
    /// How much of it goes on from the wall, W/m, and its slope; none where there is no wall.
    pub(crate) wall: Option<(f64, f64)>,
}

/// How much warmer than the surroundings the air of a plume is tabulated, K.
const PLUME_K: [f64; 3] = [0.0, 15.0, 45.0];

impl Outside {
    pub(crate) fn new(run: &Run, section: &Section, tables: &mut Tables) -> Outside {
        let s = &section.surroundings;
        if let Some(fixed) = s.fixed_k_m_per_w {
            return Outside::Fixed(1.0 / fixed, s.air_c);
        }
        match &section.within {
            Within::Open => Outside::Air(around(run, section, None, tables)),
            Within::Panel(panel) => Outside::Air(around(run, section, Some(*panel), tables)),
            Within::Conduit(tube) => {
                let within = TubeHeat::Air { gap: tube.gap, body_mm: bunch_mm(run) };
                Outside::Tube(in_tube(section, tube, within, tables))
            }
            Within::Jacket(tube, rows) => {
                assert_eq!(rows.len(), run.cables.len() * run.cables.len());
                Outside::Tube(in_tube(section, tube, TubeHeat::Rows(rows.clone()), tables))
            }
        }
    }

    /// Heat the wall stores, J/mK.
    pub(crate) fn wall_j_mk(&self) -> f64 {
        match self {
            Outside::Tube(tube) => tube.wall_j_mk,
            Outside::Fixed(..) | Outside::Air(_) => 0.0,
        }
    }

    #[inline]
    pub(crate) fn leaving<const N: usize>(
        &self,
        surfaces: &[f64; N],
        wall_c: f64,
    ) -> Leaving<N> {
        match self {
            Outside::Fixed(conductance, air_c) => {
                let mut slope = [[0.0; N]; N];
                for (i, row) in slope.iter_mut().enumerate() {
                    row[i] = *conductance;
                }
                let out = surfaces.map(|t| conductance * (t - air_c));
                Leaving { out, slope, wall: None }
            }
            Outside::Air(air) => air.leaving(surfaces),
            Outside::Tube(tube) => tube.leaving(surfaces, wall_c),
        }
    }
}

/// The body that a bunch of equal cables is for the air of a conduit, IEC 60287-2-2 (memory): 1.65, 2.15 and 2.5
/// diameters for two, three and four; above, the circle around them.
fn bunch_mm(run: &Run) -> f64 {
    let n = run.cables.len();
    let widest = run.cables.iter().map(|c| c.outer_diameter_mm).fold(0.0, f64::max);
    widest * [1.0, 1.65, 2.15, 2.5, 2.7, 3.0][n - 1]
}

fn around(
    run: &Run,
    section: &Section,
    panel: Option<Panel>,
    tables: &mut Tables,
) -> AirAround {
    let s = &section.surroundings;
    let group = Group {
        cables: run.cables.clone(),
        arrangement: section.arrangement,
        frequency_hz: 0.0,
        harmonics: Vec::new(),
        surroundings: *s,
    };
    group::check(&group);
    let places = group::places(&group);
    let views = group::views(&group, &places);
    let surround = group::surround(&group, &places, &views);
    let pressure_pa = air::pressure_pa(s.altitude_m);
    let flow = |body_mm: f64, warmer_k: f64| Flow {
        body_mm,
        air_c: s.air_c + warmer_k,
        pressure_pa,
        air_speed_m_s: s.air_speed_m_s,
        correlation: s.correlation,
    };
    let still = air::air(s.air_c, pressure_pa);
    let bodies = run
        .cables
        .iter()
        .zip(&surround)
        .map(|(cable, place)| {
            let girth_m = std::f64::consts::PI * cable.outer_diameter_mm * 1e-3;
            let warmer: &[f64] = if place.below.is_empty() { &PLUME_K[..1] } else { &PLUME_K };
            Body {
                cooling: warmer
                    .iter()
                    .map(|k| (*k, tables.cooling(flow(place.body_mm, *k))))
                    .collect(),
                // The half that faces a panel meets a wedge of still air.
                open_m: place.open * girth_m * if panel.is_some() { 0.5 } else { 1.0 },
                grey_m: cable.emissivity * girth_m,
                sun_w_per_m: section.sun_w_m2 * cable.outer_diameter_mm * 1e-3,
                below: rises(place, &still, s.air_c, cable.outer_diameter_mm),
            }
        })
        .collect();
    let around_w_m2 = match panel {
        None => black_body_w_m2(s.air_c),
        // Half of what a cable sees is the panel.
        Some(p) => 0.5 * (black_body_w_m2(s.air_c) + black_body_w_m2(p.panel_c)),
    };
    let to_panel = panel.map(|p| {
        let d = run.cables[0].outer_diameter_mm;
        (wedge_w_mk(d, p.gap_mm, (s.air_c + p.panel_c) / 2.0), p.panel_c)
    });
    AirAround {
        air_c: s.air_c,
        bodies,
        exchange: group::exchange(&group, &views),
        around_w_m2,
        panel: to_panel,
    }
}

/// Conduction through the wedge of air between a cylinder and a plane near by, W/mK:
/// S = 2 pi / acosh(2 z/D), nearly all of it through the half of the girth that faces the plane.
fn wedge_w_mk(diameter_mm: f64, gap_mm: f64, air_c: f64) -> f64 {
    let near = 1.0 + 2.0 * gap_mm.max(0.05) / diameter_mm;
    let conductivity = air::air(air_c, air::SEA_LEVEL_PA).conductivity_w_mk;
    2.0 * std::f64::consts::PI / libm::acosh(near) * conductivity
}

fn rises(
    place: &Surround,
    still: &air::Air,
    air_c: f64,
    width_mm: f64,
) -> Vec<(Vec<usize>, Table)> {
    place
        .below
        .iter()
        .map(|below| {
            // Over the root of the heat, up to 625 W/m.
            let table = Table::of(0.0, 0.25, 100, Some(0), |root| {
                group::plume_rise_k(still, air_c, root * root, below.height_mm, width_mm)
            });
            (below.cables.clone(), table)
        })
        .collect()
}

fn in_tube(section: &Section, tube: &Tube, within: TubeHeat, tables: &mut Tables) -> InTube {
    let s = &section.surroundings;
    assert!(0.0 < tube.inner_diameter_mm && tube.inner_diameter_mm <= tube.outer_diameter_mm);
    let girth_m = std::f64::consts::PI * tube.outer_diameter_mm * 1e-3;
    let (inner, outer) = (tube.inner_diameter_mm, tube.outer_diameter_mm);
    let wall_mm2 = std::f64::consts::FRAC_PI_4 * (outer * outer - inner * inner);
    InTube {
        within,
        wall_j_mk: wall_mm2 * 1e-6 * tube.heat_j_m3k,
        air_c: s.air_c,
        cooling: tables.cooling(Flow {
            body_mm: outer,
            air_c: s.air_c,
            pressure_pa: air::pressure_pa(s.altitude_m),
            air_speed_m_s: s.air_speed_m_s,
            correlation: s.correlation,
        }),
        girth_m,
        grey_m: tube.emissivity * girth_m,
        sun_w_per_m: section.sun_w_m2 * outer * 1e-3,
    }
}

/// Emission and its slope.
#[inline]
fn emission(temperature_c: f64) -> (f64, f64) {
    let t = temperature_c + 273.15;
    let cube = SIGMA * t * t * t;
    (cube * t, 4.0 * cube)
}

impl AirAround {
    #[inline]
    fn leaving<const N: usize>(&self, surfaces: &[f64; N]) -> Leaving<N> {
        let mut found = Leaving { out: [0.0; N], slope: [[0.0; N]; N], wall: None };
        let mut emitted = [(0.0, 0.0); N];
        for (e, t) in emitted.iter_mut().zip(surfaces) {
            *e = emission(*t);
        }
        let mut convected = [(0.0, 0.0); N];
        for (i, body) in self.bodies.iter().enumerate().take(N) {
            let row = &self.exchange[i * (N + 1)..(i + 1) * (N + 1)];
            let mut received = row[N] * self.around_w_m2;
            for j in 0..N {
                received += row[j] * emitted[j].0;
                found.slope[i][j] = -body.grey_m * row[j] * emitted[j].1;
            }
            found.slope[i][i] += body.grey_m * emitted[i].1;
            found.out[i] = body.grey_m * (emitted[i].0 - received) - body.sun_w_per_m;
            let cooled = self.convected(i, body, surfaces[i], &convected, &mut found.slope[i]);
            convected[i] = cooled;
            found.out[i] += cooled.0;
            found.slope[i][i] += cooled.1;
            if let Some((conductance, panel_c)) = self.panel {
                found.out[i] += conductance * (surfaces[i] - panel_c);
                found.slope[i][i] += conductance;
            }
        }
        found
    }

    /// Convection of a cable and its slope; what the cables below change goes into `row`.
    #[inline]
    fn convected<const N: usize>(
        &self,
        i: usize,
        body: &Body,
        surface_c: f64,
        below: &[(f64, f64); N],
        row: &mut [f64; N],
    ) -> (f64, f64) {
        if body.below.is_empty() {
            let (flux, slope) = body.cooling[0].1.at(surface_c - self.air_c);
            return (body.open_m * flux, body.open_m * slope);
        }
        let mut rise = 0.0;
        for (cables, table) in &body.below {
            let heat: f64 = cables.iter().map(|j| below[*j].0.max(0.0)).sum();
            rise += table.at(heat.sqrt()).0;
        }
        let difference = surface_c - self.air_c - rise;
        // Properties of the warmer air by the parabola through three tables.
        let [a, b, c] = [0, 1, 2].map(|k| body.cooling[k].1.at(difference));
        let [x0, x1, x2] = PLUME_K;
        let x = rise.clamp(x0, x2);
        let wa = (x - x1) * (x - x2) / ((x0 - x1) * (x0 - x2));
        let wb = (x - x0) * (x - x2) / ((x1 - x0) * (x1 - x2));
        let wc = (x - x0) * (x - x1) / ((x2 - x0) * (x2 - x1));
        let flux = wa * a.0 + wb * b.0 + wc * c.0;
        let slope = wa * a.1 + wb * b.1 + wc * c.1;
        for (cables, table) in &body.below {
            let heat: f64 = cables.iter().map(|j| below[*j].0.max(0.0)).sum();
            let root = heat.sqrt().max(0.05);
            let per_watt = table.at(root).1 / (2.0 * root);
            for j in cables.iter().filter(|j| **j != i) {
                row[*j] -= body.open_m * slope * per_watt * below[*j].1;
            }
        }
        (body.open_m * flux, body.open_m * slope)
    }
}

impl InTube {
    #[inline]
    fn leaving<const N: usize>(&self, surfaces: &[f64; N], wall_c: f64) -> Leaving<N> {
        let mut found = Leaving { out: [0.0; N], slope: [[0.0; N]; N], wall: None };
        match &self.within {
            TubeHeat::Rows(rows) => {
                for i in 0..N {
                    for j in 0..N {
                        found.slope[i][j] = rows[i * N + j];
                        found.out[i] += rows[i * N + j] * (surfaces[j] - wall_c);
                    }
                }
            }
            TubeHeat::Air { gap, body_mm } => {
                let mean = surfaces.iter().sum::<f64>() / N as f64;
                let air_c = (0.5 * (mean + wall_c)).clamp(-50.0, 300.0);
                // T4' = U / (1 + 0.1 (V + Y theta_m) De), for all cables together
                let all = (1.0 + 0.1 * (gap.v + gap.y * air_c) * body_mm) / gap.u;
                for i in 0..N {
                    found.slope[i][i] = all / N as f64;
                    found.out[i] = all / N as f64 * (surfaces[i] - wall_c);
                }
            }
        }
        let (flux, slope) = self.cooling.at(wall_c - self.air_c);
        let (own, own_slope) = emission(wall_c);
        let out = self.girth_m * flux + self.grey_m * (own - black_body_w_m2(self.air_c))
            - self.sun_w_per_m;
        found.wall = Some((out, self.girth_m * slope + self.grey_m * own_slope));
        found
    }
}
