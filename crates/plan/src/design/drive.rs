//! How the vehicle is driven, second by second: torque, speed and currents.
//!
//! A published cycle or a log goes through the vehicle's road load, the machine's least current and the battery's
//! sag. What a log already holds is taken as logged. Cases harder than the drive stand beside it. What the drive
//! cannot do is said exactly, and the course goes on with what it can.

mod judge;
mod setup;

use physics::duty::chain::{Drive, Limit, Machine, Operated};
use physics::duty::ripple;
use physics::duty::vehicle::{GRAVITY_M_S2, Interval, Moment, Vehicle, Work, work};
use physics::duty::windows::Piece;
use physics::units::{Dimension, show_both};

pub use self::judge::RESONANCE_APART;
use self::setup::{gearing, missing};
use crate::finding::{Notes, Place};
use crate::given::build::{Carries, DutyGiven, Hard, Logged, Maybe};
use crate::given::parts::Parts;

/// How the vehicle is driven.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Course {
    /// The drive that is repeated, if there is one, then the hard cases.
    pub stretches: Vec<Stretch>,
    /// What the drive can give, from standstill to its greatest speed; empty where no motor is computed or no
    /// current limit of it is known.
    pub reach: Vec<Reach>,
    /// Greatest phase current that motor and inverter allow.
    pub current_a_rms_max: Option<f64>,
}

/// The most and the least torque at a speed, from a full battery.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Speed of the motor.
    pub speed_rpm: f64,
    /// Driving.
    pub torque_nm_most: f64,
    /// Braking; negative.
    pub torque_nm_least: f64,
}

/// One drive, or one hard case.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// What people call it: "wltc-3b", "climb".
    pub name: String,
    /// Repeated for ever; a hard case happens once, warm from the drive.
    pub repeats: bool,
    /// Which of its currents are known; the others stand as zero and mean nothing.
    pub known: Known,
    /// Interval by interval.
    pub rows: Vec<Row>,
    /// What the wheels took, where they were computed.
    pub work: Option<Work>,
    /// Where the drive gave less than was asked.
    pub missed: Vec<Missed>,
    /// The driver may ask for more than there is: what there is flows, and that is no failing.
    pub may_miss: bool,
}

/// What is known of a stretch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Known {
    /// Phase current.
    pub phases: bool,
    /// Electrical frequency.
    pub frequency: bool,
    /// DC current.
    pub dc: bool,
}

impl Known {
    const ALL: Known = Known { phases: true, frequency: true, dc: true };

    /// Whether the current of such a run is known.
    pub fn current(self, carries: Carries) -> bool {
        match carries {
            Carries::Phases => self.phases,
            Carries::Dc => self.dc,
        }
    }
}

/// One interval of a stretch.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Row {
    /// When it begins.
    pub time_s: f64,
    /// How long it lasts.
    pub duration_s: f64,
    /// Speed of the vehicle.
    pub speed_m_s: f64,
    /// Force asked at the wheels; negative while braking.
    pub force_n: f64,
    /// Torque of the motor.
    pub torque_nm: f64,
    /// Speed of the motor.
    pub speed_rpm: f64,
    /// Phase current; the upper edge of the band where only the nameplate is known.
    pub phase_a_rms: f64,
    /// The lower edge of that band.
    pub phase_a_rms_least: f64,
    /// Electrical frequency.
    pub frequency_hz: f64,
    /// DC current; negative while charging.
    pub dc_a: f64,
    /// DC voltage under load.
    pub dc_v: f64,
    /// Ripple that the inverter's switching puts on the link, rms; zero where the motor's voltage is not known.
    pub ripple_a: f64,
}

impl Stretch {
    fn new(name: &str, repeats: bool) -> Stretch {
        Stretch {
            name: name.to_owned(),
            repeats,
            known: Known::ALL,
            rows: Vec::new(),
            work: None,
            missed: Vec::new(),
            may_miss: false,
        }
    }

    /// The one that is worst missed, the first of equals; it stands for all of the stretch.
    pub fn worst_missed(&self) -> Option<&Missed> {
        let short = |m: &Missed| (m.asked_nm - m.left_nm).abs();
        self.missed.iter().reduce(|a, b| if short(a) >= short(b) { a } else { b })
    }

