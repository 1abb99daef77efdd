//! The flows of heat in every cell at given temperatures, their slopes, and the solution of a step.

use super::blocks::{Block, Chain, inverse, times};
use super::outside::Leaving;
use super::{Network, State};

/// Sums over the whole run, W.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Totals {
    /// Loss of conductors, screens and joints.
    pub(crate) made: f64,
    /// What surfaces and tubes give off.
    pub(crate) shed: f64,
    /// What goes into the bodies behind the terminals.
    pub(crate) into_ends: f64,
}

/// A network with its number of cables fixed, so that blocks are arrays.
pub(crate) trait Engine {
    /// Works out flows and slopes at a state and a level of the load.
    fn evaluate(&mut self, state: &State, level: &[f64]);
    /// Net flow into every node and every wall, W.
    fn flows(&self) -> (&[f64], &[f64]);
    /// Sums of the last evaluation.
    fn totals(&self) -> Totals;
    /// Adds the loss at a level of the load, joints included, to the flows given.
    fn add_losses(&self, state: &State, level: &[f64], to: &mut [f64]);
    /// Prepares C/delta - J with the slopes last worked out; false if no state near is stable.
    fn factor(&mut self, per_second: f64) -> bool;
    /// Solves with what was prepared.
    fn solve(&self, right: &mut [f64], right_walls: &mut [f64]);
}

pub(crate) fn engine(network: &Network) -> Box<dyn Engine + '_> {
    match (network.count(), network.run.screen.is_some()) {
        (1, false) => Box::new(Equations::<1, 1>::new(network)),
        (2, false) => Box::new(Equations::<2, 2>::new(network)),
        (3, false) => Box::new(Equations::<3, 3>::new(network)),
        (4, false) => Box::new(Equations::<4, 4>::new(network)),
        (5, false) => Box::new(Equations::<5, 5>::new(network)),
        (6, false) => Box::new(Equations::<6, 6>::new(network)),
        (1, true) => Box::new(Equations::<1, 2>::new(network)),
        (2, true) => Box::new(Equations::<2, 4>::new(network)),
        (3, true) => Box::new(Equations::<3, 6>::new(network)),
        (4, true) => Box::new(Equations::<4, 8>::new(network)),
        (5, true) => Box::new(Equations::<5, 10>::new(network)),
        (6, true) => Box::new(Equations::<6, 12>::new(network)),
        (count, _) => unreachable!("{count} cables were checked to be one to six"),
    }
}

/// An end as the first or last cell sees it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct EndLink {
    pub(crate) cell: usize,
    /// To the body, W/K.
    conductance: f64,
    body_c: f64,
    /// Resistance of the joint, and the share of its heat that enters the cable.
    pub(crate) joint_ohm: f64,
    pub(crate) joint_share: f64,
}

/// N cables, M lines along the run: the conductors, then the screens if there are any.
struct Equations<'a, const N: usize, const M: usize> {
    network: &'a Network,
    across: usize,
    last_channel: usize,
    chains: Vec<Chain>,
    ends: Vec<[EndLink; 2]>,
    /// To the next cell, W/K.
    next: Vec<[f64; M]>,
    flow: Vec<f64>,
    flow_walls: Vec<f64>,
    totals: Totals,
    /// Slope of the loss, W/K.
    loss_slope: Vec<[f64; M]>,
    leaving: Vec<Leaving<N>>,
    surface_inverse: Vec<Block<N>>,
    wall_inverse: Vec<f64>,
    line_inverse: Vec<Block<M>>,
}

/// An array by index: a plain loop, for the compiler leaves `from_fn` a call.
#[inline(always)]
fn each<const K: usize>(mut of: impl FnMut(usize) -> f64) -> [f64; K] {
    let mut all = [0.0; K];
    for (k, x) in all.iter_mut().enumerate() {
        *x = of(k);
    }
    all
}

#[inline]
fn cubic_at(level: &[f64], channel: usize, t: f64) -> (f64, f64) {
    let x = 0.01 * t;
    let [a, b, c, d] = *level[channel..].first_chunk().expect("four powers a channel");
    (a + x * (b + x * (c + x * d)), 0.01 * (b + x * (2.0 * c + 3.0 * x * d)))
}

impl<'a, const N: usize, const M: usize> Equations<'a, N, M> {
    const SCREENED: bool = M > N;

