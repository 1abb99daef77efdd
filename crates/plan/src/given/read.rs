//! Reading a TOML document with a place for everything: lines, errors, and tables read by their declaration.
//!
//! Nothing here knows what a build is. A wrong value is left out and said; reading goes on.

use std::ops::Range;

use physics::laws::conductor::ConductorSize;
use physics::units::{Dimension, parse};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::build::{At, Maybe};
use super::keys::{Key, Kind, TABLES, Table, Words, bound, words};
use super::nearest::nearest;
use crate::finding::Place;

/// The largest document read.
pub const SIZE_MAX: usize = 1_000_000;

/// The longest text kept: a name longer than this is no name.
const TEXT_MAX: usize = 200;

/// More entries than any list or group of tables of a build has: what is longer was not written by hand,
/// and planning it would take for ever.
const ENTRIES_MAX: usize = 100;

/// More headers than a build of such lists has; the parser's time grows with their square.
const HEADERS_MAX: usize = 3000;

/// More errors than anyone reads; those that follow are not noted.
pub const ERRORS_MAX: usize = 1000;

/// One thing that is wrong with a document.
#[derive(Clone, Debug, PartialEq)]
pub struct DocumentError {
    /// Line, column and width.
    pub at: Place,
    /// The same in bytes of the text.
    pub span: Range<usize>,
    /// What is wrong: one sentence, no full stop.
    pub message: String,
    /// What to do.
    pub hint: Option<String>,
}

/// A text cut into lines, and what was wrong with it so far.
pub struct Reader<'t> {
    text: &'t str,
    starts: Vec<usize>,
    errors: Vec<DocumentError>,
}

type Entry<'d, 't> = (&'d Spanned<std::borrow::Cow<'t, str>>, &'d Spanned<DeValue<'t>>);

/// No face is larger.
const FACE_MM_MAX: f64 = 5e3;

impl<'t> Reader<'t> {
    /// Begins to read a text.
    pub fn new(text: &'t str) -> Reader<'t> {
        let starts =
            std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Reader { text, starts, errors: Vec::new() }
    }

    /// Parses the text; syntax errors are noted, and what could be read is given.
    ///
    /// Nothing at all is read of a text that is too long or has too many tables.
    pub fn parse(&mut self) -> Option<DeTable<'t>> {
        if self.text.len() > SIZE_MAX {
            let message = format!(
                "the document has {} bytes, and more than {SIZE_MAX} are not read",
                self.text.len()
            );
            self.error(0..0, message, None);
            return None;
        }
        let is_header = |i: &usize| self.line(*i).trim_start().starts_with('[');
        if let Some(one_over) = (0..self.starts.len()).filter(is_header).nth(HEADERS_MAX) {
            let message = format!("the document has more than {HEADERS_MAX} tables");
            let start = self.starts[one_over];
            self.error(start..start + 1, message, None);
            return None;
        }
        let (root, errors) = DeTable::parse_recoverable(self.text);
        for error in errors.iter().take(ERRORS_MAX) {
            self.syntax(error);
        }
        Some(root.into_inner())
    }

    /// The place of a span of bytes.
    pub fn place(&self, span: &Range<usize>) -> Place {
        let start = self.boundary(span.start);
        let index = self.starts.partition_point(|s| *s <= start) - 1;
        let line = self.line(index);
        let column = self.text[self.starts[index]..start].chars().count();
        let end = self.boundary(span.end.min(self.starts[index] + line.len())).max(start);
        let width = self.text[start..end].chars().count();
        let small = |n: usize| u32::try_from(n).expect("documents are below 4 GB");
        Place { line: small(index + 1), column: small(column + 1), width: small(width.max(1)) }
    }

    /// Notes an error. What it quotes of the text may hold line breaks, written as `\n`; a message is one line.
    pub fn error(&mut self, span: Range<usize>, message: String, hint: Option<String>) {
        if self.is_full() {
            return;
        }
        let at = self.place(&span);
        let message = one_line(&message);
        self.errors.push(DocumentError { at, span, message, hint });
    }

