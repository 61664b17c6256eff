//! A call that is forgotten leaves no trace in the files of its log.

use super::logs::{at, held, opening, remark, summary};
use crate::store::{Number, Place, Seat, Store};
use engine::record::Summary;
use std::fs;
use std::path::Path;

/// In every remark of the call that is to be forgotten.
const SECRET: &str = "the neighbour's dog is called Bella";

/// How many calls go on side by side.
const SEATS: usize = 5;
/// How many ways to lay out the pages are tried; the fourth leaves a copy where erased cells are only written over.
const LAYOUTS: u64 = 10;

/// Every file beside a log, with whether the secret stands in it.
fn holding(log: &Path) -> Vec<String> {
    let holds = |bytes: &[u8]| bytes.windows(SECRET.len()).any(|part| part == SECRET.as_bytes());
    let files = fs::read_dir(log.parent().unwrap()).unwrap().map(|file| file.unwrap().path());
    let found = files.filter(|file| holds(&fs::read(file).unwrap()));
    found.map(|file| file.file_name().unwrap().to_string_lossy().into_owned()).collect()
}

/// Calls side by side, word by word, of every length: pages are filled and split in many ways. The first has the
/// secret.
fn talked(log: &mut dyn Store, seats: &[Seat], layout: u64) {
    for (id, seat) in seats.iter().enumerate() {
        log.open(&opening(&id.to_string(), None, 0), seat).unwrap();
    }
    let mut chance = layout.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    let mut below = |end: u64| {
        // Marsaglia, "Xorshift RNGs" (2003).
        chance ^= chance << 13;
        chance ^= chance >> 7;
        chance ^= chance << 17;
        usize::try_from(chance % end).unwrap()
    };
    let longest = [200, 600, 3_000, 9_000][below(4)];
    let mut places = [0; SEATS];
    for _ in 0..200 + below(1_000) {
        let of = below(5);
        let what = if of == 0 { SECRET } else { "all is well" };
        let text = format!("{what} {}", "x".repeat(below(longest)));
        log.append(number_at(of), places[of], &remark(&text, 1), &seats[of]).unwrap();
        places[of] += 1;
        if below(30) == 0 {
            // A list makes summaries, with the remarks in them.
            let notes = vec![SECRET.to_owned(); below(100)];
            log.sum_up(1, &Summary { notes, ..summary(places[0]) }).unwrap();
        }
    }
}

#[test]
fn the_text_of_a_remark_is_in_no_file_any_more() {
    for layout in 0..LAYOUTS {
        let folder = in_memory();
        let path = folder.path().join("calls.db");
        let place = Place::File(path.clone());
        let seats = [(); SEATS].map(|()| Seat::of_this_process());
        let mut log = place.open().unwrap();
        // Every other time somebody else has the log open.
        let mut other = (layout % 2 == 1).then(|| place.open().unwrap());
        talked(log.as_mut(), &seats, layout);
        let before = log.events_of(4).unwrap();
        if let Some(other) = &mut other {
            assert_eq!(other.events_of(4).unwrap(), before);
        }
        assert!(!holding(&path).is_empty(), "the search finds nothing even before");
        log.forget(1).unwrap();
        assert_eq!(holding(&path), [""; 0], "layout {layout}");
        if let Some(mut other) = other {
            assert_eq!(other.events_of(4).unwrap(), before);
            let next = u32::try_from(before.len()).unwrap();
            other.append(4, next, &remark("and on", 2), &seats[3]).unwrap();
        }
        drop(log);
        assert_eq!(holding(&path), [""; 0], "layout {layout}, closed");
        let mut log = place.open().unwrap();
        assert_eq!(log.events_of(4).unwrap()[..before.len()], before);
        assert_eq!(held(log.as_mut(), "next", &seats[0], &["a"]), number_at(SEATS));
    }
}

fn number_at(place: usize) -> Number {
    Number::try_from(place).unwrap() + 1
}

/// A folder that no disk slows down, where there is one.
fn in_memory() -> tempfile::TempDir {
    tempfile::tempdir_in("/dev/shm").or_else(|_| tempfile::tempdir()).unwrap()
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
