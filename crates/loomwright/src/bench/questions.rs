//! The first questions of a new build, and the document their answers make.
//!
//! What comes out is what a person would have written: only what was answered, in the order of the trade, with
//! a remark where something is worth measuring next.

use std::collections::BTreeMap;

use physics::units::{Dimension, parse};

use super::refusal::Refusal;
use crate::wire::{
    ChoiceWire, DraftWire, FigureErrorWire, OnlyIfWire, QuestionKindWire, QuestionWire,
};

/// What kind of answer is due.
#[derive(Clone, Copy)]
enum Kind {
    Choice(&'static [(&'static str, &'static str)]),
    Words,
    Quantity(Dimension),
    /// Several quantities with commas between.
    Quantities(Dimension),
    Number,
}

/// One question.
pub(crate) struct Question {
    id: &'static str,
    ask: &'static str,
    why: &'static str,
    kind: Kind,
    example: &'static str,
    needed: bool,
    only_if: Option<(&'static str, &'static [&'static str])>,
}

const fn question(
    id: &'static str,
    ask: &'static str,
    why: &'static str,
    kind: Kind,
    example: &'static str,
) -> Question {
    Question { id, ask, why, kind, example, needed: false, only_if: None }
}

impl Question {
    const fn needed(mut self) -> Question {
        self.needed = true;
        self
    }

    const fn only_if(mut self, other: &'static str, is: &'static [&'static str]) -> Question {
        self.only_if = Some((other, is));
        self
    }
}

const UNITS: Kind = Kind::Choice(&[("metric", "mm, N m, degC"), ("us", "inch, lbf in, degF")]);
const RUNS: Kind = Kind::Choice(&[
    ("phases", "three phase cables, inverter to motor"),
    ("both", "the phase cables, and the DC pair from the battery to the inverter"),
]);
const PATH: Kind = Kind::Choice(&[
    ("length", "the length of the path, with a rope or tape from sealing face to sealing face"),
    ("legs", "straight legs between corners, with a tape and an angle"),
    ("unknown", "nothing yet"),
]);
const LOAD: Kind = Kind::Choice(&[
    ("current", "the currents: from the inverter's sheet or a log"),
    ("vehicle", "the vehicle and how it is driven; the currents follow"),
    ("unknown", "nothing yet"),
]);
const LANDING: Kind =
    Kind::Choice(&[("stud", "a stud and a nut"), ("tapped", "a bolt into a thread")]);
const THREAD: Kind = Kind::Choice(&[("M6", "M6"), ("M8", "M8"), ("M10", "M10")]);
const CYCLE: Kind = Kind::Choice(&[
    ("wltc-3b", "WLTC, class 3b"),
    ("wltc-3a", "WLTC, class 3a"),
    ("wltc-2", "WLTC, class 2"),
    ("udds", "UDDS, city"),
    ("hwfet", "HWFET, highway"),
    ("us06", "US06, hard driving"),
]);

/// All questions in the order in which they are asked.
pub(crate) const ALL: &[Question] = &[
    question(
        "title",
        "What is the job called?",
        "It heads every page.",
        Kind::Words,
        "Phase cables for a small van",
    )
    .needed(),
    question(
        "made-by",
        "Who makes it?",
        "It stands on the cover.",
        Kind::Words,
        "The workshop",
    ),
    question("units", "Which units come first?", "Both are always shown.", UNITS, "metric")
        .needed(),
    question(
        "runs",
        "Which cables are wanted?",
        "It settles which devices and ports the document has.",
        RUNS,
        "phases",
    )
    .needed(),
    question(
        "voltage",
        "What is the DC voltage?",
        "It settles clearances and insulation.",
        Kind::Quantity(Dimension::Voltage),
        "350 V",
    )
    .needed(),
    question(
        "voltage-max",
        "How high does it rise, fully charged?",
        "Insulation is chosen for it.",
        Kind::Quantity(Dimension::Voltage),
        "400 V",
    ),
    question(
        "air",
        "How hot does the air get where the cables lie?",
        "It settles what they carry.",
        Kind::Quantity(Dimension::Temperature),
        "60 degC",
    ),
    question(
        "landing",
        "How do the cables land on the terminals?",
        "It settles bolt, nut and torque.",
        LANDING,
        "stud",
    )
    .needed(),
    question("thread", "Of which thread?", "The lug's hole follows from it.", THREAD, "M8")
        .needed(),
    question(
        "path",
        "What is known of the way of the phase cables?",
        "It settles cut length, drop and cost.",
        PATH,
        "length",
    )
    .needed(),
    question(
        "length",
        "How long is it?",
        "Sealing face to sealing face.",
        Kind::Quantity(Dimension::Length),
        "1.42 m",
    )
    .needed()
    .only_if("path", &["length"]),
    question(
        "legs",
        "How long is each straight leg, corner to corner?",
        "Their sum, less what the bends save, is the path.",
        Kind::Quantities(Dimension::Length),
        "420 mm, 900 mm, 310 mm",
    )
    .needed()
    .only_if("path", &["legs"]),
    question(
        "corners",
        "What angle does it turn at each corner?",
        "One fewer than there are legs.",
        Kind::Quantities(Dimension::Angle),
        "90 deg, 45 deg",
    )
    .needed()
    .only_if("path", &["legs"]),
    question(
        "bend-radius",
        "How tight is the tightest bend, to the cable's middle?",
        "A stiff cable follows no tighter bend.",
        Kind::Quantity(Dimension::Length),
        "120 mm",
    ),
    question(
        "dc-length",
        "How long is the way of the DC pair?",
        "Sealing face to sealing face.",
        Kind::Quantity(Dimension::Length),
        "3.1 m",
    )
    .only_if("runs", &["both"]),
    question(
        "load",
        "What is known of the load?",
        "It settles the size of the cables.",
        LOAD,
        "current",
    )
    .needed(),
    question(
        "current",
        "Which current flows for ever, in one phase?",
        "The cable is sized for it.",
        Kind::Quantity(Dimension::Current),
        "180 A",
    )
    .needed()
    .only_if("load", &["current"]),
    question(
        "peak",
        "And at most?",
        "It must not overheat the cable while it lasts.",
        Kind::Quantity(Dimension::Current),
        "400 A",
    )
    .only_if("load", &["current"]),
    question(
        "peak-time",
        "For how long?",
        "It belongs to the peak.",
        Kind::Quantity(Dimension::Time),
        "30 s",
    )
    .only_if("load", &["current"]),
    question(
        "frequency",
        "How high does the motor's frequency get at that current?",
        "Thick conductors lose more at high frequency.",
        Kind::Quantity(Dimension::Frequency),
        "500 Hz",
    )
    .only_if("load", &["current"]),
    question(
        "dc-current",
        "Which current flows for ever in the DC pair?",
        "The pair and its fuse are sized for it.",
        Kind::Quantity(Dimension::Current),
        "200 A",
    )
    .only_if("runs", &["both"]),
    question(
        "mass",
        "What does the vehicle weigh as driven?",
        "It settles force and current.",
        Kind::Quantity(Dimension::Mass),
        "1450 kg",
    )
    .needed()
    .only_if("load", &["vehicle"]),
    question(
        "drag-area",
        "Drag coefficient times frontal area?",
        "It settles the current at speed.",
        Kind::Quantity(Dimension::Area),
        "0.75 m2",
    )
    .needed()
    .only_if("load", &["vehicle"]),
    question(
        "rolling",
        "Rolling resistance over weight?",
        "About 1.1 % for road tyres.",
        Kind::Quantity(Dimension::Ratio),
        "1.1 %",
    )
    .needed()
    .only_if("load", &["vehicle"]),
    question(
        "wheel-radius",
        "Rolling radius of the driven wheels?",
        "It turns force into torque.",
        Kind::Quantity(Dimension::Length),
        "310 mm",
    )
    .needed()
    .only_if("load", &["vehicle"]),
    question(
        "gear",
        "How often does the motor turn for one turn of the wheel?",
        "The same.",
        Kind::Number,
        "8.5",
    )
    .needed()
    .only_if("load", &["vehicle"]),
    question(
        "torque-max",
        "The motor's greatest torque?",
        "From its nameplate.",
        Kind::Quantity(Dimension::Torque),
        "220 N m",
    )
    .needed()
    .only_if("load", &["vehicle"]),
    question(
        "power-max",
        "Its greatest power?",
        "From its nameplate.",
        Kind::Quantity(Dimension::Power),
        "80 kW",
    )
    .needed()
    .only_if("load", &["vehicle"]),
    question(
        "current-max",
        "The phase current that motor and inverter allow, rms?",
        "The greatest that can flow.",
        Kind::Quantity(Dimension::Current),
        "280 A",
    )
    .needed()
    .only_if("load", &["vehicle"]),
    question(
        "speed-max",
        "The motor's greatest speed?",
        "With the pole pairs it gives the frequency.",
        Kind::Quantity(Dimension::Rotation),
        "12000 rev/min",
    )
    .needed()
    .only_if("load", &["vehicle"]),
    question("pole-pairs", "Its pairs of poles?", "The same.", Kind::Number, "4")
        .needed()
        .only_if("load", &["vehicle"]),
    question(
        "cycle",
        "How is it driven, day by day?",
        "The drive is repeated until all is warm.",
        CYCLE,
        "wltc-3b",
    )
    .needed()
    .only_if("load", &["vehicle"]),
];

/// A question for the pages.
pub(crate) fn wire(question: &Question) -> QuestionWire {
    let choices = match question.kind {
        Kind::Choice(words) => {
            words.iter().map(|(word, means)| ChoiceWire { word, means }).collect()
        }
        _ => Vec::new(),
    };
    QuestionWire {
        id: question.id,
        ask: question.ask,
        why: question.why,
        kind: match question.kind {
            Kind::Choice(_) => QuestionKindWire::Choice,
            Kind::Words => QuestionKindWire::Words,
            Kind::Quantity(_) | Kind::Quantities(_) | Kind::Number => {
                QuestionKindWire::Quantity
            }
        },
        choices,
        example: question.example,
        needed: question.needed,
        only_if: question
            .only_if
            .map(|(question, is)| OnlyIfWire { question, is: is.to_vec() }),
    }
}

type Answers = BTreeMap<String, String>;

/// An answer that is asked for and not blank.
fn answer<'a>(answers: &'a Answers, id: &str) -> Option<&'a str> {
    let question = ALL.iter().find(|q| q.id == id)?;
    if let Some((other, is)) = question.only_if
        && !answer(answers, other).is_some_and(|a| is.contains(&a))
    {
        return None;
    }
    answers.get(id).map(|a| a.trim()).filter(|a| !a.is_empty())
}

/// The document so far, what is still asked, and what cannot be read.
pub(crate) fn draft(answers: &Answers) -> DraftWire {
    let mut open = Vec::new();
    let mut errors = Vec::new();
    for question in ALL {
        let asked = question
            .only_if
            .is_none_or(|(other, is)| answer(answers, other).is_some_and(|a| is.contains(&a)));
        match answer(answers, question.id) {
            None if asked && question.needed => open.push(question.id),
            None => {}
            Some(given) => {
                if let Err(message) = readable(question.kind, given) {
                    errors.push(FigureErrorWire { input: question.id.to_owned(), message });
                }
            }
        }
    }
    for id in answers.keys().filter(|id| !ALL.iter().any(|q| q.id == *id)) {
        let id: String = id.chars().take(40).collect();
        errors.push(FigureErrorWire { message: format!("`{id}` is not asked"), input: id });
    }
    DraftWire { text: text(answers), open, errors }
}

/// The document of complete answers.
///
/// # Errors
/// What is missing or cannot be read.
pub(crate) fn document(answers: &Answers) -> Result<String, Refusal> {
    let draft = draft(answers);
    if let Some(error) = draft.errors.first() {
        return Err(Refusal::bad(format!("{}: {}", error.input, error.message)));
    }
    if !draft.open.is_empty() {
        return Err(Refusal::bad(format!("not answered yet: {}", draft.open.join(", "))));
    }
    Ok(draft.text)
}

fn readable(kind: Kind, given: &str) -> Result<(), String> {
    let quantity = |text: &str, dimension: Dimension| {
        parse(text.trim(), dimension).map(drop).map_err(|error| error.message(dimension))
    };
    match kind {
        Kind::Words if given.contains(['"', '\\']) || given.chars().any(char::is_control) => {
            Err("quotation marks and backslashes cannot stand here".to_owned())
        }
        Kind::Words => Ok(()),
        Kind::Choice(words) if words.iter().any(|(word, _)| *word == given) => Ok(()),
        Kind::Choice(words) => {
            let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            Err(format!("this is one of {}", words.join(", ")))
        }
        Kind::Quantity(dimension) => quantity(given, dimension),
        Kind::Quantities(dimension) => {
            given.split(',').try_for_each(|text| quantity(text, dimension))
        }
        Kind::Number => match given.parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(()),
            _ => Err("this is a plain number".to_owned()),
        },
    }
}

/// Lines of a document as they are written.
struct Lines<'a> {
    answers: &'a Answers,
    text: String,
}

