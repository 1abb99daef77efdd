//! One section for each run: where it goes, what is cut, how warm it gets, how the size came about.

use physics::units::Dimension;
use plan::RunFacts;
use plan::design::profile::{Ageing, Profile};
use plan::design::settle::{Heat, SizedRun};
use plan::given::build::{Carries, Lie};

use crate::model::{Cell, Pages, Tone, narrow, row, wide};
use crate::words::Words;

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    if words.plan.runs.is_empty() {
        pages.text("The build has no run whose two ports exist.");
    }
    for (i, run) in words.plan.runs.iter().enumerate() {
        let title = format!("Run {}", run.id);
        if i == 0 {
            pages.heading(&title)
        } else {
            pages.page(&title)
        }
        one(words, run, pages);
    }
}

fn one(words: &Words<'_>, run: &RunFacts, pages: &mut Pages) {
    let plan = words.plan;
    let sized = plan.sizes.iter().find(|s| s.run == run.id);
    pages.facts(2, facts(words, run, sized));
    lengths(words, run, pages);
    if let Some(heat) = sized.and_then(|s| s.heat.as_ref()) {
        warmth(words, run, heat, pages);
    }
    if let Some(sized) = sized.filter(|s| !s.trail.is_empty()) {
        trail(sized, pages);
    }
    if let Some(profile) = sized.and_then(|s| s.heat.as_ref()).and_then(|h| h.profile.as_ref())
    {
        along(words, run, profile, pages);
        carried(words, run, profile, pages);
        band(words, profile, pages);
    }
}

fn facts(
    words: &Words<'_>,
    run: &RunFacts,
    sized: Option<&SizedRun>,
) -> Vec<(&'static str, Cell)> {
    let cable = sized.and_then(|s| s.cable.as_ref());
    let lie = match run.lie {
        Lie::Spaced => "side by side, a diameter or more apart",
        Lie::Flat => "side by side, touching",
        Lie::Trefoil => "three touching in a triangle",
        Lie::Vertical => "one above the other, a diameter apart",
    };
    let carries = match run.carries {
        Carries::Phases => "three phases",
        Carries::Dc => "a DC pair",
    };
    let mut facts = vec![
        ("From", words.port(&run.ports[0]).into()),
        ("To", words.port(&run.ports[1]).into()),
        ("Carries", carries.into()),
        ("Cables lie", lie.into()),
        ("Continuous current", words.maybe(run.current_a_rms, Dimension::Current)),
        ("Cable", cable.map_or_else(Cell::unknown, |c| c.row.name.as_str().into())),
    ];
    if let Some(cable) = cable {
        facts.push(("Outside diameter", words.length(cable.diameter_mm()).into()));
        facts
            .push(("Rated voltage", words.both(cable.voltage_v_dc, Dimension::Voltage).into()));
        facts.push(("Colour", cable.colour.as_str().into()));
    }
    if run.carries == Carries::Phases {
        facts.push(("Highest frequency", words.maybe(run.frequency_hz, Dimension::Frequency)));
    }
    if let Some(sized) = sized {
        facts.push(("Voltage drop", words.maybe(sized.drop_v, Dimension::Voltage)));
        facts.push(("Loss", words.maybe(sized.loss_w, Dimension::Power)));
    }
    facts
}

fn lengths(words: &Words<'_>, run: &RunFacts, pages: &mut Pages) {
    let plan = words.plan;
    let Some(cut) = plan.cuts.iter().find(|c| c.run == run.id) else { return };
    pages.minor("Length and cut");
    if let Some(drawing) = draw::sheets::strip(plan, &run.id) {
        pages.figure(drawing, "", "Cut length of the run, laid out straight");
    }
    let rows = run.cables.iter().map(|cable| {
        row([
            Cell::new(cable.from.as_str(), Tone::Strong),
            Cell::new(cable.to.as_str(), Tone::Strong),
            words.maybe(cut.path_mm, Dimension::Length),
            words.maybe(cut.cut_mm, Dimension::Length),
            words.maybe(cut.made_mm, Dimension::Length),
        ])
    });
    let rows = rows.collect();
    pages.table(
        vec![
            wide("From terminal", 0.7),
            wide("To terminal", 0.7),
            wide("Path", 1.0),
            wide("Cut", 1.0),
            wide("Hole to hole, made up", 1.0),
        ],
        rows,
        "No cables",
    );
    let trim = words.length(cut.trim_mm);
    pages.quiet(&format!(
        "Cut = path + both inside lengths - what the lugs reach beyond the cable + {trim} of trim, rounded up \
         to the shop's step. All cables of a run are cut alike."
    ));
}

