//! Logged drives: CSV, ASAM MDF4 and candump, reduced to the few series that a duty needs.
//!
//! A file is read once from front to back and never held: samples go into bins of a tenth of a second, which widen
//! where a log is long. So memory is bounded whatever the size of the file. Currents are kept as rms over a bin,
//! because that is what heats.

mod bins;
mod csv;
mod dbc;
mod candump;
mod mdf4;

use std::fs::File;
use std::io::{BufReader, Read, Seek, SeekFrom};
use std::path::Path;

use anyhow::{Context, Result};
use physics::units::{Dimension, parse};
#[cfg(test)]
use plan::given::build::Logged;
use plan::given::build::{At, DutyGiven};
use plan::given::keys::LOGGED;
use plan::given::read::{DocumentError, Reader};

use self::bins::Bins;
use crate::{disk, terminal};

/// What one wanted series is called in the file, and what the file says about it.
struct Wanted {
    /// Place in [`LOGGED`].
    quantity: usize,
    /// Column or signal.
    name: At<String>,
    /// The unit the duty states, or else the one the file tells.
    unit: Option<String>,
    /// Whether the file has it.
    found: bool,
}

/// What is wrong with a file as a whole, or with one series of it.
struct Trouble {
    /// Which of the wanted series.
    wanted: Option<usize>,
    message: String,
    hint: Option<String>,
}

impl Trouble {
    fn whole(message: impl Into<String>) -> Trouble {
        Trouble { wanted: None, message: message.into(), hint: None }
    }
}

impl From<std::io::Error> for Trouble {
    fn from(error: std::io::Error) -> Trouble {
        Trouble::whole(format!("it cannot be read: {error}"))
    }
}

/// Reads the log a duty names and puts it in; mistakes come back with their places in the document.
pub(crate) fn attach(
    document: &Path,
    text: &str,
    duty: &mut DutyGiven,
) -> Result<Vec<DocumentError>> {
    let Some(file) = duty.file.clone() else { return Ok(Vec::new()) };
    let mut wanted: Vec<Wanted> = duty
        .columns
        .iter()
        .filter_map(|(what, name)| {
            let quantity = LOGGED.iter().position(|(known, _)| *known == what.value)?;
            let stated = duty.units.iter().find(|(of, _)| of.value == what.value);
            let unit = stated.map(|(_, unit)| unit.value.clone());
            Some(Wanted { quantity, name: name.clone(), unit, found: false })
        })
        .collect();
    let path = disk::beside_document(document, &file.value)?;
    let shown = path.display().to_string();
    let mut open = File::open(&path).with_context(|| format!("{shown}: cannot be opened"))?;
    let dbc = match &duty.dbc {
        Some(dbc) => Some(disk::read(&disk::beside_document(document, &dbc.value)?)?.text),
        None => None,
    };
    let mut bins = Bins::new(LOGGED.len(), duty.gap_s.as_ref().map_or(GAP_S, |g| g.value));
    let read = terminal::while_waiting("reading the log", || {
        sorted_by_kind(&mut open, dbc.as_deref(), &mut wanted, &mut bins)
    });
    let mut troubles = Vec::new();
    match read {
        Ok(()) => {}
        Err(trouble) => troubles.push(trouble),
    }
    let factors = factors(duty, &wanted, &mut troubles);
    if troubles.is_empty() {
        match bins.logged(&factors) {
            Ok(logged) => duty.log = Some(logged),
            Err(message) => troubles.push(Trouble::whole(message)),
        }
    }
    let reader = Reader::new(text);
    Ok(troubles
        .into_iter()
        .map(|trouble| {
            let at = trouble.wanted.map_or(file.at, |w| wanted[w].name.at);
            DocumentError {
                at,
                span: reader.span(at),
                message: format!("{}: {}", file.value, trouble.message),
                hint: trouble.hint,
            }
        })
        .collect())
}

/// Pauses longer than this are gaps, unless the duty says otherwise.
const GAP_S: f64 = 5.0;

fn sorted_by_kind(
    file: &mut File,
    dbc: Option<&str>,
    wanted: &mut [Wanted],
    bins: &mut Bins,
) -> Result<(), Trouble> {
    let mut start = Vec::new();
    Read::by_ref(file).take(256).read_to_end(&mut start)?;
    file.seek(SeekFrom::Start(0))?;
    if start.starts_with(b"MDF     ") || start.starts_with(b"UnFinMF ") {
        return mdf4::read(&mut BufReader::new(file), wanted, bins);
    }
    let first = start.iter().copied().find(|b| !b.is_ascii_whitespace());
    if first == Some(b'(') {
        let Some(dbc) = dbc else {
            return Err(Trouble {
                wanted: None,
                message: "it is a candump, and nothing says what its frames mean".to_owned(),
                hint: Some("name the DBC file: dbc = \"drive.dbc\"".to_owned()),
            });
        };
        return candump::read(BufReader::new(file), &dbc::read(dbc)?, wanted, bins);
    }
    csv::read(BufReader::new(file), wanted, bins)
}

