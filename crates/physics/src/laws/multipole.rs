//! Round cores in a round jacket filled with one material: exact, by multipoles.
//!
//! T = Re{ sum_j [ -P_j ln(z - z_j) + sum_m c_jm (r_j/(z - z_j))^m ] + sum_m d_m (z/R)^m } + T_0,
//! P_j = q_j / (2 pi k)
//!
//! About every core and about the jacket the field is a series in the angle, and each term must meet the film
//! there: with b = 2 pi k R_film at a core and b = k / (h R) at the jacket, a harmonic a_m that comes in sends out
//!     conj(c_m) = -(1 - m b)/(1 + m b) a_m,
//! the same for d_m with what comes from the cores. The series are shifted from axis to axis by the binomial
//! theorem and found by sweeps, as for the proximity effect.
//!
//! Range    Cores that do not overlap, inside the jacket; each with a film (its insulation) and a temperature of
//!          its own. The closer two circles come, the more terms (up to [`ORDERS_MAX`]).
//! Source   The equation of heat; the method of multipoles is that of Claesson and Hellstrom, HVAC&R Research
//!          17(6) 2011, 895-911, whose published case is among the tests.
//! Caveat   Nothing varies along the cores, and the film of a core has the same heat at every angle only in the
//!          mean: a thick insulation conducts round the core too (finite elements: half a per cent in the rise).

use crate::complex::Complex;

/// One core.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Core {
    /// Centre, from the jacket's centre.
    pub x_mm: f64,
    /// Centre, from the jacket's centre.
    pub y_mm: f64,
    /// Radius to the filler.
    pub radius_mm: f64,
    /// Thermal resistance from the core's own temperature to that radius, K m/W.
    pub film_k_m_per_w: f64,
    /// Heat it makes.
    pub loss_w_per_m: f64,
}

/// What the jacket meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rim {
    /// Held at a temperature.
    Held(f64),
    /// A coefficient, W/m2K, to air.
    Film {
        /// W/m2K
        coefficient_w_m2k: f64,
        /// Air.
        ambient_c: f64,
    },
    /// Material without end of another conductivity; temperatures count from the rim's mean.
    Ground(f64),
}

/// A jacket with its cores.
#[derive(Clone, Debug, PartialEq)]
pub struct Jacket {
    /// Radius of the filler.
    pub radius_mm: f64,
    /// Conductivity of the filler, W/mK.
    pub filler_w_mk: f64,
    /// What is outside.
    pub rim: Rim,
    /// The cores.
    pub cores: Vec<Core>,
}

/// The most terms a series has.
pub const ORDERS_MAX: usize = 60;
const SWEEPS_MAX: usize = 400;
/// Where the terms end, relative to the first.
const PRECISION: f64 = 3e-8;
/// Where the sweeps end, relative to the strengths.
const SWEPT: f64 = 1e-6;

/// Whether the circles are apart and inside the jacket; a hair of contact counts as apart.
pub fn fits(jacket: &Jacket) -> bool {
    let slack = 1e-9 * jacket.radius_mm;
    jacket.cores.iter().enumerate().all(|(i, a)| {
        let inside = Complex::new(a.x_mm, a.y_mm).magnitude() + a.radius_mm;
        inside < jacket.radius_mm - slack
            && jacket.cores[..i].iter().all(|b| {
                let apart = Complex::new(a.x_mm - b.x_mm, a.y_mm - b.y_mm).magnitude();
                a.radius_mm + b.radius_mm < apart - slack
            })
    })
}

/// Temperature of each core in degC.
///
/// # Panics
/// Where the circles overlap; ask [`fits`] first.
pub fn temperatures_c(jacket: &Jacket) -> Vec<f64> {
    assert!(fits(jacket), "cores overlap or leave the jacket");
    assert!(0.0 < jacket.filler_w_mk);
    let series = Series::new(jacket);
    let losses: Vec<f64> = jacket.cores.iter().map(|c| c.loss_w_per_m).collect();
    series.solve(jacket, &losses)
}