impl Lines<'_> {
    fn table(&mut self, header: &str) {
        self.text.push_str(&format!("\n[{header}]\n"));
    }

    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// A key with an answer in quotes; one that was not given is left out.
    fn quoted(&mut self, key: &str, id: &str) {
        if let Some(given) = answer(self.answers, id) {
            // What cannot be read is refused before anything is written; here it only must not break the text.
            let given: String =
                given.chars().filter(|c| *c != '"' && *c != '\\' && !c.is_control()).collect();
            self.line(&format!("{key} = \"{given}\""));
        }
    }

    fn plain(&mut self, key: &str, id: &str) {
        if let Some(number) = answer(self.answers, id).and_then(|a| a.parse::<f64>().ok()) {
            self.line(&format!("{key} = {number}"));
        }
    }

    fn listed(&mut self, key: &str, id: &str) {
        if let Some(given) = answer(self.answers, id) {
            let items: Vec<String> = given
                .split(',')
                .map(|item| format!("\"{}\"", item.trim().replace(['"', '\\'], "")))
                .collect();
            self.line(&format!("{key} = [{}]", items.join(", ")));
        }
    }

    fn port(&mut self, port: &str, terminals: &str) {
        self.table(&format!("device.{port}"));
        self.line(&format!("terminals = [{terminals}]"));
        self.quoted("landing", "landing");
        self.quoted("thread", "thread");
    }
}

