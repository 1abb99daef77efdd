//! One row of a shelf file while it is being read.
//!
//! A kind asks for its fields one by one; what was asked for is what the row may say. So the list of
//! keys, the hints for misspelt ones and the reading itself are the same lines of code.
//! A field has two spellings: `hole = "8.4 mm"`, a text with its unit, as the shop writes it, and
//! `hole_mm = 8.4`, a bare number with the unit in the key, as the shipped files have it.

use std::ops::Range;

use physics::laws::conductor::ConductorSize;
use physics::units::{Dimension, parse};
use toml::Spanned;
use toml::de::DeValue;

use super::nearest::nearest;
use super::shelf::{Row, Standing};

/// A mistake in a parts file.
#[derive(Clone, Debug, PartialEq)]
pub struct RowError {
    /// What is wrong: one sentence, no full stop.
    pub message: String,
    /// Where: bytes of the text.
    pub span: Range<usize>,
    /// What to do.
    pub hint: Option<String>,
}

/// A key and its value as written.
pub(super) struct Entry<'d> {
    pub(super) key: &'d str,
    pub(super) key_span: Range<usize>,
    pub(super) value: &'d Spanned<DeValue<'d>>,
    pub(super) taken: bool,
}

/// How small a number may be.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Least {
    AboveZero,
    Zero,
}

/// A numeric field: both spellings and what it measures.
#[derive(Clone, Copy)]
pub(super) struct Number {
    /// Spelling that takes a text with its unit.
    pub(super) name: &'static str,
    /// Spelling that takes a bare number.
    pub(super) key: &'static str,
    /// What it measures; nothing for a plain number.
    pub(super) dimension: Option<Dimension>,
    /// Units of the field in one kept unit of the dimension.
    pub(super) scale: f64,
    pub(super) least: Least,
}

pub(super) const fn number(
    name: &'static str,
    key: &'static str,
    dimension: Dimension,
) -> Number {
    Number { name, key, dimension: Some(dimension), scale: 1.0, least: Least::AboveZero }
}

pub(super) const fn plain(name: &'static str, key: &'static str) -> Number {
    Number { name, key, dimension: None, scale: 1.0, least: Least::AboveZero }
}

impl Number {
    pub(super) const fn may_be_zero(self) -> Number {
        Number { least: Least::Zero, ..self }
    }

    const fn scaled(self, scale: f64) -> Number {
        Number { scale, ..self }
    }
}

const PRICE: Number = plain("price", "price").may_be_zero();
const MASS: Number = number("mass", "mass_g", Dimension::Mass).scaled(1000.0);

/// What a row's mass is counted by.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Counted {
    /// Pieces: the row may state the mass of one.
    Piece,
    /// Length: the kind itself asks for a mass per length.
    Length,
}

/// A row being read.
pub(super) struct Draft<'d> {
    pub(super) id: String,
    /// Where the row stands, for what it does not say.
    pub(super) span: Range<usize>,
    pub(super) entries: Vec<Entry<'d>>,
    pub(super) errors: Vec<RowError>,
    /// Fields asked for so far, by the spelling offered in hints.
    known: Vec<&'static str>,
    /// Fields that are due and not there.
    missing: Vec<&'static str>,
    /// A field beyond price, note and name was stated.
    states_values: bool,
    /// Source and standing, if stated.
    cites: (Option<String>, Option<Standing>),
}

