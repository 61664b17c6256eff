//! `motorwright again`: a callback on the unit of an earlier call.

use super::call::{Asking, Begun, lead_on};
use super::kept;
use crate::args::AgainArguments;
use crate::failure::{DISAGREES, Failure, say};
use crate::keep::{self, Keeper};
use crate::store::{CALLBACK_DAYS, Fault, Record, Store, Wanted, When, typed_of};
use crate::talk::{OtherCall, Stopped, Talk, danger_told, in_short, puts_on, work_left};
use engine::call::{Call, Event, Next};
use engine::record::{Carried, Names, Standing, Summary};
use engine::rulebook::Rulebook;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

/// How many earlier calls on a unit are looked at.
const MOST: u32 = 20;

pub(crate) fn run(
    book: &Arc<Rulebook>,
    arguments: &AgainArguments,
    rules: Option<&Path>,
) -> Result<u8, Failure> {
    let mut store = arguments.log.open()?;
    let record = store.call(arguments.number)?;
    let calls = match &record.listed.opening.unit {
        // Somebody may be at the unit in a later call than the one that this begins from.
        Some(unit) => Calls::from(on_unit(store.as_mut(), unit)?, record),
        None => Calls::all(chain(store.as_mut(), record)?),
    };
    let asking = Asking { talk: &arguments.talk, yes: arguments.yes };
    start(book, &asking, store, rules, &calls, None)
}

/// The calls on a unit, newest first, and which of them a new one begins from.
pub(super) struct Calls {
    all: Vec<Record>,
    /// The position of the newest that it begins from.
    from: usize,
}

impl Calls {
    /// A call begins from all of them.
    pub(super) const fn all(all: Vec<Record>) -> Self {
        Self { all, from: 0 }
    }

    /// It begins from this one and those before it.
    fn from(mut all: Vec<Record>, record: Record) -> Self {
        let number = record.listed.number;
        let from = all.iter().position(|other| other.listed.number <= number).unwrap_or(all.len());
        if all.get(from).is_none_or(|other| other.listed.number != number) {
            all.insert(from, record);
        }
        Self { all, from }
    }

    /// Those that it begins from.
    fn earlier(&self) -> &[Record] {
        &self.all[self.from..]
    }
}

/// The calls on a unit, newest first.
pub(super) fn on_unit(store: &mut dyn Store, unit: &str) -> Result<Vec<Record>, Fault> {
    let wanted = Wanted { unit: Some(unit.to_owned()), ..Wanted::default() };
    let mut numbers = Vec::new();
    store.each(&wanted, &mut |listed| {
        numbers.push(listed.number);
        Ok(numbers.len() < MOST as usize)
    })?;
    let mut records = Vec::new();
    for number in numbers {
        match store.call(number) {
            Ok(record) => records.push(record),
            // What cannot be read of one call keeps nobody from the next.
            Err(fault) if fault.is_of_one_call() => say(&fault.to_string()),
            Err(fault) => return Err(fault),
        }
    }
    Ok(records)
}

/// That there are calls on a unit of nearly this name, where there are: it may be the same unit.
pub(super) fn on_unit_like(store: &mut dyn Store, unit: &str) -> Result<Option<String>, Fault> {
    let Some(number) = store.on_unit_like(unit)? else { return Ok(None) };
    // What cannot be read of one call keeps nobody from the next.
    let Ok(other) = store.call(number) else { return Ok(None) };
    let other = other.listed.opening.unit.unwrap_or_default();
    Ok(Some(format!(
        "No call on {unit} is kept; on {other} there is one: call {number}. If that is this unit, leave this call, and \
         begin with what is known of the unit: {}",
        typed_of("again", number)
    )))
}

/// A call, and those that it began from, and that one from, newest first.
fn chain(store: &mut dyn Store, record: Record) -> Result<Vec<Record>, Fault> {
    let mut from = record.listed.opening.again_of.clone();
    let mut records = vec![record];
    for _ in 0..MOST {
        let Some(id) = &from else { break };
        let Some(number) = store.number_of(id)? else { break };
        let record = store.call(number)?;
        from.clone_from(&record.listed.opening.again_of);
        records.push(record);
    }
    Ok(records)
}

