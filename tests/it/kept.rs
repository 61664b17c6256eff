//! Calls that are kept: through the program, whatever happens to it, its disk and its seats.

mod answerer;
mod driven;
mod encrypted;
mod full;
mod killed;
mod looked_up;
mod mounted;
mod only_read;
mod passed;
mod places;
mod seats;
mod taken_in;
mod unrecorded;

use crate::house::{BOOK, program};
use engine::call::{Call, Event};
use engine::record::{Entry, Names, Summary};
use serde::Deserialize;
use std::ffi::OsStr;
use std::process::{Command, Output};
use std::sync::Arc;

/// The program on a log.
fn on(log: impl AsRef<OsStr>) -> Command {
    let mut program = program();
    program.env("MOTORWRIGHT_LOG_TO", log);
    program
}

/// What a command said, and its exit code.
fn said(command: &mut Command) -> (String, Option<i32>) {
    let Output { status, stdout, stderr } = command.output().unwrap();
    let text = [stdout, stderr].concat();
    (String::from_utf8(text).unwrap(), status.code())
}

/// A call as `export` writes it.
#[derive(Deserialize)]
struct Exported {
    number: i64,
    events: Vec<Written>,
    summary: Option<Summary>,
}

#[derive(Deserialize)]
struct Written {
    event: Entry,
}

impl Exported {
    /// Every call of a log.
    fn all(log: impl AsRef<OsStr>) -> Vec<Self> {
        let (lines, code) = said(on(log).arg("export"));
        if code == Some(2) && lines.contains("there is no call log") {
            // Nothing was begun.
            return Vec::new();
        }
        assert_eq!(code, Some(0), "{lines}");
        lines.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
    }

    /// The only call of a log; none where none was begun.
    fn only(log: impl AsRef<OsStr>) -> Option<Self> {
        let mut all = Self::all(log);
        assert!(all.len() <= 1, "{} calls", all.len());
        all.pop()
    }

    fn entries(&self) -> Vec<&Entry> {
        self.events.iter().map(|written| &written.event).collect()
    }

    /// The call that its events add up to.
    fn call(&self) -> Call {
        let names = Names::of(&BOOK);
        let events = self.events.iter().map(|written| names.read(&written.event).unwrap());
        Call::fold(Arc::clone(&BOOK), events.collect::<Vec<Event>>())
    }

    /// The endings that it came to, each with how it came out.
    fn ends(&self) -> Vec<(String, String)> {
        let ends = Summary::of(&self.call()).ends;
        ends.into_iter().map(|end| (end.ending, end.outcome)).collect()
    }
}
