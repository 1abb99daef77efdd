//! Deflection of covers and entry plates.

use physics::laws::plate::{self, RingLoaded, Sheet};
use physics::units::{self, Dimension, QuantityError};

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const LENGTH: Kind = Kind::Quantity(Dimension::Length);

pub(crate) static FIGURE: Figure = Figure {
    name: "plate-deflection",
    purpose: "greatest deflection of a thin plate under pressure, a load, or a seal's ring of load",
    source: "thin-plate theory; Roark tables 11.2 and 11.4",
    inputs: &[
        Input::required(
            "shape",
            Kind::Choice(&[
                "clamped-uniform",
                "clamped-centre",
                "supported-uniform",
                "supported-centre",
                "ring-load",
                "square-supported-uniform",
                "square-clamped-uniform",
            ]),
            "how it is held and loaded",
        ),
        Input::optional("radius", LENGTH, "radius of the rim or bolt circle").within(0.1, 1e4),
        Input::optional("side", LENGTH, "side of a square between supports").within(0.1, 1e4),
        Input::required("thickness", LENGTH, "thickness").within(0.01, 1e3),
        Input::with_default(
            "modulus",
            Kind::Quantity(Dimension::Stress),
            "70 GPa",
            "Young's modulus; aluminium if left out",
        )
        .within(1.0, 1e6),
        Input::with_default("poisson", Kind::Number, "0.33", "Poisson's ratio")
            .within(0.0, 0.5),
        Input::optional("pressure", Kind::Quantity(Dimension::Stress), "uniform pressure")
            .within(0.0, 1e4),
        Input::optional("load", Kind::Text, "force at the centre, or per length of the ring"),
        Input::optional("hole-radius", LENGTH, "hole at the middle, free at its edge")
            .within(0.0, 1e4),
        Input::optional("ring-radius", LENGTH, "radius at which the seal pushes")
            .within(0.001, 1e4),
    ],
    outputs: &[Output::new("deflection", "mm", "greatest deflection")],
    example: &[
        ("shape", "ring-load"),
        ("radius", "40 mm"),
        ("hole-radius", "16 mm"),
        ("ring-radius", "30 mm"),
        ("thickness", "6 mm"),
        ("load", "2.24 N/mm"),
    ],
    compute,
};

/// An input that this shape needs.
fn needed(inputs: &Inputs, name: &'static str) -> Result<f64, FigureError> {
    inputs.number_if(name).ok_or_else(|| {
        FigureError::about(
            name,
            format!("is missing: the shape {} needs it", inputs.text("shape")),
        )
    })
}

fn centre_load_n(inputs: &Inputs) -> Result<f64, FigureError> {
    let Some(text) = inputs.text_if("load") else {
        return needed(inputs, "load");
    };
    let force = units::parse(text, Dimension::Force)
        .map_err(|error| FigureError::about("load", error.message(Dimension::Force)))?;
    not_negative(force)
}

/// A ring load, given per length or as a whole.
fn ring_load_n_per_mm(inputs: &Inputs, ring_mm: f64) -> Result<f64, FigureError> {
    let Some(text) = inputs.text_if("load") else {
        return needed(inputs, "load");
    };
    let load = match units::parse(text, Dimension::LineLoad) {
        Err(QuantityError::WrongKind { measures: Dimension::Force, .. }) => {
            units::parse(text, Dimension::Force)
                .map(|force| force / (2.0 * std::f64::consts::PI * ring_mm))
        }
        other => other,
    };
    not_negative(
        load.map_err(|error| FigureError::about("load", error.message(Dimension::LineLoad)))?,
    )
}

fn not_negative(load: f64) -> Result<f64, FigureError> {
    if load < 0.0 { Err(FigureError::about("load", "is negative")) } else { Ok(load) }
}

