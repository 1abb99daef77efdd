//! Skin and proximity effect in any set of parallel round conductors, exact.
//!
//! Outside the conductors the vector potential of conductor i is a logarithm and multipoles,
//!     A = -(mu0 I/2pi) ln r + sum_m b_m r^-|m| e^(i m theta),
//! and the field of all others is a power series about its axis, sum_m a_m r^|m| e^(i m theta). Inside, each
//! harmonic is a Bessel function, and continuity at the surface gives
//!     b_m a^-m = -(I_(m+1)/I_(m-1)) a_m a^m,   z = x sqrt j.
//! The multipoles are shifted from axis to axis by the binomial theorem and found by iteration. The loss is
//! the conductor's own, with skin effect, and the inward Poynting flux of every harmonic,
//!     P = |I|^2 R' Re[z I0/2I1] + (2 w/mu0) pi sum_m 4 m^2 |a_m a^m|^2 (-Im[I_m / (z I_(m-1))]).
//!
//! Range    Conductors that do not overlap. Equal or unequal, any phasor currents.
//! Source   Maxwell's equations; the pair and trefoil were checked by finite elements (scikit-fem) within
//!          0.04 %, where the mesh is the less exact of the two.
//! Caveat   Return currents elsewhere, screens and steel nearby are not in it.

use crate::complex::Complex;
use crate::laws::skin;

/// One round conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wire {
    /// Axis, any origin.
    pub x_mm: f64,
    /// Axis, any origin.
    pub y_mm: f64,
    /// Diameter over the metal.
    pub diameter_mm: f64,
    /// Direct-current resistance at the working temperature.
    pub resistance_ohm_per_m: f64,
    /// Current as a phasor, rms.
    pub current_a: Complex,
}

/// Loss of each conductor in W/m at a frequency.
pub fn loss_w_per_m(wires: &[Wire], frequency_hz: f64) -> Vec<f64> {
    assert!(wires.iter().all(|w| 0.0 < w.diameter_mm && 0.0 < w.resistance_ohm_per_m));
    let field = Field::solve(wires, frequency_hz);
    wires.iter().enumerate().map(|(i, wire)| field.loss(i, wire, frequency_hz)).collect()
}

/// R/R' of each conductor: its loss over that of direct current of the same rms value.
///
/// Every current must differ from zero.
pub fn ratios(wires: &[Wire], frequency_hz: f64) -> Vec<f64> {
    loss_w_per_m(wires, frequency_hz)
        .iter()
        .zip(wires)
        .map(|(loss, w)| loss / (w.resistance_ohm_per_m * w.current_a.magnitude_squared()))
        .collect()
}

/// The series about every axis.
struct Field {
    orders: usize,
    /// Per wire: I_m/I_(m-1) for m = 1 .. orders + 1.
    bessel: Vec<Vec<Complex>>,
    /// Per wire, harmonics 1 .. orders, scaled by radius^m: e^(+i m theta) and e^(-i m theta).
    plus: Vec<Vec<Complex>>,
    minus: Vec<Vec<Complex>>,
}

/// Harmonics until the loss of the next one is below 1e-9 of the first, at most this many.
const ORDERS_MAX: usize = 40;

impl Field {
    fn solve(wires: &[Wire], frequency_hz: f64) -> Field {
        let orders = orders(wires);
        let bessel: Vec<Vec<Complex>> = wires
            .iter()
            .map(|w| {
                // Beyond x = 150 the ratios are those of a perfect conductor to a per cent of a per cent.
                let x = skin::argument(frequency_hz, w.resistance_ohm_per_m).clamp(1e-3, 150.0);
                skin::bessel_ratios(skin::sqrt_j(x), orders + 1)
            })
            .collect();
        let mut field = Field {
            orders,
            bessel,
            plus: vec![vec![Complex::ZERO; orders]; wires.len()],
            minus: vec![vec![Complex::ZERO; orders]; wires.len()],
        };
        if frequency_hz == 0.0 || wires.len() < 2 {
            return field;
        }
        let shifts = Shifts::between(wires, orders);
        for _ in 0..400 {
            if field.sweep(wires, &shifts) < 1e-9 {
                break;
            }
        }
        field
    }

    /// Recomputes the field about every axis from the multipoles of the others; the largest relative change.
    fn sweep(&mut self, wires: &[Wire], shifts: &Shifts) -> f64 {
        let (mut change, mut size) = (0.0f64, 1e-300f64);
        for i in 0..wires.len() {
            let mut plus = vec![Complex::ZERO; self.orders];
            let mut minus = vec![Complex::ZERO; self.orders];
            for j in (0..wires.len()).filter(|j| *j != i) {
                let shift = &shifts.of[i * wires.len() + j];
                self.gather(j, wires[j].current_a, shift, &mut plus, &mut minus);
            }
            for p in 0..self.orders {
                change = change
                    .max((plus[p] - self.plus[i][p]).magnitude())
                    .max((minus[p] - self.minus[i][p]).magnitude());
                size = size.max(plus[p].magnitude()).max(minus[p].magnitude());
            }
            self.plus[i] = plus;
            self.minus[i] = minus;
        }
        change / size
    }

