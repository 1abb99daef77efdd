//! The bench's pages: their own checks in node, and their tests in a real browser.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

use crate::{say, tools};

/// Where browsers stand on systems that have them.
const BROWSERS: [&str; 3] =
    ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

fn web() -> PathBuf {
    tools::root().join("web")
}

fn npm(words: &[&str]) -> Command {
    let mut command = Command::new(if cfg!(windows) { "npm.cmd" } else { "npm" });
    command.args(words).current_dir(web());
    command
}

/// Fetches what the pages are built and tested with, if the lock has changed since; as the build script does.
fn install() -> Result<(), String> {
    if !tools::is_installed("node") || !tools::works(&mut npm(&["--version"])) {
        return Err(
            "node 20.19 or newer and its npm are needed for the bench's pages".to_owned()
        );
    }
    let read = |name: &str| fs::read_to_string(web().join(name)).ok();
    let wanted = read("package-lock.json").ok_or("web/package-lock.json is missing")?;
    let stamp = "node_modules/.lock-installed";
    if read(stamp).as_deref() == Some(&wanted) {
        return Ok(());
    }
    tools::timed(&mut npm(&["ci", "--no-audit", "--no-fund"]))?;
    fs::write(web().join(stamp), wanted).map_err(|error| format!("{stamp}: {error}"))
}

/// Types, lints, and the tests that need no browser.
pub(crate) fn check() -> Result<(), String> {
    install()?;
    tools::timed(&mut npm(&["run", "check"]))?;
    tools::timed(&mut npm(&["run", "unit"])).map(drop)
}

/// The pages driven as a person would. Why they were not, where there is no browser.
pub(crate) fn browser() -> Result<Option<String>, String> {
    install()?;
    let named = std::env::var_os("CHROMIUM").is_some();
    if !named && !has_browser() && !installs_browser() {
        let why = "no chromium: `apt-get install chromium`, or say with CHROMIUM where one is";
        if std::env::var_os("CI").is_some() {
            return Err(why.to_owned());
        }
        return Ok(Some(why.to_owned()));
    }
    let (program, _) = tools::program()?;
    // One of the tests weighs what is built.
    tools::timed(&mut npm(&["run", "build"]))?;
    let mut run = npm(&["run", "browser"]);
    run.env("LOOMWRIGHT", program);
    tools::timed(&mut run).map(|_| None)
}

fn has_browser() -> bool {
    BROWSERS.iter().any(|place| fs::exists(place).unwrap_or(false))
}

/// Installs Debian's where that needs nobody's leave.
fn installs_browser() -> bool {
    say::line("no chromium is installed; trying to, for the tests of the bench's pages");
    tools::installs("chromium") && has_browser()
}
