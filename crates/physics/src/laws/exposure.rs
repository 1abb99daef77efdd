//! Published reference levels for magnetic fields, by frequency.
//!
//! ICNIRP 2010, public   0.04/f² · 0.005/f · 0.2e-3 · 0.08/f · 0.27e-4 T from 1, 8, 25, 400, 3000 Hz
//! ICNIRP 2010, workers  0.2/f² · 0.025/f · 1e-3 · 0.3/f · 1e-4 T from 1, 8, 25, 300, 3000 Hz
//!
//! Range   0 Hz to 100 kHz, rms, undisturbed field before anyone is in it. At 0 Hz the static levels stand.
//! Source  ICNIRP 2010, table read as reprinted in a textbook; ICNIRP 1998 (as 1999/519/EC) with 100 and 500 µT at
//!         50 Hz and 40 mT at 0 Hz read, the rest of its table from memory; 2013/35/EU annex II and ICNIRP 2009 (static) from memory,
//!         but for the 0.5 mT for implants, read in a quotation.
//! Caveat  Reference levels are where a closer look begins, not a border between harm and none. They do not cover
//!         people with implants: what a device bears is known to its maker.

/// Whom a level is meant for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Who {
    /// Anyone.
    Public,
    /// Workers who are told, by the guideline of ICNIRP.
    Workers,
}

/// Steps of a table: from a frequency, the level in µT and the power of the frequency it is divided by.
type Steps = &'static [(f64, f64, u32)];

const PUBLIC_2010: Steps =
    &[(1.0, 4e4, 2), (8.0, 5e3, 1), (25.0, 200.0, 0), (400.0, 8e4, 1), (3000.0, 27.0, 0)];
const WORKERS_2010: Steps =
    &[(1.0, 2e5, 2), (8.0, 2.5e4, 1), (25.0, 1e3, 0), (300.0, 3e5, 1), (3000.0, 100.0, 0)];
const PUBLIC_1998: Steps = &[(1.0, 4e4, 2), (8.0, 5e3, 1), (800.0, 6.25, 0)];
const WORKERS_1998: Steps = &[(1.0, 2e5, 2), (8.0, 2.5e4, 1), (820.0, 30.7, 0)];
/// The high action levels: below 300 Hz they go on as 0.3 T over f where the low ones stop.
const ACTION_HIGH: Steps = &[(1.0, 3e5, 1), (3000.0, 100.0, 0)];

/// Static fields, µT: ICNIRP 2009, any part of the body of anyone.
pub const STATIC_PUBLIC_UT: f64 = 400e3;
/// Static fields, µT: ICNIRP 2009, head and trunk of workers.
pub const STATIC_WORKERS_UT: f64 = 2e6;
/// Static fields, µT: 1999/519/EC, anyone.
pub const STATIC_1999_UT: f64 = 40e3;
/// Static fields, µT: below it most implants are not disturbed (ICNIRP 2009; action level of 2013/35/EU).
pub const STATIC_IMPLANTS_UT: f64 = 500.0;
/// The Earth's own field in middle latitudes, µT, for comparison (common knowledge).
pub const EARTH_UT: f64 = 50.0;

fn level(steps: Steps, frequency_hz: f64) -> f64 {
    let (_, ut, power) = steps
        .iter()
        .rev()
        .find(|(from_hz, ..)| *from_hz <= frequency_hz)
        .expect("the first step begins at 1 Hz, and slower fields count as static");
    match power {
        0 => *ut,
        1 => ut / frequency_hz,
        _ => ut / (frequency_hz * frequency_hz),
    }
}

/// Below this a field counts as static.
pub const SLOWEST_HZ: f64 = 1.0;
/// Above it these tables do not reach.
pub const FASTEST_HZ: f64 = 100e3;

/// Reference level of ICNIRP 2010, and of 2009 for static fields, µT rms.
pub fn icnirp_2010_ut(who: Who, frequency_hz: f64) -> f64 {
    match (who, frequency_hz < SLOWEST_HZ) {
        (Who::Public, true) => STATIC_PUBLIC_UT,
        (Who::Workers, true) => STATIC_WORKERS_UT,
        (Who::Public, false) => level(PUBLIC_2010, frequency_hz),
        (Who::Workers, false) => level(WORKERS_2010, frequency_hz),
    }
}

