//! Fuse, cable, fault and load of one circuit, laid over each other.
//!
//! A fuse protects a cable where its clearing curve lies below what the cable bears, and lasts where the load lies
//! well below its melting curve. All of it is sampled here once, for the checks, the chart and whoever reads the JSON.

use physics::laws::conductor::{self, Material};
use physics::laws::fault::Loop;
use physics::laws::fuse::{CAUTIOUS, ambient_factor, pulse_share};
use physics::laws::fuse_curve::{Link, SCATTER};
use physics::laws::{adiabatic, inductance, withstand};

use super::fuse;
use crate::given::parts::Parts;
use crate::given::shelf::{Cable, Fuse};

/// One circuit's curves.
#[derive(Clone, Debug, PartialEq)]
pub struct Coordination {
    /// What is protected: the run, or the branch.
    pub name: String,
    /// The fuse.
    pub fuse: String,
    /// Its rated current.
    pub rated_a: f64,
    /// Amperes and seconds in which it melts, by its mean curve.
    pub melts: Vec<Spot>,
    /// Amperes and seconds in which the slowest of its class has cleared.
    pub clears: Vec<Spot>,
    /// Amperes and seconds that the cable bears; empty where its rating is not known.
    pub bears: Vec<Spot>,
    /// Short circuits, the greatest first.
    pub faults: Vec<Rise>,
    /// What the circuit is asked to carry, shortest first.
    pub loads: Vec<Load>,
    /// What the control does against overload.
    pub trip: Option<Trip>,
    /// How far the fuse protects the cable; none where the cable is not known.
    pub guard: Option<Guard>,
}

/// A place on the sheet: amperes and seconds.
pub type Spot = (f64, f64);

impl Coordination {
    /// The control as a line: down at its current, then level until the fuse is the faster. Each place across holds
    /// one value, so the fall leans by a hair.
    pub fn trip_line(&self) -> Vec<Spot> {
        const HAIR: f64 = 1.0 + 1e-4;
        let Some(trip) = self.trip else { return Vec::new() };
        let top_s =
            self.melts.iter().chain(&self.bears).map(|s| s.1).fold(trip.seconds, f64::max);
        let corner_a = trip.current_a * HAIR;
        let met_a = self.clears.iter().find(|s| s.1 <= trip.seconds).map_or(corner_a, |s| s.0);
        let end_a = met_a.max(corner_a * HAIR);
        vec![(trip.current_a, top_s), (corner_a, trip.seconds), (end_a, trip.seconds)]
    }
}

/// A short circuit over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Rise {
    /// Where it is: "right behind the fuse".
    pub place: &'static str,
    /// Current it would reach.
    pub prospective_a: f64,
    /// Amperes and seconds after it begins.
    pub points: Vec<Spot>,
    /// Amperes reached and seconds gone when the fuse melts.
    pub melts: Option<Spot>,
}

/// A load by how long it lasts.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// How long.
    pub seconds: f64,
    /// Rms over that time.
    pub rms_a: f64,
    /// What the fuse bears so long, again and again, where it sits.
    pub may_a: Option<f64>,
    /// Where in the duty it was found.
    pub stretch: Option<String>,
}

/// What the control does: above a current it opens the contactors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trip {
    /// The current.
    pub current_a: f64,
    /// Until the contacts are open.
    pub seconds: f64,
}

/// How far the fuse protects the cable.
#[derive(Clone, Debug, PartialEq)]
pub struct Guard {
    /// From this current up to the greatest fault the fuse is the faster; none where it is not at the greatest.
    pub from_a: Option<f64>,
    /// How long the cable bears that current; none for ever.
    pub from_bears_s: Option<f64>,
    /// Where between least and greatest fault the fuse is least ahead.
    pub tightest: Option<Tightest>,
}

/// The fault at which the fuse is least ahead of the cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tightest {
    /// The fault.
    pub current_a: f64,
    /// When the slowest fuse of its class has cleared it; none where it lies below the curve.
    pub clears_s: Option<f64>,
    /// How long the cable bears it; none for ever.
    pub bears_s: Option<f64>,
}

impl Tightest {
    /// Time to clear over time borne.
    pub fn share(&self) -> f64 {
        match (self.clears_s, self.bears_s) {
            (_, None) => 0.0,
            (None, _) => f64::INFINITY,
            (Some(clears_s), Some(bears_s)) => clears_s / bears_s,
        }
    }
}

