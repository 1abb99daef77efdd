//! The house's own tool: runs the example, tests everything, keeps generated files fresh and the house
//! rules true. Depends on nothing but the standard library, so it builds in a second on a fresh machine.
//!
//! Shell scripts are not used anywhere: the same commands work on Linux, macOS and Windows.

mod say;
mod tools;
mod tidy;
mod generated;
mod run;
mod python;
mod pages;
mod test;

use std::process::ExitCode;

/// One thing `cargo xtask` can do.
struct Command {
    name: &'static str,
    what: &'static str,
    run: fn(&[String]) -> Result<(), String>,
}

/// The one catalogue: what is parsed is what is explained.
const COMMANDS: &[Command] = &[
    Command {
        name: "run",
        what: "build the program, plan builds/orchard-truck, write its book, say how to open the bench",
        run: run::run,
    },
    Command {
        name: "test",
        what: "everything a change must pass: format, house rules, lints, tests, generated files",
        run: test::run,
    },
    Command { name: "ci", what: "what a server runs: the same as test", run: test::run },
    Command {
        name: "gen",
        what: "write the generated files in docs/ again; --check only compares",
        run: generated::run,
    },
    Command {
        name: "compare",
        what: "ours beside general-purpose libraries: the same work, times and ratios",
        run: python::compare,
    },
    Command {
        name: "tidy",
        what: "the house rules alone; --tighten records what has become shorter",
        run: tidy::run,
    },
];

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let Some((name, rest)) = words.split_first() else {
        explain();
        return ExitCode::SUCCESS;
    };
    let Some(command) = COMMANDS.iter().find(|command| command.name == name) else {
        say::problem(&format!("no command is called {name}"));
        explain();
        return ExitCode::from(2);
    };
    match (command.run)(rest) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            say::problem(&message);
            ExitCode::FAILURE
        }
    }
}

fn explain() {
    say::line("cargo xtask COMMAND\n");
    for command in COMMANDS {
        say::line(&format!("  {:9}{}", command.name, command.what));
    }
}