    fn new(network: &'a Network) -> Equations<'a, N, M> {
        let cells = &network.cells;
        let none = Leaving { out: [0.0; N], slope: [[0.0; N]; N], wall: None };
        let lines = if Self::SCREENED { 2 } else { 1 };
        let next = cells
            .windows(2)
            .map(|pair| {
                let apart = (pair[0].length_m + pair[1].length_m) / 2.0;
                Self::lines(|cable, line| network.along[cable][line] / apart)
            })
            .chain([[0.0; M]])
            .collect();
        Equations {
            network,
            across: network.nodes_across(),
            last_channel: network.losses.len() * N * lines * 4,
            chains: vec![Chain::default(); N],
            ends: (0..N).map(|cable| ends(network, cable)).collect(),
            next,
            flow: vec![0.0; cells.len() * N * network.nodes_across()],
            flow_walls: vec![0.0; cells.len()],
            totals: Totals::default(),
            loss_slope: vec![[0.0; M]; cells.len()],
            leaving: vec![none; cells.len()],
            surface_inverse: vec![[[0.0; N]; N]; cells.len()],
            wall_inverse: vec![0.0; cells.len()],
            line_inverse: vec![[[0.0; M]; M]; cells.len()],
        }
    }

    fn lines(of: impl Fn(usize, usize) -> f64) -> [f64; M] {
        each(|line| of(line % N, line / N))
    }

    /// Node of a line in a cell.
    #[inline]
    fn node(&self, cell: usize, line: usize) -> usize {
        let k = if line < N { 0 } else { self.network.ladders[line - N].screen.unwrap_or(0) };
        (cell * N + line % N) * self.across + k
    }

    #[inline]
    fn channel(&self, cell: usize, line: usize) -> usize {
        let law = self.network.loss_of[self.network.cells[cell].section];
        ((law * N + line % N) * (M / N) + line / N) * 4
    }

    /// Conduction across the cables and loss in one cell.
    #[inline]
    fn across(&mut self, cell: usize, state: &State, level: &[f64]) {
        let length = self.network.cells[cell].length_m;
        for cable in 0..N {
            let at = (cell * N + cable) * self.across;
            let t = &state.nodes[at..at + self.across];
            let flow = &mut self.flow[at..at + self.across];
            flow.fill(0.0);
            for (k, g) in self.network.ladders[cable].conductance.iter().enumerate() {
                let through = length * g * (t[k] - t[k + 1]);
                flow[k] -= through;
                flow[k + 1] += through;
            }
        }
        for line in 0..M {
            let node = self.node(cell, line);
            let (loss, slope) = cubic_at(level, self.channel(cell, line), state.nodes[node]);
            self.flow[node] += length * loss;
            self.totals.made += length * loss;
            self.loss_slope[cell][line] = length * slope;
        }
    }

    /// What leaves the surfaces of one cell.
    #[inline]
    fn outward(&mut self, cell: usize, state: &State) {
        let length = self.network.cells[cell].length_m;
        let surface = |cable: usize| (cell * N + cable + 1) * self.across - 1;
        let surfaces: [f64; N] = each(|i| state.nodes[surface(i)]);
        let section = self.network.cells[cell].section;
        let leaving = self.network.outsides[section].leaving(&surfaces, state.walls[cell]);
        let mut sum = 0.0;
        for (i, out) in leaving.out.iter().enumerate() {
            self.flow[surface(i)] -= length * out;
            sum += length * out;
        }
        self.flow_walls[cell] = 0.0;
        if let Some((on, _)) = leaving.wall {
            self.flow_walls[cell] = sum - length * on;
            sum = length * on;
        }
        self.totals.shed += sum;
        self.leaving[cell] = leaving;
    }

    fn joint_w(&self, cable: usize, end: &EndLink, level: &[f64]) -> f64 {
        let share = self.network.run.cables[cable].current_a_rms;
        end.joint_ohm * level[self.last_channel] * share * share
    }

    fn at_the_ends(&mut self, state: &State, level: &[f64]) {
        for cable in 0..N {
            for end in self.ends[cable] {
                let node = self.node(end.cell, cable);
                let joint = self.joint_w(cable, &end, level);
                let into = end.conductance * (end.body_c - state.nodes[node])
                    + joint * end.joint_share;
                self.flow[node] += into;
                self.totals.made += joint;
                self.totals.into_ends += joint - into;
            }
        }
    }
}

/// Both ends of a cable.
pub(crate) fn ends(network: &Network, cable: usize) -> [EndLink; 2] {
    let last = network.cells.len() - 1;
    [(0, 0), (1, last)].map(|(end, cell)| {
        let terminal = network.run.ends[cable][end];
        let half = 2.0 * network.along[cable][0] / network.cells[cell].length_m;
        let (body_c, conductance, joint_share) = match terminal.body {
            None => (0.0, 0.0, 1.0),
            Some((body_c, k_per_w)) => {
                let both = 1.0 + half * k_per_w;
                (body_c, half / both, half * k_per_w / both)
            }
        };
        EndLink { cell, conductance, body_c, joint_ohm: terminal.joint_ohm, joint_share }
    })
}

impl<const N: usize, const M: usize> Equations<'_, N, M> {
    /// The surfaces' block of one cell, walls eliminated.
    #[inline]
    fn surfaces(&mut self, cell: usize, per_second: f64) -> Block<N> {
        let length = self.network.cells[cell].length_m;
        let leaving = &self.leaving[cell];
        let mut block = leaving.slope;
        for (i, chain) in self.chains.iter().enumerate() {
            block[i][i] += chain.diagonal[chain.diagonal.len() - 1];
        }
        if let Some((_, slope)) = leaving.wall {
            let section = self.network.cells[cell].section;
            let rho: [f64; N] = each(|i| leaving.slope[i].iter().sum::<f64>());
            let own = self.network.outsides[section].wall_j_mk() * per_second
                + rho.iter().sum::<f64>()
                + slope;
            self.wall_inverse[cell] = 1.0 / (own * length);
            for i in 0..N {
                for j in 0..N {
                    block[i][j] -= rho[i] * rho[j] / own;
                }
            }
        }
        for x in block.as_flattened_mut() {
            *x *= length;
        }
        block
    }

