//! Voltage drop and loss of a run of cable.
//!
//! dU = w I R L,  P = n I^2 R L
//!
//! w = 2 for a go and return pair, sqrt 3 for three phases (line to line), 1 for one wire.
//!
//! Range    Resistive drop; at the power factor of a drive the reactance of a short cable adds little and
//!          is left out. For direct current it is exact.
//! Source   Ohm's law; the factors as in IEC 60364-5-52 annex G.

/// Which wires carry the current.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wires {
    /// One conductor, one way.
    One,
    /// Go and return.
    Two,
    /// Three phases.
    Three,
}

impl Wires {
    /// Drop between lines over that of one conductor.
    pub fn drop_factor(self) -> f64 {
        match self {
            Wires::One => 1.0,
            Wires::Two => 2.0,
            Wires::Three => 3f64.sqrt(),
        }
    }

    /// How many conductors lose.
    pub fn count(self) -> f64 {
        match self {
            Wires::One => 1.0,
            Wires::Two => 2.0,
            Wires::Three => 3.0,
        }
    }
}

/// Voltage drop in V.
pub fn drop_v(wires: Wires, resistance_ohm_per_m: f64, length_m: f64, current_a: f64) -> f64 {
    wires.drop_factor() * current_a * resistance_ohm_per_m * length_m
}

/// Loss in W.
pub fn loss_w(wires: Wires, resistance_ohm_per_m: f64, length_m: f64, current_a: f64) -> f64 {
    wires.count() * current_a * current_a * resistance_ohm_per_m * length_m
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loss_is_current_times_drop() {
        // Two wires: P = U I. Three phases: P = sqrt3 U I.
        let (r, l, i) = (0.272e-3, 3.0, 250.0);
        assert!((loss_w(Wires::Two, r, l, i) - i * drop_v(Wires::Two, r, l, i)).abs() < 1e-9);
        let three = 3f64.sqrt() * i * drop_v(Wires::Three, r, l, i);
        assert!((loss_w(Wires::Three, r, l, i) - three).abs() < 1e-9);
    }
}