/// Resistances in K m/W, row by row: how much warmer core i is than the rim's surroundings (its mean, with ground
/// outside) for one watt a metre in core j.
pub fn resistances(jacket: &Jacket) -> Vec<f64> {
    assert!(fits(jacket), "cores overlap or leave the jacket");
    let n = jacket.cores.len();
    let series = Series::new(jacket);
    let base = match jacket.rim {
        Rim::Held(c) => c,
        Rim::Film { ambient_c, .. } => ambient_c,
        Rim::Ground(_) => 0.0,
    };
    let mut rows = vec![0.0; n * n];
    for j in 0..n {
        let mut unit = vec![0.0; n];
        unit[j] = 1.0;
        for (i, t) in series.solve(jacket, &unit).into_iter().enumerate() {
            rows[i * n + j] = t - base;
        }
    }
    rows
}

/// Everything about a jacket that does not depend on the heat.
struct Series {
    cores: usize,
    orders: usize,
    /// C(n+p-1, p), n by rows, from 1.
    binomials: Vec<f64>,
    /// By core: C(n, p) (z_i/R)^(n-p) (r_i/R)^p, p by rows, from 1; zero below the diagonal.
    shift: Vec<Complex>,
    /// By pair i, j: (r_j/D)^n and (-r_i/D)^p, D = z_i - z_j.
    source: Vec<Complex>,
    target: Vec<Complex>,
    /// By core: (z_i/R)^n, n from 0.
    place: Vec<Complex>,
    /// By core: -(1 - m b)/(1 + m b).
    answer: Vec<f64>,
    /// Of the rim.
    rim: Vec<f64>,
    /// 1/p.
    inverse: Vec<f64>,
}

impl Series {
    fn new(jacket: &Jacket) -> Series {
        let (n, orders) = (jacket.cores.len(), orders(jacket));
        let k = jacket.filler_w_mk;
        let mut series = Series {
            cores: n,
            orders,
            binomials: binomials(orders),
            shift: Vec::with_capacity(n * orders * orders),
            source: vec![Complex::ZERO; n * n * orders],
            target: vec![Complex::ZERO; n * n * orders],
            place: Vec::with_capacity(n * (orders + 1)),
            answer: Vec::with_capacity(n * orders),
            rim: (1..=orders).map(|p| rim_answer(jacket, p)).collect(),
            inverse: (1..=orders).map(|p| 1.0 / p as f64).collect(),
        };
        for (i, core) in jacket.cores.iter().enumerate() {
            for (j, other) in jacket.cores.iter().enumerate().take(i) {
                let d = Complex::new(core.x_mm - other.x_mm, core.y_mm - other.y_mm);
                series.pair((i, core.radius_mm), (j, other.radius_mm), d);
            }
            let z = Complex::new(core.x_mm, core.y_mm).scale(1.0 / jacket.radius_mm);
            let mut here = Complex::ONE;
            series.place.push(here);
            let b = 2.0 * std::f64::consts::PI * k * core.film_k_m_per_w;
            for m in 1..=orders {
                here = here * z;
                series.place.push(here);
                let mb = m as f64 * b;
                series.answer.push(-(1.0 - mb) / (1.0 + mb));
            }
            let place = &series.place[i * (orders + 1)..];
            let size = core.radius_mm / jacket.radius_mm;
            shift(&mut series.shift, place, size, &series.binomials);
        }
        series
    }

    /// Powers for a pair, both ways: D of the one is -D of the other.
    fn pair(&mut self, (i, radius_i): (usize, f64), (j, radius_j): (usize, f64), d: Complex) {
        let step = Complex::ONE / d;
        let there = (i * self.cores + j) * self.orders;
        let back = (j * self.cores + i) * self.orders;
        let (mut at, mut power_i, mut power_j, mut sign) = (Complex::ONE, 1.0, 1.0, 1.0);
        for n in 0..self.orders {
            at = at * step;
            power_i *= radius_i;
            power_j *= radius_j;
            sign = -sign;
            self.source[there + n] = at.scale(power_j);
            self.target[there + n] = at.scale(sign * power_i);
            self.source[back + n] = at.scale(sign * power_i);
            self.target[back + n] = at.scale(power_j);
        }
    }

