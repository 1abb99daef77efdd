//! Figures: a law, or a small chain of laws, offered as a calculator.
//!
//! One catalogue feeds the command, the bench's calculator page, the manual and [`crate::verify`]. A
//! figure is a constant of its own file: its inputs, its outputs, an example and one function. Inputs
//! are read and checked here, all at once, so a figure's function meets only values of the right kind
//! and within range. What it cannot know before it computes (two inputs that exclude each other), it
//! reports itself.
//!
//! To add a figure: write `figures/NAME.rs` with `pub(crate) static FIGURE: Figure`, name it in [`all`].

mod cable;
mod conductor;
mod ac_resistance;
mod voltage_drop;
mod loop_inductance;
mod magnetic_field;
mod convection;
mod radiation;
mod free_air_rating;
mod iec_free_air;
mod bundle_rating;
mod jacket_bundle;
mod section_heat;
mod heat_step;
mod two_loop;
mod short_circuit;
mod hot_terminal;
mod convert;
mod thread;
mod bolt_preload;
mod bolt_rated_torque;
mod thread_strip;
mod crimp_pull;
mod oring;
mod oring_load;
mod spacing;
mod isolation;
mod isolation_reading;
mod bend;
mod plate_deflection;
mod precharge;
mod bleed;
mod fault;
mod fuse_ambient;
mod fuse_time;
mod fuse_cycles;
mod withstand;
mod coordination;
mod contactor;
mod droop;
mod elastic_span;
mod span;
mod clip_spacing;
mod bearing_pressure;
mod disc_washer;
mod joint_stiffness;
mod shrink_sleeve;
mod lug_joint;
mod grip_pitch;
mod motor_point;
mod dclink_ripple;
mod cycle;

use std::collections::BTreeMap;

use physics::laws::conductor::ConductorSize;
use physics::units::{self, Dimension};

/// Every figure, in the order in which they are listed.
pub fn all() -> &'static [&'static Figure] {
    static ALL: &[&Figure] = &[
        &conductor::FIGURE,
        &ac_resistance::FIGURE,
        &voltage_drop::FIGURE,
        &loop_inductance::FIGURE,
        &magnetic_field::FIGURE,
        &convection::FIGURE,
        &radiation::FIGURE,
        &free_air_rating::FIGURE,
        &iec_free_air::FIGURE,
        &bundle_rating::FIGURE,
        &jacket_bundle::FIGURE,
        &section_heat::FIGURE,
        &heat_step::FIGURE,
        &two_loop::FIGURE,
        &short_circuit::FIGURE,
        &hot_terminal::FIGURE,
        &convert::FIGURE,
        &thread::FIGURE,
        &bolt_preload::FIGURE,
        &bolt_rated_torque::FIGURE,
        &thread_strip::FIGURE,
        &crimp_pull::FIGURE,
        &oring::FIGURE,
        &oring_load::FIGURE,
        &spacing::FIGURE,
        &isolation::FIGURE,
        &isolation_reading::FIGURE,
        &bend::FIGURE,
        &plate_deflection::FIGURE,
        &precharge::FIGURE,
        &bleed::FIGURE,
        &fault::FIGURE,
        &fuse_ambient::FIGURE,
        &fuse_time::FIGURE,
        &fuse_cycles::FIGURE,
        &withstand::FIGURE,
        &coordination::FIGURE,
        &contactor::FIGURE,
        &elastic_span::FIGURE,
        &droop::FIGURE,
        &span::FIGURE,
        &clip_spacing::FIGURE,
        &bearing_pressure::FIGURE,
        &disc_washer::FIGURE,
        &joint_stiffness::FIGURE,
        &shrink_sleeve::FIGURE,
        &lug_joint::FIGURE,
        &grip_pitch::FIGURE,
        &motor_point::FIGURE,
        &dclink_ripple::FIGURE,
        &cycle::FIGURE,
    ];
    ALL
}

/// One calculator.
#[derive(Debug)]
pub struct Figure {
    /// Kebab-case name, never changed once published.
    pub name: &'static str,
    /// One line of what it is for.
    pub purpose: &'static str,
    /// Where its relations are published.
    pub source: &'static str,
    /// What it needs.
    pub inputs: &'static [Input],
    /// What it gives.
    pub outputs: &'static [Output],
    /// Inputs that give an answer; a test runs them.
    pub example: &'static [(&'static str, &'static str)],
    /// The work. Inputs are of the right kind and within range when this is called.
    pub compute: fn(&Inputs) -> Result<Outcome, FigureError>,
}

