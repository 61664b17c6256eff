//! A call that is forgotten leaves no trace in the files of its log.

use super::logs::{at, held, opening, remark, summary};
use crate::store::{Place, Seat, Store};
use std::fs;
use std::path::Path;

/// In every remark of the call that is to be forgotten.
const SECRET: &str = "the neighbour's dog is called Bella";

/// Every file beside a log, with whether the secret stands in it.
fn holding(log: &Path) -> Vec<String> {
    let holds = |bytes: &[u8]| bytes.windows(SECRET.len()).any(|part| part == SECRET.as_bytes());
    let files = fs::read_dir(log.parent().unwrap()).unwrap().map(|file| file.unwrap().path());
    let found = files.filter(|file| holds(&fs::read(file).unwrap()));
    found.map(|file| file.file_name().unwrap().to_string_lossy().into_owned()).collect()
}

/// Calls side by side, word by word, so that their pages are split and shared; the middle one has the secret.
fn talked(log: &mut dyn Store, seats: &[Seat]) {
    for (id, seat) in seats.iter().enumerate() {
        log.open(&opening(&id.to_string(), None, 0), seat).unwrap();
    }
    for place in 0..120 {
        for (number, seat) in (1..).zip(seats) {
            let what = if number == 3 { SECRET } else { "all is well" };
            // Of every length, so that pages fill up in every way.
            let text = format!("{what} {}", "x".repeat(usize::try_from(place * 7 % 300).unwrap()));
            log.append(number, place, &remark(&text, 1), seat).unwrap();
        }
        if place % 20 == 19 {
            // A list makes summaries, with the remarks in them, and makes them anew.
            let notes = vec![SECRET.to_owned(); usize::try_from(place).unwrap()];
            log.sum_up(3, &engine::record::Summary { notes, ..summary(place + 1) }).unwrap();
        }
    }
}

#[test]
fn the_text_of_a_remark_is_in_no_file_any_more() {
    for others in [0, 1] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("calls.db");
        let place = Place::File(path.clone());
        let seats = [(); 5].map(|()| Seat::of_this_process());
        let mut log = place.open().unwrap();
        let mut open: Vec<_> = (0..others).map(|_| place.open().unwrap()).collect();
        talked(log.as_mut(), &seats);
        for other in &mut open {
            assert_eq!(other.events_of(3).unwrap().len(), 120);
        }
        assert!(!holding(&path).is_empty(), "the search finds nothing even before");
        log.forget(3).unwrap();
        assert_eq!(holding(&path), [""; 0], "{others} others open");
        for other in &mut open {
            assert_eq!(other.events_of(2).unwrap().len(), 120);
            other.append(4, 120, &remark("and on", 2), &seats[3]).unwrap();
        }
        drop((log, open));
        assert_eq!(holding(&path), [""; 0], "closed, {others} others open before");
        let mut log = place.open().unwrap();
        assert_eq!(log.events_of(4).unwrap().len(), 120 + others);
        held(log.as_mut(), "next", &seats[0], &["a"]);
    }
}

/// Where somebody still reads the old pages, it is not claimed that they are gone.
#[test]
fn it_is_told_when_another_program_still_reads_what_was_erased() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("calls.db");
    let place = Place::File(path.clone());
    let mut log = place.open().unwrap();
    let number = held(log.as_mut(), "one", &Seat::of_this_process(), &[SECRET]);
    let reader = rusqlite::Connection::open(&path).unwrap();
    reader.execute_batch("BEGIN; SELECT COUNT(*) FROM events").unwrap();
    let told = log.forget(number).unwrap_err().to_string();
    assert!(told.contains("another program reads it still"), "{told}");
    assert!(log.call(number).is_err());
    drop(reader);
    drop(log);
    drop(place.open().unwrap());
    assert_eq!(holding(&path), [""; 0], "begun {}", at(0));
}
