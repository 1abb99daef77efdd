//! Currents in the screens of single-core cables, and what they lose.
//!
//! Both ends bonded: every screen is a loop through all others,
//!     0 = R_j I_j + j w sum_k M_jk (I_k + C_k),  M_jk = -(mu0/2pi) ln s_jk,  M_jj = -(mu0/2pi) ln r_j
//! with C_k the current of the conductor within; for a trefoil (or a pair) this is
//!     lambda1' = (Rs/R) X^2 / (Rs^2 + X^2),  X = 2 w 1e-7 ln(2 s/d)
//! One end bonded: no current circulates; eddy currents by
//!     lambda1'' = (Rs/R) g l0,  m = w 1e-7 / Rs,  l0 = 3 m^2/(1+m^2) (d/2s)^2  (three in trefoil; two: see below)
//!
//! Range    Thin screens, axes further apart than the diameter. l0 of IEC without its corrections D1, D2 and gs
//!          (thick or closely wound sheaths): m up to 0.1 the correction is below a few per cent.
//! Source   Maxwell's equations for the loops; IEC 60287-1-1, 2.3.1, 2.3.2 and 2.3.6 (memory). For trefoil the
//!          loops give the standard's formula to the last bit (tested).
//! Caveat   Bonded ends are taken without resistance; a gland that bonds badly carries less.

use crate::complex::Complex;

/// One screen and the current of the conductor in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screened {
    /// Axis.
    pub x_mm: f64,
    /// Axis.
    pub y_mm: f64,
    /// Mean diameter of the screen.
    pub diameter_mm: f64,
    /// Resistance of the screen, as warm as it is.
    pub resistance_ohm_per_m: f64,
    /// Current of the conductor.
    pub current_a: Complex,
}

/// Currents in screens bonded at both ends to one another and to nothing else.
///
/// They return through each other only, so their sum is zero; a voltage drop common to all makes it so.
pub fn circulating_a(screens: &[Screened], frequency_hz: f64) -> Vec<Complex> {
    let n = screens.len();
    if n < 2 || frequency_hz == 0.0 {
        return vec![Complex::ZERO; n];
    }
    // The last unknown is the common drop, the last row the sum.
    let size = n + 1;
    let mut rows = vec![Complex::ZERO; size * size];
    let mut right = vec![Complex::ZERO; size];
    let w = 2.0 * std::f64::consts::PI * frequency_hz;
    for (j, to) in screens.iter().enumerate() {
        for (k, from) in screens.iter().enumerate() {
            let apart_mm = if j == k {
                to.diameter_mm / 2.0
            } else {
                Complex::new(to.x_mm - from.x_mm, to.y_mm - from.y_mm).magnitude()
            };
            let reactance = Complex::new(0.0, -w * 2e-7 * libm::log(apart_mm * 1e-3));
            rows[j * size + k] = reactance;
            right[j] = right[j] - reactance * from.current_a;
        }
        rows[j * size + j] = rows[j * size + j] + Complex::new(to.resistance_ohm_per_m, 0.0);
        rows[j * size + n] = Complex::ONE;
        rows[n * size + j] = Complex::ONE;
    }
    let mut solved = eliminate(rows, right);
    solved.truncate(n);
    solved
}

/// Gauss's elimination, largest pivot first.
fn eliminate(mut rows: Vec<Complex>, mut right: Vec<Complex>) -> Vec<Complex> {
    let n = right.len();
    for k in 0..n {
        let mut best = k;
        for i in k + 1..n {
            if rows[best * n + k].magnitude_squared() < rows[i * n + k].magnitude_squared() {
                best = i;
            }
        }
        for c in 0..n {
            rows.swap(k * n + c, best * n + c);
        }
        right.swap(k, best);
        for i in k + 1..n {
            let factor = rows[i * n + k] / rows[k * n + k];
            for c in k..n {
                rows[i * n + c] = rows[i * n + c] - factor * rows[k * n + c];
            }
            right[i] = right[i] - factor * right[k];
        }
    }
    for k in (0..n).rev() {
        for c in k + 1..n {
            right[k] = right[k] - rows[k * n + c] * right[c];
        }
        right[k] = right[k] / rows[k * n + k];
    }
    right
}

/// lambda1' of three in trefoil or of a pair: screen's circulating loss over the conductor's.
pub fn circulating_ratio(
    screen_ohm_per_m: f64,
    conductor_ohm_per_m: f64,
    spacing_mm: f64,
    diameter_mm: f64,
    frequency_hz: f64,
) -> f64 {
    assert!(0.0 < diameter_mm && diameter_mm < 2.0 * spacing_mm);
    // X = 2 w 1e-7 ln(2 s/d)
    let x =
        4e-7 * std::f64::consts::PI * frequency_hz * libm::log(2.0 * spacing_mm / diameter_mm);
    // lambda1' = (Rs/R) X^2 / (Rs^2 + X^2)
    screen_ohm_per_m / conductor_ohm_per_m * x * x
        / (screen_ohm_per_m * screen_ohm_per_m + x * x)
}