/// What kind of value an input takes.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A number with a unit: "1.42 m".
    Quantity(Dimension),
    /// A plain number.
    Number,
    /// A whole number.
    Count,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Any text; the figure reads it.
    Text,
    /// A conductor size: "2/0 AWG", "70 mm2".
    Size,
    /// A thread: "M8", "M10x1.25". Passed on as text; the figure reads it.
    Thread,
    /// A TOML list of tables with these inputs: `[{ x = "1 mm" }, { x = "2 mm" }]`.
    Rows(&'static [Input]),
}

/// One named input.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// Kebab-case name.
    pub name: &'static str,
    /// What kind of value it takes.
    pub kind: Kind,
    /// Least and greatest value, in the dimension's kept unit, both allowed.
    pub range: Option<(f64, f64)>,
    /// Used, and said in the answer, if nothing is given.
    pub default: Option<&'static str>,
    /// Whether the figure has no answer without it.
    pub required: bool,
    /// What it is, a few words.
    pub what: &'static str,
}

impl Input {
    /// An input that must be given.
    pub const fn required(name: &'static str, kind: Kind, what: &'static str) -> Input {
        Input { name, kind, range: None, default: None, required: true, what }
    }

    /// An input that may be left out.
    pub const fn optional(name: &'static str, kind: Kind, what: &'static str) -> Input {
        Input { name, kind, range: None, default: None, required: false, what }
    }

    /// An input that has a value unless another is given.
    pub const fn with_default(
        name: &'static str,
        kind: Kind,
        default: &'static str,
        what: &'static str,
    ) -> Input {
        Input { name, kind, range: None, default: Some(default), required: false, what }
    }

    /// The same input, limited to a range in the kept unit, ends included.
    pub const fn within(mut self, least: f64, greatest: f64) -> Input {
        self.range = Some((least, greatest));
        self
    }
}

/// One named output.
#[derive(Clone, Copy, Debug)]
pub struct Output {
    /// Kebab-case name.
    pub name: &'static str,
    /// The unit it is given in, as printed; empty for a plain number or a ratio.
    pub unit: &'static str,
    /// What it is, a few words.
    pub what: &'static str,
}

impl Output {
    /// An output in a unit.
    pub const fn new(name: &'static str, unit: &'static str, what: &'static str) -> Output {
        Output { name, unit, what }
    }
}

/// The values a figure's function works with.
#[derive(Clone, Debug)]
pub struct Inputs {
    values: BTreeMap<&'static str, Value>,
}

#[derive(Clone, Debug)]
enum Value {
    Number(f64),
    Text(String),
    Size(ConductorSize),
    Rows(Vec<Inputs>),
}

impl Inputs {
    /// Whether the input was given or has a default.
    pub fn has(&self, name: &str) -> bool {
        self.values.contains_key(name)
    }

    /// A quantity in its kept unit, a number or a count; the input must be required or have a default.
    pub fn number(&self, name: &str) -> f64 {
        self.number_if(name).unwrap_or_else(|| panic!("the figure declares a number `{name}`"))
    }

    /// A quantity in its kept unit, a number or a count, if there is one.
    pub fn number_if(&self, name: &str) -> Option<f64> {
        match self.values.get(name)? {
            Value::Number(number) => Some(*number),
            _ => None,
        }
    }

    /// A text or a choice; the input must be required or have a default.
    pub fn text(&self, name: &str) -> &str {
        self.text_if(name).unwrap_or_else(|| panic!("the figure declares a text `{name}`"))
    }

    /// A text or a choice, if there is one.
    pub fn text_if(&self, name: &str) -> Option<&str> {
        match self.values.get(name)? {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    /// A conductor size; the input must be required or have a default.
    pub fn size(&self, name: &str) -> ConductorSize {
        self.size_if(name).unwrap_or_else(|| panic!("the figure declares a size `{name}`"))
    }

    /// A conductor size, if there is one.
    pub fn size_if(&self, name: &str) -> Option<ConductorSize> {
        match self.values.get(name)? {
            Value::Size(size) => Some(*size),
            _ => None,
        }
    }

    /// The tables of a list; empty if there are none.
    pub fn rows(&self, name: &str) -> &[Inputs] {
        match self.values.get(name) {
            Some(Value::Rows(rows)) => rows,
            _ => &[],
        }
    }

    /// Exactly one of these inputs must be given: the name of the one that is.
    pub fn one_of<'a>(&self, names: &[&'a str]) -> Result<&'a str, FigureError> {
        let given: Vec<&'a str> = names.iter().copied().filter(|n| self.has(n)).collect();
        match given[..] {
            [one] => Ok(one),
            [] => Err(FigureError::about(
                names[0],
                format!("one of {} must be given", listed(names)),
            )),
            [_, second, ..] => Err(FigureError::about(
                second,
                format!("only one of {} may be given, not {}", listed(names), listed(&given)),
            )),
        }
    }
}

