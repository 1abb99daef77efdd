//! What a run is asked to carry, and where.
//!
//! Every value that is missing is a finding that says what to measure and what it would settle: a guessed
//! current or air would give a cable that looks right. What the method leaves out is said aloud here too.

use physics::duty::windows::{self, Piece};
use physics::units::Dimension;

use super::drive::Course;
use crate::finding::{About, Finding, Notes, Place, Verdict};
use crate::given::build::Carries;
use crate::given::parts::{Parts, RunParts};
use crate::given::shelf::{Cable, Standing};

/// What must be known before a run can be heated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duty {
    /// Continuous current of each cable.
    pub current_a: f64,
    /// Hottest air along the run.
    pub air_c: f64,
    /// Frequency; zero for direct current.
    pub frequency_hz: f64,
    /// Peak current and how long.
    pub peak: Option<(f64, f64)>,
}

/// What a driven vehicle puts through one cable of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Carried {
    /// Rms over the drive that is repeated, or over the hard case that has most where there is none.
    pub rms_a: f64,
    /// The same at the lower edge of the band, where only the motor's nameplate is known.
    pub rms_a_least: f64,
    /// The one frequency that stands for all; zero for direct current, none where the log does not tell it.
    pub frequency_hz: Option<f64>,
    /// Greatest rms over windows, shortest first.
    pub windows: Vec<Window>,
    /// The current over time: the drive that is repeated first, then the hard cases.
    pub series: Vec<Series>,
}

/// Greatest rms over a window.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// How long it is.
    pub seconds: f64,
    /// The rms.
    pub rms_a: f64,
    /// In which stretch it was found.
    pub stretch: String,
    /// When it begins there.
    pub begins_s: f64,
}

/// The current of one stretch over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    /// "wltc-3b", "climb".
    pub name: String,
    /// Repeated for ever, or once from warm.
    pub repeats: bool,
    /// Seconds and amperes, piece by piece.
    pub pieces: Vec<Piece>,
}

/// The windows told: what a lug, a fuse, a small and a large cable feel.
pub const WINDOWS_S: [f64; 4] = [10.0, 60.0, 600.0, 3600.0];

/// A window that is continuous for a fuse and most cables.
pub const LONG_S: f64 = 600.0;

impl Carried {
    /// The greatest rms over one of [`WINDOWS_S`].
    pub fn window(&self, seconds: f64) -> Option<&Window> {
        self.windows.iter().find(|w| w.seconds == seconds)
    }
}

/// What the duty puts through a run that states no current of its own.
pub fn carried(run: &RunParts<'_>, course: Option<&Course>) -> Option<Carried> {
    let course =
        course.filter(|c| run.run.current_a_rms.is_none() && !c.stretches.is_empty())?;
    let carries = run.carries;
    // A current that was neither logged nor computed is not zero but unknown.
    if !course.stretches.iter().all(|s| s.known.current(carries)) {
        return None;
    }
    let series: Vec<Series> = course
        .stretches
        .iter()
        .map(|s| Series { name: s.name.clone(), repeats: s.repeats, pieces: s.pieces(carries) })
        .collect();
    let frequency_hz = course
        .stretches
        .iter()
        .map(|s| (s.known.frequency || carries == Carries::Dc).then(|| s.frequency_hz(carries)))
        .try_fold(0.0, |most, one| Some(f64::max(most, one?)));
    let main = series.iter().position(|s| s.repeats).unwrap_or_else(|| {
        let rms = |i: usize| windows::rms(&series[i].pieces);
        (0..series.len()).fold(0, |a, b| if rms(b) > rms(a) { b } else { a })
    });
    let least: Vec<Piece> = course.stretches[main]
        .rows
        .iter()
        .map(|r| (r.duration_s, r.phase_a_rms_least))
        .collect();
    let rms_a = windows::rms(&series[main].pieces);
    let widest = |seconds: f64| {
        let found = series.iter().map(|s| {
            let (rms_a, begins_s) = match s.pieces.iter().map(|p| p.0).sum::<f64>() < seconds {
                // What happens once has the drive before and after it.
                true if !s.repeats => (diluted(&s.pieces, seconds, rms_a), 0.0),
                _ => windows::greatest_rms(&s.pieces, seconds),
            };
            Window { seconds, rms_a, stretch: s.name.clone(), begins_s }
        });
        found.reduce(|a, b| if a.rms_a >= b.rms_a { a } else { b })
    };
    Some(Carried {
        rms_a,
        rms_a_least: match carries {
            Carries::Phases => windows::rms(&least),
            Carries::Dc => rms_a,
        },
        frequency_hz,
        windows: WINDOWS_S.iter().filter_map(|s| widest(*s)).collect(),
        series,
    })
}

