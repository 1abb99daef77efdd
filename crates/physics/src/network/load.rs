//! Current over time, and what it costs in each conductor at each temperature.
//!
//! Loss over I^2 R20 is (R(T)/R20) F(x), x = sqrt(8 pi f 1e-7 / R(T)), with F from the exact law of skin and
//! proximity effect. F is sampled once for each arrangement at Chebyshev's points in x; every sample of the load
//! becomes a cubic in T through four temperatures (error below 1e-4 of the loss, tested). The cubics are
//! integrated over time once, and their first moment, so that a step of any length has its exact mean.

use super::{Bonding, Network, Run};
use crate::heat::group::{self, Place};
use crate::heat::{Arrangement, CEILING_C, Cable, Group};
use crate::laws::conductor::{Material, resistance_factor};
use crate::laws::proximity::{self, usual_currents};
use crate::laws::screen::{Screened, circulating_a, eddy_share};
use crate::laws::skin;

/// A stretch of constant current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// How long.
    pub seconds: f64,
    /// Current, rms.
    pub current_a: f64,
    /// Electrical frequency; zero for direct current.
    pub frequency_hz: f64,
}

/// Current over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// Piece by piece.
    pub pieces: Vec<Piece>,
}

impl Load {
    /// The same for ever.
    pub fn constant(current_a: f64, frequency_hz: f64) -> Load {
        Load { pieces: vec![Piece { seconds: 1.0, current_a, frequency_hz }] }
    }

    /// How long it is.
    pub fn seconds(&self) -> f64 {
        self.pieces.iter().map(|p| p.seconds).sum()
    }

    /// The same with every current times a factor.
    pub fn scaled(&self, factor: f64) -> Load {
        let pieces = self
            .pieces
            .iter()
            .map(|p| Piece { current_a: p.current_a * factor, ..*p })
            .collect();
        Load { pieces }
    }

    /// Greatest frequency.
    pub fn frequency_hz_max(&self) -> f64 {
        self.pieces.iter().map(|p| p.frequency_hz).fold(0.0, f64::max)
    }
}

/// Temperatures through which the cubics go.
const SAMPLES_C: [f64; 4] = [10.0, 70.0, 130.0, 190.0];

/// Sampling points of F.
const POINTS: usize = 12;

/// A function on a range by Chebyshev's polynomials.
#[derive(Clone, Debug)]
pub(crate) struct Chebyshev {
    range: (f64, f64),
    factors: [f64; POINTS],
}

impl Chebyshev {
    fn place(k: usize, range: (f64, f64)) -> f64 {
        let angle = std::f64::consts::PI * (k as f64 + 0.5) / POINTS as f64;
        range.0 + 0.5 * (range.1 - range.0) * (1.0 + libm::cos(angle))
    }

    fn of(range: (f64, f64), samples: &[f64; POINTS]) -> Chebyshev {
        let mut factors = [0.0; POINTS];
        for (j, factor) in factors.iter_mut().enumerate() {
            for (k, sample) in samples.iter().enumerate() {
                let angle = std::f64::consts::PI * j as f64 * (k as f64 + 0.5) / POINTS as f64;
                *factor += 2.0 / POINTS as f64 * sample * libm::cos(angle);
            }
        }
        factors[0] *= 0.5;
        Chebyshev { range, factors }
    }

    fn at(&self, x: f64) -> f64 {
        let (from, to) = self.range;
        if to <= from {
            return self.factors[0];
        }
        let t = 2.0 * (x.clamp(from, to) - from) / (to - from) - 1.0;
        let (mut b1, mut b2) = (0.0, 0.0);
        for factor in self.factors[1..].iter().rev() {
            (b1, b2) = (factor + 2.0 * t * b1 - b2, b1);
        }
        self.factors[0] + t * b1 - b2
    }
}

/// Loss of the cables in one arrangement.
#[derive(Clone, Debug)]
pub(crate) struct LossLaw {
    arrangement: Arrangement,
    /// By cable: F over x.
    conductor: Vec<Chebyshev>,
    /// By cable: |I_screen / I|^2 over f/R_screen.
    screen: Vec<Chebyshev>,
    /// By cable: what the harmonics add, as samples at the four temperatures.
    harmonics: Vec<[f64; 4]>,
}

