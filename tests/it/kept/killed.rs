//! The program is killed at any instant: nothing that it acknowledged is lost, and the call goes on to where it would
//! have come.

use super::answerer::{Answerer, Typed, in_words};
use super::driven::{Came, Driven};
use super::{Exported, said};
use crate::house::BOOK;
use crate::server;
use engine::call::{Call, Event};
use engine::record::Entry;
use proptest::prelude::Rng as _;
use proptest::test_runner::{RngAlgorithm, TestRng};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// How many instants a run of the tests takes; `MOTORWRIGHT_TESTS_KILLS` widens it.
const INSTANTS: u32 = 60;
/// One call is killed so often before it may end.
const KILLS_A_CALL: u32 = 5;

struct Chance(TestRng);

impl Chance {
    fn below(&mut self, end: u32) -> u32 {
        self.0.next_u32() % end.max(1)
    }

    fn part_of(&mut self, whole: Duration) -> Duration {
        whole * self.below(1_000) / 1_000
    }
}

/// How the call goes that nobody kills.
struct Uncut {
    ends: Vec<(String, String)>,
    prompts: u32,
    /// From the start to the first prompt.
    starts: Duration,
    /// From a line to the next prompt, in the middle.
    answers: Duration,
}

fn uncut(log: &str) -> Uncut {
    let mut answerer = Answerer::at(&Call::new(Arc::clone(&BOOK)));
    let begun = Instant::now();
    let mut driven = Driven::start(log, &["call"]);
    let mut came = driven.wait();
    let starts = begun.elapsed();
    let (mut prompts, mut took) = (0, Vec::new());
    while let Some(Typed { lines, events }) = answerer.types() {
        for line in lines {
            assert_eq!(came, Came::Prompt, "{}", driven.shown);
            let typed = Instant::now();
            driven.type_line(&line);
            came = driven.wait();
            took.push(typed.elapsed());
            prompts += 1;
        }
        answerer.take_in(events);
    }
    driven.type_line("");
    let (shown, code) = driven.end();
    assert_eq!(code, Some(0), "{shown}");
    let kept = Exported::only(log).unwrap();
    assert_eq!(kept.entries(), answerer.entries().iter().collect::<Vec<_>>());
    took.sort();
    let ends = kept.ends();
    assert_eq!(ends, [("fit-link-115".to_owned(), "proved".to_owned())]);
    assert_eq!(kept.summary.unwrap().ends.len(), 1);
    Uncut { ends, prompts, starts, answers: took[took.len() / 2] }
}

/// What must be on record after a kill, and what may be.
struct Must {
    have: Vec<Entry>,
    may: Vec<Entry>,
}

/// Leads a call until it is killed, at a random instant behind a random prompt. None where it came to its end before.
fn killed(log: &str, kept: Option<&Exported>, uncut: &Uncut, chance: &mut Chance) -> Option<Must> {
    let call = kept.map_or_else(|| Call::new(Arc::clone(&BOOK)), Exported::call);
    let number = kept.map(|kept| kept.number.to_string());
    let begin = number.as_ref().map_or(vec!["call"], |number| vec!["resume", number]);
    let have = in_words(call.events());
    let mut driven = Driven::start(log, &begin);
    let resumed = if kept.is_some() { vec![Event::Resumed] } else { vec![] };
    if chance.below(6) == 0 {
        let (came, _) = driven.kill(chance.part_of(uncut.starts + uncut.starts / 4));
        let may = in_words(&resumed);
        return Some(if came == Came::Prompt {
            Must { have: [have, may].concat(), may: vec![] }
        } else {
            Must { have, may }
        });
    }
    let mut answerer = Answerer::at(&call);
    assert_eq!(driven.wait(), Came::Prompt, "{}", driven.shown);
    answerer.take_in(resumed);
    // Twice as far as an even share: most calls are killed so often, and a few end before.
    let mut prompts = chance.below(2 * uncut.prompts / KILLS_A_CALL);
    while let Some(Typed { lines, events }) = answerer.types() {
        let have = answerer.entries();
        let last = lines.len() - 1;
        for (step, line) in lines.iter().enumerate() {
            driven.type_line(line);
            if prompts == 0 {
                // Around the time that the answer is on its way to the disk and back.
                let (came, shown) = driven.kill(chance.part_of(2 * uncut.answers));
                let may = if step == last { in_words(&events) } else { vec![] };
                let acknowledged = came == Came::Prompt || events.len() == 1 && shown.contains("    NOTED");
                return Some(if acknowledged {
                    Must { have: [have, may].concat(), may: vec![] }
                } else {
                    Must { have, may }
                });
            }
            prompts -= 1;
            let came = driven.wait();
            assert_eq!(came, Came::Prompt, "it ended by itself: {}", driven.shown);
        }
        answerer.take_in(events);
    }
    driven.type_line("");
    let (shown, code) = driven.end();
    assert_eq!(code, Some(0), "{shown}");
    None
}