    fn solve(&self, jacket: &Jacket, losses: &[f64]) -> Vec<f64> {
        let orders = self.orders;
        let per = 2.0 * std::f64::consts::PI * jacket.filler_w_mk;
        let strengths: Vec<f64> = losses.iter().map(|q| q / per).collect();
        let scale = strengths.iter().map(|p| p.abs()).sum::<f64>().max(1e-300);
        let mut out = vec![Complex::ZERO; self.cores * orders];
        let mut back = vec![Complex::ZERO; orders];
        let mut come = vec![Complex::ZERO; orders];
        let mut before = out.clone();
        let mut last = f64::INFINITY;
        for sweep in 0..SWEEPS_MAX {
            // The first sweeps find the rough shape with half the terms.
            let terms = if sweep < 3 { orders.div_ceil(2) } else { orders };
            self.reflect(terms, &strengths, &out, &mut back);
            let mut change = 0.0f64;
            for i in 0..self.cores {
                self.incoming(i, terms, &strengths, &out, &back, &mut come);
                for (m, a) in come.iter().enumerate().take(terms) {
                    let new = a.conjugate().scale(self.answer[i * orders + m]);
                    let old = &mut out[i * orders + m];
                    change = change.max((new - *old).magnitude_squared());
                    *old = new;
                }
            }
            let change = change.sqrt();
            // What remains of a sweep's change falls geometrically: the sum of the rest at once.
            let ratio = change / last;
            last = change;
            let settled = 3 <= sweep && change <= SWEPT * scale;
            if (settled || sweep % 3 == 2) && ratio < 0.8 {
                let rest = ratio / (1.0 - ratio);
                for (x, was) in out.iter_mut().zip(&before) {
                    *x = *x + (*x - *was).scale(rest);
                }
                last = f64::INFINITY;
            }
            if settled {
                break;
            }
            before.copy_from_slice(&out);
        }
        self.reflect(orders, &strengths, &out, &mut back);
        self.means(jacket, losses, &strengths, &out, &back)
    }

    /// d_p = s_p conj(E_p), E_p = sum_j [ P_j (z_j/R)^p / p + sum_m c_jm (r_j/R)^m C(p-1, m-1) (z_j/R)^(p-m) ]
    fn reflect(&self, terms: usize, strengths: &[f64], out: &[Complex], back: &mut [Complex]) {
        let orders = self.orders;
        back.fill(Complex::ZERO);
        for (j, strength) in strengths.iter().enumerate() {
            let place = &self.place[j * (orders + 1) + 1..(j + 1) * (orders + 1)];
            for (sum, z) in back[..terms].iter_mut().zip(place) {
                *sum = *sum + z.scale(*strength);
            }
            for m in 1..=terms {
                // C(p-1, m-1) = C(p, m) m / p
                let c = out[j * orders + m - 1].scale(m as f64);
                let row = self.shift_row(j, m);
                for (sum, w) in back[m - 1..terms].iter_mut().zip(&row[m - 1..]) {
                    *sum = *sum + *w * c;
                }
            }
        }
        for (p, sum) in back.iter_mut().enumerate().take(terms) {
            *sum = sum.conjugate().scale(self.rim[p] / (p + 1) as f64);
        }
    }

    fn shift_row(&self, core: usize, p: usize) -> &[Complex] {
        let at = (core * self.orders + p - 1) * self.orders;
        &self.shift[at..at + self.orders]
    }

