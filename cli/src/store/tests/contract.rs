//! What every log does, whoever asks.

use super::logs::{at, held, on_both, opening, remark, remarks, summary};
use crate::store::{Fault, Listed, Number, Place, Record, Seat, Store, Wanted, When, Written};
use engine::call::{DeedResult, Purpose};
use engine::record::{Entry, Said};

/// The numbers of the calls that are wanted.
fn numbers(log: &mut dyn Store, wanted: &Wanted) -> Vec<Number> {
    let mut found = Vec::new();
    log.each(wanted, &mut |listed| {
        found.push(listed.number);
        Ok(true)
    })
    .unwrap();
    found
}

#[test]
fn what_was_written_is_read_back_as_it_was() {
    on_both("read_back", |place| {
        let seat = Seat::of_this_process();
        let mut opening = opening("one", Some("job 4711"), 3);
        opening.meter = Some("text of a meter file\n".to_owned());
        opening.again_of = Some("another".to_owned());
        let is = Said::Read(0.1 + 0.2, "V".to_owned());
        let events = [
            Entry::Told { fact: "line_voltage_at_unit".to_owned(), is, purpose: Purpose::Step },
            Entry::Note { text: "\u{0}\u{1b}[2J \"quoted\" \u{202e} \u{1f525} \\ ' ; --\n".to_owned() },
            Entry::Retract { event: 1 },
            Entry::Earlier {
                ending: "fit-link-115".to_owned(),
                result: DeedResult::Later,
                of: Some("call 3".to_owned()),
            },
            Entry::Left {},
        ];
        let mut log = place.open().unwrap();
        let number = log.open(&opening, &seat).unwrap();
        assert_eq!(number, 1);
        let written = (4..).zip(events).map(|(minute, event)| Written { at: at(minute), event });
        let written: Vec<Written> = written.collect();
        for (place, written) in (0..).zip(&written) {
            log.append(number, place, written, &seat).unwrap();
        }
        // Another program sees it at once, and after it was let go.
        let mut other = place.open().unwrap();
        let listed = other.call(number).unwrap().listed;
        assert_eq!(listed.holder.map(|holder| (holder.seat, holder.since)), Some((seat.clone(), at(3))));
        log.release(number, &summary(5), &seat).unwrap();
        let listed = Listed {
            number,
            opening: opening.clone(),
            last: at(8),
            events: 5,
            summary: Some(summary(5)),
            holder: None,
        };
        assert_eq!(other.call(number).unwrap(), Record { listed, events: written.clone() });
        assert_eq!(other.events_of(number).unwrap(), written);
        assert_eq!(other.number_of("one").unwrap(), Some(number));
        assert_eq!(other.number_of("two").unwrap(), None);
    });
}

#[test]
fn a_call_that_is_not_there_is_said_to_be_so() {
    on_both("not_there", |place| {
        let seat = Seat::of_this_process();
        let mut log = place.open().unwrap();
        let missing =
            |result: Result<(), Fault>| assert!(matches!(result, Err(Fault::NoCall(7))), "{result:?}");
        missing(log.call(7).map(drop));
        missing(log.hold(7, &seat, at(0), false));
        missing(log.append(7, 0, &remark("x", 0), &seat));
        missing(log.release(7, &summary(0), &seat));
        missing(log.forget(7));
        assert_eq!(log.events_of(7).unwrap(), []);
    });
}

#[test]
fn an_event_out_of_its_place_is_not_taken() {
    on_both("out_of_place", |place| {
        let seat = Seat::of_this_process();
        let mut log = place.open().unwrap();
        let number = held(log.as_mut(), "one", &seat, &["a", "b"]);
        for wrong in [0, 1, 3, 4, u32::MAX] {
            assert!(log.append(number, wrong, &remark("x", 9), &seat).is_err(), "at {wrong}");
        }
        log.append(number, 2, &remark("c", 2), &seat).unwrap();
        assert_eq!(remarks(log.as_mut(), number), ["a", "b", "c"]);
        let listed = log.call(number).unwrap().listed;
        assert_eq!((listed.events, listed.last), (3, at(2)));
    });
}

#[test]
fn order_is_by_place_where_the_clock_goes_backwards() {
    on_both("backwards", |place| {
        let seat = Seat::of_this_process();
        let mut log = place.open().unwrap();
        let number = log.open(&opening("one", None, 100), &seat).unwrap();
        for (place, minute) in [(0, 90), (1, -500), (2, 60)] {
            log.append(number, place, &remark(&minute.to_string(), minute), &seat).unwrap();
        }
        assert_eq!(remarks(log.as_mut(), number), ["90", "-500", "60"]);
        assert_eq!(log.call(number).unwrap().listed.last, at(60));
    });
}