    /// The current of one cable of a run, piece by piece.
    pub fn pieces(&self, carries: Carries) -> Vec<Piece> {
        self.rows
            .iter()
            .map(|row| match carries {
                Carries::Phases => (row.duration_s, row.phase_a_rms),
                Carries::Dc => (row.duration_s, row.dc_a.abs()),
            })
            .collect()
    }

    /// The one frequency that stands for all, weighted by what each second heats: √(Σ I²f² / Σ I²).
    ///
    /// Exact while the extra loss grows with the square of the frequency, and cautious above, where it grows less.
    pub fn frequency_hz(&self, carries: Carries) -> f64 {
        if carries == Carries::Dc {
            return 0.0;
        }
        let (mut heat, mut fast) = (0.0, 0.0);
        for row in &self.rows {
            let share = row.duration_s * row.phase_a_rms * row.phase_a_rms;
            heat += share;
            fast += share * row.frequency_hz * row.frequency_hz;
        }
        if heat == 0.0 { 0.0 } else { (fast / heat).sqrt() }
    }

    /// How long it lasts.
    pub fn duration_s(&self) -> f64 {
        self.rows.iter().map(|r| r.duration_s).sum()
    }

    fn push(&mut self, row: Row) {
        let time_s = self.rows.last().map_or(0.0, |r| r.time_s + r.duration_s);
        self.rows.push(Row { time_s, ..row });
    }
}

/// Drives the vehicle; none where the build has no duty.
pub fn drive(parts: &Parts<'_>, notes: &mut Notes) -> Option<Course> {
    let duty = parts.build.duty.as_ref()?;
    let driver = Driver { parts, duty, vehicle: None, drive: None, gearing: None };
    Some(driver.prepared(notes).course(notes))
}

/// Wheel to motor.
#[derive(Clone, Copy, Debug)]
struct Gearing {
    radius_m: f64,
    gear: f64,
    efficiency: f64,
    regeneration: f64,
}

struct Driver<'a> {
    parts: &'a Parts<'a>,
    duty: &'a DutyGiven,
    vehicle: Option<Vehicle>,
    drive: Option<Drive>,
    gearing: Option<Gearing>,
}

/// An interval in which the drive gave less than was asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Missed {
    /// When it begins.
    pub time_s: f64,
    /// Torque that was asked.
    pub asked_nm: f64,
    /// Speed of the motor.
    pub speed_rpm: f64,
    /// Torque that was given.
    pub left_nm: f64,
    /// What held it back.
    pub limit: Limit,
}

impl Missed {
    /// What held it back, in words.
    pub fn by(&self) -> &'static str {
        match self.limit {
            Limit::Voltage => "the voltage",
            Limit::Current => "the current limit",
            Limit::Battery => "the battery",
        }
    }
}

/// What is asked of the drive in an interval.
#[derive(Clone, Copy)]
struct Asked {
    duration_s: f64,
    speed_m_s: f64,
    force_n: f64,
    torque_nm: f64,
    speed_rpm: f64,
}

fn value(maybe: &Maybe<f64>) -> Option<f64> {
    maybe.as_ref().map(|m| m.value)
}

