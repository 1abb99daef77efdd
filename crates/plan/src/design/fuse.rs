//! What the place asks of a main fuse, and the smallest fuse that gives it.
//!
//! A fuse must carry the drive and break everything the pack can push through it; between the two lies
//! the cable it protects. Each demand is judged here once, for choosing and for the checks alike.

use physics::laws::fuse::{self, CAUTIOUS, CYCLIC_SHARE};
use physics::units::Dimension;

use crate::finding::Verdict;
use crate::given::shelf::Fuse;

/// What the place asks; absent where something is unknown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// Continuous current.
    pub current_a: Option<f64>,
    /// Peak current and how long.
    pub peak: Option<(f64, f64)>,
    /// Air around the fuse.
    pub air_c: Option<f64>,
    /// Highest working voltage.
    pub voltage_v_max: Option<f64>,
    /// Fault at the fuse itself, cold: the most it may have to break.
    pub prospective_a_max: Option<f64>,
    /// Fault at the far end of the cable, hot: the least it may have to break.
    pub prospective_a_min: Option<f64>,
    /// What the cable carries for ever where it lies.
    pub cable_rating_a: Option<f64>,
    /// Joule integral the cable withstands.
    pub cable_withstand_a2s: Option<f64>,
    /// Whether the control is stated to open the contactors in overload.
    pub is_tripped: bool,
}

/// One demand on the fuse.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Demand {
    /// It carries the continuous current where it sits.
    Carries,
    /// The peaks do not tire it.
    Peak,
    /// It is rated for the voltage.
    Voltage,
    /// It breaks the greatest fault.
    Breaking,
    /// It breaks the least fault by itself.
    Clears,
    /// The cable withstands what it lets through.
    Withstand,
    /// It keeps the cable from overload.
    Overload,
}

impl Demand {
    /// All of them.
    pub const ALL: [Demand; 7] = [
        Demand::Carries,
        Demand::Peak,
        Demand::Voltage,
        Demand::Breaking,
        Demand::Clears,
        Demand::Withstand,
        Demand::Overload,
    ];
}

/// A demand, judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// How it came out.
    pub verdict: Verdict,
    /// The value.
    pub value: f64,
    /// Its limit.
    pub limit: f64,
    /// What both measure.
    pub dimension: Dimension,
}

fn at_most(value: f64, limit: f64, dimension: Dimension) -> Judged {
    Judged { verdict: Verdict::at_most(value, limit), value, limit, dimension }
}

fn at_least(value: f64, limit: f64, dimension: Dimension) -> Judged {
    Judged { verdict: Verdict::at_least(value, limit), value, limit, dimension }
}

/// The share of its rating a fuse carries for ever in cool air: bolt-in vehicle fuses are loaded to
/// 80 % (common practice), the others are rated for continuous current.
pub fn load_share(fuse: &Fuse) -> f64 {
    if fuse.class.starts_with("bolt-in") { 0.8 } else { 1.0 }
}

/// Whether the class breaks overloads too: the first letter of IEC 60269 is g for the full range and a
/// for short circuits only; another class does if it breaks twice its rating by itself.
pub fn breaks_overload(fuse: &Fuse) -> bool {
    match fuse.class.chars().next() {
        Some('g') => true,
        Some('a') => false,
        _ => fuse.breaking_a_min <= 2.0 * fuse.rated_a,
    }
}

/// Whether its rating promises that it ends an overload of a cable: full range, and not made for semiconductors (R and
/// S, IEC 60269-4).
pub fn for_cables(fuse: &Fuse) -> bool {
    breaks_overload(fuse) && !fuse.class.starts_with("gR") && !fuse.class.starts_with("gS")
}

/// What the fuse carries for ever in this air.
pub fn carries_a(fuse: &Fuse, air_c: f64) -> f64 {
    fuse::continuous_a(fuse.rated_a, air_c, CAUTIOUS, load_share(fuse))
}

/// The mean melting curve, time rising.
fn curve(fuse: &Fuse) -> Vec<(f64, f64)> {
    let mut curve = fuse.melting_curve.clone();
    curve.retain(|(t, i)| *t > 0.0 && *i > 0.0);
    curve.sort_by(|a, b| a.0.total_cmp(&b.0));
    curve
}

/// Mean time to melt at a current, by the curve; none outside it.
pub fn melting_s(fuse: &Fuse, current_a: f64) -> Option<f64> {
    // The law reads a curve along its first column; with the columns changed over it reads times.
    let mut turned: Vec<(f64, f64)> = curve(fuse).iter().map(|(t, i)| (*i, *t)).collect();
    turned.sort_by(|a, b| a.0.total_cmp(&b.0));
    fuse::melting_current_a(&turned, current_a)
}

