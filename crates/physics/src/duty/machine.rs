//! What all machines have in common: an operating point, or the exact torque that is left of the one asked.

/// An operating point of a three-phase machine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Torque at the rotor.
    pub torque_nm: f64,
    /// Current along the magnet or the rotor's flux, peak.
    pub id_a: f64,
    /// Current across it, peak.
    pub iq_a: f64,
    /// Phase current.
    pub current_a_rms: f64,
    /// Electrical frequency.
    pub frequency_hz: f64,
    /// Phase voltage, peak.
    pub voltage_v_peak: f64,
    /// Electrical power taken; negative while braking.
    pub power_w: f64,
    /// Power over apparent power; 1 where no current flows.
    pub power_factor: f64,
    /// Whether the voltage made the current larger than the torque needs.
    pub weakened: bool,
}

/// What holds a torque back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// The DC voltage.
    Voltage,
    /// The current limit of machine or inverter.
    Current,
}

/// A torque that cannot be reached at a speed and voltage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unreachable {
    /// The torque of the same sense that can be.
    pub torque_nm_most: f64,
    /// What holds it back.
    pub by: Held,
}

/// Greatest phase voltage an inverter makes of a DC voltage without over-modulation, peak.
pub fn voltage_v_peak_most(dc_v: f64) -> f64 {
    dc_v / 3f64.sqrt() // Vdc/√3, space-vector modulation
}

/// Halvings that take any bracket to the last bit or near it.
pub(super) const HALVINGS: u32 = 64;

/// Where a function that grows crosses zero; the nearer end if it does not.
pub(super) fn crossing(mut low: f64, mut high: f64, grows: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if middle == low || middle == high {
            break;
        }
        if grows(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// The point of a torque, else the torque that is left, found by asking for ever closer shares of it.
pub(super) fn reached(
    torque_nm: f64,
    point: impl Fn(f64) -> Result<Point, Held>,
) -> Result<Point, Unreachable> {
    point(torque_nm).map_err(|by| {
        let share = share_reached(|share| point(share * torque_nm).is_ok());
        Unreachable { torque_nm_most: share * torque_nm, by }
    })
}

/// The greatest share of a torque that can be reached, given that the whole cannot.
fn share_reached(reaches: impl Fn(f64) -> bool) -> f64 {
    if !reaches(0.0) {
        return 0.0;
    }
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if reaches(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
