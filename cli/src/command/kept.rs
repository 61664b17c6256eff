//! What the commands on calls that are kept have in common.

use crate::args::{LOG_TO, LogArguments};
use crate::failure::{DISAGREES, Failure, OK, say};
use crate::keep;
use crate::store::{Fault, Listed, Number, Place, Record, Store, Wanted, When, log_is};
use engine::call::Call;
use engine::record::{Stands, Summary};
use engine::rulebook::Rulebook;
use std::collections::BTreeMap;
use std::sync::Arc;

impl LogArguments {
    /// Where calls are kept; none where nothing is to be kept.
    pub(crate) fn place(&self) -> Result<Option<Place>, Fault> {
        log_is(self.log_to.as_deref().filter(|_| self.is_named()));
        Place::chosen(self.log_to.as_deref())
    }

    /// Whether the log is one that was named beside this command.
    pub(crate) fn is_named(&self) -> bool {
        self.log_to.is_some() && self.log_to != std::env::var_os(LOG_TO)
    }

    /// The log, only to look something up in: also one that cannot be written, which is said in a line.
    pub(crate) fn open_to_read(&self) -> Result<Box<dyn Store>, Fault> {
        let place = self.place()?.ok_or(Fault::Nowhere)?;
        let opened = place.open_to_read()?.ok_or_else(|| Fault::NoLog(place.to_string()))?;
        match opened.why_only_read {
            Some(Fault::Full { place }) => say(&format!("the disk of {place} is full: the log is only read")),
            Some(Fault::ReadOnly { place, .. }) => {
                say(&format!("the call log {place} cannot be written here: it is only read"));
            }
            Some(_) | None => {}
        }
        Ok(opened.log)
    }

    /// The log, to go on with something that is in it; none is made.
    pub(crate) fn open(&self) -> Result<Box<dyn Store>, Fault> {
        let place = self.place()?.ok_or(Fault::Nowhere)?;
        place.open_existing()?.ok_or_else(|| Fault::NoLog(place.to_string()))
    }

    /// The log, to write something to; it is made where there is none.
    pub(crate) fn open_or_make(&self) -> Result<Box<dyn Store>, Fault> {
        self.place()?.ok_or(Fault::Nowhere)?.open()
    }
}

/// The call that a record adds up to, by these rules.
pub(super) fn call(book: &Arc<Rulebook>, record: &Record) -> Result<Call, Failure> {
    keep::fold(book, record.listed.number, &record.listed.opening, &record.events)
}

/// Every call that is wanted, each with what it comes to. What could not be read is passed over, and returned.
pub(super) fn listed(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    wanted: &Wanted,
    ear: &mut dyn FnMut(Listed) -> bool,
) -> Result<Vec<Fault>, Failure> {
    let made = made_good(store, book, wanted, &mut |_| ())?;
    Ok(store.each(wanted, &mut |listed| Ok(ear(made.fill(listed))))?)
}

/// What calls come to that nobody had summed up, where it could not be kept.
#[derive(Default)]
pub(super) struct MadeGood(BTreeMap<Number, Summary>);

impl MadeGood {
    /// The call with what it comes to.
    pub(super) fn fill(&self, mut listed: Listed) -> Listed {
        if is_to_be_summed_up(&listed)
            && let Some(made) = self.0.get(&listed.number).filter(|made| made.events == listed.events)
        {
            listed.summary = Some(made.clone());
        }
        listed
    }
}

/// Whether nobody has summed a call up, as where its process was killed; or only an older program, that did not say how
/// the unit was left.
fn is_to_be_summed_up(listed: &Listed) -> bool {
    listed.summary.as_ref().is_none_or(|summary| summary.left.is_none())
}

/// Looks at every call that is wanted, and sums up those that nobody did. That is kept.
pub(super) fn made_good(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    wanted: &Wanted,
    glance: &mut dyn FnMut(&Listed),
) -> Result<MadeGood, Failure> {
    let mut open: Vec<Number> = Vec::new();
    store.each(wanted, &mut |listed| {
        glance(&listed);
        if is_to_be_summed_up(&listed) {
            open.push(listed.number);
        }
        Ok(true)
    })?;
    let mut made = MadeGood::default();
    for number in open {
        if let Some((summary, Keeping::Not)) = summed_up(store, book, number)? {
            made.0.insert(number, summary);
        }
    }
    Ok(made)
}

