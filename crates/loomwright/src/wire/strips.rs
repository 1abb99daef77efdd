//! A run laid out straight, to scale, as shapes the pages only have to draw.

use schemars::JsonSchema;
use serde::Serialize;

use super::{AboutWire, AtWire};

/// Every run of a version, laid out straight.
#[derive(Serialize, JsonSchema)]
pub(crate) struct StripsWire {
    pub(crate) version: u64,
    /// The version the strips are of.
    pub(crate) of: Option<u64>,
    pub(crate) strips: Vec<StripWire>,
}

/// A run laid out straight. x runs from the first terminal's hole to the last's; y is up, and zero on the middle cable.
#[derive(Serialize, JsonSchema)]
pub(crate) struct StripWire {
    pub(crate) run: String,
    pub(crate) carries: &'static str,
    /// "device.port" at both ends.
    pub(crate) from: String,
    pub(crate) to: String,
    pub(crate) from_name: String,
    pub(crate) to_name: String,
    /// Why it cannot be laid out to scale; it is then drawn with an invented length.
    pub(crate) unknown: Option<String>,
    /// From hole to hole.
    pub(crate) length_mm: f64,
    /// The two sealing faces.
    pub(crate) faces_mm: [f64; 2],
    /// Lowest and highest of all shapes.
    pub(crate) y_mm: [f64; 2],
    pub(crate) cut_mm: Option<f64>,
    /// "3 x 2/0 AWG"
    pub(crate) cable: Option<String>,
    /// What is drawn, back to front.
    pub(crate) shapes: Vec<ShapeWire>,
    pub(crate) heat: Option<StripHeatWire>,
    pub(crate) sections: Vec<StripSectionWire>,
    /// Measures to draw below, outermost last.
    pub(crate) measures: Vec<MeasureWire>,
    /// The line of the run in the document.
    pub(crate) at: Option<AtWire>,
}

/// One shape of a strip.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ShapeWire {
    /// Unique in the strip, and the same in the next version: "from/U/bolt".
    pub(crate) id: String,
    pub(crate) kind: ShapeKindWire,
    /// For a pointer that rests on it: "lug 2/0 AWG, M8, bent".
    pub(crate) text: String,
    /// Its closed outline.
    pub(crate) outline: Vec<[f64; 2]>,
    pub(crate) about: AboutWire,
    /// Ids of the findings it is meant by.
    pub(crate) findings: Vec<String>,
}

/// What a shape is.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ShapeKindWire {
    Box,
    Terminal,
    Cable,
    Conductor,
    Lug,
    Bolt,
    Washer,
    Sleeve,
    Plate,
    Groove,
    Grip,
    Clip,
}

/// Temperature along a strip.
#[derive(Serialize, JsonSchema)]
pub(crate) struct StripHeatWire {
    /// The cable that is hottest.
    pub(crate) cable: String,
    pub(crate) spots: Vec<StripSpotWire>,
    pub(crate) limit_c: f64,
    pub(crate) air_c: f64,
    /// Lowest and highest of all that is to be drawn.
    pub(crate) range_c: [f64; 2],
    /// Hottest place, steady, and what it leaves to the limit.
    pub(crate) hottest_mm: Option<f64>,
    pub(crate) margin_k: Option<f64>,
    pub(crate) margin_text: Option<String>,
}

/// Temperature at one place.
#[derive(Serialize, JsonSchema)]
pub(crate) struct StripSpotWire {
    pub(crate) x_mm: f64,
    pub(crate) steady_c: f64,
    /// At the hottest moment of duty or peak.
    pub(crate) hottest_c: Option<f64>,
    pub(crate) low_c: Option<f64>,
    pub(crate) high_c: Option<f64>,
}

/// A section of surroundings.
#[derive(Serialize, JsonSchema)]
pub(crate) struct StripSectionWire {
    pub(crate) name: String,
    pub(crate) from_mm: f64,
    pub(crate) to_mm: f64,
    /// Hottest steady conductor in it.
    pub(crate) steady_c: Option<f64>,
    pub(crate) text: String,
}

/// A measure along a strip.
#[derive(Serialize, JsonSchema)]
pub(crate) struct MeasureWire {
    pub(crate) from_mm: f64,
    pub(crate) to_mm: f64,
    pub(crate) text: String,
    /// The key that states it, if one does.
    pub(crate) path: Option<Vec<String>>,
}
