//! Any lines as a call with the rules that are shipped: no step is ever shown in the wrong state of power, every call
//! comes to an end, and its events add up to it again.
//!
//! The first three bytes pick a case and how things are shown; the rest is lines. What is typed is heard as at the
//! prompt; a line `.` leaves the prompt to the case, and so does the end of the lines.
#![no_main]

#[path = "../src/house.rs"]
mod house;
#[path = "../src/lines.rs"]
mod lines;
#[path = "../../it/properties/oracle.rs"]
mod oracle;
#[path = "../src/program.rs"]
mod program;

use engine::call::{Answerer, Call, Ended, Event, Halt, Prompt, Refusal, Reply, drive};
use engine::case::Player;
use engine::quantity::System;
use house::{BOOK, CASES};
use libfuzzer_sys::fuzz_target;
use lines::Shared;
use oracle::Oracle;
use program::cli::{harmless, talk, wording};
use std::sync::Arc;
use talk::lines::{Plain, Shows};
use talk::{Layout, Talk, Units, Voice};

/// Prompts that a case answers until its call has to be over, whatever was typed before.
const MOST_PROMPTS: usize = 3_000;

struct Watched<'w> {
    talk: Talk<'w>,
    player: Player<'w>,
    lines: Shared,
    oracle: Oracle,
    left_to_the_case: usize,
}

impl Answerer for Watched<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.oracle.agrees(call);
        self.oracle.check(call, prompt);
        if self.lines.is_empty() || self.lines.takes(b".\n") {
            self.left_to_the_case += 1;
            assert!(self.left_to_the_case < MOST_PROMPTS, "a call without an end");
            return self.player.reply(call, prompt);
        }
        self.talk.reply(call, prompt)
    }

    fn refused(&mut self, refusal: Refusal) {
        self.talk.refused(refusal);
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        self.oracle.hears(call, event);
        self.player.happens(call, event)?;
        self.talk.happens(call, event)
    }

    fn ended(&mut self, call: &Call, ended: &Ended) -> Result<Option<Reply>, Halt> {
        self.oracle.agrees(call);
        if self.lines.is_empty() { Ok(None) } else { self.talk.ended(call, ended) }
    }
}

fuzz_target!(|bytes: &[u8]| {
    let [low, high, how, typed @ ..] = bytes else { return };
    let case = &CASES[usize::from(u16::from_le_bytes([*low, *high])) % CASES.len()];
    let lines = Shared::of(typed);
    let voice = Voice::Typed(Box::new(Plain::new(lines.reader(), Shows::Nothing)));
    let units = [Units::AsInRules, Units::Of(System::Si), Units::Of(System::Us)][usize::from(how & 0b11) % 3];
    let layout = if how & 0b100 == 0 { Layout::Columns } else { Layout::Plain };
    let mut call = Call::new(Arc::clone(&BOOK));
    let mut watched = Watched {
        talk: Talk::new(Box::new(std::io::sink()), voice, units, layout),
        player: Player::new(&BOOK, case),
        lines,
        oracle: Oracle::default(),
        left_to_the_case: 0,
    };
    // It stops where the lines end in the middle of a word that is asked about.
    let _ = drive(&mut call, &mut watched);
    let again = Call::fold(Arc::clone(&BOOK), call.events().to_vec());
    assert_eq!(again.state(), call.state());
    assert_eq!(again.next(), call.next());
});
