//! Symmetric linear equations whose coefficients lie near the diagonal.
//!
//! A = L D Lᵀ, row by row, each row kept from its first coefficient to the diagonal (the "skyline"). Unknowns
//! are first put in the order of Cuthill and McKee, reversed: neighbours of neighbours, starting at the rim.
//!
//! Range   Positive definite; some ten thousand unknowns. The work grows with unknowns × (width of the band)².
//! Source  Cuthill and McKee 1969; Jennings 1966 (memory).
//! Caveat  A general sparse solver was weighed and left out: plates have a few thousand unknowns in a narrow
//!         band, and libraries that choose their instructions by processor give other last bits on another one.

/// A symmetric matrix in skyline form, being summed up.
#[derive(Clone, Debug)]
pub struct Skyline {
    /// First column of each row.
    first: Vec<usize>,
    /// Where each row starts in `values`; one more than rows.
    start: Vec<usize>,
    values: Vec<f64>,
}

/// A pivot below this share of its diagonal coefficient means the equations do not hold the unknown.
const LOOSE: f64 = 1e-12;

impl Skyline {
    /// Zeros, with the first column that each row will use.
    pub fn new(first: Vec<usize>) -> Skyline {
        let mut start = vec![0];
        for (row, column) in first.iter().enumerate() {
            assert!(*column <= row);
            start.push(start[row] + row - column + 1);
        }
        let values = vec![0.0; start[first.len()]];
        Skyline { first, start, values }
    }

    /// Adds to a coefficient; only those on or left of the diagonal are kept.
    pub fn add(&mut self, row: usize, column: usize, value: f64) {
        if column <= row {
            assert!(column >= self.first[row], "row {row} starts at {}", self.first[row]);
            self.values[self.start[row] + column - self.first[row]] += value;
        }
    }

    /// Solves for a right-hand side; none where the equations do not hold every unknown.
    pub fn solve(mut self, mut right: Vec<f64>) -> Option<Vec<f64>> {
        let n = self.first.len();
        assert_eq!(right.len(), n);
        let mut pivots = vec![0.0; n];
        for i in 0..n {
            let (first, start) = (self.first[i], self.start[i]);
            let (above, rest) = self.values.split_at_mut(start);
            let row = &mut rest[..=i - first];
            // u_ij = a_ij − Σ u_ik l_jk, kept undivided until the row is whole.
            for j in first..i {
                let other = &above[self.start[j]..self.start[j + 1]];
                let from = first.max(self.first[j]);
                let mine = &row[from - first..j - first];
                let sum = product(mine, &other[from - self.first[j]..j - self.first[j]]);
                row[j - first] -= sum;
            }
            let diagonal = row[i - first];
            let mut pivot = diagonal;
            for (j, value) in row[..i - first].iter_mut().enumerate() {
                let undivided = *value;
                *value = undivided / pivots[first + j];
                pivot -= undivided * *value;
            }
            if !(pivot > LOOSE * diagonal.abs()) {
                return None;
            }
            pivots[i] = pivot;
            right[i] -= product(&row[..i - first], &right[first..i]);
        }
        for i in (0..n).rev() {
            // y / D is taken as the row is met; what it knows is then taken off the rows above.
            right[i] /= pivots[i];
            let row = &self.values[self.start[i]..self.start[i + 1]];
            let known = right[i];
            for (j, l) in row[..i - self.first[i]].iter().enumerate() {
                right[self.first[i] + j] -= l * known * pivots[self.first[i] + j];
            }
        }
        Some(right)
    }
}

/// Σ a b in four sums side by side, which a processor does at once; the order is fixed.
fn product(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (a4, b4) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = a4.remainder().iter().zip(b4.remainder()).map(|(x, y)| x * y).sum();
    for (x, y) in a4.zip(b4) {
        for lane in 0..4 {
            sums[lane] += x[lane] * y[lane];
        }
    }
    (sums[0] + sums[2]) + (sums[1] + sums[3]) + rest
}

