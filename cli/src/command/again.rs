//! `motorwright again`: a callback on the unit of an earlier call.

use super::call::lead_on;
use super::kept;
use crate::args::{AgainArguments, TalkArguments};
use crate::failure::Failure;
use crate::keep::{self, Keeper};
use crate::store::{CALLBACK_DAYS, Fault, Record, Store, Wanted, When};
use engine::call::{Call, DeedResult, Event, Next, Outcome, Purpose, Reached};
use engine::record::Summary;
use engine::rulebook::{Answer, Lasts, Rulebook};
use std::path::Path;
use std::sync::Arc;

pub(crate) fn run(
    book: &Arc<Rulebook>,
    arguments: &AgainArguments,
    rules: Option<&Path>,
) -> Result<u8, Failure> {
    let mut store = arguments.log.open()?;
    let record = store.call(arguments.number)?;
    start(book, &arguments.talk, (store, arguments.log.beside()), rules, &record, None)
}

/// The last call on a unit.
pub(super) fn last_on(store: &mut dyn Store, unit: &str) -> Result<Option<Record>, Fault> {
    let wanted = Wanted { unit: Some(unit.to_owned()), most: Some(1), ..Wanted::default() };
    let mut last = None;
    store.each(&wanted, &mut |listed| {
        last = Some(listed.number);
        Ok(false)
    })?;
    last.map(|number| store.call(number)).transpose()
}

/// Begins a call with what is known from an earlier one.
pub(super) fn start(
    book: &Arc<Rulebook>,
    talk: &TalkArguments,
    (store, beside): (Box<dyn Store>, &'static str),
    rules: Option<&Path>,
    earlier: &Record,
    meter: Option<String>,
) -> Result<u8, Failure> {
    let own = meter.as_deref().map(super::call::meter_of).transpose()?;
    let listed = &earlier.listed;
    let mut opening = keep::opening(book, rules, listed.opening.unit.as_deref(), meter);
    opening.again_of = Some(listed.opening.id.clone());
    let mut lines = Vec::new();
    let events = match kept::call(book, earlier) {
        Ok(before) => {
            let summary = Summary::of(&before);
            let number = listed.number;
            lines.push(if summary.is_open() {
                format!("It was left open; to go on with it instead: motorwright resume {number}.")
            } else {
                format!("It came to: {}.", kept::ends(book, &summary))
            });
            carried(&before, listed.last)
        }
        Err(Failure::Log(Fault::Rules { why, .. })) => {
            lines.push(format!("Nothing of it is known here: {why}."));
            Vec::new()
        }
        Err(failure) => return Err(failure),
    };
    let mut keeper = Keeper::begin(store, beside, &opening)?;
    let mut call = Call::with_meter(Arc::clone(book), own);
    for event in events {
        keeper.happens(&mut call, event)?;
    }
    let on = listed.opening.unit.as_ref().map_or(String::new(), |unit| format!(", {unit}"));
    let title = format!(
        "Call {}, on the unit of call {} of {}{on}.",
        keeper.number(),
        listed.number,
        listed.opening.at
    );
    lead_on(call, keeper, talk, &title, &lines)
}

/// What an earlier call on the unit leaves to the next: what its plates say, and what was done last, or left.
fn carried(before: &Call, last: When) -> Vec<Event> {
    let book = before.book();
    let told = |fact| Some((fact, before.ledger().current(fact)?.value()));
    let known = |(fact, answer)| match answer {
        Answer::Value(_) => Some(Event::Told { fact, answer, purpose: Purpose::Unasked }),
        Answer::Cannot => None,
    };
    // What a lock-out is planned on is asked anew.
    let asked_anew = |fact| book.power().plans_by(fact);
    let plates = book.fact_ids().filter(|fact| book.fact(*fact).lasts == Lasts::Unit && !asked_anew(*fact));
    let mut events: Vec<Event> = plates.filter_map(told).filter_map(known).collect();
    let Next::Ended(ended) = before.next() else {
        return events;
    };
    let recent = When::now().days_before(CALLBACK_DAYS) <= last;
    let repairs = ended.all().filter(|reached| book.ending(reached.ending).is_repair());
    for Reached { ending, outcome } in repairs {
        let result = match outcome {
            Outcome::Later => DeedResult::Later,
            Outcome::Proved | Outcome::NotProved | Outcome::Failed if recent => DeedResult::Done,
            _ => continue,
        };
        if result == DeedResult::Later {
            // It was left for the complaint of then.
            events.extend(told(book.roles().complaint).and_then(known));
        }
        events.push(Event::Earlier { ending, result });
    }
    events
}
