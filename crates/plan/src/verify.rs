//! Published cases: a figure's answer beside the number that was printed somewhere.
//!
//! A case file is TOML, so anyone can add a case from any table:
//!
//! ```toml
//! [[case]]
//! figure = "bolt-preload"
//! given = { thread = "M8", torque = "9.04 N m", nut-factor = "0.2" }
//! expect = { preload = "5.65 kN" }
//! within = "1 %"            # or "0.02 mm", or "exact"
//! source = "where the expected number is published"
//! standing = "read"         # read | memory | common-practice | computed-with LIBRARY
//! note = "what the reader should know"
//! ```
//!
//! A source that is known to err on one side is met one-sided: `at-least = { current = "300 A" }`,
//! `at-most = { current = "360 A" }`, or both, in place of `expect` and `within`. A list is written as a
//! list: `ratio-each = ["1.397", "1.689", "1.370"]`.

use physics::units::{self, Dimension};

use crate::figures::{self, Answer, Found};

/// One number of a case, judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// Which case of the file, from 1.
    pub case: usize,
    /// Line of the file on which the case begins, from 1.
    pub line: usize,
    /// The figure.
    pub figure: String,
    /// Its inputs as the case gives them.
    pub given: Vec<(String, String)>,
    /// The output judged; with its place if it is a list: "ratio-each 2".
    pub output: String,
    /// What the figure says.
    pub ours: f64,
    /// What was published.
    pub theirs: f64,
    /// Unit of both.
    pub unit: String,
    /// Ours less theirs.
    pub difference: f64,
    /// How near it must be.
    pub rule: Rule,
    /// Whether it is.
    pub holds: bool,
    /// Where theirs is published.
    pub source: String,
    /// How well it is known: read, memory, common-practice or computed-with a library.
    pub standing: String,
    /// What the reader should know; empty if nothing.
    pub note: String,
}

/// How near ours must be to theirs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rule {
    /// Within this share of theirs.
    Share(f64),
    /// Within this, in the unit of the output.
    Amount(f64),
    /// The same but for rounding of the arithmetic.
    Exact,
    /// Not below.
    AtLeast,
    /// Not above.
    AtMost,
}

impl Rule {
    fn holds(self, ours: f64, theirs: f64) -> bool {
        // A bound that is met to the last printed digit is met.
        let rounding = 1e-9 * theirs.abs().max(1e-12);
        match self {
            Rule::Share(share) => (ours - theirs).abs() <= share * theirs.abs() + rounding,
            Rule::Amount(amount) => (ours - theirs).abs() <= amount + rounding,
            Rule::Exact => (ours - theirs).abs() <= rounding,
            Rule::AtLeast => theirs <= ours + rounding,
            Rule::AtMost => ours <= theirs + rounding,
        }
    }

    /// As a reader writes it, with the unit of the output.
    pub fn shown(self, unit: &str) -> String {
        match self {
            Rule::Share(share) => format!("within {} %", digits(share * 100.0)),
            Rule::Amount(amount) => {
                let unit = if unit == "degC" { "K" } else { unit };
                format!("within {} {unit}", digits(amount)).trim_end().to_owned()
            }
            Rule::Exact => "exact".to_owned(),
            Rule::AtLeast => "at least".to_owned(),
            Rule::AtMost => "at most".to_owned(),
        }
    }
}

/// Why a case cannot be judged.
#[derive(Clone, Debug, PartialEq)]
pub struct CaseError {
    /// Which case of the file, from 1; 0 if the file as a whole.
    pub case: usize,
    /// Line on which it begins, from 1; 0 if unknown.
    pub line: usize,
    /// What is wrong.
    pub message: String,
}

impl std::fmt::Display for CaseError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.case {
            0 => f.write_str(&self.message),
            case => write!(f, "case {case} (line {}): {}", self.line, self.message),
        }
    }
}

