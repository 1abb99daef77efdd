//! Where a steady state ends, held against numbers that are solved by hand.
//!
//! One cable with a film of constant resistance, W in K m/W from conductor to air, and R = R20 (k + T)/(k + 20):
//! T − Ta = x (k + T) with x = I² R20 W / (k + 20), so T = (Ta + x k)/(1 − x). It grows without bound as x comes to 1,
//! which is the current where loss grows as fast as cooling: I² (R20 / (k + 20)) W = 1. Above it the same line gives a
//! temperature below the air's, which is no steady state of anything.

use super::*;

/// k of copper.
const K: f64 = 234.5;
/// Conductor to air, K m/W: insulation 3.5/(2π) ln(17/12), and the film of [`fin`]; 1.2955 to six figures. A hair under
/// the runaway one more unit of the sixth moves the answer by 0.03 K, so no figure may be dropped here.
fn w() -> f64 {
    3.5 / (2.0 * std::f64::consts::PI) * libm::log(17.0 / 12.0) + (1.2955 - 0.194_022)
}

/// √((k + 20) / (R20 W)): 849.847 A.
fn runaway_a() -> f64 {
    ((K + 20.0) / (0.272e-3 * w())).sqrt()
}

fn by_hand_c(current_a: f64, air_c: f64) -> f64 {
    let x = (current_a / runaway_a()) * (current_a / runaway_a());
    (air_c + x * K) / (1.0 - x)
}

fn network(air_c: f64) -> Network {
    Network::new(&fin(1.0, air_c, FREE), &Cut::USUAL)
}

#[test]
fn val_the_runaway_of_a_constant_film() {
    near(runaway_a(), 849.847, 0.001);
    // In air near the zero of resistance a cable settles below the ceiling up to a hair under the runaway.
    let air_c = -K + 6.0;
    let net = network(air_c);
    for part in [0.5, 0.9, 0.98, 0.995] {
        let a = part * runaway_a();
        let found = net.steady(&Load::constant(a, 0.0)).unwrap();
        near(net.hottest(&found.state).0, by_hand_c(a, air_c), 0.01);
    }
    for part in [1.0001, 1.001, 1.05, 2.0, 20.0] {
        let a = part * runaway_a();
        assert!(by_hand_c(a, air_c) < air_c, "the closed form has left the possible");
        assert_eq!(net.steady(&Load::constant(a, 0.0)), Err(Runaway), "{part} of the runaway");
    }
}

#[test]
fn val_the_ceiling_of_a_constant_film() {
    // T = 400 degC at x = (400 − Ta)/(400 + k): for air of 30 degC 0.763 63 of the runaway, 648.972 A.
    let ceiling_a = runaway_a() * ((CEILING_C - 30.0) / (CEILING_C + K)).sqrt();
    near(ceiling_a, 648.972, 0.001);
    let net = network(30.0);
    let found = net.steady(&Load::constant(0.9999 * ceiling_a, 0.0)).unwrap();
    near(net.hottest(&found.state).0, by_hand_c(0.9999 * ceiling_a, 30.0), 0.01);
    // Between the ceiling and the runaway there is a state, which no cable lives to see: none is given.
    for a in [1.0001 * ceiling_a, 700.0, 800.0, 849.0, 851.0, 5000.0] {
        assert_eq!(net.steady(&Load::constant(a, 0.0)), Err(Runaway), "{a} A");
    }
}

#[test]
fn a_resistance_that_does_not_rise_always_settles() {
    // The loss of a current above the runaway, but of the cold conductor for ever: T = Ta + I² R20 W.
    let air_c = -K + 6.0;
    let net = network(air_c);
    for part in [0.5, 1.05, 1.3] {
        let a = part * runaway_a();
        let loss_w_per_m = a * a * 0.272e-3;
        let mut drive = Drive::new(&net, &Load::constant(a, 0.0));
        drive.set_constant_loss(loss_w_per_m);
        let state = net.settle(&drive.mean(), &net.cold()).unwrap();
        near(net.hottest(&state).0, air_c + loss_w_per_m * w(), 0.01);
    }
    assert_eq!(net.steady(&Load::constant(1.05 * runaway_a(), 0.0)), Err(Runaway));
}
