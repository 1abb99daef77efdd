//! The only module that meets files: bounded reads, whole writes.

use std::fs;
use std::io::{self, Read, Write};
use std::path::{Component, Path, PathBuf};
use std::time::SystemTime;

use anyhow::{Context, Result, bail};
use plan::given::document::SIZE_MAX;

/// Name of the build document in its folder.
pub(crate) const DOCUMENT: &str = "build.toml";

/// Name of the shop's own shelf beside it.
pub(crate) const SHOP: &str = "parts.toml";

/// A text and the name it is shown by.
pub(crate) struct Sheet {
    /// The path as the user would write it.
    pub(crate) name: String,
    /// What stands in it.
    pub(crate) text: String,
}

/// The build document at `path`, a folder or the document itself.
pub(crate) fn document(path: &Path) -> PathBuf {
    if path.is_dir() { path.join(DOCUMENT) } else { path.to_owned() }
}

/// A file a document names: in its own folder or below it, so that a build from elsewhere reads nothing else.
pub(crate) fn beside_document(document: &Path, name: &str) -> Result<PathBuf> {
    let inside = Path::new(name).components().all(|c| matches!(c, Component::Normal(_)));
    if !inside || name.contains('\\') {
        bail!(
            "{}: `{name}` is not in the folder of the document or below it",
            document.display()
        );
    }
    Ok(document.with_file_name(name))
}

/// Reads a text: at most [`SIZE_MAX`] bytes, UTF-8, no NUL.
pub(crate) fn read(path: &Path) -> Result<Sheet> {
    let name = path.display().to_string();
    let file = fs::File::open(path).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => {
            anyhow::anyhow!("{name}: there is no such file{}", to_do(path))
        }
        _ => anyhow::anyhow!("{name}: {error}"),
    })?;
    if file.metadata().with_context(|| name.clone())?.is_dir() {
        bail!("{name}: this is a folder, not a file");
    }
    let mut bytes = Vec::new();
    // One byte more than is allowed tells a document that is too long, whatever its length says.
    file.take(SIZE_MAX as u64 + 1)
        .read_to_end(&mut bytes)
        .with_context(|| format!("{name}: cannot be read"))?;
    if bytes.len() > SIZE_MAX {
        bail!(
            "{name}: the file is larger than {SIZE_MAX} bytes and is not read: a document of text never is"
        );
    }
    if let Some(at) = bytes.iter().position(|b| *b == 0) {
        bail!("{name}: this is no text but some other kind of file: byte {} is zero", at + 1);
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Sheet { name, text }),
        Err(error) => {
            let good = error.utf8_error().valid_up_to();
            let line = error.as_bytes()[..good].iter().filter(|b| **b == b'\n').count() + 1;
            bail!("{name}:{line}: this is no UTF-8 text: save it as UTF-8");
        }
    }
}

/// What to do about a document that is not there.
fn to_do(path: &Path) -> String {
    let folder = if path.ends_with(DOCUMENT) { path.parent() } else { Some(path) };
    let builds = path.ends_with(DOCUMENT) || path.extension().is_none();
    match folder.map(Path::display) {
        Some(folder) if builds => {
            let folder = folder.to_string();
            let folder = if folder.is_empty() { "." } else { &folder };
            format!("; `loomwright new {folder}` makes a build to start from")
        }
        _ => String::new(),
    }
}

/// Reads a text if there is a file at all.
pub(crate) fn read_if_there(path: &Path) -> Result<Option<Sheet>> {
    match path.try_exists() {
        Ok(false) => Ok(None),
        _ => read(path).map(Some),
    }
}

/// Writes a whole file or leaves the old one: a temporary file beside it, then a rename.
pub(crate) fn write(path: &Path, bytes: &[u8]) -> Result<()> {
    let shown = path.display();
    if path.is_dir() {
        bail!("{shown}: this is a folder, not a file");
    }
    if path.exists() && !path.is_file() {
        // A device or a pipe is not replaced but written to.
        return fs::write(path, bytes).with_context(|| format!("{shown}: cannot be written"));
    }
    let whole = || format!("{shown}: cannot be written, and what was there is left as it was");
    let (mut file, part) = beside(path).with_context(whole)?;
    let written = file.write_all(bytes).and_then(|()| file.sync_all());
    drop(file);
    let done = written.and_then(|()| fs::rename(&part, path));
    if done.is_err() {
        // The half is of no use to anyone; if even removing it fails, the first error matters more.
        let _ = fs::remove_file(&part);
    }
    done.with_context(whole)
}

/// Removes a file of ours that must not be used any more.
pub(crate) fn remove_if_there(path: &Path) -> Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            Err(error).with_context(|| format!("{}: cannot be removed", path.display()))
        }
        _ => Ok(()),
    }
}

/// A new file in the same folder, so that the rename stays within one disk.
fn beside(path: &Path) -> io::Result<(fs::File, PathBuf)> {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut tried = 0;
    loop {
        let part = path.with_file_name(format!(".{name}.{}-{tried}.part", std::process::id()));
        match fs::File::create_new(&part) {
            Ok(file) => return Ok((file, part)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists && tried < 100 => {
                tried += 1
            }
            Err(error) => return Err(error),
        }
    }
}

/// Takes a file away; one that is not there is no error.
pub(crate) fn remove(path: &Path) -> Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            Err(error).with_context(|| format!("{}: cannot be removed", path.display()))
        }
        _ => Ok(()),
    }
}

/// When a file was written and how long it is; none if there is none.
pub(crate) fn stamp(path: &Path) -> Option<(SystemTime, u64)> {
    let about = fs::metadata(path).ok()?;
    Some((about.modified().ok()?, about.len()))
}

/// Names of the folders in a folder, by name; hidden ones are left out.
pub(crate) fn folders(folder: &Path) -> Result<Vec<String>> {
    let shown = || format!("{}: cannot be listed", folder.display());
    let mut names = Vec::new();
    for entry in fs::read_dir(folder).with_context(shown)? {
        let entry = entry.with_context(shown)?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if !name.starts_with('.') && entry.path().is_dir() {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}

/// Reads a file that is no text: at most `most` bytes.
pub(crate) fn read_bytes(path: &Path, most: u64) -> Result<Vec<u8>> {
    let shown = path.display();
    let file = fs::File::open(path).with_context(|| format!("{shown}: cannot be opened"))?;
    let mut bytes = Vec::new();
    file.take(most + 1).read_to_end(&mut bytes).with_context(|| format!("{shown}"))?;
    if bytes.len() as u64 > most {
        bail!("{shown}: the file is larger than {most} bytes");
    }
    Ok(bytes)
}

/// The TOML files of a folder, by name.
pub(crate) fn tables(folder: &Path) -> Result<Vec<PathBuf>> {
    let shown = || format!("{}: cannot be listed", folder.display());
    let mut paths = Vec::new();
    for entry in fs::read_dir(folder).with_context(shown)? {
        let path = entry.with_context(shown)?.path();
        if path.extension().is_some_and(|e| e == "toml") {
            paths.push(path);
        }
    }
    paths.sort();
    Ok(paths)
}

/// Makes a folder and those above it.
pub(crate) fn folder(path: &Path) -> Result<()> {
    fs::create_dir_all(path).with_context(|| format!("{}: cannot be made", path.display()))
}
