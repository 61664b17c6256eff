//! A disk that fills up while somebody is on the line: the call may go on without a record.

use super::mounted::Mounted;
use super::{Exported, on, said};
use crate::terminal::person::{END, WRONG_LINK, lead};
use crate::terminal::pty::{Terminal, Window, flat};
use std::fs;

/// A call in whose middle the disk is full, at the offer to go on.
fn full(disk: &Mounted) -> Terminal {
    let log = disk.log().display().to_string();
    let mut terminal = Window::of(80).rows(60).env("MOTORWRIGHT_LOG_TO", &log).call(&WRONG_LINK);
    let mut ballast = Vec::new();
    // To the last byte, in smaller and smaller pieces.
    for piece in [1 << 16, 1 << 12, 1 << 8, 1] {
        ballast.resize(ballast.len() + piece, 1);
        while fs::write(disk.path().join("ballast"), &ballast).is_ok() && ballast.len() < 1 << 22 {
            ballast.resize(ballast.len() + piece, 1);
        }
    }
    for _ in 0..200 {
        terminal.line(
            "note the attic is hot, and this remark is long enough to fill what is left of a page of the log",
        );
        if terminal.fresh().contains("could not be written down") {
            return terminal;
        }
    }
    panic!("the disk is not full:\n{}", terminal.screen());
}

#[test]
fn a_call_goes_on_without_a_record_where_somebody_says_so() {
    let Some(disk) = Mounted::disk("going on unrecorded", 1 << 20) else { return };
    let mut terminal = full(&disk);
    assert!(terminal.fresh().contains("go on, to go on without a record; or close"), "{}", terminal.screen());
    terminal.line("115");
    assert!(terminal.fresh().contains("nothing is answered here"), "{}", terminal.screen());
    terminal.line("go on");
    assert!(terminal.fresh().contains("NOT RECORDED from question 3 on"), "{}", terminal.screen());
    terminal.line("so far");
    assert!(terminal.fresh().contains("RECORD This call is NOT RECORDED"), "{}", terminal.screen());
    terminal.line("note on we go");
    lead(&mut terminal, END);
    let end = flat(&terminal.screen());
    assert!(end.contains("This call is NOT RECORDED from question 3 on. Found: "), "{end}");
    terminal.keys("\r");
    assert_eq!(terminal.ended(), Some(2));
    // All that was said before it is there, and is gone on with once there is room.
    fs::remove_file(disk.path().join("ballast")).unwrap();
    let kept = Exported::only(disk.log()).unwrap();
    assert!(kept.entries().len() >= 3);
    let (shown, _) = said(on(disk.log()).args(["show", "1"]));
    assert!(shown.contains("complaint: wrong link") && shown.contains("came to no ending"), "{shown}");
}

#[test]
fn a_call_that_is_closed_there_keeps_what_was_said_before() {
    let Some(disk) = Mounted::disk("closing unrecorded", 1 << 20) else { return };
    let mut terminal = full(&disk);
    terminal.keys("close\r");
    assert_eq!(terminal.ended(), Some(2));
    assert!(flat(&terminal.screen()).contains("This is what stood before it"), "{}", terminal.screen());
}

#[test]
fn danger_waits_for_no_word_about_the_record() {
    let Some(disk) = Mounted::disk("danger unrecorded", 1 << 20) else { return };
    let mut terminal = full(&disk);
    terminal.line("there is a smell of gas");
    assert!(terminal.fresh().contains("Is there danger?"), "{}", terminal.screen());
    terminal.line("yes");
    assert!(terminal.fresh().contains("LEAVE THE BUILDING"), "{}", terminal.screen());
}