/// Rms over a window of which the pieces fill a part and the drive's rms the rest.
fn diluted(pieces: &[Piece], window_s: f64, rest_a: f64) -> f64 {
    let time_s: f64 = pieces.iter().map(|p| p.0).sum();
    let heat: f64 = pieces.iter().map(|(dt, i)| dt * i * i).sum();
    ((heat + (window_s - time_s) * rest_a * rest_a) / window_s).sqrt()
}

/// What must be known to heat a run; every missing value is a finding that says what to measure.
pub fn duty(
    parts: &Parts<'_>,
    run: &RunParts<'_>,
    carried: Option<&Carried>,
    notes: &mut Notes,
) -> Option<Duty> {
    let current_a = match carried {
        Some(carried) => Some(carried.rms_a),
        None => current_a(run, notes),
    };
    let air_c = run.air_c.filter(|c| AIR_C.contains(c));
    if air_c.is_none() {
        notes.find(unknown(
            run,
            "air-unknown",
            run.run.id.at,
            "the hottest air along",
            "hang a thermometer where the cable will lie and drive hard on a hot day: `air`; it settles \
             the size of the cable",
        ));
    }
    let frequency_hz = run
        .frequency_hz
        .or(carried.and_then(|c| c.frequency_hz))
        .filter(|f| (0.0..=1.0e6).contains(f));
    if frequency_hz.is_none() {
        notes.find(unknown(
            run,
            "frequency-unknown",
            run.run.id.at,
            "the electrical frequency of",
            "motor speed in rev/min x pole pairs / 60, at the speed where the stated current flows: \
             `frequency`; it settles the extra loss of alternating current",
        ));
    }
    let peak = peak(run, notes);
    let duty = Duty { current_a: current_a?, air_c: air_c?, frequency_hz: frequency_hz?, peak };
    assume(parts, run, &duty, notes);
    Some(duty)
}

/// Hours of class at its limit, ISO 6722-1 (memory).
pub const AT_LIMIT_HOURS: f64 = 3000.0;
/// Kelvin that halve the life of insulation (common practice).
pub const HALVES_K: f64 = 10.0;
/// Hours a car is driven in its life (common practice: 300 000 km at some 40 km/h).
pub const SERVICE_HOURS: f64 = 8000.0;
/// Thickness of solid copper that the braid of a screen is worth, mm (typical of screened vehicle cable, memory).
pub const SCREEN_MM: f64 = 0.25;

/// Where nothing in the document would change an assumption.
const METHOD: &str = "of the method";

/// Says aloud what is taken for granted when this run is heated.
fn assume(parts: &Parts<'_>, run: &RunParts<'_>, duty: &Duty, notes: &mut Notes) {
    let id = &run.run.id.value;
    if run.run.air_speed_m_per_s.is_none() {
        notes.assume(
            &format!("air speed along run {id}"),
            "still air",
            "a vehicle stands still when it is hottest, and moving air only cools more",
            &format!("run.{id}.air-speed"),
        );
    }
    assume_places(parts, run, notes);
    if duty.frequency_hz > 0.0 {
        notes.assume(
            "strands of alternating-current cables",
            "as one piece of metal",
            "plain strands touch; rope-lay cable may lose less, no measurement is published for \
             these frequencies",
            METHOD,
        );
        notes.assume(
            "current of the phases",
            "equal, sinusoidal",
            "the carrier's ripple adds a little loss, most in thick cables",
            METHOD,
        );
    }
    if run.run.current_a_rms.is_none() && duty.frequency_hz > 0.0 {
        notes.assume(
            &format!("frequency along the duty of run {id}"),
            "one for all, weighted by what each second heats",
            "exact while the extra loss grows with its square, cautious above",
            METHOD,
        );
    }
    if duty.peak.is_some() {
        notes.assume(
            "conductor at the start of a peak",
            "warm from the continuous current",
            "a peak may follow a long climb",
            METHOD,
        );
    }
    if let Some(cable) = run.choice.first() {
        assume_cable(parts, run, cable, duty, notes);
    }
}

