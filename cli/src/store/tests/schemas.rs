//! Logs of other versions of the program.

use super::contract::execute;
use super::logs::{at, dead_seat, on_both, opening, remark, remarks};
use crate::store::{Fault, Listed, Place, Record, Seat, Wanted, schema};
use engine::record::{End, Summary};

/// Makes the tables of the first version, as the program of then did.
fn first_version(place: &Place) {
    let steps = match place {
        Place::File(_) => schema::SQLITE,
        Place::Server(_) => schema::POSTGRES,
    };
    execute(place, steps[0]);
    execute(place, "UPDATE about SET schema = 1, program = '0.0.9'");
    if let Place::File(_) = place {
        execute(place, "PRAGMA journal_mode = WAL");
        execute(place, &format!("PRAGMA application_id = {}; PRAGMA user_version = 1", schema::APPLICATION));
    }
}

fn quoted(text: &str) -> String {
    format!("'{}'", text.replace('\'', "''"))
}

#[test]
fn a_log_of_the_first_version_is_brought_up_to_date_and_nothing_is_lost() {
    on_both("first_version", |place| {
        first_version(place);
        let dead = dead_seat();
        let mut wanted = Vec::new();
        for (number, unit, events) in [(1, Some("job 'one'"), 3), (2, None, 0), (3, Some("\u{e9}tage 2"), 40)]
        {
            let opening = opening(&format!("id-{number}"), unit, 7 * number + 1);
            let text = serde_json::to_string(&opening).unwrap();
            // The last is held by a seat that died.
            let (seat, token) = (quoted(&dead.name), quoted(&dead.token));
            let (seat, token, since) =
                if number == 3 { (&*seat, &*token, "9") } else { ("NULL", "NULL", "NULL") };
            execute(
                place,
                &format!(
                    "INSERT INTO calls (id, opening, seat, token, since) VALUES ({}, {}, {seat}, {token}, {since})",
                    quoted(&opening.id),
                    quoted(&text)
                ),
            );
            let events: Vec<_> =
                (0..events).map(|minute| remark(&format!("it's {minute}"), 30 - minute)).collect();
            for (place_of, written) in events.iter().enumerate() {
                let event = quoted(&serde_json::to_string(&written.event).unwrap());
                execute(
                    place,
                    &format!(
                        "INSERT INTO events VALUES ({number}, {place_of}, {}, {event})",
                        written.at.millis()
                    ),
                );
            }
            let last = events.last().map_or(opening.at, |written| written.at);
            let count = u32::try_from(events.len()).unwrap();
            let listed = Listed { number, opening, last, events: count, summary: None, holder: None };
            wanted.push(Record { listed, events });
        }
        let mut log = place.open().unwrap();
        for record in &wanted {
            let mut found = log.call(record.listed.number).unwrap();
            let holder = found.listed.holder.take();
            assert_eq!(holder.is_some(), record.listed.number == 3);
            assert_eq!(&found, record);
        }
        // What lists go by was made, to the millisecond.
        let since = Wanted { since: Some(at(15)), ..Wanted::default() };
        let mut found = Vec::new();
        log.each(&since, &mut |listed| {
            found.push(listed.number);
            Ok(true)
        })
        .unwrap();
        assert_eq!(found, [3, 2]);
        // It goes on: the dead seat's call, and new numbers.
        let seat = Seat::of_this_process();
        log.hold(3, &seat, at(50), false).unwrap();
        log.append(3, 40, &remark("and on", 50), &seat).unwrap();
        assert_eq!(remarks(log.as_mut(), 3).len(), 41);
        assert_eq!(log.open(&opening("id-4", None, 60), &seat).unwrap(), 4);
        // A second time there is nothing to do.
        drop(log);
        assert_eq!(remarks(place.open().unwrap().as_mut(), 3).len(), 41);
    });
}

