//! What each cable is cut to.
//!
//! cut = path + inside lengths - what the lugs reach beyond the cable's end + trim, rounded up to the
//! shop's step. All cables of a run get the same length, so that no phase lags in impedance and any
//! cable fits any terminal.

/// The cut of one run.
#[derive(Clone, Debug, PartialEq)]
pub struct RunCut {
    /// Run id.
    pub run: String,
    /// Path from face to face.
    pub path_mm: Option<f64>,
    /// Inside lengths at both ports.
    pub inside_mm: [Option<f64>; 2],
    /// From the bottom of the lug's barrel to its hole, at both ends: the cable ends this much before the terminal.
    pub lug_mm: [Option<f64>; 2],
    /// Extra for trimming, both ends together.
    pub trim_mm: f64,
    /// Cut length of each cable.
    pub cut_mm: Option<f64>,
    /// From lug hole to lug hole when made up.
    pub made_mm: Option<f64>,
}

use super::ends::End;
use super::length::RunLength;
use crate::finding::Notes;
use crate::given::parts::Parts;

/// Settles the cut length of every run.
pub fn settle(
    _parts: &Parts<'_>,
    _lengths: &[RunLength],
    _ends: &[End],
    _notes: &mut Notes,
) -> Vec<RunCut> {
    Vec::new()
}