/// Current a repeated peak of this length may have. Longer than the curve, a peak counts as continuous
/// (none here); shorter, it may not exceed what its shortest time allows.
fn peak_limit_a(fuse: &Fuse, seconds: f64) -> Option<f64> {
    let curve = curve(fuse);
    let (shortest, longest) = (curve.first()?.0, curve.last()?.0);
    if seconds > longest {
        return None;
    }
    fuse::melting_current_a(&curve, seconds.max(shortest)).map(|i| CYCLIC_SHARE * i)
}

/// Joule integral that the fuse lets into the far end of the cable: its clearing integral, or the least
/// fault for as long as that takes to melt, whichever is more.
fn let_through_a2s(fuse: &Fuse, prospective_a_min: Option<f64>) -> f64 {
    let slow = prospective_a_min
        .and_then(|i| melting_s(fuse, i).map(|t| i * i * t))
        .unwrap_or(fuse.clearing_a2s);
    slow.max(fuse.clearing_a2s)
}

impl Asked {
    /// Judges one demand; none where something is unknown.
    pub fn judge(&self, demand: Demand, fuse: &Fuse) -> Option<Judged> {
        match demand {
            Demand::Carries => {
                let carries = carries_a(fuse, self.air_c?);
                Some(at_most(self.current_a?, carries, Dimension::Current))
            }
            Demand::Peak => {
                let (peak_a, seconds) = self.peak?;
                let limit = match peak_limit_a(fuse, seconds) {
                    Some(limit) => limit,
                    None => carries_a(fuse, self.air_c?),
                };
                Some(at_most(peak_a, limit, Dimension::Current))
            }
            Demand::Voltage => {
                let volts = self.voltage_v_max?;
                // Ratings come in steps, and a fuse at its rated voltage is used as intended.
                let verdict = Verdict::kept(fuse.voltage_v_dc >= volts);
                let dimension = Dimension::Voltage;
                Some(Judged { verdict, value: fuse.voltage_v_dc, limit: volts, dimension })
            }
            Demand::Breaking => {
                let fault = self.prospective_a_max?;
                Some(at_least(fuse.breaking_a, fault, Dimension::Current))
            }
            Demand::Clears => {
                let fault = self.prospective_a_min?;
                Some(at_least(fault, fuse.breaking_a_min, Dimension::Current))
            }
            Demand::Withstand => {
                let through = let_through_a2s(fuse, self.prospective_a_min);
                Some(at_most(through, self.cable_withstand_a2s?, Dimension::Joule))
            }
            Demand::Overload => {
                let rating = self.cable_rating_a?;
                // A rating equal to the cable's is the rule itself, so there is no margin to come close to.
                let verdict = match breaks_overload(fuse) {
                    true => Verdict::kept(fuse.rated_a <= rating),
                    // The other device the class asks for; `overload-limit` judges it.
                    false if self.is_tripped => Verdict::Holds,
                    false => Verdict::Unknown,
                };
                let dimension = Dimension::Current;
                Some(Judged { verdict, value: fuse.rated_a, limit: rating, dimension })
            }
        }
    }

    fn broken(&self, fuse: &Fuse) -> usize {
        let fails =
            |d: &&Demand| self.judge(**d, fuse).is_some_and(|j| j.verdict == Verdict::Fails);
        Demand::ALL.iter().filter(fails).count()
    }
}