#[test]
fn lists_are_of_what_is_wanted_and_newest_first() {
    on_both("lists", |place| {
        let seat = Seat::of_this_process();
        let mut log = place.open().unwrap();
        for (id, unit, minute) in
            [("a", Some("job 1"), 0), ("b", None, 10), ("c", Some("job 2"), 20), ("d", Some("job 1"), 5)]
        {
            let number = log.open(&opening(id, unit, minute), &seat).unwrap();
            log.release(number, &summary(0), &seat).unwrap();
        }
        let all = Wanted::default;
        let unit = |unit: &str| Some(unit.to_owned());
        for (wanted, found) in [
            (all(), &[4, 3, 2, 1][..]),
            (Wanted { unit: unit("job 1"), ..all() }, &[4, 1]),
            (Wanted { unit: unit("job"), ..all() }, &[]),
            (Wanted { unit: unit("' OR 1 --"), ..all() }, &[]),
            (Wanted { since: Some(at(5)), ..all() }, &[4, 3, 2]),
            (Wanted { before: Some(at(5)), ..all() }, &[1]),
            (Wanted { since: Some(at(5)), before: Some(at(20)), ..all() }, &[4, 2]),
            (Wanted { most: Some(2), ..all() }, &[4, 3]),
            (Wanted { most: Some(0), ..all() }, &[]),
            (
                Wanted {
                    unit: unit("job 1"),
                    since: Some(at(1)),
                    before: Some(at(9)),
                    most: Some(9),
                    open: false,
                },
                &[4],
            ),
            (Wanted { open: true, ..all() }, &[4, 3, 2, 1]),
        ] {
            assert_eq!(numbers(log.as_mut(), &wanted), found, "{wanted:?}");
        }
        // It may be stopped, and the log goes on as before; so does a fault of the ear.
        let mut heard = 0;
        log.each(&all(), &mut |_| {
            heard += 1;
            Ok(heard < 2)
        })
        .unwrap();
        assert_eq!(heard, 2);
        let fault = log.each(&all(), &mut |_| Err(Fault::Nowhere));
        assert!(matches!(fault, Err(Fault::Nowhere)));
        assert_eq!(numbers(log.as_mut(), &all()).len(), 4);
    });
}

#[test]
fn a_summary_is_kept_for_the_events_that_it_stands_on_only() {
    on_both("summaries", |place| {
        let seat = Seat::of_this_process();
        let mut log = place.open().unwrap();
        let number = held(log.as_mut(), "one", &seat, &["a", "b"]);
        let kept = |log: &mut dyn Store| log.call(number).unwrap().listed.summary;
        log.sum_up(number, &summary(1)).unwrap();
        assert_eq!(kept(log.as_mut()), None);
        log.sum_up(number, &summary(2)).unwrap();
        assert_eq!(kept(log.as_mut()), Some(summary(2)));
        log.append(number, 2, &remark("c", 2), &seat).unwrap();
        assert_eq!(kept(log.as_mut()), None);
    });
}

#[test]
fn a_number_is_never_given_twice() {
    on_both("numbers", |place| {
        let seat = Seat::of_this_process();
        let mut log = place.open().unwrap();
        for id in ["a", "b", "c"] {
            let number = held(log.as_mut(), id, &seat, &["x"]);
            log.forget(number).unwrap();
            assert!(matches!(log.call(number), Err(Fault::NoCall(_))));
            assert_eq!(log.events_of(number).unwrap(), []);
        }
        drop(log);
        let mut log = place.open().unwrap();
        assert_eq!(held(log.as_mut(), "d", &seat, &[]), 4);
        log.forget(4).unwrap();
        let record = Record { listed: listed("e", 0), events: vec![] };
        assert_eq!(log.import(&record).unwrap(), 5);
    });
}

fn listed(id: &str, events: u32) -> Listed {
    Listed {
        number: 99,
        opening: opening(id, Some("job 1"), 0),
        last: at(9),
        events,
        summary: None,
        holder: None,
    }
}

#[test]
fn a_call_from_elsewhere_is_taken_in_whole_or_not_at_all() {
    on_both("import", |place| {
        let mut log = place.open().unwrap();
        let events: Vec<Written> =
            (0..300).map(|minute| remark(&format!("remark {minute}"), minute)).collect();
        let record = Record { listed: Listed { summary: Some(summary(300)), ..listed("one", 300) }, events };
        let number = log.import(&record).unwrap();
        let taken = log.call(number).unwrap();
        assert_eq!(
            taken,
            Record { listed: Listed { number, ..record.listed.clone() }, events: record.events.clone() }
        );
        // A second one under its id is refused, and leaves nothing behind.
        assert!(log.import(&record).is_err());
        assert_eq!(numbers(log.as_mut(), &Wanted::default()), [number]);
        // It is gone on with like any other.
        let seat = Seat::of_this_process();
        log.hold(number, &seat, at(400), false).unwrap();
        log.append(number, 300, &remark("and on", 400), &seat).unwrap();
        assert_eq!(log.call(number).unwrap().listed.last, at(400));
    });
}

#[test]
fn an_event_that_is_no_event_is_told_with_its_place() {
    on_both("garbled", |place| {
        let seat = Seat::of_this_process();
        let mut log = place.open().unwrap();
        let number = held(log.as_mut(), "one", &seat, &["a", "b", "c"]);
        let whole = held(log.as_mut(), "two", &seat, &["d"]);
        for (garbled, why) in [
            ("{", "ends in the middle"),
            ("{\"told\":{}}", "`fact` is missing"),
            ("{\"sung\":{}}", "knows no `sung`"),
        ] {
            execute(
                place,
                &format!("UPDATE events SET event = '{garbled}' WHERE call = {number} AND place = 1"),
            );
            let fault = log.events_of(number).unwrap_err();
            let told = fault.to_string();
            assert!(matches!(fault, Fault::Garbled { number: 1, place: 1, .. }), "{told}");
            assert!(told.contains(why), "{told}");
            assert_eq!(remarks(log.as_mut(), whole), ["d"]);
        }
    });
}

#[test]
fn moments_keep_their_milliseconds() {
    for millis in [0, 1, -1, 1_795_953_600_123, -62_000_000_000_000] {
        let when = When::from_millis(millis);
        assert_eq!(when.millis(), millis);
        let text = serde_json::to_string(&when).unwrap();
        assert_eq!(serde_json::from_str::<When>(&text).unwrap(), when);
    }
}

/// Runs a statement on a log behind its back.
pub(super) fn execute(place: &Place, sql: &str) {
    match place {
        Place::File(path) => rusqlite::Connection::open(path).unwrap().execute_batch(sql).unwrap(),
        Place::Server(url) => {
            postgres::Client::connect(url, postgres::NoTls).unwrap().batch_execute(sql).unwrap();
        }
    }
}
