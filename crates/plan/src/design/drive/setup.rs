//! Vehicle, gearing, machine and battery from what the build states; what is missing is said, what is assumed too.

use physics::duty::battery::Battery;
use physics::duty::chain::{Drive, Machine};
use physics::duty::motor_im::Im;
use physics::duty::motor_pm::Pm;
use physics::duty::nameplate::Nameplate;
use physics::duty::vehicle::{GRAVITY_M_S2, Vehicle};
use physics::units::{Dimension, show_both};

use super::{Driver, Gearing, value};
use crate::finding::{Finding, Notes, Place, Verdict};
use crate::given::build::{BatteryGiven, Maybe, MotorGiven, MotorKind, VehicleGiven};

pub(super) fn missing(
    at: Place,
    code: &'static str,
    what: &str,
    hint: &str,
    notes: &mut Notes,
) {
    notes.find(
        Finding::new(
            code,
            Verdict::Unknown,
            at,
            "common-practice",
            format!("{what} is not known, so the duty gives no currents"),
        )
        .hint(hint)
        .safety(),
    );
}

impl Driver<'_> {
    pub(super) fn vehicle_of(
        &self,
        given: &VehicleGiven,
        notes: &mut Notes,
    ) -> Option<Vehicle> {
        let Some(own_kg) = value(&given.mass_kg) else {
            missing(
                given.at,
                "vehicle-unknown",
                "the mass of the vehicle",
                "weigh it as driven, load and driver included: `mass`",
                notes,
            );
            return None;
        };
        let trailer_kg = value(&given.trailer_kg).unwrap_or(0.0);
        let mass_kg = own_kg + trailer_kg;
        let rotating_mass_kg = value(&given.rotating_kg).unwrap_or_else(|| {
            notes.assume(
                "rotating mass",
                &show_both(0.03 * own_kg, Dimension::Mass, self.parts.units),
                "3 % of the mass, as UN GTR No. 15 takes it; a geared motor may add as much again",
                "vehicle.rotating-mass",
            );
            0.03 * own_kg
        });
        let air_kg_m3 = || value(&given.air_kg_m3).unwrap_or(1.2);
        if given.air_kg_m3.is_none()
            && (given.drag_area_mm2.is_some() || given.trailer_drag_area_mm2.is_some())
        {
            notes.assume(
                "density of the air driven through",
                "1.2 kg/m3",
                "20 degC at sea level; thinner air at altitude takes less current, so this is cautious",
                "vehicle.air-density",
            );
        }
        let trailer_c =
            0.5 * air_kg_m3() * value(&given.trailer_drag_area_mm2).unwrap_or(0.0) * 1e-6;
        let coast_down = (&given.road_a_n, &given.road_b_n_per_m_s, &given.road_c_n_per_m_s2);
        if let (Some(a), b, Some(c)) = coast_down {
            // A trailer rolls too; the coast-down was the vehicle's alone.
            let rolling = value(&given.rolling).unwrap_or(a.value / (own_kg * GRAVITY_M_S2));
            if b.is_none() {
                notes.assume(
                    "road-load-b",
                    "0 N/(m/s)",
                    "the coast-down has no such part",
                    "vehicle.road-load-b",
                );
            }
            return Some(Vehicle {
                mass_kg,
                rotating_mass_kg,
                a_n: a.value + rolling * trailer_kg * GRAVITY_M_S2,
                b_n_per_m_s: b.as_ref().map_or(0.0, |b| b.value),
                c_n_per_m_s2: c.value + trailer_c,
                rolling: 0.0,
            });
        }
        let (Some(drag_area_mm2), Some(rolling)) =
            (value(&given.drag_area_mm2), value(&given.rolling))
        else {
            missing(
                given.at,
                "vehicle-unknown",
                "the road load of the vehicle",
                "state `road-load-a`, `-b` and `-c` of a coast-down, or `drag-area` and `rolling`",
                notes,
            );
            return None;
        };
        let area_m2 =
            (drag_area_mm2 + value(&given.trailer_drag_area_mm2).unwrap_or(0.0)) * 1e-6;
        Some(Vehicle::from_drag(mass_kg, rotating_mass_kg, rolling, area_m2, air_kg_m3()))
    }

    pub(super) fn drive_of(&self, notes: &mut Notes) -> Option<Drive> {
        let build = self.parts.build;
        let Some(motor) = &build.motor else {
            missing(
                self.duty.at,
                "motor-unknown",
                "the motor",
                "state it: [motor] with kind and its figures",
                notes,
            );
            return None;
        };
        let machine = machine(motor, notes)?;
        let none = BatteryGiven::default();
        let battery = build.battery.as_ref().unwrap_or(&none);
        let Some(open_v) = value(&battery.open_v).or(self.parts.voltage_v) else {
            missing(
                self.duty.at,
                "battery-unknown",
                "the battery's voltage",
                "state `voltage` under [battery] or [system]",
                notes,
            );
            return None;
        };
        let of_fault = build.protection.as_ref().and_then(|p| value(&p.source_resistance_ohm));
        let resistance_ohm = value(&battery.resistance_ohm).or(of_fault).unwrap_or_else(|| {
            notes.assume(
                "resistance of the battery",
                "100 mohm",
                "packs of 300 to 400 V have 50 to 150 mohm warm (common practice, no source); more when cold",
                "battery.resistance",
            );
            0.1
        });
        let auxiliary_w = value(&battery.auxiliary_w).unwrap_or_else(|| {
            notes.assume(
                "load beside the motor",
                "250 W",
                "pumps, fans and lights (common practice, no source); a heater takes kilowatts more",
                "battery.auxiliary",
            );
            250.0
        });
        let inverter_efficiency = value(&motor.inverter_efficiency).unwrap_or_else(|| {
            notes.assume(
                "efficiency of inverter, iron and windage",
                "95 %",
                "96 to 98 % for an inverter with silicon switches, the rest for iron (common practice, no source)",
                "motor.inverter-efficiency",
            );
            0.95
        });
        let current_a_rms_max = value(&motor.current_a_rms_max).unwrap_or_else(|| {
            notes.assume(
                "limit of the phase current",
                "none",
                "the inverter's limit is not stated, so the motor may draw whatever its torque needs",
                "motor.current-max",
            );
            f64::INFINITY
        });
        Some(Drive {
            machine,
            current_a_rms_max,
            inverter_efficiency,
            battery: Battery { open_v, resistance_ohm },
            auxiliary_w,
        })
    }
}

