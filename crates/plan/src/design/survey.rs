//! Surveyed faces: where holes, terminals and edges of a sealing face lie, and how surely.
//!
//! Readings, stated places, a photograph and a drawing come together in one least-squares figure
//! (`space::survey`); what it leaves loose is left out here and named.

mod outline;

use physics::units::{System, number};
use space::homography::{self, CLICK_PX, Known, Unusable};
use space::path::Path;
use space::survey::{self, Adjusted, Edge, Figure, Kind, Point, Reading, Refused};

use super::together::together;
use crate::finding::{Notes, Place};
use crate::given::build::{Face, FacePoint, Maybe, Measure, Side, Tool};
use crate::given::face::ReadingOf;
use crate::given::parts::{Parts, PortParts};

/// A sealing face as it follows from its readings. Seen from outside, x to the right and y up, mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SurveyedFace {
    /// "device.port"; empty for a face file by itself.
    pub port: String,
    /// What it is called.
    pub title: Option<String>,
    /// Where the face stands in the document.
    pub at: Place,
    /// Bolt holes in the order written; those that are loose are left out and named in `loose`.
    pub holes: Vec<SurveyedPoint>,
    /// Terminals in the order written.
    pub terminals: Vec<SurveyedPoint>,
    /// Other points, such as corners of the opening.
    pub corners: Vec<SurveyedPoint>,
    /// The hole in the housing, counter-clockwise.
    pub opening: Option<Path>,
    /// The outer edge of the sealing land, counter-clockwise.
    pub outline: Option<Path>,
    /// Readings in the order written, and how each fits.
    pub readings: Vec<SurveyedReading>,
    /// Sum of squared residuals, each over its standard deviation.
    pub chi_square: f64,
    /// What that sum stays below in all but one of a thousand good surveys; none where nothing checks anything.
    pub chi_square_limit: Option<f64>,
    /// How many readings there are more than needed.
    pub redundancy: usize,
    /// Whether the readings agree as well as their deviations promise.
    pub consistent: bool,
    /// The reading that does not fit the others.
    pub suspect: Option<Suspect>,
    /// Points and edges the readings do not hold fast, or that fit as well mirrored.
    pub loose: Vec<String>,
    /// Readings that would hold them, best first.
    pub missing: Vec<String>,
    /// How the photograph fits.
    pub photo: Option<SurveyedPhoto>,
    /// What kept the face, its picture or an outline from being worked out, in words.
    pub faults: Vec<String>,
    /// A file the face names that was not at hand.
    pub unread: Option<String>,
}

/// A point of a face.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyedPoint {
    /// Its name.
    pub name: String,
    /// Position.
    pub x_mm: f64,
    /// Position.
    pub y_mm: f64,
    /// Diameter, where it is a hole and was measured.
    pub diameter_mm: Option<f64>,
    /// Standard deviation of the position along its worst direction; none where it was stated.
    pub sigma_mm: Option<f64>,
}

/// A reading and how it fits.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyedReading {
    /// "outside B1 to B2".
    pub what: String,
    /// Where it stands.
    pub at: Place,
    /// What the tool showed.
    pub value_mm: f64,
    /// Its standard deviation.
    pub sigma_mm: f64,
    /// Reading less what the fitted face would show.
    pub residual_mm: f64,
    /// The residual over its own standard deviation; none where nothing checks this reading.
    pub normalised: Option<f64>,
}

/// The reading that does not fit the others.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Which of the readings.
    pub reading: usize,
    /// What it should have been by the others.
    pub should_mm: f64,
    /// Standard deviation of that.
    pub should_sigma_mm: f64,
    /// Readings that would be as good a guess: nothing tells them from it.
    pub alike: Vec<usize>,
    /// Whether the others agree once it is left out.
    pub cures: bool,
}

/// How a photograph fits the points known in it.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyedPhoto {
    /// Where it stands.
    pub at: Place,
    /// Known points: name, residual in the picture and on the face.
    pub known: Vec<PhotoResidual>,
    /// Known coordinates more than needed.
    pub redundancy: usize,
    /// Root mean square of the residuals in the picture.
    pub rms_px: f64,
    /// The same on the face.
    pub rms_mm: f64,
}