/// Whether the losses of two runs follow the same laws, wherever they lie.
fn alike(a: &Run, b: &Run) -> bool {
    let wires = |run: &Run| -> Vec<[f64; 5]> {
        let of = |c: &Cable| {
            [
                c.current_a_rms,
                c.resistance_20_ohm_per_m,
                c.conductor_area_mm2_effective,
                c.conductor_diameter_mm,
                c.outer_diameter_mm,
            ]
        };
        run.cables.iter().map(of).collect()
    };
    let metals = |run: &Run| run.cables.iter().map(|c| c.material).collect::<Vec<_>>();
    wires(a) == wires(b)
        && metals(a) == metals(b)
        && (a.screen, a.lay, a.frequency_hz) == (b.screen, b.lay, b.frequency_hz)
        && a.harmonics == b.harmonics
}

/// The laws of all arrangements in a run, and which section has which. Those of a network whose cables are the
/// same are taken over.
pub(crate) fn laws(run: &Run, near: Option<&Network>) -> (Vec<LossLaw>, Vec<usize>) {
    let known = near.filter(|near| alike(run, &near.run)).map_or(&[][..], |near| &near.losses);
    let mut laws: Vec<LossLaw> = Vec::new();
    let mut of = Vec::new();
    for section in &run.sections {
        let found = laws.iter().position(|l| l.arrangement == section.arrangement);
        of.push(found.unwrap_or_else(|| {
            let known = known.iter().find(|l| l.arrangement == section.arrangement);
            laws.push(known.cloned().unwrap_or_else(|| law(run, section.arrangement)));
            laws.len() - 1
        }));
    }
    (laws, of)
}

fn group_of(run: &Run, arrangement: Arrangement) -> Group {
    Group {
        cables: run.cables.clone(),
        arrangement,
        frequency_hz: 0.0,
        harmonics: Vec::new(),
        surroundings: run.sections[0].surroundings,
    }
}

/// The coldest and the hottest conductor for which losses are tabulated.
const TABLED_C: (f64, f64) = (-60.0, CEILING_C);

fn law(run: &Run, arrangement: Arrangement) -> LossLaw {
    let group = group_of(run, arrangement);
    let places = group::places(&group);
    let first = &run.cables[0];
    let at = |t: f64| first.resistance_20_ohm_per_m * resistance_factor(t, first.material);
    let (least_hz, most_hz) = run.frequency_hz;
    let range =
        (skin::argument(least_hz, at(TABLED_C.1)), skin::argument(most_hz, at(TABLED_C.0)));
    let n = run.cables.len();
    let mut samples = vec![[1.0; POINTS]; n];
    if 0.0 < most_hz {
        for k in 0..POINTS {
            let x = Chebyshev::place(k, range);
            let hz = x * x * first.resistance_20_ohm_per_m / (8e-7 * std::f64::consts::PI);
            for (i, ratio) in ratios(run, &group, &places, hz, 20.0).into_iter().enumerate() {
                samples[i][k] = ratio;
            }
        }
    }
    let conductor = samples.iter().map(|s| Chebyshev::of(range, s)).collect();
    let mut harmonics = vec![[0.0; 4]; n];
    for h in &run.harmonics {
        for (s, t) in SAMPLES_C.iter().enumerate() {
            for (i, ratio) in
                ratios(run, &group, &places, h.frequency_hz, *t).into_iter().enumerate()
            {
                harmonics[i][s] += h.share * h.share * ratio;
            }
        }
    }
    let screen = screens(run, &group, &places);
    LossLaw { arrangement, conductor, screen, harmonics }
}

/// Loss of every conductor over that of direct current, with the lay's share of what is added.
fn ratios(run: &Run, group: &Group, places: &[Place], hz: f64, t: f64) -> Vec<f64> {
    let mut ratios = vec![1.0; run.cables.len()];
    // Each as if it carried its share of one ampere; an idle cable has no ratio and counts as one.
    let magnitudes: Vec<f64> = run.cables.iter().map(|c| c.current_a_rms).collect();
    let all = group::wires(group, places, &usual_currents(&magnitudes), t);
    for bunch in 0..run.cables.len() {
        let members: Vec<usize> =
            (0..places.len()).filter(|i| places[*i].bunch == bunch).collect();
        let some: Vec<proximity::Wire> = members.iter().map(|i| all[*i]).collect();
        if some.is_empty() {
            continue;
        }
        for ((i, wire), loss) in
            members.iter().zip(&some).zip(proximity::loss_w_per_m(&some, hz))
        {
            let direct = wire.resistance_ohm_per_m * wire.current_a.magnitude_squared();
            if 0.0 < direct {
                ratios[*i] = 1.0 + run.lay * (loss / direct - 1.0);
            }
        }
    }
    ratios
}

