//! The heat of a run: along its cables, across them, and over time.
//!
//! A run is cut into cells along its length; in each cell every cable is a ladder of nodes from the conductor
//! through shells of insulation (and a screen, where it has one) to the surface. Conductor and screen conduct
//! heat along the cable; each end meets a terminal; every section of the run has its own surroundings, in which
//! the cables heat one another as [`crate::heat`] argues.
//!
//! C dT/dt = d/dx(k A dT/dx) + I^2 R(T) - G (T - T_next) - ... ,  surface: convection + radiation
//!
//! # How it is solved
//!
//! - *Across.* Shells are eliminated by hand, surfaces cell by cell (they see each other), so that what remains
//!   along the run is a block-tridiagonal system with one or two unknowns a cable: the time grows with the
//!   number of cells, not with its cube.
//! - *Convection* is tabulated once for each kind of surroundings; see [`table`] for the bound on its error.
//! - *Steady.* Newton's method with all of these slopes. Where it finds no stable state the run is followed in
//!   time; what passes the ceiling has run away.
//! - *Time.* TR-BDF2, linearly implicit, second order and L-stable, with the embedded third-order error; the
//!   slopes are those at the start of a step, which keeps the order. The current enters by its exact integral and first moment over each step, so that a step may be longer than a
//!   sample without losing heat.
//! - *A duty repeated for ever* starts from the steady state of its mean loss, and each round corrects the
//!   start by the network's own slow modes: the error falls to a third or less a round, whatever the period.
//!
//! Tried and left: whole cells as dense blocks (nine unknowns, five times slower); neighbours held from the
//! last step (no faster, and in a conduit the steady state took a hundred rounds); the mean current alone over a
//! step (0.3 K off behind a short burst at steps of 5 s).
//!
//! Range    As [`crate::heat`]; sections of any length. Above [`CEILING_C`] there is no steady state given.
//! Source   The laws named in [`crate::heat`]; Bank et al. 1985 and Hosea and Shampine 1996 for TR-BDF2 (memory),
//!          which the tests hold to its order.
//! Caveat   Cables within a run see each other, runs do not. Air is not warmed along a conduit.

pub mod table;
mod mesh;
mod load;
mod outside;
mod blocks;
mod equations;
mod swing;
mod course;
mod answers;

pub use self::answers::{Rating, Steady};
pub use self::course::{Course, Moment, Periodic, Precision};
pub use self::load::{Load, Piece};

use crate::heat::{Arrangement, CEILING_C, Cable, Harmonic, Surroundings};

/// One section of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its length.
    pub length_m: f64,
    /// How the cables lie in it.
    pub arrangement: Arrangement,
    /// Air and what else is around.
    pub surroundings: Surroundings,
    /// What they lie in or on.
    pub within: Within,
    /// Sunshine across the cables, W/m2, as far as the surface takes it up.
    pub sun_w_m2: f64,
}

/// What the cables of a section lie in or on.
#[derive(Clone, Debug, PartialEq)]
pub enum Within {
    /// Free air.
    Open,
    /// Clipped along a panel.
    Panel(Panel),
    /// In a tube of air.
    Conduit(Tube),
    /// In a filled round jacket: heat from each cable's surface to the jacket, W/mK, row by row.
    Jacket(Tube, Vec<f64>),
}

/// A panel along which cables are clipped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Panel {
    /// Its temperature.
    pub panel_c: f64,
    /// Air between cable and panel at the closest place.
    pub gap_mm: f64,
}

/// A conduit or jacket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Diameter inside.
    pub inner_diameter_mm: f64,
    /// Diameter over it.
    pub outer_diameter_mm: f64,
    /// Heat its wall stores, J/(m3 K).
    pub heat_j_m3k: f64,
    /// Emissivity of its outside.
    pub emissivity: f64,
    /// Constants of the air gap.
    pub gap: Gap,
}

/// Constants U, V, Y of a cable in a tube of air, IEC 60287-2-1 (memory):
/// T4' = U / (1 + 0.1 (V + Y theta_m) De), theta_m the mean temperature of the air in degC, De in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// U.
    pub u: f64,
    /// V.
    pub v: f64,
    /// Y.
    pub y: f64,
}

impl Gap {
    /// Metallic conduit.
    pub const METAL: Gap = Gap { u: 5.2, v: 1.4, y: 0.011 };
    /// Plastic (fibre) duct in air.
    pub const PLASTIC: Gap = Gap { u: 5.2, v: 0.83, y: 0.006 };
}