/// Residual of a known point.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoResidual {
    /// Its name.
    pub name: String,
    /// In the picture.
    pub residual_px: f64,
    /// On the face.
    pub residual_mm: f64,
}

/// Standard deviation of a reading with a calliper: common practice, no source.
pub const CALLIPER_SIGMA_MM: f64 = 0.05;
/// With a steel rule: common practice, no source.
pub const RULE_SIGMA_MM: f64 = 0.3;
/// With a tape: common practice, no source.
pub const TAPE_SIGMA_MM: f64 = 1.0;

/// Measures the faces of all ports that have one.
pub fn measure(parts: &Parts<'_>, notes: &mut Notes) -> Vec<SurveyedFace> {
    let faced: Vec<(&PortParts<'_>, &Face)> =
        parts.ports.iter().filter_map(|port| Some((port, port.port.face.as_ref()?))).collect();
    let all = together(&faced, |(port, face)| {
        let key = format!("device.{}.port.{}.face", port.device.id.value, port.port.id);
        let mut notes = Notes::default();
        (one(&port.name, &key, face, &mut notes), notes)
    });
    let mut faces = Vec::new();
    for (face, noted) in all {
        faces.push(face);
        notes.take(noted);
    }
    faces
}

/// Measures one face; `key` is its header in the document, for the ledger of assumptions.
pub fn one(port: &str, key: &str, face: &Face, notes: &mut Notes) -> SurveyedFace {
    let mut out = SurveyedFace {
        port: port.to_owned(),
        title: face.title.as_ref().map(|t| t.value.clone()),
        at: face.at,
        consistent: true,
        unread: unread(face),
        ..SurveyedFace::default()
    };
    if out.unread.is_some() {
        return out;
    }
    let mut net = Net::of(face, key, notes);
    net.photograph(face, &mut out);
    net.settle(&mut out);
    outline::draw(face, &mut out);
    if face.drawn.as_ref().is_some_and(|d| !d.unit_stated) {
        let why = "the drawing does not say its unit";
        notes.assume(
            &format!("unit of the drawing of {key}"),
            "mm",
            why,
            &format!("{key}.dxf"),
        );
    }
    out
}

/// A file the face names whose contents are not there.
fn unread(face: &Face) -> Option<String> {
    let empty = face.holes.is_empty() && face.terminals.is_empty() && face.corners.is_empty();
    let file = face.file.as_ref().filter(|_| empty && face.drawn.is_none());
    let drawing = face.dxf.as_ref().or(face.svg.as_ref()).filter(|_| face.drawn.is_none());
    file.or(drawing).map(|name| name.value.clone())
}

/// What a point of the face is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Role {
    Hole,
    Terminal,
    Corner,
}

/// The figure of a face with the names of its points, edges and readings.
struct Net {
    names: Vec<(String, Role)>,
    edges: Vec<String>,
    /// Diameters a drawing states.
    drawn: Vec<Option<f64>>,
    figure: Figure,
    places: Vec<Place>,
}

impl Net {
    fn of(face: &Face, key: &str, notes: &mut Notes) -> Net {
        let mut net = Net {
            names: Vec::new(),
            edges: Vec::new(),
            drawn: Vec::new(),
            figure: Figure::default(),
            places: Vec::new(),
        };
        let all = [
            (Role::Hole, &face.holes),
            (Role::Terminal, &face.terminals),
            (Role::Corner, &face.corners),
        ];
        for (role, points) in all {
            for point in points {
                net.names.push((point.id.value.clone(), role));
                net.drawn.push(None);
                net.figure.points.push(Point {
                    held: point.stated_mm.as_ref().map(|p| p.value),
                    near: point.near_mm.as_ref().map(|p| p.value),
                });
            }
        }
        net.draw(face);
        for edge in &face.edges {
            net.edges.push(edge.id.value.clone());
            net.figure.edges.push(Edge { toward: edge.side.as_ref().map(|s| toward(s.value)) });
        }
        let axis = |name: &Maybe<String>| name.as_ref().and_then(|n| net.point(&n.value));
        let origin = axis(&face.origin).unwrap_or(0);
        let along = axis(&face.x_axis).unwrap_or(usize::from(origin == 0));
        net.figure.axes = Some([origin, along]);
        net.read(face, key, notes);
        net
    }

