//! `motorwright again`: a callback on the unit of an earlier call.

use super::call::{Asking, Begun, lead_on};
use super::kept;
use crate::args::AgainArguments;
use crate::failure::{DISAGREES, Failure, say};
use crate::keep::{self, Keeper};
use crate::store::{CALLBACK_DAYS, Fault, Number, Record, Store, Wanted, When};
use crate::talk::{OtherCall, Stopped, Talk, in_short, work_left};
use engine::call::{Call, Event, Next};
use engine::record::{Carried, Summary};
use engine::rulebook::Rulebook;
use std::path::Path;
use std::sync::Arc;

/// How many earlier calls on a unit are looked at.
const MOST: u32 = 20;

pub(crate) fn run(
    book: &Arc<Rulebook>,
    arguments: &AgainArguments,
    rules: Option<&Path>,
) -> Result<u8, Failure> {
    let mut store = arguments.log.open()?;
    let record = store.call(arguments.number)?;
    let mut earlier = match &record.listed.opening.unit {
        Some(unit) => on_unit(store.as_mut(), unit, Some(arguments.number))?,
        None => chain(store.as_mut(), &record)?,
    };
    let unit = record.listed.opening.unit.clone();
    earlier.insert(0, record);
    // Somebody may be at the unit in a later call than the one that this begins from.
    let all = unit.map(|unit| on_unit(store.as_mut(), &unit, None)).transpose()?;
    let all = all.as_ref().unwrap_or(&earlier);
    let asking = Asking { talk: &arguments.talk, yes: arguments.yes };
    start(book, &asking, (store, arguments.log.beside()), rules, (&earlier, all), None)
}

/// The calls on a unit, newest first; only those before a number, if one is given.
pub(super) fn on_unit(
    store: &mut dyn Store,
    unit: &str,
    before: Option<Number>,
) -> Result<Vec<Record>, Fault> {
    let wanted = Wanted { unit: Some(unit.to_owned()), ..Wanted::default() };
    let mut numbers = Vec::new();
    store.each(&wanted, &mut |listed| {
        if before.is_none_or(|before| listed.number < before) {
            numbers.push(listed.number);
        }
        Ok(numbers.len() < MOST as usize)
    })?;
    let mut records = Vec::new();
    for number in numbers {
        match store.call(number) {
            Ok(record) => records.push(record),
            // What cannot be read of one call keeps nobody from the next.
            Err(fault @ (Fault::Garbled { .. } | Fault::NoBeginning { .. })) => say(&fault.to_string()),
            Err(fault) => return Err(fault),
        }
    }
    Ok(records)
}

/// The calls that one began from, and that one from, newest first.
fn chain(store: &mut dyn Store, record: &Record) -> Result<Vec<Record>, Fault> {
    let mut records = Vec::new();
    let mut from = record.listed.opening.again_of.clone();
    for _ in 0..MOST {
        let Some(id) = &from else { break };
        let Some(number) = store.number_of(id)? else { break };
        let record = store.call(number)?;
        from.clone_from(&record.listed.opening.again_of);
        records.push(record);
    }
    Ok(records)
}

