//! Reads the shelf: the files that ship with the program, and a shop's own `parts.toml` over them.
//!
//! A shipped file is a list of `[[table]]`: what all its rows share, the columns, and one line a row.
//! A parts file has one table a part, by its id, and says only what differs:
//!
//! ```toml
//! [lug."2/0 M8"]                 # on the shelf already: only the price is ours
//! price = "4.20"
//!
//! [lug."2/0 M8 narrow"]          # a new one, like another
//! like = "2/0 M8"
//! palm-width = "19 mm"
//!
//! [source.our-supplier]
//! title = "Price list and data sheets of our supplier"
//! ```
//!
//! `[[lug]]` with `id = "..."` does the same. A row whose values the shop states has the standing `shop`;
//! one that only gets a price keeps its own.

use std::ops::Range;
use std::sync::OnceLock;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::nearest::nearest;
use super::shelf::*;
use super::shelf_draft::{Draft, Entry, same};
use super::shelf_kinds::{Kept, Part};

pub use super::shelf_draft::RowError;

/// The shelf that ships with the program.
pub fn standard() -> &'static Shelf {
    static STANDARD: OnceLock<Shelf> = OnceLock::new();
    STANDARD.get_or_init(|| {
        let (shelf, errors) = read_shipped();
        assert!(errors.is_empty(), "the shipped shelf has no mistakes: {errors:?}");
        shelf
    })
}

macro_rules! shipped {
    ($name:literal) => {
        include_str!(concat!("../../../../shelf/", $name, ".toml"))
    };
}

/// Reads a shipped file of one kind into its list.
type Shipped = (fn(&str, &[String], &mut Shelf, &mut Vec<RowError>), &'static str);

/// The shipped files, those referred to before those that refer to them.
const SHIPPED: [Shipped; 16] = [
    (read_file::<Conductor>, shipped!("conductors")),
    (read_file::<Insulation>, shipped!("insulations")),
    (read_file::<Material>, shipped!("materials")),
    (read_file::<Crimp>, shipped!("crimps")),
    (read_file::<Cable>, shipped!("cables")),
    (read_file::<Lug>, shipped!("lugs")),
    (read_file::<Sleeve>, shipped!("sleeves")),
    (read_file::<Grip>, shipped!("grips")),
    (read_file::<Oring>, shipped!("orings")),
    (read_file::<Bolt>, shipped!("bolts")),
    (read_file::<Nut>, shipped!("nuts")),
    (read_file::<Washer>, shipped!("washers")),
    (read_file::<ThreadHoles>, shipped!("holes")),
    (read_file::<BoltClass>, shipped!("classes")),
    (read_file::<Fuse>, shipped!("fuses")),
    (read_file::<Contactor>, shipped!("contactors")),
];

fn read_shipped() -> (Shelf, Vec<RowError>) {
    let mut shelf = Shelf::default();
    let mut errors = Vec::new();
    let (document, syntax) = DeTable::parse_recoverable(shipped!("sources"));
    errors.extend(syntax.iter().map(syntax_error));
    if let Some(sources) = document.get_ref().get("source").and_then(|s| s.get_ref().as_table())
    {
        read_sources(sources, &mut shelf, &mut errors);
    }
    let sources = source_keys(&shelf);
    for (read, text) in SHIPPED {
        read(text, &sources, &mut shelf, &mut errors);
    }
    (shelf, errors)
}

fn source_keys(shelf: &Shelf) -> Vec<String> {
    shelf.sources.iter().map(|s| s.key.clone()).collect()
}

fn syntax_error(error: &toml::de::Error) -> RowError {
    RowError {
        message: error.message().to_owned(),
        span: error.span().unwrap_or(0..0),
        hint: None,
    }
}

fn error(span: Range<usize>, message: String, hint: Option<String>) -> RowError {
    RowError { message, span, hint }
}

/// Reads one shipped file: tables of columns and rows.
fn read_file<P: Kept>(
    text: &str,
    sources: &[String],
    shelf: &mut Shelf,
    errors: &mut Vec<RowError>,
) {
    let (document, syntax) = DeTable::parse_recoverable(text);
    errors.extend(syntax.iter().map(syntax_error));
    let tables = document.get_ref().get("table").and_then(|t| t.get_ref().as_array());
    for table in tables.into_iter().flat_map(|tables| tables.iter()) {
        match table.get_ref().as_table() {
            Some(table) => read_table::<P>(table, sources, shelf, errors),
            None => errors.push(error(table.span(), "a table is due".to_owned(), None)),
        }
    }
}

fn read_table<P: Kept>(
    table: &DeTable<'_>,
    sources: &[String],
    shelf: &mut Shelf,
    errors: &mut Vec<RowError>,
) {
    let list = |key: &str| table.get(key).and_then(|v| v.get_ref().as_array());
    let (Some(columns), Some(rows)) = (list("columns"), list("rows")) else {
        errors.push(error(0..0, "a table needs `columns` and `rows`".to_owned(), None));
        return;
    };
    for row in rows.iter() {
        let cells = row.get_ref().as_array().filter(|cells| cells.len() == columns.len());
        let Some(cells) = cells else {
            errors.push(error(row.span(), "a row needs one cell a column".to_owned(), None));
            continue;
        };
        let named = columns.iter().zip(cells.iter()).map(|(column, cell)| Entry {
            key: column.get_ref().as_str().unwrap_or_default(),
            key_span: cell.span(),
            value: cell,
            taken: false,
        });
        let shared = table.iter().map(entry);
        let is_field = |e: &Entry<'_>| !matches!(e.key, "columns" | "rows");
        let mut entries: Vec<Entry<'_>> = named.chain(shared.filter(is_field)).collect();
        let id = take_text(&mut entries, "id").unwrap_or_default();
        let mut draft = Draft::new(id, row.span(), entries);
        let head = draft.row(None, P::COUNTED, sources);
        let mut part = P::read(&mut draft, None, head);
        draft.close(P::KIND);
        if part.row().name.is_empty() {
            part.row_mut().name = part.title();
        }
        errors.append(&mut draft.errors);
        P::of_mut(shelf).push(part);
    }
}

fn entry<'d>(
    (key, value): (&'d Spanned<std::borrow::Cow<'d, str>>, &'d Spanned<DeValue<'d>>),
) -> Entry<'d> {
    Entry { key: key.get_ref(), key_span: key.span(), value, taken: false }
}