fn screens(run: &Run, group: &Group, places: &[Place]) -> Vec<Chebyshev> {
    let Some(screen) = run.screen else { return Vec::new() };
    let n = run.cables.len();
    let at = |t: f64| screen.resistance_20_ohm_per_m * resistance_factor(t, Material::Copper);
    let (least_hz, most_hz) = run.frequency_hz;
    let range = (least_hz / at(TABLED_C.1), most_hz / at(TABLED_C.0));
    let magnitudes: Vec<f64> = run.cables.iter().map(|c| c.current_a_rms).collect();
    let currents = usual_currents(&magnitudes);
    let spacing_mm = match group.arrangement {
        Arrangement::Single => f64::INFINITY,
        Arrangement::FlatSpaced | Arrangement::VerticalSpaced => {
            2.0 * group.cables[0].outer_diameter_mm
        }
        Arrangement::PairTouching | Arrangement::FlatTouching | Arrangement::Trefoil => {
            group.cables[0].outer_diameter_mm
        }
    };
    let mut samples = vec![[0.0; POINTS]; n];
    for k in 0..POINTS {
        let hz = Chebyshev::place(k, range) * screen.resistance_20_ohm_per_m;
        let set: Vec<Screened> = places
            .iter()
            .zip(&currents)
            .map(|(p, current_a)| Screened {
                // Bunches are far apart.
                x_mm: p.x_mm + 1e4 * p.bunch as f64,
                y_mm: p.y_mm,
                diameter_mm: screen.diameter_mm,
                resistance_ohm_per_m: screen.resistance_20_ohm_per_m,
                current_a: *current_a,
            })
            .collect();
        let round = circulating_a(&set, hz);
        for i in 0..n {
            let square = currents[i].magnitude_squared();
            let eddy = eddy_share(
                n,
                screen.resistance_20_ohm_per_m,
                spacing_mm,
                screen.diameter_mm,
                hz,
            );
            samples[i][k] = match screen.bonding {
                Bonding::BothEnds if 0.0 < square => {
                    round[i].magnitude_squared() / square + eddy
                }
                _ => eddy,
            };
        }
    }
    samples.iter().map(|s| Chebyshev::of(range, s)).collect()
}

impl LossLaw {
    /// Ratio of AC to DC resistance of a conductor.
    pub(crate) fn ac_ratio(&self, run: &Run, cable: usize, hz: f64, conductor_c: f64) -> f64 {
        let first = &run.cables[0];
        let r = first.resistance_20_ohm_per_m * resistance_factor(conductor_c, first.material);
        self.conductor[cable].at(skin::argument(hz, r))
    }

    /// W/m in conductor and screen for one ampere of load, as cubics in T / 100 degC.
    fn cubics(&self, run: &Run, cable: usize, hz: f64) -> [[f64; 4]; 2] {
        let c = &run.cables[cable];
        let share = c.current_a_rms * c.current_a_rms;
        let (mut inner, mut outer) = ([0.0; 4], [0.0; 4]);
        for (s, t) in SAMPLES_C.iter().enumerate() {
            let ratio = self.ac_ratio(run, cable, hz, *t) + self.harmonics[cable][s];
            inner[s] =
                share * c.resistance_20_ohm_per_m * resistance_factor(*t, c.material) * ratio;
            if let Some(screen) = run.screen {
                let r =
                    screen.resistance_20_ohm_per_m * resistance_factor(*t, Material::Copper);
                outer[s] = share * r * self.screen[cable].at(hz / r);
            }
        }
        [cubic(inner), cubic(outer)]
    }
}

