//! Time-current curve of a fuse link: when it melts, when it has cleared.
//!
//! melts:   ln t straight over ln i between the points of the curve; above them t = M/i²
//! clears:  t + (C − M)/i²
//!
//! Range   M the melting and C the clearing integral, A²s. Below the least current of the curve nothing is said.
//!         Steady currents; of one that rises, the integral says more (`fault`).
//! Source  IEC 60269-1: curves on log-log paper, and I²t as the measure below some tens of milliseconds (memory).
//!         Curves may lie off by 10 % in current, IEC 60269-1 and -2 (memory).
//! Caveat  The arc's share is taken as one integral at all currents; near the least breaking current it lasts
//!         longer. The maker's curves rule.

/// Share of the current by which a link may lie off its mean curve.
pub const SCATTER: f64 = 0.1;

/// A link's curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Amperes and seconds of the mean melting curve, current rising.
    points: Vec<(f64, f64)>,
    melting_a2s: f64,
    arc_a2s: f64,
}

impl Link {
    /// A link from its points (seconds, amperes), in any order, and its integrals. Points without a positive time
    /// and current are left out; none where two points or a positive integral are missing, or where more current
    /// melts it later.
    pub fn new(curve_s_a: &[(f64, f64)], melting_a2s: f64, clearing_a2s: f64) -> Option<Link> {
        let fit = |v: f64| 0.0 < v && v.is_finite();
        let mut points: Vec<(f64, f64)> =
            curve_s_a.iter().filter(|p| fit(p.0) && fit(p.1)).map(|p| (p.1, p.0)).collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let falls = points.windows(2).all(|p| p[0].0 < p[1].0 && p[1].1 < p[0].1);
        (points.len() > 1 && falls && fit(melting_a2s) && fit(clearing_a2s)).then(|| Link {
            points,
            melting_a2s,
            arc_a2s: (clearing_a2s - melting_a2s).max(0.0),
        })
    }

    /// Least and greatest current of the points.
    pub fn reach_a(&self) -> (f64, f64) {
        (self.points[0].0, self.points[self.points.len() - 1].0)
    }

    /// When a current melts it, by the mean curve; none below the curve.
    pub fn melts_s(&self, current_a: f64) -> Option<f64> {
        let (least_a, most_a) = self.reach_a();
        if !(least_a <= current_a) {
            return None;
        }
        if most_a <= current_a {
            // t = M/i², and never above the last point of the curve.
            let last_s = self.points[self.points.len() - 1].1;
            return Some((self.melting_a2s / (current_a * current_a)).min(last_s));
        }
        let pair = self.points.windows(2).find(|p| current_a <= p[1].0)?;
        let ((i0, t0), (i1, t1)) = (pair[0], pair[1]);
        let x = libm::log(current_a / i0) / libm::log(i1 / i0);
        Some(t0 * libm::exp(x * libm::log(t1 / t0))) // ln t straight over ln i
    }

    /// When the slowest link of the class has cleared: its curve a tenth to the right, and the arc.
    pub fn clears_s(&self, current_a: f64) -> Option<f64> {
        let melts_s = self.melts_s(current_a / (1.0 + SCATTER))?;
        Some(melts_s + self.arc_a2s / (current_a * current_a)) // t + (C − M)/i²
    }

    /// Current that melts it after a time, by the mean curve; none for longer than the curve.
    pub fn melts_at_a(&self, time_s: f64) -> Option<f64> {
        let slowest_s = self.points[0].1;
        if !(0.0 < time_s && time_s <= slowest_s) {
            return None;
        }
        let (last_a, last_s) = self.points[self.points.len() - 1];
        if time_s <= last_s {
            return Some((self.melting_a2s / time_s).sqrt().max(last_a)); // i = √(M/t)
        }
        let pair = self.points.windows(2).find(|p| p[1].1 <= time_s)?;
        let ((i0, t0), (i1, t1)) = (pair[0], pair[1]);
        let x = libm::log(time_s / t0) / libm::log(t1 / t0);
        Some(i0 * libm::exp(x * libm::log(i1 / i0)))
    }