fn take_text(entries: &mut [Entry<'_>], key: &str) -> Option<String> {
    let entry = entries.iter_mut().find(|e| e.key == key)?;
    entry.taken = true;
    entry.value.get_ref().as_str().map(str::to_owned)
}

/// Adds a shop's parts to a shelf: new rows, and rows that take the place of one with the same id.
///
/// All mistakes come back at once, in the order of the text; a row with a mistake is left as it was.
/// Spans are bytes of `parts_toml`. Numbers of a row are in the units of its keys.
pub fn with_shop(standard: &Shelf, parts_toml: &str) -> (Shelf, Vec<RowError>) {
    let mut shelf = standard.clone();
    let (document, syntax) = DeTable::parse_recoverable(parts_toml);
    let mut errors: Vec<RowError> = syntax.iter().map(syntax_error).collect();
    for (key, value) in document.get_ref() {
        if key.get_ref() == "source" {
            match value.get_ref().as_table() {
                Some(sources) => read_sources(sources, &mut shelf, &mut errors),
                None => errors.push(no_table("source", value.span())),
            }
        } else if !KINDS.iter().any(|(kind, _)| kind == key.get_ref()) {
            errors.push(unknown_kind(key));
        }
    }
    let sources = source_keys(&shelf);
    for (kind, read) in KINDS {
        if let Some(value) = document.get_ref().get(kind) {
            read(value, &sources, &mut shelf, &mut errors);
        }
    }
    errors.sort_by_key(|e| (e.span.start, e.span.end));
    (shelf, errors)
}

/// The kinds of parts a parts file may hold, and what a part of each may say, as the shop spells it.
pub fn kinds() -> Vec<(&'static str, Vec<&'static str>)> {
    fn keys<P: Kept>() -> (&'static str, Vec<&'static str>) {
        let mut draft = Draft::new(String::new(), 0..0, Vec::new());
        let row = draft.row(None, P::COUNTED, &[]);
        let _asked = P::read(&mut draft, None, row);
        let mut known = draft.known();
        known.extend(["id", "like"]);
        known.sort_unstable();
        known.dedup();
        (P::KIND, known)
    }
    vec![
        keys::<Conductor>(),
        keys::<Cable>(),
        keys::<Insulation>(),
        keys::<Lug>(),
        keys::<Crimp>(),
        keys::<Sleeve>(),
        keys::<Grip>(),
        keys::<Oring>(),
        keys::<Bolt>(),
        keys::<Nut>(),
        keys::<Washer>(),
        keys::<ThreadHoles>(),
        keys::<Material>(),
        keys::<BoltClass>(),
        keys::<Fuse>(),
        keys::<Contactor>(),
        keys::<KeptPlate>(),
    ]
}

/// Reads all rows of one kind in a shop's file.
type ShopKind =
    (&'static str, fn(&Spanned<DeValue<'_>>, &[String], &mut Shelf, &mut Vec<RowError>));