/// What a cable's end meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Terminal {
    /// The body behind it: temperature, and thermal resistance from the lug to it in K/W (zero: held). Without
    /// one no heat passes.
    pub body: Option<(f64, f64)>,
    /// Electrical resistance of the joint, whose loss enters here.
    pub joint_ohm: f64,
}

impl Terminal {
    /// Nothing passes: the cable ends, or goes on as it is.
    pub const FREE: Terminal = Terminal { body: None, joint_ohm: 0.0 };

    /// Held at a temperature.
    pub fn held(temperature_c: f64) -> Terminal {
        Terminal { body: Some((temperature_c, 0.0)), joint_ohm: 0.0 }
    }
}

/// A screen around every cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screen {
    /// Mean diameter.
    pub diameter_mm: f64,
    /// Metal, as far as heat is concerned.
    pub area_mm2: f64,
    /// Resistance at 20 degC.
    pub resistance_20_ohm_per_m: f64,
    /// How its ends are bonded.
    pub bonding: Bonding,
}

/// How the ends of screens are bonded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bonding {
    /// Both: currents circulate.
    BothEnds,
    /// One: only eddy currents.
    OneEnd,
}

/// A run of cables.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The cables; their currents are shares of the load's.
    pub cables: Vec<Cable>,
    /// Screens, of all or of none.
    pub screen: Option<Screen>,
    /// Conductivity of the conductor along it, W/mK.
    pub conductivity_w_mk: f64,
    /// Between loss in the conductor as if solid (1) and as if strands were insulated (0): what proximity and
    /// skin effect add is multiplied by it.
    pub lay: f64,
    /// Least and greatest frequency of any load.
    pub frequency_hz: (f64, f64),
    /// The sections in order.
    pub sections: Vec<Section>,
    /// The terminals of each cable, near and far.
    pub ends: Vec<[Terminal; 2]>,
    /// Carrier ripple and the like.
    pub harmonics: Vec<Harmonic>,
}

/// How finely a run is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Cells next to a terminal or a border of sections.
    pub least_mm: f64,
    /// Each next cell is longer by this factor.
    pub growth: f64,
    /// Cells are never longer.
    pub most_mm: f64,
    /// Shells of insulation.
    pub shells: usize,
}

impl Cut {
    /// Fine enough for 0.4 K where surroundings and terminals differ by tens of kelvin (tested).
    pub const USUAL: Cut = Cut { least_mm: 20.0, growth: 1.4, most_mm: 150.0, shells: 3 };

    /// All cells about equal.
    pub fn even(cell_mm: f64, shells: usize) -> Cut {
        Cut { least_mm: cell_mm, growth: 1.0, most_mm: cell_mm, shells }
    }
}

/// There is no steady state below [`CEILING_C`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Runaway;

/// One cell along the run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Its length.
    pub length_m: f64,
    /// Its middle, from the near end.
    pub at_m: f64,
    /// Its section.
    pub section: usize,
}

/// Temperatures of the whole network.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// By cell, cable and node from conductor to surface.
    pub(crate) nodes: Vec<f64>,
    /// Wall of the tube, by cell; the air's temperature where there is none.
    pub(crate) walls: Vec<f64>,
}

/// A run made ready.
pub struct Network {
    pub(crate) run: Run,
    pub(crate) cells: Vec<Cell>,
    /// By cable.
    pub(crate) ladders: Vec<mesh::Ladder>,
    /// By section.
    pub(crate) outsides: Vec<outside::Outside>,
    /// By section: which of `losses`.
    pub(crate) loss_of: Vec<usize>,
    pub(crate) losses: Vec<load::LossLaw>,
    /// Along the conductor and the screen, W m/K, by cable.
    pub(crate) along: Vec<[f64; 2]>,
}

impl Network {
    /// Cuts a run and works out all that does not change.
    pub fn new(run: &Run, cut: &Cut) -> Network {
        Network::near(run, cut, None)
    }

    /// The same, taking over the laws of loss, the longest part of it, from a network whose cables are the same
    /// but lie in other surroundings.
    pub fn near(run: &Run, cut: &Cut, near: Option<&Network>) -> Network {
        check(run, cut);
        let cells = mesh::cells(&run.sections, cut);
        let ladders =
            run.cables.iter().map(|c| mesh::ladder(c, run.screen, cut.shells)).collect();
        let (losses, loss_of) = load::laws(run, near);
        let mut tables = table::Tables::default();
        let outsides =
            run.sections.iter().map(|s| outside::Outside::new(run, s, &mut tables)).collect();
        let copper_w_mk = crate::laws::axial::COPPER_W_MK;
        let along = run
            .cables
            .iter()
            .map(|c| {
                let conductor = run.conductivity_w_mk * c.conductor_area_mm2_effective * 1e-6;
                [conductor, run.screen.map_or(0.0, |s| copper_w_mk * s.area_mm2 * 1e-6)]
            })
            .collect();
        Network { run: run.clone(), cells, ladders, outsides, loss_of, losses, along }
    }

