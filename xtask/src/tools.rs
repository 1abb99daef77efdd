//! Other programs: cargo, ours, and the few that tests need.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// The folder that holds the workspace.
pub(crate) fn root() -> PathBuf {
    // Cargo sets the variable when it runs us; a copy run by hand falls back on where it was built.
    let ours = std::env::var_os("CARGO_MANIFEST_DIR")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    ours.parent().expect("xtask lies in the workspace's folder").to_path_buf()
}

/// Cargo, the same one that runs us, in the workspace's folder.
pub(crate) fn cargo() -> Command {
    let name =
        std::env::var_os("CARGO").unwrap_or_else(|| OsStr::new(env!("CARGO")).to_owned());
    let mut command = Command::new(name);
    command.current_dir(root());
    command
}

/// Where cargo puts what it builds, wherever the user has told it to.
pub(crate) fn target() -> Result<PathBuf, String> {
    let ours = std::env::current_exe().map_err(|error| format!("own path unknown: {error}"))?;
    match ours.parent().and_then(Path::parent) {
        Some(target) => Ok(target.to_path_buf()),
        None => Err(format!("{} is not in a target folder", ours.display())),
    }
}

/// Builds the program and gives its path and how long the build took.
pub(crate) fn program() -> Result<(PathBuf, Duration), String> {
    let mut build = cargo();
    build.args(["build", "--package", "loomwright"]);
    let took = timed(&mut build)?;
    let name = format!("loomwright{}", std::env::consts::EXE_SUFFIX);
    Ok((target()?.join("debug").join(name), took))
}

/// Runs a command to its end with its output shown; anything but status 0 is an error.
pub(crate) fn timed(command: &mut Command) -> Result<Duration, String> {
    let start = Instant::now();
    let shown = shown(command);
    let status =
        command.status().map_err(|error| format!("{shown} could not be started: {error}"))?;
    if status.success() {
        Ok(start.elapsed())
    } else {
        Err(format!("{shown} ended with {status}"))
    }
}

/// Whether a command runs at all and ends well, shown to nobody.
pub(crate) fn works(command: &mut Command) -> bool {
    let quiet = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    quiet.status().is_ok_and(|status| status.success())
}

/// Whether a program of that name can be started.
pub(crate) fn is_installed(name: &str) -> bool {
    works(Command::new(name).arg("-v")) || works(Command::new(name).arg("--version"))
}

/// Installs a package of Debian's where that needs nobody's leave: as root, with apt-get.
pub(crate) fn installs(package: &str) -> bool {
    if !cfg!(target_os = "linux") || !is_root() || !is_installed("apt-get") {
        return false;
    }
    let apt = |words: &[&str]| {
        works(Command::new("apt-get").env("DEBIAN_FRONTEND", "noninteractive").args(words))
    };
    let install = ["install", "-y", "--no-install-recommends", package];
    apt(&install) || (apt(&["update"]) && apt(&install))
}

fn is_root() -> bool {
    let user = Command::new("id").arg("-u").output();
    user.is_ok_and(|output| output.stdout.trim_ascii() == b"0")
}

/// A path as the user would type it: from the workspace's folder where it lies inside.
pub(crate) fn short(path: &Path) -> String {
    path.strip_prefix(root()).unwrap_or(path).display().to_string()
}

fn shown(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let mut text = program.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    for word in command.get_args() {
        text.push(' ');
        text.push_str(&short(Path::new(word)));
    }
    text
}