    /// What comes in to core i, harmonic by harmonic.
    fn incoming(
        &self,
        i: usize,
        terms: usize,
        strengths: &[f64],
        out: &[Complex],
        back: &[Complex],
        come: &mut [Complex],
    ) {
        let orders = self.orders;
        for (p, sum) in come.iter_mut().enumerate().take(terms) {
            *sum = Complex::ZERO;
            let row = self.shift_row(i, p + 1);
            for (d, w) in back[p..terms].iter().zip(&row[p..]) {
                *sum = *sum + *d * *w;
            }
        }
        let (mut re, mut im) = ([0.0; ORDERS_MAX], [0.0; ORDERS_MAX]);
        for (j, strength) in strengths.iter().enumerate().filter(|(j, _)| *j != i) {
            let at = (i * self.cores + j) * orders;
            for p in 0..terms {
                // -P ln(D + zeta): P (-1)^p/p (zeta/D)^p
                (re[p], im[p]) = (strength * self.inverse[p], 0.0);
            }
            self.spread(terms, &out[j * orders..], &self.source[at..], &mut re, &mut im);
            for (p, sum) in come.iter_mut().enumerate().take(terms) {
                *sum = *sum + Complex::new(re[p], im[p]) * self.target[at + p];
            }
        }
    }

    /// Adds sum_n c_n s_n C(n+p-1, p) to every p, four n at a time.
    fn spread(
        &self,
        terms: usize,
        out: &[Complex],
        source: &[Complex],
        re: &mut [f64; ORDERS_MAX],
        im: &mut [f64; ORDERS_MAX],
    ) {
        let (re, im) = (&mut re[..terms], &mut im[..terms]);
        let row = |n: usize| &self.binomials[n * self.orders..][..terms];
        let fours = terms / 4 * 4;
        for n in (0..fours).step_by(4) {
            let [a, b, c, d] = [0, 1, 2, 3].map(|k| out[n + k] * source[n + k]);
            let (r0, r1, r2, r3) = (row(n), row(n + 1), row(n + 2), row(n + 3));
            for p in 0..terms {
                re[p] += a.re * r0[p] + b.re * r1[p] + c.re * r2[p] + d.re * r3[p];
                im[p] += a.im * r0[p] + b.im * r1[p] + c.im * r2[p] + d.im * r3[p];
            }
        }
        for n in fours..terms {
            let sent = out[n] * source[n];
            for (p, c) in row(n).iter().enumerate() {
                re[p] += sent.re * c;
                im[p] += sent.im * c;
            }
        }
    }

    /// The mean about each core, and so its temperature.
    fn means(
        &self,
        jacket: &Jacket,
        losses: &[f64],
        strengths: &[f64],
        out: &[Complex],
        back: &[Complex],
    ) -> Vec<f64> {
        let orders = self.orders;
        let whole: f64 = losses.iter().sum();
        let rim_c = match jacket.rim {
            Rim::Held(c) => c,
            Rim::Film { coefficient_w_m2k, ambient_c } => {
                let girth_m = 2.0 * std::f64::consts::PI * jacket.radius_mm * 1e-3;
                ambient_c + whole / (girth_m * coefficient_w_m2k)
            }
            Rim::Ground(_) => 0.0,
        };
        (0..self.cores)
            .map(|i| {
                let core = &jacket.cores[i];
                let mut sum = rim_c + core.film_k_m_per_w * losses[i];
                sum -= strengths[i] * libm::log(core.radius_mm / jacket.radius_mm);
                for (j, other) in jacket.cores.iter().enumerate().filter(|(j, _)| *j != i) {
                    let d = Complex::new(core.x_mm - other.x_mm, core.y_mm - other.y_mm);
                    sum -= strengths[j] * libm::log(d.magnitude() / jacket.radius_mm);
                    let at = (i * self.cores + j) * orders;
                    for n in 0..orders {
                        sum += (out[j * orders + n] * self.source[at + n]).re;
                    }
                }
                for n in 1..=orders {
                    sum += (back[n - 1] * self.place[i * (orders + 1) + n]).re;
                }
                sum
            })
            .collect()
    }
}