impl<'d> Draft<'d> {
    pub(super) fn new(id: String, span: Range<usize>, entries: Vec<Entry<'d>>) -> Draft<'d> {
        Draft {
            id,
            span,
            entries,
            errors: Vec::new(),
            known: Vec::new(),
            missing: Vec::new(),
            states_values: false,
            cites: (None, None),
        }
    }

    /// The entry spelt either way, and whether it carries its unit in the key.
    fn take(
        &mut self,
        name: &'static str,
        key: &'static str,
    ) -> Option<(&'d Spanned<DeValue<'d>>, bool)> {
        self.known.push(name);
        let entry = self.entries.iter_mut().find(|e| same(e.key, key) || same(e.key, name))?;
        entry.taken = true;
        let with_unit = key != name && same(entry.key, key);
        Some((entry.value, with_unit))
    }

    fn fault(&mut self, span: Range<usize>, message: String, hint: Option<String>) {
        self.errors.push(RowError { message, span, hint });
    }

    /// A number, or what the row was before.
    pub(super) fn number(&mut self, of: Number, was: Option<f64>) -> f64 {
        match self.maybe_number(of) {
            Some(value) => value,
            None => was.unwrap_or_else(|| {
                self.missing.push(of.name);
                0.0
            }),
        }
    }

    /// A number that need not be there.
    pub(super) fn number_or(&mut self, of: Number, was: Option<f64>) -> Option<f64> {
        self.maybe_number(of).or(was)
    }

    /// The number as written; a wrong one is an error and stands in as one, so that it is not missing too.
    fn maybe_number(&mut self, of: Number) -> Option<f64> {
        let (value, with_unit) = self.take(of.name, of.key)?;
        self.states_values |= of.name != PRICE.name;
        let span = value.span();
        match read_number(value.get_ref(), of, with_unit) {
            Ok(number) if is_allowed(number, of.least) && number <= most(of) => Some(number),
            Ok(number) => {
                let due = match of.least {
                    _ if most(of) < number => "no more than any part can have",
                    Least::AboveZero => "above zero",
                    Least::Zero => "zero or more",
                };
                self.fault(span, format!("`{}` is {number} but must be {due}", of.name), None);
                Some(1.0)
            }
            Err((message, hint)) => {
                self.fault(span, message, hint);
                Some(1.0)
            }
        }
    }

    pub(super) fn text(&mut self, name: &'static str, was: Option<&String>) -> String {
        match self.text_or(name, was) {
            Some(text) => text,
            None => {
                self.missing.push(name);
                String::new()
            }
        }
    }

    /// A text that need not be there. An empty one counts as absent.
    pub(super) fn text_or(
        &mut self,
        name: &'static str,
        was: Option<&String>,
    ) -> Option<String> {
        let Some((value, _)) = self.take(name, name) else { return was.cloned() };
        self.states_values |= !matches!(name, "name" | "note");
        match value.get_ref().as_str() {
            Some("") => None,
            Some(text) => Some(text.to_owned()),
            None => {
                let wrong = value.get_ref().type_str();
                self.fault(
                    value.span(),
                    format!("`{name}` is {wrong} but a text is due"),
                    Some(format!("write {name} = \"...\"")),
                );
                Some(String::new())
            }
        }
    }

    pub(super) fn flag(&mut self, name: &'static str, was: Option<bool>) -> bool {
        let Some((value, _)) = self.take(name, name) else {
            return was.unwrap_or_else(|| {
                self.missing.push(name);
                false
            });
        };
        self.states_values = true;
        value.get_ref().as_bool().unwrap_or_else(|| {
            self.fault(value.span(), format!("`{name}` must be true or false"), None);
            false
        })
    }

    pub(super) fn size(&mut self, was: Option<ConductorSize>) -> ConductorSize {
        const NONE: ConductorSize = ConductorSize::Metric(1.0);
        let Some((value, _)) = self.take("size", "size") else {
            return was.unwrap_or_else(|| {
                self.missing.push("size");
                NONE
            });
        };
        self.states_values = true;
        let read = match value.get_ref().as_str() {
            Some(text) => ConductorSize::parse(text),
            None => Err("`size` needs a text: write \"2/0 AWG\" or \"70 mm2\"".to_owned()),
        };
        read.unwrap_or_else(|message| {
            self.fault(value.span(), message, None);
            NONE
        })
    }

    /// A list that need not be there.
    pub(super) fn list_or<T: Clone>(
        &mut self,
        name: &'static str,
        was: Option<&Vec<T>>,
        item: fn(&DeValue<'_>, bool) -> Result<T, String>,
    ) -> Vec<T> {
        if self.entries.iter().any(|e| same(e.key, name)) {
            return self.list(name, name, was, item);
        }
        self.known.push(name);
        was.cloned().unwrap_or_default()
    }

    /// A list, each item read by `item`.
    pub(super) fn list<T: Clone>(
        &mut self,
        name: &'static str,
        key: &'static str,
        was: Option<&Vec<T>>,
        item: fn(&DeValue<'_>, bool) -> Result<T, String>,
    ) -> Vec<T> {
        let Some((value, with_unit)) = self.take(name, key) else {
            return was.cloned().unwrap_or_else(|| {
                self.missing.push(name);
                Vec::new()
            });
        };
        self.states_values = true;
        let Some(items) = value.get_ref().as_array() else {
            self.fault(value.span(), format!("`{name}` must be a list: [ ... ]"), None);
            return Vec::new();
        };
        let mut read = Vec::with_capacity(items.len());
        for each in items.iter() {
            match item(each.get_ref(), with_unit) {
                Ok(value) => read.push(value),
                Err(wrong) => self.fault(each.span(), format!("in `{name}`: {wrong}"), None),
            }
        }
        read
    }

    /// What every row has. `sources` are the keys that may be named.
    pub(super) fn row(
        &mut self,
        was: Option<&Row>,
        counted: Counted,
        sources: &[String],
    ) -> Row {
        let name = self.text_or("name", was.map(|w| &w.name)).unwrap_or_default();
        let note = self.text_or("note", was.and_then(|w| w.note.as_ref()));
        let price = self.number_or(PRICE, was.and_then(|w| w.price));
        let mass_g = match counted {
            Counted::Piece => self.number_or(MASS, was.and_then(|w| w.mass_g)),
            Counted::Length => None,
        };
        self.cites = (self.source(sources), self.standing());
        let (source, standing) = self.cited(was);
        Row { id: self.id.clone(), name, source, standing, note, price, mass_g }
    }

    /// Source and standing: as stated; else as they were, unless the row states values of its own.
    ///
    /// Called again when the whole row is read, since only then it is known what it states.
    pub(super) fn cited(&self, was: Option<&Row>) -> (String, Standing) {
        let was = was.filter(|_| !self.states_values);
        let (source, standing) = self.cites.clone();
        (
            source
                .unwrap_or_else(|| was.map_or_else(|| "shop".to_owned(), |w| w.source.clone())),
            standing.unwrap_or_else(|| was.map_or(Standing::Shop, |w| w.standing)),
        )
    }

    fn source(&mut self, sources: &[String]) -> Option<String> {
        let (value, _) = self.take("source", "source")?;
        let text = value.get_ref().as_str().unwrap_or_default();
        if !sources.iter().any(|s| s == text) {
            let hint = match nearest(text, sources.iter().map(String::as_str)) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!(
                    "declare it: [source.{}] title = \"...\"",
                    if text.is_empty() { "KEY" } else { text }
                ),
            };
            self.fault(value.span(), format!("there is no source `{text}`"), Some(hint));
        }
        Some(text.to_owned())
    }

    fn standing(&mut self) -> Option<Standing> {
        let (value, _) = self.take("standing", "standing")?;
        let text = value.get_ref().as_str().unwrap_or_default();
        let found = Standing::ALL.into_iter().find(|s| s.word() == text);
        if found.is_none() {
            let words: Vec<&str> = Standing::ALL.iter().map(|s| s.word()).collect();
            let message = format!("`{text}` is no standing: use {}", words.join(", "));
            self.fault(value.span(), message, None);
        }
        found
    }

    /// Whether the row states anything beyond its price, name and note.
    pub(super) fn states_values(&self) -> bool {
        self.states_values
    }

    /// Where a field was written, or the row if it was not.
    pub(super) fn span_of(&self, field: &str) -> Range<usize> {
        let stated = |e: &&Entry<'_>| {
            same(e.key, field) || {
                let longer = e.key.len() > field.len() && same(&e.key[..field.len()], field);
                longer && e.key[field.len()..].starts_with(['_', '-'])
            }
        };
        let exact = self.entries.iter().find(|e| same(e.key, field));
        exact
            .or_else(|| self.entries.iter().find(stated))
            .map_or_else(|| self.span.clone(), |e| e.value.span())
    }

    /// The fields asked for so far, as the shop spells them.
    pub(super) fn known(self) -> Vec<&'static str> {
        self.known
    }

