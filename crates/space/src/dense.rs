//! Small dense symmetric matrices: what least squares needs, and no more.
//!
//! Row-major, whole (not packed). Sizes are a few hundred at most, so plain cubic loops serve; the order
//! of all sums is fixed, so that the same input gives the same bits everywhere.

/// A square symmetric matrix.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Symmetric {
    /// Rows and columns.
    pub(crate) size: usize,
    cells: Vec<f64>,
}

impl Symmetric {
    /// All zeros.
    pub(crate) fn zero(size: usize) -> Symmetric {
        Symmetric { size, cells: vec![0.0; size * size] }
    }

    /// One cell.
    pub(crate) fn at(&self, row: usize, column: usize) -> f64 {
        self.cells[row * self.size + column]
    }

    /// Adds to one cell; the caller keeps the matrix symmetric.
    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        self.cells[row * self.size + column] += value;
    }

    /// Adds `weight` times the outer product of a sparse row with itself.
    pub(crate) fn add_outer(&mut self, row: &[(usize, f64)], weight: f64) {
        for &(i, a) in row {
            for &(j, b) in row {
                self.add(i, j, weight * a * b);
            }
        }
    }

    /// Multiplies every cell.
    pub(crate) fn scale(&mut self, by: f64) {
        self.cells.iter_mut().for_each(|cell| *cell *= by);
    }

    /// The quadratic form of a sparse row.
    pub(crate) fn form(&self, row: &[(usize, f64)]) -> f64 {
        let each = |&(i, a): &(usize, f64)| -> f64 {
            row.iter().map(|&(j, b)| a * b * self.at(i, j)).sum()
        };
        row.iter().map(each).sum()
    }

    /// Solves for one right-hand side by Cholesky; none if the matrix is not positive definite.
    pub(crate) fn solve(&self, right: &[f64]) -> Option<Vec<f64>> {
        let n = self.size;
        let mut low = vec![0.0; n * n];
        for i in 0..n {
            for j in 0..=i {
                let dot: f64 = (0..j).map(|k| low[i * n + k] * low[j * n + k]).sum();
                let rest = self.at(i, j) - dot;
                if i != j {
                    low[i * n + j] = rest / low[j * n + j];
                } else if rest > 0.0 && rest.is_finite() {
                    low[i * n + i] = rest.sqrt();
                } else {
                    return None;
                }
            }
        }
        let mut x = right.to_vec();
        for i in 0..n {
            let dot: f64 = (0..i).map(|k| low[i * n + k] * x[k]).sum();
            x[i] = (x[i] - dot) / low[i * n + i];
        }
        for i in (0..n).rev() {
            let dot: f64 = (i + 1..n).map(|k| low[k * n + i] * x[k]).sum();
            x[i] = (x[i] - dot) / low[i * n + i];
        }
        Some(x)
    }

    /// Eigenvalues in rising order, each with its unit vector, by cyclic Jacobi rotations.
    pub(crate) fn eigen(&self) -> Vec<(f64, Vec<f64>)> {
        let n = self.size;
        let mut a = self.clone();
        let mut v = Symmetric::zero(n);
        for i in 0..n {
            v.add(i, i, 1.0);
        }
        let whole: f64 = self.cells.iter().map(|c| c * c).sum();
        // Convergence is quadratic; more than a dozen sweeps are never needed.
        for _ in 0..40 {
            let off: f64 = (0..n)
                .flat_map(|i| (0..i).map(move |j| (i, j)))
                .map(|(i, j)| a.at(i, j) * a.at(i, j))
                .sum();
            if !(off > 1e-30 * whole) {
                break;
            }
            for p in 0..n {
                for q in p + 1..n {
                    rotate(&mut a, &mut v, p, q);
                }
            }
        }
        let mut all: Vec<(f64, Vec<f64>)> =
            (0..n).map(|k| (a.at(k, k), (0..n).map(|i| v.at(i, k)).collect())).collect();
        all.sort_by(|x, y| x.0.total_cmp(&y.0));
        all
    }
}

/// One rotation in the plane of p and q that makes their cell zero.
fn rotate(a: &mut Symmetric, v: &mut Symmetric, p: usize, q: usize) {
    let n = a.size;
    let apq = a.at(p, q);
    if apq == 0.0 {
        return;
    }
    let theta = (a.at(q, q) - a.at(p, p)) / (2.0 * apq);
    let t = theta.signum() / (theta.abs() + (theta * theta + 1.0).sqrt());
    let t = if theta == 0.0 { 1.0 } else { t };
    let c = 1.0 / (t * t + 1.0).sqrt();
    let s = t * c;
    for k in 0..n {
        let (akp, akq) = (a.cells[k * n + p], a.cells[k * n + q]);
        a.cells[k * n + p] = c * akp - s * akq;
        a.cells[k * n + q] = s * akp + c * akq;
        let (vkp, vkq) = (v.cells[k * n + p], v.cells[k * n + q]);
        v.cells[k * n + p] = c * vkp - s * vkq;
        v.cells[k * n + q] = s * vkp + c * vkq;
    }
    for k in 0..n {
        let (apk, aqk) = (a.cells[p * n + k], a.cells[q * n + k]);
        a.cells[p * n + k] = c * apk - s * aqk;
        a.cells[q * n + k] = s * apk + c * aqk;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(rows: &[&[f64]]) -> Symmetric {
        let mut m = Symmetric::zero(rows.len());
        for (i, row) in rows.iter().enumerate() {
            for (j, cell) in row.iter().enumerate() {
                m.add(i, j, *cell);
            }
        }
        m
    }

    #[test]
    fn a_system_is_solved_and_a_singular_one_refused() {
        let x = of(&[&[4.0, 2.0], &[2.0, 3.0]]).solve(&[8.0, 7.0]).expect("definite");
        assert!((x[0] - 1.25).abs() < 1e-14 && (x[1] - 1.5).abs() < 1e-14, "{x:?}");
        assert_eq!(of(&[&[1.0, 1.0], &[1.0, 1.0]]).solve(&[1.0, 1.0]), None);
    }

    /// Eigenvalues of the chain 2, -1 are 2 - 2 cos(k pi / (n + 1)).
    #[test]
    fn eigenvalues_of_a_chain() {
        let n = 7;
        let mut m = Symmetric::zero(n);
        for i in 0..n {
            m.add(i, i, 2.0);
            if i + 1 < n {
                m.add(i, i + 1, -1.0);
                m.add(i + 1, i, -1.0);
            }
        }
        for (k, (value, vector)) in m.eigen().iter().enumerate() {
            let angle = (k + 1) as f64 * std::f64::consts::PI / (n + 1) as f64;
            assert!((value - (2.0 - 2.0 * libm::cos(angle))).abs() < 1e-13);
            for i in 0..n {
                let image: f64 = (0..n).map(|j| m.at(i, j) * vector[j]).sum();
                assert!((image - value * vector[i]).abs() < 1e-13);
            }
        }
    }
}
