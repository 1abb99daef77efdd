//! An O-ring in a face groove.

use physics::laws::oring::{self, Groove, Ring, Sized, Spread};
use physics::laws::oring_as568;
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "oring",
    purpose: "squeeze, groove fill and stretch of an O-ring, with the worst cases of its tolerances",
    source: "AS568 and ISO 3601-1 sizes; definitions; constant volume when stretched",
    inputs: &[
        Input::optional("dash", Kind::Text, "AS568 dash number, like 222"),
        mm("inside-diameter", "inside diameter of the ring as made"),
        mm("section", "section diameter of the ring as made"),
        Input::required("groove-depth", LENGTH, "depth of the groove").within(0.1, 50.0),
        Input::required("groove-width", LENGTH, "width of the groove").within(0.1, 100.0),
        mm("groove-inside-diameter", "inside wall of the groove, where the ring sits on it"),
        tolerance("inside-diameter-tolerance", "plus and minus on the inside diameter"),
        tolerance("section-tolerance", "plus and minus on the section"),
        tolerance("depth-tolerance", "plus and minus on the depth"),
        tolerance("width-tolerance", "plus and minus on the width"),
        tolerance("groove-inside-tolerance", "plus and minus on the groove's inside wall"),
    ],
    outputs: &[
        Output::new("squeeze", "%", "squeeze of the section"),
        Output::new("squeeze-least", "%", "with the thinnest ring in the deepest groove"),
        Output::new("squeeze-most", "%", "with the thickest ring in the shallowest groove"),
        Output::new("fill", "%", "share of the groove that is rubber"),
        Output::new("fill-least", "%", "at the tolerances' one end"),
        Output::new("fill-most", "%", "at the tolerances' other end"),
        Output::new("stretch", "%", "stretch of the inside diameter; negative when loose"),
        Output::new("stretch-least", "%", "at the tolerances' one end"),
        Output::new("stretch-most", "%", "at the tolerances' other end"),
        Output::new("section-loss", "%", "section lost by the stretch"),
        Output::new("ring-inside", "mm", "inside diameter of the ring as made"),
        Output::new("ring-section", "mm", "section of the ring as made"),
    ],
    example: &[
        ("dash", "222"),
        ("groove-depth", "2.64 mm"),
        ("groove-width", "4.57 mm"),
        ("depth-tolerance", "0.1 mm"),
    ],
    compute,
};

const LENGTH: Kind = Kind::Quantity(Dimension::Length);

const fn mm(name: &'static str, what: &'static str) -> Input {
    Input::optional(name, LENGTH, what).within(0.1, 2000.0)
}

const fn tolerance(name: &'static str, what: &'static str) -> Input {
    Input::optional(name, LENGTH, what).within(0.0, 10.0)
}