/// What can be gone on with is known from then on without a look at each call.
#[test]
fn what_is_open_is_known_of_calls_that_the_second_version_summed_up() {
    on_both("second_version", |place| {
        first_version(place);
        let steps = match place {
            Place::File(_) => schema::SQLITE,
            Place::Server(_) => schema::POSTGRES,
        };
        execute(place, steps[1]);
        execute(place, "UPDATE about SET schema = 2");
        if let Place::File(_) = place {
            execute(place, "PRAGMA user_version = 2");
        }
        let end = |outcome: &str| End { ending: "fix".to_owned(), outcome: outcome.to_owned() };
        let note = r#""ends":[] "outcome":"left"}],"stands""#.to_owned();
        let summary = |ends: &[&str]| {
            let ends = ends.iter().map(|outcome| end(outcome)).collect();
            Some(Summary { ends, notes: vec![note.clone()], ..Summary::default() })
        };
        let kept = [
            summary(&["proved"]),
            summary(&["failed", "left"]),
            summary(&[]),
            None,
            summary(&["left", "proved"]),
        ];
        for (id, summary) in kept.iter().enumerate() {
            let opening = quoted(&serde_json::to_string(&opening(&id.to_string(), None, 0)).unwrap());
            let summary = summary.as_ref().map(|summary| quoted(&serde_json::to_string(summary).unwrap()));
            let summary = summary.unwrap_or("NULL".to_owned());
            execute(
                place,
                &format!("INSERT INTO calls (id, opening, summary) VALUES ('{id}', {opening}, {summary})"),
            );
        }
        let mut found = Vec::new();
        let wanted = Wanted { open: true, ..Wanted::default() };
        let passed = place.open().unwrap().each(&wanted, &mut |listed| {
            found.push(listed.number);
            Ok(true)
        });
        assert_eq!((passed.unwrap().len(), found), (0, vec![4, 3, 2]));
    });
}

#[test]
fn many_programs_bring_a_log_up_to_date_at_once() {
    on_both("up_to_date_at_once", |place| {
        first_version(place);
        let opening = serde_json::to_string(&opening("one", Some("job 1"), 0)).unwrap();
        execute(place, &format!("INSERT INTO calls (id, opening) VALUES ('one', {})", quoted(&opening)));
        std::thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| assert_eq!(place.open().unwrap().number_of("one").unwrap(), Some(1)));
            }
        });
    });
}

#[test]
fn many_programs_make_a_log_at_once() {
    on_both("made_at_once", |place| {
        std::thread::scope(|scope| {
            for id in 0..8 {
                scope.spawn(move || {
                    let mut log = place.open().unwrap();
                    log.open(&opening(&id.to_string(), None, 0), &Seat::of_this_process()).unwrap();
                });
            }
        });
        let mut log = place.open().unwrap();
        assert_eq!(log.open(&opening("last", None, 0), &Seat::of_this_process()).unwrap(), 9);
    });
}

#[test]
fn a_newer_log_is_refused_with_the_version_that_can_read_it() {
    on_both("newer", |place| {
        let seat = Seat::of_this_process();
        place.open().unwrap().open(&opening("one", None, 0), &seat).unwrap();
        let newer = schema::NOW + 1;
        execute(place, &format!("UPDATE about SET schema = {newer}, program = '7.3.1'"));
        if let Place::File(_) = place {
            execute(place, &format!("PRAGMA user_version = {newer}"));
        }
        let Err(fault) = place.open() else { panic!("it was opened") };
        assert!(matches!(fault, Fault::Newer { .. }), "{fault}");
        let told = fault.to_string();
        for part in [&format!("schema {newer}"), "version 7.3.1 or newer", "nothing was changed"] {
            assert!(told.contains(part), "{told}");
        }
        // It was left as it was.
        execute(place, &format!("UPDATE about SET schema = {}", schema::NOW));
        if let Place::File(_) = place {
            execute(place, &format!("PRAGMA user_version = {}", schema::NOW));
        }
        assert_eq!(place.open().unwrap().number_of("one").unwrap(), Some(1));
    });
}

#[test]
fn another_programs_database_is_left_as_it_was() {
    for tables in [
        "CREATE TABLE about (title TEXT); INSERT INTO about VALUES ('theirs')",
        "CREATE TABLE calls (x TEXT)",
    ] {
        on_both("foreign", |place| {
            execute(place, tables);
            let Err(fault) = place.open() else { panic!("it was opened") };
            assert!(matches!(fault, Fault::Foreign { .. }), "{fault}");
            assert!(fault.to_string().contains("this one was left as it is"), "{fault}");
            // Theirs can still be made, so ours is not there.
            execute(place, "CREATE TABLE events (theirs TEXT)");
        });
    }
}
