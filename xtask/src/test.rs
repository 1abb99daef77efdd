//! Everything a change must pass, in one command, the same here and on a server.

use std::time::{Duration, Instant};

use crate::{generated, pages, python, say, tidy, tools};

/// One part of the whole, and what came of it.
struct Part {
    name: &'static str,
    took: Duration,
    outcome: Result<(), String>,
}

/// Runs every part, also after one has failed, and says how long each took.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    if !words.is_empty() {
        return Err("test takes no words; for one crate: cargo test -p NAME".to_owned());
    }
    let has_poppler = prepare()?;
    let mut unread = None;
    let mut no_browser = None;
    let parts = [
        part("format", || cargo(&["fmt", "--all", "--check"])),
        part("house", || tidy::run(&[])),
        part("lints", || {
            cargo(&["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"])
        }),
        part("tests", || python::forget().and_then(|()| cargo(&["test", "--workspace"]))),
        part("readers", || python::run().map(|why| unread = why)),
        part("docs", generated::check),
        part("pages", pages::check),
        part("browser", || pages::browser().map(|why| no_browser = why)),
    ];
    say::line("");
    for Part { name, took, outcome } in &parts {
        let word = if outcome.is_ok() { "holds" } else { "FAILS" };
        say::line(&format!("{name:8}{:>14}  {word}", say::took(*took)));
    }
    if !has_poppler {
        say::line("SKIPPED: the tests that read the PDF back, for pdftotext is not installed");
    }
    if let Some(why) = unread {
        say::line(&format!("SKIPPED: the readers of DXF and STEP that are not ours: {why}"));
    }
    if let Some(why) = no_browser {
        say::line(&format!("SKIPPED: the tests of the bench in a browser: {why}"));
    }
    let failed: Vec<&str> =
        parts.iter().filter(|part| part.outcome.is_err()).map(|part| part.name).collect();
    if failed.is_empty() { Ok(()) } else { Err(format!("failed: {}", failed.join(", "))) }
}

fn part(name: &'static str, run: impl FnOnce() -> Result<(), String>) -> Part {
    say::line(&format!("== {name}"));
    let start = Instant::now();
    let outcome = run();
    if let Err(message) = &outcome {
        say::problem(message);
    }
    Part { name, took: start.elapsed(), outcome }
}

fn cargo(words: &[&str]) -> Result<(), String> {
    tools::timed(tools::cargo().args(words)).map(drop)
}

/// Sees to what the tests need. Whether the tests that read the PDF back can run.
fn prepare() -> Result<bool, String> {
    let mut missing = Vec::new();
    for component in ["rustfmt", "clippy"] {
        let word = component.trim_start_matches("rust");
        if !tools::works(tools::cargo().args([word, "--version"])) {
            missing.push(component);
        }
    }
    if !missing.is_empty() {
        let names = missing.join(" ");
        return Err(format!(
            "cargo lacks {names}: `rustup component add {names}`, or the packages of those names \
             of your system"
        ));
    }
    if has_poppler() || installs_poppler() {
        return Ok(true);
    }
    if std::env::var_os("CI").is_some() {
        return Err(format!("pdftotext and pdftoppm are missing: {}", poppler_advice()));
    }
    say::line(&format!("pdftotext and pdftoppm are missing: {}", poppler_advice()));
    say::line("the tests that read the PDF back are skipped");
    Ok(false)
}

fn has_poppler() -> bool {
    tools::is_installed("pdftotext") && tools::is_installed("pdftoppm")
}

fn installs_poppler() -> bool {
    say::line(
        "pdftotext is missing; trying to install poppler-utils, with which tests read the PDF back",
    );
    tools::installs("poppler-utils") && has_poppler()
}

fn poppler_advice() -> &'static str {
    if cfg!(target_os = "macos") {
        "`brew install poppler`"
    } else if cfg!(windows) {
        "install Poppler for Windows and put its bin folder on PATH"
    } else {
        "install poppler-utils with your system's package manager"
    }
}