fn warmth(words: &Words<'_>, run: &RunFacts, heat: &Heat, pages: &mut Pages) {
    pages.minor("Heat of the hottest cable");
    let degrees = |c: f64| words.both(c, Dimension::Temperature);
    let steady = match heat.conductor_c {
        Some(c) => degrees(c).into(),
        None => Cell::new("never settles", Tone::Fails),
    };
    let mut facts = vec![
        ("Cable", Cell::from(heat.cable.as_str())),
        ("Air", degrees(heat.air_c).into()),
        ("Conductor, steady", steady),
        ("Limit", degrees(heat.limit_c).into()),
        ("Surface, steady", words.maybe(heat.surface_c, Dimension::Temperature)),
        ("Continuous rating", words.both(heat.rating_a, Dimension::Current).into()),
        ("AC over DC resistance", format!("{:.3}", heat.ac_ratio).into()),
        ("Loss", words.both(heat.loss_w_per_m, Dimension::LineLoss).into()),
    ];
    if let Some(peak) = &heat.peak {
        let current = words.both(peak.current_a_rms, Dimension::Current);
        let time = words.both(peak.seconds, Dimension::Time);
        facts.push(("Peak", format!("{current} for {time}").into()));
        facts.push(("Conductor after the peak", degrees(peak.conductor_c).into()));
        let limit = match peak.to_limit_s {
            Some(s) => words.both(s, Dimension::Time),
            None => "never reached".to_owned(),
        };
        facts.push(("Limit reached after", limit.into()));
    }
    pages.facts(2, facts);
    if let Some(drawing) = draw::sheets::heat(words.plan, &run.id) {
        pages.figure(drawing, "", "Temperature over time");
    }
    let (Some(driven), Some(drawing)) =
        (&heat.driven, draw::sheets::driven(words.plan, &run.id))
    else {
        return;
    };
    pages.minor("Over the duty");
    pages.figure(drawing, "", "Temperature of the hottest conductor over the duty");
    pages.quiet(&format!(
        "What repeats is shown in the round that is like the one before it; every hard case starts warm from \
         there. Hottest: {} in {} after {}.",
        degrees(driven.hottest_c),
        driven.stretch,
        words.both(driven.at_s, Dimension::Time),
    ));
}

/// Where it is how hot.
fn along(words: &Words<'_>, run: &RunFacts, profile: &Profile, pages: &mut Pages) {
    pages.minor("Along the run");
    if let Some(drawing) = draw::sheets::along(words.plan, &run.id) {
        pages.figure(drawing, "", "Temperature of the hottest cable from end to end");
    }
    let rows = profile.sections.iter().map(|s| {
        row([
            s.name.as_str().into(),
            words.both(1000.0 * s.from_m, Dimension::Length).into(),
            words.both(1000.0 * s.to_m, Dimension::Length).into(),
            s.cable.as_str().into(),
            words.both(s.steady_c, Dimension::Temperature).into(),
        ])
    });
    pages.table(
        vec![
            wide("Section", 1.2),
            wide("From", 1.0),
            wide("To", 1.0),
            narrow("Cable"),
            wide("Hottest, steady", 1.2),
        ],
        rows.collect(),
        "",
    );
    let [near, far] = profile.ends.map(|e| words.both(e.conductor_c, Dimension::Temperature));
    pages.quiet(&format!(
        "The conductor beside the first terminal settles at {near}, beside the last at {far}. The run with its \
         joints makes {}{}.",
        words.both(profile.made_w, Dimension::Power),
        through_ends(words, profile),
    ));
}

