//! Logs that cannot be written: what only looks things up reads them, and says so in a line.

use super::driven::{Came, Driven};
use super::mounted::Mounted;
use super::places::{left_open, refused};
use super::{on, said};
use std::fs;
use std::path::Path;
use std::time::Duration;

/// What only looks things up, each with something that it shows.
const LOOKS: [(&[&str], &str); 6] = [
    (&["calls"], "OPEN at"),
    (&["show", "1"], "complaint: no run"),
    (&["note", "1"], "Left open"),
    (&["report"], "Left open: 1"),
    (&["export"], "motorwright-call-1"),
    (&["replay", "--calls"], "1 left open are not played"),
];

fn is_read(mounted: &Mounted) {
    for (command, shows) in LOOKS {
        let (told, code) = said(on(mounted.log()).args(command));
        assert!(code == Some(0) && told.contains(shows), "{command:?}: {told}");
        let lines = told.lines().filter(|line| line.contains("it is only read"));
        assert_eq!(lines.count(), 1, "{command:?}: {told}");
    }
}

#[test]
fn a_log_that_cannot_be_written_is_read_and_left_as_it_was() {
    let fill = |folder: &Path| left_open(folder.join("calls.db"), &["none", "no run"]);
    let Some(mounted) = Mounted::read_only("a log that cannot be written", fill) else { return };
    let before = fs::read(mounted.log()).unwrap();
    is_read(&mounted);
    for command in [&["call"][..], &["resume"], &["again", "1"], &["forget", "1", "--yes"]] {
        let told = refused(on(mounted.log()).args(command));
        assert!(
            told.contains("cannot be written") && told.contains("Mend the rights"),
            "{command:?}: {told}"
        );
    }
    assert_eq!(fs::read(mounted.log()).unwrap(), before);
    let told = refused(on(mounted.path().join("new/calls.db")).arg("call"));
    assert!(told.contains("cannot be written"), "{told}");
}

/// A call whose program is killed: what it wrote stands beside the file.
fn killed(folder: &Path) {
    let mut driven = Driven::start(folder.join("calls.db"), &["call"]);
    for line in ["none", "no run"] {
        assert_eq!(driven.wait(), Came::Prompt);
        driven.type_line(line);
    }
    assert_eq!(driven.wait(), Came::Prompt);
    driven.kill(Duration::ZERO);
    assert!(fs::metadata(folder.join("calls.db-wal")).unwrap().len() > 0);
}

#[test]
fn what_stands_beside_a_log_that_cannot_be_written_is_read_or_said_to_be_missing() {
    let Some(mounted) = Mounted::read_only("a log whose program was killed", killed) else { return };
    is_read(&mounted);
    let without_index = |folder: &Path| {
        killed(folder);
        fs::remove_file(folder.join("calls.db-shm")).unwrap();
    };
    let Some(mounted) = Mounted::read_only("a log without what it is read by", without_index) else { return };
    for (command, _) in LOOKS {
        let told = refused(on(mounted.log()).args(command));
        assert!(told.contains("newest words") && told.contains("Copy both"), "{command:?}: {told}");
    }
}