/// What a circuit is told for its sheet.
#[derive(Clone, Debug)]
pub struct Told<'a> {
    /// The run, or the branch.
    pub name: &'a str,
    /// Its fuse.
    pub fuse: &'a Fuse,
    /// Air around the fuse.
    pub air_c: Option<f64>,
    /// Its cable.
    pub cable: Option<withstand::Cable>,
    /// The fault right behind the fuse.
    pub near: Option<Loop>,
    /// The fault at the far end of the cable.
    pub far: Option<Loop>,
    /// Seconds, rms and where: what it carries.
    pub loads: Vec<(f64, f64, Option<String>)>,
    /// How often in its life it bears them.
    pub cycles: f64,
    /// What the control does.
    pub trip: Option<Trip>,
}

/// Longer than any peak: where a sheet ends, a load for ever stands here.
pub const EVER_S: f64 = 3600.0;

/// Copper that a cable has for certain.
pub fn copper_mm2(cable: &Cable) -> f64 {
    conductor::effective_area_mm2(cable.resistance_ohm_per_km, Material::Copper)
}

/// Conductor temperature the insulation bears in a short circuit, if its row is on the shelf.
fn short_circuit_c(parts: &Parts<'_>, cable: &Cable) -> Option<f64> {
    let row = parts.shelf.insulations.iter().find(|i| i.row.id == cable.insulation)?;
    Some(row.short_circuit_c)
}

/// How far an overload may take a cable.
fn overload_c(parts: &Parts<'_>, cable: &Cable) -> Option<f64> {
    Some(short_circuit_c(parts, cable)?.min(cable.limit_c + withstand::OVERLOAD_K))
}

/// Joule integral a cable withstands from its limit to the short-circuit temperature of its insulation, and that
/// temperature; none where its insulation is not on the shelf or bears no more.
pub fn withstand_a2s(parts: &Parts<'_>, cable: &Cable) -> Option<(f64, f64)> {
    let end_c = short_circuit_c(parts, cable).filter(|end_c| cable.limit_c < *end_c)?;
    let area_mm2 = copper_mm2(cable);
    Some((adiabatic::joule_a2s(Material::Copper, area_mm2, cable.limit_c, end_c), end_c))
}

/// How long a cable bears what, from its rating in air of a temperature at its limit.
pub fn bears(
    parts: &Parts<'_>,
    cable: &Cable,
    short_a2s: f64,
    (rating_a, air_c, limit_c): (f64, f64, f64),
) -> Option<withstand::Cable> {
    let temperatures = (air_c, limit_c, overload_c(parts, cable)?);
    let copper = (Material::Copper, copper_mm2(cable));
    withstand::Cable::new(short_a2s, copper, rating_a, temperatures)
}

/// The loop of a fault behind so much of a pair, its cables at their limit.
pub fn behind(near: Loop, cable: &Cable, one_way_m: f64, spacing_mm: f64) -> Loop {
    let hot_ohm_per_m = cable.resistance_ohm_per_km / 1000.0
        * conductor::resistance_factor(cable.limit_c, Material::Copper);
    let thick_mm = cable.conductor_diameter_mm.min(spacing_mm);
    Loop {
        resistance_ohm: near.resistance_ohm + 2.0 * hot_ohm_per_m * one_way_m,
        inductance_h: near.inductance_h + inductance::loop_h(one_way_m, spacing_mm, thick_mm),
        ..near
    }
}

/// The curve of a fuse.
pub fn link(fuse: &Fuse) -> Option<Link> {
    Link::new(&fuse.melting_curve, fuse.melting_a2s, fuse.clearing_a2s)
}

/// Lays the curves over each other; none for a fuse without a curve.
pub fn coordinate(told: &Told<'_>) -> Option<Coordination> {
    let link = link(told.fuse)?;
    let least_a = link.reach_a().0;
    let faults: Vec<Rise> = [(BEHIND, told.near), (AT_THE_END, told.far)]
        .into_iter()
        .filter_map(|(place, fault)| Some(rise(place, &fault?, &link)))
        .collect();
    let most_a = faults
        .iter()
        .map(|f| f.prospective_a)
        .fold(BEYOND * told.fuse.rated_a, |a, b| a.max(1.3 * b));
    // Just inside the curve, for the slowest fuse melts a tenth later.
    let from_a = least_a * (1.0 + SCATTER) * (1.0 + 1e-9);
    let sampled = |from_a: f64, time_s: &dyn Fn(f64) -> Option<f64>| {
        geometric(from_a, most_a, POINTS)
            .filter_map(|i| Some((i, time_s(i).filter(|s| s.is_finite())?)))
            .collect::<Vec<Spot>>()
    };
    let cable_from_a = told.cable.map_or(least_a, |c| c.overload.steady_a() * 1.001);
    let bears = |i: f64| told.cable.map(|c| c.time_s(i));
    Some(Coordination {
        name: told.name.to_owned(),
        fuse: told.fuse.row.id.clone(),
        rated_a: told.fuse.rated_a,
        melts: sampled(least_a, &|i| link.melts_s(i)),
        clears: sampled(from_a, &|i| link.clears_s(i)),
        bears: sampled(cable_from_a, &bears),
        loads: loads(told, &link),
        trip: told.trip,
        guard: told.cable.map(|cable| guard(&link, &cable, from_a, &faults)),
        faults,
    })
}