/// The cubic in T / 100 degC through the samples.
fn cubic(samples: [f64; 4]) -> [f64; 4] {
    // Newton's divided differences at evenly spaced places, then powers.
    let x: [f64; 4] = SAMPLES_C.map(|t| t / 100.0);
    let h = x[1] - x[0];
    let d1 = (samples[1] - samples[0]) / h;
    let d2 = (samples[2] - 2.0 * samples[1] + samples[0]) / (2.0 * h * h);
    let d3 =
        (samples[3] - 3.0 * samples[2] + 3.0 * samples[1] - samples[0]) / (6.0 * h * h * h);
    // p = s0 + (t-x0) (d1 + (t-x1) (d2 + (t-x2) d3))
    let mut p = [d3, 0.0, 0.0, 0.0];
    for (place, lower) in [(x[2], d2), (x[1], d1), (x[0], samples[0])] {
        for k in (1..4).rev() {
            p[k] = p[k - 1] - place * p[k];
        }
        p[0] = lower - place * p[0];
    }
    p
}

/// The cubic in T / 100 degC whose powers a slice begins with.
fn cubic_at(powers: &[f64], conductor_c: f64) -> f64 {
    let x = 0.01 * conductor_c;
    let [a, b, c, d] = *powers.first_chunk().expect("four powers a channel");
    a + x * (b + x * (c + x * d))
}

/// A load worked out for a network: its loss as cubics, integrated.
#[derive(Clone, Debug)]
pub(crate) struct Drive {
    /// Borders of the pieces.
    times: Vec<f64>,
    /// By piece, all channels.
    rows: Vec<f64>,
    /// By border: integral from the start, and of t times it.
    sums: Vec<f64>,
    moments: Vec<f64>,
    /// Channels: by loss law, cable, line and power of T; and I^2 last.
    pub(crate) channels: usize,
}

impl Drive {
    pub(crate) fn new(network: &Network, load: &Load) -> Drive {
        assert!(load.pieces.iter().all(|p| 0.0 < p.seconds && 0.0 <= p.current_a));
        let (least_hz, most_hz) = network.run.frequency_hz;
        let tabled = least_hz * (1.0 - 1e-12)..=most_hz * (1.0 + 1e-12);
        assert!(load.pieces.iter().all(|p| tabled.contains(&p.frequency_hz)));
        let lines = if network.run.screen.is_some() { 2 } else { 1 };
        let channels = network.losses.len() * network.count() * lines * 4 + 1;
        let mut drive = Drive {
            times: vec![0.0],
            rows: Vec::new(),
            sums: vec![0.0; channels],
            moments: vec![0.0; channels],
            channels,
        };
        let rows = UnitRows::new(network, load, lines);
        let mut unit = vec![0.0; channels];
        for piece in &load.pieces {
            rows.fill(piece.frequency_hz, &mut unit);
            drive.push(piece, &unit);
        }
        drive
    }

    fn push(&mut self, piece: &Piece, unit: &[f64]) {
        let from = *self.times.last().expect("the start is there");
        let to = from + piece.seconds;
        let square = piece.current_a * piece.current_a;
        let at = self.sums.len() - self.channels;
        for (k, one) in unit.iter().enumerate() {
            let value = square * one;
            self.rows.push(value);
            self.sums.push(self.sums[at + k] + value * (to - from));
            self.moments.push(self.moments[at + k] + value * 0.5 * (to * to - from * from));
        }
        self.times.push(to);
    }

    pub(crate) fn seconds(&self) -> f64 {
        *self.times.last().expect("the start is there")
    }

    /// End of the piece in which a time lies.
    pub(crate) fn border_after(&self, t: f64) -> f64 {
        let k = self.times.partition_point(|border| *border <= t);
        self.times.get(k).copied().unwrap_or(f64::INFINITY)
    }

    /// The borders of pieces between two times, both left out.
    pub(crate) fn borders_within(&self, from: f64, to: f64) -> std::ops::Range<usize> {
        let first = self.times.partition_point(|border| *border <= from);
        let count = self.times[first..].iter().take_while(|border| **border < to).count();
        first..first + count
    }

    /// When a border is, and until then: heat made in a conductor that keeps its temperature, J/m, and the
    /// integral of the current squared, A2s.
    pub(crate) fn heat_at_border(
        &self,
        border: usize,
        channel: usize,
        conductor_c: f64,
    ) -> (f64, [f64; 2]) {
        let sums = &self.sums[border * self.channels..(border + 1) * self.channels];
        let heat = cubic_at(&sums[channel..], conductor_c);
        (self.times[border], [heat, sums[self.channels - 1]])
    }

