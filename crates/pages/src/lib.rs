//! The pages of the bench, built from `web/` and carried inside the program.
//!
//! The build script runs `npm ci` when `web/package-lock.json` has changed since it last did, then `vite build`.
//! `UI_DIST` names a folder of pages that are built already; then neither node nor npm is needed.

/// A file of the pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct File {
    /// Its path: "index.html", "assets/main-1a2b3c.js".
    pub name: &'static str,
    /// Its media type.
    pub media: &'static str,
    /// What is in it.
    pub bytes: &'static [u8],
}

include!(concat!(env!("OUT_DIR"), "/files.rs"));

/// All files, by name.
pub fn files() -> &'static [File] {
    FILES
}

/// The file of that name.
pub fn file(name: &str) -> Option<&'static File> {
    FILES.binary_search_by(|file| file.name.cmp(name)).ok().map(|at| &FILES[at])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_page_is_there_and_names_its_scripts() {
        let page = file("index.html").expect("index.html is among the pages");
        assert_eq!(page.media, "text/html; charset=utf-8");
        let text = std::str::from_utf8(page.bytes).unwrap();
        for script in text.split("src=\"/").skip(1) {
            let name = script.split('"').next().unwrap();
            assert!(file(name).is_some(), "{name} is missing");
        }
        assert!(file("../Cargo.toml").is_none());
        assert!(files().iter().is_sorted_by_key(|f| f.name));
    }
}
