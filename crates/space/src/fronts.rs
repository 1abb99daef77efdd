//! Symmetric positive systems of finite elements, solved front by front.
//!
//! The elements are halved along the longer side of the region again and again. A corner is eliminated in the
//! smallest piece that holds all elements around it, so only the few on the cut between two halves wait; each
//! piece is a small dense matrix, assembled from its elements or from what its two halves left, whose own
//! unknowns are eliminated at once (Cholesky, eight columns at a time). No matrix of the whole is ever formed.
//!
//! The same elements give the same bits on every machine: order and arithmetic depend on nothing else. The
//! libraries weighed instead choose instructions by processor, and the last bit with them.
//!
//! Range   Some hundred thousand unknowns of a flat mesh.
//! Source  George 1973 (nested dissection), Duff and Reid 1983 (fronts), both from memory.

use crate::segment::Point;

/// Elements: their unknowns and matrices, one after the other.
#[derive(Clone, Debug, Default)]
pub struct Elements {
    unknowns: Vec<usize>,
    matrices: Vec<f64>,
    /// Where each begins in both lists.
    begins: Vec<(usize, usize)>,
    at: Vec<Point>,
}

impl Elements {
    /// Adds one: its unknowns, none twice, and its symmetric matrix, row by row. `at` is somewhere within it, so
    /// that neighbours are found together.
    pub fn push(&mut self, unknowns: &[usize], matrix: &[f64], at: Point) {
        assert_eq!(unknowns.len() * unknowns.len(), matrix.len(), "a square matrix");
        self.begins.push((self.unknowns.len(), self.matrices.len()));
        self.unknowns.extend(unknowns);
        self.matrices.extend(matrix);
        self.at.push(at);
    }

    /// How many.
    pub fn len(&self) -> usize {
        self.begins.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.begins.is_empty()
    }

    fn unknowns(&self, e: usize) -> &[usize] {
        let to = self.begins.get(e + 1).map_or(self.unknowns.len(), |b| b.0);
        &self.unknowns[self.begins[e].0..to]
    }

    fn matrix(&self, e: usize) -> &[f64] {
        let to = self.begins.get(e + 1).map_or(self.matrices.len(), |b| b.1);
        &self.matrices[self.begins[e].1..to]
    }
}

/// Pieces with no more elements are not halved.
const LEAF: usize = 48;

/// A piece once eliminated: rows are its own unknowns and those that wait.
struct Front {
    own: usize,
    rows: Vec<usize>,
    /// Columns of the factor, each as long as `rows`.
    factor: Vec<f64>,
}

/// What a piece leaves for the next: unknowns that wait and the lower half of their matrix, column by column.
struct Left {
    rows: Vec<usize>,
    matrix: Vec<f64>,
}

struct Fronts<'e> {
    elements: &'e Elements,
    /// By unknown: the piece in which it is eliminated.
    home: Vec<usize>,
    /// By unknown: its place in the front being assembled.
    place: Vec<usize>,
    done: Vec<Front>,
    /// Room for the front at hand.
    room: Vec<f64>,
}

/// Solves for `right`; none where the matrix is not positive: a part that nothing holds.
pub fn solve(elements: &Elements, mut right: Vec<f64>) -> Option<Vec<f64>> {
    if elements.is_empty() {
        return right.is_empty().then_some(right);
    }
    let n = right.len();
    let mut order: Vec<usize> = (0..elements.len()).collect();
    let mut fronts = Fronts {
        elements,
        home: vec![0; n],
        place: vec![usize::MAX; n],
        done: Vec::new(),
        room: Vec::new(),
    };
    fronts.settle(&mut order, 1);
    if fronts.home.contains(&0) {
        return None;
    }
    let left = fronts.eliminate(&order, 1)?;
    debug_assert!(left.rows.is_empty(), "nothing waits at the root");
    for front in &fronts.done {
        front.forward(&mut right);
    }
    for front in fronts.done.iter().rev() {
        front.backward(&mut right);
    }
    right.iter().all(|x| x.is_finite()).then_some(right)
}

/// The smallest piece that holds both; a piece's halves are 2p and 2p + 1.
fn common(mut a: usize, mut b: usize) -> usize {
    while a != b {
        if a > b {
            a >>= 1;
        } else {
            b >>= 1;
        }
    }
    a
}

