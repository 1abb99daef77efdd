//! No figure may panic, whatever it is given: it answers or it names what is wrong.

use std::panic::{AssertUnwindSafe, catch_unwind};

use plan::figures::{self, Input, Kind};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

/// A text for an input: most of the time one that it can read, at the ends of its range as often as within.
fn text(input: &Input) -> BoxedStrategy<String> {
    let (least, greatest) = input.range.unwrap_or((-1e3, 1e6));
    let number = prop_oneof![
        2 => Just(least),
        2 => Just(greatest),
        1 => Just(0.0),
        4 => least..=greatest,
        // Evenly over the powers of ten, where most sizes of practice lie.
        8 => (-4.0..6.0f64).prop_map(move |e| libm::pow(10.0, e).clamp(least, greatest)),
    ];
    let plain = match input.kind {
        Kind::Quantity(dimension) => {
            number.prop_map(move |n| format!("{n} {}", dimension.kept())).boxed()
        }
        Kind::Number => number.prop_map(|n| n.to_string()).boxed(),
        Kind::Count => number.prop_map(|n| n.round().to_string()).boxed(),
        Kind::Choice(words) => prop::sample::select(words).prop_map(str::to_owned).boxed(),
        Kind::Size => prop_oneof![
            (-3i32..=36).prop_map(|n| {
                if n <= 0 { format!("{}/0 AWG", 1 - n) } else { format!("{n} AWG") }
            }),
            (0.01..5000.0f64).prop_map(|a| format!("{a} mm2")),
            (1.0..2000.0f64).prop_map(|a| format!("{a} kcmil")),
            prop::sample::select(vec!["35 mm2", "70 mm2", "120 mm2"]).prop_map(str::to_owned),
        ]
        .boxed(),
        Kind::Thread => {
            prop::sample::select(vec!["M8", "M10x1.25", "M1.6", "M64", "M0", "1/4-20"])
                .prop_map(str::to_owned)
                .boxed()
        }
        Kind::Text => "[ -~]{0,12}".boxed(),
        Kind::Rows(fields) => rows(fields),
    };
    prop_oneof![19 => plain, 1 => "[ -~]{0,12}"].boxed()
}

fn rows(fields: &'static [Input]) -> BoxedStrategy<String> {
    let row: Vec<BoxedStrategy<String>> = fields
        .iter()
        .map(|field| {
            text(field).prop_map(|value| format!("{} = {value:?}", field.name)).boxed()
        })
        .collect();
    prop::collection::vec(row.prop_map(|cells| format!("{{ {} }}", cells.join(", "))), 0..6)
        .prop_map(|rows| format!("[{}]", rows.join(", ")))
        .boxed()
}

/// Some or all inputs of a figure.
fn given(inputs: &'static [Input]) -> BoxedStrategy<Vec<(String, String)>> {
    let each: Vec<BoxedStrategy<Option<(String, String)>>> = inputs
        .iter()
        .map(|input| {
            let likely = if input.required { 0.98 } else { 0.4 };
            let name = input.name.to_owned();
            prop::option::weighted(likely, text(input).prop_map(move |v| (name.clone(), v)))
                .boxed()
        })
        .collect();
    each.prop_map(|pairs| pairs.into_iter().flatten().collect()).boxed()
}

#[test]
fn prop_no_figure_panics() {
    let mut runner = TestRunner::deterministic();
    for figure in figures::all() {
        let strategy = given(figure.inputs);
        // The example is given with single inputs replaced, so that most of the time there is an answer.
        let example: Vec<(String, String)> =
            figure.example.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect();
        for round in 0..120 {
            let mut inputs =
                strategy.new_tree(&mut runner).expect("nothing is filtered").current();
            if round % 3 != 0 {
                let keep = round % inputs.len().max(1);
                let replaced = inputs.get(keep).cloned();
                inputs = example.clone();
                if let Some((name, value)) = replaced {
                    inputs.retain(|(k, _)| *k != name);
                    inputs.push((name, value));
                }
            }
            let run = catch_unwind(AssertUnwindSafe(|| figures::run(figure.name, &inputs)));
            let Ok(answer) = run else { panic!("{} panics for {inputs:?}", figure.name) };
            match answer {
                Ok(answer) => {
                    assert!(
                        answer.results.iter().all(|r| r.values.iter().all(|v| v.is_finite()))
                    );
                }
                Err(errors) => assert!(!errors.is_empty()),
            }
        }
    }
}
