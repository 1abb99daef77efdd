//! Magnetic field at named points, beside the published reference levels.
//!
//! The build tells how far a point lies from each run; the run counts as straight and as long as its path, closed at
//! its ends in the boxes, and lies turned and shifted in the most unlucky way. Fields of several runs are added as if
//! all pointed one way and all came at their worst moment; alternating ones are summed as shares of their levels,
//! standing ones in microtesla. So the sums are bounds, not forecasts.

use physics::duty::ripple;
pub use physics::laws::exposure::EARTH_UT;
use physics::laws::exposure::{self, Who};
use physics::laws::magnetic::{Arrangement, StraightRun};
use physics::units::{Dimension, show};

use super::drive::{Course, RESONANCE_APART};
use super::length::RunLength;
use super::settle::SizedRun;
use crate::finding::{About, Notes, Place, Quantity, Worked};
use crate::given::build::{Carries, FieldPointGiven, Lie};
use crate::given::parts::{Parts, RunParts};

/// A point with what the runs do there.
#[derive(Clone, Debug, PartialEq)]
pub struct FieldPoint {
    /// Its id.
    pub id: String,
    /// Its name, or its id.
    pub name: String,
    /// Where it stands in the document.
    pub at: Place,
    /// What each run adds, one entry a kind of current.
    pub parts: Vec<Part>,
    /// What is not known and would add something.
    pub lacks: Vec<Lack>,
    /// Runs between whose cables the point lies: the distance stated, and the least there is.
    pub within: Vec<Within>,
}

/// What makes a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Phases of a turning motor.
    Turning,
    /// Phases of a motor that hardly turns or stands: as good as direct current.
    Standstill,
    /// Direct current.
    Steady,
    /// What the inverter's switching leaves on the direct current.
    Ripple,
}

impl Kind {
    /// What people call it.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Turning => "phases",
            Kind::Standstill => "phases at standstill",
            Kind::Steady => "direct current",
            Kind::Ripple => "ripple",
        }
    }

    /// Whether its field stands still.
    pub fn stands(self) -> bool {
        matches!(self, Kind::Standstill | Kind::Steady)
    }
}

/// Published levels for anyone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Levels {
    /// ICNIRP 2010, and 2009 for standing fields.
    Guideline,
    /// 1999/519/EC.
    Recommendation,
}

impl Levels {
    /// Both, in the order of [`Part::worst`].
    pub const ALL: [Levels; 2] = [Levels::Guideline, Levels::Recommendation];

    /// What people call them.
    pub fn word(self) -> &'static str {
        match self {
            Levels::Guideline => "ICNIRP 2010",
            Levels::Recommendation => "1999/519/EC",
        }
    }

    /// The level at a frequency.
    pub fn level_ut(self, frequency_hz: f64) -> f64 {
        match self {
            Levels::Guideline => exposure::icnirp_2010_ut(Who::Public, frequency_hz),
            Levels::Recommendation => exposure::recommendation_1999_ut(frequency_hz),
        }
    }
}

/// What one run adds by one kind of current.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Run id.
    pub run: String,
    /// What makes the field.
    pub kind: Kind,
    /// From the point to the middle of its cables.
    pub distance_mm: f64,
    /// Between neighbouring axes.
    pub spacing_mm: f64,
    /// The moment that is worst against each of [`Levels::ALL`].
    pub worst: [Worst; 2],
}

/// A moment and its field.
#[derive(Clone, Debug, PartialEq)]
pub struct Worst {
    /// "continuous", "peak", "climb after 12 s".
    pub when: String,
    /// Current of each cable.
    pub current_a_rms: f64,
    /// Its frequency; zero where it stands.
    pub frequency_hz: f64,
    /// The field, rms.
    pub field_ut: f64,
    /// The level it is held against.
    pub level_ut: f64,
}

impl Worst {
    /// Field over level.
    pub fn share(&self) -> f64 {
        self.field_ut / self.level_ut
    }
}

/// Something that is not known and would add to the field.
#[derive(Clone, Debug, PartialEq)]
pub struct Lack {
    /// Run id.
    pub run: String,
    /// What: "the frequency of run phases".
    pub what: String,
    /// How to find out.
    pub hint: &'static str,
}