impl Fronts<'_> {
    /// Halves the elements in `order` and finds where each unknown is eliminated.
    fn settle(&mut self, order: &mut [usize], piece: usize) {
        if order.len() <= LEAF {
            for &e in order.iter() {
                for &u in self.elements.unknowns(e) {
                    let home = &mut self.home[u];
                    *home = if *home == 0 { piece } else { common(*home, piece) };
                }
            }
            return;
        }
        let axis = self.longer_axis(order);
        let middle = order.len() / 2;
        let elements = self.elements;
        order.select_nth_unstable_by(middle, |a, b| {
            elements.at[*a][axis].total_cmp(&elements.at[*b][axis]).then(a.cmp(b))
        });
        let (near, far) = order.split_at_mut(middle);
        self.settle(near, 2 * piece);
        self.settle(far, 2 * piece + 1);
    }

    fn longer_axis(&self, order: &[usize]) -> usize {
        let spread = |axis: usize| {
            let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
            for &e in order {
                let x = self.elements.at[e][axis];
                (low, high) = (low.min(x), high.max(x));
            }
            high - low
        };
        usize::from(spread(0) < spread(1))
    }

    /// Eliminates a piece and gives what it leaves.
    fn eliminate(&mut self, order: &[usize], piece: usize) -> Option<Left> {
        let halves = if order.len() <= LEAF {
            None
        } else {
            let middle = order.len() / 2;
            let near = self.eliminate(&order[..middle], 2 * piece)?;
            let far = self.eliminate(&order[middle..], 2 * piece + 1)?;
            Some([near, far])
        };
        let (rows, own) = self.rows(order, piece, halves.as_ref());
        for (k, u) in rows.iter().enumerate() {
            self.place[*u] = k;
        }
        let size = rows.len();
        let mut matrix = std::mem::take(&mut self.room);
        if matrix.len() < size * size {
            matrix.resize(size * size, 0.0);
        }
        let front = &mut matrix[..size * size];
        for column in 0..size {
            front[column * size + column..(column + 1) * size].fill(0.0);
        }
        match &halves {
            None => {
                for &e in order {
                    self.add_element(e, front, size);
                }
            }
            Some(halves) => {
                for half in halves {
                    self.add_left(half, front, size);
                }
            }
        }
        if !factor(front, size, own) {
            return None;
        }
        let waiting = size - own;
        let mut left = Vec::with_capacity(waiting * (waiting + 1) / 2);
        for column in own..size {
            left.extend_from_slice(&front[column * size + column..(column + 1) * size]);
        }
        let left = Left { rows: rows[own..].to_vec(), matrix: left };
        self.done.push(Front { own, rows, factor: front[..own * size].to_vec() });
        self.room = matrix;
        Some(left)
    }

    /// The unknowns of a piece, its own first, and how many those are.
    fn rows(
        &mut self,
        order: &[usize],
        piece: usize,
        halves: Option<&[Left; 2]>,
    ) -> (Vec<usize>, usize) {
        let (mut own, mut waiting) = (Vec::new(), Vec::new());
        let mut meet = |u: usize, place: &mut Vec<usize>, home: &[usize]| {
            // A mark that no place in a front reaches.
            if place[u] != usize::MAX - 1 {
                place[u] = usize::MAX - 1;
                if home[u] == piece { own.push(u) } else { waiting.push(u) }
            }
        };
        match halves {
            None => {
                for &e in order {
                    for &u in self.elements.unknowns(e) {
                        meet(u, &mut self.place, &self.home);
                    }
                }
            }
            Some(halves) => {
                for u in halves.iter().flat_map(|half| &half.rows) {
                    meet(*u, &mut self.place, &self.home);
                }
            }
        }
        let count = own.len();
        own.extend(waiting);
        (own, count)
    }

    fn add_element(&self, e: usize, matrix: &mut [f64], size: usize) {
        let (unknowns, own) = (self.elements.unknowns(e), self.elements.matrix(e));
        let n = unknowns.len();
        for (i, u) in unknowns.iter().enumerate() {
            for (j, v) in unknowns.iter().enumerate() {
                let (row, column) = (self.place[*u], self.place[*v]);
                if column <= row {
                    matrix[column * size + row] += own[i * n + j];
                }
            }
        }
    }

    fn add_left(&self, left: &Left, matrix: &mut [f64], size: usize) {
        let places: Vec<usize> = left.rows.iter().map(|u| self.place[*u]).collect();
        let mut from = 0;
        for (j, to) in places.iter().enumerate() {
            for at in &places[j..] {
                let (column, row) = if at < to { (at, to) } else { (to, at) };
                matrix[column * size + row] += left.matrix[from];
                from += 1;
            }
        }
    }
}

