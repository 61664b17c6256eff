//! What the commands on calls that are kept have in common.

use crate::args::{LOG_TO, LogArguments};
use crate::failure::Failure;
use crate::keep;
use crate::store::{Fault, Listed, Number, Place, Record, Store, Wanted, When};
use engine::call::Call;
use engine::record::Summary;
use engine::rulebook::Rulebook;
use std::sync::Arc;

impl LogArguments {
    /// Where calls are kept; none where nothing is to be kept.
    pub(crate) fn place(&self) -> Result<Option<Place>, Fault> {
        Place::chosen(self.log_to.as_deref())
    }

    /// What has to be said beside a command for it to find the log: what was said beside this one.
    pub(crate) fn beside(&self) -> &'static str {
        let usual = std::env::var_os(LOG_TO);
        if self.log_to.is_none() || self.log_to == usual { "" } else { ", with the same --log-to" }
    }

    /// The log, to look something up in; none is made.
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

/// Every call that is wanted, each with what it comes to.
pub(super) fn listed(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    wanted: &Wanted,
    ear: &mut dyn FnMut(Listed) -> bool,
) -> Result<(), Failure> {
    made_good(store, book, wanted, &mut |_| ())?;
    store.each(wanted, &mut |listed| Ok(ear(listed)))?;
    Ok(())
}

/// Looks at every call that is wanted, and sums up those that nobody did: whose process was killed. That is kept.
pub(super) fn made_good(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    wanted: &Wanted,
    glance: &mut dyn FnMut(&Listed),
) -> Result<(), Failure> {
    let mut open: Vec<Number> = Vec::new();
    store.each(wanted, &mut |listed| {
        glance(&listed);
        if listed.summary.is_none() {
            open.push(listed.number);
        }
        Ok(true)
    })?;
    for number in open {
        summed_up(store, book, number)?;
    }
    Ok(())
}

/// Sums up a call; one whose events mean nothing to today's rules is left as it is.
fn summed_up(store: &mut dyn Store, book: &Arc<Rulebook>, number: Number) -> Result<(), Failure> {
    let record = match store.call(number) {
        Ok(record) => record,
        Err(Fault::Garbled { .. } | Fault::NoCall(_)) => return Ok(()),
        Err(fault) => return Err(fault.into()),
    };
    match call(book, &record) {
        Ok(call) => match store.sum_up(number, &Summary::of(&call)) {
            // It is only not kept: a log that cannot be written can still be read.
            Err(Fault::ReadOnly { .. } | Fault::Full { .. } | Fault::Busy { .. }) | Ok(()) => Ok(()),
            Err(fault) => Err(fault.into()),
        },
        Err(Failure::Log(Fault::Rules { .. })) => Ok(()),
        Err(failure) => Err(failure),
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