    /// Reports what is missing and what nobody asked for.
    pub(super) fn close(&mut self, kind: &str) {
        if !self.missing.is_empty() {
            let message =
                format!("{kind} `{}` does not say its {}", self.id, self.missing.join(", "));
            let hint = format!(
                "state them, or begin with like = \"ID\" of a {kind} it differs little from"
            );
            self.fault(self.span.clone(), message, Some(hint));
        }
        for at in 0..self.entries.len() {
            let entry = &self.entries[at];
            if entry.taken {
                continue;
            }
            let hint = match nearest(entry.key, self.known.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("a {kind} may say {}", self.known.join(", ")),
            };
            let (span, message) =
                (entry.key_span.clone(), format!("a {kind} has no `{}`", entry.key));
            self.fault(span, message, Some(hint));
        }
    }
}

fn is_allowed(number: f64, least: Least) -> bool {
    match least {
        Least::AboveZero => 0.0 < number,
        Least::Zero => 0.0 <= number,
    }
}

/// More than any part has, in units of the field: so that a slip of ten decimal places is refused here,
/// and every law downstream stays where its numbers are finite.
fn most(of: Number) -> f64 {
    let kept = match of.dimension {
        Some(Dimension::Length) => 100_000.0,
        Some(Dimension::Temperature | Dimension::Ratio) => 3_000.0,
        Some(Dimension::Current | Dimension::Voltage | Dimension::Stress) => 10_000_000.0,
        // Joule integrals, heat capacities and prices have the most digits.
        _ => 1e12,
    };
    kept * of.scale
}