    fn is_full(&self) -> bool {
        ERRORS_MAX <= self.errors.len()
    }

    /// Notes an error at a place.
    pub fn error_at(&mut self, at: Place, message: String, hint: Option<String>) {
        self.error(self.span(at), message, hint);
    }

    /// The bytes of a place of this text.
    pub fn span(&self, at: Place) -> Range<usize> {
        let Some(index) = (at.line as usize).checked_sub(1) else { return 0..0 };
        let line = self.line(index);
        let byte = |chars: usize| line.char_indices().nth(chars).map_or(line.len(), |(b, _)| b);
        let from = (at.column as usize).saturating_sub(1);
        let start = self.starts[index];
        start + byte(from)..start + byte(from + at.width as usize)
    }

    /// All errors in the order of the text.
    pub fn finish(mut self) -> Vec<DocumentError> {
        self.errors.sort_by_key(|e| (e.span.start, e.span.end));
        self.errors.dedup();
        self.errors
    }

    fn boundary(&self, at: usize) -> usize {
        let at = at.min(self.text.len());
        (0..=at).rev().find(|i| self.text.is_char_boundary(*i)).unwrap_or(0)
    }

    fn line(&self, index: usize) -> &'t str {
        let start = self.starts[index];
        let end = self.starts.get(index + 1).copied().unwrap_or(self.text.len());
        self.text[start..end].trim_end_matches(['\n', '\r'])
    }

    fn syntax(&mut self, error: &toml::de::Error) {
        let span = error.span().unwrap_or(0..0);
        let at = self.place(&span);
        let written = self.text.get(span.clone()).unwrap_or_default();
        if error.message() == "duplicate key" {
            let first = self.first_of(at.line as usize - 1);
            let again = first.map_or(String::new(), |n| format!(", first in line {n}"));
            let message = format!("`{}` is written twice{again}", brief(written));
            let hint = "give each its own name, or keep only one";
            return self.error(span, message, Some(hint.to_owned()));
        }
        let value = self.line(at.line as usize - 1).split_once('=').map(|(_, v)| v.trim());
        let bare =
            value.is_some_and(|v| !v.is_empty() && !v.starts_with(['"', '\'', '[', '{']));
        let hint = bare.then(|| {
            "words and quantities stand in double quotes, such as \"1.42 m\"".to_owned()
        });
        // The parser's words for the slip that is made most often say nothing to a mechanic.
        if error.message().starts_with("invalid basic string") && !self.closed(&at) {
            let hint = "put a double quote at its end";
            let message = "a double quote opens here and is not closed in this line".to_owned();
            let opened = self.opened(&at).unwrap_or(span);
            return self.error(opened, message, Some(hint.to_owned()));
        }
        self.error(span, format!("this is not TOML: {}", error.message()), hint);
    }

    /// Whether the line of a place has as many quotes that close as quotes that open.
    fn closed(&self, at: &Place) -> bool {
        self.line(at.line as usize - 1).matches('"').count().is_multiple_of(2)
    }

    /// The bytes from the last quote of the line of a place to its end.
    fn opened(&self, at: &Place) -> Option<Range<usize>> {
        let (start, line) =
            (self.starts[at.line as usize - 1], self.line(at.line as usize - 1));
        Some(start + line.rfind('"')?..start + line.len())
    }

    /// Number of the earlier line that writes the same table or key.
    fn first_of(&self, index: usize) -> Option<usize> {
        let again = self.line(index).trim();
        if again.starts_with('[') {
            return (0..index).find(|i| self.line(*i).trim() == again).map(|i| i + 1);
        }
        let key = again.split('=').next().map(str::trim)?;
        (0..index)
            .rev()
            .take_while(|i| !self.line(*i).trim_start().starts_with('['))
            .find(|i| self.line(*i).split('=').next().map(str::trim) == Some(key))
            .map(|i| i + 1)
    }
}

