//! Convection from a horizontal cylinder in air.

use physics::laws::air;
use physics::laws::convection::{self, Cylinder};
use physics::units::Dimension;

use super::cable::{AIR_SPEED, ALTITUDE, AMBIENT, CORRELATION, correlation};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "convection",
    purpose: "heat that a horizontal cable gives to still or blown air",
    source: "Churchill and Chu 1975; Morgan 1975; Churchill and Bernstein 1977; air: Lemmon and \
             Jacobsen 2004",
    inputs: &[DIAMETER, SURFACE, AMBIENT, AIR_SPEED, ALTITUDE, CORRELATION],
    outputs: &[
        Output::new("rayleigh", "", "Rayleigh number on the diameter"),
        Output::new("nusselt", "", "Nusselt number on the diameter"),
        Output::new("coefficient", "W/m2K", "heat transfer coefficient"),
        Output::new("loss", "W/m", "heat given to the air"),
    ],
    example: &[("diameter", "16 mm"), ("surface", "90 degC"), ("ambient", "30 degC")],
    compute,
};

pub(super) const DIAMETER: Input =
    Input::required("diameter", Kind::Quantity(Dimension::Length), "outer diameter")
        .within(0.01, 10_000.0);

pub(super) const SURFACE: Input =
    Input::required("surface", Kind::Quantity(Dimension::Temperature), "of the surface")
        .within(-60.0, 600.0);

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let found = convection::convection(&Cylinder {
        diameter_mm: inputs.number("diameter"),
        surface_c: inputs.number("surface"),
        air_c: inputs.number("ambient"),
        pressure_pa: air::pressure_pa(inputs.number("altitude") * 1e-3),
        air_speed_m_s: inputs.number("air-speed"),
        correlation: correlation(inputs),
    });
    let outside = !found.is_forced && !convection::RAYLEIGH.contains(&found.rayleigh);
    Ok(Outcome::new()
        .one("rayleigh", found.rayleigh)
        .one("nusselt", found.nusselt)
        .one("coefficient", found.coefficient_w_m2k)
        .one("loss", found.loss_w_per_m)
        .note_if(outside, "outside the stated range of Ra from 1e-5 to 1e12")
        .note_if(
            0.0 < inputs.number("air-speed") && !found.is_forced,
            "the air's own rising does more than the air speed given",
        ))
}
