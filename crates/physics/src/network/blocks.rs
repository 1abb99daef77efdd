//! The linear system of a step: shells by hand, surfaces cell by cell, lines along the run block by block.
//!
//! (C/delta - J) x = r, all in watts of a cell. The shells between conductor, screen and surface depend on the
//! step alone, so they are eliminated once for all cells.

use super::mesh::Ladder;

/// Shells eliminated, for one cable and one step: per metre.
#[derive(Clone, Debug, Default)]
pub(crate) struct Chain {
    /// Nodes that stay: conductor, screen if there is one, surface.
    pub(crate) kept: Vec<usize>,
    /// Diagonals of the kept nodes.
    pub(crate) diagonal: Vec<f64>,
    /// Between each kept node and the next.
    pub(crate) coupling: Vec<f64>,
    /// By node: inverse of the diagonal, share of the kept node inside and of the next node.
    shells: Vec<[f64; 3]>,
}

impl Chain {
    /// With `per_second` = 1/delta; zero for the steady state.
    pub(crate) fn fill(&mut self, ladder: &Ladder, per_second: f64) {
        let n = ladder.capacity.len();
        self.kept.clear();
        self.kept.push(0);
        self.kept.extend(ladder.screen);
        self.kept.push(n - 1);
        self.shells.clear();
        self.shells.resize(n, [0.0; 3]);
        self.diagonal.clear();
        self.coupling.clear();
        let own = |k: usize| {
            let inside = if k == 0 { 0.0 } else { ladder.conductance[k - 1] };
            let outside = ladder.conductance.get(k).copied().unwrap_or(0.0);
            per_second * ladder.capacity[k] + inside + outside
        };
        let mut first = own(0);
        for pair in 0..self.kept.len() - 1 {
            let (a, b) = (self.kept[pair], self.kept[pair + 1]);
            let mut link = ladder.conductance[a];
            let mut next = own(a + 1);
            for k in a + 1..b {
                let inverse = 1.0 / next;
                let on = ladder.conductance[k];
                self.shells[k] = [inverse, link * inverse, on * inverse];
                first -= link * link * inverse;
                next = own(k + 1) - on * on * inverse;
                link *= on * inverse;
            }
            self.diagonal.push(first);
            self.coupling.push(link);
            first = next;
        }
        self.diagonal.push(first);
    }

    /// Carries what is right of the shells over to the nodes that stay.
    #[inline(always)]
    pub(crate) fn gather(&self, right: &mut [f64]) {
        for pair in self.kept.windows(2) {
            for k in pair[0] + 1..pair[1] {
                right[pair[0]] += self.shells[k][1] * right[k];
                right[k + 1] += self.shells[k][2] * right[k];
            }
        }
    }

    /// Finds the shells from the nodes that stay; `right` becomes the solution.
    #[inline(always)]
    pub(crate) fn spread(&self, right: &mut [f64], per_length: f64) {
        for pair in self.kept.windows(2) {
            for k in (pair[0] + 1..pair[1]).rev() {
                right[k] = right[k] * self.shells[k][0] * per_length
                    + self.shells[k][1] * right[pair[0]]
                    + self.shells[k][2] * right[k + 1];
            }
        }
    }
}

/// A square block.
pub(crate) type Block<const M: usize> = [[f64; M]; M];

/// The inverse without exchange of rows, for blocks whose diagonal dominates; none if a pivot is not positive,
/// which is a state that is not stable.
#[inline]
pub(crate) fn inverse<const M: usize>(mut a: Block<M>) -> Option<Block<M>> {
    for k in 0..M {
        // A value that is no number is not stable either.
        if !(a[k][k] > 0.0) {
            return None;
        }
        let pivot = 1.0 / a[k][k];
        a[k][k] = 1.0;
        for x in &mut a[k] {
            *x *= pivot;
        }
        let row = a[k];
        for (i, other) in a.iter_mut().enumerate() {
            if i != k {
                let factor = other[k];
                other[k] = 0.0;
                for (x, y) in other.iter_mut().zip(&row) {
                    *x -= factor * y;
                }
            }
        }
    }
    Some(a)
}

#[inline]
pub(crate) fn times<const M: usize>(a: &Block<M>, x: &[f64; M]) -> [f64; M] {
    let mut y = [0.0; M];
    for (to, row) in y.iter_mut().zip(a) {
        for (v, w) in row.iter().zip(x) {
            *to += v * w;
        }
    }
    y
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_inverse_undoes_the_block() {
        let a = [[4.0, -1.0, 0.5], [-0.5, 3.0, -1.0], [0.0, -1.0, 5.0]];
        let b = inverse(a).unwrap();
        for (i, row) in a.iter().enumerate() {
            for j in 0..3 {
                let sum: f64 = (0..3).map(|k| row[k] * b[k][j]).sum();
                assert!((sum - if i == j { 1.0 } else { 0.0 }).abs() < 1e-14);
            }
        }
        assert!(inverse([[1.0, 2.0], [2.0, 1.0]]).is_none());
    }

    #[test]
    fn a_chain_conducts_as_its_shells_in_series() {
        let ladder =
            Ladder { capacity: vec![0.0; 4], conductance: vec![1.0, 2.0, 4.0], screen: None };
        let mut chain = Chain::default();
        chain.fill(&ladder, 0.0);
        let series = 1.0 / (1.0 + 0.5 + 0.25);
        assert!((chain.coupling[0] - series).abs() < 1e-15);
        assert!((chain.diagonal[0] - series).abs() < 1e-15);
        assert!((chain.diagonal[1] - series).abs() < 1e-15);
    }
}