    /// Current that the slowest link has cleared after a time: below it the link may still carry on. None for
    /// longer than the curve.
    pub fn clears_at_a(&self, time_s: f64) -> Option<f64> {
        // Just inside the curve, whatever a tenth more and a tenth less round to.
        let least_a = self.reach_a().0 * (1.0 + SCATTER) * (1.0 + 1e-9);
        if self.clears_s(least_a)? < time_s {
            return None;
        }
        // Clearing time falls with current; nothing real lies above a thousand times the curve's least.
        let (mut low, mut high) = (libm::log(least_a), libm::log(1e6 * least_a));
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            match self.clears_s(libm::exp(middle)) {
                Some(s) if s <= time_s => high = middle,
                _ => low = middle,
            }
        }
        Some(libm::exp(high))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn link() -> Link {
        // The class gR of the shelf at 100 A, rounded.
        let curve = [(1000.0, 169.0), (10.0, 242.0), (0.1, 473.0), (0.001, 1200.0)];
        Link::new(&curve, 1450.0, 7240.0).unwrap()
    }

    #[test]
    fn the_points_are_met_and_the_middle_is_geometric() {
        let link = link();
        assert!((link.melts_s(242.0).unwrap() - 10.0).abs() < 1e-9);
        // Half way in the logarithm of the current is half way in that of the time.
        let middle = (242.0f64 * 473.0).sqrt();
        assert!((link.melts_s(middle).unwrap() - 1.0).abs() < 1e-9);
        assert_eq!(link.melts_s(168.0), None);
        assert_eq!(link.melts_s(f64::NAN), None);
    }

    #[test]
    fn above_the_curve_the_integral_rules() {
        // 4000 A: 1450 / 16e6 s to melt, 7240 / 16e6 s at most to clear but for the scatter.
        let link = link();
        assert!((link.melts_s(4000.0).unwrap() - 1450.0 / 16e6).abs() < 1e-12);
        let clears = 1450.0 * 1.21 / 16e6 + (7240.0 - 1450.0) / 16e6;
        assert!((link.clears_s(4000.0).unwrap() - clears).abs() < 1e-12);
    }

    #[test]
    fn regress_the_slowest_clears_whatever_the_first_point_rounds_to() {
        // 255 A, a tenth more and a tenth less again, is a bit below 255 A.
        for least in 100..600 {
            let least = f64::from(least);
            let curve = [(3600.0, least), (1.0, 2.0 * least), (0.001, 7.0 * least)];
            let link = Link::new(&curve, 1e4, 5e4).unwrap();
            assert!(link.clears_at_a(2.0).is_some(), "{least}");
        }
    }

    #[test]
    fn nonsense_is_no_curve() {
        assert_eq!(Link::new(&[(1.0, 100.0)], 1.0, 2.0), None);
        assert_eq!(Link::new(&[(1.0, 100.0), (10.0, 200.0)], 1.0, 2.0), None);
        assert_eq!(Link::new(&[(10.0, 100.0), (1.0, 200.0)], 0.0, 2.0), None);
    }

    proptest! {
        #[test]
        fn prop_time_and_current_are_inverse(log in 2.23f64..4.5) {
            let i = libm::pow(10.0, log);
            let link = link();
            let t = link.melts_s(i).unwrap();
            // Below the last point the curve may stand still for a few amperes.
            prop_assert!((link.melts_at_a(t).unwrap() / i - 1.0).abs() < 0.01);
        }

        #[test]
        fn prop_more_current_never_clears_later(log in 2.3f64..4.5, more in 1.0f64..3.0) {
            let i = libm::pow(10.0, log);
            let link = link();
            prop_assert!(link.clears_s(i * more) <= link.clears_s(i));
            prop_assert!(link.melts_s(i).unwrap() < link.clears_s(i).unwrap());
        }

        #[test]
        fn prop_clearing_and_its_current_are_inverse(log in -3.0f64..2.9) {
            let t = libm::pow(10.0, log);
            let link = link();
            let i = link.clears_at_a(t).unwrap();
            prop_assert!(link.clears_s(i).unwrap() <= t * (1.0 + 1e-9));
            prop_assert!(link.clears_s(i * 0.999).is_none_or(|s| t * 0.99 < s));
        }
    }
}