/// A run between whose cables the point lies.
#[derive(Clone, Debug, PartialEq)]
pub struct Within {
    /// Run id.
    pub run: String,
    /// As stated.
    pub distance_mm: f64,
    /// From the middle of the cables to the outermost surface.
    pub least_mm: f64,
    /// Where it is stated.
    pub at: Place,
}

impl FieldPoint {
    /// What alternates, as the sum of its shares of the levels.
    pub fn alternating(&self, levels: Levels) -> f64 {
        self.sum(levels, |p| !p.kind.stands(), Worst::share)
    }

    /// What alternates, in microtesla, each part at its moment that is worst against those levels.
    pub fn alternating_ut(&self, levels: Levels) -> f64 {
        self.sum(levels, |p| !p.kind.stands(), |w| w.field_ut)
    }

    /// What stands, in microtesla.
    pub fn standing_ut(&self) -> f64 {
        self.sum(Levels::Guideline, |p| p.kind.stands(), |w| w.field_ut)
    }

    /// What stands over its level.
    pub fn standing(&self, levels: Levels) -> f64 {
        self.standing_ut() / levels.level_ut(0.0)
    }

    /// The greater of both.
    pub fn share(&self, levels: Levels) -> f64 {
        self.alternating(levels).max(self.standing(levels))
    }

    /// What stands, over the 0.5 mT that disturb no implant as a rule.
    pub fn implants_standing(&self) -> f64 {
        self.standing_ut() / exposure::STATIC_IMPLANTS_UT
    }

    /// Over what implants are held to bear: 0.5 mT standing, 1999/519/EC alternating.
    pub fn implants(&self) -> f64 {
        self.implants_standing().max(self.alternating(Levels::Recommendation))
    }

    /// Whether all that was asked is known.
    pub fn is_known(&self) -> bool {
        self.lacks.is_empty() && self.within.is_empty()
    }

    fn sum(
        &self,
        levels: Levels,
        counts: impl Fn(&Part) -> bool,
        of: impl Fn(&Worst) -> f64,
    ) -> f64 {
        let parts = self.parts.iter().filter(|p| counts(p));
        parts.map(|p| of(&p.worst[levels as usize])).sum()
    }

    fn lack(&mut self, run: &str, what: String, hint: &'static str) {
        self.lacks.push(Lack { run: run.to_owned(), what, hint });
    }
}

/// Where nothing in the document would change an assumption.
const METHOD: &str = "of the method";

/// Works out the field at every point that is named.
pub fn at_points(
    parts: &Parts<'_>,
    lengths: &[RunLength],
    course: Option<&Course>,
    sizes: &[SizedRun],
    notes: &mut Notes,
) -> Vec<FieldPoint> {
    let around = Around { parts, lengths, course, sizes };
    let points: Vec<FieldPoint> =
        parts.build.field_points.iter().map(|given| around.point(given, notes)).collect();
    if !points.is_empty() {
        assume(notes);
    }
    points
}

fn assume(notes: &mut Notes) {
    notes.assume(
        "runs beside a point",
        "straight, turned and shifted in the most unlucky way, closed at their ends in the boxes",
        "what is known of them is their length and how they lie; no way they can lie straight makes more",
        METHOD,
    );
    notes.assume(
        "fields of several runs",
        "added as if all pointed one way, each at its worst moment",
        "their true sum is no greater",
        METHOD,
    );
    notes.assume(
        "screens and sheet steel between run and point",
        "count for nothing",
        "they mostly lower an alternating field and hardly a standing one",
        METHOD,
    );
    notes.assume(
        "what else makes a field",
        "not counted: motor, inverter, battery, charger, and what is not sinusoidal in the phases",
        "nothing of the build describes their field; measure it in the finished vehicle",
        METHOD,
    );
}

/// All that a field follows from.
struct Around<'a> {
    parts: &'a Parts<'a>,
    lengths: &'a [RunLength],
    course: Option<&'a Course>,
    sizes: &'a [SizedRun],
}

/// When a current flows.
#[derive(Clone, Copy)]
enum When {
    Continuous,
    Peak,
    Driven { stretch: usize, row: usize },
}

/// A current at some time.
#[derive(Clone, Copy)]
struct Moment {
    when: When,
    current_a_rms: f64,
    frequency_hz: f64,
}

