//! Surveyed faces: where holes, terminals and edges of a sealing face lie, and how surely.

use space::path::Path;

use crate::finding::Place;

/// A sealing face as it follows from its readings. Seen from outside, x to the right and y up, mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SurveyedFace {
    /// "device.port"; empty for a face file by itself.
    pub port: String,
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
    /// The reading that does not fit the others.
    pub suspect: Option<Suspect>,
    /// Points the readings do not hold fast.
    pub loose: Vec<String>,
    /// Readings that would hold them, best first.
    pub missing: Vec<String>,
    /// How the photograph fits.
    pub photo: Option<SurveyedPhoto>,
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
    /// Known points: name, residual in the picture and on the face.
    pub known: Vec<PhotoResidual>,
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
