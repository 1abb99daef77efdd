//! How long a cable bears a current above its rating: an overload for minutes, a short circuit for seconds.
//!
//! up to 5 s:  I² t = k² S²
//! longer:     I² = r Iz² [1 + (x − 1)/(1 − e^(−t/τ))]
//!             x = (θe − θa)/(θz − θa),  r = (b + θz)/(b + θe),  τ = K² S² (θz − θa)/((b + θz) Iz²)
//!
//! Range   From the rated state on. The conductor alone takes up heat, so a real cable, its insulation warming
//!         too, bears somewhat longer.
//! Source  Up to 5 s IEC 60949 and IEC 60724 (memory). The exponential is that of IEEE 242 for emergency
//!         overload (memory; its printed percentages come out). Road-vehicle cable is tested for six hours at
//!         50 K above its class, ISO 19642 (memory): so far an overload may go.
//! Caveat  Each overload costs life; it is what standards put up with, not what a cable likes.

use super::adiabatic;
use super::conductor::Material;

/// Longest time that the short-circuit temperature may last.
pub const SHORT_S: f64 = 5.0;

/// How far above its class an overload may take a cable (ISO 19642, test of six hours, memory).
pub const OVERLOAD_K: f64 = 50.0;

/// IEC 60364-4-43: current that ends an overload, over the rating of the cable, at most.
pub const ENDS_OVERLOAD: f64 = 1.45;

/// Overload of a body that settles exponentially.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overload {
    /// Continuous current at which it sits at its limit.
    pub rating_a: f64,
    /// Excess over the air allowed in overload, over that at the limit: x.
    pub excess: f64,
    /// Resistance at the limit over that at the end of the overload: r.
    pub resistance: f64,
    /// Time constant.
    pub time_constant_s: f64,
}

impl Overload {
    /// Current that takes it from the limit to the overload temperature in a time.
    pub fn current_a(&self, time_s: f64) -> f64 {
        assert!(0.0 < time_s);
        let reached = -libm::expm1(-time_s / self.time_constant_s);
        // I² = r Iz² [1 + (x − 1)/(1 − e^(−t/τ))]
        self.rating_a * (self.resistance * (1.0 + (self.excess - 1.0) / reached)).sqrt()
    }

    /// The same for ever.
    pub fn steady_a(&self) -> f64 {
        self.rating_a * (self.resistance * self.excess).sqrt()
    }

    /// How long it bears a current; infinite up to the steady one.
    pub fn time_s(&self, current_a: f64) -> f64 {
        let share = current_a / self.rating_a;
        let over = share * share / self.resistance - 1.0;
        if over <= self.excess - 1.0 {
            return f64::INFINITY;
        }
        -self.time_constant_s * libm::log1p(-(self.excess - 1.0) / over)
    }
}

/// Excess and resistance ratio from temperatures: x and r.
pub fn to_temperature(material: Material, air_c: f64, limit_c: f64, end_c: f64) -> (f64, f64) {
    let b = material.zero_resistance_c();
    assert!(air_c < limit_c && limit_c <= end_c && -b < air_c);
    ((end_c - air_c) / (limit_c - air_c), (b + limit_c) / (b + end_c))
}

/// A cable with both limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cable {
    /// Joule integral from its limit to the short-circuit temperature.
    pub short_a2s: f64,
    /// Beyond the short time.
    pub overload: Overload,
}

impl Cable {
    /// A cable from the integral it bears, its conductor, its rating where it lies, and the temperatures of its air,
    /// its limit and the end of an overload. None where a value is not above zero or the temperatures do not rise.
    pub fn new(
        short_a2s: f64,
        (material, area_mm2): (Material, f64),
        rating_a: f64,
        (air_c, limit_c, end_c): (f64, f64, f64),
    ) -> Option<Cable> {
        let b = material.zero_resistance_c();
        let rises = -b < air_c && air_c < limit_c && limit_c < end_c;
        if !(rises && 0.0 < area_mm2 && 0.0 < rating_a && 0.0 < short_a2s) {
            return None;
        }
        let (excess, resistance) = to_temperature(material, air_c, limit_c, end_c);
        let ks = adiabatic::material_constant(material) * area_mm2;
        // τ = K² S² (θz − θa)/((b + θz) Iz²)
        let time_constant_s =
            ks * ks * (limit_c - air_c) / ((b + limit_c) * rating_a * rating_a);
        let overload = Overload { rating_a, excess, resistance, time_constant_s };
        Some(Cable { short_a2s, overload })
    }