/// The same about where the run lies and what it ends at.
fn assume_places(parts: &Parts<'_>, run: &RunParts<'_>, notes: &mut Notes) {
    let id = &run.run.id.value;
    if run.run.sections.is_empty() {
        notes.assume(
            &format!("surroundings of run {id}"),
            "free air: no sun, no closed box, nothing hotter than the air near by",
            "state as `air` what a thermometer reads where the cable will lie, all that heats it included; or say \
             section by section how it lies",
            &format!("run.{id}.section"),
        );
    }
    let ends = [(run.from, &run.run.from_end), (run.to, &run.run.to_end)];
    for (port, end) in ends.map(|(port, end)| (&parts.ports[port], end)) {
        let stated = (port.port.terminal_c.is_some(), end.joint_ohm.is_some());
        match stated {
            (false, _) => notes.assume(
                &format!("terminals of {}", port.name),
                "as warm as the cable",
                "a hotter terminal warms the last half metre of cable: measure one after the hardest drive",
                &format!("device.{}.terminal-temperature", port.name.replacen('.', ".port.", 1)),
            ),
            (true, false) => notes.assume(
                &format!("joints of run {id} at {}", port.name),
                "as much resistance as 50.8 mm of the cable, crimp included",
                "the drop rule of boat wiring; it also says how well heat passes",
                &format!("run.{id}"),
            ),
            (true, true) => {}
        }
    }
    if run.run.sections.iter().any(|s| s.sun.as_ref().is_some_and(|v| v.value)) {
        notes.assume(
            "sunshine",
            "1000 W/m2, nine tenths of it taken up",
            "a clear noon on a dull surface",
            METHOD,
        );
    }
    notes.assume(
        "ageing of insulation",
        &format!(
            "{} h at its limit, half as long for {} K more, {} h of service",
            run.run.ageing_hours.as_ref().map_or(AT_LIMIT_HOURS, |v| v.value),
            run.run.ageing_kelvin.as_ref().map_or(HALVES_K, |v| v.value),
            run.run.service_hours.as_ref().map_or(SERVICE_HOURS, |v| v.value),
        ),
        "basis of ISO 6722-1 (memory), a rule of the trade, and 300 000 km; an indication, not a promise",
        &format!("run.{id}.ageing-hours"),
    );
}

/// The same about the cable's family.
fn assume_cable(
    parts: &Parts<'_>,
    run: &RunParts<'_>,
    cable: &Cable,
    duty: &Duty,
    notes: &mut Notes,
) {
    let id = &run.run.id.value;
    if cable.screened && duty.frequency_hz > 0.0 {
        notes.assume(
            &format!("screens of run {id}"),
            &format!("braid worth {SCREEN_MM} mm of copper, bonded where the ends say so, else at both ends"),
            "bonded at both ends it carries current and heats the cable; measure it on the first drive",
            &format!("run.{id}.from-end.screen"),
        );
    }
    if cable.row.standing != Standing::Shop {
        notes.assume(
            &format!("diameters of cable {}", cable.family),
            "the middle of the family's range",
            "typical of such cable; put yours into parts.toml as its maker's sheet and a calliper say",
            &format!("run.{id}.cable"),
        );
    }
    let insulation = parts.shelf.insulations.iter().find(|i| i.row.id == cable.insulation);
    if let Some(insulation) = insulation {
        notes.assume(
            &format!("surface of {}", insulation.row.name),
            &format!("emissivity {}", insulation.emissivity),
            "dull plastic or rubber of any colour; bright metal over it would cool far less",
            "parts.toml",
        );
    }
}

/// Air that the laws are meant for; the reader of documents admits no other.
const AIR_C: std::ops::RangeInclusive<f64> = -60.0..=200.0;