/// Where the greatest fault is.
pub const BEHIND: &str = "right behind the fuse";
/// Where the least is.
pub const AT_THE_END: &str = "at the far end";

/// Where no fault is known, the sheet ends at so many times the rating.
const BEYOND: f64 = 20.0;

/// Enough for a smooth line on paper.
const POINTS: u32 = 48;

/// Values in equal steps of their logarithm, both ends included.
fn geometric(from: f64, to: f64, steps: u32) -> impl DoubleEndedIterator<Item = f64> {
    let (from, to) = (from.min(to), from.max(to));
    let span = libm::log(to / from);
    (0..=steps).map(move |k| match k {
        0 => from,
        k if k == steps => to,
        k => from * libm::exp(span * f64::from(k) / f64::from(steps)),
    })
}

fn rise(place: &'static str, fault: &Loop, link: &Link) -> Rise {
    let prospective_a = fault.prospective_a();
    let tau_s = fault.time_constant_s();
    // The element needs the heat that the steady current would have brought it.
    let melts = link.melts_s(prospective_a).map(|steady_s| {
        let seconds = fault.time_to_i2t_s(prospective_a * prospective_a * steady_s);
        (fault.current_a(seconds), seconds)
    });
    let first_s = (tau_s / 50.0).max(1e-6);
    let points = match 0.0 < tau_s {
        true => geometric(first_s, first_s.max(10.0 * tau_s), POINTS)
            .map(|s| (fault.current_a(s), s))
            .collect(),
        false => vec![(prospective_a, first_s)],
    };
    Rise { place, prospective_a, points, melts }
}

/// What the fuse bears again and again for a time: a share of its melting current, less where it is warm, and never
/// less than it carries for ever.
pub fn may_a(fuse: &Fuse, link: &Link, air_c: f64, cycles: f64, seconds: f64) -> f64 {
    let carries_a = fuse::carries_a(fuse, air_c);
    // Shares are of I²t; of the current it is the root. More pulses than the table knows count as its last.
    let share = pulse_share(cycles.clamp(1.0, 1e5)).unwrap_or(0.0).sqrt();
    let melts_a = link.melts_at_a(seconds).unwrap_or(0.0);
    (share * ambient_factor(air_c, CAUTIOUS) * melts_a).max(carries_a)
}

fn loads(told: &Told<'_>, link: &Link) -> Vec<Load> {
    let mut loads: Vec<Load> = told
        .loads
        .iter()
        .filter(|l| 0.0 < l.0 && 0.0 < l.1)
        .map(|(seconds, rms_a, stretch)| Load {
            seconds: *seconds,
            rms_a: *rms_a,
            may_a: told.air_c.map(|air_c| may_a(told.fuse, link, air_c, told.cycles, *seconds)),
            stretch: stretch.clone(),
        })
        .collect();
    loads.sort_by(|a, b| a.seconds.total_cmp(&b.seconds));
    loads
}

