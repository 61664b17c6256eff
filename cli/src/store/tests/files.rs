//! Files that are no log, or not the whole of one.

use super::logs::{held, remark, remarks, summary};
use crate::store::{Fault, Place, Seat};
use std::fs;
use std::os::unix::fs::PermissionsExt as _;
use std::path::Path;

/// A log with a call of so many remarks, closed.
fn closed(path: &Path, count: u32) {
    let seat = Seat::of_this_process();
    let mut log = Place::File(path.to_owned()).open().unwrap();
    let number = held(log.as_mut(), "one", &seat, &[]);
    for place in 0..count {
        log.append(number, place, &remark(&format!("remark {place} {}", "x".repeat(200)), 1), &seat).unwrap();
    }
    log.release(number, &summary(count), &seat).unwrap();
}

fn refused(path: &Path) -> Fault {
    match Place::File(path.to_owned()).open() {
        Ok(_) => panic!("it was opened"),
        Err(fault) => fault,
    }
}

#[test]
fn a_text_file_is_no_log_and_is_left_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("notes.txt");
    for text in ["x", "a note of mine\n", &"a long note of mine\n".repeat(1_000)] {
        fs::write(&path, text).unwrap();
        let fault = refused(&path);
        assert!(matches!(fault, Fault::Foreign { .. }), "{fault}");
        assert_eq!(fs::read_to_string(&path).unwrap(), text);
    }
}

#[test]
fn an_empty_file_becomes_a_log() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("calls.db");
    fs::write(&path, "").unwrap();
    closed(&path, 3);
    assert_eq!(remarks(Place::File(path).open().unwrap().as_mut(), 1).len(), 3);
}

/// Never a panic, and never less than was acknowledged without a word.
#[test]
fn a_file_cut_short_anywhere_is_told_of() {
    let folder = tempfile::tempdir().unwrap();
    let whole = folder.path().join("whole.db");
    closed(&whole, 60);
    let bytes = fs::read(&whole).unwrap();
    let near =
        (0..bytes.len()).step_by(4096).flat_map(|page| [page.saturating_sub(1), page, page + 1, page + 100]);
    let lengths = (1..140).chain((140..bytes.len()).step_by(997)).chain(near.filter(|length| *length > 0));
    for length in lengths.filter(|length| *length < bytes.len()) {
        let path = folder.path().join("cut.db");
        fs::write(&path, &bytes[..length]).unwrap();
        let fault = refused(&path);
        assert!(matches!(fault, Fault::Damaged { .. } | Fault::Foreign { .. }), "{length}: {fault}");
        assert_eq!(fs::read(&path).unwrap(), &bytes[..length], "{length}: it was changed");
        for beside in ["cut.db-wal", "cut.db-shm"] {
            let _ = fs::remove_file(folder.path().join(beside));
        }
    }
}

/// A file that was cut short while its newest pages still stood beside it.
#[test]
fn a_file_cut_short_beside_its_write_ahead_file_loses_nothing_unsaid() {
    let folder = tempfile::tempdir().unwrap();
    let (whole, cut) = (folder.path().join("whole.db"), folder.path().join("cut.db"));
    closed(&whole, 60);
    let seat = Seat::of_this_process();
    let mut log = Place::File(whole.clone()).open().unwrap();
    log.hold(1, &seat, super::logs::at(0), false).unwrap();
    for place in 60..70 {
        log.append(1, place, &remark("later", 2), &seat).unwrap();
    }
    let beside = |path: &Path, end: &str| path.with_extension(format!("db{end}"));
    let (bytes, ahead) = (fs::read(&whole).unwrap(), fs::read(beside(&whole, "-wal")).unwrap());
    assert!(!ahead.is_empty());
    for length in [0, 1].into_iter().chain((2..bytes.len()).step_by(1_361)) {
        fs::write(&cut, &bytes[..length]).unwrap();
        fs::write(beside(&cut, "-wal"), &ahead).unwrap();
        let _ = fs::remove_file(beside(&cut, "-shm"));
        let read = Place::File(cut.clone()).open().and_then(|mut log| log.call(1));
        match read {
            Ok(record) => assert_eq!(record.events.len(), 70, "{length}"),
            Err(fault) => {
                let told =
                    matches!(fault, Fault::Damaged { .. } | Fault::Foreign { .. } | Fault::Short { .. });
                assert!(told, "{length}: {fault}");
            }
        }
    }
}

#[test]
fn only_the_owner_may_read_a_log_or_what_stands_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made/for/it/calls.db");
    let seat = Seat::of_this_process();
    let mut log = Place::File(path.clone()).open().unwrap();
    held(log.as_mut(), "one", &seat, &["a"]);
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    for end in ["", "-wal", "-shm"] {
        assert_eq!(mode(&path.with_extension(format!("db{end}"))), 0o600, "{end}");
    }
    for above in path.ancestors().skip(1).take(3) {
        assert_eq!(mode(above), 0o700, "{}", above.display());
    }
}

/// Names that the database's own library reads as something else than a file's.
#[test]
fn a_file_is_a_file_whatever_it_is_called() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["file:calls.db?mode=memory", ":memory:", "what? #1 100%.db", "-x"] {
        let path = folder.path().join(name);
        closed(&path, 2);
        assert_eq!(remarks(Place::File(path).open().unwrap().as_mut(), 1).len(), 2, "{name}");
    }
}