/// A run as the point sees it.
struct Seen<'r> {
    run: &'r RunParts<'r>,
    distance_mm: f64,
    spacing_mm: f64,
    /// The worst field of one ampere.
    ut_per_a: f64,
}

impl Around<'_> {
    fn point(&self, given: &FieldPointGiven, notes: &mut Notes) -> FieldPoint {
        let id = given.id.value.clone();
        let mut point = FieldPoint {
            name: given.name.as_ref().map_or_else(|| id.clone(), |n| n.value.clone()),
            id,
            at: given.id.at,
            parts: Vec::new(),
            lacks: Vec::new(),
            within: Vec::new(),
        };
        for (i, run) in self.parts.runs.iter().enumerate() {
            if let Some(seen) = self.seen(given, i, run, &mut point, notes) {
                self.currents(&seen, &mut point);
            }
        }
        for part in &point.parts {
            work(&point, part, notes);
        }
        point
    }

    fn seen<'r>(
        &self,
        given: &FieldPointGiven,
        index: usize,
        run: &'r RunParts<'r>,
        point: &mut FieldPoint,
        notes: &mut Notes,
    ) -> Option<Seen<'r>> {
        let id = &run.run.id.value;
        let named =
            |list: &[(crate::given::build::At<String>, crate::given::build::At<f64>)]| {
                list.iter().find(|(name, _)| name.value == *id).map(|(_, mm)| mm.clone())
            };
        let Some(distance) = named(&given.distances_mm) else {
            point.lack(
                id,
                format!("its distance to run {id}"),
                "measure from the point to the middle of the run's cables where they pass nearest: `distances`; \
                 it settles the field there",
            );
            return None;
        };
        let arrangement = match (run.carries, run.cables.len(), run.lie) {
            (Carries::Dc, 2, _) => Arrangement::Pair,
            (Carries::Phases, 3, Lie::Trefoil) => Arrangement::Trefoil,
            (Carries::Phases, 3, _) => Arrangement::Flat,
            _ => {
                let hint =
                    "the law knows a pair and three phases; name the terminals of both ends";
                point.lack(id, format!("which cables run {id} has"), hint);
                return None;
            }
        };
        let cable = self.sizes.get(index).and_then(|s| s.cable.as_ref());
        let stated_mm = named(&given.spacings_mm).map(|mm| mm.value);
        let Some(spacing_mm) =
            stated_mm.or(cable.map(|c| self.spacing(given, run, c.diameter_mm(), notes)))
        else {
            let hint = "what settles the size of the cable settles it too; or state it under `spacings`";
            point.lack(id, format!("how far apart the cables of run {id} lie"), hint);
            return None;
        };
        let least_mm =
            arrangement.reach_mm(spacing_mm) + cable.map_or(0.0, |c| 0.5 * c.diameter_mm());
        if distance.value <= least_mm {
            let (run, at) = (id.clone(), distance.at);
            point.within.push(Within { run, distance_mm: distance.value, least_mm, at });
            return None;
        }
        let straight = StraightRun {
            arrangement,
            spacing_mm,
            current_a_rms: 1.0,
            reach_mm: self.lengths.get(index).and_then(|l| l.path_mm).map(|mm| [0.5 * mm; 2]),
        };
        let ut_per_a = straight.anywhere_ut_rms(distance.value);
        Some(Seen { run, distance_mm: distance.value, spacing_mm, ut_per_a })
    }

    fn spacing(
        &self,
        given: &FieldPointGiven,
        run: &RunParts<'_>,
        diameter_mm: f64,
        notes: &mut Notes,
    ) -> f64 {
        match run.lie {
            Lie::Flat | Lie::Trefoil => diameter_mm,
            Lie::Spaced | Lie::Vertical => {
                notes.assume(
                    &format!(
                        "middle to middle of the cables of run {} at {}",
                        run.run.id.value, given.id.value
                    ),
                    &show(2.0 * diameter_mm, Dimension::Length, self.parts.units),
                    "a diameter between them; the field grows as they part",
                    &format!("field.point.{}.spacings", given.id.value),
                );
                2.0 * diameter_mm
            }
        }
    }

    /// Adds what every kind of current of a run does at the point.
    fn currents(&self, seen: &Seen<'_>, point: &mut FieldPoint) {
        let id = &seen.run.run.id.value;
        let Some(moments) = self.moments(seen.run) else {
            point.lack(
                id,
                format!("the current of run {id}"),
                "state `current` and `peak` of the run, or tell how the vehicle is driven: [duty]",
            );
            return;
        };
        let Some(moments) = moments.into_iter().collect::<Option<Vec<Moment>>>() else {
            point.lack(
                id,
                format!("the electrical frequency of run {id}"),
                "motor speed in rev/min x pole pairs / 60: `frequency`; the levels fall with it",
            );
            return;
        };
        match seen.run.carries {
            Carries::Phases => {
                let (turning, slow): (Vec<Moment>, Vec<Moment>) =
                    moments.into_iter().partition(|m| exposure::SLOWEST_HZ <= m.frequency_hz);
                self.add(seen, Kind::Turning, &turning, point);
                let slow: Vec<Moment> = slow.into_iter().map(|m| self.at_crest(m)).collect();
                self.add(seen, Kind::Standstill, &slow, point);
            }
            Carries::Dc => {
                self.add(seen, Kind::Steady, &moments, point);
                self.ripple(seen, point);
            }
        }
    }

    /// A field that hardly turns shows its crest; a stall in the course holds the crest already.
    fn at_crest(&self, moment: Moment) -> Moment {
        let stalled = matches!(moment.when, When::Driven { .. }) && moment.frequency_hz == 0.0;
        let crest = if stalled { 1.0 } else { 2f64.sqrt() };
        Moment { current_a_rms: crest * moment.current_a_rms, frequency_hz: 0.0, ..moment }
    }

    /// All currents of a run; none where one is not known, none in it where its frequency is not.
    fn moments(&self, run: &RunParts<'_>) -> Option<Vec<Option<Moment>>> {
        let moment = |when, current_a_rms, frequency_hz: Option<f64>| {
            frequency_hz.map(|frequency_hz| Moment { when, current_a_rms, frequency_hz })
        };
        if let Some(current) = &run.run.current_a_rms {
            let hz = run.frequency_hz.filter(|f| *f <= exposure::FASTEST_HZ);
            let mut all = vec![moment(When::Continuous, current.value, hz)];
            all.extend(run.run.peak_a_rms.as_ref().map(|p| moment(When::Peak, p.value, hz)));
            return Some(all);
        }
        let course = self.course.filter(|c| !c.stretches.is_empty())?;
        let mut all = Vec::new();
        for (stretch, driven) in course.stretches.iter().enumerate() {
            if !driven.known.current(run.carries) {
                return None;
            }
            let turns = run.carries == Carries::Phases;
            for (row, r) in driven.rows.iter().enumerate() {
                let (a, hz) = match turns {
                    true => (r.phase_a_rms, driven.known.frequency.then_some(r.frequency_hz)),
                    false => (r.dc_a.abs(), Some(0.0)),
                };
                let hz = hz.filter(|f| *f <= exposure::FASTEST_HZ);
                all.push(moment(When::Driven { stretch, row }, a, hz));
            }
        }
        Some(all)
    }

    /// Adds the moments that are worst against the levels.
    fn add(&self, seen: &Seen<'_>, kind: Kind, moments: &[Moment], point: &mut FieldPoint) {
        let flowing = || moments.iter().filter(|m| 0.0 < m.current_a_rms);
        if flowing().next().is_none() {
            return;
        }
        let worst = Levels::ALL.map(|levels| {
            let share = |m: &Moment| m.current_a_rms / levels.level_ut(m.frequency_hz);
            let worst = flowing()
                .reduce(|a, b| if share(a) >= share(b) { a } else { b })
                .expect("some current flows");
            Worst {
                when: self.when(worst.when),
                current_a_rms: worst.current_a_rms,
                frequency_hz: worst.frequency_hz,
                field_ut: seen.ut_per_a * worst.current_a_rms,
                level_ut: levels.level_ut(worst.frequency_hz),
            }
        });
        point.parts.push(Part {
            run: seen.run.run.id.value.clone(),
            kind,
            distance_mm: seen.distance_mm,
            spacing_mm: seen.spacing_mm,
            worst,
        });
    }

    fn when(&self, when: When) -> String {
        match when {
            When::Continuous => "continuous".to_owned(),
            When::Peak => "peak".to_owned(),
            When::Driven { stretch, row } => {
                let driven = self.course.and_then(|c| c.stretches.get(stretch));
                driven.map_or_else(String::new, |s| {
                    let time_s = s.rows.get(row).map_or(0.0, |r| r.time_s);
                    format!(
                        "{} after {}",
                        s.name,
                        show(time_s, Dimension::Time, self.parts.units)
                    )
                })
            }
        }
    }

    /// The ripple that the inverter leaves in a DC pair: as driven, else the most the phases can make.
    fn ripple(&self, seen: &Seen<'_>, point: &mut FieldPoint) {
        let id = &seen.run.run.id.value;
        let Some(capacitor) = self.capacitor() else { return };
        let lack = |point: &mut FieldPoint, hint| {
            point.lack(id, format!("the ripple in run {id}"), hint);
        };
        let build = self.parts.build;
        let carrier = build.motor.as_ref().and_then(|m| m.carrier_hz.as_ref());
        let protection = build.protection.as_ref();
        let (Some(carrier), Some(farad), Some(henry)) = (
            carrier,
            protection.and_then(|p| p.capacitance_f.as_ref()),
            protection.and_then(|p| p.source_inductance_h.as_ref()),
        ) else {
            let hint = "state `carrier` under [motor], `capacitance` and `source-inductance` under [protection]";
            return lack(point, hint);
        };
        let ripple_hz = 2.0 * carrier.value;
        let resonance_hz = ripple::resonance_hz(henry.value, farad.value);
        if ripple_hz < RESONANCE_APART * resonance_hz {
            let hint =
                "it lies near the resonance of battery and capacitor: measure it in the cable";
            return lack(point, hint);
        }
        if exposure::FASTEST_HZ < ripple_hz {
            return lack(
                point,
                "it lies above 100 kHz, where these levels end: measure the field",
            );
        }
        let share = ripple::cable_share(ripple_hz, resonance_hz);
        let in_cable = |m: Moment| Moment {
            current_a_rms: share * m.current_a_rms,
            frequency_hz: ripple_hz,
            ..m
        };
        let moments: Vec<Moment> = capacitor.into_iter().map(in_cable).collect();
        self.add(seen, Kind::Ripple, &moments, point);
    }

    /// Ripple in the link's capacitor; none where no phases make any.
    fn capacitor(&self) -> Option<Vec<Moment>> {
        let mut driven = Vec::new();
        for (stretch, of) in self.course.iter().flat_map(|c| c.stretches.iter().enumerate()) {
            for (row, r) in of.rows.iter().enumerate().filter(|(_, r)| 0.0 < r.ripple_a) {
                let when = When::Driven { stretch, row };
                driven.push(Moment { when, current_a_rms: r.ripple_a, frequency_hz: 0.0 });
            }
        }
        if !driven.is_empty() {
            return Some(driven);
        }
        let phases: Vec<&RunParts<'_>> =
            self.parts.runs.iter().filter(|r| r.carries == Carries::Phases).collect();
        let most = |m: Moment| Moment {
            current_a_rms: ripple::capacitor_a_rms_most(m.current_a_rms),
            ..m
        };
        (!phases.is_empty()).then(|| {
            let all = phases.iter().filter_map(|r| self.moments(r)).flatten().flatten();
            all.map(most).collect()
        })
    }
}

fn work(point: &FieldPoint, part: &Part, notes: &mut Notes) {
    let q = Quantity::new;
    let worst = &part.worst[Levels::Guideline as usize];
    notes.work(Worked {
        what: format!("magnetic field at {}, {}", point.name, part.kind.word()),
        about: About::run(&part.run),
        value: q(worst.field_ut, Dimension::FluxDensity),
        law: "B = |sum of mu0 I / (4 pi d) (cos a1 - cos a2)| over the cables, phases as phasors, worst place and turn",
        inputs: vec![
            ("I", q(worst.current_a_rms, Dimension::Current)),
            ("f", q(worst.frequency_hz, Dimension::Frequency)),
            ("d", q(part.distance_mm, Dimension::Length)),
            ("s", q(part.spacing_mm, Dimension::Length)),
        ],
        source: "exact",
    });
}
