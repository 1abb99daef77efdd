//! How far the hottest conductor swings within one step.
//!
//! A step may be longer than the pieces of the load: what it does to the ends of the step is exact, but between
//! them a burst warms the conductor above the line that joins the ends. In so short a time the heat stays in the
//! conductor, so at a border s inside the step from a to b the conductor is off that line by
//!
//! ```text
//! swing(s) = (Q(a, s) - (s - a)/(b - a) Q(a, b)) / C
//! ```
//!
//! with Q the heat made between two times, a lug's joint counted in, and C what the conductor stores. The
//! insulation next to it takes its share (about an eighth for 70 mm2 in a second), so the true swing is a little
//! smaller; steps are kept short enough for that share to be below a twentieth of a kelvin.

use super::equations::ends;
use super::load::Drive;
use super::{Network, State};

/// A step in which the hottest conductor would swing further is made shorter.
pub(crate) const SWING_K_MAX: f64 = 0.3;

/// Less of a swing is not worth a point of the curve.
pub(crate) const SWING_K_LEAST: f64 = 0.01;

/// One conductor, as far as swings are concerned.
#[derive(Clone, Copy)]
pub(crate) struct Heated {
    /// Its cubic among the channels of a drive.
    channel: usize,
    /// Of a lug's joint, spread over the conductor of its cell: ohm/m for the load's whole current.
    joint_ohm_per_m: f64,
    /// What it stores, J/mK.
    capacity_j_mk: f64,
    /// Its temperature about now.
    conductor_c: f64,
}

impl Heated {
    pub(crate) fn of(network: &Network, state: &State, cell: usize, cable: usize) -> Heated {
        Heated {
            channel: network.conductor_channel(cell, cable),
            joint_ohm_per_m: network.joint_ohm(cell, cable) / network.cells[cell].length_m,
            capacity_j_mk: network.ladders[cable].capacity[0],
            conductor_c: network.conductor_c(state, cell, cable),
        }
    }

    /// The borders inside a step, and the swing at each.
    fn swings<'a>(
        &'a self,
        drive: &'a Drive,
        from: f64,
        to: f64,
    ) -> impl Iterator<Item = (f64, f64)> + 'a {
        let made = |heat: [f64; 2]| heat[0] + self.joint_ohm_per_m * heat[1];
        let heat = move |t: f64| made(drive.heat_until(t, self.channel, self.conductor_c));
        let start = heat(from);
        let per_second = (heat(to) - start) / (to - from);
        drive.borders_within(from, to).map(move |border| {
            let (at, heat) = drive.heat_at_border(border, self.channel, self.conductor_c);
            let on_line = start + per_second * (at - from);
            (at, (made(heat) - on_line) / self.capacity_j_mk)
        })
    }

    /// The highest the conductor comes between two times and temperatures, and when; none where it stays below
    /// the higher of the two.
    pub(crate) fn highest(
        &self,
        drive: &Drive,
        start: (f64, f64),
        end: (f64, f64),
    ) -> Option<(f64, f64)> {
        let ((from, from_c), (to, to_c)) = (start, end);
        let mut highest = None;
        let mut most_c = from_c.max(to_c) + SWING_K_LEAST;
        for (at, swing_k) in self.swings(drive, from, to) {
            let here_c = from_c + (at - from) / (to - from) * (to_c - from_c) + swing_k;
            if most_c < here_c {
                most_c = here_c;
                highest = Some((at, here_c));
            }
        }
        highest
    }

    /// The border inside a step at which the swing is greatest, either way, and how great it is.
    fn greatest(&self, drive: &Drive, from: f64, to: f64) -> Option<(f64, f64)> {
        self.swings(drive, from, to).reduce(|a, b| if a.1.abs() < b.1.abs() { b } else { a })
    }

    /// The longest step from a time, no longer than `dt`, in which the conductor swings no further than allowed.
    pub(crate) fn bounded(&self, drive: &Drive, from: f64, dt: f64) -> f64 {
        let mut dt = dt;
        while let Some((at, swing)) = self.greatest(drive, from, from + dt) {
            if swing.abs() <= SWING_K_MAX {
                break;
            }
            // The first border is always far enough: nothing is inside it.
            let first = drive.border_after(from) - from;
            dt = (0.75 * dt).min((at - from).max(0.5 * dt)).max(first);
            if dt <= first {
                break;
            }
        }
        dt
    }
}

impl Network {
    /// Resistance of the joint of a lug as far as its loss enters a conductor's cell, for the load's current.
    fn joint_ohm(&self, cell: usize, cable: usize) -> f64 {
        if 0 < cell && cell + 1 < self.cells.len() {
            return 0.0;
        }
        let share = self.run.cables[cable].current_a_rms;
        let here = ends(self, cable).into_iter().filter(|end| end.cell == cell);
        here.map(|end| end.joint_ohm * end.joint_share * share * share).sum()
    }

    /// The state at a time within a step: on the line between its ends, the conductors off it by their swings.
    pub(crate) fn swung(
        &self,
        drive: &Drive,
        start: (f64, &State),
        end: (f64, &State),
        at: f64,
        to: &mut State,
    ) {
        let share = (at - start.0) / (end.0 - start.0);
        let between = |to: &mut [f64], a: &[f64], b: &[f64]| {
            for ((t, a), b) in to.iter_mut().zip(a).zip(b) {
                *t = a + share * (b - a);
            }
        };
        between(&mut to.nodes, &start.1.nodes, &end.1.nodes);
        between(&mut to.walls, &start.1.walls, &end.1.walls);
        for cell in 0..self.cells.len() {
            for cable in 0..self.count() {
                let heated = Heated::of(self, end.1, cell, cable);
                let mut swings = heated.swings(drive, start.0, end.0);
                let swing_k = swings.find(|(border, _)| *border == at).map_or(0.0, |s| s.1);
                to.nodes[self.at(cell, cable)] += swing_k;
            }
        }
    }
}
