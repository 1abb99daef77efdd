//! Samples of any rate put into bins of equal time: bounded memory for a log of any length.

use std::collections::BTreeMap;

use physics::units::Dimension;
use plan::given::build::Logged;
use plan::given::keys::LOGGED;

/// Width of a bin to begin with.
const WIDTH_S: f64 = 0.1;
/// Bins that are kept; when they are full their width doubles.
const BINS_MAX: usize = 65_536;
/// Gaps that are remembered one by one.
const GAPS_MAX: usize = 1000;

/// What fell into a bin of one series.
#[derive(Clone, Copy, Default)]
struct Bin {
    count: f64,
    sum: f64,
    squares: f64,
}

/// Series of samples on their way to a log.
pub(super) struct Bins {
    width_s: f64,
    gap_s: f64,
    start_s: Option<f64>,
    series: Vec<BTreeMap<u32, Bin>>,
    last_s: Vec<Option<f64>>,
    gaps: Vec<(f64, f64)>,
    rows_bad: usize,
}

impl Bins {
    pub(super) fn new(series: usize, gap_s: f64) -> Bins {
        Bins {
            width_s: WIDTH_S,
            gap_s,
            start_s: None,
            series: vec![BTreeMap::new(); series],
            last_s: vec![None; series],
            gaps: Vec::new(),
            rows_bad: 0,
        }
    }

    /// The clock of the file begins at zero, whichever series is read first.
    pub(super) fn start_at_zero(&mut self) {
        self.start_s = Some(0.0);
    }

    /// A row that could not be read.
    pub(super) fn bad_row(&mut self) {
        self.rows_bad += 1;
    }

    /// One sample; a time that goes back is a bad row.
    pub(super) fn put(&mut self, series: usize, time_s: f64, value: f64) {
        if !(time_s.is_finite() && value.is_finite() && value.abs() < 1e12) {
            return self.bad_row();
        }
        let start_s = *self.start_s.get_or_insert(time_s);
        let t = time_s - start_s;
        if let Some(last_s) = self.last_s[series] {
            if t < last_s {
                return self.bad_row();
            }
            if self.gap_s < t - last_s && self.gaps.len() < GAPS_MAX {
                self.gaps.push((last_s, t - last_s));
            }
        }
        // A series may begin a little before the first; much before is another clock.
        if t < 0.0 {
            return self.bad_row();
        }
        self.last_s[series] = Some(t);
        let mut index = t / self.width_s;
        while BINS_MAX as f64 <= index {
            self.widen();
            index = t / self.width_s;
        }
        // The index is below BINS_MAX, so it fits.
        let bin = self.series[series].entry(index as u32).or_default();
        bin.count += 1.0;
        bin.sum += value;
        bin.squares += value * value;
    }

    fn widen(&mut self) {
        self.width_s *= 2.0;
        for series in &mut self.series {
            let mut wider: BTreeMap<u32, Bin> = BTreeMap::new();
            for (index, bin) in std::mem::take(series) {
                let into = wider.entry(index / 2).or_default();
                into.count += bin.count;
                into.sum += bin.sum;
                into.squares += bin.squares;
            }
            *series = wider;
        }
    }

    /// The log, each series on the same times, in kept units.
    pub(super) fn logged(mut self, factors: &[f64]) -> Result<Logged, String> {
        let times: std::collections::BTreeSet<u32> =
            self.series.iter().flat_map(|s| s.keys().copied()).collect();
        if times.len() < 2 {
            return Err("it holds fewer than two rows of what is wanted".to_owned());
        }
        // The same pause in several series is one gap.
        self.gaps.sort_by(f64_pairs);
        self.gaps.dedup_by(|a, b| (a.0 - b.0).abs() < self.gap_s);
        let mut logged = Logged {
            time_s: times.iter().map(|i| f64::from(*i) * self.width_s).collect(),
            gaps: self.gaps,
            rows_bad: self.rows_bad,
            ..Logged::default()
        };
        for (index, series) in self.series.iter().enumerate() {
            if series.is_empty() {
                continue;
            }
            let (name, dimension) = LOGGED[index];
            let kept: Vec<(u32, f64)> = series
                .iter()
                .map(|(at, bin)| {
                    let mean = bin.sum / bin.count;
                    let value = match dimension {
                        Dimension::Current => (bin.squares / bin.count).sqrt().copysign(mean),
                        _ => mean,
                    };
                    (*at, factors[index] * value)
                })
                .collect();
            let values = times.iter().map(|at| between(&kept, *at)).collect();
            let into = match name {
                "speed" => &mut logged.speed_m_s,
                "grade" => &mut logged.grade,
                "torque" => &mut logged.torque_nm,
                "motor-speed" => &mut logged.speed_rpm,
                "phase-current" => &mut logged.phase_a_rms,
                "frequency" => &mut logged.frequency_hz,
                "dc-current" => &mut logged.dc_a,
                "dc-voltage" => &mut logged.dc_v,
                _ => continue,
            };
            *into = values;
        }
        Ok(logged)
    }
}

fn f64_pairs(a: &(f64, f64), b: &(f64, f64)) -> std::cmp::Ordering {
    a.0.total_cmp(&b.0)
}

/// A series at a bin, straight between the bins it has, held at its ends.
fn between(kept: &[(u32, f64)], at: u32) -> f64 {
    let after = kept.partition_point(|(i, _)| *i < at);
    match (after.checked_sub(1).map(|i| kept[i]), kept.get(after)) {
        (_, Some((i, value))) if *i == at => *value,
        (Some((i, a)), Some((j, b))) => a + (b - a) * f64::from(at - i) / f64::from(j - i),
        (Some((_, value)), None) => value,
        (None, Some((_, value))) => *value,
        (None, None) => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PHASE: usize = 5;

    #[test]
    fn a_square_wave_becomes_its_rms() {
        let mut bins = Bins::new(LOGGED.len(), 5.0);
        for k in 0..20_000 {
            let t = f64::from(k) * 1e-3;
            bins.put(PHASE, t, if k % 20 < 10 { 141.421_356 } else { 0.0 });
        }
        let logged = bins.logged(&[1.0; 9]).unwrap();
        let squares: f64 = logged.phase_a_rms.iter().map(|a| a * a).sum();
        let rms = (squares / logged.phase_a_rms.len() as f64).sqrt();
        // A sample at the edge of a bin of a hundred may fall to either side.
        assert!((rms - 100.0).abs() < 0.5, "{rms}");
    }

    #[test]
    fn a_long_log_takes_no_more_room() {
        let mut bins = Bins::new(LOGGED.len(), 50.0);
        for k in 0..400_000 {
            bins.put(PHASE, f64::from(k), 10.0);
        }
        assert!(bins.series[PHASE].len() <= BINS_MAX);
        let logged = bins.logged(&[1.0; 9]).unwrap();
        assert!((logged.time_s.last().unwrap() - 399_999.0).abs() < 10.0);
        assert!(logged.phase_a_rms.iter().all(|a| (a - 10.0).abs() < 1e-9));
    }

    #[test]
    fn gaps_and_clocks_that_go_back_are_kept_count_of() {
        let mut bins = Bins::new(LOGGED.len(), 5.0);
        for t in [0.0, 1.0, 2.0, 30.0, 29.0, 31.0] {
            bins.put(PHASE, t, 1.0);
        }
        let logged = bins.logged(&[1.0; 9]).unwrap();
        assert_eq!(logged.gaps, [(2.0, 28.0)]);
        assert_eq!(logged.rows_bad, 1);
    }
}
