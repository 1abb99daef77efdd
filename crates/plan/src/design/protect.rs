//! Protection of the DC side: fuse, fault, pre-charge, discharge, isolation.

use crate::given::shelf::Fuse;

/// The DC side, protected.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Protected {
    /// The run protected.
    pub run: String,
    /// The fuse.
    pub fuse: Option<Fuse>,
    /// What the fuse may carry where it sits: rating x ambient factor x load share.
    pub fuse_carries_a: Option<f64>,
    /// Ambient factor.
    pub fuse_ambient_factor: Option<f64>,
    /// Continuous and peak current of the run.
    pub current_a: Option<f64>,
    /// Fault at the far end of the run.
    pub fault: Option<Fault>,
    /// Joule integral the cable withstands.
    pub cable_withstand_a2s: Option<f64>,
    /// Pre-charge.
    pub precharge: Option<Precharge>,
    /// Time for the discharge resistor to bring the link under 60 V.
    pub discharge_s: Option<f64>,
    /// Least isolation resistance of the joined system.
    pub isolation_ohm: Option<f64>,
    /// Energy in the Y-capacitors at the highest voltage.
    pub y_energy_j: Option<f64>,
}

/// A short circuit at the end of the run.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Loop resistance: source, cable both ways, warm.
    pub resistance_ohm: f64,
    /// Loop inductance.
    pub inductance_h: f64,
    /// Prospective current.
    pub prospective_a: f64,
    /// Time constant.
    pub time_constant_s: f64,
}

/// A pre-charge.
#[derive(Clone, Debug, PartialEq)]
pub struct Precharge {
    /// Resistor.
    pub resistance_ohm: f64,
    /// Link capacitance.
    pub capacitance_f: f64,
    /// Energy the resistor takes.
    pub energy_j: f64,
    /// Peak power.
    pub peak_w: f64,
    /// Peak current.
    pub peak_a: f64,
    /// Time constant.
    pub time_constant_s: f64,
    /// When the contactor closes.
    pub close_s: f64,
    /// Voltage difference left then.
    pub left_v: f64,
    /// Seconds and volts on the link.
    pub curve: Vec<(f64, f64)>,
}

use super::length::RunLength;
use super::settle::SizedRun;
use crate::finding::Notes;
use crate::given::parts::Parts;

/// Chooses the protection.
pub fn choose(
    _parts: &Parts<'_>,
    _sizes: &[SizedRun],
    _lengths: &[RunLength],
    _notes: &mut Notes,
) -> Option<Protected> {
    None
}
