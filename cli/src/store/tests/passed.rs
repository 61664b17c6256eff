//! Calls whose beginning cannot be read, and logs that can only be read.

use super::contract::execute;
use super::logs::{at, held, on_both, remark, remarks};
use crate::store::sqlite::Sqlite;
use crate::store::{Fault, Place, Seat, Store, Wanted};
use std::path::Path;

#[test]
fn a_call_whose_beginning_cannot_be_read_hides_no_other_and_can_be_forgotten() {
    on_both("no_beginning", |place| {
        let mut log = place.open().unwrap();
        for id in ["one", "two", "three"] {
            held(log.as_mut(), id, &Seat::of_this_process(), &["a"]);
        }
        execute(place, "UPDATE calls SET opening = '{' WHERE number = 2");
        let mut found = Vec::new();
        let passed = log.each(&Wanted::default(), &mut |listed| {
            found.push(listed.number);
            Ok(true)
        });
        assert_eq!(found, [3, 1]);
        let [fault] = &passed.unwrap()[..] else { panic!("one is passed over") };
        assert!(matches!(fault, Fault::NoBeginning { number: 2, .. }), "{fault}");
        assert!(fault.to_string().contains("motorwright forget 2"), "{fault}");
        assert!(matches!(log.call(2), Err(Fault::NoBeginning { number: 2, .. })));
        assert!(log.holder(2).unwrap().is_some());
        log.forget(2).unwrap();
        assert_eq!(log.each(&Wanted::default(), &mut |_| Ok(true)).unwrap().len(), 0);
    });
}

fn made(path: &Path) -> Box<dyn Store> {
    let mut log = Place::File(path.to_owned()).open().unwrap();
    held(log.as_mut(), "one", &Seat::of_this_process(), &["a", "b"]);
    log
}

#[test]
fn a_log_that_is_only_read_has_the_newest_words_and_takes_none() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("what? #1 100%.db");
    // The other program has it open, and what it wrote stands beside the file.
    let mut writing = made(&path);
    let mut reading = Sqlite::open_to_read(&path).unwrap();
    assert_eq!(remarks(&mut reading, 1), ["a", "b"]);
    let seat = Seat::of_this_process();
    for refused in [
        reading.hold(1, &seat, at(5), true),
        reading.forget(1),
        reading.sum_up(1, &super::logs::summary(2)),
        reading.open(&super::logs::opening("two", None, 0), &seat).map(drop),
    ] {
        assert!(matches!(refused, Err(Fault::ReadOnly { .. })), "{refused:?}");
    }
    let holder = writing.holder(1).unwrap().unwrap();
    writing.append(1, 2, &remark("c", 5), &holder.seat).unwrap();
    assert_eq!(remarks(&mut reading, 1), ["a", "b", "c"]);
}

#[test]
fn what_is_no_log_of_today_is_not_read_either() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("calls.db");
    drop(made(&path));
    let refused = || Sqlite::open_to_read(&path).unwrap_err();
    execute(&Place::File(path.clone()), "PRAGMA user_version = 2");
    assert!(matches!(refused(), Fault::Older { .. }), "{}", refused());
    execute(&Place::File(path.clone()), "PRAGMA user_version = 99");
    assert!(matches!(refused(), Fault::Newer { .. }), "{}", refused());
    std::fs::write(&path, "a note of mine\n".repeat(100)).unwrap();
    assert!(matches!(refused(), Fault::Foreign { .. }), "{}", refused());
}
