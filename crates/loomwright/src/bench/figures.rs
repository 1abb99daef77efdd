//! Calculators: one answer, or many over one input.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};

use physics::units::{Dimension, parse};
use plan::figures::{self, Answer, FigureError, Input, Kind};

use super::outcome::said;
use super::refusal::Refusal;
use crate::wire::{
    self, FigureAnswerWire, FigureAsked, FigureErrorWire, SweepAsked, SweepWire, SweptWire,
};

/// Answers of a sweep at most, and where nothing is said.
const COUNT_MOST: usize = 200;
const COUNT: usize = 41;

fn find(name: &str) -> Result<&'static figures::Figure, Refusal> {
    figures::find(name).map_err(|error| Refusal::absent(error.to_string()))
}

fn pairs(given: BTreeMap<String, String>) -> Vec<(String, String)> {
    given.into_iter().filter(|(_, value)| !value.trim().is_empty()).collect()
}

fn error(of: &FigureError) -> FigureErrorWire {
    let hint = of.hint.as_ref().map_or(String::new(), |hint| format!("; {hint}"));
    FigureErrorWire { input: of.input.clone(), message: format!("{}{hint}", of.message) }
}

fn run(name: &str, given: &[(String, String)]) -> Result<Answer, Vec<FigureErrorWire>> {
    match catch_unwind(AssertUnwindSafe(|| figures::run(name, given))) {
        Ok(Ok(answer)) => Ok(answer),
        Ok(Err(errors)) => Err(errors.iter().map(error).collect()),
        Err(panic) => {
            Err(vec![FigureErrorWire { input: String::new(), message: said(&*panic) }])
        }
    }
}

/// One answer.
///
/// # Errors
/// When there is no such figure; what is wrong with its inputs is part of the answer.
pub(crate) fn answer(name: &str, asked: FigureAsked) -> Result<FigureAnswerWire, Refusal> {
    let figure = find(name)?;
    Ok(match run(figure.name, &pairs(asked.given)) {
        Ok(answer) => {
            FigureAnswerWire { answer: Some(wire::answer(&answer)), errors: Vec::new() }
        }
        Err(errors) => FigureAnswerWire { answer: None, errors },
    })
}

/// The ends of a sweep, in the unit the pages are told.
struct Ends {
    from: f64,
    to: f64,
    unit: &'static str,
}

fn ends(input: &Input, asked: &SweepAsked) -> Result<Ends, String> {
    let dimension = match input.kind {
        Kind::Quantity(dimension) => Some(dimension),
        Kind::Number | Kind::Count => None,
        Kind::Choice(_) | Kind::Text | Kind::Size | Kind::Thread | Kind::Rows(_) => {
            return Err("only a number can be swept".to_owned());
        }
    };
    let unit = dimension.map_or("", Dimension::kept);
    let read = |text: &str| match dimension {
        Some(dimension) => parse(text, dimension).ok(),
        None => text.trim().parse::<f64>().ok(),
    };
    let of = |text: &Option<String>| match text.as_deref().filter(|t| !t.trim().is_empty()) {
        None => Ok(None),
        Some(text) => read(text).map(Some).ok_or_else(|| format!("`{text}` cannot be read")),
    };
    let given = asked.given.get(input.name).map(String::as_str).or(input.default);
    let middle = given.and_then(read);
    let around = |share: f64| match (middle, input.range) {
        (Some(value), _) if value != 0.0 => Some(value * share),
        (_, Some((least, most))) => Some(if share < 1.0 { least } else { most }),
        _ => None,
    };
    let missing = || "say from where and to where".to_owned();
    let mut from = of(&asked.from)?.or(around(0.5)).ok_or_else(missing)?;
    let mut to = of(&asked.to)?.or(around(2.0)).ok_or_else(missing)?;
    if let Some((least, most)) = input.range {
        (from, to) = (from.clamp(least, most), to.clamp(least, most));
    }
    if !(from.is_finite() && to.is_finite()) || from == to {
        return Err("the sweep begins where it ends".to_owned());
    }
    Ok(Ends { from, to, unit })
}