/// What turns a logged number into the kept unit: of each of [`LOGGED`], one where it is not wanted.
fn factors(duty: &DutyGiven, wanted: &[Wanted], troubles: &mut Vec<Trouble>) -> Vec<f64> {
    let mut factors = vec![1.0; LOGGED.len()];
    for (index, one) in wanted.iter().enumerate() {
        let (what, dimension) = LOGGED[one.quantity];
        if !one.found {
            // Whoever looked for it has said so.
            continue;
        }
        let Some(unit) = &one.unit else {
            troubles.push(Trouble {
                wanted: Some(index),
                message: format!("it does not say in which unit `{}` is", one.name.value),
                hint: Some(format!(
                    "state it: units = {{ {what} = \"{}\" }}",
                    dimension.kept()
                )),
            });
            continue;
        };
        match factor(unit, dimension) {
            Ok(found) => factors[one.quantity] = found,
            Err(message) => troubles.push(Trouble {
                wanted: Some(index),
                message: format!("`{}`: {message}", one.name.value),
                hint: Some(format!("state the true unit: units = {{ {what} = \"...\" }}")),
            }),
        }
        let inverted = duty.inverted.iter().flat_map(|list| &list.value);
        if inverted.into_iter().any(|name| name.value == what) {
            factors[one.quantity] = -factors[one.quantity];
        }
    }
    factors
}

/// Kept units in one of the unit; a current may be told by its crest.
fn factor(unit: &str, dimension: Dimension) -> Result<f64, String> {
    if dimension == Dimension::Current
        && let Some(rest) = ["peak", "pk"].iter().find_map(|end| unit.trim().strip_suffix(end))
    {
        return Ok(factor(rest.trim(), dimension)? / 2f64.sqrt());
    }
    let unit = unit.trim().trim_end_matches("rms").trim();
    parse(&format!("1 {unit}"), dimension).map_err(|error| error.message(dimension))
}

impl Wanted {
    /// The file has it, and may tell its unit.
    fn found(&mut self, unit: Option<String>) {
        self.found = true;
        self.unit = self.unit.take().or(unit.filter(|u| !u.trim().is_empty()));
    }
}

/// The series that no name in the file fits: said with what the file has.
fn absent<'n>(
    wanted: &[Wanted],
    known: impl Iterator<Item = &'n str> + Clone,
    what: &str,
) -> Option<Trouble> {
    let (index, one) = wanted.iter().enumerate().find(|(_, w)| !w.found)?;
    let near = plan::given::nearest::nearest(&one.name.value, known.clone());
    let hint = match near {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => {
            let some: Vec<&str> = known.take(12).collect();
            format!("it has {}", some.join(", "))
        }
    };
    Some(Trouble {
        wanted: Some(index),
        message: format!("there is no {what} `{}`", one.name.value),
        hint: Some(hint),
    })
}

/// Reads all of it from a slice, for tests.
#[cfg(test)]
fn read_all(
    bytes: &[u8],
    dbc: Option<&str>,
    columns: &[(&str, &str)],
) -> Result<Logged, String> {
    let mut wanted: Vec<Wanted> = columns
        .iter()
        .map(|(what, name)| Wanted {
            quantity: LOGGED
                .iter()
                .position(|(known, _)| known == what)
                .expect("a known series"),
            name: At { value: (*name).to_owned(), at: plan::finding::Place::default() },
            unit: None,
            found: false,
        })
        .collect();
    let mut bins = Bins::new(LOGGED.len(), GAP_S);
    let read = match dbc {
        Some(dbc) => dbc::read(dbc).and_then(|dbc| {
            candump::read(std::io::Cursor::new(bytes), &dbc, &mut wanted, &mut bins)
        }),
        None if bytes.starts_with(b"MDF") => {
            mdf4::read(&mut std::io::Cursor::new(bytes), &mut wanted, &mut bins)
        }
        None => csv::read(std::io::Cursor::new(bytes), &mut wanted, &mut bins),
    };
    let mut troubles = Vec::new();
    if let Err(trouble) = read {
        return Err(trouble.message);
    }
    let factors = factors(&DutyGiven::default(), &wanted, &mut troubles);
    if let Some(trouble) = troubles.first() {
        return Err(trouble.message.clone());
    }
    bins.logged(&factors)
}