/// What a figure's function gives back.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    results: Vec<Found>,
    notes: Vec<String>,
}

impl Outcome {
    /// Nothing yet.
    pub fn new() -> Outcome {
        Outcome::default()
    }

    /// One value, in the unit its output is declared in.
    pub fn one(mut self, name: &'static str, value: f64) -> Outcome {
        self.results.push(Found {
            name,
            values: vec![value],
            is_list: false,
            unit: String::new(),
        });
        self
    }

    /// A list of values, in the unit its output is declared in.
    pub fn each(mut self, name: &'static str, values: Vec<f64>) -> Outcome {
        self.results.push(Found { name, values, is_list: true, unit: String::new() });
        self
    }

    /// One value in a unit that depends on the inputs.
    pub fn one_in(mut self, name: &'static str, value: f64, unit: &str) -> Outcome {
        self.results.push(Found {
            name,
            values: vec![value],
            is_list: false,
            unit: unit.to_owned(),
        });
        self
    }

    /// Something the reader must know: a limit of the relation that is passed, an assumption.
    pub fn note(mut self, note: impl Into<String>) -> Outcome {
        self.notes.push(note.into());
        self
    }

    /// Several notes.
    pub fn notes(mut self, notes: impl IntoIterator<Item = String>) -> Outcome {
        self.notes.extend(notes);
        self
    }

    /// The note, if the condition holds.
    pub fn note_if(self, holds: bool, note: impl Into<String>) -> Outcome {
        if holds { self.note(note) } else { self }
    }
}

/// One result of a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The output's name.
    pub name: &'static str,
    /// The values: one, unless it is a list.
    pub values: Vec<f64>,
    /// Whether it is a list, even of one.
    pub is_list: bool,
    /// The unit as printed.
    pub unit: String,
}

/// An answered figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// The figure's name.
    pub figure: &'static str,
    /// What was used, as written, defaults too, in the figure's order.
    pub given: Vec<(&'static str, String)>,
    /// The results in the figure's order.
    pub results: Vec<Found>,
    /// What the reader must know.
    pub notes: Vec<String>,
    /// Where the relations are published.
    pub source: &'static str,
}

impl Answer {
    /// The result of that name, if the figure gave it.
    pub fn result(&self, name: &str) -> Option<&Found> {
        self.results.iter().find(|found| found.name == name)
    }
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureError {
    /// The input it is about; empty if about the figure as a whole.
    pub input: String,
    /// What is wrong.
    pub message: String,
    /// What to do, if that is not plain.
    pub hint: Option<String>,
}

impl FigureError {
    /// A mistake in one input.
    pub fn about(input: &str, message: impl Into<String>) -> FigureError {
        FigureError { input: input.to_owned(), message: message.into(), hint: None }
    }

    /// A case that has no answer, whichever input one blames.
    pub fn whole(message: impl Into<String>) -> FigureError {
        FigureError { input: String::new(), message: message.into(), hint: None }
    }

    fn hint(mut self, hint: impl Into<String>) -> FigureError {
        self.hint = Some(hint.into());
        self
    }
}

impl std::fmt::Display for FigureError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if !self.input.is_empty() {
            write!(f, "{}: ", self.input)?;
        }
        f.write_str(&self.message)?;
        match &self.hint {
            Some(hint) => write!(f, " ({hint})"),
            None => Ok(()),
        }
    }
}

/// The figure of that name; the error names the nearest one.
pub fn find(name: &str) -> Result<&'static Figure, FigureError> {
    if let Some(figure) = all().iter().copied().find(|figure| figure.name == name) {
        return Ok(figure);
    }
    let error = FigureError::whole(format!("there is no figure `{name}`"));
    Err(match nearest(name, all().iter().map(|figure| figure.name)) {
        Some(near) => error.hint(format!("did you mean `{near}`?")),
        None => error.hint("`loomwright figure` lists them"),
    })
}

/// Runs a figure; every mistake in what is given comes back at once.
pub fn run(name: &str, given: &[(String, String)]) -> Result<Answer, Vec<FigureError>> {
    let figure = find(name).map_err(|error| vec![error])?;
    let (inputs, used) = read(figure.inputs, given)?;
    let outcome = (figure.compute)(&inputs).map_err(|error| vec![error])?;
    let results = finish(figure, outcome.results)?;
    Ok(Answer {
        figure: figure.name,
        given: used,
        results,
        notes: outcome.notes,
        source: figure.source,
    })
}

