//! A disk that fills up while somebody is on the line: the call may go on without a record.

use super::mounted::Mounted;
use super::{Exported, on, said};
use crate::server::database;
use crate::terminal::person::{END, WRONG_LINK, lead};
use crate::terminal::pty::{Terminal, Window, flat};
use postgres::{Client, NoTls};
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
fn what_was_said_while_the_disk_was_full_is_written_down_once_there_is_room() {
    let Some(disk) = Mounted::disk("written down again", 1 << 20) else { return };
    let mut terminal = full(&disk);
    // Only the whole words: somebody may have been typing an answer.
    terminal.line("on");
    assert!(terminal.fresh().contains("nothing is answered here"), "{}", terminal.screen());
    terminal.line("go on");
    terminal.line("note on we go");
    fs::remove_file(disk.path().join("ballast")).unwrap();
    terminal.line("note and there is room");
    assert!(terminal.fresh().contains("All that was said is written down again"), "{}", terminal.screen());
    lead(&mut terminal, END);
    let end = flat(&terminal.screen());
    assert!(!end.contains("NOT RECORDED from question 3 on. Found: "), "{end}");
    terminal.keys("\r");
    assert_eq!(terminal.ended(), Some(0));
    let kept = format!("{:?}", Exported::only(disk.log()).unwrap().entries());
    let said = ["on we go", "and there is room"].map(|note| kept.matches(note).count());
    assert_eq!(said, [1, 1], "each once: {kept}");
}

/// A server's log whose database lets nobody in for a while, and cuts off who is.
struct Shut {
    server: Client,
    name: String,
}

impl Shut {
    fn of(url: &str) -> Self {
        let (name, _) = url.strip_prefix("postgres:///").unwrap().split_once('?').unwrap();
        let server = Client::connect(&url.replace(name, "postgres"), NoTls).unwrap();
        Self { server, name: name.to_owned() }
    }

    fn lets_in(&mut self, lets_in: bool) {
        let Self { server, name } = self;
        let cut = "SELECT pg_terminate_backend(pid, 10000) FROM pg_stat_activity WHERE datname";
        server
            .batch_execute(&format!("ALTER DATABASE {name} ALLOW_CONNECTIONS {lets_in}; {cut} = '{name}'"))
            .unwrap();
    }
}

#[test]
fn a_server_that_was_away_between_two_answers_is_called_again_and_nobody_is_asked() {
    let Some(log) = database("away") else { return };
    let mut terminal = Window::of(80).rows(60).env("MOTORWRIGHT_LOG_TO", &log).call(&WRONG_LINK);
    Shut::of(&log).lets_in(true);
    terminal.line("note the line was cut");
    assert!(!terminal.fresh().contains("written down"), "{}", terminal.screen());
    lead(&mut terminal, END);
    terminal.keys("\r");
    assert_eq!(terminal.ended(), Some(0));
    let kept = format!("{:?}", Exported::only(&log).unwrap().entries());
    assert_eq!(kept.matches("the line was cut").count(), 1, "{kept}");
}

#[test]
fn what_was_said_while_the_server_was_away_is_written_down_once_it_is_back() {
    let Some(log) = database("back") else { return };
    let mut terminal = Window::of(80).rows(60).env("MOTORWRIGHT_LOG_TO", &log).call(&WRONG_LINK);
    let mut shut = Shut::of(&log);
    shut.lets_in(false);
    terminal.line("note the server is away");
    assert!(terminal.fresh().contains("could not be written down"), "{}", terminal.screen());
    terminal.line("go on");
    terminal.line("note still away");
    assert!(!terminal.fresh().contains("go on, to go on"), "asked once: {}", terminal.screen());
    shut.lets_in(true);
    terminal.line("note and it is back");
    assert!(terminal.fresh().contains("All that was said is written down again"), "{}", terminal.screen());
    lead(&mut terminal, END);
    terminal.keys("\r");
    assert_eq!(terminal.ended(), Some(0));
    let kept = format!("{:?}", Exported::only(&log).unwrap().entries());
    let said = ["server is away", "still away", "it is back"].map(|note| kept.matches(note).count());
    assert_eq!(said, [1, 1, 1], "each once: {kept}");
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
