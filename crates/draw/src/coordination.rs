//! Current across and time up, both by their logarithm: what melts, what bears, what flows.

use crate::letters::width_mm;
use crate::svg::{
    Drawing, FINE, GREY, INK, ORANGE, PALE, PAPER, Pen, Place, RED, SMALL, Sheet, at,
};

/// A place in amperes and seconds.
pub type Spot = (f64, f64);

/// What is laid over each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Coordination {
    /// Name of the fuse.
    pub fuse: String,
    /// Its mean melting curve.
    pub melts: Vec<Spot>,
    /// When the slowest has cleared.
    pub clears: Vec<Spot>,
    /// What the cable bears.
    pub bears: Vec<Spot>,
    /// Short circuits over time.
    pub faults: Vec<Vec<Spot>>,
    /// Loads: what flows, and what the fuse bears so long.
    pub loads: Vec<(Spot, Option<f64>)>,
    /// Where the control opens, as a line; empty where it does not.
    pub trip: Vec<Spot>,
    /// From where on the fuse protects, and its words.
    pub guards: Option<(Spot, String)>,
}

/// Width of the drawing on paper.
pub const WIDTH_MM: f64 = crate::chart::WIDTH_MM;
const HEIGHT_MM: f64 = 112.0;
const LEFT: f64 = 15.0;
const RIGHT: f64 = WIDTH_MM - 4.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = HEIGHT_MM - 9.5;

const GRID: Pen = Pen { colour: PALE, width: 0.2, dash: None };
const FAINT: Pen = Pen { colour: PALE, width: 0.08, dash: None };
const MELTS: Pen = Pen { colour: ORANGE, width: 0.55, dash: None };
const CLEARS: Pen = Pen { colour: ORANGE, width: 0.45, dash: Some((2.4, 1.2)) };
const BEARS: Pen = Pen { colour: INK, width: 0.75, dash: None };
const FAULT: Pen = Pen { colour: GREY, width: 0.35, dash: None };
const TRIP: Pen = Pen { colour: RED, width: 0.45, dash: Some((1.6, 1.0)) };
const MARGIN: Pen = Pen { colour: INK, width: 0.2, dash: None };

/// Both axes, in decades.
struct Axes {
    x: (f64, f64),
    y: (f64, f64),
}

impl Axes {
    /// Axes about everything drawn; none where there is nothing.
    fn about(of: &Coordination) -> Option<Axes> {
        let spots = of.melts.iter().chain(&of.clears).chain(&of.bears);
        let loads = of.loads.iter().map(|l| &l.0);
        let all: Vec<Spot> = spots
            .chain(loads)
            .copied()
            .filter(|s| 0.0 < s.0 && 0.0 < s.1 && s.0.is_finite() && s.1.is_finite())
            .collect();
        let span = |of: fn(&Spot) -> f64| {
            let values = all.iter().map(of);
            values.fold((f64::INFINITY, 0.0), |(a, b): (f64, f64), v| (a.min(v), b.max(v)))
        };
        let (currents, times) = (span(|s| s.0), span(|s| s.1));
        if of.melts.len() < 2 || all.is_empty() {
            return None;
        }
        let log = libm::log10;
        let (low, high) = (log(currents.0 / 1.25), log(currents.1));
        // A sheet shows what can be read: down to a tenth of a millisecond, up to a few hours.
        let (first, last) = (libm::floor(log(times.0)).max(-4.0), log(times.1).min(4.0) + 0.15);
        Some(Axes { x: (low, high.max(low + 0.5)), y: (first, last.max(first + 1.0)) })
    }

    fn place(&self, spot: Spot) -> Place {
        let (x, y) = (libm::log10(spot.0), libm::log10(spot.1));
        at(
            LEFT + (x - self.x.0) / (self.x.1 - self.x.0) * (RIGHT - LEFT),
            BOTTOM - (y - self.y.0) / (self.y.1 - self.y.0) * (BOTTOM - TOP),
        )
    }

    fn holds(p: Place) -> bool {
        (LEFT - 1e-9..=RIGHT + 1e-9).contains(&p.x)
            && (TOP - 1e-9..=BOTTOM + 1e-9).contains(&p.y)
    }

    /// The parts of a line that lie on the sheet.
    fn pieces(&self, spots: &[Spot]) -> Vec<Vec<Place>> {
        let fit = |s: &&Spot| 0.0 < s.0 && 0.0 < s.1 && s.0.is_finite() && s.1.is_finite();
        let places: Vec<Place> = spots.iter().filter(fit).map(|s| self.place(*s)).collect();
        let mut pieces: Vec<Vec<Place>> = Vec::new();
        for pair in places.windows(2) {
            let Some((a, b)) = clipped(pair[0], pair[1]) else { continue };
            match pieces.last_mut().filter(|p| p.last() == Some(&a)) {
                Some(piece) => piece.push(b),
                None => pieces.push(vec![a, b]),
            }
        }
        pieces
    }