fn text(answers: &Answers) -> String {
    let mut lines = Lines { answers, text: String::new() };
    let both = answer(answers, "runs") == Some("both");
    let driven = answer(answers, "load") == Some("vehicle");
    lines.line("# Begun with the bench's questions; the findings say what to measure next.");
    lines.quoted("title", "title");
    lines.quoted("made-by", "made-by");
    lines.quoted("units", "units");
    lines.table("system");
    lines.quoted("voltage", "voltage");
    lines.quoted("voltage-max", "voltage-max");
    if answer(answers, "air").is_some() {
        lines.table("surroundings");
        lines.quoted("air", "air");
    }
    if driven {
        vehicle(&mut lines);
    }
    devices(&mut lines, both);
    runs(&mut lines, both);
    lines.text
}

fn vehicle(lines: &mut Lines<'_>) {
    lines.table("vehicle");
    lines.quoted("mass", "mass");
    lines.quoted("drag-area", "drag-area");
    lines.quoted("rolling", "rolling");
    lines.quoted("wheel-radius", "wheel-radius");
    lines.plain("gear", "gear");
    lines.table("motor");
    lines.line("kind = \"nameplate\"");
    lines.plain("pole-pairs", "pole-pairs");
    lines.quoted("torque-max", "torque-max");
    lines.quoted("power-max", "power-max");
    lines.quoted("current-max", "current-max");
    lines.quoted("speed-max", "speed-max");
    lines.table("battery");
    lines.quoted("voltage", "voltage");
    lines.table("duty");
    lines.quoted("cycle", "cycle");
}

