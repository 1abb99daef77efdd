//! Readers that are not ours: Python libraries that open the files our tests have written.
//!
//! They live in a virtual environment in the target folder, made once from pinned requirements.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::{say, tools};

const TESTS: &str = "tests/python";
const REQUIREMENTS: &str = "tests/python/requirements.txt";

/// Runs the readers; gives why they were left out, if they were.
pub(crate) fn run() -> Result<Option<String>, String> {
    let target = tools::target()?;
    let parts = target.join("tmp").join("parts");
    if !parts.join("facts.tsv").is_file() {
        return Err("no parts were written to read back: did the tests of draw run?".to_owned());
    }
    let python = match environment(&target) {
        Ok(python) => python,
        // A server must read back; at a workbench without a network the rest still counts.
        Err(why) if std::env::var_os("CI").is_some() => return Err(why),
        Err(why) => return Ok(Some(why)),
    };
    let mut unittest = Command::new(python);
    unittest
        .args(["-B", "-m", "unittest", "discover", "--start-directory", TESTS])
        .env("LOOMWRIGHT_PARTS", &parts)
        .env("LOOMWRIGHT_PEERS", target.join("tmp").join("peers"))
        .current_dir(tools::root());
    tools::timed(&mut unittest)?;
    Ok(None)
}

/// Drops what earlier tests wrote to be read back, so that nobody reads a file which is no longer written.
pub(crate) fn forget() -> Result<(), String> {
    for folder in ["parts", "peers"] {
        let folder = tools::target()?.join("tmp").join(folder);
        if folder.exists() {
            fs::remove_dir_all(&folder)
                .map_err(|error| format!("{}: {error}", folder.display()))?;
        }
    }
    Ok(())
}

/// Ours beside general-purpose libraries, in one run: writes what both solve, optimised, and prints a table.
pub(crate) fn compare(words: &[String]) -> Result<(), String> {
    if !words.is_empty() {
        return Err("compare takes no words".to_owned());
    }
    let target = tools::target()?;
    let python = environment(&target)?;
    for package in ["physics", "space"] {
        let mut ours = tools::cargo();
        ours.args(["test", "--release", "--quiet", "--package", package, "--test", "peers"]);
        tools::timed(&mut ours)?;
    }
    let mut theirs = Command::new(python);
    theirs
        .args(["-B", "compare.py"])
        .env("LOOMWRIGHT_PEERS", target.join("tmp").join("peers"))
        .current_dir(tools::root().join(TESTS));
    tools::timed(&mut theirs).map(drop)
}

/// Python in its environment, with the libraries the tests ask for.
fn environment(target: &Path) -> Result<PathBuf, String> {
    let home = target.join("python");
    let python = if cfg!(windows) {
        home.join("Scripts").join("python.exe")
    } else {
        home.join("bin").join("python")
    };
    let wanted = fs::read_to_string(tools::root().join(REQUIREMENTS))
        .map_err(|error| format!("{REQUIREMENTS}: {error}"))?;
    let stamp = home.join("installed.txt");
    if python.is_file() && fs::read_to_string(&stamp).is_ok_and(|kept| kept == wanted) {
        return Ok(python);
    }
    let Some(system) = ["python3", "python"].into_iter().find(|name| tools::is_installed(name))
    else {
        return Err("Python is not installed".to_owned());
    };
    say::line(&format!("setting up {} from {REQUIREMENTS}", tools::short(&home)));
    let mut make = Command::new(system);
    tools::timed(make.args(["-m", "venv", "--clear"]).arg(&home))
        .map_err(|error| format!("no virtual environment: {error}"))?;
    let mut install = Command::new(&python);
    install
        .args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check"])
        .args(["--requirement", REQUIREMENTS])
        .current_dir(tools::root());
    tools::timed(&mut install).map_err(|error| format!("its libraries: {error}"))?;
    fs::write(&stamp, wanted).map_err(|error| format!("{}: {error}", stamp.display()))?;
    Ok(python)
}