fn current_a(run: &RunParts<'_>, notes: &mut Notes) -> Option<f64> {
    let id = &run.run.id.value;
    let Some(current) = &run.run.current_a_rms else {
        notes.find(unknown(
            run,
            "current-unknown",
            run.run.id.at,
            "the continuous current of",
            "take it from the drive's sheet: `current`; or tell how the vehicle is driven, or log it: [duty]; \
             it settles the size of the cable and the fuse",
        ));
        return None;
    };
    // A hundred thousand amperes is a slip of the unit; beyond it the laws leave their ranges.
    if current.value > 0.0 && current.value <= 1.0e5 {
        return Some(current.value);
    }
    notes.find(
        Finding::new(
            "current-range",
            Verdict::Fails,
            current.at,
            "common-practice",
            format!("the current of run {id} is not between 0 and 100 000 A"),
        )
        .judged(current.value, 1.0e5, Dimension::Current)
        .about(About::run(id)),
    );
    None
}

/// The peak, if both its current and its time are stated.
fn peak(run: &RunParts<'_>, notes: &mut Notes) -> Option<(f64, f64)> {
    let half = |at: Place, what: &str, key: &str| {
        let id = &run.run.id.value;
        Finding::new(
            "peak-unknown",
            Verdict::Unknown,
            at,
            "common-practice",
            format!("the {what} of the peak of run {id} is not stated"),
        )
        .hint(format!("state `{key}`; it settles whether the peak overheats the conductor"))
        .about(About::run(id))
        .safety()
    };
    match (&run.run.peak_a_rms, &run.run.peak_s) {
        (Some(a), Some(s)) if a.value > 0.0 && s.value > 0.0 => {
            Some((a.value.min(1.0e5), s.value))
        }
        (Some(a), None) => {
            notes.find(half(a.at, "length", "peak-time"));
            None
        }
        (None, Some(s)) => {
            notes.find(half(s.at, "current", "peak"));
            None
        }
        _ => None,
    }
}

fn unknown(
    run: &RunParts<'_>,
    code: &'static str,
    at: Place,
    what: &str,
    hint: &str,
) -> Finding {
    let id = &run.run.id.value;
    Finding::new(
        code,
        Verdict::Unknown,
        at,
        "common-practice",
        format!("{what} run {id} is not stated"),
    )
    .hint(hint)
    .about(About::run(id))
    .safety()
}

#[cfg(test)]
mod tests {
    use crate::checks::marked::{BASE, check, merge, planned};
    use crate::finding::Verdict;

    /// The finding of that code, which must be an unknown that keeps the book back, with a hint.
    #[track_caller]
    fn keeps_back(patch: &str, code: &str) {
        let plan = planned(&merge(BASE, patch));
        let found = plan.findings.iter().find(|f| f.code == code).expect("it is found");
        assert!(found.verdict == Verdict::Unknown && found.safety && found.hint.is_some());
        assert!(!plan.for_building());
        let run = plan.sizes.iter().find(|s| Some(&s.run) == found.about.run.as_ref()).unwrap();
        assert!(run.heat.is_none() && run.drop_v.is_none());
    }

    #[test]
    fn what_hurts_when_guessed_is_unknown() {
        keeps_back("[run.phases]\ncurrent = absent", "current-unknown");
        keeps_back("[run.phases]\nfrequency = absent", "frequency-unknown");
        let nowhere = "[surroundings]\nair = absent\n[run.phases]\nair = absent";
        keeps_back(nowhere, "air-unknown");
    }

    #[test]
    fn half_a_peak_is_unknown() {
        check(
            r#"
            [run.dc]
            conductor = "2/0 AWG"
            peak-time = absent
            peak = "260 A"   #! unknown peak-unknown
            "#,
        );
    }

    #[test]
    fn what_is_taken_for_granted_is_said() {
        let plan = planned(BASE);
        let said = |what: &str| plan.assumed.iter().any(|a| a.what.contains(what));
        assert!(said("surroundings of run dc") && said("strands") && said("surface of"));
        let windy = planned(&merge(BASE, "[run.dc]\nair-speed = \"2 m/s\""));
        assert!(!windy.assumed.iter().any(|a| a.what == "air speed along run dc"));
    }
}