/// An order that keeps neighbours near each other: the place of each node. `pairs` are neighbours, either way.
pub fn order(nodes: usize, pairs: &[(usize, usize)]) -> Vec<usize> {
    let mut near: Vec<Vec<usize>> = vec![Vec::new(); nodes];
    for (a, b) in pairs {
        near[*a].push(*b);
        near[*b].push(*a);
    }
    for list in &mut near {
        list.sort_unstable();
        list.dedup();
    }
    let mut found: Vec<usize> = Vec::with_capacity(nodes);
    let mut seen = vec![false; nodes];
    for start in 0..nodes {
        if seen[start] {
            continue;
        }
        // The far end of the far end is near enough to the rim.
        let once = *walk(start, &near, &mut seen.clone()).last().expect("it holds its start");
        let twice = *walk(once, &near, &mut seen.clone()).last().expect("it holds its start");
        found.extend(walk(twice, &near, &mut seen));
    }
    let mut place = vec![0; nodes];
    for (i, node) in found.iter().rev().enumerate() {
        place[*node] = i;
    }
    place
}

/// Nodes in the order they are met from `start`, of equals those with fewest neighbours first.
fn walk(start: usize, near: &[Vec<usize>], seen: &mut [bool]) -> Vec<usize> {
    let mut met = vec![start];
    seen[start] = true;
    let mut next = 0;
    while next < met.len() {
        let mut fresh: Vec<usize> =
            near[met[next]].iter().copied().filter(|n| !seen[*n]).collect();
        fresh.sort_by_key(|n| near[*n].len());
        for node in fresh {
            seen[node] = true;
            met.push(node);
        }
        next += 1;
    }
    met
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn three_springs_in_a_row() {
        // Springs of 1, 2 and 4 N/mm from a wall, 8 N at the end: 8, 8 + 4, 8 + 4 + 2 mm.
        let mut k = Skyline::new(vec![0, 0, 1]);
        for (row, column, value) in
            [(0, 0, 3.0), (1, 0, -2.0), (1, 1, 6.0), (2, 1, -4.0), (2, 2, 4.0), (0, 1, -2.0)]
        {
            k.add(row, column, value);
        }
        let x = k.clone().solve(vec![0.0, 0.0, 8.0]).unwrap();
        for (ours, by_hand) in x.iter().zip([8.0, 12.0, 14.0]) {
            assert!((ours - by_hand).abs() < 1e-12, "{x:?}");
        }
        // Nothing holds the far end of a chain without a wall.
        k.add(0, 0, -1.0);
        assert_eq!(k.solve(vec![0.0, 0.0, 8.0]), None);
    }

    #[test]
    fn a_grid_keeps_a_narrow_band() {
        // A grid of 30 by 6: the band is little wider than its short side, whatever the first order was.
        let id = |x: usize, y: usize| (x * 77 + y * 31) % 180;
        let mut pairs = Vec::new();
        for x in 0..30 {
            for y in 0..6 {
                if x + 1 < 30 {
                    pairs.push((id(x, y), id(x + 1, y)));
                }
                if y + 1 < 6 {
                    pairs.push((id(x, y), id(x, y + 1)));
                }
            }
        }
        let place = order(180, &pairs);
        let width = pairs.iter().map(|(a, b)| place[*a].abs_diff(place[*b])).max().unwrap();
        assert!(width <= 12, "{width}");
        let mut sorted = place;
        sorted.sort_unstable();
        assert!(sorted.iter().enumerate().all(|(i, p)| i == *p));
    }

    proptest! {
        /// What was solved, put back, gives the right-hand side.
        #[test]
        fn prop_the_answer_fits(
            values in prop::collection::vec(-1.0f64..1.0, 120), right in prop::collection::vec(-5.0f64..5.0, 20),
        ) {
            let n = 20;
            let first: Vec<usize> = (0..n).map(|i| usize::saturating_sub(i, 1 + (i * 7) % 5)).collect();
            let mut k = Skyline::new(first.clone());
            let mut full = vec![0.0; n * n];
            let mut next = values.iter().cycle();
            for i in 0..n {
                for j in first[i]..=i {
                    let v = if i == j { 12.0 } else { *next.next().unwrap() };
                    k.add(i, j, v);
                    full[i * n + j] = v;
                    full[j * n + i] = v;
                }
            }
            let x = k.solve(right.clone()).unwrap();
            for i in 0..n {
                let back: f64 = (0..n).map(|j| full[i * n + j] * x[j]).sum();
                prop_assert!((back - right[i]).abs() < 1e-9);
            }
        }
    }
}