    /// Circles of a drawing are holes, named H1, H2 ... in the order drawn, and held where they are.
    fn draw(&mut self, face: &Face) {
        let circles = face.drawn.iter().flat_map(|d| &d.circles);
        for (i, circle) in circles.enumerate() {
            let name = format!("H{}", i + 1);
            if self.point(&name).is_none() {
                self.names.push((name, Role::Hole));
                self.drawn.push(Some(circle.diameter_mm));
                let held = Some([circle.x_mm, circle.y_mm]);
                self.figure.points.push(Point { held, near: None });
            }
        }
    }

    fn point(&self, name: &str) -> Option<usize> {
        self.names.iter().position(|(n, _)| n == name)
    }

    fn add(&mut self, kind: Kind, value_mm: f64, sigma_mm: f64, at: Place) {
        self.figure.readings.push(Reading { kind, value_mm, sigma_mm });
        self.places.push(at);
    }

    fn read(&mut self, face: &Face, key: &str, notes: &mut Notes) {
        let mut sigma = |tool: &Maybe<Tool>, stated: &Maybe<f64>| match (stated, tool) {
            (Some(stated), _) => stated.value,
            (None, Some(tool)) => deviation(tool.value, key, notes),
            (None, None) => {
                let why = "readings of a face are taken with a calliper (common practice)";
                notes.assume(
                    &format!("tool of the readings of {key}"),
                    "calliper",
                    why,
                    &format!("{key}.reading.tool"),
                );
                deviation(Tool::Calliper, key, notes)
            }
        };
        let points: Vec<&FacePoint> =
            face.holes.iter().chain(&face.terminals).chain(&face.corners).collect();
        for (i, point) in points.iter().enumerate() {
            if let Some(diameter) = &point.diameter_mm {
                let sigma_mm = sigma(&point.tool, &None);
                self.add(Kind::Diameter(i), diameter.value, sigma_mm, point.id.at);
            }
        }
        for reading in &face.readings {
            let Ok((of, value_mm)) = reading.of() else { continue };
            let Some(kind) = self.kind(of) else { continue };
            let sigma_mm = sigma(&reading.tool, &reading.deviation_mm);
            self.add(kind, value_mm, sigma_mm, reading.at);
        }
    }

    /// A reading by indices; none where it names what a drawing does not hold.
    fn kind(&self, of: ReadingOf<'_>) -> Option<Kind> {
        let edge = |name: &str| self.edges.iter().position(|e| e == name);
        Some(match of {
            ReadingOf::Between(measure, a, b) => {
                let (a, b) = (self.point(a)?, self.point(b)?);
                match measure {
                    Measure::Outside => Kind::Outside(a, b),
                    Measure::Inside => Kind::Inside(a, b),
                    _ => Kind::Centres(a, b),
                }
            }
            ReadingOf::ToEdge(measure, a, e) => {
                let (a, e) = (self.point(a)?, edge(e)?);
                match measure {
                    Measure::NearSide => Kind::NearSide(a, e),
                    Measure::FarSide => Kind::FarSide(a, e),
                    _ => Kind::ToEdge(a, e),
                }
            }
            ReadingOf::ToLine(a, [b, c]) => {
                Kind::ToLine(self.point(a)?, [self.point(b)?, self.point(c)?])
            }
            ReadingOf::Across(a) => Kind::Diameter(self.point(a)?),
        })
    }

