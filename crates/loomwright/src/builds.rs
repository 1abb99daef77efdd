//! From a folder to a plan: the document, the shop's own parts beside it, the shelf.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::path::Path;

use anyhow::Result;
use plan::Plan;
use plan::given::build::Build;
use plan::given::document::{self, DocumentError};
use plan::given::face;
use plan::given::read::Reader;
use plan::given::shelf::Shelf;
use plan::given::shelf_read::{standard, with_shop};

use crate::disk::{self, Sheet};
use crate::{errors, logs, terminal};

/// A plan and the name of the document its findings point into.
pub(crate) struct Planned {
    /// The plan.
    pub(crate) plan: Plan,
    /// What it is the plan of, as written.
    pub(crate) build: Build,
    /// Name of the document in its folder.
    pub(crate) file: String,
}

/// What became of the texts of a build.
pub(crate) enum Read {
    /// A plan, and the texts it was made from, the document first.
    Planned(Box<Planned>, Vec<Sheet>),
    /// Texts with what is wrong with each, the document first.
    Wrong(Vec<(Sheet, Vec<DocumentError>)>),
}

/// Plans the build at `path`; none if a document is wrong, and then every error has been said.
pub(crate) fn plan(path: &Path) -> Result<Option<Planned>> {
    match read(&disk::document(path), &BTreeMap::new())? {
        Read::Planned(planned, _) => Ok(Some(*planned)),
        Read::Wrong(sheets) => {
            for (sheet, errors) in sheets.iter().filter(|(_, errors)| !errors.is_empty()) {
                terminal::message(&errors::show(sheet, errors, terminal::colour()));
            }
            Ok(None)
        }
    }
}

/// Reads and plans a document. A file that has a text in `held`, by its name beside the document, is not read
/// from the disk.
pub(crate) fn read(document: &Path, held: &BTreeMap<String, String>) -> Result<Read> {
    let name = document.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let sheet = match held.get(&name) {
        Some(text) => held_sheet(document, text),
        None => disk::read(document)?,
    };
    let beside = document.with_file_name(disk::SHOP);
    let shop = match held.get(disk::SHOP) {
        Some(text) => Some(held_sheet(&beside, text)),
        None => disk::read_if_there(&beside)?,
    };

    let mut reading = document::read(&sheet.text);
    let (shelf, wrong_shop) = match &shop {
        Some(shop) => shelf_of(shop),
        None => (Cow::Borrowed(standard()), Vec::new()),
    };
    let (files, wrong_files) = faces(document, &mut reading.build, held)?;
    if reading.errors.is_empty()
        && let Some(duty) = &mut reading.build.duty
    {
        reading.errors = logs::attach(document, &sheet.text, duty)?;
    }
    let mut all = vec![(sheet, reading.errors)];
    all.extend(shop.map(|shop| (shop, wrong_shop)));
    all.extend(files.into_iter().zip(wrong_files));
    if all.iter().any(|(_, errors)| !errors.is_empty()) {
        return Ok(Read::Wrong(all));
    }
    let sheets: Vec<Sheet> = all.into_iter().map(|(sheet, _)| sheet).collect();
    // Of a log only what was taken from it can change the plan.
    let log = reading.build.duty.as_ref().and_then(|d| d.log.as_ref());
    let log = log.map(|log| format!("{log:?}"));
    let texts: Vec<&str> =
        sheets.iter().map(|sheet| sheet.text.as_str()).chain(log.as_deref()).collect();
    reading.build.digest = document::digest(&texts);
    let plan = plan::plan(&reading.build, &shelf);
    Ok(Read::Planned(Box::new(Planned { plan, build: reading.build, file: name }), sheets))
}

fn held_sheet(path: &Path, text: &str) -> Sheet {
    Sheet { name: path.display().to_string(), text: text.to_owned() }
}

/// The shelf as a build at `path` sees it; none if its parts are wrong, and then every error has been said.
pub(crate) fn shelf(path: &Path) -> Result<Option<Cow<'static, Shelf>>> {
    let document = disk::document(path);
    // Whoever asks for the shelf of a folder that is no build has mistyped it.
    disk::read(&document)?;
    let Some(shop) = disk::read_if_there(&document.with_file_name(disk::SHOP))? else {
        return Ok(Some(Cow::Borrowed(standard())));
    };
    let (shelf, wrong) = shelf_of(&shop);
    if !wrong.is_empty() {
        terminal::message(&errors::show(&shop, &wrong, terminal::colour()));
        return Ok(None);
    }
    Ok(Some(shelf))
}

/// Reads the face files and drawings a build names, and those the face files name, and puts them in it.
fn faces(
    document: &Path,
    build: &mut Build,
    held: &BTreeMap<String, String>,
) -> Result<(Vec<Sheet>, Vec<Vec<DocumentError>>)> {
    let (mut files, mut wrong): (Vec<Sheet>, Vec<Vec<DocumentError>>) =
        (Vec::new(), Vec::new());
    let mut read: Vec<String> = Vec::new();
    // A face file may name a drawing, so what is wanted is asked again until nothing new is.
    while let Some(name) =
        face::all_wanted(build).into_iter().find(|n| !read.contains(&n.value))
    {
        let path = disk::beside_document(document, &name.value)?;
        let sheet = match held.get(&name.value) {
            Some(text) => held_sheet(&path, text),
            None => disk::read(&path)?,
        };
        wrong.push(face::attach(build, &name.value, &sheet.text));
        files.push(sheet);
        read.push(name.value);
    }
    Ok((files, wrong))
}

/// The shelf with the shop's parts, and their mistakes with their places.
fn shelf_of(shop: &Sheet) -> (Cow<'static, Shelf>, Vec<DocumentError>) {
    let (shelf, errors) = with_shop(standard(), &shop.text);
    let reader = Reader::new(&shop.text);
    let placed = errors
        .into_iter()
        .map(|e| DocumentError {
            at: reader.place(&e.span),
            span: e.span,
            message: e.message,
            hint: e.hint,
        })
        .collect();
    (Cow::Owned(shelf), placed)
}