    /// The lines' block of one cell before its neighbour is eliminated.
    #[inline]
    fn lines_block(&self, cell: usize) -> Block<M> {
        let length = self.network.cells[cell].length_m;
        let mut block = [[0.0; M]; M];
        for line in 0..M {
            let chain = &self.chains[line % N];
            let before = if cell == 0 { 0.0 } else { self.next[cell - 1][line] };
            block[line][line] =
                length * chain.diagonal[line / N] + before + self.next[cell][line]
                    - self.loss_slope[cell][line];
            if Self::SCREENED && line < N {
                block[line][N + line] = -length * chain.coupling[0];
                block[N + line][line] = -length * chain.coupling[0];
            }
        }
        for (cable, ends) in self.ends.iter().enumerate() {
            for end in ends.iter().filter(|e| e.cell == cell) {
                block[cable][cable] += end.conductance;
            }
        }
        let first = M - N;
        for i in 0..N {
            for j in 0..N {
                block[first + i][first + j] -=
                    self.link(cell, i) * self.surface_inverse[cell][i][j] * self.link(cell, j);
            }
        }
        block
    }

    /// From the outermost line of a cable to its surface, W/K.
    #[inline]
    fn link(&self, cell: usize, cable: usize) -> f64 {
        let coupling = &self.chains[cable].coupling;
        self.network.cells[cell].length_m * coupling[coupling.len() - 1]
    }

    /// Brings one cell's right side down to its lines.
    #[inline]
    fn gathered(&self, cell: usize, right: &mut [f64], right_walls: &[f64]) -> [f64; M] {
        for (cable, chain) in self.chains.iter().enumerate() {
            let at = (cell * N + cable) * self.across;
            chain.gather(&mut right[at..at + self.across]);
        }
        let surface = |cable: usize| (cell * N + cable + 1) * self.across - 1;
        if self.leaving[cell].wall.is_some() {
            let length = self.network.cells[cell].length_m;
            let wall = right_walls[cell] * self.wall_inverse[cell] * length;
            for i in 0..N {
                right[surface(i)] += wall * self.leaving[cell].slope[i].iter().sum::<f64>();
            }
        }
        let surfaces: [f64; N] = each(|i| right[surface(i)]);
        let found = times(&self.surface_inverse[cell], &surfaces);
        each(|line| {
            let mut sum = right[self.node(cell, line)];
            if M - N <= line {
                sum += self.link(cell, line % N) * found[line % N];
            }
            sum
        })
    }

