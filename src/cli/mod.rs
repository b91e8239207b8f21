//! The command line: subcommands, exit codes, and the one place where errors become words.

mod args;
mod backstage;
mod check;
mod complete;
mod context;
mod convert;
mod course;
mod evening;
mod fault;
mod game;
mod home;
mod judge;
mod map;
mod north;
mod output;
mod page;
mod paper_args;
mod patience;
mod patrol;
mod pick;
mod practice;
mod problem;
mod report;
mod report_args;
mod score;
mod settings;
mod skills;
mod store;
mod store_merge;
mod words;
mod worksheet;

use args::{Cli, Command};
use clap::Parser;
use context::Context;
use fault::Fault;
use std::io::Write;
use std::process::ExitCode;

/// Runs the program with the process's arguments. Exit 0 done, 1 could not, 2 bad usage or bad input, 3 the store.
#[must_use]
pub fn run() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version are no errors: clap prints them to stdout and its code for them is 0.
            let code = if error.use_stderr() { 2 } else { 0 };
            if code == 0 {
                let _ = error.print();
            } else {
                // What was typed stands in the message, and may hold what would speak to the terminal.
                // Where stderr is gone nobody can be told.
                let _ = write!(std::io::stderr(), "{}", fault::clean(&error.render().to_string()));
            }
            return ExitCode::from(code);
        }
    };
    match dispatch(cli) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => fault.report(),
    }
}

fn dispatch(cli: Cli) -> Result<(), Fault> {
    let context = Context::new(cli.globals)?;
    match cli.command {
        None => practice::open(&context),
        Some(Command::Practice(args)) => practice::run(&context, args),
        Some(Command::Check(args)) => check::run(&context, args),
        Some(Command::Patrol(args)) => patrol::run(&context, args),
        Some(Command::Report(args)) => report::run(&context, &args),
        Some(Command::Skills(args)) => skills::run(args),
        Some(Command::Problem(args)) => problem::run(&context, args),
        Some(Command::Judge(args)) => judge::run(args),
        Some(Command::North(args)) => north::run(&context, args),
        Some(Command::Convert(args)) => convert::run(&context, args),
        Some(Command::Home(args)) => home::run(&context, args),
        Some(Command::Words(args)) => words::run(&args),
        Some(Command::Game(args)) => game::run(&context, &args),
        Some(Command::Evening(args)) => evening::run(&context, &args),
        Some(Command::Score(args)) => score::run(&context, &args),
        Some(Command::Worksheet(args)) => worksheet::run(&context, &args),
        Some(Command::Map(args)) => map::run(&context, &args),
        Some(Command::Cutouts(args)) => output::cutouts(&args),
        Some(Command::Store(args)) => store::run(&context, args),
        Some(Command::Course(args)) => course::run(&context, &args),
        Some(Command::Completions { shell }) => complete::completions(shell),
        Some(Command::Man) => complete::man(),
    }
}

/// One JSON object on a line of its own.
fn json_line(out: &mut impl std::io::Write, value: &impl serde::Serialize) -> Result<(), Fault> {
    let json = serde_json::to_string(value).map_err(std::io::Error::from)?;
    Ok(writeln!(out, "{}", fault::clean_json(&json))?)
}
