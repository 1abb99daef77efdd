//! Ripple of the DC link of a switching inverter.

use physics::duty::ripple;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "dclink-ripple",
    purpose: "ripple that a switching inverter puts on its DC link, and what reaches the DC cables",
    source: "Kolar and Round 2006; mean current from the balance of power",
    inputs: &[
        Input::required("phase-current", Kind::Quantity(Dimension::Current), "rms")
            .within(0.0, 1e5),
        Input::required("modulation", Kind::Number, "2 u/Vdc, u the peak phase voltage")
            .within(0.0, 1.1548),
        Input::required("power-factor", Kind::Number, "of the motor").within(-1.0, 1.0),
        Input::optional("carrier", Kind::Quantity(Dimension::Frequency), "switching frequency")
            .within(100.0, 1e6),
        Input::optional("capacitance", Kind::Quantity(Dimension::Capacitance), "of the link")
            .within(1e-9, 1.0),
        Input::optional(
            "inductance",
            Kind::Quantity(Dimension::Inductance),
            "of battery and DC cables",
        )
        .within(1e-9, 1.0),
    ],
    outputs: &[
        Output::new("ripple", "A", "rms, of capacitor and cables together"),
        Output::new("dc-current", "A", "mean"),
        Output::new("resonance", "kHz", "of cables and capacitor"),
        Output::new(
            "cable-share",
            "",
            "of the ripple at twice the carrier that the cables carry",
        ),
    ],
    example: &[
        ("phase-current", "100 A"),
        ("modulation", "0.9"),
        ("power-factor", "0.9"),
        ("carrier", "10 kHz"),
        ("capacitance", "500 uF"),
        ("inductance", "2 uH"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (current, modulation) = (inputs.number("phase-current"), inputs.number("modulation"));
    let factor = inputs.number("power-factor");
    let outcome = Outcome::new()
        .one("ripple", ripple::capacitor_a_rms(current, modulation, factor))
        .one("dc-current", ripple::dc_a(current, modulation, factor));
    let link = (inputs.number_if("inductance"), inputs.number_if("capacitance"));
    let (Some(inductance), Some(capacitance)) = link else {
        return Ok(outcome);
    };
    let resonance_hz = ripple::resonance_hz(inductance, capacitance);
    let outcome = outcome.one("resonance", resonance_hz / 1e3);
    let Some(carrier_hz) = inputs.number_if("carrier") else { return Ok(outcome) };
    let share = ripple::cable_share(2.0 * carrier_hz, resonance_hz);
    Ok(if share.is_finite() && share <= 1.0 {
        outcome.one("cable-share", share)
    } else {
        outcome.note(
            "the ripple lies near the resonance of cables and capacitor: only their resistance bounds it",
        )
    })
}
