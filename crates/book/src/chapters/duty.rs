//! How the vehicle is driven, and what flows.

use physics::units::Dimension;
use plan::design::drive::{Course, Row, Stretch};
use plan::design::duty::WINDOWS_S;

use crate::model::{Cell, Pages, Tone, row, wide};
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let Some(course) = &words.plan.course else {
        pages.text("The build states no duty.");
        return;
    };
    if course.stretches.is_empty() {
        pages.text("The duty could not be driven; the findings say what is missing.");
        return;
    }
    pages.text(
        "The currents of runs that state none follow from here. What repeats is driven round after round; every hard \
         case starts warm from it.",
    );
    pages.facts(2, facts(words, course));
    for stretch in course.stretches.iter().filter(|s| s.repeats) {
        if let Some(drawing) = draw::duty_sheets::over_time(words.plan, &stretch.name) {
            pages.minor(&format!("{} over time", stretch.name));
            pages.figure(drawing, "", "Speed, phase current and DC current over the drive");
        }
    }
    hard(words, course, pages);
    if let Some(drawing) = draw::duty_sheets::operating(words.plan) {
        pages.minor("Torque and speed of the motor");
        pages.figure(
            drawing,
            "",
            "Operating points of the motor within the limits of the drive",
        );
        let line = if course.reach.is_empty() {
            "No limit is drawn, for the motor's greatest current is not stated."
        } else {
            "The line is what motor, inverter and battery give together, the sag of the battery included."
        };
        pages.quiet(&format!(
            "Every dot is an interval of the duty, every ring the greatest torque of a hard case. {line}"
        ));
    }
    flows(words, pages);
    for stretch in course.stretches.iter().filter(|s| !s.repeats) {
        if let Some(drawing) = draw::duty_sheets::over_time(words.plan, &stretch.name) {
            pages.minor(&format!("{} over time", stretch.name));
            pages.figure(drawing, "", "Speed, phase current and DC current of a hard case");
        }
    }
    assumed(words, pages);
}

fn facts(words: &Words<'_>, course: &Course) -> Vec<(&'static str, Cell)> {
    let rows = || course.stretches.iter().flat_map(|s| &s.rows);
    let most = |of: fn(&Row) -> f64| rows().map(of).fold(0.0, f64::max);
    let both = |value: f64, dimension| Cell::from(words.both(value, dimension));
    let mut facts = Vec::new();
    if let Some(main) = course.stretches.iter().find(|s| s.repeats) {
        facts.push(("Repeated", Cell::new(main.name.as_str(), Tone::Strong)));
        facts.push(("Lasts", both(main.duration_s(), Dimension::Time)));
        if let Some(work) = main.work {
            facts.push((
                "Distance",
                words.one(1000.0 * work.distance_m, Dimension::Length).into(),
            ));
            let per_km = work.traction_j / 3.6 / work.distance_m;
            facts.push(("At the wheels", both(per_km, Dimension::EnergyPerLength)));
        }
    }
    facts.push(("Greatest phase current", both(most(|r| r.phase_a_rms), Dimension::Current)));
    facts.push(("Greatest DC current", both(most(|r| r.dc_a.abs()), Dimension::Current)));
    facts.push(("Highest frequency", both(most(|r| r.frequency_hz), Dimension::Frequency)));
    let lowest = rows().map(|r| r.dc_v).filter(|v| 0.0 < *v).fold(f64::INFINITY, f64::min);
    if lowest.is_finite() {
        facts.push(("Lowest voltage", both(lowest, Dimension::Voltage)));
    }
    facts
}

