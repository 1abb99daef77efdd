//! What the assembler does, in an order that works.

/// One thing the assembler does.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Kebab-case id, stable while the build's structure is: "phases-u-inverter-crimp".
    pub id: String,
    /// One line: "Crimp the lug on U at the inverter end".
    pub title: String,
    /// What to do, sentence by sentence.
    pub text: Vec<String>,
    /// What kind of work: bench work first, then the vehicle.
    pub action: Action,
    /// Where: "bench", "device.port".
    pub place: String,
    /// Run, cable and end it concerns, where it does.
    pub about: crate::finding::About,
    /// Kit parts used: key and count.
    pub parts: Vec<(String, u32)>,
    /// Tools with their size: "socket 13 mm", "hydraulic crimper, die 50".
    pub tools: Vec<String>,
    /// Torque, where one is due.
    pub torque_nm: Option<f64>,
    /// Ids of steps that must be done before.
    pub after: Vec<String>,
    /// Why the order matters, where it does.
    pub why: Option<String>,
    /// Caution, where the hand is about to act on something that can hurt.
    pub caution: Option<String>,
}

/// The kinds of step, in no order of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Action {
    /// Isolate, lock, wait, measure, prove the meter.
    Isolate,
    /// Cut a cable.
    Cut,
    /// Mark a cable's letter at both ends.
    Mark,
    /// Put grip, sleeve on the cable.
    Thread,
    /// Strip.
    Strip,
    /// Crimp the lug.
    Crimp,
    /// Bend the palm.
    Bend,
    /// Shrink the sleeve.
    Shrink,
    /// Test made-up cable on the bench.
    Test,
    /// Fit the spacer block.
    Block,
    /// Lay the O-ring.
    Ring,
    /// Offer up a plate, bolts loose.
    Offer,
    /// Lay the cable along its way and clip it.
    Lay,
    /// Land a lug, bolt loose.
    Land,
    /// Torque a lug bolt.
    TorqueLug,
    /// Torque the plate bolts.
    TorquePlate,
    /// Tighten grip body and nut.
    TightenGrip,
    /// Fit a cover.
    Cover,
    /// Fit the fuse.
    Fuse,
    /// Prove before energising.
    Prove,
}

use crate::design::cuts::RunCut;
use crate::design::ends::End;
use crate::design::plates::Plate;
use crate::design::protect::Protected;
use crate::given::parts::Parts;

/// Writes the steps.
pub fn write(
    _parts: &Parts<'_>,
    _cuts: &[RunCut],
    _ends: &[End],
    _plates: &[Plate],
    _protection: Option<&Protected>,
) -> Vec<Step> {
    Vec::new()
}
