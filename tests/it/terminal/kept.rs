//! What is asked once more before a call is taken from somebody or erased.

use super::WIDTHS;
use super::pty::{ENTER, Terminal, Window, flat};
use std::path::Path;

/// A command on a log, on a terminal of its own.
fn asked(log: &Path, columns: u16, command: &str) -> Terminal {
    let line = format!("exec \"$0\" {command}");
    Window::by_shell(columns, &line).env("MOTORWRIGHT_LOG_TO", log.to_str().unwrap()).env("TZ", "UTC").open()
}

/// A call that a seat holds.
fn under_way(log: &Path) -> Terminal {
    let window = Window::by_shell(80, "exec \"$0\" call --unit 'job 47'").env("TZ", "UTC");
    window.env("MOTORWRIGHT_LOG_TO", log.to_str().unwrap()).call(&["none", "no run"])
}

#[test]
fn a_call_that_a_living_seat_holds_is_only_taken_over_by_a_yes() {
    for columns in WIDTHS {
        let folder = tempfile::tempdir().unwrap();
        let log = folder.path().join("calls.db");
        let mut first = under_way(&log);
        let mut second = asked(&log, columns, "resume 1 --take-over");
        second.shows("Type yes to take it over:");
        let question = flat(&second.screen());
        for part in ["Call 1 on job 47 is held by", "process", "since 2", "the last word in it was at 2"] {
            assert!(question.contains(part), "{part}: {question}");
        }
        assert!(!second.breaks_a_line(), "{}", second.screen());
        second.keys(format!("no{ENTER}"));
        assert_eq!(second.ended(), Some(1));
        assert!(flat(&second.screen()).contains("It was left to them."), "{}", second.screen());
        // The first goes on as before.
        first.line("115");
        let mut third = asked(&log, columns, "resume 1 --take-over");
        third.shows("Type yes to take it over:");
        third.keys(format!("yes{ENTER}"));
        third.asked();
        first.keys(format!("other{ENTER}"));
        assert_eq!(first.ended(), Some(2));
        assert!(flat(&first.screen()).contains("call 1 was taken over by"), "{}", first.screen());
    }
}

#[test]
fn what_is_to_be_erased_is_named_first() {
    for columns in WIDTHS {
        let folder = tempfile::tempdir().unwrap();
        let log = folder.path().join("calls.db");
        drop(under_way(&log));
        let mut terminal = asked(&log, columns, "forget 1");
        terminal.shows("Type 1 again to erase it:");
        let question = flat(&terminal.screen());
        for part in ["Call 1, unit job 47, begun 2", "left open"] {
            assert!(question.contains(part), "{part}: {question}");
        }
        assert!(!terminal.breaks_a_line(), "{}", terminal.screen());
        terminal.keys(format!("2{ENTER}"));
        assert_eq!(terminal.ended(), Some(1));
        let mut terminal = asked(&log, columns, "forget 1");
        terminal.shows("Type 1 again to erase it:");
        terminal.keys(format!("1{ENTER}"));
        assert_eq!(terminal.ended(), Some(0));
        assert!(flat(&terminal.screen()).contains("Call 1 is erased."), "{}", terminal.screen());
    }
}

/// Lists and faults are broken between words, also where there is little room.
#[test]
fn no_list_and_no_fault_is_broken_within_a_word() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    drop(under_way(&log));
    for columns in [120, 90, 80, 60, 40] {
        for command in ["calls", "report", "resume 7", "again 7", "calls --since never", "show 1"] {
            let mut terminal = asked(&log, columns, command);
            terminal.ended();
            let screen = terminal.screen();
            assert!(!terminal.breaks_a_line(), "{command} at {columns}:\n{screen}");
            assert!(!screen.trim().is_empty());
        }
    }
}

#[test]
fn a_second_call_on_a_unit_that_a_living_seat_is_on_says_who_and_how_the_unit_stood() {
    for columns in WIDTHS {
        let folder = tempfile::tempdir().unwrap();
        let log = folder.path().join("calls.db");
        let first = under_way(&log);
        let second = asked(&log, columns, "call --unit 'job 47'");
        second.asked();
        let question = flat(&second.screen());
        for part in [
            "WARNING",
            "Call 1 on this unit is open, since 2",
            "is on it now",
            "power not known, panel not known",
        ] {
            assert!(question.contains(part), "{part}: {question}");
        }
        assert!(!second.breaks_a_line() && !question.contains("hurt or ill"), "{}", second.screen());
        drop(first);
    }
}

#[test]
fn which_of_several_calls_is_gone_on_with_is_asked_and_shown() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    drop(under_way(&log));
    // Alone, and no other begun since, it is gone on with.
    let alone = asked(&log, 80, "resume");
    alone.asked();
    assert!(flat(&alone.raw()).contains("Call 1 on job 47, begun"), "{}", alone.raw());
    drop(alone);
    drop(under_way(&log));
    for columns in WIDTHS {
        let mut terminal = asked(&log, columns, "resume");
        terminal.shows("Type its number; or Enter, for none:");
        let shown = flat(&terminal.screen());
        assert!(shown.contains("CALL: 2, begun 2") && shown.contains("CALL: 1, begun 2"), "{shown}");
        assert!(!terminal.breaks_a_line(), "{}", terminal.screen());
        terminal.keys(ENTER);
        assert_eq!(terminal.ended(), Some(1));
    }
    let mut terminal = asked(&log, 80, "resume 1 --yes");
    terminal.asked();
    drop(terminal);
    terminal = asked(&log, 80, "resume");
    terminal.shows("Type its number; or Enter, for none:");
    terminal.keys(format!("7{ENTER}1{ENTER}"));
    terminal.asked();
    assert!(flat(&terminal.raw()).contains("Call 1 on job 47, begun"), "{}", terminal.raw());
}

#[test]
fn a_call_under_way_tells_how_the_unit_stands() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db");
    let mut call = under_way(&log);
    for (line, stands) in
        [("115", ""), ("other", ""), ("tripped", ""), ("1", ""), ("5", ""), ("done", "counts as ON")]
    {
        call.line(line);
        let mut list = asked(&log, 200, "calls --open --plain");
        list.ended();
        let shown = flat(&list.screen());
        assert!(shown.contains("under way") && shown.contains(stands), "{shown}");
        assert_eq!(shown.contains("now with power"), !stands.is_empty(), "{shown}");
    }
}