/// The kinds a shop may add to, those referred to before those that refer to them.
const KINDS: [ShopKind; 17] = [
    (Conductor::KIND, read_kind::<Conductor>),
    (Insulation::KIND, read_kind::<Insulation>),
    (Material::KIND, read_kind::<Material>),
    (Crimp::KIND, read_kind::<Crimp>),
    (Cable::KIND, read_kind::<Cable>),
    (Lug::KIND, read_kind::<Lug>),
    (Sleeve::KIND, read_kind::<Sleeve>),
    (Grip::KIND, read_kind::<Grip>),
    (Oring::KIND, read_kind::<Oring>),
    (Bolt::KIND, read_kind::<Bolt>),
    (Nut::KIND, read_kind::<Nut>),
    (Washer::KIND, read_kind::<Washer>),
    (ThreadHoles::KIND, read_kind::<ThreadHoles>),
    (BoltClass::KIND, read_kind::<BoltClass>),
    (Fuse::KIND, read_kind::<Fuse>),
    (Contactor::KIND, read_kind::<Contactor>),
    (KeptPlate::KIND, read_kind::<KeptPlate>),
];

fn unknown_kind(key: &Spanned<std::borrow::Cow<'_, str>>) -> RowError {
    let kinds = || KINDS.iter().map(|(kind, _)| *kind).chain(["source"]);
    let hint = match nearest(key.get_ref(), kinds()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the kinds are {}", kinds().collect::<Vec<_>>().join(", ")),
    };
    error(key.span(), format!("there is no kind of part `{}`", key.get_ref()), Some(hint))
}

fn no_table(kind: &str, span: Range<usize>) -> RowError {
    error(
        span,
        format!("`{kind}` must be a table"),
        Some(format!("write [{kind}.\"ID\"] or [[{kind}]] with id = \"ID\"")),
    )
}

fn read_sources(sources: &DeTable<'_>, shelf: &mut Shelf, errors: &mut Vec<RowError>) {
    for (key, value) in sources {
        let text = |field: &str| {
            let fields = value.get_ref().as_table()?;
            fields.get(field).and_then(|v| v.get_ref().as_str()).map(str::to_owned)
        };
        let Some(title) = text("title") else {
            errors.push(error(
                key.span(),
                format!("source `{}` has no title", key.get_ref()),
                Some("write title = \"...\"".to_owned()),
            ));
            continue;
        };
        let seen = text("seen").unwrap_or_else(|| "by the shop".to_owned());
        let source = Source { key: key.get_ref().to_string(), title, seen };
        match shelf.sources.iter_mut().find(|s| s.key == source.key) {
            Some(old) => *old = source,
            None => shelf.sources.push(source),
        }
    }
}