/// Units are put to the results, and the results in the declared order.
fn finish(figure: &Figure, results: Vec<Found>) -> Result<Vec<Found>, Vec<FigureError>> {
    let mut ordered = Vec::new();
    for output in figure.outputs {
        let mut same = results.iter().filter(|found| found.name == output.name);
        let Some(found) = same.next() else { continue };
        assert!(same.next().is_none(), "`{}` gives `{}` twice", figure.name, output.name);
        if !found.values.iter().all(|value| value.is_finite()) {
            return Err(vec![FigureError::whole(format!(
                "the inputs are too extreme: `{}` comes out as no finite number",
                output.name
            ))]);
        }
        let unit = if found.unit.is_empty() { output.unit } else { &found.unit };
        ordered.push(Found { unit: unit.to_owned(), ..found.clone() });
    }
    assert_eq!(ordered.len(), results.len(), "`{}` gives an undeclared output", figure.name);
    Ok(ordered)
}

/// The inputs of a TOML table as texts. A number stays a plain number, so it is refused where a unit
/// is due; lists and tables stay TOML.
pub fn texts(table: &toml::Table) -> Vec<(String, String)> {
    table
        .iter()
        .map(|(key, value)| {
            let text = match value {
                toml::Value::String(text) => text.clone(),
                other => other.to_string(),
            };
            (key.clone(), text)
        })
        .collect()
}

type Read = (Inputs, Vec<(&'static str, String)>);

fn read(
    declared: &'static [Input],
    given: &[(String, String)],
) -> Result<Read, Vec<FigureError>> {
    let mut errors = strangers(declared, given);
    let mut values = BTreeMap::new();
    let mut used = Vec::new();
    for input in declared {
        let text = given
            .iter()
            .find(|(name, _)| name == input.name)
            .map(|(_, text)| text.as_str())
            .or(input.default);
        let Some(text) = text else {
            if input.required {
                errors.push(FigureError::about(
                    input.name,
                    format!("is missing: {}", input.what),
                ));
            }
            continue;
        };
        match value(input, text) {
            Ok(value) => {
                values.insert(input.name, value);
                used.push((input.name, text.to_owned()));
            }
            Err(mut found) => errors.append(&mut found),
        }
    }
    if errors.is_empty() { Ok((Inputs { values }, used)) } else { Err(errors) }
}

/// Names that are not inputs, and inputs given twice.
fn strangers(declared: &'static [Input], given: &[(String, String)]) -> Vec<FigureError> {
    let mut errors = Vec::new();
    for (i, (name, _)) in given.iter().enumerate() {
        if !declared.iter().any(|input| input.name == name) {
            let error = FigureError::about(name, "is not an input of this figure");
            errors.push(match nearest(name, declared.iter().map(|input| input.name)) {
                Some(near) => error.hint(format!("did you mean `{near}`?")),
                None => error.hint(format!(
                    "it takes {}",
                    listed(&declared.iter().map(|input| input.name).collect::<Vec<_>>())
                )),
            });
        } else if given[..i].iter().any(|(earlier, _)| earlier == name) {
            errors.push(FigureError::about(name, "is given twice"));
        }
    }
    errors
}

fn value(input: &'static Input, text: &str) -> Result<Value, Vec<FigureError>> {
    let wrong = |message: String| vec![FigureError::about(input.name, message)];
    match input.kind {
        Kind::Quantity(dimension) => {
            let number = units::parse(text, dimension)
                .map_err(|error| wrong(error.message(dimension)))?;
            in_range(input, number)
        }
        Kind::Number | Kind::Count => {
            let number: f64 = text
                .trim()
                .parse()
                .ok()
                .filter(|number: &f64| number.is_finite())
                .ok_or_else(|| wrong(format!("`{text}` is not a plain number")))?;
            if matches!(input.kind, Kind::Count) && number.fract() != 0.0 {
                return Err(wrong(format!("`{text}` is not a whole number")));
            }
            in_range(input, number)
        }
        Kind::Choice(words) => match words.iter().find(|word| **word == text.trim()) {
            Some(word) => Ok(Value::Text((*word).to_owned())),
            None => Err(wrong(format!("`{text}` is none of {}", listed(words)))),
        },
        Kind::Text | Kind::Thread => match text.trim() {
            "" => Err(wrong("is empty".to_owned())),
            some => Ok(Value::Text(some.to_owned())),
        },
        Kind::Size => ConductorSize::parse(text).map(Value::Size).map_err(wrong),
        Kind::Rows(fields) => rows(input.name, fields, text),
    }
}

fn in_range(input: &Input, number: f64) -> Result<Value, Vec<FigureError>> {
    let shown = |value: f64| match input.kind {
        Kind::Quantity(Dimension::Ratio) => format!("{value}"),
        Kind::Quantity(dimension) => units::show(value, dimension, units::System::Metric),
        _ => format!("{value}"),
    };
    match input.range {
        Some((least, greatest)) if !(least..=greatest).contains(&number) => {
            Err(vec![FigureError::about(
                input.name,
                format!("{} is outside {} to {}", shown(number), shown(least), shown(greatest)),
            )])
        }
        _ => Ok(Value::Number(number)),
    }
}

fn rows(name: &str, fields: &'static [Input], text: &str) -> Result<Value, Vec<FigureError>> {
    let shape = || {
        vec![FigureError::about(
            name,
            format!(
                "a list of tables is due, each with {}",
                listed(&fields.iter().map(|field| field.name).collect::<Vec<_>>())
            ),
        )]
    };
    let document: toml::Table = format!("rows = {text}").parse().map_err(|_| shape())?;
    let Some(toml::Value::Array(list)) = document.get("rows") else { return Err(shape()) };
    let (mut found, mut errors) = (Vec::new(), Vec::new());
    for (i, entry) in list.iter().enumerate() {
        let toml::Value::Table(table) = entry else { return Err(shape()) };
        match read(fields, &texts(table)) {
            Ok((inputs, _)) => found.push(inputs),
            Err(wrong) => errors.extend(wrong.into_iter().map(|error| FigureError {
                input: format!("{name}[{i}].{}", error.input),
                ..error
            })),
        }
    }
    if errors.is_empty() { Ok(Value::Rows(found)) } else { Err(errors) }
}

fn listed(words: &[&str]) -> String {
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => words.concat(),
    }
}

/// The nearest name, if it is near enough to be a slip of the hand.
fn nearest<'a>(name: &str, names: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    names
        .map(|candidate| (slips(name, candidate), candidate))
        .min()
        .filter(|(count, candidate)| *count <= 1 + candidate.chars().count() / 3)
        .map(|(_, candidate)| candidate)
}

