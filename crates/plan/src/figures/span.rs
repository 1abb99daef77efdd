//! Natural frequency and sag of a cable between two clips.

use physics::laws::conductor::{self, Basis, Class, ConductorSize, Finish, Material};
use physics::laws::elastica;
use physics::units::Dimension;

use super::cable::{CLASS, SIZE, class};
use super::droop::GRAVITY;
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

/// Density of the sheath and insulation, kg/m³: filled elastomers and cross-linked polyethylene lie
/// between 1100 and 1500 (memory).
const JACKET_DENSITY: f64 = 1300.0;
/// Young's modulus of soft insulation, MPa (memory).
const JACKET_MPA: f64 = 10.0;
/// Young's modulus of annealed copper, MPa (memory).
const COPPER_MPA: f64 = 117_000.0;

pub(crate) static FIGURE: Figure = Figure {
    name: "span",
    purpose: "lowest natural frequency and sag of a cable between two clips",
    source: "beam theory: frequency pi/2 sqrt(EI/m)/L2, sag 5 w L4/(384 EI), ends hinged",
    inputs: &[
        SIZE,
        CLASS,
        Input::required("outer-diameter", Kind::Quantity(Dimension::Length), "over the sheath")
            .within(0.5, 200.0),
        Input::required("span", Kind::Quantity(Dimension::Length), "between two clips")
            .within(1.0, 1e5),
        Input::optional(
            "stiffness",
            Kind::Quantity(Dimension::BendingStiffness),
            "bending stiffness EI; strands slipping freely if left out",
        )
        .within(1e-9, 1e9),
        Input::optional(
            "mass",
            Kind::Quantity(Dimension::MassPerLength),
            "of the cable; from its size if left out",
        )
        .within(0.01, 1e6),
    ],
    outputs: &[
        Output::new("natural-frequency", "Hz", "lowest, ends hinged"),
        Output::new("sag", "mm", "under its own weight, ends hinged"),
        Output::new("natural-frequency-clamped", "Hz", "the same with ends held stiffly"),
        Output::new("stiffness", "N m2", "bending stiffness used"),
        Output::new("mass", "kg/km", "mass used"),
    ],
    example: &[("size", "70 mm2"), ("outer-diameter", "17 mm"), ("span", "300 mm")],
    compute,
};

/// Usual strand of a flexible conductor, mm (memory: class 5 up to 0.51, class 6 0.21 at these sizes).
fn strand_mm(class: Class, size: ConductorSize) -> f64 {
    match class {
        Class::Solid | Class::One => size.solid_diameter_mm(),
        Class::Two => size.solid_diameter_mm() / 19f64.sqrt(),
        Class::Five => 0.5,
        Class::Six => 0.2,
    }
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let size = inputs.size("size");
    let (class, said) = class(inputs, Class::Five);
    let bare = conductor::conductor(size, class, Material::Copper, Finish::Plain);
    let outer_mm = inputs.number("outer-diameter");
    if outer_mm < bare.diameter_mm {
        return Err(FigureError::about(
            "outer-diameter",
            format!("is smaller than the conductor, about {:.1} mm", bare.diameter_mm),
        ));
    }
    let ring_mm2 = std::f64::consts::FRAC_PI_4
        * (outer_mm * outer_mm - bare.diameter_mm * bare.diameter_mm);
    let mass_kg_m = match inputs.number_if("mass") {
        Some(mass_kg_km) => mass_kg_km / 1000.0,
        None => bare.mass_kg_km / 1000.0 + ring_mm2 * 1e-6 * JACKET_DENSITY,
    };
    let given = inputs.number_if("stiffness");
    let stiffness = given.unwrap_or_else(|| {
        let strand = strand_mm(class, size);
        elastica::stiffness_bounds_n_m2(bare.area_mm2, strand, COPPER_MPA).0
            + elastica::tube_stiffness_n_m2(outer_mm, bare.diameter_mm, JACKET_MPA)
    });
    let span_m = inputs.number("span") / 1000.0;
    let (hinged, clamped) = elastica::span_frequency_hz(stiffness, mass_kg_m, span_m);
    let (sag_m, _) = elastica::span_sag_m(stiffness, mass_kg_m * GRAVITY, span_m);
    let outcome = Outcome::new()
        .one("natural-frequency", hinged)
        .one("sag", 1000.0 * sag_m)
        .one("natural-frequency-clamped", clamped)
        .one("stiffness", stiffness)
        .one("mass", 1000.0 * mass_kg_m)
        .note_if(
            given.is_none(),
            "stiffness taken as strands slipping freely, the lower bound: a real cable is 1 to 10 times stiffer, so measure it with the figure droop",
        )
        .note_if(!inputs.has("mass"), "insulation counted at 1300 kg/m3")
        .note_if(
            bare.basis == Basis::Between,
            "not a size of IEC 60228: its make-up is taken between the neighbours",
        )
        .note_if(
            sag_m > 0.1 * span_m,
            "the sag is above a tenth of the span, where beam theory ends: clip closer",
        );
    Ok(match said {
        Some(said) => outcome.note(said),
        None => outcome,
    })
}