    fn curve(&self, sheet: &mut Sheet, spots: &[Spot], pen: Pen) {
        for piece in self.pieces(spots) {
            sheet.polyline(&piece, pen);
        }
    }
}

/// The part of a straight line inside the frame.
fn clipped(a: Place, b: Place) -> Option<(Place, Place)> {
    let (mut from, mut to) = (0.0, 1.0);
    let walls = [
        (a.x - b.x, a.x - LEFT),
        (b.x - a.x, RIGHT - a.x),
        (a.y - b.y, a.y - TOP),
        (b.y - a.y, BOTTOM - a.y),
    ];
    for (towards, room) in walls {
        if towards == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if towards < 0.0 {
            from = f64::max(from, room / towards);
        } else {
            to = f64::min(to, room / towards);
        }
    }
    let on = |t: f64| match t {
        0.0 => a,
        1.0 => b,
        t => at(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)),
    };
    (from < to).then(|| (on(from), on(to)))
}

/// Draws it; nothing to draw gives nothing.
pub fn coordination(of: &Coordination) -> Option<Drawing> {
    let axes = Axes::about(of)?;
    let mut sheet = Sheet::new(WIDTH_MM, HEIGHT_MM);
    grid(&mut sheet, &axes);
    band(&mut sheet, &axes, of);
    for fault in &of.faults {
        // Once it has risen it flows on: upwards for ever.
        let on = fault.last().map(|last| (last.0, libm::pow(10.0, axes.y.1)));
        let spots: Vec<Spot> = fault.iter().copied().chain(on).collect();
        axes.curve(&mut sheet, &spots, FAULT);
    }
    axes.curve(&mut sheet, &of.bears, BEARS);
    axes.curve(&mut sheet, &of.clears, CLEARS);
    axes.curve(&mut sheet, &of.melts, MELTS);
    axes.curve(&mut sheet, &of.trip, TRIP);
    loads(&mut sheet, &axes, &of.loads);
    if let Some((spot, words)) = &of.guards {
        guards(&mut sheet, &axes, *spot, words);
    }
    key(&mut sheet, of);
    Some(sheet.finish())
}

/// Shaded between melting and cleared.
fn band(sheet: &mut Sheet, axes: &Axes, of: &Coordination) {
    let edge =
        |spots: &[Spot]| axes.pieces(spots).into_iter().flatten().collect::<Vec<Place>>();
    let (melts, mut clears) = (edge(&of.melts), edge(&of.clears));
    clears.reverse();
    let outline: Vec<Place> = melts.into_iter().chain(clears).collect();
    if 2 < outline.len() {
        sheet.polygon(&outline, Some(SHADE), None);
    }
}

/// A tint of the cable's colour that grid lines are still seen beside.
const SHADE: &str = "#fbe9db";

fn grid(sheet: &mut Sheet, axes: &Axes) {
    let decades = |range: (f64, f64)| {
        (libm::floor(range.0) as i32..=libm::ceil(range.1) as i32).flat_map(|decade| {
            (1..10).map(move |n| (n, f64::from(n) * libm::pow(10.0, f64::from(decade))))
        })
    };
    let (some_a, some_s) = (libm::pow(10.0, axes.x.0), libm::pow(10.0, axes.y.0));
    for (n, amps) in decades(axes.x) {
        let foot = at(axes.place((amps, some_s)).x, BOTTOM);
        if !Axes::holds(foot) {
            continue;
        }
        sheet.line(foot, at(foot.x, TOP), if n == 1 { GRID } else { FAINT });
        if matches!(n, 1 | 2 | 5) {
            sheet.text(at(foot.x, BOTTOM + 3.6), &format!("{amps:.0}"), SMALL.middle());
        }
    }
    for (n, seconds) in decades(axes.y) {
        let side = at(LEFT, axes.place((some_a, seconds)).y);
        if !Axes::holds(side) {
            continue;
        }
        sheet.line(side, at(RIGHT, side.y), if n == 1 { GRID } else { FAINT });
        if n == 1 {
            sheet.text(at(LEFT - 1.5, side.y + 0.9), &time_text(seconds), SMALL.end());
        }
    }
    sheet.line(at(LEFT, BOTTOM), at(RIGHT, BOTTOM), FINE);
    sheet.line(at(LEFT, TOP), at(LEFT, BOTTOM), FINE);
    sheet.text(at(RIGHT, BOTTOM + 7.6), "current, A", SMALL.end().in_colour(GREY));
}

/// A power of ten of a second as people say it.
fn time_text(seconds: f64) -> String {
    match seconds {
        s if s < 0.999e-3 => format!("{:.0} µs", s * 1e6),
        s if s < 0.999 => format!("{:.0} ms", s * 1e3),
        s => format!("{s:.0} s"),
    }
}

fn loads(sheet: &mut Sheet, axes: &Axes, loads: &[(Spot, Option<f64>)]) {
    for (spot, may_a) in loads {
        let place = axes.place(*spot);
        if !Axes::holds(place) {
            continue;
        }
        if let Some(may_a) = may_a {
            let far = axes.place((*may_a, spot.1));
            if Axes::holds(far) {
                sheet.line(place, far, MARGIN);
                sheet.line(at(far.x, far.y - 1.0), at(far.x, far.y + 1.0), MARGIN);
            }
        }
        sheet.circle(place, 0.8, Some(INK), None);
    }
}

