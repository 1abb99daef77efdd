//! Whether an engaged thread strips.

use physics::laws::bolt;
use physics::laws::strip;
use physics::units::Dimension;

use super::thread::{THREAD, thread};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const MATERIALS: &[&str] = &[
    "steel-s235",
    "steel-s355",
    "steel-heat-treated",
    "cast-iron-gjl-250",
    "aluminium-99.5",
    "aluminium-almg3",
    "aluminium-6061-t6",
    "brass-cuzn37",
    "copper",
];

/// Shear over tensile strength of a steel bolt (memory).
const STEEL_SHEAR: f64 = 0.6;

pub(crate) static FIGURE: Figure = Figure {
    name: "thread-strip",
    purpose: "shear areas of an engaged thread, the load that strips the tapped part, and the engagement needed",
    source: "FED-STD-H28/2 and ASME B1.1 appendix B; limits of ISO 965-1; factors of VDI 2230-1",
    inputs: &[
        THREAD,
        length("engagement", "length of full thread engaged", 500.0),
        Input::optional(
            "shear-strength",
            Kind::Quantity(Dimension::Stress),
            "shear strength of the tapped part",
        )
        .within(1.0, 3000.0),
        Input::optional("material", Kind::Choice(MATERIALS), "or the tapped part's material"),
        Input::optional("load", Kind::Quantity(Dimension::Force), "force in the bolt")
            .within(0.0, 1.0e7),
        length(
            "external-diameter",
            "outer diameter of the bolt; least of 6g if left out",
            95.0,
        ),
        length(
            "internal-pitch-diameter",
            "pitch diameter of the tapped hole; largest of 6H if left out",
            95.0,
        ),
        length("boss-diameter", "outer diameter of a thin boss or nut around the hole", 500.0),
        Input::optional(
            "class",
            Kind::Choice(&["4.6", "4.8", "5.8", "6.8", "8.8", "10.9", "12.9"]),
            "class of the bolt, to allow for its thread bending the softer one open",
        ),
    ],
    outputs: &[
        Output::new("internal-area", "mm2/mm", "shear area of the tapped thread per length"),
        Output::new("external-area", "mm2/mm", "shear area of the bolt's thread per length"),
        Output::new("strip-load", "kN", "load that strips the tapped thread"),
        Output::new("needed-engagement", "mm", "engagement that just bears the load"),
    ],
    example: &[
        ("thread", "M8"),
        ("engagement", "12 mm"),
        ("material", "aluminium-6061-t6"),
        ("load", "29.3 kN"),
    ],
    compute,
};

const fn length(name: &'static str, what: &'static str, most_mm: f64) -> Input {
    Input::optional(name, Kind::Quantity(Dimension::Length), what).within(0.1, most_mm)
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let thread = thread(inputs)?;
    let limits = thread.limits();
    let (_, external) = strip::worst_areas_mm2_per_mm(&thread);
    let diameter = inputs.number_if("external-diameter").unwrap_or(limits.external_major_mm.0);
    let pitch_diameter =
        inputs.number_if("internal-pitch-diameter").unwrap_or(limits.internal_pitch_mm.1);
    let internal = strip::internal_area_mm2_per_mm(thread.pitch_mm, diameter, pitch_diameter);
    if internal <= 0.0 {
        return Err(FigureError::about(
            "external-diameter",
            format!(
                "{diameter} mm does not reach into a thread of pitch diameter {pitch_diameter} mm"
            ),
        ));
    }
    let mut outcome =
        Outcome::new().one("internal-area", internal).one("external-area", external);
    let (shear, notes) = shear(inputs, thread.diameter_mm)?;
    for note in notes {
        outcome = outcome.note(note);
    }
    let Some(shear) = shear else {
        for name in ["engagement", "load", "boss-diameter", "class"] {
            if inputs.has(name) {
                return Err(FigureError::about(
                    "shear-strength",
                    format!("is missing: shear-strength or material is due with {name}"),
                ));
            }
        }
        return Ok(outcome);
    };
    let factor = reduction(inputs, thread.diameter_mm, internal * shear, external)?;
    if let Some(engagement) = inputs.number_if("engagement") {
        let load = factor * strip::strip_load_n(internal, engagement, shear);
        outcome = outcome
            .one("strip-load", load / 1000.0)
            .note_if(
                engagement > 1.5 * thread.diameter_mm,
                "longer than 1.5 x the diameter: the first threads carry most, so the last ones add less than counted",
            )
            .note_if(engagement < thread.pitch_mm, "less than one pitch is engaged");
    }
    if let Some(load) = inputs.number_if("load") {
        outcome = outcome.one(
            "needed-engagement",
            strip::needed_engagement_mm(load, internal, factor * shear),
        );
    }
    Ok(outcome.note_if(
        factor < 1.0,
        format!("reduced to {:.0} % by C1 and C3 of VDI 2230", factor * 100.0),
    ))
}