/// Outputs over one input.
///
/// # Errors
/// When there is no such figure.
pub(crate) fn sweep(name: &str, asked: &SweepAsked) -> Result<SweepWire, Refusal> {
    let figure = find(name)?;
    let empty = |unit: &str, message: String| SweepWire {
        input: asked.input.clone(),
        unit: unit.to_owned(),
        at: Vec::new(),
        outputs: Vec::new(),
        errors: vec![FigureErrorWire { input: asked.input.clone(), message }],
    };
    let Some(input) = figure.inputs.iter().find(|i| i.name == asked.input) else {
        return Ok(empty("", "the figure has no such input".to_owned()));
    };
    let Ends { from, to, unit } = match ends(input, asked) {
        Ok(ends) => ends,
        Err(message) => return Ok(empty("", message)),
    };
    let count = asked.count.unwrap_or(COUNT).clamp(2, COUNT_MOST);
    let whole = matches!(input.kind, Kind::Count);
    let mut at: Vec<f64> = (0..count)
        .map(|i| from + (to - from) * i as f64 / (count - 1) as f64)
        .map(|value| if whole { value.round() } else { value })
        .collect();
    at.dedup();
    let others = pairs(asked.given.clone());
    let mut errors = Vec::new();
    let answers: Vec<Option<Answer>> = at
        .iter()
        .map(|value| {
            let mut given: Vec<(String, String)> =
                others.iter().filter(|(n, _)| *n != asked.input).cloned().collect();
            let text =
                if unit.is_empty() { value.to_string() } else { format!("{value} {unit}") };
            given.push((asked.input.clone(), text));
            run(figure.name, &given).map_err(|wrong| errors = wrong).ok()
        })
        .collect();
    let outputs = figure.outputs.iter().filter_map(|o| swept(o.name, &answers)).collect();
    // Gaps are answers too; only if there is nothing but gaps is it said why.
    if answers.iter().any(Option::is_some) {
        errors.clear();
    }
    Ok(SweepWire { input: asked.input.clone(), unit: unit.to_owned(), at, outputs, errors })
}

fn swept(name: &str, answers: &[Option<Answer>]) -> Option<SweptWire> {
    let found = |answer: &Option<Answer>| {
        answer.as_ref().and_then(|a| a.result(name)).filter(|f| !f.is_list).cloned()
    };
    let unit = answers.iter().find_map(found)?.unit;
    let values = answers.iter().map(|answer| found(answer).map(|f| f.values[0])).collect();
    Some(SweptWire { name: name.to_owned(), unit, values })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(name: &str, input: &str) -> SweepAsked {
        let figure = figures::find(name).unwrap();
        let pair = |(n, v): &(&str, &str)| ((*n).to_owned(), (*v).to_owned());
        SweepAsked {
            given: figure.example.iter().map(pair).collect(),
            input: input.to_owned(),
            from: None,
            to: None,
            count: None,
        }
    }

    #[test]
    fn twice_the_torque_is_twice_the_preload() {
        let swept = sweep("bolt-preload", &asked("bolt-preload", "torque")).unwrap();
        assert!(swept.errors.is_empty(), "{}", swept.errors[0].message);
        assert_eq!(swept.at.len(), COUNT);
        let preload = swept.outputs.iter().find(|o| o.name == "preload").unwrap();
        let (first, last) = (preload.values[0].unwrap(), preload.values[COUNT - 1].unwrap());
        let share = (last / first) / (swept.at[COUNT - 1] / swept.at[0]);
        assert!((share - 1.0).abs() < 1e-9, "{share}");
    }

    #[test]
    fn what_cannot_be_swept_is_said() {
        for input in ["thread", "nonsense"] {
            let swept = sweep("bolt-preload", &asked("bolt-preload", input)).unwrap();
            assert!(swept.at.is_empty() && swept.errors.len() == 1, "{input}");
        }
        assert!(sweep("nonsense", &asked("bolt-preload", "torque")).is_err());
    }

    #[test]
    fn every_figure_with_a_number_can_be_swept_from_its_example() {
        let mut swept_count = 0;
        for figure in figures::all() {
            let numbers = figure.inputs.iter().filter(|i| {
                matches!(i.kind, Kind::Quantity(_) | Kind::Number)
                    && figure.example.iter().any(|(n, _)| *n == i.name)
            });
            for input in numbers.take(1) {
                let mut asked = asked(figure.name, input.name);
                asked.count = Some(3);
                let swept = sweep(figure.name, &asked).unwrap();
                let any = swept.outputs.iter().any(|o| o.values.iter().any(Option::is_some));
                assert!(
                    any || !swept.errors.is_empty() || swept.outputs.is_empty(),
                    "{}",
                    figure.name
                );
                swept_count += usize::from(any);
            }
        }
        assert!(swept_count >= 30, "{swept_count}");
    }
}
