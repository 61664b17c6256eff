//! `motorwright call`: a call at the prompt, or a case shown as one.

use super::again::{self, Calls};
use crate::args::{CallArguments, TalkArguments, UnitFamily};
use crate::failure::{DISAGREES, Failure, OK};
use crate::files;
use crate::keep::{self, Keeper, Kept};
use crate::talk::{Closed, Layout, Stopped, Talk, Units, Voice, Words, of_this_terminal};
use engine::call::{Call, drive};
use engine::case::{Case, Player};
use engine::meter::OwnMeter;
use engine::quantity::System;
use engine::record::Carried;
use engine::rulebook::Rulebook;
use engine::source::Source;
use std::path::Path;
use std::sync::Arc;

pub(crate) fn run(
    book: &Arc<Rulebook>,
    arguments: &CallArguments,
    rules: Option<&Path>,
) -> Result<u8, Failure> {
    if let Some(tree) = &arguments.script {
        return super::script::run(book, tree, arguments.paper);
    }
    if let Some(path) = &arguments.answers {
        return watch(book, path, arguments);
    }
    let meter = arguments.meter.as_deref().map(text).transpose()?;
    let own = meter.as_deref().map(meter_of).transpose()?;
    let unit = arguments.unit.as_deref();
    let mut store = arguments.log.place()?.map(|place| place.open()).transpose()?;
    let earlier = match (unit, &mut store) {
        (Some(unit), Some(log)) => again::on_unit(log.as_mut(), unit)?,
        _ => Vec::new(),
    };
    if !earlier.is_empty()
        && !arguments.fresh
        && let Some(log) = store.take()
    {
        let asking = Asking { talk: &arguments.talk, yes: arguments.yes };
        return again::start(book, &asking, log, rules, &Calls::all(earlier), meter);
    }
    let alike = match (unit, &mut store) {
        (Some(unit), Some(log)) if earlier.is_empty() => again::on_unit_like(log.as_mut(), unit)?,
        _ => None,
    };
    let mut call = Call::with_meter(Arc::clone(book), own);
    let mut talk = talk(book, &arguments.talk)?;
    // Whoever wants to know nothing of an earlier call is told all the same who may be at the unit.
    if !arguments.yes && !again::goes_on(&mut talk, book, &call, &earlier)? {
        return Ok(DISAGREES);
    }
    again::power_was_on(&mut talk, book, &earlier);
    let mut carried = Carried::default();
    again::not_proved_dead(&mut carried, &mut talk, (book, &call), &earlier, arguments.yes)?;
    let opening = keep::opening(book, rules, unit, meter);
    let mut keeper = store.map(|log| Keeper::begin(log, book, &opening)).transpose()?;
    if let Some(keeper) = &mut keeper {
        carried.into_events(book).into_iter().try_for_each(|event| keeper.happens(&mut call, event))?;
    }
    let title = keeper.as_ref().map_or("A new call. It is not kept.".to_owned(), |keeper| {
        format!("Call {}. A new call.", keeper.number())
    });
    let warnings = alike.as_slice();
    let begun = Begun { title: &title, warnings, lines: &[] };
    lead(call, keeper, talk, &title, alike.is_some().then_some(&begun))
}

/// How a call is shown, and whether nobody is asked about others at the unit.
pub(super) struct Asking<'a> {
    /// How it is shown.
    pub(super) talk: &'a TalkArguments,
    /// Whether it goes on beside an open call without a question.
    pub(super) yes: bool,
}

/// A conversation with somebody who types.
pub(super) fn talk(book: &Rulebook, arguments: &TalkArguments) -> Result<Talk<'static>, Failure> {
    let voice = Voice::Typed(of_this_terminal(Words::of(book))?);
    Ok(Talk::new(Box::new(anstream::stdout()), voice, units(arguments), layout(arguments)))
}

/// What is known of a call in which something stands already.
pub(super) struct Begun<'b> {
    /// Its first line.
    pub(super) title: &'b str,
    /// What can hurt of that.
    pub(super) warnings: &'b [String],
    /// What is told of before.
    pub(super) lines: &'b [String],
}

/// Leads a call on in which something stands already.
pub(super) fn lead_on(
    call: Call,
    keeper: Keeper<'_>,
    talk: Talk<'_>,
    begun: &Begun<'_>,
) -> Result<u8, Failure> {
    lead(call, Some(keeper), talk, begun.title, Some(begun))
}

/// Leads a call at the prompt to its end, or until it is left, and keeps it.
fn lead(
    mut call: Call,
    mut keeper: Option<Keeper<'_>>,
    mut talk: Talk<'_>,
    title: &str,
    stands: Option<&Begun<'_>>,
) -> Result<u8, Failure> {
    if let Some(keeper) = &keeper {
        talk.keep(keeper.how(), keeper.again());
    }
    talk.greet(title)?;
    if let Some(begun) = stands {
        talk.recall(&call, begun.warnings, begun.lines)?;
    }
    let ended = drive(&mut call, &mut Kept { talk: &mut talk, keeper: keeper.as_mut() });
    let closed = talk.closed(ended);
    // What the log says of it comes before what the screen does.
    keeper.map_or(Ok(()), |keeper| keeper.let_go(&call))?;
    exit_code(closed)
}

/// Shows a recorded case as a call; it is kept already.
fn watch(book: &Arc<Rulebook>, path: &Path, arguments: &CallArguments) -> Result<u8, Failure> {
    let case = files::source(path)?.and_then(|source| Case::read(book, source))?;
    let meter = arguments.meter.as_deref().map(text).transpose()?;
    let meter = meter.as_deref().map(meter_of).transpose()?;
    let voice = Voice::Played(Box::new(Player::new(book, &case)));
    let talk = &arguments.talk;
    let mut talk = Talk::new(Box::new(anstream::stdout()), voice, units(talk), layout(talk));
    talk.greet(&title(&case))?;
    let mut call = Call::with_meter(Arc::clone(book), meter);
    case.begin(&mut call);
    let ended = drive(&mut call, &mut talk);
    exit_code(talk.closed(ended))
}

fn exit_code(closed: Result<Closed, Stopped>) -> Result<u8, Failure> {
    match closed {
        Ok(Closed::AtAnEnding) => Ok(OK),
        Ok(Closed::Open) | Err(Stopped::Ended) => Ok(DISAGREES),
        Err(Stopped::Broken(error)) => Err(Failure::Terminal(error)),
        Err(Stopped::Halted(halt)) => Err(Failure::Halt(halt)),
    }
}

pub(crate) fn units(arguments: &TalkArguments) -> Units {
    match arguments.units {
        None => Units::AsInRules,
        Some(UnitFamily::Si) => Units::Of(System::Si),
        Some(UnitFamily::Us) => Units::Of(System::Us),
    }
}

pub(crate) const fn layout(arguments: &TalkArguments) -> Layout {
    if arguments.plain { Layout::Plain } else { Layout::Columns }
}

/// The text of a meter file, which is kept with the call.
fn text(path: &Path) -> Result<String, Failure> {
    Ok(files::source(path)?.map(|source| source.text().to_owned())?)
}

/// The meter that a text describes.
pub(crate) fn meter_of(text: &str) -> Result<Arc<OwnMeter>, Failure> {
    Ok(Arc::new(Source::new("the meter file", text).and_then(OwnMeter::read)?))
}

fn title(case: &Case) -> String {
    match &case.about {
        Some(about) => format!("The case {}. {about}", case.name),
        None => format!("The case {}.", case.name),
    }
}