/// A table being read by its declaration.
pub struct Fields<'r, 'd, 't> {
    /// Where errors go.
    pub reader: &'r mut Reader<'t>,
    declared: &'static Table,
    called: String,
    entries: &'d DeTable<'t>,
}

impl<'r, 'd, 't> Fields<'r, 'd, 't> {
    /// Begins to read a table; keys that are not declared are noted at once.
    ///
    /// `called` is its header as the maker wrote it, empty for the top.
    pub fn new(
        reader: &'r mut Reader<'t>,
        declared: &'static Table,
        called: &str,
        entries: &'d DeTable<'t>,
    ) -> Self {
        let mut fields = Fields { reader, declared, called: called.to_owned(), entries };
        for (name, value) in entries {
            if fields.reader.is_full() {
                break;
            }
            fields.know(name, value);
        }
        fields
    }

    fn know(
        &mut self,
        name: &Spanned<std::borrow::Cow<'t, str>>,
        value: &Spanned<DeValue<'t>>,
    ) {
        let written = name.get_ref().as_ref();
        if self.declared.keys.iter().any(|k| matches!(k.kind, Kind::NumberByName(..))) {
            return;
        }
        let keys = || self.declared.keys.iter().map(|k| k.name);
        if keys().any(|k| k == written) || self.declared.inner.contains(&written) {
            return;
        }
        let whole = if self.called.is_empty() {
            "at the top of the document".to_owned()
        } else {
            format!("in [{}]", self.called)
        };
        let near = nearest(written, keys().chain(self.declared.inner.iter().copied()));
        let home = TABLES.iter().find(|t| {
            t.keys.iter().any(|k| k.name == written)
                || (matches!(value.get_ref(), DeValue::Table(_)) && t.inner.contains(&written))
        });
        let hint = match (near, home) {
            (Some(near), _) => format!("did you mean `{near}`?"),
            (None, Some(home)) if home.path.is_empty() => {
                format!("`{written}` belongs at the top of the document, before any table")
            }
            (None, Some(home)) => format!("`{written}` belongs in [{}]", home.path),
            (None, None) => {
                let all: Vec<&str> =
                    keys().chain(self.declared.inner.iter().copied()).collect();
                format!("known here: {}", all.join(", "))
            }
        };
        let message = format!("no key `{}` is known {whole}", brief(written));
        self.reader.error(name.span(), message, Some(hint));
    }