impl<'a> Driver<'a> {
    fn prepared(mut self, notes: &mut Notes) -> Driver<'a> {
        let build = self.parts.build;
        if self.needs_motor() {
            self.drive = self.drive_of(notes);
        }
        if self.needs_vehicle() {
            match &build.vehicle {
                Some(vehicle) => {
                    self.vehicle = self.vehicle_of(vehicle, notes);
                    self.gearing = gearing(vehicle, notes);
                }
                None => missing(
                    self.duty.at,
                    "vehicle-unknown",
                    "the vehicle",
                    "state it: [vehicle] with mass, road-load-a, -b, -c or drag-area and rolling, \
                     wheel-radius, gear",
                    notes,
                ),
            }
        }
        self
    }

    fn log(&self) -> Option<&'a Logged> {
        self.duty.log.as_ref()
    }

    /// Whether the wheels must be computed.
    fn needs_vehicle(&self) -> bool {
        let logged =
            self.log().is_some_and(|log| self.lacks_current(log) && log.torque_nm.is_empty());
        self.duty.cycle.is_some() || logged || !self.duty.hard.is_empty()
    }

    /// Whether a current must be computed.
    fn needs_motor(&self) -> bool {
        let logged = self.log().is_some_and(|log| self.lacks_current(log));
        self.duty.cycle.is_some() || logged || !self.duty.hard.is_empty()
    }

    /// Whether a run needs a current that the log has not.
    fn lacks_current(&self, log: &Logged) -> bool {
        self.parts.runs.iter().any(|run| {
            run.run.current_a_rms.is_none()
                && match run.carries {
                    Carries::Phases => log.phase_a_rms.is_empty(),
                    Carries::Dc => log.dc_a.is_empty(),
                }
        })
    }

    fn course(&self, notes: &mut Notes) -> Course {
        let mut course = Course::default();
        let mut missed: Vec<(String, Missed, usize)> = Vec::new();
        if let Some(cycle) = &self.duty.cycle {
            let made = self.wheels(cycle.value.name(), true, &cycle.value.table());
            keep(made, &mut course, &mut missed);
        }
        match (&self.duty.file, self.log()) {
            (Some(file), Some(log)) => {
                self.judge_log(file.at, log, notes);
                keep(self.logged(log), &mut course, &mut missed);
            }
            (Some(file), None) => missing(
                file.at,
                "log-unread",
                "what the log holds",
                "the file was not read with the build",
                notes,
            ),
            (None, _) => {}
        }
        for hard in &self.duty.hard {
            let made = match hard.value {
                Hard::Kerb => self.kerb(notes),
                Hard::Climb => self.climb(notes),
                Hard::Launch => self.launch(notes),
                Hard::TopSpeed => self.top_speed(hard.at, notes),
            };
            keep(made, &mut course, &mut missed);
        }
        self.judge_torque(&missed, notes);
        self.judge_speed(&course, notes);
        self.judge_voltage(&course, notes);
        self.judge_ripple(&course, notes);
        self.note_work(&course, notes);
        course.reach = self.reach(&course);
        course.current_a_rms_max =
            self.drive.map(|d| d.current_a_rms_max).filter(|a| a.is_finite());
        course
    }

    /// A table through vehicle, gear, machine and battery.
    fn wheels(&self, name: &str, repeats: bool, table: &[Moment]) -> Option<Stretch> {
        let (vehicle, gearing) = (self.vehicle?, self.gearing?);
        self.drive?;
        let intervals = vehicle.drive(table);
        let mut made = Stretch::new(name, repeats);
        for interval in &intervals {
            let (torque_nm, speed_rpm) = gearing.motor(interval);
            let Interval { duration_s, speed_m_s, force_n, .. } = *interval;
            let asked = Asked { duration_s, speed_m_s, force_n, torque_nm, speed_rpm };
            self.second(&mut made, &asked);
        }
        made.work = Some(work(&intervals));
        Some(made)
    }

    fn second(&self, made: &mut Stretch, asked: &Asked) {
        let Some(drive) = &self.drive else { return };
        let (operated, limit) = drive.operate(asked.torque_nm, asked.speed_rpm);
        if let Some(limit) = limit {
            let missed = Missed {
                time_s: made.duration_s(),
                asked_nm: asked.torque_nm,
                speed_rpm: asked.speed_rpm,
                left_nm: operated.torque_nm,
                limit,
            };
            made.missed.push(missed);
        }
        made.push(row(&operated, asked));
    }

    /// The drive's own limits over its speed.
    fn reach(&self, course: &Course) -> Vec<Reach> {
        // Enough for a smooth line on paper, and few enough to take no time.
        const SPEEDS: u32 = 24;
        // Less than a line on paper is wide.
        const WITHIN_NM: f64 = 0.25;
        let Some(drive) = &self.drive else { return Vec::new() };
        // Without a current limit a slow motor knows no end, and a line there would be ours, not the motor's.
        let plate = matches!(drive.machine, Machine::Nameplate(_));
        if !plate && !drive.current_a_rms_max.is_finite() {
            return Vec::new();
        }
        let rows = course.stretches.iter().flat_map(|s| &s.rows);
        let fastest = rows.map(|r| r.speed_rpm).fold(0.0, f64::max);
        let stated = self.parts.build.motor.as_ref().and_then(|m| value(&m.speed_rpm_max));
        let most_rpm = stated.unwrap_or(fastest).max(fastest);
        if most_rpm <= 0.0 {
            return Vec::new();
        }
        let (mut most, mut least) = (100.0, -100.0);
        (0..=SPEEDS)
            .map(|k| most_rpm * f64::from(k) / f64::from(SPEEDS))
            .map(|speed_rpm| {
                // Each speed is a good guess for the next.
                most = drive.torque_limit_nm(speed_rpm, f64::max(most, 1.0), WITHIN_NM);
                least = drive.torque_limit_nm(speed_rpm, f64::min(least, -1.0), WITHIN_NM);
                Reach { speed_rpm, torque_nm_most: most, torque_nm_least: least }
            })
            .collect()
    }

    /// A log: what it holds is taken, what it lacks is computed from what it holds.
    fn logged(&self, log: &Logged) -> Option<Stretch> {
        let mut made = Stretch::new("log", true);
        let table: Vec<Moment> = log
            .time_s
            .iter()
            .enumerate()
            .map(|(i, t)| Moment {
                time_s: *t,
                speed_m_s: log.speed_m_s.get(i).copied().unwrap_or(0.0).max(0.0),
                grade: log.grade.get(i).copied().unwrap_or(0.0),
            })
            .collect();
        let intervals = match (self.vehicle, log.speed_m_s.is_empty()) {
            (Some(vehicle), false) => vehicle.drive(&table),
            _ => Vec::new(),
        };
        let middle =
            |series: &[f64], i: usize| Some(0.5 * (series.get(i)? + series.get(i + 1)?));
        // A current that changes heats by its square.
        let heating = |series: &[f64], i: usize| {
            let (a, b) = (*series.get(i)?, *series.get(i + 1)?);
            Some(((a * a + a * b + b * b) / 3.0).max(0.0).sqrt().copysign(a + b))
        };
        for i in 0..log.time_s.len().saturating_sub(1) {
            let duration_s = log.time_s[i + 1] - log.time_s[i];
            let from_wheels = intervals.get(i).zip(self.gearing).map(|(w, g)| g.motor(w));
            let torque_nm = middle(&log.torque_nm, i).or(from_wheels.map(|w| w.0));
            let speed_rpm = middle(&log.speed_rpm, i).or(from_wheels.map(|w| w.1));
            let speed_m_s = middle(&log.speed_m_s, i).unwrap_or(0.0);
            let force_n = intervals.get(i).map_or(0.0, |w| w.force_n);
            match (torque_nm, speed_rpm) {
                (Some(torque_nm), Some(rpm)) if self.drive.is_some() => {
                    let speed_rpm = rpm.abs();
                    let asked = Asked { duration_s, speed_m_s, force_n, torque_nm, speed_rpm };
                    self.second(&mut made, &asked);
                }
                _ => made.push(Row {
                    duration_s,
                    speed_m_s,
                    force_n,
                    torque_nm: torque_nm.unwrap_or(0.0),
                    speed_rpm: speed_rpm.unwrap_or(0.0),
                    ..Row::default()
                }),
            }
            let row = made.rows.last_mut().expect("a row was pushed");
            if let Some(a) = heating(&log.phase_a_rms, i) {
                (row.phase_a_rms, row.phase_a_rms_least) = (a.abs(), a.abs());
            }
            if let Some(hz) = middle(&log.frequency_hz, i) {
                row.frequency_hz = hz.abs();
            } else if let (Some(rpm), Some(pairs)) = (speed_rpm, self.pole_pairs()) {
                row.frequency_hz = pairs * rpm.abs() / 60.0;
            }
            row.dc_a = heating(&log.dc_a, i).unwrap_or(row.dc_a);
            row.dc_v = middle(&log.dc_v, i).unwrap_or(row.dc_v);
            let computed = self.drive.is_some() && torque_nm.is_some() && speed_rpm.is_some();
            let known = &mut made.known;
            known.phases &= computed || !log.phase_a_rms.is_empty();
            known.dc &= computed || !log.dc_a.is_empty();
            known.frequency &= computed
                || !log.frequency_hz.is_empty()
                || (speed_rpm.is_some() && self.pole_pairs().is_some());
        }
        Some(made)
    }

    fn pole_pairs(&self) -> Option<f64> {
        let pairs = self.parts.build.motor.as_ref()?.pole_pairs.as_ref()?;
        Some(f64::from(pairs.value))
    }

    /// A stalled motor turns no field: one phase may carry the crest for as long as it lasts.
    fn kerb(&self, notes: &mut Notes) -> Option<Stretch> {
        let (vehicle, gearing) = (self.vehicle?, self.gearing?);
        self.drive?;
        let mut a = Assumed { notes, units: self.parts.units };
        let height_m = a.or(
            &self.duty.kerb_mm,
            120.0,
            Dimension::Length,
            "height of the kerb",
            "kerb-height",
        ) / 1e3;
        let time_s = a.or(
            &self.duty.kerb_s,
            5.0,
            Dimension::Time,
            "time of a stall at a kerb",
            "kerb-time",
        );
        a.notes.assume(
            "weight on the driven wheels at a kerb",
            "half of the vehicle's",
            "one axle is driven; one phase of a stalled motor may carry the crest of the current",
            "duty.hard",
        );
        let r = gearing.radius_m;
        // Wheel torque that lifts the axle about the kerb's edge: W √(r² − (r − h)²), as steep as a wall at h = r.
        let below = (r - height_m).max(0.0);
        let lever_m = (r * r - below * below).max(0.0).sqrt();
        let wheel_nm = 0.5 * vehicle.mass_kg * GRAVITY_M_S2 * lever_m;
        let mut made = Stretch::new("kerb", false);
        let asked = Asked {
            duration_s: time_s,
            speed_m_s: 0.0,
            force_n: wheel_nm / r,
            torque_nm: wheel_nm / (gearing.gear * gearing.efficiency),
            speed_rpm: 0.0,
        };
        self.second(&mut made, &asked);
        made.may_miss = true;
        for row in &mut made.rows {
            row.phase_a_rms *= 2f64.sqrt();
            row.phase_a_rms_least *= 2f64.sqrt();
        }
        Some(made)
    }

    fn climb(&self, notes: &mut Notes) -> Option<Stretch> {
        let mut a = Assumed { notes, units: self.parts.units };
        let grade =
            a.or(&self.duty.grade, 0.12, Dimension::Ratio, "grade of the climb", "grade");
        let speed_m_s = a.or(
            &self.duty.climb_m_s,
            50.0 / 3.6,
            Dimension::Speed,
            "speed of the climb",
            "climb-speed",
        );
        let time_s = a.or(
            &self.duty.climb_s,
            600.0,
            Dimension::Time,
            "length of the climb",
            "climb-time",
        );
        self.wheels("climb", false, &steady(speed_m_s, grade, time_s))
    }

    fn launch(&self, notes: &mut Notes) -> Option<Stretch> {
        let count = self.duty.launches.as_ref().map_or_else(
            || {
                notes.assume(
                    "launches in a row",
                    "10",
                    "a hard case of ours (common practice, no source)",
                    "duty.launches",
                );
                10
            },
            |n| n.value,
        );
        let mut a = Assumed { notes, units: self.parts.units };
        let speed_m_s = a.or(
            &self.duty.launch_m_s,
            60.0 / 3.6,
            Dimension::Speed,
            "speed of a launch",
            "launch-speed",
        );
        let time_s =
            a.or(&self.duty.launch_s, 7.0, Dimension::Time, "time of a launch", "launch-time");
        let mut table = vec![Moment::default()];
        let mut add = |duration_s: f64, speed_m_s: f64| {
            let time_s = table.last().map_or(0.0, |m: &Moment| m.time_s) + duration_s;
            table.push(Moment { time_s, speed_m_s, grade: 0.0 });
        };
        // Ten steps up, the same braking time down, and a breath.
        for _ in 0..count {
            for k in 1..=10 {
                add(time_s / 10.0, speed_m_s * f64::from(k) / 10.0);
            }
            for k in (0..10).rev() {
                add(time_s / 10.0, speed_m_s * f64::from(k) / 10.0);
            }
            add(5.0, 0.0);
        }
        let mut made = self.wheels("launch", false, &table)?;
        made.may_miss = true;
        Some(made)
    }

    fn top_speed(&self, at: Place, notes: &mut Notes) -> Option<Stretch> {
        let of_motor = self
            .parts
            .build
            .motor
            .as_ref()
            .and_then(|m| value(&m.speed_rpm_max))
            .zip(self.gearing)
            .map(|(rpm, g)| rpm * std::f64::consts::PI / 30.0 * g.radius_m / g.gear);
        let Some(speed_m_s) = value(&self.duty.top_m_s).or(of_motor) else {
            missing(
                at,
                "top-speed-unknown",
                "the greatest speed",
                "state `top-speed` under [duty], or `speed-max` under [motor]",
                notes,
            );
            return None;
        };
        let mut a = Assumed { notes, units: self.parts.units };
        let time_s = a.or(
            &self.duty.top_s,
            600.0,
            Dimension::Time,
            "time at the greatest speed",
            "top-time",
        );
        self.wheels("top-speed", false, &steady(speed_m_s, 0.0, time_s))
    }
}

