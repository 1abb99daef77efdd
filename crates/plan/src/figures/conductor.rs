//! Area, diameter, resistance and mass of a conductor.

use physics::laws::conductor::{self, Basis, Class, ConductorSize, Finish, Material};
use physics::units::Dimension;

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

/// The conductor size every electrical figure takes.
pub(super) const SIZE: Input =
    Input::required("size", Kind::Size, "conductor size, \"2/0 AWG\" or \"70 mm2\"");

/// The class; without one a gauge is the solid wire that defines it in the figure `conductor` and a
/// flexible conductor elsewhere, and a metric size is class 5.
pub(super) const CLASS: Input = Input::optional(
    "class",
    Kind::Choice(&["solid", "1", "2", "5", "6"]),
    "how it is made up: solid, or the class of IEC 60228",
);

pub(super) const MATERIAL: Input = Input::with_default(
    "material",
    Kind::Choice(&["copper", "aluminium"]),
    "copper",
    "what the conductor is drawn from",
);

pub(super) fn material(inputs: &Inputs) -> Material {
    match inputs.text_if("material") {
        Some("aluminium") => Material::Aluminium,
        _ => Material::Copper,
    }
}

/// The class given, or the one usual for the case, with the note that says so.
pub(super) fn class(inputs: &Inputs, usual: Class) -> (Class, Option<String>) {
    let (class, said) = match inputs.text_if("class") {
        Some("solid") => return (Class::Solid, None),
        Some("1") => return (Class::One, None),
        Some("2") => return (Class::Two, None),
        Some("5") => return (Class::Five, None),
        Some("6") => return (Class::Six, None),
        _ => match usual {
            Class::Solid | Class::One => (usual, "a solid wire"),
            Class::Two => (usual, "class 2, stranded"),
            Class::Five | Class::Six => (usual, "class 5, flexible"),
        },
    };
    (class, Some(format!("no class given, taken as {said}")))
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let size = inputs.size("size");
    let usual = match size {
        ConductorSize::Metric(_) => Class::Five,
        ConductorSize::Awg(_) | ConductorSize::Area(_) => Class::Solid,
    };
    let (class, said) = class(inputs, usual);
    let finish = if inputs.text("finish") == "tinned" { Finish::Tinned } else { Finish::Plain };
    let c = conductor::conductor(size, class, material(inputs), finish);
    let mut outcome = Outcome::new()
        .one("area", c.area_mm2)
        .one("diameter", c.diameter_mm)
        .one("resistance", c.resistance_ohm_km(inputs.number("temperature")))
        .one("mass", c.mass_kg_km);
    outcome = match c.basis {
        Basis::Iec60228 => outcome.note("resistance is the greatest that IEC 60228 allows"),
        Basis::Between => outcome.note(
            "not a size of IEC 60228: resistance lies between the limits of its neighbours",
        ),
        Basis::Computed => {
            outcome.note("resistance is resistivity over area, times the lay of the strands")
        }
    };
    if let Some(said) = said {
        outcome = outcome.note(said);
    }
    let computed_tinned = finish == Finish::Tinned && c.basis == Basis::Computed;
    Ok(outcome.note_if(computed_tinned, "the added resistance of tinning is not counted"))
}