    /// How long it bears a current; infinite up to what it bears for ever.
    pub fn time_s(&self, current_a: f64) -> f64 {
        let short_s = self.short_a2s / (current_a * current_a); // t = k² S² / I²
        if short_s <= SHORT_S {
            return short_s;
        }
        // From five seconds on the lower temperature rules; it never takes back what a short circuit may have.
        self.overload.time_s(current_a).max(SHORT_S)
    }

    /// Current it bears for a time.
    pub fn current_a(&self, time_s: f64) -> f64 {
        assert!(0.0 < time_s);
        let short_a = (self.short_a2s / time_s.min(SHORT_S)).sqrt();
        if time_s <= SHORT_S { short_a } else { short_a.min(self.overload.current_a(time_s)) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// 35 mm2 of copper of class 125 degC that carries 180 A at it, in air of 45 degC.
    fn cable() -> Cable {
        let short = adiabatic::joule_a2s(Material::Copper, 35.0, 125.0, 250.0);
        let temperatures = (45.0, 125.0, 125.0 + OVERLOAD_K);
        Cable::new(short, (Material::Copper, 35.0), 180.0, temperatures).unwrap()
    }

    #[test]
    fn val_emergency_overload_percentages() {
        // IEEE 242, insulation of 90 degC with 130 degC in emergency, air 40 degC (memory): per cent of the
        // rating after 10, 100 and 1000 s for time constants of half an hour and an hour. It uses 234 for copper.
        let (excess, resistance) = to_temperature(Material::Copper, 40.0, 90.0, 130.0);
        for (hours, seconds, percent) in [
            (0.5, 10.0, 1136.0),
            (1.0, 10.0, 1602.0),
            (0.5, 100.0, 374.0),
            (1.0, 1000.0, 195.0),
        ] {
            let time_constant_s = hours * 3600.0;
            let body = Overload { rating_a: 100.0, excess, resistance, time_constant_s };
            let got = body.current_a(seconds);
            assert!((got / percent - 1.0).abs() < 0.01, "{hours} h {seconds} s: {got}");
        }
    }

    #[test]
    fn up_to_what_it_bears_for_ever_there_is_no_time() {
        let cable = cable();
        assert_eq!(cable.time_s(180.0), f64::INFINITY);
        let steady = cable.overload.steady_a();
        assert!(180.0 < steady && cable.time_s(steady * 1.001).is_finite());
    }

    #[test]
    fn short_and_long_join() {
        // The exponential starts as the integral of the same conductor to the same temperature, but for a
        // resistance kept at its last value instead of growing.
        let a = cable().overload.current_a(0.01);
        let straight = adiabatic::joule_a2s(Material::Copper, 35.0, 125.0, 175.0);
        let ratio = a * a * 0.01 / straight;
        assert!((0.9..1.0).contains(&ratio), "{ratio}");
    }

    #[test]
    fn temperatures_out_of_order_are_no_cable() {
        let of = |rating, air| {
            Cable::new(1e7, (Material::Copper, 35.0), rating, (air, 125.0, 175.0))
        };
        assert_eq!(of(180.0, 130.0), None);
        assert_eq!(of(0.0, 45.0), None);
        assert_eq!(of(180.0, f64::NAN), None);
    }

    proptest! {
        #[test]
        fn prop_time_and_current_are_inverse(log in 0.8f64..3.5) {
            let t = libm::pow(10.0, log);
            let (cable, i) = (cable(), cable().current_a(t));
            // Just above five seconds the short circuit may allow no more than the overload does later.
            let level = i >= cable.current_a(SHORT_S) * (1.0 - 1e-12) && SHORT_S < t;
            prop_assert!(level || (cable.time_s(i) / t - 1.0).abs() < 1e-6);
        }

        #[test]
        fn prop_more_current_is_never_borne_longer(i in 100.0f64..20_000.0, more in 1.0f64..3.0) {
            prop_assert!(cable().time_s(i * more) <= cable().time_s(i));
        }
    }
}