/// Begins a call with what is known from earlier ones on the unit: one or more, newest first; beside them all on it.
pub(super) fn start(
    book: &Arc<Rulebook>,
    asking: &Asking<'_>,
    (store, beside): (Box<dyn Store>, &'static str),
    rules: Option<&Path>,
    (earlier, all): (&[Record], &[Record]),
    meter: Option<String>,
) -> Result<u8, Failure> {
    let own = meter.as_deref().map(super::call::meter_of).transpose()?;
    let last = earlier.first().map(|record| &record.listed);
    let mut opening = keep::opening(book, rules, last.and_then(|last| last.opening.unit.as_deref()), meter);
    opening.again_of = last.map(|last| last.opening.id.clone());
    let (mut lines, mut warnings) = (Vec::new(), Vec::new());
    let mut carried = Carried::default();
    for record in earlier {
        match kept::call(book, record) {
            Ok(call) => {
                lines.push(add(&mut carried, book, record, &call));
                // Only the last on the unit says how it stands.
                if lines.len() == 1 {
                    warnings = left_behind(record, &call);
                }
            }
            Err(Failure::Log(Fault::Rules { why, .. })) => {
                lines.push(format!("Nothing of call {} is known here: {why}.", record.listed.number));
            }
            Err(failure) => return Err(failure),
        }
    }
    let mut call = Call::with_meter(Arc::clone(book), own);
    let mut talk = super::call::talk(book, asking.talk)?;
    if !asking.yes && !goes_on(&mut talk, book, &call, all)? {
        return Ok(DISAGREES);
    }
    let mut keeper = Keeper::begin(store, beside, book, &opening)?;
    for event in carried.into_events(book) {
        keeper.happens(&mut call, event)?;
    }
    let on = opening.unit.as_ref().map_or(String::new(), |unit| format!(", {unit}"));
    let of = last.map_or(String::new(), |last| {
        format!(", on the unit of call {} of {}", last.number, last.opening.at)
    });
    let title = format!("Call {}{of}{on}.", keeper.number());
    lead_on(call, keeper, talk, &Begun { title: &title, warnings: &warnings, lines: &lines, power_on: None })
}

/// Whether a call goes on beside the open ones on its unit: where somebody may be at it, a plain yes is asked for.
pub(super) fn goes_on(
    talk: &mut Talk<'_>,
    book: &Arc<Rulebook>,
    call: &Call,
    earlier: &[Record],
) -> Result<bool, Failure> {
    let open: Vec<OtherCall> = earlier.iter().filter_map(|record| still_open(book, record)).collect();
    if open.is_empty() {
        return Ok(true);
    }
    match talk.goes_on_beside(call, &open) {
        Ok(goes_on) => Ok(goes_on),
        Err(Stopped::Ended) => Ok(false),
        Err(Stopped::Broken(error)) => Err(Failure::Terminal(error)),
        Err(Stopped::Halted(halt)) => Err(Failure::Halt(halt)),
    }
}

/// A call that is open, and held or begun on the unit: power, panel or a repair was touched. What means nothing to these
/// rules is not known to be over.
fn still_open(book: &Arc<Rulebook>, record: &Record) -> Option<OtherCall> {
    let listed = &record.listed;
    let holder = listed.holder.as_ref().filter(|holder| !holder.seat.is_gone());
    let stands = match kept::call(book, record) {
        Ok(call) => {
            let touched = |event: &Event| matches!(event, Event::Power { .. } | Event::Deed { .. });
            let is_open = Summary::of(&call).is_open();
            let begun = holder.is_some() || call.events().iter().any(touched);
            (is_open && begun).then(|| in_short(&call))?
        }
        Err(_) if listed.summary.as_ref().is_some_and(|summary| !summary.is_open()) => return None,
        Err(_) => "what was done in it cannot be told by these rules".to_owned(),
    };
    let begun = listed.opening.at;
    let since = match holder {
        Some(holder) => format!("since {begun}, and {} is on it now", holder.seat.name),
        None => format!("since {begun}, and nobody is on it now"),
    };
    Some(OtherCall { number: listed.number, since, last: listed.last.to_string(), stands })
}

/// How a call left the unit, where that can hurt whoever comes next: work that stopped half way, and a unit that was to
/// stay off.
fn left_behind(record: &Record, call: &Call) -> Vec<String> {
    let number = record.listed.number;
    let begun = work_left(call);
    let mut warnings: Vec<String> =
        begun.iter().map(|work| format!("Call {number} began work and did not finish it: {work}.")).collect();
    let ends_off = match call.next() {
        Next::Ended(ended) => call.book().ending(ended.last.ending).left_off,
        Next::Prompt(_) => false,
    };
    if !warnings.is_empty() || ends_off || call.power().lockout_failed() || call.power().locked() {
        warnings.push(format!(
            "It left the unit so: {}. Locks and tags of that call stay on until whoever put them there takes them \
             off, and power comes back only once what it left is seen to.",
            in_short(call)
        ));
    }
    warnings
}

/// Adds a call to what the next one begins with; the newest comes first. Says what it came to.
fn add(carried: &mut Carried, book: &Rulebook, record: &Record, call: &Call) -> String {
    let (number, at) = (record.listed.number, record.listed.opening.at);
    carried.plates(call);
    let holder = record.listed.holder.as_ref().filter(|holder| !holder.seat.is_gone());
    let summary = Summary::of(call);
    if let Some(holder) = holder {
        return format!("Call {number} on it is under way now: {holder}.");
    }
    if summary.is_open() {
        return format!(
            "Call {number} of {at} was left open; to go on with it: motorwright resume {number}."
        );
    }
    let recent = When::now().days_before(CALLBACK_DAYS) <= record.listed.last;
    carried.repairs(call, recent, &format!("call {number} of {}", record.listed.last.day()));
    format!("Call {number} of {at} came to: {}.", kept::ends(book, &summary))
}