/// What the rim sends back of harmonic p.
fn rim_answer(jacket: &Jacket, p: usize) -> f64 {
    match jacket.rim {
        Rim::Held(_) => -1.0,
        Rim::Film { coefficient_w_m2k, .. } => {
            let pb =
                p as f64 * jacket.filler_w_mk / (coefficient_w_m2k * jacket.radius_mm * 1e-3);
            -(1.0 - pb) / (1.0 + pb)
        }
        Rim::Ground(k) => (jacket.filler_w_mk - k) / (jacket.filler_w_mk + k),
    }
}

/// C(n+p-1, p) for n by rows and p along them, both from 1.
fn binomials(orders: usize) -> Vec<f64> {
    let mut table = vec![1.0; orders * orders];
    for n in 0..orders {
        for p in 0..orders {
            // C(n+p-1, p) = C(n+p-2, p) + C(n+p-2, p-1), where C(n-1, 0) = 1 and C(p, p) = 1
            let above = if n == 0 { 0.0 } else { table[(n - 1) * orders + p] };
            let left = if p == 0 { 1.0 } else { table[n * orders + p - 1] };
            table[n * orders + p] = above + left;
        }
    }
    table
}

/// C(n, p) z^(n-p) s^p for p by rows and n along them, both from 1.
fn shift(to: &mut Vec<Complex>, place: &[Complex], size: f64, binomials: &[f64]) {
    let orders = place.len() - 1;
    let mut small = 1.0;
    for p in 1..=orders {
        small *= size;
        to.resize(to.len() + p - 1, Complex::ZERO);
        to.push(Complex::new(small, 0.0));
        for apart in 1..=orders - p {
            // C(n, p) = C(n, n-p) = C((p+1) + (n-p) - 1, n-p)
            let choose = match binomials.get(p * orders + apart - 1) {
                Some(c) if p < orders => *c,
                _ => 1.0,
            };
            to.push(place[apart].scale(choose * small));
        }
    }
}