/// The smallest fuse of a class that breaks no demand, or the one that breaks fewest.
pub fn smallest<'a>(fuses: &'a [Fuse], class: &str, asked: &Asked) -> Option<&'a Fuse> {
    let mut of_class: Vec<&Fuse> = fuses.iter().filter(|f| f.class == class).collect();
    of_class.sort_by(|a, b| a.rated_a.total_cmp(&b.rated_a));
    // The first of equals is the smallest, for `min_by_key` keeps the first.
    of_class.into_iter().min_by_key(|f| asked.broken(f))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::given::shelf::{Row, Standing};

    /// A typical full-range fuse; its curve and integrals are invented in proportion to its rating.
    fn fuse(class: &str, rated_a: f64) -> Fuse {
        Fuse {
            row: Row {
                id: format!("{class} {rated_a} A"),
                name: format!("fuse {class} {rated_a} A"),
                source: "test".to_owned(),
                standing: Standing::Typical,
                note: None,
                price: None,
                mass_g: None,
            },
            class: class.to_owned(),
            rated_a,
            voltage_v_dc: 500.0,
            breaking_a: 20_000.0,
            breaking_a_min: if class == "aR" { 4.0 } else { 1.6 } * rated_a,
            melting_a2s: 0.15 * rated_a * rated_a,
            clearing_a2s: 0.8 * rated_a * rated_a,
            melting_curve: vec![
                (1000.0, 1.7 * rated_a),
                (10.0, 3.0 * rated_a),
                (0.1, 6.0 * rated_a),
                (0.01, 9.0 * rated_a),
            ],
            stud: None,
        }
    }

    fn asked() -> Asked {
        Asked {
            current_a: Some(150.0),
            peak: Some((350.0, 10.0)),
            air_c: Some(45.0),
            voltage_v_max: Some(420.0),
            prospective_a_max: Some(5000.0),
            prospective_a_min: Some(3500.0),
            cable_rating_a: Some(300.0),
            cable_withstand_a2s: Some(4.0e7),
            is_tripped: false,
        }
    }

    fn verdict(asked: &Asked, demand: Demand, fuse: &Fuse) -> Option<Verdict> {
        asked.judge(demand, fuse).map(|j| j.verdict)
    }

    #[test]
    fn the_smallest_that_breaks_nothing_is_chosen() {
        let fuses: Vec<Fuse> =
            [100.0, 160.0, 200.0, 250.0, 315.0].map(|a| fuse("gR", a)).into_iter().collect();
        // 350 A for 10 s needs a melting current of 700 A at 10 s: 700 / 3 = 233 A, so 250 A.
        assert_eq!(smallest(&fuses, "gR", &asked()).unwrap().rated_a, 250.0);
        assert_eq!(smallest(&fuses, "gPV", &asked()), None);
        // A cable of 240 A is not kept from overload by 250 A: one demand is broken either way.
        let weak = Asked { cable_rating_a: Some(240.0), ..asked() };
        let best = smallest(&fuses, "gR", &weak).unwrap();
        assert!(weak.broken(best) == 1, "{}", best.rated_a);
    }

    #[test]
    fn each_demand_holds_and_fails() {
        let good = fuse("gR", 250.0);
        for demand in Demand::ALL {
            assert!(verdict(&asked(), demand, &good) >= Some(Verdict::Close), "{demand:?}");
        }
        let bad = [
            (Demand::Carries, Asked { current_a: Some(260.0), ..asked() }),
            (Demand::Peak, Asked { peak: Some((400.0, 10.0)), ..asked() }),
            (Demand::Voltage, Asked { voltage_v_max: Some(501.0), ..asked() }),
            (Demand::Breaking, Asked { prospective_a_max: Some(21e3), ..asked() }),
            (Demand::Clears, Asked { prospective_a_min: Some(390.0), ..asked() }),
            (Demand::Withstand, Asked { cable_withstand_a2s: Some(4.0e4), ..asked() }),
            (Demand::Overload, Asked { cable_rating_a: Some(249.0), ..asked() }),
        ];
        for (demand, asked) in bad {
            assert_eq!(verdict(&asked, demand, &good), Some(Verdict::Fails), "{demand:?}");
        }
    }

    #[test]
    fn a_fuse_for_short_circuits_leaves_overload_open() {
        assert_eq!(
            verdict(&asked(), Demand::Overload, &fuse("aR", 250.0)),
            Some(Verdict::Unknown)
        );
    }

    #[test]
    fn a_long_peak_counts_as_continuous() {
        let long = Asked { peak: Some((250.0, 5000.0)), ..asked() };
        assert_eq!(verdict(&long, Demand::Peak, &fuse("gR", 250.0)), Some(Verdict::Fails));
    }

    #[test]
    fn what_is_unknown_is_not_judged() {
        let nothing = Asked::default();
        for demand in Demand::ALL {
            assert_eq!(nothing.judge(demand, &fuse("gR", 250.0)), None, "{demand:?}");
        }
    }

    #[test]
    fn a_slow_fault_may_let_more_through_than_a_fast_one() {
        // 500 A melts 250 A x 1.7 .. 3.0 between 10 s and 1000 s: far above the clearing integral.
        let weak = fuse("gR", 250.0);
        let seconds = melting_s(&weak, 500.0).unwrap();
        assert!((10.0..1000.0).contains(&seconds), "{seconds}");
        assert_eq!(let_through_a2s(&weak, Some(500.0)), 500.0 * 500.0 * seconds);
        assert_eq!(let_through_a2s(&weak, Some(1e6)), weak.clearing_a2s);
    }
}