/// Begins a call with what is known from earlier ones on the unit, of which there is one at least.
pub(super) fn start(
    book: &Arc<Rulebook>,
    asking: &Asking<'_>,
    store: Box<dyn Store>,
    rules: Option<&Path>,
    calls: &Calls,
    meter: Option<String>,
) -> Result<u8, Failure> {
    let own = meter.as_deref().map(super::call::meter_of).transpose()?;
    let earlier = calls.earlier();
    let last = earlier.first().map(|record| &record.listed);
    let mut opening = keep::opening(book, rules, last.and_then(|last| last.opening.unit.as_deref()), meter);
    opening.again_of = last.map(|last| last.opening.id.clone());
    let (mut lines, mut warnings) = (Vec::new(), Vec::new());
    let mut is_told = false;
    let mut carried = Carried::default();
    for record in earlier {
        match kept::call(book, record) {
            Ok(call) => {
                lines.push(add(&mut carried, book, record, &call));
                // How the unit stands is said by the newest in which anything was known of it.
                if !is_told {
                    is_told = Standing::of(&call).is_known();
                    // A danger or an unfinished work that a newer one was told of hides none of it.
                    if is_told || warnings.is_empty() {
                        warnings.extend(left_behind(record, &call));
                    }
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
    if !asking.yes && !goes_on(&mut talk, book, &call, &calls.all)? {
        return Ok(DISAGREES);
    }
    power_was_on(&mut talk, book, &calls.all);
    not_proved_dead(&mut carried, &mut talk, (book, &call), &calls.all, asking.yes)?;
    let mut keeper = Keeper::begin(store, book, &opening)?;
    for event in carried.into_events(book) {
        keeper.happens(&mut call, event)?;
    }
    let on = opening.unit.as_ref().map_or(String::new(), |unit| format!(", {unit}"));
    let of = last.map_or(String::new(), |last| {
        format!(", on the unit of call {} of {}", last.number, last.opening.at)
    });
    let title = format!("Call {}{of}{on}.", keeper.number());
    lead_on(call, keeper, talk, &Begun { title: &title, warnings: &warnings, lines: &lines })
}

/// Tells the conversation how long ago the unit was live at the latest, by the record of the calls on it: nothing was off
/// for longer, whoever says so.
pub(super) fn power_was_on<'r>(
    talk: &mut Talk<'_>,
    book: &Rulebook,
    calls: impl IntoIterator<Item = &'r Record>,
) {
    let now = When::now();
    if let Some(before) = calls.into_iter().filter_map(|record| since_power_on(book, record, now)).min() {
        talk.power_was_on(Instant::now(), before);
    }
}

/// How long ago the record has power put on; nothing where it never was. By a clock that went backwards it was just now.
fn since_power_on(book: &Rulebook, record: &Record, now: When) -> Option<Duration> {
    let names = Names::of(book);
    let mut newest_first = record.events.iter().rev();
    let on =
        newest_first.find(|written| names.read(&written.event).is_ok_and(|event| puts_on(book, &event)))?;
    Some(Duration::from_millis(u64::try_from(now.millis() - on.at.millis()).unwrap_or(0)))
}

/// Takes over where a call on the unit could not prove it dead, newest first, and asks whether that was seen to since.
pub(super) fn not_proved_dead(
    carried: &mut Carried,
    talk: &mut Talk<'_>,
    (book, call): (&Arc<Rulebook>, &Call),
    calls: &[Record],
    yes: bool,
) -> Result<(), Failure> {
    for record in calls {
        // What means nothing to these rules hides no other.
        if let Ok(call) = kept::call(book, record) {
            carried.proving_dead(&call, &found_as(record));
        }
    }
    if let Some(found_as) = carried.not_proved_dead_in().filter(|_| !yes)
        && decided(talk.was_seen_to(call, found_as))?
    {
        carried.seen_to();
    }
    Ok(())
}

/// Whether it was said; nobody has said so who types no more.
fn decided(said: Result<bool, Stopped>) -> Result<bool, Failure> {
    match said {
        Ok(said) => Ok(said),
        Err(Stopped::Ended) => Ok(false),
        Err(Stopped::Broken(error)) => Err(Failure::Terminal(error)),
        Err(Stopped::Halted(halt)) => Err(Failure::Halt(halt)),
    }
}

/// A call, as people find it.
fn found_as(record: &Record) -> String {
    format!("call {} of {}", record.listed.number, record.listed.last.day())
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
    decided(talk.goes_on_beside(call, &open))
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
            (is_open && begun).then(|| at_last(&call))?
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

/// How the unit stood at the last word, and the danger that was told.
fn at_last(call: &Call) -> String {
    let danger = danger_told(call).map_or(String::new(), |danger| format!("; danger told: {danger}"));
    format!("{}{danger}", in_short(call))
}

/// How a call left the unit, where that can hurt whoever comes next: danger, work that stopped half way, a unit that was
/// to stay off, and one that is open, off or not proved dead.
fn left_behind(record: &Record, call: &Call) -> Vec<String> {
    let number = record.listed.number;
    let begun = work_left(call);
    let mut warnings: Vec<String> =
        begun.iter().map(|work| format!("Call {number} began work and did not finish it: {work}.")).collect();
    let ends_off = match call.next() {
        Next::Ended(ended) => call.book().ending(ended.last.ending).left_off,
        Next::Prompt(_) => false,
    };
    let in_danger = danger_told(call).is_some();
    if !warnings.is_empty() || ends_off || in_danger || Standing::of(call).needs_care() {
        warnings.push(format!(
            "Call {number} left the unit so: {}. Locks and tags of that call stay on until whoever put them there takes them \
             off, and power comes back only once what it left is seen to.",
            at_last(call)
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
            "Call {number} of {at} was left open; to go on with it: {}.",
            typed_of("resume", number)
        );
    }
    let recent = When::now().days_before(CALLBACK_DAYS) <= record.listed.last;
    carried.repairs(call, recent, &found_as(record));
    format!("Call {number} of {at} came to: {}.", kept::ends(book, &summary))
}