/// Each hard case at its hardest moment.
fn hard(words: &Words<'_>, course: &Course, pages: &mut Pages) {
    let rows: Vec<_> = course
        .stretches
        .iter()
        .filter(|s| !s.repeats)
        .filter_map(|s| {
            let r = s.rows.iter().max_by(|a, b| a.phase_a_rms.total_cmp(&b.phase_a_rms))?;
            let one = |value: f64, dimension| words.one(value, dimension);
            Some(row([
                Cell::new(s.name.as_str(), Tone::Strong).under(what(s)),
                one(r.force_n, Dimension::Force).into(),
                one(r.torque_nm, Dimension::Torque).into(),
                Cell::from(one(r.phase_a_rms, Dimension::Current))
                    .under(one(r.frequency_hz, Dimension::Frequency)),
                one(r.dc_a, Dimension::Current).into(),
                one(s.duration_s(), Dimension::Time).into(),
                verdict(words, s),
            ]))
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    pages.minor("Hard cases");
    pages.table(
        vec![
            wide("Case", 1.3),
            wide("Force", 0.8),
            wide("Torque", 0.8),
            wide("Phase current", 0.9),
            wide("DC", 0.7),
            wide("Lasts", 0.7),
            wide("What is asked", 1.5),
        ],
        rows,
        "",
    );
    pages.quiet(
        "Each at the moment of its greatest phase current. At a kerb the motor stands, and one phase may carry the crest \
         of the current for as long as it lasts: that is the current shown.",
    );
}

fn what(stretch: &Stretch) -> &'static str {
    match stretch.name.as_str() {
        "kerb" => "stall against a kerb",
        "climb" => "long climb",
        "launch" => "launch after launch",
        "top-speed" => "greatest speed held",
        _ => "",
    }
}

fn verdict(words: &Words<'_>, stretch: &Stretch) -> Cell {
    let Some(worst) = stretch.worst_missed() else { return Cell::new("reached", Tone::Holds) };
    let tone = if stretch.may_miss { Tone::Close } else { Tone::Fails };
    let torque = |nm: f64| words.one(nm, Dimension::Torque);
    Cell::new(format!("{} of {}", torque(worst.left_nm), torque(worst.asked_nm)), tone)
        .under(format!("held back by {}", worst.by()))
}

/// What the runs carry.
fn flows(words: &Words<'_>, pages: &mut Pages) {
    let rows: Vec<_> = words
        .plan
        .sizes
        .iter()
        .filter_map(|sized| {
            let carried = sized.carried.as_ref()?;
            let amps = |a: f64| words.one(a, Dimension::Current);
            let mut cells = vec![Cell::new(sized.run.as_str(), Tone::Strong)];
            cells.push(if carried.rms_a_least < 0.999 * carried.rms_a {
                format!("{} to {}", amps(carried.rms_a_least), amps(carried.rms_a)).into()
            } else {
                amps(carried.rms_a).into()
            });
            cells.extend(WINDOWS_S.iter().map(|seconds| {
                carried.window(*seconds).map_or_else(Cell::unknown, |w| {
                    Cell::from(amps(w.rms_a)).under(w.stretch.as_str())
                })
            }));
            Some(row(cells))
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    pages.minor("What the cables carry, rms");
    pages.table(
        vec![
            wide("Run", 1.0),
            wide("Over the drive", 1.0),
            wide("Worst 10 s", 0.9),
            wide("60 s", 0.9),
            wide("10 min", 0.9),
            wide("1 h", 0.9),
        ],
        rows,
        "",
    );
}

/// What was assumed of vehicle, motor, battery and driver.
fn assumed(words: &Words<'_>, pages: &mut Pages) {
    const TABLES: [&str; 4] = ["vehicle.", "motor.", "battery.", "duty."];
    let ours =
        words.plan.assumed.iter().filter(|a| TABLES.iter().any(|t| a.key.starts_with(t)));
    let rows: Vec<_> = ours
        .map(|a| row([a.what.as_str().into(), a.value.as_str().into(), a.why.as_str().into()]))
        .collect();
    if rows.is_empty() {
        return;
    }
    pages.minor("Assumed of the drive");
    pages.small_table(vec![wide("What", 1.2), wide("Value", 1.0), wide("Why", 2.0)], rows, "");
}