    fn declared(&self, name: &str) -> &'static Key {
        self.declared.keys.iter().find(|k| k.name == name).expect("every key read is declared")
    }

    fn entry(&self, name: &str) -> Option<Entry<'d, 't>> {
        self.entries.get_key_value(name)
    }

    fn at<T>(&self, value: T, span: &Range<usize>) -> At<T> {
        At { value, at: self.reader.place(span) }
    }

    fn wrong(&mut self, span: Range<usize>, message: String, hint: String) {
        self.reader.error(span, message, Some(hint));
    }

    /// An inner table with its key's span; anything else in its place is an error.
    pub fn table(&mut self, name: &str) -> Option<(Range<usize>, &'d DeTable<'t>)> {
        let (key, value) = self.entry(name)?;
        self.as_table(name, key.span(), value).map(|table| (key.span(), table))
    }

    /// The inner tables of `name` by id, in the order written; a bad id is an error.
    pub fn tables(&mut self, name: &str) -> Vec<(At<String>, &'d DeTable<'t>)> {
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
        self.tables_of(name, plain, "an id has at most 40 letters, digits, - and _")
    }

    /// The inner tables of `name` by a label that stands on a housing: `+` and `L1/T1` are labels too.
    pub fn labelled_tables(&mut self, name: &str) -> Vec<(At<String>, &'d DeTable<'t>)> {
        let printed = |c: char| c.is_ascii_graphic() && !matches!(c, ',' | '"' | '\'' | '\\');
        let hint =
            "a label here has at most 40 letters, digits and signs, no comma, quote or space";
        self.tables_of(name, printed, hint)
    }

    fn tables_of(
        &mut self,
        name: &str,
        may_have: fn(char) -> bool,
        hint: &str,
    ) -> Vec<(At<String>, &'d DeTable<'t>)> {
        let Some((_, outer)) = self.table(name) else { return Vec::new() };
        let mut all = Vec::new();
        for (index, (key, value)) in outer.iter().enumerate() {
            if self.is_too_long(name, index, key.span()) {
                break;
            }
            let id = key.get_ref().as_ref();
            if !(1..=40).contains(&id.len()) || !id.chars().all(may_have) {
                let message = format!("`{}` cannot be an id", brief(id));
                self.wrong(key.span(), message, hint.to_owned());
                continue;
            }
            let header = format!("{name}.{id}");
            if let Some(table) = self.as_table(&header, key.span(), value) {
                all.push((self.at(id.to_owned(), &key.span()), table));
            }
        }
        all
    }

    /// Notes that the entry at `index` is one too many.
    fn is_too_long(&mut self, name: &str, index: usize, span: Range<usize>) -> bool {
        if index < ENTRIES_MAX {
            return false;
        }
        self.too_many(name, ENTRIES_MAX, span);
        true
    }

    fn too_many(&mut self, name: &str, most: usize, span: Range<usize>) {
        let message = format!("`{name}` has more than {most} entries");
        self.wrong(span, message, "what follows is not read".to_owned());
    }

    fn as_table(
        &mut self,
        header: &str,
        span: Range<usize>,
        value: &'d Spanned<DeValue<'t>>,
    ) -> Option<&'d DeTable<'t>> {
        match value.get_ref() {
            DeValue::Table(table) => Some(table),
            _ => {
                let dot = if self.called.is_empty() { "" } else { "." };
                let example = format!("write it as [{}{dot}{header}]", self.called);
                self.wrong(span, format!("`{header}` is a table of its own"), example);
                None
            }
        }
    }

    /// Tables written one after the other under `[[name]]`, with the span of each; one table is a list of one.
    pub fn rows(&mut self, name: &str) -> Vec<(Range<usize>, &'d DeTable<'t>)> {
        let Some((key, value)) = self.entry(name) else { return Vec::new() };
        let DeValue::Array(items) = value.get_ref() else {
            return self
                .as_table(name, key.span(), value)
                .map(|t| (key.span(), t))
                .into_iter()
                .collect();
        };
        let mut all = Vec::new();
        for item in items {
            if let DeValue::Table(table) = item.get_ref() {
                all.push((item.span(), table));
            } else {
                let message = format!("each `{name}` is a table of its own");
                self.wrong(item.span(), message, format!("write it under [[{name}]]"));
            }
        }
        all
    }

    /// A list of plain numbers.
    pub fn numbers(&mut self, name: &str) -> Maybe<Vec<f64>> {
        let key = self.declared(name);
        let Kind::Numbers(least, most) = key.kind else {
            panic!("`{name}` is declared as numbers")
        };
        let (span, items) = self.array(name, ENTRIES_MAX)?;
        let list = items
            .iter()
            .filter_map(|v| self.read_number(name, v, (least, most), key.example))
            .map(|n| n.value)
            .collect();
        Some(self.at(list, &span))
    }

    /// A quantity in kept units.
    pub fn quantity(&mut self, name: &str) -> Maybe<f64> {
        let key = self.declared(name);
        let Kind::Quantity(dimension, least, most) = key.kind else {
            panic!("`{name}` is declared as a quantity")
        };
        let (_, value) = self.entry(name)?;
        self.read_quantity(name, value, dimension, (least, most), key.example)
    }

    /// A list of quantities.
    pub fn quantities(&mut self, name: &str) -> Maybe<Vec<At<f64>>> {
        let key = self.declared(name);
        let Kind::Quantities(dimension, least, most) = key.kind else {
            panic!("`{name}` is declared as quantities")
        };
        let (span, items) = self.array(name, ENTRIES_MAX)?;
        let example =
            key.example.trim_matches(['[', ']']).split(',').next().unwrap_or_default();
        let list = items
            .iter()
            .filter_map(|v| self.read_quantity(name, v, dimension, (least, most), example))
            .collect();
        Some(self.at(list, &span))
    }

    /// Quantities by name, as an inline table.
    pub fn quantities_by_name(&mut self, name: &str) -> Vec<(At<String>, At<f64>)> {
        let key = self.declared(name);
        let Kind::QuantityByName(dimension, least, most) = key.kind else {
            panic!("`{name}` is declared as quantities by name")
        };
        let Some(table) = self.named(name) else { return Vec::new() };
        let mut all = Vec::new();
        for (index, (label, value)) in table.iter().enumerate() {
            if self.is_too_long(name, index, label.span()) {
                break;
            }
            let label = self.at(label.get_ref().to_string(), &label.span());
            if let Some(q) =
                self.read_quantity(name, value, dimension, (least, most), r#""1.42 m""#)
            {
                all.push((label, q));
            }
        }
        all
    }

    /// Plain numbers by name: the whole table, whatever its keys.
    pub fn numbers_by_name(&mut self) -> Vec<(At<String>, f64)> {
        let key = self.declared("NAME");
        let Kind::NumberByName(least, most) = key.kind else {
            panic!("the table is declared as numbers by name")
        };
        let mut all = Vec::new();
        for (label, value) in self.entries {
            let name = brief(label.get_ref());
            if let Some(number) = self.read_number(&name, value, (least, most), key.example) {
                all.push((self.at(label.get_ref().to_string(), &label.span()), number.value));
            }
        }
        all
    }

    /// A plain whole number.
    pub fn count(&mut self, name: &str) -> Maybe<u32> {
        let key = self.declared(name);
        let Kind::Count(least, most) = key.kind else {
            panic!("`{name}` is declared as a count")
        };
        let (_, value) = self.entry(name)?;
        let written = match value.get_ref() {
            DeValue::Integer(i) => i64::from_str_radix(i.as_str(), i.radix()).ok(),
            _ => None,
        };
        match written.and_then(|n| u32::try_from(n).ok()) {
            Some(n) if (least..=most).contains(&n) => Some(self.at(n, &value.span())),
            _ => {
                let message = format!("`{name}` is a whole number from {least} to {most}");
                let hint = format!("write it without quotes: {name} = {}", key.example);
                self.wrong(value.span(), message, hint);
                None
            }
        }
    }

    /// A plain whole number that is declared as no greater than 255.
    pub fn small(&mut self, name: &str) -> Maybe<u8> {
        let found = self.count(name)?;
        let value = u8::try_from(found.value).expect("its declared range fits");
        Some(At { value, at: found.at })
    }

    /// Notes an error at `span` if a key is not there at all.
    pub fn need(&mut self, name: &str, span: Range<usize>) {
        if self.entries.contains_key(name) {
            return;
        }
        let key = self.declared(name);
        let whose = match self.called.as_str() {
            "" => "the build".to_owned(),
            called => format!("[{called}]"),
        };
        let hint = format!("add {name} = {}", key.example);
        self.wrong(span, format!("{whose} has no `{name}`"), hint);
    }

    /// A plain number.
    pub fn number(&mut self, name: &str) -> Maybe<f64> {
        let key = self.declared(name);
        let Kind::Number(least, most) = key.kind else {
            panic!("`{name}` is declared as a number")
        };
        let (_, value) = self.entry(name)?;
        self.read_number(name, value, (least, most), key.example)
    }

    /// Words: no empty text, nothing longer than a line, no control characters.
    pub fn text(&mut self, name: &str) -> Maybe<String> {
        let key = self.declared(name);
        let (_, value) = self.entry(name)?;
        let text = self.read_text(name, value, key.example)?;
        let shape = match key.kind {
            Kind::Thread => {
                (is_thread(&text.value), "a metric thread", "\"M8\" or \"M32x1.5\"")
            }
            Kind::Bolt => (is_bolt(&text.value), "a bolt with its length", "\"M8x16\""),
            Kind::Port => (is_port(&text.value), "a port", "\"motor.phases\", device and port"),
            _ => (true, "", ""),
        };
        if shape.0 {
            return Some(text);
        }
        let message = format!("`{}` is not {}", brief(&text.value), shape.1);
        self.wrong(value.span(), message, format!("write {}", shape.2));
        None
    }

    /// A day, written as TOML's date or as text.
    pub fn day(&mut self, name: &str) -> Maybe<String> {
        let (_, value) = self.entry(name)?;
        let written = match value.get_ref() {
            DeValue::Datetime(day) => day.to_string(),
            DeValue::String(text) => text.to_string(),
            _ => String::new(),
        };
        if is_day(&written) {
            return Some(self.at(written, &value.span()));
        }
        let message = format!("`{name}` is a day: year, month, day");
        self.wrong(
            value.span(),
            message,
            format!("write {name} = {}", self.declared(name).example),
        );
        None
    }

    /// A list of words.
    pub fn texts(&mut self, name: &str) -> Maybe<Vec<At<String>>> {
        let Kind::Texts(most) = self.declared(name).kind else {
            panic!("`{name}` is declared as a list of words")
        };
        let (span, items) = self.array(name, most)?;
        let list = items.iter().filter_map(|v| self.read_text(name, v, "\"U\"")).collect();
        Some(self.at(list, &span))
    }

    /// Words by name, as an inline table.
    pub fn texts_by_name(&mut self, name: &str) -> Vec<(At<String>, At<String>)> {
        let Some(table) = self.named(name) else { return Vec::new() };
        let mut all = Vec::new();
        for (index, (label, value)) in table.iter().enumerate() {
            if self.is_too_long(name, index, label.span()) {
                break;
            }
            if let Some(text) = self.read_text(name, value, "\"U\"") {
                all.push((self.at(label.get_ref().to_string(), &label.span()), text));
            }
        }
        all
    }

    /// Places on a face by name, as an inline table: "-45 mm, 4 mm".
    pub fn places_by_name(&mut self, name: &str) -> Vec<(At<String>, At<[f64; 2]>)> {
        let mut all = Vec::new();
        for (label, text) in self.texts_by_name(name) {
            let parts: Vec<&str> = text.value.split(',').collect();
            let read = |part: &str| {
                let mm = parse(brief_slice(part), Dimension::Length).ok();
                mm.filter(|v| v.abs() <= FACE_MM_MAX)
            };
            if let [x, y] = parts[..]
                && let (Some(x), Some(y)) = (read(x), read(y))
            {
                all.push((label, At { value: [x, y], at: text.at }));
                continue;
            }
            let span = self.reader.span(text.at);
            let message =
                format!("`{}` is no place on a face: two lengths are due", brief(&text.value));
            self.wrong(span, message, "write it as \"-45 mm, 4 mm\"".to_owned());
        }
        all
    }

    /// One of a few words.
    pub fn choice<T: Copy>(&mut self, name: &str, choice: Words<T>) -> Maybe<T> {
        let key = self.declared(name);
        let (_, value) = self.entry(name)?;
        let text = self.read_text(name, value, key.example)?;
        if let Some((_, meant)) = choice.iter().find(|(word, _)| *word == text.value) {
            return Some(self.at(*meant, &value.span()));
        }
        let listed = listed(&words(choice));
        let message = format!("`{}` is no {name}: use {listed}", brief(&text.value));
        let hint =
            nearest(&text.value, words(choice)).map(|near| format!("did you mean \"{near}\"?"));
        self.reader.error(value.span(), message, hint);
        None
    }

    /// A list of a few words.
    pub fn choices<T: Copy>(&mut self, name: &str, choice: Words<T>) -> Vec<At<T>> {
        let mut all = Vec::new();
        for text in self.texts(name).map(|t| t.value).unwrap_or_default() {
            if let Some((_, meant)) = choice.iter().find(|(word, _)| *word == text.value) {
                all.push(At { value: *meant, at: text.at });
                continue;
            }
            let message = format!(
                "`{}` is no {name}: use {}",
                brief(&text.value),
                listed(&words(choice))
            );
            let hint = nearest(&text.value, words(choice))
                .map(|near| format!("did you mean \"{near}\"?"));
            self.reader.error_at(text.at, message, hint);
        }
        all
    }

    /// A conductor size.
    pub fn size(&mut self, name: &str) -> Maybe<ConductorSize> {
        let key = self.declared(name);
        let (_, value) = self.entry(name)?;
        let text = self.read_text(name, value, key.example)?;
        match ConductorSize::parse(&text.value) {
            Ok(size) => Some(self.at(size, &value.span())),
            Err(message) => {
                let (what, hint) = message.split_once(": ").unwrap_or((&message, ""));
                let hint = (!hint.is_empty()).then(|| hint.to_owned());
                self.reader.error(value.span(), what.to_owned(), hint);
                None
            }
        }
    }

    /// true or false.
    pub fn truth(&mut self, name: &str) -> Maybe<bool> {
        let (_, value) = self.entry(name)?;
        if let DeValue::Boolean(truth) = value.get_ref() {
            return Some(self.at(*truth, &value.span()));
        }
        let message = format!("`{name}` is true or false");
        self.wrong(value.span(), message, format!("write it without quotes: {name} = true"));
        None
    }

    fn array(
        &mut self,
        name: &str,
        most: usize,
    ) -> Option<(Range<usize>, &'d [Spanned<DeValue<'t>>])> {
        let (_, value) = self.entry(name)?;
        if let DeValue::Array(items) = value.get_ref() {
            let items = match items.get(most) {
                Some(one_over) => {
                    self.too_many(name, most, one_over.span());
                    &items[..most]
                }
                None => items,
            };
            return Some((value.span(), items));
        }
        let hint = format!("write {name} = {}", self.declared(name).example);
        self.wrong(value.span(), format!("`{name}` is a list"), hint);
        None
    }

    fn named(&mut self, name: &str) -> Option<&'d DeTable<'t>> {
        let (_, value) = self.entry(name)?;
        if let DeValue::Table(table) = value.get_ref() {
            return Some(table);
        }
        let hint = format!("write {name} = {}", self.declared(name).example);
        self.wrong(value.span(), format!("`{name}` gives a value for each name"), hint);
        None
    }

    fn read_quantity(
        &mut self,
        name: &str,
        value: &Spanned<DeValue<'t>>,
        dimension: Dimension,
        (least, most): (f64, f64),
        example: &str,
    ) -> Maybe<f64> {
        let DeValue::String(text) = value.get_ref() else {
            let message = format!(
                "`{name}` is {} and needs its unit: {}",
                dimension.called(),
                dimension.accepted()
            );
            self.wrong(value.span(), message, format!("write it in quotes, such as {example}"));
            return None;
        };
        match parse(brief_slice(text), dimension) {
            Ok(number) if least <= number && number <= most => {
                Some(self.at(number, &value.span()))
            }
            Ok(_) => {
                let message = format!(
                    "`{name}` is {}, outside {} to {}",
                    brief(text.trim()),
                    bound(least, dimension),
                    bound(most, dimension)
                );
                self.wrong(value.span(), message, "check the number and its unit".to_owned());
                None
            }
            Err(error) => {
                let message = format!("`{name}`: {}", error.message(dimension));
                self.wrong(
                    value.span(),
                    message,
                    format!("write it with its unit, such as {example}"),
                );
                None
            }
        }
    }

    fn read_number(
        &mut self,
        name: &str,
        value: &Spanned<DeValue<'t>>,
        (least, most): (f64, f64),
        example: &str,
    ) -> Maybe<f64> {
        let number = match value.get_ref() {
            DeValue::Float(f) => f.as_str().parse::<f64>().ok(),
            DeValue::Integer(i) if i.radix() == 10 => i.as_str().parse::<f64>().ok(),
            _ => None,
        };
        match number {
            Some(number) if least <= number && number <= most => {
                Some(self.at(number, &value.span()))
            }
            _ => {
                let message = format!("`{name}` is a number from {least} to {most}");
                let hint = format!("write it without quotes and unit, such as {example}");
                self.wrong(value.span(), message, hint);
                None
            }
        }
    }

    fn read_text(
        &mut self,
        name: &str,
        value: &Spanned<DeValue<'t>>,
        example: &str,
    ) -> Maybe<String> {
        let DeValue::String(text) = value.get_ref() else {
            let message = format!("`{name}` is text");
            self.wrong(value.span(), message, format!("write it in quotes, such as {example}"));
            return None;
        };
        let text = text.trim();
        let fault = if text.is_empty() {
            "is empty"
        } else if text.chars().count() > TEXT_MAX {
            "is longer than 200 characters"
        } else if text.chars().any(char::is_control) {
            "has a line break or another control character in it"
        } else {
            return Some(self.at(text.to_owned(), &value.span()));
        };
        self.wrong(
            value.span(),
            format!("`{name}` {fault}"),
            format!("write it like {example}"),
        );
        None
    }
}

