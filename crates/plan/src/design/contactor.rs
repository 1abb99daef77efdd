//! What the place asks of the main contactor, and what a contactor gives.
//!
//! A contactor carries what the fuse carries. It opens against any current that its control tells it to, before the
//! fuse has cleared: the slower the control, the less is left to it. It closes on what the pre-charge left.

use physics::laws::fuse::melting_current_a;
use physics::units::Dimension;

use super::coordinate::{Load, Trip, link};
use super::fuse::Judged;
use crate::finding::Verdict;
use crate::given::shelf::{Contactor, Fuse};

/// What the place asks; absent where something is unknown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// Continuous current.
    pub current_a: Option<f64>,
    /// Loads by how long they last.
    pub loads: Vec<Load>,
    /// Highest working voltage.
    pub voltage_v_max: Option<f64>,
    /// Greatest current it has to open against.
    pub breaks_a: Option<f64>,
    /// Current it closes on.
    pub closes_a: Option<f64>,
}

/// One demand on the contactor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Demand {
    /// It carries the load.
    Carries,
    /// It is rated for the voltage.
    Voltage,
    /// It opens against what the fuse leaves it.
    Breaks,
    /// It closes on what the pre-charge leaves it.
    Closes,
}

/// Greatest current the contacts meet when they open: what the slowest fuse has just not cleared by then, never less
/// than the control opens at, never more than the pack gives.
pub fn breaks_a(fuse: &Fuse, trip: Trip, prospective_a: f64) -> Option<f64> {
    let left_a = link(fuse)?.clears_at_a(trip.seconds).unwrap_or(0.0);
    Some(left_a.max(trip.current_a).min(prospective_a))
}

/// What it carries closed for a time.
pub fn carries_a(contactor: &Contactor, seconds: f64) -> f64 {
    let mut curve = contactor.carry_curve.clone();
    curve.sort_by(|a, b| a.0.total_cmp(&b.0));
    let Some(shortest) = curve.first() else { return contactor.rated_a };
    melting_current_a(&curve, seconds.max(shortest.0)).unwrap_or(contactor.rated_a)
}

impl Asked {
    /// Judges one demand; none where something is unknown.
    pub fn judge(&self, demand: Demand, contactor: &Contactor) -> Option<Judged> {
        let of = |verdict, value, limit, dimension| Judged { verdict, value, limit, dimension };
        let amperes = |value: f64, limit: f64| {
            of(Verdict::at_most(value, limit), value, limit, Dimension::Current)
        };
        match demand {
            Demand::Carries => {
                let ever = self.current_a.map(|a| (a, contactor.rated_a));
                let loads =
                    self.loads.iter().map(|l| (l.rms_a, carries_a(contactor, l.seconds)));
                let hardest = ever.into_iter().chain(loads);
                let (value, limit) =
                    hardest.max_by(|a, b| (a.0 / a.1).total_cmp(&(b.0 / b.1)))?;
                Some(amperes(value, limit))
            }
            Demand::Voltage => {
                let (rated, volts) = (contactor.voltage_v_dc, self.voltage_v_max?);
                Some(of(Verdict::kept(rated >= volts), rated, volts, Dimension::Voltage))
            }
            Demand::Breaks => Some(amperes(self.breaks_a?, contactor.breaks_a)),
            Demand::Closes => Some(amperes(self.closes_a?, contactor.makes_a)),
        }
    }
}

/// The smallest that fails no demand, to offer where none is named.
pub fn smallest<'a>(contactors: &'a [Contactor], asked: &Asked) -> Option<&'a Contactor> {
    const ALL: [Demand; 4] = [Demand::Carries, Demand::Voltage, Demand::Breaks, Demand::Closes];
    contactors
        .iter()
        .filter(|c| {
            ALL.iter().all(|d| asked.judge(*d, c).is_none_or(|j| j.verdict != Verdict::Fails))
        })
        .min_by(|a, b| {
            (a.rated_a, a.voltage_v_dc)
                .partial_cmp(&(b.rated_a, b.voltage_v_dc))
                .unwrap_or(std::cmp::Ordering::Equal)
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::given::shelf_read::standard;

    fn contactor(id: &str) -> &'static Contactor {
        standard().contactors.iter().find(|c| c.row.id == id).unwrap()
    }

    fn gr_250() -> &'static Fuse {
        standard().fuses.iter().find(|f| f.row.id == "gR 250 A").unwrap()
    }

    #[test]
    fn the_slower_the_control_the_less_is_left_to_the_contactor() {
        let at =
            |seconds| breaks_a(gr_250(), Trip { current_a: 300.0, seconds }, 4700.0).unwrap();
        assert!(at(0.01) > at(0.1) && at(0.1) > at(1.0) && at(1.0) > at(100.0));
        // The curve at 1 s: 812 A, a tenth more for the slowest, and a trifle of arc.
        assert!((at(1.0) / 893.2 - 1.0).abs() < 0.03, "{}", at(1.0));
        assert_eq!(at(1e-6), 4700.0);
        assert_eq!(at(1e5), 300.0);
    }

    #[test]
    fn what_it_carries_is_read_from_its_curve() {
        let of = contactor("contactor-450 250 A");
        assert!((carries_a(of, 60.0) - 450.0).abs() < 1e-9);
        assert_eq!(carries_a(of, 3600.0), 250.0);
        assert!((carries_a(of, 0.001) - 2500.0).abs() < 1e-9);
    }

    #[test]
    fn each_demand_holds_and_fails() {
        let of = contactor("contactor-450 250 A");
        let good = Asked {
            current_a: Some(200.0),
            loads: Vec::new(),
            voltage_v_max: Some(403.0),
            breaks_a: Some(900.0),
            closes_a: Some(80.0),
        };
        let bad = [
            (Demand::Carries, Asked { current_a: Some(260.0), ..good.clone() }),
            (Demand::Voltage, Asked { voltage_v_max: Some(451.0), ..good.clone() }),
            (Demand::Breaks, Asked { breaks_a: Some(2100.0), ..good.clone() }),
            (Demand::Closes, Asked { closes_a: Some(700.0), ..good.clone() }),
        ];
        for (demand, bad) in bad {
            assert_eq!(good.judge(demand, of).unwrap().verdict, Verdict::Holds, "{demand:?}");
            assert_eq!(bad.judge(demand, of).unwrap().verdict, Verdict::Fails, "{demand:?}");
        }
        assert_eq!(
            smallest(&standard().contactors, &good).unwrap().row.id,
            "contactor-450 200 A"
        );
    }
}
