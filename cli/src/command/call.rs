//! `motorwright call`: a call at the prompt, or a case shown as one.

use crate::args::{CallArguments, UnitFamily};
use crate::failure::{DISAGREES, Failure, OK};
use crate::files;
use crate::talk::{Closed, Layout, Stopped, Talk, Units, Voice, Words, of_this_terminal};
use engine::call::{Call, drive};
use engine::case::{Case, Player};
use engine::meter::OwnMeter;
use engine::quantity::System;
use engine::rulebook::Rulebook;
use std::path::Path;
use std::sync::Arc;

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &CallArguments) -> Result<u8, Failure> {
    if let Some(tree) = &arguments.script {
        return super::script::run(book, tree, arguments.paper);
    }
    let case = arguments.answers.as_deref().map(|path| read(book, path)).transpose()?;
    let meter = arguments.meter.as_deref().map(own_meter).transpose()?;
    let (voice, title) = match &case {
        Some(case) => (Voice::Played(Box::new(Player::new(book, case))), title(case)),
        None => (Voice::Typed(of_this_terminal(Words::of(book))?), "A new call.".to_owned()),
    };
    let mut talk = Talk::new(Box::new(anstream::stdout()), voice, units(arguments), layout(arguments));
    talk.greet(&title)?;
    let mut call = Call::with_meter(Arc::clone(book), meter);
    let ended = drive(&mut call, &mut talk);
    match talk.closed(ended) {
        Ok(Closed::AtAnEnding) => Ok(OK),
        Ok(Closed::Open) | Err(Stopped::Ended) => Ok(DISAGREES),
        Err(Stopped::Broken(error)) => Err(Failure::Terminal(error)),
        Err(Stopped::Halted(halt)) => Err(Failure::Halt(halt)),
    }
}

fn units(arguments: &CallArguments) -> Units {
    match arguments.units {
        None => Units::AsInRules,
        Some(UnitFamily::Si) => Units::Of(System::Si),
        Some(UnitFamily::Us) => Units::Of(System::Us),
    }
}

const fn layout(arguments: &CallArguments) -> Layout {
    if arguments.plain { Layout::Plain } else { Layout::Columns }
}

fn read(book: &Rulebook, path: &Path) -> Result<Case, Failure> {
    Ok(files::source(path)?.and_then(|source| Case::read(book, source))?)
}

fn own_meter(path: &Path) -> Result<Arc<OwnMeter>, Failure> {
    Ok(Arc::new(files::source(path)?.and_then(OwnMeter::read)?))
}

fn title(case: &Case) -> String {
    match &case.about {
        Some(about) => format!("The case {}. {about}", case.name),
        None => format!("The case {}.", case.name),
    }
}
