//! Force, power and energy at the wheels of a vehicle that follows a speed table.
//!
//! F = (A + B v + C v²) + m g sin θ + m g Crr (cos θ − 1) + (m + m_r) a      at the middle of each interval
//! A = m g Crr,  C = ρ Cd A / 2                                             where no coast-down is known
//! E = Σ F Δs over the intervals with F > 0; F = 0 while the vehicle stands
//!
//! Range   Road vehicles, 0 to 300 km/h, straight road, no wind. A coast-down's B may be negative: it is a fit.
//! Source  UN GTR No. 15 Annex 7 paragraph 5 (mid-point scheme and sign rule); coast-down form of 40 CFR
//!         1066.210.
//! Caveat  Slip of the tyres and the brakes' share are not in it: all braking force is counted at the wheels.

/// Standard acceleration of fall, as the worked examples below use it.
pub const GRAVITY_M_S2: f64 = 9.81;

/// What a vehicle asks of its wheels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vehicle {
    /// Mass as driven.
    pub mass_kg: f64,
    /// What its turning parts add to the mass when it speeds up.
    pub rotating_mass_kg: f64,
    /// Force on a level road at a crawl.
    pub a_n: f64,
    /// Force that grows with speed.
    pub b_n_per_m_s: f64,
    /// Force that grows with the square of speed.
    pub c_n_per_m_s2: f64,
    /// Rolling resistance, which a slope lessens with the load on the wheels; zero leaves that out.
    pub rolling: f64,
}

impl Vehicle {
    /// From mass, rolling resistance, drag area in m2 and the air's density.
    pub fn from_drag(
        mass_kg: f64,
        rotating_mass_kg: f64,
        rolling: f64,
        drag_area_m2: f64,
        air_kg_m3: f64,
    ) -> Vehicle {
        Vehicle {
            mass_kg,
            rotating_mass_kg,
            a_n: mass_kg * GRAVITY_M_S2 * rolling, // A = m g Crr
            b_n_per_m_s: 0.0,
            c_n_per_m_s2: 0.5 * air_kg_m3 * drag_area_m2, // C = ρ Cd A / 2
            rolling,
        }
    }

    /// Force at steady speed on a slope of `grade` (rise over run).
    pub fn cruising_n(&self, speed_m_s: f64, grade: f64) -> f64 {
        let slope = 1.0 / (1.0 + grade * grade).sqrt(); // cos θ
        let weight_n = self.mass_kg * GRAVITY_M_S2;
        self.a_n
            + self.b_n_per_m_s * speed_m_s
            + self.c_n_per_m_s2 * speed_m_s * speed_m_s
            + weight_n * grade * slope // m g sin θ
            + weight_n * self.rolling * (slope - 1.0) // m g Crr (cos θ − 1)
    }

    /// Force at the wheels while the speed changes at `acceleration_m_s2`.
    pub fn force_n(&self, speed_m_s: f64, acceleration_m_s2: f64, grade: f64) -> f64 {
        self.cruising_n(speed_m_s, grade)
            + (self.mass_kg + self.rotating_mass_kg) * acceleration_m_s2
    }

    /// The wheels over a table of times, speeds and grades; one interval less than there are rows.
    ///
    /// Times must grow. The force is that at the middle of an interval, and none while the vehicle stands.
    pub fn drive(&self, table: &[Moment]) -> Vec<Interval> {
        table
            .windows(2)
            .map(|pair| {
                let (from, to) = (pair[0], pair[1]);
                let duration_s = to.time_s - from.time_s;
                assert!(0.0 < duration_s, "times grow");
                let speed_m_s = 0.5 * (from.speed_m_s + to.speed_m_s);
                let force_n = if speed_m_s == 0.0 {
                    0.0
                } else {
                    let acceleration = (to.speed_m_s - from.speed_m_s) / duration_s;
                    self.force_n(speed_m_s, acceleration, 0.5 * (from.grade + to.grade))
                };
                Interval { duration_s, speed_m_s, force_n }
            })
            .collect()
    }
}

/// One row of a speed table.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moment {
    /// Time.
    pub time_s: f64,
    /// Speed.
    pub speed_m_s: f64,
    /// Rise over run of the road.
    pub grade: f64,
}

/// The wheels between two rows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// How long.
    pub duration_s: f64,
    /// Speed at the middle.
    pub speed_m_s: f64,
    /// Force at the wheels; negative while braking.
    pub force_n: f64,
}

