//! Which circuits are galvanically one, and what insulation each must keep to the chassis.
//!
//! Behind an inverter the phases hang on the battery: what is asked of the AC side is then asked of both, unless the
//! AC side is insulated so that nobody can meet it.

use physics::laws::isolation::{self, Bus};

use crate::given::build::Carries;
use crate::given::parts::Parts;

/// One circuit and its limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// What it is: "DC alone".
    pub name: &'static str,
    /// Ohm for each volt.
    pub ohm_per_v: f64,
    /// Least resistance to the chassis.
    pub least_ohm: f64,
    /// Whether it is the one to keep: what a monitor sees with everything joined.
    pub governs: bool,
}

/// The circuits of a build at its highest voltage, each as measured alone, then as joined; the last governs.
pub fn circuits(parts: &Parts<'_>, volts: f64) -> Vec<Circuit> {
    let has = |carries| parts.runs.iter().any(|r| r.carries == carries);
    let given = parts.build.protection.as_ref();
    let is_protected = given.and_then(|g| g.ac_protected.as_ref()).is_some_and(|p| p.value);
    let mut kinds: Vec<(&'static str, Bus)> = Vec::new();
    if has(Carries::Dc) {
        kinds.push(("DC alone", Bus::Dc));
    }
    if has(Carries::Phases) {
        kinds.push(("phases alone", Bus::Ac));
    }
    // A build of one run alone still has an inverter between battery and motor.
    kinds.push(joined(is_protected));
    let last = kinds.len() - 1;
    let circuit = |(i, (name, bus)): (usize, (&'static str, Bus))| {
        let least_ohm = isolation::least_resistance_ohm(volts, bus);
        Circuit { name, ohm_per_v: least_ohm / volts, least_ohm, governs: i == last }
    };
    kinds.into_iter().enumerate().map(circuit).collect()
}

fn joined(is_protected: bool) -> (&'static str, Bus) {
    if is_protected {
        ("DC and protected phases, joined", Bus::JoinedProtected)
    } else {
        ("DC and phases, joined", Bus::Joined)
    }
}