    /// Adds what wire j does about the axis of wire i, potentials in units of mu0/2pi.
    fn gather(
        &self,
        j: usize,
        current: Complex,
        shift: &Shift,
        plus: &mut [Complex],
        minus: &mut [Complex],
    ) {
        let reflected = |harmonics: &[Complex], m: usize| {
            // b_m = -(I_(m+1)/I_(m-1)) a_m = -r_m r_(m+1) a_m
            -(self.bessel[j][m - 1] * self.bessel[j][m] * harmonics[m - 1])
        };
        let out_plus: Vec<Complex> = (1..=self.orders)
            .map(|m| reflected(&self.plus[j], m) * shift.source[m - 1].conjugate())
            .collect();
        let out_minus: Vec<Complex> = (1..=self.orders)
            .map(|m| reflected(&self.minus[j], m) * shift.source[m - 1])
            .collect();
        for p in 1..=self.orders {
            let row = &shift.binomials[(p - 1) * self.orders..p * self.orders];
            let (mut to_plus, mut to_minus) = (Complex::ZERO, Complex::ZERO);
            for m in 0..self.orders {
                to_plus = to_plus + out_minus[m].scale(row[m]);
                to_minus = to_minus + out_plus[m].scale(row[m]);
            }
            // -ln r_j gives (1/2m) (w/D)^m and its conjugate.
            let line = current.scale(0.5 / p as f64);
            plus[p - 1] = plus[p - 1] + (to_plus + line) * shift.target[p - 1];
            minus[p - 1] = minus[p - 1] + (to_minus + line) * shift.target[p - 1].conjugate();
        }
    }

    /// Loss of wire i: its own skin effect and the inward Poynting flux of every harmonic.
    fn loss(&self, i: usize, wire: &Wire, frequency_hz: f64) -> f64 {
        let x = skin::argument(frequency_hz, wire.resistance_ohm_per_m);
        let own =
            wire.resistance_ohm_per_m * wire.current_a.magnitude_squared() * skin::ratio(x);
        let x = x.clamp(1e-3, 150.0);
        let z = skin::sqrt_j(x);
        let mut induced = 0.0;
        for m in 1..=self.orders {
            // rho_m = I_m / (z I_(m-1)); P_m = (2 w/mu0) pi 4 m^2 |a_m|^2 (-Im rho_m)
            let rho = self.bessel[i][m - 1] / z;
            let square = self.plus[i][m - 1].magnitude_squared()
                + self.minus[i][m - 1].magnitude_squared();
            induced += (4 * m * m) as f64 * square * -rho.im;
        }
        // a_m is in mu0/2pi, so P = 2 pi w/mu0 (mu0/2pi)^2 S = w mu0/(2 pi) S = 4 pi f 1e-7 S
        own + 4e-7 * std::f64::consts::PI * frequency_hz * induced
    }
}

/// How many harmonics the closest two conductors need.
fn orders(wires: &[Wire]) -> usize {
    let mut closest = 0.0f64;
    for (i, a) in wires.iter().enumerate() {
        for b in &wires[..i] {
            let distance = Complex::new(a.x_mm - b.x_mm, a.y_mm - b.y_mm).magnitude();
            let radii = (a.diameter_mm + b.diameter_mm) / 2.0;
            assert!(radii <= distance * (1.0 + 1e-9), "conductors overlap");
            closest = closest.max(a.diameter_mm.max(b.diameter_mm) / 2.0 / distance);
        }
    }
    if closest <= 0.0 {
        return 1;
    }
    // The m-th harmonic of a neighbour's field falls as closest^m, its loss as closest^2m.
    ((-9.0 / libm::log10(closest.min(0.7))) as usize / 2 + 2).min(ORDERS_MAX)
}

/// What is needed to express wire j's multipoles about the axis of wire i.
struct Shift {
    /// (-radius_j/D)^m
    source: Vec<Complex>,
    /// (radius_i/D)^p
    target: Vec<Complex>,
    /// C(m+p-1, p), row p.
    binomials: Vec<f64>,
}

struct Shifts {
    of: Vec<Shift>,
}

