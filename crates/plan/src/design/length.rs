//! How long each run's path is, as measured.

/// Lengths of one run.
#[derive(Clone, Debug, PartialEq)]
pub struct RunLength {
    /// Run id.
    pub run: String,
    /// Path from sealing face to sealing face; the longest of the cables.
    pub path_mm: Option<f64>,
    /// Difference between the longest and the shortest measured cable.
    pub spread_mm: f64,
    /// Along the cable inside the boxes, sealing face to terminal centre, at the from- and the to-port.
    pub inside_mm: [Option<f64>; 2],
}

use crate::finding::Notes;
use crate::given::parts::Parts;

/// Measures the paths of all runs.
pub fn measure(parts: &Parts<'_>, _notes: &mut Notes) -> Vec<RunLength> {
    parts
        .runs
        .iter()
        .map(|r| RunLength {
            run: r.run.id.value.clone(),
            path_mm: r.run.length_mm.as_ref().map(|l| l.value),
            spread_mm: 0.0,
            inside_mm: [None, None],
        })
        .collect()
}