fn keep(made: Option<Stretch>, course: &mut Course, missed: &mut Vec<(String, Missed, usize)>) {
    let Some(made) = made else { return };
    if let Some(worst) = made.worst_missed().filter(|_| !made.may_miss) {
        missed.push((made.name.clone(), *worst, made.missed.len()));
    }
    if !made.rows.is_empty() {
        course.stretches.push(made);
    }
}

fn row(operated: &Operated, asked: &Asked) -> Row {
    Row {
        time_s: 0.0,
        duration_s: asked.duration_s,
        speed_m_s: asked.speed_m_s,
        force_n: asked.force_n,
        torque_nm: operated.torque_nm,
        speed_rpm: asked.speed_rpm,
        phase_a_rms: operated.phase_a_rms,
        phase_a_rms_least: operated.phase_a_rms_least,
        frequency_hz: operated.frequency_hz,
        dc_a: operated.dc_a,
        dc_v: operated.dc_v,
        ripple_a: ripple::capacitor_a_rms(
            operated.phase_a_rms,
            operated.modulation,
            operated.power_factor,
        ),
    }
}

fn steady(speed_m_s: f64, grade: f64, time_s: f64) -> Vec<Moment> {
    vec![Moment { time_s: 0.0, speed_m_s, grade }, Moment { time_s, speed_m_s, grade }]
}

impl Gearing {
    /// Torque and speed of the motor for what the wheels do.
    fn motor(&self, wheels: &Interval) -> (f64, f64) {
        let at_wheel = wheels.force_n * self.radius_m / self.gear;
        let torque_nm = if at_wheel < 0.0 {
            at_wheel * self.efficiency * self.regeneration
        } else {
            at_wheel / self.efficiency
        };
        (torque_nm, wheels.speed_m_s / self.radius_m * self.gear * 30.0 / std::f64::consts::PI)
    }
}

/// Values assumed aloud.
struct Assumed<'n> {
    notes: &'n mut Notes,
    units: physics::units::System,
}

impl Assumed<'_> {
    fn or(
        &mut self,
        maybe: &Maybe<f64>,
        assumed: f64,
        dimension: Dimension,
        what: &str,
        key: &str,
    ) -> f64 {
        maybe.as_ref().map_or_else(
            || {
                self.notes.assume(
                    what,
                    &show_both(assumed, dimension, self.units),
                    "a hard case of ours (common practice, no source)",
                    &format!("duty.{key}"),
                );
                assumed
            },
            |m| m.value,
        )
    }
}
