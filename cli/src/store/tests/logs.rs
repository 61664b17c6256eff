//! What the tests start from: an empty log of each kind, calls, seats and words.

use super::server;
use crate::store::{Number, Opening, Place, RulesUsed, Seat, Store, When, Written};
use engine::record::{Entry, Summary};
use std::process::Command;

/// Runs a test on an empty log of each kind.
pub(super) fn on_both(test: &str, run: impl Fn(&Place)) {
    let folder = tempfile::tempdir().unwrap();
    run(&Place::File(folder.path().join("calls.db")));
    if let Some(url) = server::database(test) {
        run(&Place::Server(url));
    }
}

/// 2026-11-29 12:00 in UTC, and so many minutes.
pub(super) fn at(minutes: i64) -> When {
    When::from_millis(1_795_953_600_000 + minutes * 60_000)
}

/// The beginning of a call on a unit.
pub(super) fn opening(id: &str, unit: Option<&str>, minutes: i64) -> Opening {
    Opening {
        id: id.to_owned(),
        at: at(minutes),
        unit: unit.map(str::to_owned),
        again_of: None,
        rules: RulesUsed {
            folder: None,
            decide: "d".to_owned(),
            prose: "p".to_owned(),
            program: "0.1.0".to_owned(),
        },
        meter: None,
    }
}

/// A remark, so many minutes after noon.
pub(super) fn remark(text: &str, minutes: i64) -> Written {
    Written { at: at(minutes), event: Entry::Note { text: text.to_owned() } }
}

/// A summary that stands on so many events.
pub(super) fn summary(events: u32) -> Summary {
    Summary { events, ..Summary::default() }
}

/// A call by this seat with these remarks, a minute apart, still held.
pub(super) fn held(log: &mut dyn Store, id: &str, seat: &Seat, remarks: &[&str]) -> Number {
    let number = log.open(&opening(id, None, 0), seat).unwrap();
    for (place, text) in (0..).zip(remarks) {
        log.append(number, place, &remark(text, i64::from(place)), seat).unwrap();
    }
    number
}

/// The remarks of a call, in their order.
pub(super) fn remarks(log: &mut dyn Store, number: Number) -> Vec<String> {
    let text = |written: Written| match written.event {
        Entry::Note { text } => text,
        other => panic!("no remark: {other:?}"),
    };
    log.events_of(number).unwrap().into_iter().map(text).collect()
}

/// A seat of this machine whose process ended.
pub(super) fn dead_seat() -> Seat {
    let mut child = Command::new("true").spawn().unwrap();
    child.wait().unwrap();
    let living = Seat::of_this_process();
    let (ours, theirs) = (std::process::id().to_string(), child.id().to_string());
    Seat { name: living.name.replace(&ours, &theirs), token: living.token.replace(&ours, &theirs) }
}

/// A seat of another machine, of which nothing is known here.
pub(super) fn seat_elsewhere() -> Seat {
    Seat { name: "bea on desk-9, process 1".to_owned(), token: "desk-9/1/0/0".to_owned() }
}