/// Inputs that do not belong to the shape are refused, so that none is silently left unused.
fn refuse_others(inputs: &Inputs, used: &[&str]) -> Result<(), FigureError> {
    let optional = ["radius", "side", "pressure", "load", "hole-radius", "ring-radius"];
    match optional.iter().find(|name| inputs.has(name) && !used.contains(name)) {
        Some(name) => Err(FigureError::about(
            name,
            format!("does not belong to the shape {}", inputs.text("shape")),
        )),
        None => Ok(()),
    }
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let sheet = Sheet {
        modulus_mpa: inputs.number("modulus"),
        poisson: inputs.number("poisson"),
        thickness_mm: inputs.number("thickness"),
    };
    let (deflection, size_mm) = match inputs.text("shape") {
        shape @ ("clamped-uniform" | "supported-uniform") => {
            refuse_others(inputs, &["radius", "pressure"])?;
            let (radius, pressure) = (needed(inputs, "radius")?, needed(inputs, "pressure")?);
            let law = match shape {
                "clamped-uniform" => plate::clamped_uniform_mm,
                _ => plate::supported_uniform_mm,
            };
            (law(&sheet, radius, pressure), radius)
        }
        shape @ ("clamped-centre" | "supported-centre") => {
            refuse_others(inputs, &["radius", "load"])?;
            let (radius, load) = (needed(inputs, "radius")?, centre_load_n(inputs)?);
            let law = match shape {
                "clamped-centre" => plate::clamped_centre_mm,
                _ => plate::supported_centre_mm,
            };
            (law(&sheet, radius, load), radius)
        }
        "ring-load" => ring(inputs, &sheet)?,
        shape => {
            refuse_others(inputs, &["side", "pressure"])?;
            let (side, pressure) = (needed(inputs, "side")?, needed(inputs, "pressure")?);
            let law = match shape {
                "square-supported-uniform" => plate::square_supported_uniform_mm,
                _ => plate::square_clamped_uniform_mm,
            };
            (law(&sheet, side, pressure), side / 2.0)
        }
    };
    Ok(Outcome::new()
        .one("deflection", deflection)
        .note_if(
            sheet.thickness_mm > 0.2 * size_mm,
            "thicker than a fifth of the radius: shear adds to the deflection of thin-plate theory",
        )
        .note_if(
            deflection > 0.5 * sheet.thickness_mm,
            "more than half the thickness: the plate stiffens and the true deflection is smaller",
        ))
}

fn ring(inputs: &Inputs, sheet: &Sheet) -> Result<(f64, f64), FigureError> {
    refuse_others(inputs, &["radius", "hole-radius", "ring-radius", "load"])?;
    let (rim_mm, ring_mm) = (needed(inputs, "radius")?, needed(inputs, "ring-radius")?);
    let hole_mm = inputs.number_if("hole-radius").unwrap_or(0.0);
    if ring_mm > rim_mm {
        return Err(FigureError::about("ring-radius", "is outside the rim"));
    }
    if hole_mm > ring_mm {
        return Err(FigureError::about("hole-radius", "is larger than the ring of load"));
    }
    let load_n_per_mm = ring_load_n_per_mm(inputs, ring_mm)?;
    let plate = RingLoaded { rim_mm, hole_mm, ring_mm, load_n_per_mm };
    Ok((plate::ring_load_mm(sheet, &plate), rim_mm))
}

#[cfg(test)]
mod tests {
    use crate::figures::run;

    fn given(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
        pairs.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect()
    }

    #[test]
    fn a_ring_load_may_be_given_as_a_whole() {
        let base = [
            ("shape", "ring-load"),
            ("radius", "40 mm"),
            ("ring-radius", "30 mm"),
            ("thickness", "6 mm"),
        ];
        let with = |load: String| {
            let mut all = given(&base);
            all.push(("load".into(), load));
            run("plate-deflection", &all).unwrap().result("deflection").unwrap().values[0]
        };
        let whole = 2.0 * std::f64::consts::PI * 30.0 * 2.24;
        assert!((with("2.24 N/mm".into()) / with(format!("{whole} N")) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn what_does_not_belong_is_refused() {
        let errors = run(
            "plate-deflection",
            &given(&[
                ("shape", "clamped-uniform"),
                ("radius", "40 mm"),
                ("thickness", "6 mm"),
                ("pressure", "1 bar"),
                ("ring-radius", "3 mm"),
            ]),
        )
        .unwrap_err();
        assert_eq!(errors[0].input, "ring-radius");
    }
}
