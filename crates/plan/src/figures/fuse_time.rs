//! When a fuse melts and has cleared.

use physics::laws::fuse_curve::Link;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(super) const CURVE: Input = Input::required(
    "curve",
    Kind::Rows(&[
        Input::required("time", Kind::Quantity(Dimension::Time), "to melt").within(1e-6, 1e6),
        Input::required("current", Kind::Quantity(Dimension::Current), "that melts it")
            .within(1e-3, 1e7),
    ]),
    "points of the mean melting curve, two or more",
);
pub(super) const MELTING: Input =
    Input::required("melting-i2t", Kind::Quantity(Dimension::Joule), "of the element, fast")
        .within(1e-6, 1e12);
pub(super) const CLEARING: Input =
    Input::required("clearing-i2t", Kind::Quantity(Dimension::Joule), "with its arc")
        .within(1e-6, 1e12);

/// The curve given.
pub(super) fn link(inputs: &Inputs) -> Result<Link, FigureError> {
    let points: Vec<(f64, f64)> =
        inputs.rows("curve").iter().map(|r| (r.number("time"), r.number("current"))).collect();
    let (melting, clearing) = (inputs.number("melting-i2t"), inputs.number("clearing-i2t"));
    Link::new(&points, melting, clearing).ok_or_else(|| {
        FigureError::about("curve", "two points or more, and more current in less time")
    })
}

pub(crate) static FIGURE: Figure = Figure {
    name: "fuse-time",
    purpose: "when a current melts a fuse and when the slowest of its class has cleared it",
    source: "IEC 60269-1: straight on log-log paper, I2t below the curve, 10 % in current",
    inputs: &[
        CURVE,
        MELTING,
        CLEARING,
        Input::optional("current", Kind::Quantity(Dimension::Current), "that flows")
            .within(1e-3, 1e8),
        Input::optional(
            "time",
            Kind::Quantity(Dimension::Time),
            "in which it is to melt or clear",
        )
        .within(1e-7, 1e6),
    ],
    outputs: &[
        Output::new("melts", "s", "mean time to melt"),
        Output::new("clears", "s", "until the slowest has cleared"),
        Output::new("melts-at", "A", "current that melts it in the time"),
        Output::new("clears-at", "A", "current the slowest has cleared in the time"),
    ],
    example: &[
        (
            "curve",
            "[{ time = \"10 s\", current = \"605 A\" }, { time = \"0.1 s\", current = \"1180 A\" }, { time = \"1 ms\", current = \"3010 A\" }]",
        ),
        ("melting-i2t", "9050 A2s"),
        ("clearing-i2t", "45300 A2s"),
        ("current", "1000 A"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let link = link(inputs)?;
    let asked = inputs.one_of(&["current", "time"])?;
    let below = || FigureError::about(asked, "below the curve: nothing is said of it");
    Ok(if asked == "current" {
        let current_a = inputs.number("current");
        let melts_s = link.melts_s(current_a).ok_or_else(below)?;
        let outcome = Outcome::new().one("melts", melts_s);
        match link.clears_s(current_a) {
            Some(clears_s) => outcome.one("clears", clears_s),
            None => outcome.note("the slowest of the class may never clear it"),
        }
    } else {
        let time_s = inputs.number("time");
        let outcome =
            Outcome::new().one("melts-at", link.melts_at_a(time_s).ok_or_else(below)?);
        match link.clears_at_a(time_s) {
            Some(current_a) => outcome.one("clears-at", current_a),
            None => outcome.note("longer than the curve of the slowest"),
        }
    }
    .note("the maker's curve at the real voltage and time constant decides"))
}
