//! The only module that prints: results to standard output, messages to standard error.
//!
//! A reader that has gone away (`| head`) is no error: the rest is dropped and the exit status stays.

use std::io::{self, IsTerminal, Write};
use std::sync::mpsc::RecvTimeoutError;
use std::time::Duration;

/// Prints a result.
pub(crate) fn result(text: &str) -> io::Result<()> {
    bytes(text.as_bytes())
}

/// Prints a result that is not text.
pub(crate) fn bytes(bytes: &[u8]) -> io::Result<()> {
    let mut out = io::stdout().lock();
    quiet(out.write_all(bytes).and_then(|()| out.flush()))
}

/// Prints a message for the person at the keyboard.
pub(crate) fn message(text: &str) {
    let mut out = io::stderr().lock();
    // There is nobody left to tell if this fails.
    let _ = writeln!(out, "{}", text.trim_end());
}

/// Whether messages may be coloured.
pub(crate) fn colour() -> bool {
    io::stderr().is_terminal()
        && std::env::var_os("NO_COLOR").is_none_or(|v| v.is_empty())
        && std::env::var_os("TERM").is_none_or(|v| v != "dumb")
}

/// Runs something that may take long; after a second it is said, if anyone is watching.
pub(crate) fn while_waiting<T>(what: &'static str, work: impl FnOnce() -> T) -> T {
    if !io::stderr().is_terminal() {
        return work();
    }
    let (done, waiting) = std::sync::mpsc::channel::<()>();
    let watch = std::thread::spawn(move || {
        // The sender is dropped when the work is done; nothing is ever sent.
        if waiting.recv_timeout(Duration::from_secs(1)) != Err(RecvTimeoutError::Timeout) {
            return;
        }
        let bar = indicatif::ProgressBar::new_spinner().with_message(what);
        bar.enable_steady_tick(Duration::from_millis(100));
        let _ = waiting.recv();
        bar.finish_and_clear();
    });
    let made = work();
    drop(done);
    // The watcher only draws; if it broke, the work is none the worse.
    let _ = watch.join();
    made
}

fn quiet(written: io::Result<()>) -> io::Result<()> {
    match written {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        other => other,
    }
}