/// The ring, and whether its inside diameter is known.
fn ring(inputs: &Inputs) -> Result<(Ring, bool), FigureError> {
    let held = match inputs.text_if("dash") {
        Some(dash) => {
            for name in ["inside-diameter", "section"] {
                if inputs.has(name) {
                    return Err(FigureError::about(name, "is set by the dash number already"));
                }
            }
            Some(oring_as568::find(dash).ok_or_else(|| {
                FigureError::about("dash", format!("`{dash}` is no AS568 size from 001 to 475"))
            })?)
        }
        None => None,
    };
    let inside = held.map(|ring| ring.inside_mm).or(inputs.number_if("inside-diameter"));
    let Some(section_mm) = held.map(|ring| ring.section_mm).or(inputs.number_if("section"))
    else {
        return Err(FigureError::about("section", "is missing: give dash, or section"));
    };
    let tolerance = |name: &str, held: Option<f64>| inputs.number_if(name).or(held);
    let ring = Ring {
        // Without an inside diameter no stretch is worked out, so any positive size will do.
        inside: Sized {
            mm: inside.unwrap_or(100.0),
            tol_mm: tolerance("inside-diameter-tolerance", held.map(|r| r.inside_tol_mm))
                .unwrap_or(0.0),
        },
        section: Sized {
            mm: section_mm,
            tol_mm: tolerance("section-tolerance", held.map(|r| r.section_tol_mm))
                .unwrap_or(0.0),
        },
    };
    Ok((ring, inside.is_some()))
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (ring, inside_known) = ring(inputs)?;
    let sized = |name: &str, tolerance: &str| {
        inputs
            .number_if(name)
            .map(|mm| Sized { mm, tol_mm: inputs.number_if(tolerance).unwrap_or(0.0) })
    };
    let inside = sized("groove-inside-diameter", "groove-inside-tolerance");
    if inside.is_some() && !inside_known {
        return Err(FigureError::about(
            "inside-diameter",
            "is missing: the stretch needs the ring's inside diameter",
        ));
    }
    let groove = Groove {
        depth: sized("groove-depth", "depth-tolerance").expect("groove-depth is required"),
        width: sized("groove-width", "width-tolerance").expect("groove-width is required"),
        inside,
    };
    for (name, size) in [
        ("inside-diameter-tolerance", ring.inside),
        ("section-tolerance", ring.section),
        ("depth-tolerance", groove.depth),
        ("width-tolerance", groove.width),
        ("groove-inside-tolerance", groove.inside.unwrap_or(groove.width)),
    ] {
        if size.tol_mm >= size.mm {
            return Err(FigureError::about(name, "is not smaller than the size it is for"));
        }
    }
    let fit = oring::fit(&ring, &groove);
    let tolerances = [ring.section, groove.depth, groove.width]
        .into_iter()
        .chain(groove.inside.map(|_| ring.inside))
        .chain(groove.inside)
        .any(|size| size.tol_mm > 0.0);
    let mut outcome = Outcome::new().one("ring-section", ring.section.mm);
    if inside_known {
        outcome = outcome.one("ring-inside", ring.inside.mm);
    }
    outcome =
        spread(outcome, ["squeeze", "squeeze-least", "squeeze-most"], fit.squeeze, tolerances);
    outcome = spread(outcome, ["fill", "fill-least", "fill-most"], fit.fill, tolerances);
    if let Some(stretch) = fit.stretch {
        let names = ["stretch", "stretch-least", "stretch-most"];
        outcome = spread(outcome, names, stretch, tolerances)
            .one("section-loss", 100.0 * oring::section_loss(stretch.nominal));
        if let Some(measured) = oring::section_loss_measured(stretch.nominal) {
            outcome = outcome.note(format!(
                "a seal handbook's measured curve (memory) loses {:.1} % of the section at this stretch, in the direction of the squeeze",
                100.0 * measured
            ));
        }
    }
    let (squeeze, fill) = (fit.squeeze, fit.fill);
    let (least, _, most) = oring::SQUEEZE_LIMITS;
    Ok(outcome
        .note_if(squeeze.least < least, "the least squeeze is below 10 %: it may leak")
        .note_if(squeeze.most > most, "the most squeeze is above 35 %: the ring is overloaded")
        .note_if(
            fill.most > oring::FILL_LIMITS.2,
            "the groove may be filled above 85 %: little is left for swell and heat",
        )
        .note_if(
            fit.stretch.is_some_and(|stretch| stretch.most > oring::STRETCH_MAX),
            "the ring may be stretched by more than 5 %",
        ))
}

fn spread(
    outcome: Outcome,
    names: [&'static str; 3],
    spread: Spread,
    tolerances: bool,
) -> Outcome {
    let outcome = outcome.one(names[0], 100.0 * spread.nominal);
    if !tolerances {
        return outcome;
    }
    outcome.one(names[1], 100.0 * spread.least).one(names[2], 100.0 * spread.most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_tolerances_there_is_no_spread() {
        let given =
            [("section", "3.53 mm"), ("groove-depth", "2.64 mm"), ("groove-width", "4.57 mm")]
                .map(|(k, v)| (k.to_owned(), v.to_owned()));
        let answer = crate::figures::run("oring", &given).unwrap();
        assert!(answer.result("squeeze").is_some() && answer.result("squeeze-least").is_none());
        assert!(answer.result("stretch").is_none());
    }

    #[test]
    fn a_dash_number_and_a_section_do_not_go_together() {
        let mut given: Vec<(String, String)> =
            FIGURE.example.iter().map(|(k, v)| ((*k).into(), (*v).into())).collect();
        given.push(("section".into(), "3 mm".into()));
        assert_eq!(crate::figures::run("oring", &given).unwrap_err()[0].input, "section");
    }
}
