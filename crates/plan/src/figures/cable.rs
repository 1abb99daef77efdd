//! The inputs of a cable that several figures share, and the cable they make.

use physics::heat::{Cable, EMISSIVITY, INSULATION_HEAT_J_M3K};
use physics::laws::conductor::{
    self, Basis, Class, Conductor, ConductorSize, Finish, Material,
};
use physics::laws::convection::Correlation;
use physics::units::Dimension;

use super::{FigureError, Input, Inputs, Kind};

/// The conductor size every electrical figure takes.
pub(super) const SIZE: Input =
    Input::required("size", Kind::Size, "conductor size, \"2/0 AWG\" or \"70 mm2\"");

/// How the conductor is made up. What is taken without one, the figure says in a note.
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

pub(super) const RESISTANCE_20: Input = Input::optional(
    "resistance-20",
    Kind::Quantity(Dimension::LineResistance),
    "resistance at 20 degC if known better than by size and class",
)
.within(1e-4, 1e4);

pub(super) const CONDUCTOR_DIAMETER: Input = Input::optional(
    "conductor-diameter",
    Kind::Quantity(Dimension::Length),
    "diameter over the conductor; else typical for size and class",
)
.within(0.05, 200.0);

pub(super) const OUTER_DIAMETER: Input = Input::required(
    "outer-diameter",
    Kind::Quantity(Dimension::Length),
    "diameter over the insulation",
)
.within(0.1, 300.0);

pub(super) const AMBIENT: Input = Input::required(
    "ambient",
    Kind::Quantity(Dimension::Temperature),
    "temperature of the air and of what is around",
)
.within(-60.0, 200.0);

pub(super) const LIMIT: Input = Input::required(
    "limit",
    Kind::Quantity(Dimension::Temperature),
    "greatest conductor temperature",
)
.within(-20.0, 350.0);

pub(super) const EMISSIVITY_INPUT: Input =
    Input::with_default("emissivity", Kind::Number, "0.9", "emissivity of the surface")
        .within(0.0, 1.0);

pub(super) const FREQUENCY: Input = Input::with_default(
    "frequency",
    Kind::Quantity(Dimension::Frequency),
    "0 Hz",
    "frequency of the current",
)
.within(0.0, 1e6);

pub(super) const RESISTIVITY: Input = Input::with_default(
    "insulation-resistivity",
    Kind::Quantity(Dimension::ThermalResistivity),
    "3.5 K m/W",
    "thermal resistivity of the insulation: XLPE, PE, EPR 3.5, PVC, rubber, silicone 5",
)
.within(0.0, 100.0);

pub(super) const ALTITUDE: Input = Input::with_default(
    "altitude",
    Kind::Quantity(Dimension::Length),
    "0 m",
    "height above the sea",
)
.within(-400_000.0, 20_000_000.0);

pub(super) const AIR_SPEED: Input = Input::with_default(
    "air-speed",
    Kind::Quantity(Dimension::Speed),
    "0 m/s",
    "speed of the air across, if something keeps it moving",
)
.within(0.0, 100.0);

pub(super) const CORRELATION: Input = Input::with_default(
    "correlation",
    Kind::Choice(&["churchill-chu", "morgan"]),
    "churchill-chu",
    "relation for still air",
);

pub(super) fn correlation(inputs: &Inputs) -> Correlation {
    match inputs.text("correlation") {
        "morgan" => Correlation::Morgan,
        _ => Correlation::ChurchillChu,
    }
}

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

/// The conductor a current runs in: flexible unless said otherwise, its resistance and diameter as given
/// where they are.
pub(super) fn conductor(inputs: &Inputs) -> Result<(Conductor, Vec<String>), FigureError> {
    let (class, said) = class(inputs, Class::Five);
    let mut notes: Vec<String> = said.into_iter().collect();
    let material = material(inputs);
    let mut c = conductor::conductor(inputs.size("size"), class, material, Finish::Plain);
    check_aluminium(inputs.size("size"), class, material, &mut notes);
    if let Some(known) = inputs.number_if("resistance-20") {
        c.resistance_20_ohm_km = known;
        c.effective_area_mm2 = conductor::effective_area_mm2(known, material);
    }
    if let Some(known) = inputs.number_if("conductor-diameter") {
        let least = 0.9 * (c.effective_area_mm2 / std::f64::consts::FRAC_PI_4).sqrt();
        if known < least {
            return Err(FigureError::about(
                "conductor-diameter",
                format!(
                    "{known} mm is too small for the metal, which alone needs {least:.1} mm"
                ),
            ));
        }
        c.diameter_mm = known;
    }
    Ok((c, notes))
}

/// IEC 60228 has no flexible aluminium.
pub(super) fn check_aluminium(
    size: ConductorSize,
    class: Class,
    material: Material,
    notes: &mut Vec<String>,
) {
    let flexible = matches!(class, Class::Five | Class::Six);
    let metric = matches!(size, ConductorSize::Metric(_));
    if material == Material::Aluminium && flexible && metric {
        notes.push(
            "IEC 60228 has no flexible aluminium: resistance is resistivity over area".into(),
        );
    }
}

/// How the resistance was come by, as a note.
pub(super) fn basis_note(basis: Basis) -> &'static str {
    match basis {
        Basis::Iec60228 => "resistance is the greatest that IEC 60228 allows",
        Basis::Between => {
            "not a size of IEC 60228: resistance lies between the limits of its neighbours"
        }
        Basis::Computed => "resistance is resistivity over area, times the lay of the strands",
    }
}

/// The cable of the heat network, without a current.
pub(super) fn cable(inputs: &Inputs) -> Result<(Cable, Vec<String>), FigureError> {
    let (c, notes) = conductor(inputs)?;
    let outer_diameter_mm = inputs.number("outer-diameter");
    if outer_diameter_mm < c.diameter_mm {
        return Err(FigureError::about(
            "outer-diameter",
            format!(
                "{outer_diameter_mm} mm is less than the {:.1} mm of the conductor",
                c.diameter_mm
            ),
        ));
    }
    Ok((
        Cable {
            resistance_20_ohm_per_m: c.resistance_20_ohm_km * 1e-3,
            material: c.material,
            conductor_area_mm2_effective: c.effective_area_mm2,
            conductor_diameter_mm: c.diameter_mm,
            outer_diameter_mm,
            insulation_resistivity_k_m_per_w: inputs.number("insulation-resistivity"),
            insulation_heat_j_m3k: inputs
                .number_if("insulation-heat")
                .map_or(INSULATION_HEAT_J_M3K, |mj| mj * 1e6),
            emissivity: inputs.number_if("emissivity").unwrap_or(EMISSIVITY),
            current_a_rms: 0.0,
        },
        notes,
    ))
}
