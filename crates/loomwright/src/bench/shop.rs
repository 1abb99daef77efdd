//! A part added to the shop's own shelf, judged before it is.

use std::sync::Arc;

use plan::given::document::DocumentError;
use plan::given::read::Reader;
use plan::given::shelf_read::{kinds, standard, with_shop};

use super::desk::Desk;
use super::edit;
use super::history::{Called, Texts};
use super::refusal::Refusal;
use super::room::Room;
use crate::disk;
use crate::wire::{self, EditAsked, MistakeWire, ShopAsked, ShopWire};

/// The part's table name: its id, or the next free number where it has none.
fn id_of(asked: &ShopAsked) -> Result<String, Refusal> {
    let id = asked.id().unwrap_or_default();
    let odd = |c: char| c.is_control() || c == '"' || c == '\\';
    if id.is_empty() || id.len() > 80 || id.chars().any(odd) {
        return Err(Refusal::bad("a part needs a name of its own")
            .hint("field `id`: what a build will call it, such as \"M32 grip, our stock\""));
    }
    Ok(id)
}

/// Judges a part, and adds it where nothing is wrong with it.
///
/// # Errors
/// When the kind is none, the part has no id, or the text of the shelf is no TOML.
pub(crate) fn add(
    room: &Arc<Room>,
    desk: &Arc<Desk>,
    asked: ShopAsked,
) -> Result<ShopWire, Refusal> {
    if !kinds().iter().any(|(kind, _)| *kind == asked.kind) {
        return Err(
            Refusal::absent("the shelf has no such kind of part").hint("/api/shelf/kinds")
        );
    }
    let id = id_of(&asked)?;
    let made = |texts: &Texts| -> Result<(String, Vec<MistakeWire>), Refusal> {
        let mut text = texts.get(disk::SHOP).cloned().unwrap_or_default();
        for (field, value) in asked.fields.iter().filter(|(field, _)| *field != "id") {
            let edit = EditAsked {
                file: None,
                path: vec![asked.kind.clone(), id.clone(), field.clone()],
                value: Some(value.clone()),
                unit: None,
            };
            text = edit::set(&text, &edit).map_err(Refusal::bad)?;
        }
        let errors = mistakes(&text);
        Ok((text, errors))
    };
    let (texts, version) = desk.texts();
    let (text, errors) = made(&texts)?;
    if asked.only_check == Some(true) || !errors.is_empty() {
        return Ok(ShopWire { added: false, errors, text, version });
    }
    let called = Called { label: format!("{} {id}", asked.kind), gather: None };
    let changed = desk.change(
        None,
        &called,
        asked.asker.clone(),
        |texts| {
            let mut texts = texts.clone();
            let (text, _) = made(&texts)?;
            texts.insert(disk::SHOP.to_owned(), text);
            Ok(texts)
        },
        || room.plan(desk),
    )?;
    Ok(ShopWire { added: true, errors: Vec::new(), text, version: changed.version })
}

/// What is wrong with a text of parts.
fn mistakes(text: &str) -> Vec<MistakeWire> {
    let (_, errors) = with_shop(standard(), text);
    let reader = Reader::new(text);
    let placed = errors.into_iter().map(|e| DocumentError {
        at: reader.place(&e.span),
        span: e.span,
        message: e.message,
        hint: e.hint,
    });
    placed.map(|error| wire::mistake(&error, disk::SHOP)).collect()
}