    /// Finds everything in a cell from its lines.
    #[inline]
    fn spread(
        &self,
        cell: usize,
        lines: &[f64; M],
        right: &mut [f64],
        right_walls: &mut [f64],
    ) {
        let length = self.network.cells[cell].length_m;
        let surface = |cable: usize| (cell * N + cable + 1) * self.across - 1;
        let surfaces: [f64; N] =
            each(|i| right[surface(i)] + self.link(cell, i) * lines[M - N + i]);
        let found = times(&self.surface_inverse[cell], &surfaces);
        if self.leaving[cell].wall.is_some() {
            let mut sum = right_walls[cell];
            for (row, t) in self.leaving[cell].slope.iter().zip(&found) {
                sum += length * row.iter().sum::<f64>() * t;
            }
            right_walls[cell] = sum * self.wall_inverse[cell];
        } else {
            right_walls[cell] = 0.0;
        }
        for (line, t) in lines.iter().enumerate() {
            right[self.node(cell, line)] = *t;
        }
        for (cable, chain) in self.chains.iter().enumerate() {
            right[surface(cable)] = found[cable];
            let at = (cell * N + cable) * self.across;
            chain.spread(&mut right[at..at + self.across], 1.0 / length);
        }
    }
}

impl<const N: usize, const M: usize> Engine for Equations<'_, N, M> {
    fn evaluate(&mut self, state: &State, level: &[f64]) {
        self.totals = Totals::default();
        for cell in 0..self.network.cells.len() {
            self.across(cell, state, level);
            self.outward(cell, state);
        }
        for cell in 0..self.network.cells.len() - 1 {
            for line in 0..M {
                let (here, there) = (self.node(cell, line), self.node(cell + 1, line));
                let through = self.next[cell][line] * (state.nodes[here] - state.nodes[there]);
                self.flow[here] -= through;
                self.flow[there] += through;
            }
        }
        self.at_the_ends(state, level);
    }

    fn flows(&self) -> (&[f64], &[f64]) {
        (&self.flow, &self.flow_walls)
    }

    fn totals(&self) -> Totals {
        self.totals
    }

    fn add_losses(&self, state: &State, level: &[f64], to: &mut [f64]) {
        for (cell, c) in self.network.cells.iter().enumerate() {
            for line in 0..M {
                let node = self.node(cell, line);
                to[node] +=
                    c.length_m * cubic_at(level, self.channel(cell, line), state.nodes[node]).0;
            }
        }
        for cable in 0..N {
            for end in self.ends[cable] {
                to[self.node(end.cell, cable)] +=
                    self.joint_w(cable, &end, level) * end.joint_share;
            }
        }
    }

    fn factor(&mut self, per_second: f64) -> bool {
        for (chain, ladder) in self.chains.iter_mut().zip(&self.network.ladders) {
            chain.fill(ladder, per_second);
        }
        for cell in 0..self.network.cells.len() {
            let Some(surfaces) = inverse(self.surfaces(cell, per_second)) else { return false };
            self.surface_inverse[cell] = surfaces;
            let mut block = self.lines_block(cell);
            if let Some(before) = cell.checked_sub(1) {
                let (a, b) = (&self.next[before], &self.line_inverse[before]);
                for i in 0..M {
                    for j in 0..M {
                        block[i][j] -= a[i] * b[i][j] * a[j];
                    }
                }
            }
            let Some(lines) = inverse(block) else { return false };
            self.line_inverse[cell] = lines;
        }
        true
    }

    fn solve(&self, right: &mut [f64], right_walls: &mut [f64]) {
        let cells = self.network.cells.len();
        let mut before = [0.0; M];
        for cell in 0..cells {
            let mut lines = self.gathered(cell, right, right_walls);
            if 0 < cell {
                for line in 0..M {
                    lines[line] += self.next[cell - 1][line] * before[line];
                }
            }
            before = times(&self.line_inverse[cell], &lines);
            for (line, y) in before.iter().enumerate() {
                right[self.node(cell, line)] = *y;
            }
        }
        let mut after = [0.0; M];
        for cell in (0..cells).rev() {
            let mut lines: [f64; M] = each(|line| right[self.node(cell, line)]);
            if cell + 1 < cells {
                let pull: [f64; M] = each(|line| self.next[cell][line] * after[line]);
                for (line, more) in times(&self.line_inverse[cell], &pull).iter().enumerate() {
                    lines[line] += more;
                }
            }
            self.spread(cell, &lines, right, right_walls);
            after = lines;
        }
    }
}
