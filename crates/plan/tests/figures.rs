//! Every figure is asked at the ends of what it accepts: it answers or names an input, it never panics.

use plan::figures::{self, Figure, Input, Kind};

/// Texts worth trying for an input: its ends, its default, every word of a choice, and some nonsense.
fn tries(input: &Input) -> Vec<String> {
    let mut texts: Vec<String> = input.default.iter().map(|text| (*text).to_owned()).collect();
    let unit = match input.kind {
        Kind::Quantity(dimension) => dimension.kept(),
        _ => "",
    };
    match input.kind {
        Kind::Quantity(_) | Kind::Number | Kind::Count => {
            let (least, greatest) = input.range.unwrap_or((-1e6, 1e6));
            for value in [least, greatest, 1.0, 0.0, -1.0, 1e-9, 1e9] {
                texts.push(format!("{value} {unit}").trim_end().to_owned());
            }
            texts.push("1e999".to_owned());
        }
        Kind::Choice(words) => texts.extend(words.iter().map(|word| (*word).to_owned())),
        Kind::Thread => {
            texts.extend(["M1.6", "M90x6", "M12x1.5", "M25", "x"].map(String::from))
        }
        Kind::Size => {
            texts.extend(["36 AWG", "4/0 AWG", "0.01 mm2", "5000 mm2", "x"].map(String::from));
        }
        Kind::Text | Kind::Rows(_) => {
            texts.extend(["", "0", "222", "1 N", "[]", "[{}]", "-5 mm"].map(String::from));
        }
    }
    texts
}

/// Runs one set of inputs; what comes back must be finite, or an error that says something.
fn ask(figure: &Figure, given: &[(String, String)]) {
    match figures::run(figure.name, given) {
        Ok(answer) => {
            for found in &answer.results {
                assert!(
                    found.values.iter().all(|v| v.is_finite()),
                    "{} {given:?}",
                    figure.name
                );
            }
        }
        Err(errors) => {
            assert!(!errors.is_empty());
            for error in errors {
                assert!(!error.message.is_empty(), "{} {given:?}", figure.name);
                assert!(
                    error.input.is_empty()
                        || error.input.contains('[')
                        || figure.inputs.iter().any(|input| input.name == error.input),
                    "{} blames `{}`, which it does not have",
                    figure.name,
                    error.input
                );
            }
        }
    }
}

/// These solve a network at every call, so their inputs are tried one at a time.
const SLOW: [&str; 3] = ["free-air-rating", "bundle-rating", "heat-step"];

#[test]
fn no_pair_of_extremes_panics() {
    for figure in figures::all() {
        let example: Vec<(String, String)> =
            figure.example.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect();
        let with = |base: &[(String, String)], name: &str, text: &str| {
            let mut given: Vec<(String, String)> =
                base.iter().filter(|(k, _)| k != name).cloned().collect();
            given.push((name.to_owned(), text.to_owned()));
            given
        };
        for first in figure.inputs {
            let left_out: Vec<(String, String)> =
                example.iter().filter(|(k, _)| k != first.name).cloned().collect();
            ask(figure, &left_out);
            for text in tries(first) {
                let one = with(&example, first.name, &text);
                ask(figure, &one);
                if SLOW.contains(&figure.name) {
                    continue;
                }
                for second in figure.inputs {
                    for other in tries(second) {
                        ask(figure, &with(&one, second.name, &other));
                    }
                }
            }
        }
    }
}