/// "a, b or c".
pub(crate) fn listed(words: &[&str]) -> String {
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => words.concat(),
    }
}

/// The text with a space for every line break and other control character.
fn one_line(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// What a maker wrote, short enough for a message.
pub(crate) fn brief(text: &str) -> String {
    let shown = one_line(text);
    if shown.chars().count() <= 60 {
        return shown;
    }
    shown.chars().take(57).chain("...".chars()).collect()
}

/// No quantity is longer than this; what follows would only fill the message.
fn brief_slice(text: &str) -> &str {
    text.char_indices().nth(80).map_or(text, |(end, _)| &text[..end])
}

/// "M8", "M10x1.25".
pub(crate) fn is_thread(text: &str) -> bool {
    let Some(rest) = text.strip_prefix('M') else { return false };
    let (diameter, pitch) = match rest.split_once('x') {
        Some((diameter, pitch)) => (diameter, Some(pitch)),
        None => (rest, None),
    };
    plain(diameter, 1.0, 100.0) && pitch.is_none_or(|p| plain(p, 0.2, 8.0))
}

/// "M8x16".
pub(crate) fn is_bolt(text: &str) -> bool {
    text.strip_prefix('M').and_then(|rest| rest.split_once('x')).is_some_and(
        |(diameter, length)| plain(diameter, 1.0, 100.0) && plain(length, 3.0, 500.0),
    )
}

fn plain(text: &str, least: f64, most: f64) -> bool {
    text.chars().all(|c| c.is_ascii_digit() || c == '.')
        && text.parse::<f64>().is_ok_and(|n| least <= n && n <= most)
}

fn is_port(text: &str) -> bool {
    text.split_once('.').is_some_and(|(device, port)| {
        !device.is_empty() && !port.is_empty() && !port.contains('.')
    })
}

fn is_day(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let number = |i: usize, digits: usize, least: u32, most: u32| {
        parts.get(i).is_some_and(|p| {
            p.len() == digits
                && p.bytes().all(|b| b.is_ascii_digit())
                && p.parse::<u32>().is_ok_and(|n| least <= n && n <= most)
        })
    };
    parts.len() == 3 && number(0, 4, 1900, 2200) && number(1, 2, 1, 12) && number(2, 2, 1, 31)
}