/// Runs every case of a file. Cases that cannot be judged come back all at once.
pub fn verify(text: &str) -> Result<Vec<Judged>, Vec<CaseError>> {
    let whole = |message: String| vec![CaseError { case: 0, line: 0, message }];
    let document: toml::Table =
        text.parse().map_err(|error: toml::de::Error| whole(error.to_string()))?;
    if let Some(stranger) = document.keys().find(|key| *key != "case") {
        return Err(whole(format!("`{stranger}` is not known here, only [[case]] is")));
    }
    let Some(toml::Value::Array(cases)) = document.get("case") else {
        return Err(whole("there is no [[case]] in the file".to_owned()));
    };
    let lines: Vec<usize> = text
        .lines()
        .enumerate()
        .filter(|(_, line)| {
            line.split('#').next().is_some_and(|code| {
                code.chars().filter(|c| !c.is_whitespace()).collect::<String>() == "[[case]]"
            })
        })
        .map(|(at, _)| at + 1)
        .collect();
    let (mut judged, mut errors) = (Vec::new(), Vec::new());
    for (at, case) in cases.iter().enumerate() {
        let place = Place { case: at + 1, line: lines.get(at).copied().unwrap_or(0) };
        match read(case).and_then(|case| judge(&case, place)) {
            Ok(mut found) => judged.append(&mut found),
            Err(messages) => errors.extend(messages.into_iter().map(|message| CaseError {
                case: place.case,
                line: place.line,
                message,
            })),
        }
    }
    if errors.is_empty() { Ok(judged) } else { Err(errors) }
}

#[derive(Clone, Copy)]
struct Place {
    case: usize,
    line: usize,
}

/// A case as written.
struct Case {
    figure: String,
    given: Vec<(String, String)>,
    /// Output, value as written, and how near.
    wanted: Vec<(String, toml::Value, Near)>,
    source: String,
    standing: String,
    note: String,
}

/// A rule before the unit of the output is known.
#[derive(Clone)]
enum Near {
    Share(f64),
    Amount(String),
    Exact,
    AtLeast,
    AtMost,
}

const KEYS: [&str; 9] = [
    "figure", "given", "expect", "within", "at-least", "at-most", "source", "standing", "note",
];

fn read(case: &toml::Value) -> Result<Case, Vec<String>> {
    let toml::Value::Table(case) = case else {
        return Err(vec!["a case is a table".to_owned()]);
    };
    let mut errors: Vec<String> = case
        .keys()
        .filter(|key| !KEYS.contains(&key.as_str()))
        .map(|key| format!("`{key}` is not known in a case"))
        .collect();
    let mut text = |key: &str, required: bool| match case.get(key) {
        Some(toml::Value::String(text)) if !text.trim().is_empty() => text.clone(),
        Some(_) => {
            errors.push(format!("`{key}` must be a text that is not empty"));
            String::new()
        }
        None => {
            if required {
                errors.push(format!("`{key}` is missing"));
            }
            String::new()
        }
    };
    let (figure, source) = (text("figure", true), text("source", true));
    let (standing, note) = (text("standing", true), text("note", false));
    if !standing.is_empty() && !is_standing(&standing) {
        errors.push(format!(
            "`{standing}` is no standing: write read, memory, common-practice or computed-with \
             and a library"
        ));
    }
    let given = match case.get("given") {
        None => Vec::new(),
        Some(toml::Value::Table(table)) => figures::texts(table),
        Some(_) => {
            errors.push("`given` must be a table".to_owned());
            Vec::new()
        }
    };
    let wanted = wanted(case, &mut errors);
    if errors.is_empty() {
        Ok(Case { figure, given, wanted, source, standing, note })
    } else {
        Err(errors)
    }
}

fn is_standing(standing: &str) -> bool {
    matches!(standing, "read" | "memory" | "common-practice")
        || standing
            .strip_prefix("computed-with ")
            .is_some_and(|library| !library.trim().is_empty())
}

/// Everything the case asks of the answer.
fn wanted(case: &toml::Table, errors: &mut Vec<String>) -> Vec<(String, toml::Value, Near)> {
    let mut wanted = Vec::new();
    for (key, near) in [("at-least", Near::AtLeast), ("at-most", Near::AtMost)] {
        match case.get(key) {
            None => {}
            Some(toml::Value::Table(table)) => {
                wanted.extend(table.iter().map(|(k, v)| (k.clone(), v.clone(), near.clone())));
            }
            Some(_) => errors.push(format!("`{key}` must be a table of outputs and bounds")),
        }
    }
    match case.get("expect") {
        None if case.get("within").is_some() => {
            errors.push("`within` needs `expect`".to_owned());
        }
        None => {}
        Some(toml::Value::Table(table)) => match near(case.get("within")) {
            Ok(near) => {
                wanted.extend(table.iter().map(|(k, v)| (k.clone(), v.clone(), near.clone())));
            }
            Err(message) => errors.push(message),
        },
        Some(_) => errors.push("`expect` must be a table of outputs and values".to_owned()),
    }
    if wanted.is_empty() && errors.is_empty() {
        errors.push("nothing is expected: write `expect`, `at-least` or `at-most`".to_owned());
    }
    wanted
}