impl Shifts {
    fn between(wires: &[Wire], orders: usize) -> Shifts {
        let mut of = Vec::new();
        let binomials = binomials(orders);
        for (i, to) in wires.iter().enumerate() {
            for (j, from) in wires.iter().enumerate() {
                let d = Complex::new(from.x_mm - to.x_mm, from.y_mm - to.y_mm);
                let power = |radius: f64| {
                    if i == j {
                        return Vec::new();
                    }
                    let step = Complex::new(radius, 0.0) / d;
                    let mut at = Complex::ONE;
                    (0..orders)
                        .map(|_| {
                            at = at * step;
                            at
                        })
                        .collect()
                };
                of.push(Shift {
                    source: power(-from.diameter_mm / 2.0),
                    target: power(to.diameter_mm / 2.0),
                    binomials: if i == j { Vec::new() } else { binomials.clone() },
                });
            }
        }
        Shifts { of }
    }
}

/// C(m+p-1, p) for p, m = 1 .. orders, row by row.
fn binomials(orders: usize) -> Vec<f64> {
    let mut table = vec![0.0; orders * orders];
    for m in 1..=orders {
        let mut c = 1.0;
        for p in 1..=orders {
            // C(m+p-1, p) = C(m+p-2, p-1) (m+p-1)/p
            c *= (m + p - 1) as f64 / p as f64;
            table[(p - 1) * orders + m - 1] = c;
        }
    }
    table
}

/// Currents of a set that works together: one alone, a go and return pair, or phases 120 degrees apart in
/// order; four and more repeat the three phases.
pub fn usual_currents(magnitudes_a: &[f64]) -> Vec<Complex> {
    let angles: &[f64] = match magnitudes_a.len() {
        1 => &[0.0],
        2 => &[0.0, 180.0],
        _ => &[0.0, -120.0, 120.0],
    };
    magnitudes_a
        .iter()
        .enumerate()
        .map(|(i, a)| Complex::polar(*a, angles[i % angles.len()]))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Solid copper of 70 mm2 at 20 degC.
    fn set(points: &[(f64, f64)]) -> Vec<Wire> {
        let currents = usual_currents(&vec![1.0; points.len()]);
        points
            .iter()
            .zip(currents)
            .map(|(&(x_mm, y_mm), current_a)| Wire {
                x_mm,
                y_mm,
                diameter_mm: (70.0 / std::f64::consts::FRAC_PI_4).sqrt(),
                resistance_ohm_per_m: 1.0 / 58.0e6 / 70e-6,
                current_a,
            })
            .collect()
    }

    fn trefoil(s: f64) -> Vec<Wire> {
        set(&[(0.0, 0.0), (s, 0.0), (s / 2.0, s * 3f64.sqrt() / 2.0)])
    }

    fn near(got: &[f64], expected: &[f64], tolerance: f64) {
        for (g, e) in got.iter().zip(expected) {
            assert!((g / e - 1.0).abs() < tolerance, "{got:?} {expected:?}");
        }
    }

    #[test]
    fn val_trefoil_pair_and_flat() {
        // Computed with an independent solver; finite elements: trefoil 1.48048, pair 1.42018.
        near(&ratios(&trefoil(16.0), 800.0), &[1.481037; 3], 2e-6);
        near(&ratios(&trefoil(18.0), 800.0), &[1.435307; 3], 2e-6);
        near(&ratios(&trefoil(20.0), 1200.0), &[1.66673; 3], 1e-5);
        near(&ratios(&set(&[(0.0, 0.0), (16.0, 0.0)]), 800.0), &[1.420594; 2], 2e-6);
        let flat = ratios(&set(&[(0.0, 0.0), (16.0, 0.0), (32.0, 0.0)]), 800.0);
        near(&flat, &[1.397476, 1.688714, 1.370022], 2e-6);
    }

    #[test]
    fn turning_the_set_changes_nothing() {
        let flat = ratios(&set(&[(0.0, 0.0), (16.0, 0.0), (32.0, 0.0)]), 800.0);
        let tilted = ratios(
            &set(&[(0.0, 0.0), (16.0 * 0.6, 16.0 * 0.8), (32.0 * 0.6, 32.0 * 0.8)]),
            800.0,
        );
        near(&flat, &tilted, 1e-10);
    }

    #[test]
    fn direct_current_has_no_effect() {
        near(&ratios(&trefoil(16.0), 0.0), &[1.0; 3], 1e-12);
    }

    #[test]
    fn touching_conductors_converge() {
        let d = (70.0 / std::f64::consts::FRAC_PI_4).sqrt();
        let touching = ratios(&trefoil(d), 800.0);
        near(&touching[1..], &[touching[0]; 2], 1e-6);
        assert!(1.7 < touching[0] && touching[0] < 3.0, "{touching:?}");
    }

    #[test]
    fn an_idle_conductor_between_two_still_loses() {
        let mut wires = set(&[(0.0, 0.0), (16.0, 0.0), (32.0, 0.0)]);
        wires[1].current_a = Complex::ZERO;
        wires[2].current_a = Complex::new(-1.0, 0.0);
        assert!(0.0 < loss_w_per_m(&wires, 800.0)[1]);
    }
}
