//! From one build document: the plan, the kit and the book of a set of traction cables.
//!
//! A command is one file in `commands` with its arguments and one verb. Exit status: 0 done, 1 something
//! fails, 2 something could not be read.

mod disk;
mod terminal;
mod errors;
mod wire;
mod text;
mod logs;
mod builds;
mod examples;
mod tables;
mod bench;
mod commands;

use std::process::ExitCode;

/// A plan takes and leaves matrices of megabytes on several threads; the system's allocator gives each back to the
/// kernel, which then stops the other cores to forget it.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

use clap::{Parser, Subcommand};

/// Plans the high-current cabling of an electric-vehicle conversion.
#[derive(Parser)]
#[command(
    name = "loomwright",
    version,
    arg_required_else_help = true,
    after_help = "Example:\n  loomwright new my-build\n  loomwright plan my-build\n\n\
        Exit status: 0 nothing fails, 1 something fails, 2 something could not be read"
)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    New(commands::new::Arguments),
    Plan(commands::plan::Arguments),
    Bench(commands::bench::Arguments),
    Book(commands::book::Arguments),
    Plates(commands::plates::Arguments),
    Kit(commands::kit::Arguments),
    Survey(commands::survey::Arguments),
    Figure(commands::figure::Arguments),
    Verify(commands::verify::Arguments),
    Shelf(commands::shelf::Arguments),
    Docs(commands::docs::Arguments),
}

/// How a command came out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Outcome {
    /// Done, and nothing fails.
    Holds,
    /// Done, and something fails.
    Fails,
    /// Something could not be read; it has been said.
    Unread,
}

fn main() -> ExitCode {
    let outcome = match Arguments::parse().command {
        Command::New(arguments) => commands::new::run(&arguments),
        Command::Plan(arguments) => commands::plan::run(&arguments),
        Command::Bench(arguments) => commands::bench::run(&arguments),
        Command::Book(arguments) => commands::book::run(&arguments),
        Command::Plates(arguments) => commands::plates::run(&arguments),
        Command::Kit(arguments) => commands::kit::run(&arguments),
        Command::Survey(arguments) => commands::survey::run(&arguments),
        Command::Figure(arguments) => commands::figure::run(&arguments),
        Command::Verify(arguments) => commands::verify::run(&arguments),
        Command::Shelf(arguments) => commands::shelf::run(&arguments),
        Command::Docs(arguments) => commands::docs::run(&arguments),
    };
    let outcome = outcome.unwrap_or_else(|error| {
        terminal::message(&format!("error: {error:#}"));
        Outcome::Unread
    });
    ExitCode::from(match outcome {
        Outcome::Holds => 0,
        Outcome::Fails => 1,
        Outcome::Unread => 2,
    })
}
