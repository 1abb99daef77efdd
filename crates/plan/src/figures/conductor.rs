//! Area, diameter, resistance and mass of a conductor.

use physics::laws::conductor::{self, Basis, Class, ConductorSize, Finish};
use physics::units::Dimension;

use super::cable::{CLASS, MATERIAL, SIZE, basis_note, check_aluminium, class, material};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "conductor",
    purpose: "area, diameter, resistance and mass of a conductor",
    source: "ASTM B258; IEC 60228 tables 1 to 4; FAA AC 43.13-1B p. 11-22 for R(T)",
    inputs: &[
        SIZE,
        CLASS,
        MATERIAL,
        Input::with_default("finish", Kind::Choice(&["plain", "tinned"]), "plain", "strands"),
        Input::with_default(
            "temperature",
            Kind::Quantity(Dimension::Temperature),
            "20 degC",
            "conductor temperature",
        )
        .within(-60.0, 300.0),
    ],
    outputs: &[
        Output::new("area", "mm2", "nominal area"),
        Output::new("diameter", "mm", "overall diameter, typical if stranded"),
        Output::new("resistance", "ohm/km", "direct-current resistance at the temperature"),
        Output::new("mass", "kg/km", "mass of the metal"),
    ],
    example: &[("size", "2/0 AWG"), ("class", "solid")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let size = inputs.size("size");
    let usual = match size {
        ConductorSize::Metric(_) => Class::Five,
        ConductorSize::Awg(_) | ConductorSize::Area(_) => Class::Solid,
    };
    let (class, said) = class(inputs, usual);
    let finish = if inputs.text("finish") == "tinned" { Finish::Tinned } else { Finish::Plain };
    let material = material(inputs);
    let c = conductor::conductor(size, class, material, finish);
    let mut notes = vec![basis_note(c.basis).to_owned()];
    check_aluminium(size, class, material, &mut notes);
    notes.extend(said);
    let outcome = Outcome::new()
        .one("area", c.area_mm2)
        .one("diameter", c.diameter_mm)
        .one("resistance", c.resistance_ohm_km(inputs.number("temperature")))
        .one("mass", c.mass_kg_km)
        .notes(notes);
    let computed_tinned = finish == Finish::Tinned && c.basis == Basis::Computed;
    Ok(outcome.note_if(computed_tinned, "the added resistance of tinning is not counted"))
}