impl Interval {
    /// Power at the wheels.
    pub fn power_w(&self) -> f64 {
        self.force_n * self.speed_m_s
    }

    /// Distance covered.
    pub fn distance_m(&self) -> f64 {
        self.speed_m_s * self.duration_s
    }
}

/// What a drive takes and gives back at the wheels.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Work {
    /// Distance.
    pub distance_m: f64,
    /// Energy of the pulling intervals.
    pub traction_j: f64,
    /// Energy of the braking intervals; negative.
    pub braking_j: f64,
    /// Greatest power.
    pub peak_w: f64,
}

/// Adds a drive up.
pub fn work(intervals: &[Interval]) -> Work {
    let mut sum = Work::default();
    for interval in intervals {
        let energy_j = interval.force_n * interval.distance_m();
        sum.distance_m += interval.distance_m();
        sum.traction_j += energy_j.max(0.0); // E = Σ F Δs, F > 0
        sum.braking_j += energy_j.min(0.0);
        sum.peak_w = sum.peak_w.max(interval.power_w());
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// "Fundamentals of Electric Vehicles" (NPTEL), week 2 solutions: 1500 kg, Cd 0.3, 2.5 m2, 1.2 kg/m3, Crr
    /// 0.015, 8 deg.
    #[test]
    fn val_worked_example_of_a_lecture() {
        let car = Vehicle::from_drag(1500.0, 0.0, 0.015, 0.75, 1.2);
        let drag = |kmh: f64| car.c_n_per_m_s2 * (kmh / 3.6) * (kmh / 3.6);
        assert!((drag(30.0) - 31.25).abs() < 0.01);
        assert!((drag(80.0) - 222.22).abs() < 0.01);
        let grade = libm::tan(8f64.to_radians());
        // 2047.93 N of grade and 218.57 N of rolling, both printed to two decimals.
        assert!((car.cruising_n(0.0, grade) - (2047.93 + 218.57)).abs() < 0.02);
    }

    /// Default road load of a UN GTR draft (GRPE-2013-13 Annex 4, 5.2): 1600 kg, 1.80 m x 1.50 m at 100 km/h gives
    /// 224.0 + 44.8 + 459.0 N.
    #[test]
    fn val_coast_down_form() {
        let c_kmh = 0.140 * 1600.0 * 0.000_02 + 0.0170 * 1.80 * 1.50;
        let car = Vehicle {
            mass_kg: 1600.0,
            rotating_mass_kg: 0.0,
            a_n: 0.140 * 1600.0,
            b_n_per_m_s: 0.0,
            c_n_per_m_s2: c_kmh * 3.6 * 3.6,
            rolling: 0.0,
        };
        assert!((car.cruising_n(100.0 / 3.6, 0.0) - 727.8).abs() < 0.1);
    }

    #[test]
    fn standing_takes_nothing() {
        let car = Vehicle::from_drag(1000.0, 30.0, 0.01, 0.6, 1.2);
        let still = [Moment::default(), Moment { time_s: 1.0, ..Moment::default() }];
        assert_eq!(car.drive(&still)[0].force_n, 0.0);
    }

    proptest! {
        #[test]
        fn prop_more_mass_never_takes_less(m in 300.0f64..5000.0, v in 0.0f64..60.0, a in 0.0f64..4.0, g in 0.0f64..0.3) {
            let of = |mass| Vehicle::from_drag(mass, 0.03 * mass, 0.01, 0.7, 1.2).force_n(v, a, g);
            prop_assert!(of(m) <= of(m + 100.0));
        }

        #[test]
        fn prop_work_is_what_speed_holds(v in 1.0f64..40.0) {
            // Without road load, speeding up and stopping again gives back what it took.
            let ideal = Vehicle { mass_kg: 900.0, rotating_mass_kg: 27.0, a_n: 0.0, b_n_per_m_s: 0.0, c_n_per_m_s2: 0.0, rolling: 0.0 };
            let at = |time_s, speed_m_s| Moment { time_s, speed_m_s, grade: 0.0 };
            let sum = work(&ideal.drive(&[at(0.0, 0.0), at(7.0, v), at(9.0, 0.0)]));
            let held = 0.5 * 927.0 * v * v;
            prop_assert!((sum.traction_j / held - 1.0).abs() < 1e-12 && (sum.braking_j / held + 1.0).abs() < 1e-12);
        }
    }
}
