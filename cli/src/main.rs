//! `motorwright`: the command line of the diagnostic rules engine.

mod args;
mod command;
mod failure;
mod files;
mod findings;
mod harmless;
mod keep;
mod log;
mod rules;
mod standing;
mod store;
mod talk;
mod wording;

use args::{Arguments, Colour, Command};
use clap::{CommandFactory, Parser};
use failure::Failure;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    match run(&arguments) {
        Ok(code) => ExitCode::from(code),
        // Nobody reads on: not a fault of ours, and nobody is there to be told.
        Err(Failure::Terminal(error)) if error.kind() == std::io::ErrorKind::BrokenPipe => {
            ExitCode::from(failure::OK)
        }
        Err(failure) => failure.show(arguments.by_the_rules_built_in()),
    }
}

fn run(arguments: &Arguments) -> Result<u8, Failure> {
    match arguments.common.color {
        Colour::Auto => {}
        Colour::Always => anstream::ColorChoice::Always.write_global(),
        Colour::Never => anstream::ColorChoice::Never.write_global(),
    }
    if let Some(path) = &arguments.common.log {
        log::to_file(path)?;
    }
    let rules = arguments.common.rules.as_deref();
    match &arguments.command {
        Command::Call(call) => command::call::run(&rules::load(rules)?, call, rules),
        Command::Resume(resume) => command::resume::run(&rules::load(rules)?, resume),
        Command::Again(again) => command::again::run(&rules::load(rules)?, again, rules),
        Command::Calls(calls) => command::calls::run(&rules::load(rules)?, calls),
        Command::Show(show) => command::show::run(&rules::load(rules)?, show),
        Command::Note(note) => command::note::run(&rules::load(rules)?, note),
        Command::Export(export) => command::export::run(export),
        Command::Import(import) => command::import::run(import),
        Command::Forget(forget) => command::forget::run(&rules::load(rules)?, forget),
        Command::Report(report) => command::report::run(&rules::load(rules)?, report),
        Command::Replay(replay) => command::replay::run(&rules::load(rules)?, replay, rules),
        Command::Trial(trial) => command::trial::run(&rules::load(rules)?, trial, rules),
        Command::Check(check) => command::check::run(check, rules),
        Command::Figure(figure) => command::figure::run(figure),
        Command::Outline(outline) => command::outline::run(rules::load(rules)?.as_ref(), outline),
        Command::Explain(explain) => command::explain::run(explain),
        Command::Man { command } => command::man::run(command.as_deref()),
        Command::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(*shell, &mut Arguments::command(), "motorwright", &mut script);
            std::io::Write::write_all(&mut anstream::stdout(), &script)?;
            Ok(failure::OK)
        }
    }
}
