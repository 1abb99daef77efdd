//! The magnetic field at named points, beside the published reference levels.

use physics::units::Dimension;
use plan::design::field::{EARTH_UT, FieldPoint, Levels, Worst};
use plan::finding::Verdict;

use crate::model::{Cell, Pages, Tone, row, wide};
use crate::words::{Words, sentence, tone};

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    if words.plan.field.is_empty() {
        pages.text("The build names no point whose magnetic field is asked for.");
        return;
    }
    pages.text(
        "Reference levels are where measuring and a closer look begin, not a border between harm and none. The numbers \
         are bounds from straight runs alone: motor, inverter, battery and charger make fields of their own, and only \
         a measurement in the finished vehicle tells all of it.",
    );
    pages.caution(vec![
        "These levels do not cover people with a pacemaker or another implant. They keep away from the places below, \
         and from the open drive, until the maker of their implant has been asked."
            .to_owned(),
    ]);
    for point in &words.plan.field {
        one(words, point, pages);
    }
    pages.quiet(&format!(
        "For comparison: the Earth's own field is some {} and stands. Shares of alternating fields are added over \
         runs and frequencies as if all pointed one way, each at its worst moment. Below 1 Hz a field counts as \
         standing.",
        words.both(EARTH_UT, Dimension::FluxDensity),
    ));
}

fn one(words: &Words<'_>, point: &FieldPoint, pages: &mut Pages) {
    pages.minor(&point.name);
    parts(words, point, pages);
    sums(words, point, pages);
    for lack in &point.lacks {
        let text = format!("not known: {}; {}", lack.what, lack.hint);
        pages.text(Cell::new(sentence(&text), Tone::Unknown));
    }
}

/// What each run does, against each set of levels.
fn parts(words: &Words<'_>, point: &FieldPoint, pages: &mut Pages) {
    let rows = point.parts.iter().map(|part| {
        let one = |of: &dyn Fn(Levels, &Worst) -> Cell| {
            let [first, second] = &part.worst;
            let [a, b] = Levels::ALL;
            // A moment that is worst against both is told once.
            let (first, second) = (of(a, first), of(b, second));
            if part.worst[0].when == part.worst[1].when && first == second {
                first
            } else {
                first.under(second)
            }
        };
        let flows = |w: &Worst| {
            let current = words.one(w.current_a_rms, Dimension::Current);
            if part.kind.stands() {
                current
            } else {
                let hz = words.one(w.frequency_hz, Dimension::Frequency);
                format!("{current} at {hz}")
            }
        };
        let ut = |value: f64| words.one(value, Dimension::FluxDensity);
        row([
            Cell::new(part.run.as_str(), Tone::Strong).under(part.kind.word()),
            words.one(part.distance_mm, Dimension::Length).into(),
            one(&|_, w| flows(w).into()),
            one(&|_, w| w.when.as_str().into()),
            one(&|_, w| ut(w.field_ut).into()),
            one(&|levels, w| format!("{} {}", ut(w.level_ut), levels.word()).into()),
            one(&|_, w| share(w.share()).into()),
        ])
    });
    pages.table(
        vec![
            wide("Run", 1.3),
            wide("Distance", 0.7),
            wide("Current", 1.1),
            wide("When worst", 1.3),
            wide("Field", 0.7),
            wide("Level", 1.4),
            wide("Of it", 0.6),
        ],
        rows.collect(),
        "Nothing of what flows here is known",
    );
}

/// All runs together.
fn sums(words: &Words<'_>, point: &FieldPoint, pages: &mut Pages) {
    let judged = |value: f64| {
        let verdict = Verdict::at_most(value, 1.0);
        match (verdict, point.is_known()) {
            (Verdict::Fails, _) | (_, true) => Cell::new(share(value), tone(verdict)),
            _ => Cell::new(format!("at least {}", share(value)), Tone::Unknown),
        }
    };
    let standing = words.one(point.standing_ut(), Dimension::FluxDensity);
    let of = |levels: Levels| {
        let alternating = words.one(point.alternating_ut(levels), Dimension::FluxDensity);
        row([
            Cell::new(format!("All runs against {}", levels.word()), Tone::Strong),
            alternating.into(),
            judged(point.alternating(levels)),
            standing.as_str().into(),
            judged(point.standing(levels)),
        ])
    };
    let implants = row([
        Cell::new("Implants", Tone::Strong).under("1999/519/EC alternating, 0.5 mT standing"),
        words.one(point.alternating_ut(Levels::Recommendation), Dimension::FluxDensity).into(),
        judged(point.alternating(Levels::Recommendation)),
        standing.as_str().into(),
        judged(point.implants_standing()),
    ]);
    pages.table(
        vec![
            wide("Together", 1.6),
            wide("Alternating", 0.8),
            wide("Of its level", 0.7),
            wide("Standing", 0.8),
            wide("Of its level", 0.7),
        ],
        vec![of(Levels::Guideline), of(Levels::Recommendation), implants],
        "",
    );
}

/// A share in percent, however small.
fn share(value: f64) -> String {
    match 100.0 * value {
        p if p < 0.1 => "< 0.1 %".to_owned(),
        p if p < 10.0 => format!("{p:.1} %"),
        p => format!("{p:.0} %"),
    }
}
