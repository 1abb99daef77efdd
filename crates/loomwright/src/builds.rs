//! From a folder to a plan: the document, the shop's own parts beside it, the shelf.

use std::borrow::Cow;
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
    /// Name of the document in its folder.
    pub(crate) file: String,
}

/// Plans the build at `path`; none if a document is wrong, and then every error has been said.
pub(crate) fn plan(path: &Path) -> Result<Option<Planned>> {
    let document = disk::document(path);
    let sheet = disk::read(&document)?;
    let shop = disk::read_if_there(&document.with_file_name(disk::SHOP))?;

    let mut reading = document::read(&sheet.text);
    let (shelf, wrong) = match &shop {
        Some(shop) => shelf_of(shop),
        None => (Cow::Borrowed(standard()), Vec::new()),
    };
    let (files, wrong_files) = faces(&document, &mut reading.build)?;
    if reading.errors.is_empty()
        && let Some(duty) = &mut reading.build.duty
    {
        reading.errors = logs::attach(&document, &sheet.text, duty)?;
    }
    let said = [(Some(&sheet), &reading.errors), (shop.as_ref(), &wrong)];
    let mut readable = true;
    for (sheet, errors) in said.into_iter().chain(files.iter().map(Some).zip(&wrong_files)) {
        if let Some(sheet) = sheet
            && !errors.is_empty()
        {
            readable = false;
            terminal::message(&errors::show(sheet, errors, terminal::colour()));
        }
    }
    if !readable {
        return Ok(None);
    }
    let texts: Vec<&str> = std::iter::once(&sheet)
        .chain(&shop)
        .chain(&files)
        .map(|sheet| sheet.text.as_str())
        .collect();
    // Of a log only what was taken from it can change the plan.
    let log = reading.build.duty.as_ref().and_then(|d| d.log.as_ref());
    let log = log.map(|log| format!("{log:?}"));
    let texts: Vec<&str> = texts.into_iter().chain(log.as_deref()).collect();
    reading.build.digest = document::digest(&texts);
    let file = document.file_name().unwrap_or_default().to_string_lossy().into_owned();
    Ok(Some(Planned { plan: plan::plan(&reading.build, &shelf), file }))
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
fn faces(document: &Path, build: &mut Build) -> Result<(Vec<Sheet>, Vec<Vec<DocumentError>>)> {
    let (mut files, mut wrong): (Vec<Sheet>, Vec<Vec<DocumentError>>) =
        (Vec::new(), Vec::new());
    let mut read: Vec<String> = Vec::new();
    // A face file may name a drawing, so what is wanted is asked again until nothing new is.
    while let Some(name) =
        face::all_wanted(build).into_iter().find(|n| !read.contains(&n.value))
    {
        let sheet = disk::read(&disk::beside_document(document, &name.value)?)?;
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