    /// The same until any time.
    pub(crate) fn heat_until(&self, t: f64, channel: usize, conductor_c: f64) -> [f64; 2] {
        let (k, within) = self.place(t);
        let (_, [heat, square]) = self.heat_at_border(k, channel, conductor_c);
        let row = &self.rows[k * self.channels..(k + 1) * self.channels];
        let more = cubic_at(&row[channel..], conductor_c);
        [heat + within * more, square + within * row[self.channels - 1]]
    }

    /// The piece in which a time lies, and how far in it is.
    fn place(&self, t: f64) -> (usize, f64) {
        let pieces = self.times.len() - 1;
        let k = self.times.partition_point(|border| *border <= t).clamp(1, pieces) - 1;
        (k, t - self.times[k])
    }

    /// The integrals from the start to `t`.
    fn integrals(&self, t: f64, sums: &mut [f64], moments: &mut [f64]) {
        let (k, first) = self.place(t);
        let from = self.times[k];
        let second = 0.5 * (t * t - from * from);
        let at = k * self.channels;
        for c in 0..self.channels {
            let value = self.rows[at + c];
            sums[c] = self.sums[at + c] + value * first;
            moments[c] = self.moments[at + c] + value * second;
        }
    }

    /// The same loss in every conductor whatever its temperature, for tests.
    #[cfg(test)]
    pub(crate) fn set_constant_loss(&mut self, loss_w_per_m: f64) {
        let mut row = vec![0.0; self.channels];
        for cubic in row[..self.channels - 1].chunks_mut(4) {
            cubic[0] = loss_w_per_m;
        }
        let seconds = self.seconds();
        (self.times, self.rows) = (vec![0.0], Vec::new());
        (self.sums, self.moments) = (vec![0.0; self.channels], vec![0.0; self.channels]);
        self.push(&Piece { seconds, current_a: 1.0, frequency_hz: 0.0 }, &row);
    }

    /// Mean over everything.
    pub(crate) fn mean(&self) -> Vec<f64> {
        let at = self.sums.len() - self.channels;
        self.sums[at..].iter().map(|s| s / self.seconds()).collect()
    }
}

/// Loss of every conductor in the first section for one ampere, for tests.
#[cfg(test)]
pub(crate) fn loss_w_per_m(network: &Network, hz: f64, t: f64) -> Vec<f64> {
    let x = t / 100.0;
    (0..network.count())
        .map(|cable| {
            let [[a, b, c, d], _] = network.losses[0].cubics(&network.run, cable, hz);
            a + x * (b + x * (c + x * d))
        })
        .collect()
}

/// The channels for one ampere: by frequency where there are few, else sampled and joined by parabolas (error
/// below 1e-5 of the loss, tested).
struct UnitRows {
    /// Between samples; zero where `rows` belong to `few`.
    step_hz: f64,
    few: Vec<f64>,
    rows: Vec<Vec<f64>>,
}

/// Samples of the frequency.
const FREQUENCIES: usize = 64;

impl UnitRows {
    fn new(network: &Network, load: &Load, lines: usize) -> UnitRows {
        let mut few: Vec<f64> = Vec::new();
        for piece in &load.pieces {
            if few.len() <= FREQUENCIES && !few.contains(&piece.frequency_hz) {
                few.push(piece.frequency_hz);
            }
        }
        let step_hz = if few.len() <= FREQUENCIES {
            0.0
        } else {
            few = (0..=FREQUENCIES).map(|k| k as f64).collect();
            let step_hz = load.frequency_hz_max() / FREQUENCIES as f64;
            few.iter_mut().for_each(|k| *k *= step_hz);
            step_hz
        };
        let rows = few.iter().map(|hz| unit_row(network, *hz, lines)).collect();
        UnitRows { step_hz, few, rows }
    }

