//! The least current of a permanent-magnet motor at one torque and speed.

use physics::duty::motor_pm::Pm;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "motor-point",
    purpose: "least current of a permanent-magnet motor for a torque at a speed and DC voltage",
    source: "maximum torque per ampere and field weakening as Morimoto et al. 1990, |u| <= Vdc/sqrt 3",
    inputs: &[
        Input::required("torque", Kind::Quantity(Dimension::Torque), "negative while braking")
            .within(-1e5, 1e5),
        Input::required("speed", Kind::Quantity(Dimension::Rotation), "of the motor")
            .within(0.0, 1e5),
        Input::required("voltage", Kind::Quantity(Dimension::Voltage), "DC, under load")
            .within(1.0, 1e4),
        Input::required("ld", Kind::Quantity(Dimension::Inductance), "along the magnet")
            .within(1e-7, 10.0),
        Input::required("lq", Kind::Quantity(Dimension::Inductance), "across the magnet")
            .within(1e-7, 10.0),
        Input::required("flux", Kind::Quantity(Dimension::FluxLinkage), "of the magnet, peak")
            .within(0.0, 100.0),
        Input::required("resistance", Kind::Quantity(Dimension::Resistance), "of a phase")
            .within(0.0, 1e3),
        Input::required("pole-pairs", Kind::Count, "pairs of poles").within(1.0, 100.0),
        Input::optional("current-limit", Kind::Quantity(Dimension::Current), "rms")
            .within(1e-3, 1e5),
    ],
    outputs: &[
        Output::new("id", "A", "along the magnet, peak"),
        Output::new("iq", "A", "across the magnet, peak"),
        Output::new("current", "A", "rms"),
        Output::new("frequency", "Hz", "electrical"),
        Output::new("voltage", "V", "phase, peak"),
        Output::new("power", "W", "electrical; negative while braking"),
        Output::new("power-factor", "", "power over apparent power"),
    ],
    example: &[
        ("torque", "100 N m"),
        ("speed", "5000 rpm"),
        ("voltage", "350 V"),
        ("ld", "0.37 mH"),
        ("lq", "1.2 mH"),
        ("flux", "66 mWb"),
        ("resistance", "18 mohm"),
        ("pole-pairs", "3"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let machine = Pm {
        pole_pairs: inputs.number("pole-pairs"),
        ld_h: inputs.number("ld"),
        lq_h: inputs.number("lq"),
        flux_wb: inputs.number("flux"),
        resistance_ohm: inputs.number("resistance"),
    };
    let peak_max = inputs.number_if("current-limit").map_or(f64::INFINITY, |a| a * 2f64.sqrt());
    let point = machine
        .point(
            inputs.number("torque"),
            inputs.number("speed"),
            inputs.number("voltage"),
            peak_max,
        )
        .map_err(|missed| {
            let message = format!(
                "is not reachable at this speed and voltage: {} N m is the most",
                physics::units::number(missed.torque_nm_most, 2)
            );
            FigureError::about("torque", message)
        })?;
    let regime = if point.weakened {
        "field weakening: the voltage is at its limit"
    } else {
        "maximum torque per ampere: the voltage is below its limit"
    };
    Ok(Outcome::new()
        .one("id", point.id_a)
        .one("iq", point.iq_a)
        .one("current", point.current_a_rms)
        .one("frequency", point.frequency_hz)
        .one("voltage", point.voltage_v_peak)
        .one("power", point.power_w)
        .one("power-factor", point.power_factor)
        .note(regime)
        .note("constant inductances: iron that saturates raises the current at high torque"))
}