/// Eddy loss of a screen bonded at one end over I^2 Rs, cables touching or apart; the middle one of three in a
/// row has twice that of a trefoil's.
pub fn eddy_share(
    cables: usize,
    screen_ohm_per_m: f64,
    spacing_mm: f64,
    diameter_mm: f64,
    frequency_hz: f64,
) -> f64 {
    if cables < 2 {
        return 0.0;
    }
    // m = w 1e-7 / Rs
    let m = 2e-7 * std::f64::consts::PI * frequency_hz / screen_ohm_per_m;
    let near = diameter_mm / (2.0 * spacing_mm);
    // A pair's field at the neighbour is that of one current, a trefoil's of two at 120 degrees (factor 3).
    let factor = if cables == 2 { 2.0 } else { 3.0 };
    factor * m * m / (1.0 + m * m) * near * near
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::laws::proximity::usual_currents;

    fn set(points: &[(f64, f64)]) -> Vec<Screened> {
        usual_currents(&vec![100.0; points.len()])
            .into_iter()
            .zip(points)
            .map(|(current_a, (x_mm, y_mm))| Screened {
                x_mm: *x_mm,
                y_mm: *y_mm,
                diameter_mm: 15.0,
                resistance_ohm_per_m: 2e-3,
                current_a,
            })
            .collect()
    }

    #[test]
    fn val_loops_of_a_trefoil_and_of_a_pair_are_the_standards() {
        // IEC 60287-1-1, 2.3.1 (memory).
        let height = 20.0 * 0.75f64.sqrt();
        for points in
            [vec![(0.0, 0.0), (20.0, 0.0), (10.0, height)], vec![(0.0, 0.0), (20.0, 0.0)]]
        {
            for hz in [50.0, 1000.0] {
                let ratio = circulating_ratio(2e-3, 2e-3, 20.0, 15.0, hz);
                for current in circulating_a(&set(&points), hz) {
                    let ours = current.magnitude_squared() / 1e4;
                    assert!((ours / ratio - 1.0).abs() < 1e-12, "{ours} {ratio}");
                }
            }
        }
    }

    #[test]
    fn val_loops_of_a_flat_three_are_the_standards() {
        // IEC 60287-1-1, 2.3.3 (memory): P = X + a, Q = X - a/3, a = 2 w 1e-7 ln 2; the middle one has
        // Q^2/(Rs^2 + Q^2), the mean of the outer two (Rs^2 (P^2 + 3 Q^2) + 4 P^2 Q^2) / (4 (..)(..)).
        let (hz, rs) = (800.0, 2e-3);
        let got = circulating_a(&set(&[(0.0, 0.0), (20.0, 0.0), (40.0, 0.0)]), hz);
        let w = 2e-7 * 2.0 * std::f64::consts::PI * hz;
        let x = w * libm::log(40.0 / 15.0);
        let a = w * libm::log(2.0);
        let (p, q) = (x + a, x - a / 3.0);
        let middle = q * q / (rs * rs + q * q);
        assert!((got[1].magnitude_squared() / 1e4 / middle - 1.0).abs() < 1e-12);
        let outer = (got[0].magnitude_squared() + got[2].magnitude_squared()) / 2e4;
        let both = 0.25 * q * q / (rs * rs + q * q) + 0.75 * p * p / (rs * rs + p * p);
        assert!((outer / both - 1.0).abs() < 1e-12, "{outer} {both}");
    }

    #[test]
    fn eddies_are_the_induced_loss_of_a_thin_tube() {
        // A thin tube across a uniform field H = I/(2 pi s): loss = mu0^2 w^2 pi r^3 t / rho H^2 at low
        // frequency, with Rs = rho/(2 pi r t). For a pair that is I^2 Rs 2 m^2 (d/2s)^2.
        let (rs, s, d, hz) = (2e-3, 40.0, 15.0, 50.0);
        let w = 2.0 * std::f64::consts::PI * hz;
        let h = 1.0 / (2.0 * std::f64::consts::PI * s * 1e-3);
        let mu0_w = 4e-7 * std::f64::consts::PI * w;
        let r = d * 0.5e-3;
        let t_over_rho = 1.0 / (rs * 2.0 * std::f64::consts::PI * r);
        // Current sheet j = w mu0 H r cos(theta) t/rho (rms, twice the half): P = pi r (mu0 w H r)^2 t/rho
        let tube = std::f64::consts::PI * r * (mu0_w * h * r) * (mu0_w * h * r) * t_over_rho;
        let ours = rs * eddy_share(2, rs, s, d, hz);
        assert!((ours / tube - 1.0).abs() < 1e-3, "{ours} {tube}");
    }
}
