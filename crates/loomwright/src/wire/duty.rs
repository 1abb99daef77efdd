//! How the vehicle is driven, as JSON.

use draw::duty::thinned;
use plan::design::drive::{Course, Row, Stretch};
use schemars::JsonSchema;
use serde::Serialize;

/// The drive that is repeated and the hard cases, with what the machine can give.
#[derive(Serialize, JsonSchema)]
pub(crate) struct CourseWire {
    stretches: Vec<DrivenWire>,
    /// What the drive can give, from standstill to its greatest speed.
    reach: Vec<ReachWire>,
    /// Phase current that motor and inverter allow.
    current_a_rms_max: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct DrivenWire {
    name: String,
    /// Repeated for ever, or once from warm.
    repeats: bool,
    duration_s: f64,
    distance_m: Option<f64>,
    /// Greatest of the stretch; absent where it is not known.
    phase_a_rms_most: Option<f64>,
    dc_a_most: Option<f64>,
    frequency_hz_most: Option<f64>,
    /// Force asked at the wheels, greatest.
    force_n_most: f64,
    torque_nm_most: f64,
    /// Intervals in which less torque was given than asked.
    missed: Vec<MissedWire>,
    /// Pairs of seconds and m/s; long series hold the least and the greatest value of each short while.
    speed: Vec<(f64, f64)>,
    /// Pairs of seconds and A rms.
    phase: Vec<(f64, f64)>,
    /// Pairs of seconds and A; negative while charging.
    dc: Vec<(f64, f64)>,
}

#[derive(Serialize, JsonSchema)]
struct MissedWire {
    time_s: f64,
    speed_rpm: f64,
    asked_nm: f64,
    left_nm: f64,
    /// "the voltage", "the current limit" or "the battery".
    by: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct ReachWire {
    speed_rpm: f64,
    torque_nm_most: f64,
    torque_nm_least: f64,
}

/// Short whiles that a long series is told in.
const WHILES: usize = 200;

pub(super) fn course(course: &Course) -> CourseWire {
    CourseWire {
        stretches: course.stretches.iter().map(driven).collect(),
        reach: course
            .reach
            .iter()
            .map(|r| ReachWire {
                speed_rpm: r.speed_rpm,
                torque_nm_most: r.torque_nm_most,
                torque_nm_least: r.torque_nm_least,
            })
            .collect(),
        current_a_rms_max: course.current_a_rms_max,
    }
}

fn driven(stretch: &Stretch) -> DrivenWire {
    let most = |of: fn(&Row) -> f64| stretch.rows.iter().map(of).fold(0.0, f64::max);
    let series = |known: bool, of: fn(&Row) -> f64| {
        let middles = stretch.rows.iter().map(|r| (r.time_s + 0.5 * r.duration_s, of(r)));
        if known { thinned(&middles.collect::<Vec<_>>(), WHILES) } else { Vec::new() }
    };
    let known = stretch.known;
    DrivenWire {
        name: stretch.name.clone(),
        repeats: stretch.repeats,
        duration_s: stretch.duration_s(),
        distance_m: stretch.work.map(|w| w.distance_m),
        phase_a_rms_most: known.phases.then(|| most(|r| r.phase_a_rms)),
        dc_a_most: known.dc.then(|| most(|r| r.dc_a.abs())),
        frequency_hz_most: known.frequency.then(|| most(|r| r.frequency_hz)),
        force_n_most: most(|r| r.force_n),
        torque_nm_most: most(|r| r.torque_nm),
        missed: stretch
            .missed
            .iter()
            .map(|m| MissedWire {
                time_s: m.time_s,
                speed_rpm: m.speed_rpm,
                asked_nm: m.asked_nm,
                left_nm: m.left_nm,
                by: m.by(),
            })
            .collect(),
        speed: series(true, |r| r.speed_m_s),
        phase: series(known.phases, |r| r.phase_a_rms),
        dc: series(known.dc, |r| r.dc_a),
    }
}
