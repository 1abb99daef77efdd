//! A surveyed face as JSON.

use plan::design::survey::{SurveyedFace, SurveyedPoint};
use schemars::JsonSchema;
use serde::Serialize;
use space::path::Path;

/// A surveyed face, seen from outside, x to the right and y up.
#[derive(Serialize, JsonSchema)]
pub(crate) struct FaceWire {
    /// "device.port"; empty for a face file by itself.
    port: String,
    title: Option<String>,
    /// Whether the readings agree as well as their deviations promise.
    consistent: bool,
    chi_square: f64,
    /// What chi-square stays below in all but one of a thousand good surveys.
    chi_square_limit: Option<f64>,
    /// Readings more than needed.
    redundancy: usize,
    holes: Vec<PointWire>,
    terminals: Vec<PointWire>,
    corners: Vec<PointWire>,
    opening: Option<Vec<VertexWire>>,
    outline: Option<Vec<VertexWire>>,
    readings: Vec<ReadingWire>,
    suspect: Option<SuspectWire>,
    /// Points and edges without a certain place.
    loose: Vec<String>,
    /// What to read yet, best first.
    missing: Vec<String>,
    photo: Option<PhotoWire>,
    /// What could not be worked out, in words.
    faults: Vec<String>,
}

#[derive(Serialize, JsonSchema)]
struct PointWire {
    name: String,
    x_mm: f64,
    y_mm: f64,
    diameter_mm: Option<f64>,
    /// Standard deviation along the worst direction; none where the place was stated.
    sigma_mm: Option<f64>,
}

/// A corner of an outline and the segment that leaves it.
#[derive(Serialize, JsonSchema)]
struct VertexWire {
    x_mm: f64,
    y_mm: f64,
    /// Tangent of a quarter of the leaving arc's angle, positive to the left; zero for a line.
    bulge: f64,
}

#[derive(Serialize, JsonSchema)]
struct ReadingWire {
    what: String,
    value_mm: f64,
    sigma_mm: f64,
    residual_mm: f64,
    /// The residual over its own standard deviation; none where nothing checks the reading.
    normalised: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct SuspectWire {
    /// Index of the reading.
    reading: usize,
    what: String,
    should_mm: f64,
    should_sigma_mm: f64,
    /// Indices of readings that are as good a guess.
    alike: Vec<usize>,
    /// Whether the others agree once it is left out.
    cures: bool,
}

#[derive(Serialize, JsonSchema)]
struct PhotoWire {
    known: Vec<KnownWire>,
    redundancy: usize,
    rms_px: f64,
    rms_mm: f64,
}

#[derive(Serialize, JsonSchema)]
struct KnownWire {
    name: String,
    residual_px: f64,
    residual_mm: f64,
}

/// A surveyed face for others.
pub(crate) fn survey(face: &SurveyedFace) -> FaceWire {
    FaceWire {
        port: face.port.clone(),
        title: face.title.clone(),
        consistent: face.consistent,
        chi_square: face.chi_square,
        chi_square_limit: face.chi_square_limit,
        redundancy: face.redundancy,
        holes: face.holes.iter().map(point).collect(),
        terminals: face.terminals.iter().map(point).collect(),
        corners: face.corners.iter().map(point).collect(),
        opening: face.opening.as_ref().map(path),
        outline: face.outline.as_ref().map(path),
        readings: face
            .readings
            .iter()
            .map(|r| ReadingWire {
                what: r.what.clone(),
                value_mm: r.value_mm,
                sigma_mm: r.sigma_mm,
                residual_mm: r.residual_mm,
                normalised: r.normalised,
            })
            .collect(),
        suspect: face.suspect.as_ref().map(|s| SuspectWire {
            reading: s.reading,
            what: face.readings[s.reading].what.clone(),
            should_mm: s.should_mm,
            should_sigma_mm: s.should_sigma_mm,
            alike: s.alike.clone(),
            cures: s.cures,
        }),
        loose: face.loose.clone(),
        missing: face.missing.clone(),
        photo: face.photo.as_ref().map(|p| PhotoWire {
            known: p
                .known
                .iter()
                .map(|k| KnownWire {
                    name: k.name.clone(),
                    residual_px: k.residual_px,
                    residual_mm: k.residual_mm,
                })
                .collect(),
            redundancy: p.redundancy,
            rms_px: p.rms_px,
            rms_mm: p.rms_mm,
        }),
        faults: face.faults.clone(),
    }
}

fn point(p: &SurveyedPoint) -> PointWire {
    PointWire {
        name: p.name.clone(),
        x_mm: p.x_mm,
        y_mm: p.y_mm,
        diameter_mm: p.diameter_mm,
        sigma_mm: p.sigma_mm,
    }
}

fn path(path: &Path) -> Vec<VertexWire> {
    let vertex =
        |v: &space::path::Vertex| VertexWire { x_mm: v.x_mm, y_mm: v.y_mm, bulge: v.bulge };
    path.vertices.iter().map(vertex).collect()
}
