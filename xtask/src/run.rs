//! The shortest way to see it work: the example build planned and printed.

use std::process::Command;

use crate::{say, tools};

const EXAMPLE: &str = "orchard-truck";

/// Builds the program, prints the example's plan and writes its book.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    if !words.is_empty() {
        return Err("run takes no words; for another build: loomwright plan DIR".to_owned());
    }
    let build = format!("builds/{EXAMPLE}");
    let (program, built_in) = tools::program()?;

    let mut plan = Command::new(&program);
    plan.args(["plan", &build]).current_dir(tools::root());
    let planned_in = tools::timed(&mut plan)?;

    let book = tools::target()?.join(format!("{EXAMPLE}.pdf"));
    let mut print = Command::new(&program);
    print.args(["book", &build, "-o"]).arg(&book).current_dir(tools::root());
    let printed_in = tools::timed(&mut print)?;

    say::line("");
    say::line(&format!("program  {:>12}  {}", say::took(built_in), tools::short(&program)));
    say::line(&format!("plan     {:>12}  {build}", say::took(planned_in)));
    say::line(&format!("book     {:>12}  {}", say::took(printed_in), tools::short(&book)));
    say::line("");
    say::line(&format!(
        "to see and change it in the browser:  {} bench builds",
        tools::short(&program)
    ));
    Ok(())
}
