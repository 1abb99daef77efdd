//! Every end of every cable: lug, crimp, strip, sleeve, grip, bolt stack, torque.

use crate::given::build::Palm;
use crate::given::shelf::{Bolt, BoltClass, Crimp, Grip, Lug, Nut, Sleeve, Washer};

/// Which end of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// At the run's from-port.
    From,
    /// At the run's to-port.
    To,
}

/// One end of one cable. A part that could not be chosen is absent and named in a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// Run id.
    pub run: String,
    /// Cable label: its from-terminal.
    pub cable: String,
    /// Which end.
    pub side: Side,
    /// "device.port".
    pub port: String,
    /// Terminal it lands on.
    pub terminal: String,
    /// Lug.
    pub lug: Option<Lug>,
    /// Crimp basis.
    pub crimp: Option<Crimp>,
    /// How the palm is used.
    pub palm: Palm,
    /// Length to strip.
    pub strip_mm: Option<f64>,
    /// Sleeve as fitted.
    pub sleeve: Option<SleeveFit>,
    /// Grip, where the port has a plate.
    pub grip: Option<Grip>,
    /// Bolt stack.
    pub stack: Option<Stack>,
    /// Torque of the bolt.
    pub torque: Option<TorqueChoice>,
    /// What must be on the cable before the lug is crimped, in the order it goes on.
    pub before_lug: Vec<Early>,
}

/// A part that goes on the cable before the lug, and whether it could still pass afterwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Early {
    /// Kit key of the part.
    pub part: String,
    /// What it is: "grip nut, seal and body", "sleeve".
    pub what: String,
    /// Its opening.
    pub opening_mm: f64,
    /// What it would have to pass: the widest of the crimped lug.
    pub lug_mm: f64,
}

/// A sleeve cut and shrunk.
#[derive(Clone, Debug, PartialEq)]
pub struct SleeveFit {
    /// The sleeve.
    pub sleeve: Sleeve,
    /// Length to cut.
    pub length_mm: f64,
    /// Length after shrinking.
    pub shrunk_mm: f64,
    /// What it has to cover: the gap, the barrel and the overlap on the insulation.
    pub cover_mm: f64,
}

/// What lies under a bolt's head and what the bolt reaches.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// Head form and thread; none on a stud.
    pub bolt: Option<Bolt>,
    /// Nut; only on a stud.
    pub nut: Option<Nut>,
    /// Class of the bolt, or of the nut's stud.
    pub class: BoltClass,
    /// Length of the bolt under its head, or of the stud above the landing face.
    pub length_mm: f64,
    /// Washer under the head.
    pub washer: Option<Washer>,
    /// Washer and palm (or plate) together.
    pub clamped_mm: f64,
    /// From the landing face to where full thread begins.
    pub thread_start_mm: f64,
    /// Depth of full thread.
    pub thread_depth_mm: f64,
    /// Thread in thread.
    pub engagement_mm: f64,
    /// Engagement that is needed.
    pub engagement_mm_min: f64,
    /// Thread left under the bolt's tip; negative when it bottoms.
    pub left_mm: f64,
}

/// A torque and why it is that one.
#[derive(Clone, Debug, PartialEq)]
pub struct TorqueChoice {
    /// To be used.
    pub torque_nm: f64,
    /// Preload it gives.
    pub preload_n: f64,
    /// Everything that limits it, as judged.
    pub limits: Vec<TorqueLimit>,
    /// The one that governs: "thread in brass", "bolt 8.8", "pad", "stated by the terminal's maker", "stated by the build".
    pub governed_by: String,
}

/// One thing that limits a torque.
#[derive(Clone, Debug, PartialEq)]
pub struct TorqueLimit {
    /// What: "bolt 8.8", "thread in pa66-gf30", "pad of copper-tinned", "terminal's maker".
    pub what: String,
    /// At most.
    pub torque_nm: f64,
    /// Source key.
    pub source: &'static str,
}

use super::settle::SizedRun;
use crate::finding::Notes;
use crate::given::parts::Parts;

/// Finishes every end.
pub fn finish(_parts: &Parts<'_>, _sizes: &[SizedRun], _notes: &mut Notes) -> Vec<End> {
    Vec::new()
}
