//! What is known and what was done.

use super::answer;
use super::power::{Status, number};
use super::screen::{Label, Screen};
use engine::call::{Call, Version};
use engine::rulebook::FactId;
use std::io;

/// The page of `so far`, and of a call that is left open.
pub(crate) fn show(screen: &mut Screen<'_>, call: &Call) -> io::Result<()> {
    read(screen, call)?;
    done(screen, call)?;
    screen.list(Label::quiet("NOTES"), call.notes())?;
    Status::of(call.book(), call.power()).show(screen, None)?;
    cost(screen, call)
}

/// What was read, oldest first.
pub(crate) fn read(screen: &mut Screen<'_>, call: &Call) -> io::Result<()> {
    let mut known: Vec<(FactId, &Version)> = call
        .book()
        .fact_ids()
        .filter_map(|fact| call.ledger().newest(fact).map(|version| (fact, version)))
        .collect();
    known.sort_by_key(|(_, version)| version.event);
    let rows: Vec<String> = known.into_iter().map(|(fact, version)| row(call, fact, version)).collect();
    if rows.is_empty() {
        return screen.row(Label::quiet("READ"), "nothing yet");
    }
    screen.list(Label::quiet("READ"), &rows)
}

fn row(call: &Call, fact: FactId, version: &Version) -> String {
    let row = answer::listed_fact(call.book().fact(fact), &version.answer);
    match (version.stale, version.purpose) {
        (true, _) => format!("{row} (before; to be read again)"),
        (false, None) => format!("{row} (by the work done)"),
        (false, Some(_)) => row,
    }
}

/// The deeds done, oldest first.
pub(crate) fn done(screen: &mut Screen<'_>, call: &Call) -> io::Result<()> {
    let rows: Vec<String> = call
        .deeds_done()
        .map(|(_, deed, corrected)| {
            let name = &call.book().deed(deed).name;
            if corrected { format!("{name} (on a reading since corrected)") } else { name.clone() }
        })
        .collect();
    screen.list(Label::quiet("DONE"), &rows)
}

/// What the call has cost.
pub(crate) fn cost(screen: &mut Screen<'_>, call: &Call) -> io::Result<()> {
    let (asked, lockouts) = (call.tally().asked, call.power().lockouts());
    let many = |count: u32, what: &str| match count {
        1 => format!("1 {what}"),
        more => format!("{more} {what}s"),
    };
    screen.row(
        Label::quiet("COST"),
        &format!(
            "{}, {}, about {} minutes",
            many(asked, "question"),
            many(lockouts, "lock-out"),
            number(call.tally().minutes.round())
        ),
    )
}