/// The rows of one kind, keyed by id or listed.
fn read_kind<P: Kept>(
    value: &Spanned<DeValue<'_>>,
    sources: &[String],
    shelf: &mut Shelf,
    errors: &mut Vec<RowError>,
) {
    let mut seen: Vec<String> = Vec::new();
    let mut rows = Vec::new();
    match value.get_ref() {
        DeValue::Table(keyed) => {
            for (key, row) in keyed {
                match row.get_ref().as_table() {
                    Some(fields) => {
                        let entries: Vec<Entry<'_>> = fields.iter().map(entry).collect();
                        rows.push((key.get_ref().to_string(), key.span(), entries));
                    }
                    None => errors.push(no_table(P::KIND, key.span())),
                }
            }
        }
        DeValue::Array(listed) => {
            for row in listed.iter() {
                let Some(fields) = row.get_ref().as_table() else {
                    errors.push(no_table(P::KIND, row.span()));
                    continue;
                };
                let mut entries: Vec<Entry<'_>> = fields.iter().map(entry).collect();
                match take_text(&mut entries, "id").filter(|id| !id.is_empty()) {
                    Some(id) => rows.push((id, row.span(), entries)),
                    None => errors.push(error(
                        row.span(),
                        format!("a {} has no id", P::KIND),
                        Some("write id = \"...\"".to_owned()),
                    )),
                }
            }
        }
        _ => errors.push(no_table(P::KIND, value.span())),
    }
    for (id, span, entries) in rows {
        if seen.contains(&id) {
            errors.push(error(span, format!("{} `{id}` is there twice", P::KIND), None));
            continue;
        }
        seen.push(id.clone());
        read_row::<P>(Draft::new(id, span, entries), sources, shelf, errors);
    }
}

/// The part a row says it is `like`, if it says so, without what was said of that part alone.
fn model<P: Kept>(draft: &mut Draft<'_>, shelf: &Shelf) -> Result<Option<P>, RowError> {
    let Some(at) = draft.entries.iter().position(|e| same(e.key, "like")) else {
        return Ok(None);
    };
    let span = draft.entries[at].value.span();
    let like = take_text(&mut draft.entries, "like").unwrap_or_default();
    let Some(found) = P::of(shelf).iter().find(|p| p.row().id == like) else {
        let message = format!("there is no {} `{like}` to be like", P::KIND);
        return Err(error(span, message, nearest_id::<P>(&like, shelf)));
    };
    let mut model = found.clone();
    let row = model.row_mut();
    (row.price, row.mass_g, row.note) = (None, None, None);
    row.name.clear();
    Ok(Some(model))
}

fn nearest_id<P: Part>(id: &str, shelf: &Shelf) -> Option<String> {
    let near = nearest(id, P::of(shelf).iter().map(|p| p.row().id.as_str()));
    near.map(|near| format!("did you mean `{near}`?"))
}

fn read_row<P: Kept>(
    mut draft: Draft<'_>,
    sources: &[String],
    shelf: &mut Shelf,
    errors: &mut Vec<RowError>,
) {
    let place = P::of(shelf).iter().position(|p| p.row().id == draft.id);
    let was = match model::<P>(&mut draft, shelf) {
        Ok(Some(model)) => Some(model),
        Ok(None) => place.map(|at| P::of(shelf)[at].clone()),
        Err(wrong) => {
            errors.push(wrong);
            return;
        }
    };
    let head = draft.row(was.as_ref().map(P::row), P::COUNTED, sources);
    let mut part = P::read(&mut draft, was.as_ref(), head);
    if was.is_none() && !draft.states_values() {
        let message = format!("there is no {} `{}` on the shelf", P::KIND, draft.id);
        let hint = nearest_id::<P>(&draft.id, shelf)
            .unwrap_or_else(|| format!("`loomwright shelf {}` lists them", P::KIND));
        errors.push(error(draft.span.clone(), message, Some(hint)));
        return;
    }
    draft.close(P::KIND);
    if draft.errors.is_empty() {
        for (field, message) in part.faults(shelf) {
            let message = format!("{} `{}`: {message}", P::KIND, draft.id);
            draft.errors.push(error(draft.span_of(field), message, None));
        }
    }
    if !draft.errors.is_empty() {
        errors.append(&mut draft.errors);
        return;
    }
    let title = part.title();
    let name_was_made = was.as_ref().is_some_and(|w| part.row().name == w.title());
    // A part only like another states itself, even if it states no more than its own name.
    let kept = was.as_ref().map(P::row).filter(|_| place.is_some());
    let row = part.row_mut();
    (row.source, row.standing) = draft.cited(kept);
    if row.name.is_empty() || name_was_made {
        row.name = title;
    }
    match place {
        Some(at) => P::of_mut(shelf)[at] = part,
        None => P::of_mut(shelf).push(part),
    }
}