fn near(within: Option<&toml::Value>) -> Result<Near, String> {
    let text = match within {
        None => return Ok(Near::Exact),
        Some(toml::Value::String(text)) => text.trim(),
        Some(_) => return Err("`within` must be a text: \"1 %\" or \"0.02 mm\"".to_owned()),
    };
    match text {
        "exact" => return Ok(Near::Exact),
        "at-least" => return Ok(Near::AtLeast),
        "at-most" => return Ok(Near::AtMost),
        _ => {}
    }
    let Some(number) = text.strip_suffix('%') else { return Ok(Near::Amount(text.to_owned())) };
    match number.trim().parse::<f64>() {
        Ok(percent) if (0.0..=1000.0).contains(&percent) => Ok(Near::Share(percent / 100.0)),
        _ => Err(format!("`{text}` is no tolerance in per cent")),
    }
}

fn judge(case: &Case, place: Place) -> Result<Vec<Judged>, Vec<String>> {
    let answer = figures::run(&case.figure, &case.given)
        .map_err(|errors| errors.iter().map(ToString::to_string).collect::<Vec<_>>())?;
    let (mut judged, mut errors) = (Vec::new(), Vec::new());
    for (output, value, near) in &case.wanted {
        let compared = result(&answer, output)
            .and_then(|found| Ok((found, compare(found, value, near)?)))
            .map_err(|message| format!("{output}: {message}"));
        let (found, numbers) = match compared {
            Ok(compared) => compared,
            Err(message) => {
                errors.push(message);
                continue;
            }
        };
        for (at, (ours, theirs, rule)) in numbers.into_iter().enumerate() {
            judged.push(Judged {
                case: place.case,
                line: place.line,
                figure: case.figure.clone(),
                given: case.given.clone(),
                output: if found.is_list {
                    format!("{output} {}", at + 1)
                } else {
                    output.clone()
                },
                ours,
                theirs,
                unit: found.unit.clone(),
                difference: ours - theirs,
                rule,
                holds: rule.holds(ours, theirs),
                source: case.source.clone(),
                standing: case.standing.clone(),
                note: case.note.clone(),
            });
        }
    }
    if errors.is_empty() { Ok(judged) } else { Err(errors) }
}

fn result<'a>(answer: &'a Answer, output: &str) -> Result<&'a Found, String> {
    answer.result(output).ok_or_else(|| {
        let names: Vec<&str> = answer.results.iter().map(|found| found.name).collect();
        format!("the figure gives no such output here, only {}", names.join(", "))
    })
}

fn compare(
    found: &Found,
    value: &toml::Value,
    near: &Near,
) -> Result<Vec<(f64, f64, Rule)>, String> {
    let theirs: Vec<&toml::Value> = match value {
        toml::Value::Array(list) => list.iter().collect(),
        one => vec![one],
    };
    if theirs.len() != found.values.len() {
        return Err(format!(
            "{} values are expected, the figure gives {}",
            theirs.len(),
            found.values.len()
        ));
    }
    let rule = match near {
        Near::Share(share) => Rule::Share(*share),
        Near::Amount(text) => Rule::Amount(amount(text, &found.unit)?),
        Near::Exact => Rule::Exact,
        Near::AtLeast => Rule::AtLeast,
        Near::AtMost => Rule::AtMost,
    };
    let mut numbers = Vec::new();
    for (ours, theirs) in found.values.iter().zip(theirs) {
        numbers.push((*ours, expected(theirs, &found.unit)?, rule));
    }
    Ok(numbers)
}

/// A published value in the unit of the output.
fn expected(value: &toml::Value, unit: &str) -> Result<f64, String> {
    match value {
        toml::Value::String(text) => number_in(text, unit),
        toml::Value::Integer(number) if unit.is_empty() => Ok(*number as f64),
        toml::Value::Float(number) if unit.is_empty() && number.is_finite() => Ok(*number),
        toml::Value::Integer(_) | toml::Value::Float(_) => {
            Err(format!("a value in {unit} is due, as text: \"12 {unit}\""))
        }
        _ => Err("a text or a plain number is due".to_owned()),
    }
}

/// A text as a number in a unit; a unit that no dimension knows must be written as the output writes it.
fn number_in(text: &str, unit: &str) -> Result<f64, String> {
    let text = text.trim();
    let Some((dimension, factor, offset)) = dimension(unit) else {
        let bare = text.strip_suffix(unit).unwrap_or(text).trim();
        return bare
            .parse()
            .ok()
            .filter(|number: &f64| number.is_finite())
            .ok_or_else(|| format!("`{text}` is not a number in {unit}"));
    };
    let kept = units::parse(text, dimension).map_err(|error| error.message(dimension))?;
    Ok((kept - offset) / factor)
}