/// Whether the log has what a call was summed up to.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Keeping {
    Kept,
    Not,
}

/// Sums up a call; none where its events mean nothing to today's rules: it is left as it is.
pub(super) fn summed_up(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    number: Number,
) -> Result<Option<(Summary, Keeping)>, Failure> {
    let record = match store.call(number) {
        Ok(record) => record,
        Err(fault) if fault.is_of_one_call() || matches!(fault, Fault::NoCall(_)) => return Ok(None),
        Err(fault) => return Err(fault.into()),
    };
    let summary = match call(book, &record) {
        Ok(call) => Summary::of(&call),
        Err(Failure::Log(Fault::Rules { .. })) => return Ok(None),
        Err(failure) => return Err(failure),
    };
    let keeping = match store.sum_up(number, &summary) {
        Ok(()) => Keeping::Kept,
        // It is only not kept: a log that cannot be written can still be read.
        Err(Fault::ReadOnly { .. } | Fault::Full { .. } | Fault::Busy { .. }) => Keeping::Not,
        Err(fault) => return Err(fault.into()),
    };
    Ok(Some((summary, keeping)))
}

/// Says which calls were passed over, and the exit code that says so too.
pub(super) fn passed_over(passed: &[Fault]) -> u8 {
    for fault in passed {
        say(&fault.to_string());
    }
    if passed.is_empty() { OK } else { DISAGREES }
}

/// From when until when calls are wanted, as days that were typed.
pub(super) fn span(
    since: Option<&String>,
    before: Option<&String>,
) -> Result<(Option<When>, Option<When>), Failure> {
    match (day(since)?, day(before)?) {
        (Some(from), Some(until)) if from >= until => Err(Failure::NoSpan {
            since: since.cloned().unwrap_or_default(),
            before: before.cloned().unwrap_or_default(),
        }),
        span => Ok(span),
    }
}

/// A day as it is typed.
pub(super) fn day(text: Option<&String>) -> Result<Option<When>, Failure> {
    let read = |text: &String| When::parse(text).ok_or_else(|| Failure::NoDay(text.clone()));
    text.map(read).transpose()
}

/// The endings of a call in a line, by the names of these rules where they know them.
pub(super) fn ends(book: &Rulebook, summary: &Summary) -> String {
    let one = |end: &engine::record::End| format!("{}, {}", name(book, &end.ending), end.outcome);
    summary.ends.iter().map(one).collect::<Vec<_>>().join("; then ")
}

/// What an ending is called, or its id where these rules do not know it.
pub(super) fn name<'b>(book: &'b Rulebook, ending: &'b str) -> &'b str {
    book.ending_named(ending).map_or(ending, |id| &book.ending(id).name)
}

/// What a complaint or any other id is called that has no name of its own.
pub(super) fn plain(id: &str) -> String {
    id.replace('_', " ")
}

/// What a reading is called, or its id in plain words where these rules do not know it.
pub(super) fn reading(book: &Rulebook, id: &str) -> String {
    book.fact_named(id).map_or_else(|| plain(id), |fact| book.fact(fact).name.clone())
}

/// What a call was at: `reading, motor power`; by the names of these rules where they know them.
pub(super) fn place(book: &Rulebook, stands: &Stands) -> String {
    let of = &stands.of;
    let deed = || book.deeds().iter().find(|deed| deed.id == *of).map(|deed| deed.name.clone());
    let ending = || book.ending_named(of).map(|ending| book.ending(ending).name.clone());
    let relation =
        || book.relations().iter().find(|relation| relation.id == *of).map(|found| found.means.clone());
    let named = match stands.at.as_str() {
        "agree" => ending(),
        "deed" => deed(),
        "conflict" => relation(),
        _ => book.fact_named(of).map(|fact| book.fact(fact).name.clone()).or_else(deed),
    };
    format!("{}, {}", stands.at, named.unwrap_or_else(|| plain(of)))
}