fn guard(link: &Link, cable: &withstand::Cable, from_a: f64, faults: &[Rise]) -> Guard {
    let ahead = |i: f64| link.clears_s(i).is_some_and(|s| s <= cable.time_s(i));
    let greatest = faults.iter().map(|f| f.prospective_a).reduce(f64::max);
    let least = faults.iter().find(|f| f.place == AT_THE_END).map(|f| f.prospective_a);
    let top_a = greatest.unwrap_or(1e3 * from_a).max(from_a);
    let guards_from_a = ahead(top_a).then(|| {
        let below = geometric(from_a, top_a, 2 * POINTS).rev().find(|i| !ahead(*i));
        let Some(mut low) = below else { return from_a };
        let mut high = top_a;
        for _ in 0..40 {
            let middle = (low * high).sqrt();
            if ahead(middle) { high = middle } else { low = middle }
        }
        high
    });
    let tightest = greatest.zip(least).and_then(|(greatest, least)| {
        geometric(least, greatest, 16)
            .map(|current_a| Tightest {
                current_a,
                clears_s: link.clears_s(current_a),
                bears_s: Some(cable.time_s(current_a)).filter(|s| s.is_finite()),
            })
            .max_by(|a, b| a.share().total_cmp(&b.share()))
    });
    let from_bears_s = guards_from_a.map(|i| cable.time_s(i)).filter(|s| s.is_finite());
    Guard { from_a: guards_from_a, from_bears_s, tightest }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::given::shelf_read::standard;

    fn told(fuse: &Fuse) -> Told<'_> {
        Told {
            name: "dc",
            fuse,
            air_c: Some(45.0),
            cable: withstand::Cable::new(
                2.9e7,
                (Material::Copper, 35.0),
                190.0,
                (45.0, 125.0, 175.0),
            ),
            near: Some(Loop { voltage_v: 400.0, resistance_ohm: 0.08, inductance_h: 14e-6 }),
            far: Some(Loop { voltage_v: 400.0, resistance_ohm: 0.085, inductance_h: 18e-6 }),
            loads: vec![(30.0, 200.0, None), (3600.0, 120.0, None)],
            cycles: 10_000.0,
            trip: None,
        }
    }

    fn fuse(id: &str) -> &'static Fuse {
        standard().fuses.iter().find(|f| f.row.id == id).unwrap()
    }

    #[test]
    fn a_small_fuse_guards_down_to_overload() {
        let of = coordinate(&told(fuse("gR 160 A"))).unwrap();
        let guard = of.guard.unwrap();
        assert!(guard.from_a.unwrap() < 600.0, "{guard:?}");
        let tightest = guard.tightest.unwrap();
        assert!(tightest.share() < 0.1, "{tightest:?}");
        assert!(of.melts.len() > 40 && of.clears.len() > 40 && of.bears.len() > 40);
    }

    #[test]
    fn the_larger_the_fuse_the_later_it_guards() {
        let from = |id| coordinate(&told(fuse(id))).unwrap().guard.unwrap().from_a.unwrap();
        assert!(from("gR 160 A") < from("gR 250 A") && from("gR 250 A") < from("gR 400 A"));
    }

    #[test]
    fn curves_cross_where_the_guard_begins() {
        let fuse = fuse("gR 315 A");
        let told = told(fuse);
        let from_a = coordinate(&told).unwrap().guard.unwrap().from_a.unwrap();
        let (link, cable) = (link(fuse).unwrap(), told.cable.unwrap());
        assert!(link.clears_s(from_a * 1.001).unwrap() < cable.time_s(from_a * 1.001));
        assert!(link.clears_s(from_a * 0.99).unwrap() > cable.time_s(from_a * 0.99));
    }

    #[test]
    fn the_control_reaches_to_the_fuse() {
        let trip = Some(Trip { current_a: 300.0, seconds: 2.0 });
        let of = coordinate(&Told { trip, ..told(fuse("gR 250 A")) }).unwrap();
        let line = of.trip_line();
        assert!(line.is_sorted_by(|a, b| a.0 < b.0 && b.1 <= a.1), "{line:?}");
        assert_eq!(line[2].1, 2.0);
        // At 2 s the curve lies at some 720 A, a tenth more for the slowest.
        assert!((760.0..900.0).contains(&line[2].0), "{line:?}");
        assert_eq!(coordinate(&told(fuse("gR 250 A"))).unwrap().trip_line(), []);
    }

    #[test]
    fn a_rising_fault_melts_it_later_than_a_steady_one() {
        let of = coordinate(&told(fuse("gR 250 A"))).unwrap();
        let (reached_a, seconds) = of.faults[0].melts.unwrap();
        assert!(reached_a < of.faults[0].prospective_a);
        assert!(seconds > 9050.0 / (5000.0 * 5000.0), "{seconds}");
    }

    #[test]
    fn val_what_a_warm_fuse_bears_ten_thousand_times() {
        // 30 s on log paper between (605 A, 10 s) and (488 A, 100 s): 605 x (488/605)^0.4771 = 546.1 A; the root of
        // 0.29 and sqrt(85/105) at 45 degC: 264.6 A.
        let of = fuse("gR 250 A");
        let may = may_a(of, &link(of).unwrap(), 45.0, 10_000.0, 30.0);
        assert!((may - 264.6).abs() < 0.3, "{may}");
    }

    #[test]
    fn a_long_load_may_be_what_it_carries_for_ever() {
        let of = fuse("gR 250 A");
        let may = may_a(of, &link(of).unwrap(), 45.0, 10_000.0, 36_000.0);
        assert_eq!(may, fuse::carries_a(of, 45.0));
    }
}
