//! Page model to PDF. The only file that knows the typesetter.
//!
//! Everything the typesetter may read is in this file's hands: the templates and the fonts are part of the
//! program, the pages come as one data file, the drawings under fixed names. There is no disk, no network,
//! no package, no system font and no clock, so the same pages give the same bytes.
//!
//! File names are fixed because the typesetter remembers every name it ever saw for the life of the
//! process.

use std::sync::LazyLock;

use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

use draw::Drawing;

use crate::model::Book;

/// Why there is no book. Always a fault of this program, never of a build.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BookError {
    /// What the typesetter said, one line each.
    pub messages: Vec<String>,
}

impl std::fmt::Display for BookError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "the book could not be set: {}", self.messages.join("; "))
    }
}

impl std::error::Error for BookError {}

const MAIN: &str = "main.typ";
const DATA: &str = "book.json";
/// The template of drawings that are printed by themselves.
const SHEETS: &str = "sheets.typ";

/// The templates by the names they import each other under.
const TEMPLATES: [(&str, &str); 4] = [
    (MAIN, include_str!("../typ/main.typ")),
    ("blocks.typ", include_str!("../typ/blocks.typ")),
    ("cover.typ", include_str!("../typ/cover.typ")),
    ("work.typ", include_str!("../typ/work.typ")),
];

/// Fonts are read once a process.
static FONTS: LazyLock<Vec<Font>> = LazyLock::new(|| {
    let files: [&'static [u8]; 4] = [
        include_bytes!("../fonts/IBMPlexSans-Regular.ttf"),
        include_bytes!("../fonts/IBMPlexSans-Italic.ttf"),
        include_bytes!("../fonts/IBMPlexSans-SemiBold.ttf"),
        include_bytes!("../fonts/IBMPlexMono-Regular.ttf"),
    ];
    files.into_iter().flat_map(|data| Font::iter(Bytes::new(data))).collect()
});

/// Sets a book. The same pages give the same bytes.
pub(crate) fn set(book: &Book) -> Result<Vec<u8>, BookError> {
    let data = serde_json::to_vec(book).map_err(|e| BookError {
        messages: vec![format!("pages cannot be written down: {e}")],
    })?;
    let desk = Desk::new(book, data);
    print(&desk, &book.digest)
}

/// Sets drawings, each on a page of its own size. The same drawings give the same bytes.
pub(crate) fn sheets(drawings: &[Drawing], ident: &str) -> Result<Vec<u8>, BookError> {
    let sizes: Vec<_> = drawings.iter().map(|d| (d.width_mm, d.height_mm)).collect();
    let data = serde_json::to_vec(&sizes).map_err(|e| BookError {
        messages: vec![format!("sizes cannot be written down: {e}")],
    })?;
    let mut files = vec![
        (file_id(SHEETS), Bytes::from_string(include_str!("../typ/sheets.typ"))),
        (file_id("sheets.json"), Bytes::new(data)),
    ];
    for (i, drawing) in drawings.iter().enumerate() {
        let id = file_id(&crate::model::figure_name(i));
        files.push((id, Bytes::from_string(drawing.svg.clone())));
    }
    print(&Desk::of(SHEETS, files, None), ident)
}

fn print(desk: &Desk, ident: &str) -> Result<Vec<u8>, BookError> {
    let compiled = typst::compile::<PagedDocument>(desk);
    let document = compiled.output.map_err(|errors| desk.explain(&errors))?;
    // A warning means a template of ours is wrong; it does not keep a customer from the book.
    debug_assert!(compiled.warnings.is_empty(), "{}", desk.explain(&compiled.warnings));
    let options = PdfOptions {
        ident: Smart::Custom(format!("loomwright {ident}")),
        creator: Smart::Custom(Some("Loomwright".to_owned())),
        timestamp: None,
        ..PdfOptions::default()
    };
    let bytes = typst_pdf::pdf(&document, &options).map_err(|errors| desk.explain(&errors))?;
    // A server sets many books; what the last few did not use is forgotten.
    comemo::evict(10);
    Ok(bytes)
}

/// What the typesetter can see.
struct Desk {
    library: LazyHash<Library>,
    faces: LazyHash<FontBook>,
    main: FileId,
    files: Vec<(FileId, Bytes)>,
    today: Option<Datetime>,
}

impl Desk {
    fn new(book: &Book, data: Vec<u8>) -> Desk {
        let mut files: Vec<(FileId, Bytes)> = TEMPLATES
            .iter()
            .map(|(name, text)| (file_id(name), Bytes::from_string(*text)))
            .collect();
        files.push((file_id(DATA), Bytes::new(data)));
        for (i, svg) in book.figures.iter().enumerate() {
            let id = file_id(&crate::model::figure_name(i));
            files.push((id, Bytes::from_string(svg.clone())));
        }
        let today = book.date.and_then(|d| Datetime::from_ymd(d.year, d.month, d.day));
        Desk::of(MAIN, files, today)
    }

    fn of(main: &str, files: Vec<(FileId, Bytes)>, today: Option<Datetime>) -> Desk {
        Desk {
            library: LazyHash::new(Library::default()),
            faces: LazyHash::new(FontBook::from_fonts(FONTS.iter())),
            main: file_id(main),
            files,
            today,
        }
    }

    fn explain<'a>(&self, faults: impl IntoIterator<Item = &'a SourceDiagnostic>) -> BookError {
        let messages = faults
            .into_iter()
            .map(|fault| {
                let place = fault.span.id().and_then(|id| {
                    let source = self.source(id).ok()?;
                    let range = typst::WorldExt::range(self as &dyn World, fault.span)?;
                    let line = source.lines().byte_to_line(range.start)? + 1;
                    Some(format!("{}:{line}: ", id.get().vpath().get_without_slash()))
                });
                let hints: Vec<String> =
                    fault.hints.iter().map(|hint| format!(" ({})", hint.v)).collect();
                format!("{}{}{}", place.unwrap_or_default(), fault.message, hints.concat())
            })
            .collect();
        BookError { messages }
    }
}

fn file_id(name: &str) -> FileId {
    let path = VirtualPath::new(name).expect("our file names are plain");
    RootedPath::new(VirtualRoot::Project, path).intern()
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.faces
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let bytes = self.file(id)?;
        let text = std::str::from_utf8(&bytes).map_err(|_| FileError::InvalidUtf8)?;
        Ok(Source::new(id, text.to_owned()))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.files
            .iter()
            .find(|(known, _)| *known == id)
            .map(|(_, bytes)| bytes.clone())
            .ok_or_else(|| FileError::NotFound(id.get().vpath().get_without_slash().into()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        self.today
    }
}