/// Shear strength of the tapped part, if it is known, and what is to be said about it.
fn shear(inputs: &Inputs, diameter_mm: f64) -> Result<(Option<f64>, Vec<String>), FigureError> {
    match (inputs.number_if("shear-strength"), inputs.text_if("material")) {
        (Some(_), Some(_)) => Err(FigureError::about(
            "material",
            "only one of shear-strength or material may be given",
        )),
        (Some(shear), None) => Ok((Some(shear), Vec::new())),
        (None, Some(name)) => {
            let material = strip::tapped_material(name)
                .expect("the figure offers only materials the law holds");
            let shear = material.shear_mpa;
            let mut notes =
                vec![format!("shear strength of {name} {shear:.0} MPa: {}", material.source)];
            if let Some(rule) = material.engagement_rule {
                notes.push(format!(
                    "rule for class 8.8 in {name}: engage at least {rule} x the diameter, {:.1} mm",
                    rule * diameter_mm
                ));
            }
            Ok((Some(shear), notes))
        }
        (None, None) => Ok((None, Vec::new())),
    }
}

/// C1 and C3 as far as their inputs are given; a gain is not taken.
fn reduction(
    inputs: &Inputs,
    diameter_mm: f64,
    internal_n_per_mm: f64,
    external_mm2_per_mm: f64,
) -> Result<f64, FigureError> {
    let wall = match inputs.number_if("boss-diameter").map(|boss| boss / diameter_mm) {
        Some(ratio) if ratio < 1.4 => {
            return Err(FigureError::about(
                "boss-diameter",
                format!(
                    "a wall of {ratio:.2} x the diameter is below 1.4, where the law starts"
                ),
            ));
        }
        Some(ratio) => strip::dilation_factor(ratio),
        None => 1.0,
    };
    let bending = match inputs.text_if("class") {
        Some(name) => {
            let Some(class) = bolt::property_class(name, diameter_mm) else {
                return Err(FigureError::about(
                    "class",
                    format!("no strength is held for class {name} at M{diameter_mm}"),
                ));
            };
            let bolt_n_per_mm = external_mm2_per_mm * STEEL_SHEAR * class.tensile_mpa;
            strip::nut_bending_factor(internal_n_per_mm / bolt_n_per_mm)
        }
        None => 1.0,
    };
    Ok((wall * bending).min(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_material_is_offered() {
        let names: Vec<&str> = strip::TAPPED.iter().map(|m| m.name).collect();
        assert_eq!(MATERIALS, names.as_slice());
    }

    #[test]
    fn a_thin_boss_strips_sooner() {
        let run = |extra: &[(&str, &str)]| {
            let mut given: Vec<(String, String)> =
                FIGURE.example.iter().map(|(k, v)| ((*k).into(), (*v).into())).collect();
            given.extend(extra.iter().map(|(k, v)| ((*k).into(), (*v).into())));
            crate::figures::run("thread-strip", &given).unwrap()
        };
        let load = |a: &crate::figures::Answer| a.result("strip-load").unwrap().values[0];
        assert!(load(&run(&[("boss-diameter", "12 mm")])) < load(&run(&[])));
        assert_eq!(load(&run(&[("boss-diameter", "30 mm")])), load(&run(&[])));
    }
}