/// Keys are the same whichever of `-` and `_` joins their words.
pub(super) fn same(a: &str, b: &str) -> bool {
    a.len() == b.len()
        && a.bytes()
            .zip(b.bytes())
            .all(|(x, y)| x == y || (x == b'-' && y == b'_') || (x == b'_' && y == b'-'))
}

type Wrong = (String, Option<String>);

fn read_number(value: &DeValue<'_>, of: Number, with_unit: bool) -> Result<f64, Wrong> {
    let name = of.name;
    if let Some(text) = value.as_str() {
        return match of.dimension {
            Some(due) => match parse(text, due) {
                Ok(kept) => Ok(kept * of.scale),
                Err(wrong) => Err((format!("`{name}`: {}", wrong.message(due)), None)),
            },
            // A price is often written as a text, so that "4.20" keeps its zero.
            None => {
                text.trim().parse::<f64>().ok().filter(|n| n.is_finite()).ok_or_else(|| {
                    (format!("`{name}` is `{text}`, which is not a number"), None)
                })
            }
        };
    }
    let bare = bare_number(value).ok_or_else(|| {
        (format!("`{name}` is {} but a number is due", value.type_str()), None)
    })?;
    match of.dimension {
        Some(due) if !with_unit && due != Dimension::Ratio => Err((
            format!("`{name}` is {bare} without a unit: {} is due", due.called()),
            Some(format!("write {name} = \"{bare} {}\" (or {})", due.kept(), due.accepted())),
        )),
        _ => Ok(bare),
    }
}

/// An integer or a float that is finite.
pub(super) fn bare_number(value: &DeValue<'_>) -> Option<f64> {
    let number = match value {
        DeValue::Integer(integer) if integer.radix() == 10 => integer.as_str().parse().ok()?,
        DeValue::Float(float) => float.as_str().parse::<f64>().ok()?,
        _ => return None,
    };
    number.is_finite().then_some(number)
}

/// A text in a list.
pub(super) fn text_item(value: &DeValue<'_>, _: bool) -> Result<String, String> {
    value.as_str().map(str::to_owned).ok_or_else(|| "a text is due".to_owned())
}

/// A length in a list.
pub(super) fn length_item(value: &DeValue<'_>, with_unit: bool) -> Result<f64, String> {
    quantity_item(value, with_unit, Dimension::Length)
}

/// A pair of a time and a current in a list.
pub(super) fn melting_item(value: &DeValue<'_>, with_unit: bool) -> Result<(f64, f64), String> {
    let pair = value.as_array().filter(|pair| pair.len() == 2);
    let pair = pair.ok_or_else(|| "a pair [time, current] is due".to_owned())?;
    Ok((
        quantity_item(pair[0].get_ref(), with_unit, Dimension::Time)?,
        quantity_item(pair[1].get_ref(), with_unit, Dimension::Current)?,
    ))
}

fn quantity_item(value: &DeValue<'_>, with_unit: bool, due: Dimension) -> Result<f64, String> {
    let of = Number {
        name: "each",
        key: "each",
        dimension: Some(due),
        scale: 1.0,
        least: Least::AboveZero,
    };
    match read_number(value, of, with_unit) {
        Ok(number) if 0.0 < number && number <= most(of) => Ok(number),
        Ok(number) if 0.0 < number => Err(format!("{number} is more than any part can have")),
        Ok(number) => Err(format!("{number} must be above zero")),
        Err((message, _)) => Err(message),
    }
}
