//! What a drawing of a face holds: circles, and outlines joined from lines and arcs.

use crate::path::{Path, Vertex};

/// The most pieces read of a drawing.
pub const PIECES_MAX: usize = 5000;
/// Ends this near to each other meet.
const JOIN_MM: f64 = 0.02;

/// A drawing in millimetres, y up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Whole circles in the order drawn: centre and diameter.
    pub circles: Vec<DrawnCircle>,
    /// Closed outlines, the largest first, counter-clockwise.
    pub loops: Vec<Path>,
    /// Chains of lines and arcs that do not close.
    pub open: usize,
    /// Whether the drawing says what its unit is; taken as millimetres where not.
    pub unit_stated: bool,
    /// Kinds of things in it that are not read, each once.
    pub unread: Vec<String>,
}

/// A circle of a drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrawnCircle {
    /// Centre.
    pub x_mm: f64,
    /// Centre.
    pub y_mm: f64,
    /// Diameter.
    pub diameter_mm: f64,
}

/// Why a text is no drawing: where, in bytes, and one sentence.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Byte of the text.
    pub at: usize,
    /// What is wrong.
    pub message: String,
}

impl Fault {
    pub(crate) fn new(at: usize, message: impl Into<String>) -> Fault {
        Fault { at, message: message.into() }
    }
}

/// A line or arc as drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Piece {
    from: [f64; 2],
    to: [f64; 2],
    bulge: f64,
}

impl Piece {
    fn turned(self) -> Piece {
        Piece { from: self.to, to: self.from, bulge: -self.bulge }
    }
}

/// A drawing being read, in its own unit.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sketch {
    circles: Vec<DrawnCircle>,
    pieces: Vec<Piece>,
    closed: Vec<Vec<Vertex>>,
    unread: Vec<String>,
}

impl Sketch {
    /// Whether a further piece would be one too many.
    pub(crate) fn full(&self) -> bool {
        let corners: usize = self.closed.iter().map(Vec::len).sum();
        self.circles.len() + self.pieces.len() + corners >= PIECES_MAX
    }

    pub(crate) fn circle(&mut self, centre: [f64; 2], radius: f64) {
        let [x_mm, y_mm] = centre;
        self.circles.push(DrawnCircle { x_mm, y_mm, diameter_mm: 2.0 * radius });
    }

    pub(crate) fn piece(&mut self, from: [f64; 2], to: [f64; 2], bulge: f64) {
        self.pieces.push(Piece { from, to, bulge });
    }

    /// A run of corners, each with the bulge of what leaves it; closed or not.
    pub(crate) fn run(&mut self, corners: &[([f64; 2], f64)], closed: bool) {
        if closed {
            let vertex =
                |&([x_mm, y_mm], bulge): &([f64; 2], f64)| Vertex { x_mm, y_mm, bulge };
            self.closed.push(corners.iter().map(vertex).collect());
        } else {
            for pair in corners.windows(2) {
                self.piece(pair[0].0, pair[1].0, pair[0].1);
            }
        }
    }

    pub(crate) fn unread(&mut self, what: &str) {
        if !self.unread.iter().any(|u| u == what) && self.unread.len() < 20 {
            self.unread.push(what.to_owned());
        }
    }

    /// Scales to millimetres by `scale`, turns y over if the drawing's runs down from `top`, and joins.
    pub(crate) fn finish(mut self, scale: f64, top: Option<f64>, unit_stated: bool) -> Drawing {
        let place = |x: f64, y: f64| match top {
            Some(top) => [scale * x, scale * (top - y)],
            None => [scale * x, scale * y],
        };
        let hand = if top.is_some() { -1.0 } else { 1.0 };
        for c in &mut self.circles {
            [c.x_mm, c.y_mm] = place(c.x_mm, c.y_mm);
            c.diameter_mm *= scale;
        }
        for p in &mut self.pieces {
            p.from = place(p.from[0], p.from[1]);
            p.to = place(p.to[0], p.to[1]);
            p.bulge *= hand;
        }
        for v in self.closed.iter_mut().flatten() {
            [v.x_mm, v.y_mm] = place(v.x_mm, v.y_mm);
            v.bulge *= hand;
        }
        let (mut rings, open) = join(self.pieces);
        rings.append(&mut self.closed);
        let mut circles = self.circles;
        let mut loops = Vec::new();
        for vertices in rings {
            match round(&vertices) {
                Some(circle) => circles.push(circle),
                None => {
                    let path = Path { vertices };
                    if path.area_mm2().abs() > 1e-6 {
                        loops.push(path.counter_clockwise());
                    }
                }
            }
        }
        circles.retain(|c| c.diameter_mm > 0.0);
        loops.sort_by(|a, b| b.area_mm2().total_cmp(&a.area_mm2()));
        Drawing { circles, loops, open, unit_stated, unread: self.unread }
    }
}

fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    let d = [a[0] - b[0], a[1] - b[1]];
    (d[0] * d[0] + d[1] * d[1]).sqrt()
}

/// Joins pieces end to end into rings; what does not close is only counted.
fn join(pieces: Vec<Piece>) -> (Vec<Vec<Vertex>>, usize) {
    let mut left: Vec<Piece> =
        pieces.into_iter().filter(|p| apart(p.from, p.to) > 1e-9).collect();
    // Taken from the back, so that chains begin where the drawing began.
    left.reverse();
    let (mut rings, mut open) = (Vec::new(), 0);
    while let Some(first) = left.pop() {
        let mut chain = vec![first];
        let mut end = first.to;
        while apart(end, first.from) > JOIN_MM {
            let near = |p: &Piece| apart(p.from, end).min(apart(p.to, end));
            let next =
                (0..left.len()).min_by(|a, b| near(&left[*a]).total_cmp(&near(&left[*b])));
            let Some(next) = next.filter(|i| near(&left[*i]) <= JOIN_MM) else { break };
            let piece = left.remove(next);
            let piece = if apart(piece.from, end) <= apart(piece.to, end) {
                piece
            } else {
                piece.turned()
            };
            end = piece.to;
            chain.push(piece);
        }
        if apart(end, first.from) <= JOIN_MM {
            let vertex =
                |p: &Piece| Vertex { x_mm: p.from[0], y_mm: p.from[1], bulge: p.bulge };
            rings.push(chain.iter().map(vertex).collect());
        } else {
            open += 1;
        }
    }
    (rings, open)
}

/// A ring of two half circles is a circle.
fn round(vertices: &[Vertex]) -> Option<DrawnCircle> {
    let [a, b] = vertices else { return None };
    let half = (a.bulge.abs() - 1.0).abs() < 1e-3 && (a.bulge - b.bulge).abs() < 1e-3;
    half.then(|| DrawnCircle {
        x_mm: (a.x_mm + b.x_mm) / 2.0,
        y_mm: (a.y_mm + b.y_mm) / 2.0,
        diameter_mm: apart([a.x_mm, a.y_mm], [b.x_mm, b.y_mm]),
    })
}
