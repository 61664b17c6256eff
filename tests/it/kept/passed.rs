//! A call that cannot be read hides no other; and output that has no room is told to be so.

use super::mounted::Mounted;
use super::places::{execute, left_open, refused};
use super::{on, said};
use std::fs::{self, OpenOptions};

#[test]
fn a_call_whose_beginning_cannot_be_read_is_passed_over_and_named() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    for _ in 0..2 {
        left_open(&log, &["none", "no run"]);
    }
    execute(&log, "UPDATE calls SET opening = 'x' WHERE number = 2");
    let looks: [(&[&str], &str); 5] = [
        (&["calls"], "OPEN at"),
        (&["calls", "--open", "--json"], "\"number\":1"),
        (&["report"], "Left open: 1"),
        (&["export"], "motorwright-call-1"),
        (&["replay", "--calls"], "1 left open are not played"),
    ];
    for (command, shows) in looks {
        let (told, code) = said(on(&log).args(command));
        assert!(code == Some(1) && told.contains(shows), "{command:?}: {told}");
        let lines: Vec<&str> = told.lines().filter(|line| line.contains("beginning of call 2")).collect();
        assert!(matches!(lines[..], [line] if line.contains("motorwright forget 2")), "{command:?}: {told}");
    }
    let told = refused(on(&log).args(["show", "2"]));
    assert!(told.contains("the beginning of call 2 cannot be read"), "{told}");
    let (told, code) = said(on(&log).arg("resume"));
    assert!(code == Some(1) && told.contains("Call 1"), "{told}");
    let (told, code) = said(on(&log).args(["forget", "2", "--yes"]));
    assert!(code == Some(0) && told.contains("Call 2 is erased"), "{told}");
    assert_eq!(said(on(&log).arg("calls")).1, Some(0));
}

#[test]
fn an_export_passes_over_a_call_with_an_event_that_cannot_be_read() {
    let unreadable = [
        ("UPDATE events SET event = '{'", "call 1, event 1, cannot be read"),
        ("UPDATE events SET event = CAST(x'7bff' AS TEXT)", "call 1, event 1, cannot be read"),
        ("DELETE FROM events", "call 1 should have 2 events, and only 1 can be read"),
    ];
    for (damage, why) in unreadable {
        let folder = tempfile::tempdir().unwrap();
        let log = folder.path().join("calls.db");
        for _ in 0..2 {
            left_open(&log, &["none", "no run"]);
        }
        execute(&log, &format!("{damage} WHERE call = 1 AND place = 1"));
        let (told, code) = said(on(&log).arg("export"));
        assert!(code == Some(1) && told.contains(why), "{told}");
        assert_eq!(told.lines().count(), 2, "{told}");
        // One that is asked for by its number is not passed over.
        refused(on(&log).args(["export", "1"]));
    }
}

#[test]
fn an_export_that_has_no_room_says_so_and_not_that_it_is_a_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    left_open(&log, &["none", "no run"]);
    let full = OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = on(&log).arg("export").stdout(full).output().unwrap();
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("is full") && told.contains("not the whole of it"), "{told}");
    assert!(!told.contains("terminal"), "{told}");
}

#[test]
fn a_page_that_has_no_room_leaves_the_one_that_was_there() {
    let Some(disk) = Mounted::disk("a page on a full disk", 1 << 16) else { return };
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    left_open(&log, &["none", "no run"]);
    let (page, other) = (disk.path().join("page.html"), disk.path().join("other.html"));
    fs::write(&page, "the page of last month").unwrap();
    fs::write(disk.path().join("ballast"), vec![1; (1 << 16) - 2 * 4096]).unwrap();
    for (path, left) in [(&page, Some("the page of last month")), (&other, None)] {
        let told = refused(on(&log).args(["report", "--html"]).arg(path));
        assert!(told.contains("cannot write") && told.contains("its disk is full"), "{told}");
        assert_eq!(fs::read_to_string(path).ok().as_deref(), left);
    }
    assert_eq!(fs::read_dir(disk.path()).unwrap().count(), 2, "something is left beside");
}