/// Where the curves cross, and what that means.
fn guards(sheet: &mut Sheet, axes: &Axes, spot: Spot, words: &str) {
    let place = axes.place(spot);
    if !Axes::holds(place) {
        return;
    }
    let width = width_mm(words, SMALL);
    let from = at((place.x + 3.0).min(RIGHT - width - 1.0), (place.y - 3.0).max(TOP + 3.5));
    let paper = (at(from.x - 0.6, from.y - 2.6), at(from.x + width + 0.6, from.y + 0.9));
    sheet.rect(paper.0, paper.1, Some(PAPER), None);
    sheet.text(from, words, SMALL);
    sheet.circle(place, 1.2, None, Some(Pen { colour: INK, width: 0.3, dash: None }));
}

/// The key above the frame, in two rows.
fn key(sheet: &mut Sheet, of: &Coordination) {
    let mut entries: Vec<(String, Option<Pen>)> = vec![
        (format!("{} melts, mean", of.fuse), Some(MELTS)),
        ("has cleared, slowest".to_owned(), Some(CLEARS)),
    ];
    let mut entry = |is_drawn: bool, name: &str, pen: Option<Pen>| {
        if is_drawn {
            entries.push((name.to_owned(), pen));
        }
    };
    entry(!of.bears.is_empty(), "cable bears", Some(BEARS));
    entry(!of.faults.is_empty(), "short circuits over time", Some(FAULT));
    entry(!of.trip.is_empty(), "control opens", Some(TRIP));
    entry(!of.loads.is_empty(), "load, and what the fuse bears so long", None);
    let (mut x, mut y) = (LEFT, 3.6);
    for (name, pen) in entries {
        let width = 8.0 + width_mm(&name, SMALL);
        if RIGHT < x + width {
            (x, y) = (LEFT, y + 4.0);
        }
        match pen {
            Some(pen) => sheet.line(at(x, y - 0.9), at(x + 6.5, y - 0.9), pen),
            None => {
                sheet.circle(at(x + 1.5, y - 0.9), 0.8, Some(INK), None);
                sheet.line(at(x + 1.5, y - 0.9), at(x + 6.0, y - 0.9), MARGIN);
                sheet.line(at(x + 6.0, y - 1.9), at(x + 6.0, y + 0.1), MARGIN);
            }
        }
        sheet.text(at(x + 8.0, y), &name, SMALL);
        x += width + 5.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn whole() -> Coordination {
        Coordination {
            fuse: "gR 250 A".to_owned(),
            melts: vec![(400.0, 3600.0), (605.0, 10.0), (3000.0, 1e-3), (6000.0, 2.5e-4)],
            clears: vec![(440.0, 3600.0), (660.0, 10.2), (3300.0, 6e-3), (6000.0, 1.5e-3)],
            bears: vec![(300.0, 5000.0), (700.0, 60.0), (6000.0, 1.0)],
            faults: vec![vec![(100.0, 1e-5), (3000.0, 2e-4), (4700.0, 2e-3)]],
            loads: vec![((260.0, 30.0), Some(265.0)), ((214.0, 3600.0), Some(225.0))],
            trip: vec![(300.0, 3600.0), (300.1, 2.0), (800.0, 2.0)],
            guards: Some(((500.0, 300.0), "fuse protects from 500 A".to_owned())),
        }
    }

    #[test]
    fn all_of_it_is_drawn_and_named() {
        let svg = coordination(&whole()).unwrap().svg;
        for text in
            ["gR 250 A melts", "cable bears", "control opens", "protects from 500 A", "10 ms"]
        {
            assert!(svg.contains(text), "{text}");
        }
    }

    #[test]
    fn what_is_not_known_is_not_in_the_key() {
        let bare =
            Coordination { bears: Vec::new(), trip: Vec::new(), faults: Vec::new(), ..whole() };
        let svg = coordination(&bare).unwrap().svg;
        assert!(!svg.contains("cable bears") && !svg.contains("short circuits"));
    }

    #[test]
    fn nothing_to_draw_draws_nothing() {
        let none = Coordination { melts: Vec::new(), ..whole() };
        assert_eq!(coordination(&none), None);
        let odd =
            Coordination { melts: vec![(f64::NAN, 1.0), (1.0, f64::INFINITY)], ..whole() };
        assert!(coordination(&odd).is_some_and(|d| !d.svg.contains("NaN")));
    }

    #[test]
    fn a_line_is_cut_at_the_frame() {
        let (a, b) = clipped(at(LEFT - 10.0, 50.0), at(LEFT + 10.0, 50.0)).unwrap();
        assert_eq!((a, b), (at(LEFT, 50.0), at(LEFT + 10.0, 50.0)));
        assert_eq!(clipped(at(0.0, 1.0), at(100.0, 1.0)), None);
    }
}
