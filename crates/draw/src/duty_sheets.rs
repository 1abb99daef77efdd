//! From a plan's drive to its drawings.

use physics::units::{Dimension, System, show};
use plan::Plan;
use plan::design::drive::{Row, Stretch};

use crate::duty::{Plane, Track, Tracks};
use crate::svg::Drawing;

/// Stretches from here on are told in minutes.
const MINUTES_FROM_S: f64 = 240.0;

/// Speed, phase current and DC current of one stretch over time; none where it is one interval long, or there is none.
pub fn over_time(plan: &Plan, stretch: &str) -> Option<Drawing> {
    let course = plan.course.as_ref()?;
    let stretch = course.stretches.iter().find(|s| s.name == stretch)?;
    // What never changes is told in words.
    let first = stretch.rows.first()?;
    let same = |r: &Row| {
        (r.speed_m_s, r.phase_a_rms, r.dc_a) == (first.speed_m_s, first.phase_a_rms, first.dc_a)
    };
    if stretch.rows.iter().all(same) {
        return None;
    }
    let (across, per) = if stretch.duration_s() < MINUTES_FROM_S {
        ("seconds", 1.0)
    } else {
        ("minutes", 60.0)
    };
    // Every interval has one value from its begin to its end.
    let steps = |of: &dyn Fn(&Row) -> f64| -> Vec<(f64, f64)> {
        let ends =
            |r: &Row| [(r.time_s / per, of(r)), ((r.time_s + r.duration_s) / per, of(r))];
        stretch.rows.iter().flat_map(ends).collect()
    };
    let (speed, per_m_s) = match plan.heading.units {
        System::Metric => ("speed, km/h", 3.6),
        System::Us => ("speed, mph", 1.0 / 0.44704),
    };
    // Its speed moves evenly from middle to middle.
    let middle = |r: &Row| ((r.time_s + 0.5 * r.duration_s) / per, r.speed_m_s * per_m_s);
    let mut tracks = vec![Track {
        name: speed.to_owned(),
        points: stretch.rows.iter().map(middle).collect(),
        level: None,
    }];
    if stretch.known.phases {
        let most = course.current_a_rms_max.filter(|a| near(stretch, *a));
        tracks.push(Track {
            name: "phase current, A rms".to_owned(),
            points: steps(&|r| r.phase_a_rms),
            level: most.map(|a| {
                (format!("limit {}", show(a, Dimension::Current, plan.heading.units)), a)
            }),
        });
    }
    if stretch.known.dc {
        tracks.push(Track {
            name: "DC current, A; below zero while charging".to_owned(),
            points: steps(&|r| r.dc_a),
            level: None,
        });
    }
    crate::duty::tracks(&Tracks { across: across.to_owned(), tracks })
}

/// A limit far above all that flows would only press the curve flat.
fn near(stretch: &Stretch, limit_a: f64) -> bool {
    let most = stretch.rows.iter().map(|r| r.phase_a_rms).fold(0.0, f64::max);
    limit_a < 2.0 * most
}

/// Torque and speed of the motor, with what it can give; none where it is not computed.
pub fn operating(plan: &Plan) -> Option<Drawing> {
    let course = plan.course.as_ref()?;
    let turns = |r: &Row| r.torque_nm != 0.0 && r.speed_rpm != 0.0;
    if !course.stretches.iter().flat_map(|s| &s.rows).any(turns) {
        return None;
    }
    let (unit, per_nm) = match plan.heading.units {
        System::Metric => ("N m", 1.0),
        System::Us => ("lbf ft", 1.0 / 1.355_817_948_331_400_4),
    };
    let rows = |s: &Stretch| -> Vec<(f64, f64)> {
        let moving = s.rows.iter().filter(|r| r.torque_nm != 0.0 || r.speed_rpm != 0.0);
        moving.map(|r| (r.speed_rpm, r.torque_nm * per_nm)).collect()
    };
    let missed = course.stretches.iter().flat_map(|s| &s.missed);
    let named = course.stretches.iter().filter(|s| !s.repeats).filter_map(|s| {
        let r = s.rows.iter().max_by(|a, b| a.torque_nm.total_cmp(&b.torque_nm))?;
        Some((s.name.clone(), r.speed_rpm, r.torque_nm * per_nm))
    });
    crate::duty::plane(&Plane {
        upright: format!("torque of the motor, {unit}"),
        across: "rev/min".to_owned(),
        reached: course.stretches.iter().flat_map(rows).collect(),
        missed: missed.map(|m| (m.speed_rpm, m.asked_nm * per_nm)).collect(),
        named: named.collect(),
        most: course.reach.iter().map(|r| (r.speed_rpm, r.torque_nm_most * per_nm)).collect(),
        least: course.reach.iter().map(|r| (r.speed_rpm, r.torque_nm_least * per_nm)).collect(),
    })
}