/// Reference level of ICNIRP 1998; for the public as in 1999/519/EC, which implants are tested against, µT rms.
/// None for static fields.
pub fn icnirp_1998_ut(who: Who, frequency_hz: f64) -> Option<f64> {
    (SLOWEST_HZ <= frequency_hz).then(|| match who {
        Who::Public => level(PUBLIC_1998, frequency_hz),
        Who::Workers => level(WORKERS_1998, frequency_hz),
    })
}

/// Reference level of 1999/519/EC for anyone, µT rms; that of static fields below 1 Hz.
pub fn recommendation_1999_ut(frequency_hz: f64) -> f64 {
    icnirp_1998_ut(Who::Public, frequency_hz).unwrap_or(STATIC_1999_UT)
}

/// Low and high action levels of 2013/35/EU, µT rms; none for static fields.
pub fn action_levels_ut(frequency_hz: f64) -> Option<[f64; 2]> {
    (SLOWEST_HZ <= frequency_hz)
        .then(|| [level(WORKERS_2010, frequency_hz), level(ACTION_HIGH, frequency_hz)])
}

/// Above it a person with an implant asks its maker: 0.5 mT static, else the public level of 1998.
pub fn implants_ut(frequency_hz: f64) -> f64 {
    icnirp_1998_ut(Who::Public, frequency_hz).unwrap_or(STATIC_IMPLANTS_UT)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn val_icnirp_2010() {
        // "2 Gauss" for the public and "10 Gauss" for workers at 60 Hz: read on a measuring service's page.
        assert_eq!(icnirp_2010_ut(Who::Public, 60.0), 200.0);
        assert_eq!(icnirp_2010_ut(Who::Workers, 60.0), 1000.0);
        // The table's own steps, 1e-3 to 3 kHz.
        for (f, public, workers) in [
            (4.0, 2500.0, 12_500.0),
            (10.0, 500.0, 2500.0),
            (500.0, 160.0, 600.0),
            (1000.0, 80.0, 300.0),
            (10e3, 27.0, 100.0),
        ] {
            assert!((icnirp_2010_ut(Who::Public, f) / public - 1.0).abs() < 1e-12, "{f}");
            assert!((icnirp_2010_ut(Who::Workers, f) / workers - 1.0).abs() < 1e-12, "{f}");
        }
    }

    #[test]
    fn val_icnirp_1998() {
        // 100 and 500 µT at 50 Hz (read).
        assert_eq!(icnirp_1998_ut(Who::Public, 50.0), Some(100.0));
        assert_eq!(icnirp_1998_ut(Who::Workers, 50.0), Some(500.0));
        assert_eq!(icnirp_1998_ut(Who::Public, 0.0), None);
        // 40 mT at 0 Hz: 1999/519/EC as reprinted in a report of a testing laboratory (read).
        assert_eq!(recommendation_1999_ut(0.0), 40_000.0);
        assert_eq!(recommendation_1999_ut(50.0), 100.0);
    }

    #[test]
    fn tables_join_without_a_step_up_or_down() {
        // 0.27e-4 T at 3 kHz is 0.08/3000 = 0.267e-4 rounded: the one step of the public's table.
        for (steps, at) in [
            (PUBLIC_2010, [8.0, 25.0, 400.0, 3000.0].as_slice()),
            (WORKERS_2010, &[8.0, 25.0, 300.0, 3000.0]),
            (PUBLIC_1998, &[8.0, 800.0]),
            (WORKERS_1998, &[8.0, 820.0]),
        ] {
            for f in at {
                let (below, above) = (level(steps, f * (1.0 - 1e-9)), level(steps, *f));
                assert!((above / below - 1.0).abs() < 0.02, "{f}: {below} {above}");
            }
        }
    }

    #[test]
    fn workers_are_allowed_more() {
        for f in [0.0, 1.0, 20.0, 50.0, 333.0, 700.0, 5000.0] {
            assert!(icnirp_2010_ut(Who::Public, f) < icnirp_2010_ut(Who::Workers, f));
        }
        let [low, high] = action_levels_ut(50.0).unwrap();
        assert!(low == 1000.0 && (high - 6000.0).abs() < 1e-9);
    }
}