    fn fill(&self, hz: f64, unit: &mut [f64]) {
        if self.step_hz == 0.0 {
            let at =
                self.few.iter().position(|f| *f == hz).expect("every frequency was listed");
            unit.copy_from_slice(&self.rows[at]);
            return;
        }
        let place = hz / self.step_hz;
        let middle = (place + 0.5) as usize;
        let middle = middle.clamp(1, FREQUENCIES - 1);
        let t = place - middle as f64;
        let (before, at, after) =
            (&self.rows[middle - 1], &self.rows[middle], &self.rows[middle + 1]);
        for (k, x) in unit.iter_mut().enumerate() {
            let bend = 0.5 * (after[k] + before[k]) - at[k];
            *x = at[k] + t * (0.5 * (after[k] - before[k]) + t * bend);
        }
    }
}

fn unit_row(network: &Network, hz: f64, lines: usize) -> Vec<f64> {
    let mut row = Vec::new();
    for law in &network.losses {
        for cable in 0..network.count() {
            let cubics = law.cubics(&network.run, cable, hz);
            for cubic in &cubics[..lines] {
                row.extend(cubic);
            }
        }
    }
    row.push(1.0);
    row
}

/// The three levels of a step of TR-BDF2 whose weighted sum is the load's exact integral, and its first
/// moment, over the step.
pub(crate) struct Levels {
    /// At the start, after gamma, at the end.
    pub(crate) at: [Vec<f64>; 3],
    scratch: [Vec<f64>; 6],
}

impl Levels {
    pub(crate) fn new(channels: usize) -> Levels {
        let row = || vec![0.0; channels];
        Levels {
            at: [row(), row(), row()],
            scratch: [row(), row(), row(), row(), row(), row()],
        }
    }

    /// With u over s from 0 to 1 within the step:
    /// (gamma/2)(q0 + q1) = int_0^gamma u, w (q0 + q1) + d q2 = int_0^1 u, w gamma q1 + d q2 = int_0^1 u s
    pub(crate) fn fill(&mut self, drive: &Drive, from: f64, dt: f64, gamma: f64) {
        let [a0, a1, b0, b1, c0, c1] = &mut self.scratch;
        drive.integrals(from, a0, a1);
        drive.integrals(from + gamma * dt, b0, b1);
        drive.integrals(from + dt, c0, c1);
        let (w, d) = (2f64.sqrt() / 4.0, gamma / 2.0);
        for k in 0..drive.channels {
            let first = (b0[k] - a0[k]) / dt;
            let whole = (c0[k] - a0[k]) / dt;
            let moment = ((c1[k] - a1[k]) / dt - from * whole) / dt;
            let both = 2.0 * first / gamma;
            let q2 = (whole - w * both) / d;
            let q1 = (moment - d * q2) / (w * gamma);
            self.at[0][k] = both - q1;
            self.at[1][k] = q1;
            self.at[2][k] = q2;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cubic_goes_through_its_samples() {
        let p = cubic([1.0, 1.35, 1.68, 2.2]);
        for (t, expected) in SAMPLES_C.iter().zip([1.0, 1.35, 1.68, 2.2]) {
            let x = t / 100.0;
            let got = p[0] + x * (p[1] + x * (p[2] + x * p[3]));
            assert!((got - expected).abs() < 1e-12, "{got} {expected}");
        }
    }

    #[test]
    fn a_parabola_between_frequencies_is_the_law() {
        let x = |hz: f64| skin::argument(hz, 0.3e-3);
        let ratio = |hz: f64| skin::ratio(x(hz));
        let step = 1200.0 / FREQUENCIES as f64;
        for k in 1..FREQUENCIES - 1 {
            let at = k as f64 * step;
            let (a, b, c) = (ratio(at - step), ratio(at), ratio(at + step));
            let got = b + 0.4 * (0.5 * (c - a) + 0.4 * (0.5 * (a + c) - b));
            assert!((got / ratio(at + 0.4 * step) - 1.0).abs() < 1e-5, "{at}");
        }
    }

    #[test]
    fn chebyshev_follows_the_skin_effect() {
        let mut samples = [0.0; POINTS];
        for (k, sample) in samples.iter_mut().enumerate() {
            *sample = skin::ratio(Chebyshev::place(k, (0.0, 5.0)));
        }
        let table = Chebyshev::of((0.0, 5.0), &samples);
        for k in 0..100 {
            let x = 0.05 * f64::from(k);
            assert!((table.at(x) / skin::ratio(x) - 1.0).abs() < 1e-4, "{x}");
        }
    }
}