/// Letters to insert, drop or change to come from one word to the other.
fn slips(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, b) in to.iter().enumerate() {
            let changed = diagonal + usize::from(a != *b);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(row[j] + 1).min(row[j + 1] + 1);
        }
    }
    row[to.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
        pairs.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect()
    }

    #[test]
    fn every_example_answers_and_every_output_has_a_unit_or_none() {
        let mut names = Vec::new();
        for figure in all() {
            let answer = run(figure.name, &given(figure.example))
                .unwrap_or_else(|errors| panic!("{}: {errors:?}", figure.name));
            assert!(!answer.results.is_empty(), "{}", figure.name);
            assert!(!figure.source.is_empty() && !figure.purpose.contains('\n'));
            assert!(!names.contains(&figure.name), "{} is listed twice", figure.name);
            names.push(figure.name);
        }
    }

    #[test]
    fn every_default_is_readable() {
        for figure in all() {
            for input in figure.inputs {
                if let Some(default) = input.default {
                    assert!(value(input, default).is_ok(), "{} {}", figure.name, input.name);
                    assert!(!input.required);
                }
            }
        }
    }

    #[test]
    fn mistakes_come_all_at_once_and_name_the_input() {
        let errors = run(
            "conductor",
            &given(&[("class", "4"), ("temperature", "90"), ("sise", "70 mm2")]),
        )
        .unwrap_err();
        let names: Vec<&str> = errors.iter().map(|e| e.input.as_str()).collect();
        assert_eq!(names, ["sise", "size", "class", "temperature"]);
        assert_eq!(errors[0].hint.as_deref(), Some("did you mean `size`?"));
    }

    #[test]
    fn an_unknown_figure_names_the_nearest() {
        let error = find("conducter").unwrap_err();
        assert_eq!(error.hint.as_deref(), Some("did you mean `conductor`?"));
        assert!(find("zzz").is_err());
    }

    #[test]
    fn out_of_range_is_an_error() {
        let errors =
            run("conductor", &given(&[("size", "70 mm2"), ("temperature", "2000 degC")]))
                .unwrap_err();
        assert_eq!(errors[0].input, "temperature");
        assert!(errors[0].message.contains("outside"), "{}", errors[0].message);
    }

    #[test]
    fn tables_are_read_as_texts() {
        let table: toml::Table = "a = \"1 mm\"\nb = 2\nc = [{ x = 1 }]".parse().unwrap();
        assert_eq!(texts(&table)[1], ("b".to_owned(), "2".to_owned()));
        assert!(texts(&table)[2].1.contains("x = 1"));
    }
}