/// Eliminates the first `own` columns of a symmetric matrix held by its lower columns.
fn factor(matrix: &mut [f64], size: usize, own: usize) -> bool {
    let mut from = 0;
    while from < own {
        let to = (from + PANEL).min(own);
        for k in from..to {
            let (before, rest) = matrix.split_at_mut(k * size);
            let column = &mut rest[k..size];
            for p in from..k {
                let l = &before[p * size + k..(p + 1) * size];
                let factor = l[0];
                for (x, y) in column.iter_mut().zip(l) {
                    *x -= factor * y;
                }
            }
            // Rounding alone may leave a little of a part that nothing holds.
            if !(column[0] > 0.0) {
                return false;
            }
            let inverse = 1.0 / column[0].sqrt();
            for x in column {
                *x *= inverse;
            }
        }
        let (done, rest) = matrix.split_at_mut(to * size);
        let panel = &done[from * size..];
        update(panel, rest, size, to, to - from);
        from = to;
    }
    true
}

/// Columns eliminated before the rest hears of it.
const PANEL: usize = 8;

/// Takes the eliminated columns of a panel off all that follow.
fn update(panel: &[f64], rest: &mut [f64], size: usize, first: usize, width: usize) {
    for j in first..size {
        let column = &mut rest[(j - first) * size + j..(j - first + 1) * size];
        let n = column.len();
        let part = |p: usize| &panel[p * size + j..][..n];
        if width == PANEL {
            let [a, b, c, d] = [part(0), part(1), part(2), part(3)];
            let [e, f, g, h] = [part(4), part(5), part(6), part(7)];
            let w = [a[0], b[0], c[0], d[0], e[0], f[0], g[0], h[0]];
            for i in 0..n {
                let near = w[0] * a[i] + w[1] * b[i] + w[2] * c[i] + w[3] * d[i];
                let far = w[4] * e[i] + w[5] * f[i] + w[6] * g[i] + w[7] * h[i];
                column[i] -= near + far;
            }
            continue;
        }
        let fours = width / 4 * 4;
        for p in (0..fours).step_by(4) {
            let [a, b, c, d] = [part(p), part(p + 1), part(p + 2), part(p + 3)];
            let w = [a[0], b[0], c[0], d[0]];
            for i in 0..n {
                column[i] -= w[0] * a[i] + w[1] * b[i] + w[2] * c[i] + w[3] * d[i];
            }
        }
        for p in fours..width {
            let l = part(p);
            let factor = l[0];
            for (x, y) in column.iter_mut().zip(l) {
                *x -= factor * y;
            }
        }
    }
}

impl Front {
    fn forward(&self, right: &mut [f64]) {
        let size = self.rows.len();
        for k in 0..self.own {
            let column = &self.factor[k * size..(k + 1) * size];
            let x = right[self.rows[k]] / column[k];
            right[self.rows[k]] = x;
            for (l, row) in column[k + 1..].iter().zip(&self.rows[k + 1..]) {
                right[*row] -= l * x;
            }
        }
    }

    fn backward(&self, right: &mut [f64]) {
        let size = self.rows.len();
        for k in (0..self.own).rev() {
            let column = &self.factor[k * size..(k + 1) * size];
            let mut x = right[self.rows[k]];
            for (l, row) in column[k + 1..].iter().zip(&self.rows[k + 1..]) {
                x -= l * right[*row];
            }
            right[self.rows[k]] = x / column[k];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A chain of springs, held at one end.
    fn chain(count: usize, hold: f64) -> Elements {
        let mut all = Elements::default();
        for k in 1..count {
            all.push(&[k - 1, k], &[1.0, -1.0, -1.0, 1.0], [k as f64, 0.0]);
        }
        all.push(&[0], &[hold], [0.0, 0.0]);
        all
    }

    #[test]
    fn a_chain_stretches_evenly() {
        for count in [1, 2, 30, 700] {
            let mut right = vec![0.0; count];
            right[count - 1] = 1.0;
            let x = solve(&chain(count, 1.0), right).unwrap();
            for (k, x) in x.iter().enumerate() {
                assert!((x - (k + 1) as f64).abs() < 1e-8 * (k + 1) as f64, "{count} {k} {x}");
            }
        }
    }

    #[test]
    fn what_nothing_holds_is_not_solved() {
        assert!(solve(&chain(50, 0.0), vec![1.0; 50]).is_none());
        assert!(solve(&chain(5, 1.0), vec![1.0; 6]).is_none(), "an unknown without an element");
    }
}
