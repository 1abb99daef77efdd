//! The percentile of chi-square that good surveys stay below.

use super::CONFIDENCE;

/// The value chi-square stays below in [`CONFIDENCE`] of good surveys.
pub(super) fn chi_square_limit(freedom: usize) -> f64 {
    let half = freedom as f64 / 2.0;
    let (mut low, mut high) = (0.0, 10.0 * freedom as f64 + 50.0);
    for _ in 0..100 {
        let middle = (low + high) / 2.0;
        if gamma_share(half, middle / 2.0) < CONFIDENCE {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

/// The lower incomplete gamma function as a share of the whole, by its series.
fn gamma_share(a: f64, x: f64) -> f64 {
    if !(x > 0.0) {
        return 0.0;
    }
    let mut term = 1.0 / a;
    let mut sum = term;
    let mut n = a;
    for _ in 0..10_000 {
        n += 1.0;
        term *= x / n;
        sum += term;
        if term < 1e-16 * sum {
            break;
        }
    }
    sum * libm::exp(a * libm::log(x) - x - libm::lgamma(a))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Percentiles of chi-square at 0.999 as printed in every table (textbook; memory).
    #[test]
    fn percentiles_of_chi_square() {
        for (freedom, printed) in
            [(1, 10.828), (2, 13.816), (5, 20.515), (10, 29.588), (30, 59.703)]
        {
            let ours = chi_square_limit(freedom);
            assert!((ours - printed).abs() < 6e-4, "{freedom}: {ours}");
        }
    }
}
