//! Builds the bench's pages and lists them for the program to carry.

#![allow(
    clippy::disallowed_methods,
    reason = "a build script reads sources and writes what is built from them"
)]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};
use std::{env, fs};

fn main() -> ExitCode {
    match build() {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            println!("cargo::error={}", why.replace('\n', " "));
            ExitCode::FAILURE
        }
    }
}

fn build() -> Result<(), String> {
    println!("cargo::rerun-if-env-changed=UI_DIST");
    let out = PathBuf::from(env::var_os("OUT_DIR").ok_or("cargo names no OUT_DIR")?);
    let folder = match env::var_os("UI_DIST") {
        Some(ready) => {
            println!("cargo::rerun-if-changed={}", Path::new(&ready).display());
            PathBuf::from(ready)
        }
        None => {
            let made = out.join("ui");
            from_source(&made)?;
            made
        }
    };
    let mut files = Vec::new();
    list(&folder, &folder, &mut files)?;
    files.sort();
    if !files.iter().any(|(name, _)| name == "index.html") {
        return Err(format!("{} has no index.html", folder.display()));
    }
    let mut table = String::from("static FILES: &[File] = &[\n");
    for (name, path) in &files {
        let (media, path) = (media(name), path.display().to_string());
        let _ = writeln!(
            table,
            "    File {{ name: {name:?}, media: {media:?}, bytes: include_bytes!({path:?}) }},"
        );
    }
    table.push_str("];\n");
    fs::write(out.join("files.rs"), table).map_err(|error| format!("OUT_DIR: {error}"))
}

/// Builds `web/` into a folder.
fn from_source(made: &Path) -> Result<(), String> {
    let here = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").ok_or("cargo names no folder")?);
    let web = here.join("../../web").canonicalize().map_err(|_| "the folder web is missing")?;
    for watched in [
        "src",
        "public",
        "index.html",
        "package.json",
        "package-lock.json",
        "vite.config.ts",
        "tsconfig.json",
    ] {
        println!("cargo::rerun-if-changed={}", web.join(watched).display());
    }
    node_is_there()?;
    install(&web)?;
    if made.exists() {
        fs::remove_dir_all(made).map_err(|error| format!("{}: {error}", made.display()))?;
    }
    let mut vite = npm();
    vite.args([
        "run",
        "build",
        "--silent",
        "--",
        "--emptyOutDir",
        "--logLevel",
        "warn",
        "--outDir",
    ]);
    run(vite.arg(made).current_dir(&web), "building the bench's pages")
}

const NEEDS: &str = "the bench's pages are built with node 20.19 or newer and its npm";

fn node_is_there() -> Result<(), String> {
    let way_out = "install it, or set UI_DIST to a folder of pages that are built already";
    let said = Command::new("node").arg("--version").output();
    let Ok(said) = said.map(|s| String::from_utf8_lossy(&s.stdout).trim().to_owned()) else {
        return Err(format!("{NEEDS}, and node was not found: {way_out}"));
    };
    let mut parts = said.trim_start_matches('v').split('.').map(|p| p.parse().unwrap_or(0_u32));
    let version = (parts.next().unwrap_or(0), parts.next().unwrap_or(0));
    if version < (20, 19) {
        return Err(format!("{NEEDS}, and this is node {said}: {way_out}"));
    }
    if npm().arg("--version").output().is_ok_and(|o| o.status.success()) {
        return Ok(());
    }
    Err(format!("{NEEDS}, and npm was not found: {way_out}"))
}

fn npm() -> Command {
    Command::new(if cfg!(windows) { "npm.cmd" } else { "npm" })
}

/// Fetches what the pages are built from, if the lock has changed since.
fn install(web: &Path) -> Result<(), String> {
    let read = |path: &Path| fs::read_to_string(path).ok();
    let lock = web.join("package-lock.json");
    let wanted = read(&lock).ok_or("web/package-lock.json is missing")?;
    let stamp = web.join("node_modules/.lock-installed");
    if read(&stamp).as_deref() == Some(&wanted) {
        return Ok(());
    }
    let mut ci = npm();
    ci.args(["ci", "--no-audit", "--no-fund", "--loglevel", "error"]);
    run(ci.current_dir(web), "fetching what the bench's pages are built from (npm ci)")?;
    fs::write(&stamp, wanted).map_err(|error| format!("{}: {error}", stamp.display()))
}

fn run(command: &mut Command, what: &str) -> Result<(), String> {
    let ran = command.output().map_err(|error| format!("{what}: {error}"))?;
    if ran.status.success() {
        return Ok(());
    }
    let said = [ran.stdout, ran.stderr].concat();
    let said = String::from_utf8_lossy(&said);
    // The end tells what went wrong; the beginning is often pages of what was tried.
    let lines: Vec<&str> = said.lines().filter(|line| !line.trim().is_empty()).collect();
    let last = lines[lines.len().saturating_sub(12)..].join(" | ");
    Err(format!("{what} failed: {last}"))
}

fn list(root: &Path, folder: &Path, files: &mut Vec<(String, PathBuf)>) -> Result<(), String> {
    let broken = |error: std::io::Error| format!("{}: {error}", folder.display());
    for entry in fs::read_dir(folder).map_err(broken)? {
        let path = entry.map_err(broken)?.path();
        if path.is_dir() {
            list(root, &path, files)?;
        } else {
            let name = path.strip_prefix(root).map_err(|error| error.to_string())?;
            let name = name.to_string_lossy().replace('\\', "/");
            // Maps are for those who have the source.
            if !name.ends_with(".map") {
                let whole = path.canonicalize().map_err(broken)?;
                files.push((name, whole));
            }
        }
    }
    Ok(())
}

fn media(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "ico" => "image/x-icon",
        "woff2" => "font/woff2",
        "woff" => "font/woff",
        "json" | "webmanifest" => "application/json",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}
