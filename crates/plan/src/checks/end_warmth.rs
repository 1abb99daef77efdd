//! A part at a run's end that bears only so much warmth.

use physics::units::Dimension;

use super::{Check, Designed, OneRun, below};
use crate::design::ends::End;
use crate::design::settle::Heat;
use crate::finding::{About, Finding, Notes, Verdict};
use crate::given::build::{EndGiven, Maybe};

/// What is warm, and what must bear it.
pub(super) struct Warm<'a> {
    /// "the conductor".
    pub(super) what: &'a str,
    /// How warm it is.
    pub(super) reaches_c: fn(&Heat) -> Option<f64>,
    /// "its sleeve".
    pub(super) of: &'a str,
    /// What an end's part bears.
    pub(super) limit_c: fn(&End) -> Option<f64>,
    /// What the build says of that part.
    pub(super) given: fn(&EndGiven) -> &Maybe<String>,
    /// What would help.
    pub(super) hint: &'a str,
}

/// Holds every run at both its ends against what its parts there bear.
pub(super) fn bears(
    check: &Check,
    designed: &Designed<'_>,
    warm: &Warm<'_>,
    notes: &mut Notes,
) {
    for run in designed.runs() {
        for side in 0..2 {
            notes.findings.extend(end(check, designed, warm, &run, side));
        }
    }
}

fn end(
    check: &Check,
    designed: &Designed<'_>,
    warm: &Warm<'_>,
    run: &OneRun<'_>,
    side: usize,
) -> Option<Finding> {
    let reaches_c = (warm.reaches_c)(run.size.heat.as_ref()?)?;
    let (port, given) =
        [(run.parts.from, &run.parts.from_end), (run.parts.to, &run.parts.to_end)][side];
    let port = &designed.parts.ports[port].name;
    // All cables of a run are equal, so one end stands for all at its port.
    let mut ends = designed.ends.iter().filter(|e| e.run == run.id && e.port == *port);
    let limit_c = ends.find_map(warm.limit_c)?;
    let verdict = Verdict::at_most(reaches_c, limit_c);
    let message = format!(
        "{} of run {} at {port} reaches {}, {} the limit of {}, {}",
        warm.what,
        run.id,
        designed.show(reaches_c, Dimension::Temperature),
        below(verdict, reaches_c, limit_c),
        warm.of,
        designed.show(limit_c, Dimension::Temperature),
    );
    let at = (warm.given)(given.given).as_ref().map_or(run.parts.run.id.at, |g| g.at);
    let finding = check
        .finding(verdict, at, message)
        .judged(reaches_c, limit_c, Dimension::Temperature)
        .about(About::end(run.id, None, port));
    Some(if verdict == Verdict::Fails { finding.hint(warm.hint) } else { finding })
}