/// How many terms the closest circles need: images of one circle in another close in geometrically.
fn orders(jacket: &Jacket) -> usize {
    let mut ratio = 0.0f64;
    for (i, a) in jacket.cores.iter().enumerate() {
        let z = Complex::new(a.x_mm, a.y_mm).magnitude();
        // The rim's image of the core's far side.
        ratio =
            ratio.max(a.radius_mm / (jacket.radius_mm * jacket.radius_mm / z.max(1e-9) - z));
        ratio = ratio.max(0.8 * z / jacket.radius_mm);
        for b in &jacket.cores[..i] {
            let apart = Complex::new(a.x_mm - b.x_mm, a.y_mm - b.y_mm).magnitude();
            ratio = ratio.max(a.radius_mm.max(b.radius_mm) / apart);
        }
    }
    let ratio = ratio.clamp(0.05, 0.75);
    ((libm::log(PRECISION) / libm::log(ratio)) as usize / 2 + 4).min(ORDERS_MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bundle3(losses: [f64; 3]) -> Jacket {
        let cores = [90.0f64, 210.0, 330.0]
            .iter()
            .zip(losses)
            .map(|(angle, loss_w_per_m)| {
                let z = Complex::polar(10.0, *angle);
                let film = 3.5 / (2.0 * std::f64::consts::PI) * libm::log(17.0 / 12.0);
                Core {
                    x_mm: z.re,
                    y_mm: z.im,
                    radius_mm: 8.5,
                    film_k_m_per_w: film,
                    loss_w_per_m,
                }
            })
            .collect();
        Jacket { radius_mm: 20.0, filler_w_mk: 0.2, rim: Rim::Held(50.0), cores }
    }

    #[test]
    fn val_three_cores_in_a_jacket() {
        // Own multipole code, pygfunction 2.3.1 and finite elements: 81.12273; 70.69366 and 55.21454.
        for t in temperatures_c(&bundle3([40.0; 3])) {
            assert!((t - 81.12273).abs() < 1e-5, "{t}");
        }
        let one = temperatures_c(&bundle3([40.0, 0.0, 0.0]));
        assert!(
            (one[0] - 70.69366).abs() < 1e-5 && (one[1] - 55.21454).abs() < 1e-5,
            "{one:?}"
        );
        assert!((one[1] - one[2]).abs() < 1e-5);
    }

    #[test]
    fn val_published_case() {
        // Claesson and Hellstrom 2011, J = 3, in cm K/W: 25.592, 1.561, 25.311; converged 25.592598, 1.560857,
        // 25.310858.
        let pipe = |x_mm: f64, y_mm: f64| Core {
            x_mm,
            y_mm,
            radius_mm: 20.0,
            film_k_m_per_w: 1.2 / (2.0 * std::f64::consts::PI * 1.5),
            loss_w_per_m: 0.0,
        };
        let rows = resistances(&Jacket {
            radius_mm: 70.0,
            filler_w_mk: 1.5,
            rim: Rim::Ground(2.5),
            cores: vec![pipe(30.0, 0.0), pipe(-30.0, 20.0)],
        });
        for (got, expected) in rows.iter().zip([25.592598, 1.560857, 1.560857, 25.310858]) {
            assert!((100.0 * got - expected).abs() < 2e-6, "{got}");
        }
    }

    #[test]
    fn val_eccentric_cylinders() {
        // S = 2 pi / acosh((D2 + d2 - 4 z2) / (2 D d)): 6.246548 (40, 12, 8 mm), 18.483976 (20, 12, 3 mm).
        for (d, z, s) in [(40.0, 8.0, 6.246548), (20.0, 3.0, 18.483976)] {
            let core = Core {
                x_mm: z,
                y_mm: 0.0,
                radius_mm: 6.0,
                film_k_m_per_w: 0.0,
                loss_w_per_m: 1.0,
            };
            let rim = Rim::Held(0.0);
            let jacket =
                Jacket { radius_mm: d / 2.0, filler_w_mk: 1.0, rim, cores: vec![core] };
            let ours = 1.0 / temperatures_c(&jacket)[0];
            assert!((ours / s - 1.0).abs() < 1e-6, "{ours} {s}");
        }
    }

    #[test]
    fn resistances_are_mutual_and_add_up() {
        let mut jacket = bundle3([40.0, 25.0, 0.0]);
        jacket.cores[1].radius_mm = 6.0;
        jacket.rim = Rim::Film { coefficient_w_m2k: 12.0, ambient_c: 30.0 };
        let rows = resistances(&jacket);
        for i in 0..3 {
            for j in 0..3 {
                assert!((rows[i * 3 + j] - rows[j * 3 + i]).abs() < 1e-7);
            }
        }
        for (i, t) in temperatures_c(&jacket).into_iter().enumerate() {
            let sum = 30.0 + 40.0 * rows[i * 3] + 25.0 * rows[i * 3 + 1];
            assert!((t - sum).abs() < 1e-6, "{t} {sum}");
        }
    }

    #[test]
    fn seven_close_cores_converge() {
        let mut cores = vec![Core {
            x_mm: 0.0,
            y_mm: 0.0,
            radius_mm: 5.0,
            film_k_m_per_w: 0.15,
            loss_w_per_m: 10.0,
        }];
        for k in 0..6 {
            let z = Complex::polar(10.3, 60.0 * f64::from(k));
            cores.push(Core { x_mm: z.re, y_mm: z.im, ..cores[0] });
        }
        let rim = Rim::Held(20.0);
        let t = temperatures_c(&Jacket { radius_mm: 16.5, filler_w_mk: 0.25, rim, cores });
        assert!(t[1..].iter().all(|x| (x - t[1]).abs() < 1e-5));
        assert!(t[1] < t[0] && t[0] < 60.0, "{t:?}");
    }
}