/// Which way heat goes through the terminals, if any does.
fn through_ends(words: &Words<'_>, profile: &Profile) -> String {
    let amount = words.both(profile.into_ends_w.abs(), Dimension::Power);
    match profile.into_ends_w {
        w if w.abs() < 0.005 => String::new(),
        w if w < 0.0 => {
            format!(" and takes up {amount} more from what lies behind its terminals")
        }
        _ => format!(" and gives {amount} of it to what lies behind its terminals"),
    }
}

/// What it carries for how long.
fn carried(words: &Words<'_>, run: &RunFacts, profile: &Profile, pages: &mut Pages) {
    pages.minor("What it carries");
    if let Some(drawing) = draw::sheets::ratings(words.plan, &run.id) {
        pages.figure(
            drawing,
            "",
            "Current that brings the hottest place to its limit, and when",
        );
    }
    let rows = profile.ratings.iter().map(|r| {
        let time = r.seconds.map_or("for ever".to_owned(), |s| words.both(s, Dimension::Time));
        row([
            time.into(),
            words.maybe(r.cold_a, Dimension::Current),
            words.maybe(r.warm_a, Dimension::Current),
        ])
    });
    pages.table(
        vec![
            wide("For", 1.0),
            wide("From the air's temperature", 1.2),
            wide("From the continuous current", 1.2),
        ],
        rows.collect(),
        "",
    );
    let to = &profile.to_limit;
    let current = words.both(to.current_a, Dimension::Current);
    let time = |s: f64| words.both(s, Dimension::Time);
    let reached = match (to.cold_s, to.warm_s) {
        (Some(cold), Some(warm)) => format!(
            "With {current} the limit is reached after {} from cold and {} from warm.",
            time(cold),
            time(warm),
        ),
        _ => format!("With {current} the limit is never reached."),
    };
    let ageing = &profile.ageing;
    pages.quiet(&format!(
        "{reached} Ageing, an indication: the insulation would last some {} of such service at its hottest place, \
         if it lasts {:.0} h at its limit and half as long for {} K more.",
        Ageing::text(ageing.hours),
        ageing.at_limit_hours,
        ageing.halves_k,
    ));
}

/// How far the answer moves with what is assumed.
fn band(words: &Words<'_>, profile: &Profile, pages: &mut Pages) {
    pages.minor("How sure that is");
    let degrees = |c: Option<f64>| words.maybe(c, Dimension::Temperature);
    let mut rows: Vec<_> = profile
        .band
        .parts
        .iter()
        .map(|b| {
            let [cool, hot] = &b.between;
            row([
                b.what.into(),
                format!("{cool} to {hot}").into(),
                degrees(b.low_c),
                degrees(b.high_c),
            ])
        })
        .collect();
    rows.push(row([
        Cell::new("all together", Tone::Strong),
        "".into(),
        degrees(profile.band.low_c),
        degrees(profile.band.high_c),
    ]));
    if let Some([low, used, high]) = profile.band.hottest_c {
        rows.push(row([
            Cell::new("all together, at the hottest moment", Tone::Strong),
            format!("{} as planned", words.both(used, Dimension::Temperature)).into(),
            degrees(Some(low)),
            degrees(Some(high)),
        ]));
    }
    pages.table(
        vec![
            wide("Assumed", 1.3),
            wide("Between", 1.2),
            wide("Steady, at the cooler end", 1.0),
            wide("Steady, at the hotter end", 1.0),
        ],
        rows,
        "",
    );
}

fn trail(sized: &SizedRun, pages: &mut Pages) {
    pages.minor("How the size came about");
    let rows = sized.trail.iter().map(|pass| {
        row([pass.from.as_str().into(), pass.to.as_str().into(), pass.because.as_str().into()])
    });
    let rows = rows.collect();
    pages.small_table(vec![narrow("From"), narrow("To"), wide("Because", 1.0)], rows, "");
}