    /// The cells along the run.
    pub fn cells(&self) -> &[Cell] {
        &self.cells
    }

    /// The cables.
    pub fn cables(&self) -> &[Cable] {
        &self.run.cables
    }

    /// Ratio of AC to DC resistance of a conductor at a temperature, harmonics apart.
    pub fn ac_ratio(&self, cell: usize, cable: usize, hz: f64, conductor_c: f64) -> f64 {
        let law = self.loss_of[self.cells[cell].section];
        self.losses[law].ac_ratio(&self.run, cable, hz, conductor_c)
    }

    /// How many nodes each cable has across.
    pub fn nodes_across(&self) -> usize {
        self.ladders[0].capacity.len()
    }

    pub(crate) fn count(&self) -> usize {
        self.run.cables.len()
    }

    fn at(&self, cell: usize, cable: usize) -> usize {
        (cell * self.count() + cable) * self.nodes_across()
    }

    /// Where the cubic of a conductor's loss stands among the channels of a drive.
    pub(crate) fn conductor_channel(&self, cell: usize, cable: usize) -> usize {
        let law = self.loss_of[self.cells[cell].section];
        let lines = if self.run.screen.is_some() { 2 } else { 1 };
        (law * self.count() + cable) * lines * 4
    }

    /// Everything at one temperature.
    pub fn uniform(&self, temperature_c: f64) -> State {
        State {
            nodes: vec![temperature_c; self.cells.len() * self.count() * self.nodes_across()],
            walls: vec![temperature_c; self.cells.len()],
        }
    }

    /// Everything as warm as the air around it.
    pub fn cold(&self) -> State {
        let mut state = self.uniform(0.0);
        let per_cell = self.count() * self.nodes_across();
        for (c, cell) in self.cells.iter().enumerate() {
            let air_c = self.run.sections[cell.section].surroundings.air_c;
            state.nodes[c * per_cell..(c + 1) * per_cell].fill(air_c);
            state.walls[c] = air_c;
        }
        state
    }

    /// Conductor temperature of a cable in a cell.
    pub fn conductor_c(&self, state: &State, cell: usize, cable: usize) -> f64 {
        state.nodes[self.at(cell, cable)]
    }

    /// Surface temperature of a cable in a cell.
    pub fn surface_c(&self, state: &State, cell: usize, cable: usize) -> f64 {
        state.nodes[self.at(cell, cable) + self.nodes_across() - 1]
    }

    /// The hottest conductor: temperature, cell and cable; the first of equals.
    pub fn hottest(&self, state: &State) -> (f64, usize, usize) {
        let mut best = (f64::NEG_INFINITY, 0, 0);
        for cell in 0..self.cells.len() {
            for cable in 0..self.count() {
                let t = self.conductor_c(state, cell, cable);
                if t > best.0 + 1e-9 {
                    best = (t, cell, cable);
                }
            }
        }
        best
    }
}

fn check(run: &Run, cut: &Cut) {
    assert!((1..=6).contains(&run.cables.len()), "one to six cables a run");
    assert!(run.ends.len() == run.cables.len(), "every cable has two ends");
    assert!(!run.sections.is_empty(), "a run has a section");
    assert!(run.sections.iter().all(|s| 0.0 < s.length_m && s.length_m.is_finite()));
    assert!(0.0 < run.conductivity_w_mk && (0.0..=1.0).contains(&run.lay));
    assert!(1 <= cut.shells && 1.0 <= cut.growth && 0.0 < cut.least_mm);
    for end in run.ends.iter().flatten() {
        assert!(0.0 <= end.joint_ohm && end.body.is_none_or(|(_, k_per_w)| 0.0 <= k_per_w));
    }
    if let Some(screen) = run.screen {
        for c in &run.cables {
            assert!(c.conductor_diameter_mm < screen.diameter_mm);
            assert!(screen.diameter_mm < c.outer_diameter_mm);
        }
    }
}

#[cfg(test)]
mod tests;