/// An absolute tolerance in a unit: that of a temperature is a difference.
fn amount(text: &str, unit: &str) -> Result<f64, String> {
    let amount = match dimension(unit) {
        Some((Dimension::Temperature, factor, _)) => {
            let kelvin = units::parse(text, Dimension::Rise)
                .or_else(|_| units::parse(text, Dimension::Temperature))
                .map_err(|error| error.message(Dimension::Rise))?;
            kelvin / factor
        }
        _ => number_in(text, unit)?,
    };
    if amount < 0.0 { Err(format!("the tolerance `{text}` is negative")) } else { Ok(amount) }
}

/// The dimension of a printed unit, with the unit's own factor and offset.
fn dimension(unit: &str) -> Option<(Dimension, f64, f64)> {
    Dimension::ALL.into_iter().find_map(|dimension| {
        let found = dimension.units().iter().find(|u| u.names.contains(&unit))?;
        Some((dimension, found.factor, found.offset))
    })
}

/// A topic for the report: its name and its cases.
#[derive(Clone, Debug, PartialEq)]
pub struct Topic {
    /// The case file without its ending.
    pub name: String,
    /// What [`verify`] gave.
    pub judged: Vec<Judged>,
}

/// The report of a run: ours, theirs, difference, source and standing, topic by topic.
pub fn markdown(topics: &[Topic]) -> String {
    let mut page = String::from(
        "# Validation\n\nEvery number below is run by the test suite from `validation/*.toml`.\n\
         *Ours* is what the program says, *theirs* what was published.\n\
         Standing: *read* in the source named; *computed-with* an independent library; *memory*, \
         published but not looked up again; *common-practice*, a fact of the trade without a source.\n\n",
    );
    page.push_str(
        "| topic | numbers | hold | read | computed-with | memory | common-practice |\n",
    );
    page.push_str("|---|---|---|---|---|---|---|\n");
    for topic in topics {
        let count =
            |start: &str| topic.judged.iter().filter(|j| j.standing.starts_with(start)).count();
        page.push_str(&format!(
            "| [{0}](#{0}) | {1} | {2} | {3} | {4} | {5} | {6} |\n",
            topic.name,
            topic.judged.len(),
            topic.judged.iter().filter(|j| j.holds).count(),
            count("read"),
            count("computed-with"),
            count("memory"),
            count("common-practice"),
        ));
    }
    for topic in topics {
        page.push_str(&format!("\n## {}\n\n", topic.name));
        page.push_str("| figure | given | output | ours | theirs | difference | allowed | source | standing |\n");
        page.push_str("|---|---|---|---|---|---|---|---|---|\n");
        for judged in &topic.judged {
            page.push_str(&row(judged));
        }
    }
    page
}

fn row(judged: &Judged) -> String {
    let given: Vec<String> =
        judged.given.iter().map(|(name, value)| format!("{name} {value}")).collect();
    let source = match judged.note.as_str() {
        "" => judged.source.clone(),
        note => format!("{} ({note})", judged.source),
    };
    let cells = [
        judged.figure.clone(),
        given.join(", "),
        judged.output.clone(),
        format!("{} {}", digits(judged.ours), judged.unit).trim_end().to_owned(),
        format!("{} {}", digits(judged.theirs), judged.unit).trim_end().to_owned(),
        judged.difference_shown(),
        if judged.holds {
            judged.rule.shown(&judged.unit)
        } else {
            format!("**fails**: {}", judged.rule.shown(&judged.unit))
        },
        source,
        judged.standing.clone(),
    ];
    let cells: Vec<String> =
        cells.iter().map(|cell| cell.replace('|', "\\|").replace('\n', " ")).collect();
    format!("| {} |\n", cells.join(" | "))
}

impl Judged {
    /// The difference as a reader wants it: in per cent, or in kelvin for temperatures.
    pub fn difference_shown(&self) -> String {
        if self.unit == "degC" {
            return format!("{} K", signed(self.difference, 3));
        }
        if self.theirs == 0.0 {
            return format!("{} {}", signed(self.difference, 3), self.unit)
                .trim_end()
                .to_owned();
        }
        format!("{} %", signed(100.0 * self.difference / self.theirs.abs(), 2))
    }
}