    /// Places seen in the photograph become readings of x and y.
    fn photograph(&mut self, face: &Face, out: &mut SurveyedFace) {
        let Some(photo) = &face.photo else { return };
        let place = |name: &str, at: &Maybe<[f64; 2]>| {
            let held = || self.point(name).and_then(|i| self.figure.points[i].held);
            at.as_ref().map(|a| a.value).or_else(held)
        };
        let (mut known, mut names, mut seen) = (Vec::new(), Vec::new(), Vec::new());
        for point in &photo.points {
            let Some(pixel) = point.pixel.as_ref().map(|p| p.value) else { continue };
            let name = point.id.value.clone();
            match place(&name, &point.at_mm) {
                Some(at_mm) => {
                    known.push(Known { at_mm, pixel });
                    names.push(name);
                }
                None => seen.push((name, pixel)),
            }
        }
        let size = photo.size_px.as_ref().map(|s| s.value);
        let terms = photo.distortion.as_ref().map_or(0, |d| d.value as usize);
        let click = photo.click_px.as_ref().map_or(CLICK_PX, |c| c.value);
        match homography::rectify(&known, size, terms, click) {
            Ok(fit) => {
                let size = |r: &[f64; 2]| (r[0] * r[0] + r[1] * r[1]).sqrt();
                let residuals = fit.residuals_px.iter().zip(&fit.residuals_mm).zip(names);
                let residual = |((px, mm), name)| PhotoResidual {
                    name,
                    residual_px: size(px),
                    residual_mm: size(mm),
                };
                out.photo = Some(SurveyedPhoto {
                    at: photo.at,
                    known: residuals.map(residual).collect(),
                    redundancy: fit.freedom,
                    rms_px: fit.rms_px,
                    rms_mm: fit.rms_mm,
                });
                for (name, pixel) in seen {
                    let measured = fit.measure(pixel);
                    match (self.point(&name), measured) {
                        (Some(i), Some(m)) => {
                            let [xx, _, yy] = m.covariance_mm2;
                            self.add(Kind::X(i), m.x_mm, xx.sqrt().max(1e-4), photo.at);
                            self.add(Kind::Y(i), m.y_mm, yy.sqrt().max(1e-4), photo.at);
                        }
                        (None, _) => {
                            out.faults.push(format!("the photograph names {name}, which is no point of the face and has no place"));
                        }
                        (_, None) => {
                            out.faults.push(format!(
                                "{name} lies beyond the horizon of the photograph"
                            ));
                        }
                    }
                }
            }
            Err(why) => out.faults.push(unusable(&why, &names)),
        }
    }

    fn settle(&self, out: &mut SurveyedFace) {
        let fixed = self.figure.points.iter().all(|p| p.held.is_some());
        if self.figure.points.is_empty() || (fixed && self.figure.readings.is_empty()) {
            for (i, p) in self.figure.points.iter().enumerate() {
                let [x_mm, y_mm] = p.held.unwrap_or_default();
                self.put(
                    out,
                    i,
                    SurveyedPoint {
                        name: self.names[i].0.clone(),
                        x_mm,
                        y_mm,
                        diameter_mm: self.drawn[i],
                        sigma_mm: None,
                    },
                );
            }
            return;
        }
        match survey::adjust(&self.figure) {
            Ok(adjusted) => self.tell(&adjusted, out),
            Err(refused) => out.faults.push(self.refused(refused)),
        }
    }

    fn put(&self, out: &mut SurveyedFace, i: usize, point: SurveyedPoint) {
        match self.names[i].1 {
            Role::Hole => out.holes.push(point),
            Role::Terminal => out.terminals.push(point),
            Role::Corner => out.corners.push(point),
        }
    }

    fn tell(&self, adjusted: &Adjusted, out: &mut SurveyedFace) {
        for (i, p) in adjusted.points.iter().enumerate() {
            let name = self.names[i].0.clone();
            if p.loose || adjusted.mirrored.contains(&i) {
                out.loose.push(name);
                continue;
            }
            // The first point and the axis are where they are by the choice of the frame, not by statement.
            let held = self.figure.points[i].held.is_some();
            let point = SurveyedPoint {
                name,
                x_mm: p.x_mm,
                y_mm: p.y_mm,
                diameter_mm: p.diameter_mm.or(self.drawn[i]),
                sigma_mm: (!held).then(|| p.sigma_mm()),
            };
            self.put(out, i, point);
        }
        for (i, e) in adjusted.edges.iter().enumerate() {
            if e.loose || adjusted.mirrored_edges.contains(&i) {
                out.loose.push(format!("edge {}", self.edges[i]));
            }
        }
        for ((reading, fit), at) in
            self.figure.readings.iter().zip(&adjusted.fits).zip(&self.places)
        {
            out.readings.push(SurveyedReading {
                what: self.words(reading.kind),
                at: *at,
                value_mm: reading.value_mm,
                sigma_mm: reading.sigma_mm,
                residual_mm: fit.residual_mm,
                normalised: fit.normalised,
            });
        }
        out.chi_square = adjusted.chi_square;
        out.chi_square_limit = adjusted.chi_square_limit;
        out.redundancy = adjusted.freedom;
        out.consistent = adjusted.consistent();
        out.suspect = adjusted.suspect.as_ref().map(|s| Suspect {
            reading: s.reading,
            should_mm: s.should_mm,
            should_sigma_mm: s.should_sigma_mm,
            alike: s.alike.clone(),
            cures: s.cures,
        });
        out.missing = adjusted.missing.iter().map(|k| self.words(*k)).collect();
    }