fn is_over(kept: &Exported) -> bool {
    !kept.ends().is_empty()
}

/// Leads a call to its end, unless it has come there.
fn go_on(log: &str, kept: Option<&Exported>) {
    if Exported::only(log).as_ref().is_some_and(is_over) {
        return;
    }
    let number = kept.map(|kept| kept.number.to_string());
    let (begin, mut answerer) = match (kept, &number) {
        (Some(kept), Some(number)) => {
            let mut answerer = Answerer::at(&kept.call());
            answerer.take_in(vec![Event::Resumed]);
            (vec!["resume", number], answerer)
        }
        _ => (vec!["call"], Answerer::at(&Call::new(Arc::clone(&BOOK)))),
    };
    let (shown, code) = Driven::start(log, &begin).lead(&mut answerer);
    assert_eq!(code, Some(0), "{shown}");
}

/// What is on record once nothing comes any more: a server may still take in what a client sent before it was killed.
fn settled(log: &str) -> Option<Exported> {
    let mut found = Exported::only(log);
    loop {
        std::thread::sleep(Duration::from_millis(50));
        let again = Exported::only(log);
        let count = |found: &Option<Exported>| found.as_ref().map_or(0, |found| found.entries().len());
        if count(&found) == count(&again) {
            return again;
        }
        found = again;
    }
}

/// Kills calls of a log at so many instants.
fn kill(log: &dyn Fn() -> String, seed: u8, instants: u32) {
    let uncut = uncut(&log());
    let mut chance = Chance(TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]));
    let (mut done, mut in_flight, mut calls) = (0, [0, 0], 0);
    while done < instants {
        let log = log();
        let mut kept = None;
        for _ in 0..KILLS_A_CALL {
            let Some(must) = killed(&log, kept.as_ref(), &uncut, &mut chance) else {
                break;
            };
            done += 1;
            let found = settled(&log);
            let events: Vec<Entry> = found.iter().flat_map(Exported::entries).cloned().collect();
            let whole = [must.have.clone(), must.may.clone()].concat();
            let at = format!("at instant {done} of seed {seed}: {events:#?}");
            assert!(events.len() >= must.have.len(), "an acknowledged answer is lost {at}");
            assert!(
                whole.starts_with(&events),
                "other than was typed, {:?} and then {:?}, {at}",
                must.have.last(),
                must.may
            );
            if !must.may.is_empty() {
                in_flight[usize::from(events.len() > must.have.len())] += 1;
            }
            kept = found;
            if kept.as_ref().is_some_and(is_over) {
                break;
            }
        }
        go_on(&log, kept.as_ref());
        let kept = Exported::only(&log).unwrap();
        assert_eq!(kept.ends(), uncut.ends, "seed {seed}, after {done} instants");
        calls += 1;
    }
    // Else the instants were none of those that this is about.
    let [not_yet, already] = in_flight;
    eprintln!(
        "{done} instants in {calls} calls; words in flight: {not_yet} not on record, {already} on record"
    );
    assert!(instants < 20 || not_yet > 0 && already > 0, "{not_yet} not on record, {already} on record");
}

fn instants() -> u32 {
    std::env::var("MOTORWRIGHT_TESTS_KILLS").map_or(INSTANTS, |many| many.parse().unwrap())
}

#[test]
fn a_call_in_a_file_that_is_killed_at_any_instant_loses_nothing_acknowledged() {
    let folder = tempfile::tempdir().unwrap();
    let many = std::sync::atomic::AtomicU32::new(0);
    let log = || {
        let next = many.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        folder.path().join(format!("{next}.db")).display().to_string()
    };
    kill(&log, 1, instants() * 3 / 4);
}

#[test]
fn a_call_on_a_server_that_is_killed_at_any_instant_loses_nothing_acknowledged() {
    if server::database("killed").is_some() {
        kill(&|| server::database("killed").unwrap(), 2, instants() / 4);
    }
}

/// A call that ends while nobody looks is over: it cannot be taken up.
#[test]
fn a_call_that_came_to_its_end_is_not_taken_up_again() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("calls.db").display().to_string();
    uncut(&log);
    let (told, code) = said(super::on(&log).args(["resume", "1"]));
    assert!(told.contains("call 1 has come to its end") && told.contains("motorwright again 1"), "{told}");
    assert_eq!(code, Some(2));
}