fn signed(value: f64, decimals: usize) -> String {
    let text = units::number(value, decimals);
    let is_zero = text.chars().all(|c| c == '0' || c == '.');
    if 0.0 < value && !is_zero { format!("+{text}") } else { text }
}

/// Six significant digits, without zeros at the end.
pub fn digits(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let magnitude = libm::floor(libm::log10(value.abs())) as i32;
    if !(-5..12).contains(&magnitude) {
        return format!("{value:.5e}");
    }
    let decimals = (5 - magnitude).clamp(0, 12) as usize;
    let text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn case(lines: &str) -> String {
        format!(
            "[[case]]\nfigure = \"convert\"\ngiven = {{ value = \"80 lbf in\", to = \"N m\" }}\n\
             source = \"definition\"\nstanding = \"read\"\n{lines}\n"
        )
    }

    #[test]
    fn relative_absolute_and_one_sided() {
        for (lines, holds) in [
            ("expect = { value = \"9.04 N m\" }\nwithin = \"0.1 %\"", true),
            ("expect = { value = \"9.1 N m\" }\nwithin = \"0.1 %\"", false),
            ("expect = { value = \"9.04 N m\" }\nwithin = \"0.002 N m\"", true),
            ("expect = { value = \"9.05 N m\" }\nwithin = \"0.002 N m\"", false),
            ("expect = { value = \"9.04 N m\" }", false),
            ("expect = { value = \"80 lbf in\" }", true),
            ("at-least = { value = \"9 N m\" }", true),
            ("at-most = { value = \"9 N m\" }", false),
        ] {
            let judged = verify(&case(lines)).unwrap();
            assert_eq!(judged.len(), 1);
            assert_eq!(judged[0].holds, holds, "{lines}");
        }
        let both = case("at-least = { value = \"9 N m\" }\nat-most = { value = \"9.1 N m\" }");
        assert_eq!(verify(&both).unwrap().len(), 2);
    }

    #[test]
    fn temperatures_have_tolerances_in_kelvin() {
        let text = "[[case]]\nfigure = \"convert\"\ngiven = { value = \"113 degF\", to = \"degC\" }\n\
                    expect = { value = \"45.2 degC\" }\nwithin = \"0.3 K\"\n\
                    source = \"x\"\nstanding = \"memory\"\n";
        assert!(verify(text).unwrap()[0].holds);
        assert!(!verify(&text.replace("0.3 K", "0.1 K")).unwrap()[0].holds);
    }

    #[test]
    fn mistakes_come_all_at_once_with_their_line() {
        let text = format!(
            "{}{}",
            case("expect = { value = \"9.04 mm\" }\nwithin = \"1 %\""),
            "[[case]]\nfigure = \"convert\"\nstanding = \"hearsay\"\ncolour = 1\n"
        );
        let errors = verify(&text).unwrap_err();
        let shown: Vec<String> = errors.iter().map(ToString::to_string).collect();
        assert!(
            shown[0].starts_with("case 1 (line 1): value: `mm` is the unit of"),
            "{shown:?}"
        );
        assert!(shown.iter().any(|s| s.contains("case 2 (line 8): `source` is missing")));
        assert!(shown.iter().any(|s| s.contains("`hearsay` is no standing")));
        assert!(shown.iter().any(|s| s.contains("`colour` is not known")));
        assert!(verify("case = 1").is_err() && verify("= 1").is_err() && verify("").is_err());
    }

    #[test]
    fn an_output_that_is_not_there_is_an_error() {
        let errors =
            verify(&case("expect = { torque = \"9 N m\" }\nwithin = \"1 %\"")).unwrap_err();
        assert!(errors[0].message.contains("no such output"), "{}", errors[0]);
    }

    #[test]
    fn the_report_shows_what_fails() {
        let judged =
            verify(&case("expect = { value = \"9.1 N m\" }\nwithin = \"0.1 %\"")).unwrap();
        let page = markdown(&[Topic { name: "units".to_owned(), judged }]);
        assert!(page.contains("**fails**") && page.contains("-0.67 %"), "{page}");
        assert!(page.contains("| [units](#units) | 1 | 0 | 1 | 0 | 0 | 0 |"), "{page}");
    }

    #[test]
    fn numbers_keep_six_digits() {
        assert_eq!(digits(9.038_786_322), "9.03879");
        assert_eq!(digits(365.43), "365.43");
        assert_eq!(digits(0.000_683_37), "0.00068337");
        assert_eq!(digits(1_234_567.0), "1234567");
        assert_eq!(digits(-2.5), "-2.5");
    }
}