    /// A reading in words.
    fn words(&self, kind: Kind) -> String {
        let p = |i: usize| self.names.get(i).map_or("?", |(name, _)| name.as_str());
        let e = |i: usize| self.edges.get(i).map_or("?", String::as_str);
        match kind {
            Kind::Centres(a, b) => format!("centres {} to {}", p(a), p(b)),
            Kind::Outside(a, b) => format!("outside {} to {}", p(a), p(b)),
            Kind::Inside(a, b) => format!("inside {} to {}", p(a), p(b)),
            Kind::Diameter(a) => format!("diameter of {}", p(a)),
            Kind::ToEdge(a, edge) => format!("centre of {} to edge {}", p(a), e(edge)),
            Kind::NearSide(a, edge) => format!("near side of {} to edge {}", p(a), e(edge)),
            Kind::FarSide(a, edge) => format!("far side of {} to edge {}", p(a), e(edge)),
            Kind::ToLine(a, [b, c]) => format!("centre of {} to line {}-{}", p(a), p(b), p(c)),
            Kind::X(a) => format!("x of {} in the photograph", p(a)),
            Kind::Y(a) => format!("y of {} in the photograph", p(a)),
        }
    }

    fn refused(&self, why: Refused) -> String {
        match why {
            Refused::TooFew => "the face has fewer than two points".to_owned(),
            Refused::TooMany => format!(
                "the face has more than {} points, {} edges or {} readings",
                survey::POINTS_MAX,
                survey::EDGES_MAX,
                survey::READINGS_MAX
            ),
            Refused::Axes => "the origin and the point on the x axis are one".to_owned(),
            Refused::Number(i) | Refused::Target(i) => {
                let what = self.figure.readings.get(i).map(|r| self.words(r.kind));
                format!("the reading {} makes no sense", what.unwrap_or_default())
            }
        }
    }
}

fn toward(side: Side) -> [f64; 2] {
    match side {
        Side::Above => [0.0, 1.0],
        Side::Below => [0.0, -1.0],
        Side::Left => [-1.0, 0.0],
        Side::Right => [1.0, 0.0],
    }
}

fn deviation(tool: Tool, key: &str, notes: &mut Notes) -> f64 {
    let (name, sigma_mm) = match tool {
        Tool::Calliper => ("calliper", CALLIPER_SIGMA_MM),
        Tool::Rule => ("steel rule", RULE_SIGMA_MM),
        Tool::Tape => ("tape", TAPE_SIGMA_MM),
    };
    notes.assume(
        &format!("standard deviation of a reading by {name}"),
        &fine(sigma_mm, System::Metric),
        "common practice, no source",
        &format!("{key}.reading.deviation"),
    );
    sigma_mm
}

fn unusable(why: &Unusable, names: &[String]) -> String {
    match why {
        Unusable::TooFew(needed) => format!(
            "the photograph has {} known points, and {needed} are needed",
            names.len()
        ),
        Unusable::TooMany => {
            format!("the photograph has more than {} known points", homography::KNOWN_MAX)
        }
        Unusable::OnALine(three) => {
            let name = |i: usize| names.get(i).map_or("?", String::as_str);
            format!(
                "the known points {}, {} and {} of the photograph lie on a line, and no four others stand free",
                name(three[0]),
                name(three[1]),
                name(three[2])
            )
        }
        Unusable::NoCamera => {
            "no camera could have seen the known points of the photograph so: check which is which".to_owned()
        }
    }
}

/// A length to the hundredth of a millimetre in both systems, as a calliper shows it.
pub fn fine(value_mm: f64, first: System) -> String {
    let metric = format!("{} mm", number(value_mm, 2));
    let us = format!("{} in", number(value_mm / 25.4, 4));
    match first {
        System::Metric => format!("{metric} ({us})"),
        System::Us => format!("{us} ({metric})"),
    }
}

#[cfg(test)]
mod tests;
