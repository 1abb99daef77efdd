//! One quantity in another unit.

use physics::laws::conductor::ConductorSize;
use physics::units::{self, Dimension, Unit};

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "convert",
    purpose: "a quantity in another unit of the same kind",
    source: "international yard and pound: 1 in = 25.4 mm, 1 lbf = 4.448 221 615 260 5 N, exactly",
    inputs: &[
        Input::required("value", Kind::Text, "with its unit: \"80 lbf in\", \"4 ft 8 in\""),
        Input::required("to", Kind::Text, "unit wanted: \"N m\""),
    ],
    outputs: &[Output::new("value", "", "in the unit wanted")],
    example: &[("value", "80 lbf in"), ("to", "N m")],
    compute,
};

/// Every kind of quantity that has a unit of that name.
fn kinds(name: &str) -> Vec<(Dimension, Unit)> {
    let squeeze = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
    let wanted = squeeze(name);
    Dimension::ALL
        .into_iter()
        .flat_map(|dimension| dimension.units().iter().map(move |unit| (dimension, *unit)))
        .filter(|(_, unit)| unit.names.iter().any(|name| squeeze(name) == wanted))
        .collect()
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (value, to) = (inputs.text("value"), inputs.text("to"));
    let kinds = kinds(to);
    let Some(first) = kinds.first() else {
        return Err(FigureError::about(
            "to",
            format!("`{to}` is not a unit that is known here"),
        ));
    };
    for (dimension, unit) in &kinds {
        let kept = match (units::parse(value, *dimension), dimension) {
            (Ok(kept), _) => kept,
            // A gauge is an area to whoever asks for one.
            (Err(_), Dimension::Area) => match ConductorSize::parse(value) {
                Ok(size) => size.area_mm2(),
                Err(_) => continue,
            },
            (Err(_), _) => continue,
        };
        return Ok(Outcome::new().one_in("value", (kept - unit.offset) / unit.factor, to));
    }
    let error = units::parse(value, first.0).expect_err("every kind was tried");
    Err(FigureError::about("value", error.message(first.0)))
}

#[cfg(test)]
mod tests {
    use super::super::run;

    fn convert(value: &str, to: &str) -> Result<f64, String> {
        run("convert", &[("value".into(), value.into()), ("to".into(), to.into())])
            .map(|answer| answer.results[0].values[0])
            .map_err(|errors| errors[0].to_string())
    }

    #[test]
    fn both_ways_and_back() {
        assert!((convert("80 lbf in", "N m").unwrap() - 9.038_786_322).abs() < 1e-9);
        assert!((convert("9.038786322209337 N m", "lbf in").unwrap() - 80.0).abs() < 1e-9);
        assert!((convert("45 degC", "degF").unwrap() - 113.0).abs() < 1e-9);
        assert!((convert("2/0 AWG", "mm2").unwrap() - 67.431).abs() < 1e-3);
        assert!((convert("4 ft 8 in", "mm").unwrap() - 1422.4).abs() < 1e-9);
    }

    #[test]
    fn mistakes_are_named() {
        assert!(convert("80 lbf in", "furlong").unwrap_err().starts_with("to: "));
        assert!(convert("80 lbf in", "mm").unwrap_err().starts_with("value: "));
        assert!(convert("80", "mm").unwrap_err().starts_with("value: "));
    }
}