fn devices(lines: &mut Lines<'_>, both: bool) {
    for (device, ports) in [("inverter", ["phases", "dc"]), ("motor", ["phases", ""])] {
        lines.table(&format!("device.{device}"));
        lines.line(&format!("kind = \"{device}\""));
        lines.port(&format!("{device}.port.{}", ports[0]), "\"U\", \"V\", \"W\"");
        if both && !ports[1].is_empty() {
            lines.port(&format!("{device}.port.{}", ports[1]), "\"+\", \"-\"");
        }
    }
    if both {
        lines.table("device.battery");
        lines.line("kind = \"battery\"");
        lines.port("battery.port.main", "\"+\", \"-\"");
    }
}

fn runs(lines: &mut Lines<'_>, both: bool) {
    lines.table("run.phases");
    lines.line("from = \"inverter.phases\"\nto = \"motor.phases\"\ncarries = \"phases\"");
    lines.quoted("length", "length");
    lines.listed("legs", "legs");
    lines.listed("corners", "corners");
    lines.quoted("bend-radius", "bend-radius");
    lines.quoted("current", "current");
    lines.quoted("peak", "peak");
    lines.quoted("peak-time", "peak-time");
    lines.quoted("frequency", "frequency");
    lines.quoted("air", "air");
    if both {
        lines.table("run.dc");
        lines.line("from = \"battery.main\"\nto = \"inverter.dc\"\ncarries = \"dc\"");
        lines.quoted("length", "dc-length");
        if answer(lines.answers, "load") != Some("vehicle") {
            lines.quoted("current", "dc-current");
        }
        lines.quoted("air", "air");
        lines.table("protection");
        lines.line("run = \"dc\"");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use plan::given::document::read;

    fn answers(of: &[(&str, &str)]) -> Answers {
        let examples = ALL.iter().map(|q| (q.id.to_owned(), q.example.to_owned()));
        examples.chain(of.iter().map(|(q, a)| ((*q).to_owned(), (*a).to_owned()))).collect()
    }

    #[test]
    fn every_way_through_gives_a_document_without_an_error() {
        for runs in ["phases", "both"] {
            for path in ["length", "legs", "unknown"] {
                for load in ["current", "vehicle", "unknown"] {
                    let given = answers(&[("runs", runs), ("path", path), ("load", load)]);
                    let text = document(&given).unwrap();
                    let errors = read(&text).errors;
                    assert!(errors.is_empty(), "{runs} {path} {load}: {errors:?}\n{text}");
                    assert!(toml::from_str::<toml::Table>(&text).is_ok());
                }
            }
        }
    }

    #[test]
    fn what_was_answered_is_in_the_document_and_nothing_else() {
        let given = answers(&[("load", "current"), ("path", "length"), ("peak", "")]);
        let text = document(&given).unwrap();
        assert!(text.contains("length = \"1.42 m\"") && !text.contains("legs"), "{text}");
        assert!(!text.contains("peak = ") && !text.contains("[vehicle]"), "{text}");
    }

    #[test]
    fn what_cannot_be_read_or_is_missing_is_said() {
        let draft =
            super::draft(&answers(&[("voltage", "350"), ("title", ""), ("path", "guess")]));
        assert_eq!(draft.open, ["title"]);
        assert_eq!(draft.errors.len(), 2);
        assert!(
            draft.errors[0].message.contains("needs a unit"),
            "{}",
            draft.errors[0].message
        );
        assert!(document(&answers(&[("title", "a \" b")])).is_err());
        assert!(document(&answers(&[("nonsense", "1")])).is_err());
        assert!(document(&Answers::new()).unwrap_err().error.contains("title"));
    }
}