pub(super) fn gearing(given: &VehicleGiven, notes: &mut Notes) -> Option<Gearing> {
    let (Some(radius_mm), Some(gear)) = (value(&given.wheel_radius_mm), value(&given.gear))
    else {
        missing(
            given.at,
            "vehicle-unknown",
            "the gearing of the vehicle",
            "state `wheel-radius` and `gear`, turns of the motor for one of the wheel",
            notes,
        );
        return None;
    };
    let efficiency = value(&given.gear_efficiency).unwrap_or_else(|| {
        notes.assume(
            "efficiency from motor to wheel",
            "95 %",
            "two pairs of gears and a differential (common practice, no source)",
            "vehicle.gear-efficiency",
        );
        0.95
    });
    let regeneration = value(&given.regeneration).unwrap_or_else(|| {
        notes.assume(
            "share of the braking that the motor does",
            "100 %",
            "the most there is, so the cables carry no less",
            "vehicle.regeneration",
        );
        1.0
    });
    Some(Gearing { radius_m: radius_mm / 1e3, gear, efficiency, regeneration })
}

/// The machine from its figures; one finding names all that are missing.
fn machine(given: &MotorGiven, notes: &mut Notes) -> Option<Machine> {
    let kind = given.kind.as_ref()?.value;
    let mut absent: Vec<&str> = Vec::new();
    let mut need = |maybe: &Maybe<f64>, name: &'static str| {
        value(maybe).unwrap_or_else(|| {
            absent.push(name);
            f64::NAN
        })
    };
    let pairs = given.pole_pairs.as_ref().map(|p| f64::from(p.value));
    let pole_pairs = pairs.unwrap_or(f64::NAN);
    let machine = match kind {
        MotorKind::Pm => Machine::Pm(Pm {
            pole_pairs,
            ld_h: need(&given.ld_h, "ld"),
            lq_h: need(&given.lq_h, "lq"),
            flux_wb: need(&given.flux_wb, "flux"),
            resistance_ohm: need(&given.resistance_ohm, "resistance"),
        }),
        MotorKind::Induction => Machine::Im(Im {
            pole_pairs,
            stator_ohm: need(&given.resistance_ohm, "resistance"),
            rotor_ohm: need(&given.rotor_ohm, "rotor-resistance"),
            magnetising_h: need(&given.magnetising_h, "magnetising-inductance"),
            stator_leakage_h: need(&given.stator_leakage_h, "stator-leakage"),
            rotor_leakage_h: need(&given.rotor_leakage_h, "rotor-leakage"),
            magnetising_a_peak_max: value(&given.magnetising_a_rms_max)
                .map_or(f64::INFINITY, |a| a * 2f64.sqrt()),
        }),
        MotorKind::Nameplate => Machine::Nameplate(Nameplate {
            torque_nm_max: need(&given.torque_nm_max, "torque-max"),
            power_w_max: need(&given.power_w_max, "power-max"),
            current_a_rms_max: need(&given.current_a_rms_max, "current-max"),
            pole_pairs,
            efficiency: value(&given.efficiency).unwrap_or(0.92),
        }),
    };
    if pairs.is_none() {
        absent.push("pole-pairs");
    }
    if !absent.is_empty() {
        let hint = format!("state {}", absent.join(", "));
        missing(given.at, "motor-unknown", "the motor", &hint, notes);
        return None;
    }
    match kind {
        MotorKind::Nameplate => {
            notes.assume(
                "phase current of a motor known by its nameplate",
                "the upper edge of a band",
                "torque does not tell the current; the band is printed with the duty",
                "motor.kind",
            );
            if given.efficiency.is_none() {
                notes.assume(
                    "efficiency of the motor",
                    "92 %",
                    "usual at some load (common practice, no source)",
                    "motor.efficiency",
                );
            }
        }
        MotorKind::Pm | MotorKind::Induction => notes.assume(
            "inductances of the motor",
            "constant",
            "iron that saturates raises the current at high torque",
            "motor",
        ),
    }
    Some(machine)
}
