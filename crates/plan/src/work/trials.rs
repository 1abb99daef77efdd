//! Tests of the made-up cabling, each with its limit.

use crate::finding::{About, Quantity};

/// One test.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// Kebab-case id.
    pub id: String,
    /// What is measured.
    pub what: String,
    /// How to connect and read.
    pub connect: String,
    /// When: before or after fitting.
    pub when: When,
    /// What it is about.
    pub about: About,
    /// Whether the reading must be at most or at least the limit; a trial without a number is seen or not.
    pub limit: Limit,
    /// Where the limit comes from: source key.
    pub source: &'static str,
    /// Caution, where it can hurt.
    pub caution: Option<String>,
}

/// The limit of a trial.
#[derive(Clone, Debug, PartialEq)]
pub enum Limit {
    /// At most this.
    AtMost(Quantity),
    /// At least this.
    AtLeast(Quantity),
    /// Between these.
    Between(Quantity, Quantity),
    /// To be seen: "U to U only, nothing to V, W or chassis".
    Seen(String),
    /// Cannot be computed because something is unknown: what.
    Unknown(String),
}

/// When a trial is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum When {
    /// On the bench, with the made-up cable.
    Bench,
    /// Fitted, before energising.
    Fitted,
    /// At pre-charge and first energising.
    FirstPower,
    /// First spin and first drive.
    FirstDrive,
}

use crate::design::cuts::RunCut;
use crate::design::ends::End;
use crate::design::plates::Plate;
use crate::design::protect::Protected;
use crate::design::settle::SizedRun;
use crate::given::parts::Parts;

/// Requires the trials.
pub fn require(
    _parts: &Parts<'_>,
    _sizes: &[SizedRun],
    _cuts: &[RunCut],
    _ends: &[End],
    _plates: &[Plate],
    _protection: Option<&Protected>,
) -> Vec<Trial> {
    Vec::new()
}
