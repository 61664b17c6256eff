//! Two programs on one call.

use super::answerer::Answerer;
use super::driven::{Came, Driven};
use super::{Exported, on, said};
use crate::house::BOOK;
use crate::server;
use engine::call::{Call, Event};
use std::sync::Arc;

/// Runs a test on an empty log of each kind.
fn on_both(test: &str, run: impl Fn(&str)) {
    let folder = tempfile::tempdir().unwrap();
    run(folder.path().join("calls.db").to_str().unwrap());
    if let Some(url) = server::database(test) {
        run(&url);
    }
}

/// A call under way in which some answers are given.
fn under_way(log: &str, answers: usize) -> (Driven, Answerer) {
    let mut answerer = Answerer::at(&Call::new(Arc::clone(&BOOK)));
    let mut driven = Driven::start(log, &["call"]);
    assert_eq!(driven.wait(), Came::Prompt);
    for _ in 0..answers {
        let typed = answerer.types().unwrap();
        driven.type_line(&typed.lines[0]);
        assert_eq!(driven.wait(), Came::Prompt, "{}", driven.shown);
        answerer.take_in(typed.events);
    }
    (driven, answerer)
}

#[test]
fn the_second_seat_is_told_and_may_take_over_and_the_first_is_told_at_its_next_word() {
    on_both("two_programs", |log| {
        let (mut first, mut answerer) = under_way(log, 5);
        let (told, code) = said(on(log).args(["resume", "1"]));
        assert_eq!(code, Some(2));
        assert!(told.contains("call 1 is held by") && told.contains("resume 1 --take-over"), "{told}");
        let (told, code) = said(on(log).args(["forget", "1", "--yes"]));
        assert!(code == Some(2) && told.contains("call 1 is held by"), "{told}");
        // One that is under way is not the call that was left open last.
        let (told, code) = said(on(log).arg("resume"));
        assert!(code == Some(2) && told.contains("no call stands open"), "{told}");

        // It is alive, and nobody can be asked whether that is known.
        let (told, code) = said(on(log).args(["resume", "1", "--take-over"]));
        assert_eq!(code, Some(2));
        assert!(told.contains("call 1 is held by") && told.contains("--take-over --yes"), "{told}");

        let mut second = Driven::start(log, &["resume", "1", "--take-over", "--yes"]);
        assert_eq!(second.wait(), Came::Prompt);
        let typed = answerer.types().unwrap();
        first.type_line(&typed.lines[0]);
        assert_eq!(first.wait(), Came::End);
        let (told, code) = first.end();
        let once = told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(code, Some(2));
        assert!(once.contains("call 1 was taken over by"), "{told}");
        assert!(once.contains("your last answer is not on record"), "{told}");
        answerer.take_in(vec![Event::Resumed]);
        assert_eq!(Exported::only(log).unwrap().entries(), answerer.entries().iter().collect::<Vec<_>>());
        // The second goes on to the end.
        let typed = answerer.types().unwrap();
        second.type_line(&typed.lines[0]);
        answerer.take_in(typed.events);
        let (told, code) = second.lead(&mut answerer);
        assert_eq!(code, Some(0), "{told}");
        let kept = Exported::only(log).unwrap();
        assert_eq!(kept.entries(), answerer.entries().iter().collect::<Vec<_>>());
        assert_eq!(kept.ends(), [("fit-link-115".to_owned(), "proved".to_owned())]);
    });
}

#[test]
fn the_call_of_a_program_that_died_is_gone_on_with_without_asking() {
    on_both("died", |log| {
        let (first, mut answerer) = under_way(log, 7);
        drop(first.kill(std::time::Duration::ZERO));
        let (told, code) = said(on(log).arg("calls"));
        assert!(code == Some(0) && told.contains("OPEN at"), "{told}");
        answerer.take_in(vec![Event::Resumed]);
        let (told, code) = Driven::start(log, &["resume"]).lead(&mut answerer);
        assert_eq!(code, Some(0), "{told}");
        let (told, code) = said(on(log).args(["forget", "1", "--yes"]));
        assert!(code == Some(0) && told.contains("Call 1 is erased"), "{told}");
        assert!(Exported::only(log).is_none());
    });
}

/// What one log has, another takes in; a second time it is known.
#[test]
fn a_call_goes_from_one_kind_of_log_to_the_other_and_back_as_it_was() {
    let Some(server) = server::database("moved") else { return };
    let folder = tempfile::tempdir().unwrap();
    let [first, second, lines] =
        ["first.db", "second.db", "calls.jsonl"].map(|name| folder.path().join(name));
    let (mut driven, answerer) = under_way(first.to_str().unwrap(), 9);
    driven.type_line("note it's \"odd\" \u{e9} \u{1f525}");
    assert_eq!(driven.wait(), Came::Prompt);
    let (told, code) = driven.end();
    assert_eq!(code, Some(1), "{told}");
    let export = |log: &std::ffi::OsStr| {
        let (text, code) = said(on(log).arg("export"));
        assert_eq!(code, Some(0), "{text}");
        text
    };
    let begun = export(first.as_os_str());
    for (from, to) in [(first.as_os_str(), server.as_ref()), (server.as_ref(), second.as_os_str())] {
        std::fs::write(&lines, export(from)).unwrap();
        for told in ["1 taken in, 0 here already, 0 refused", "0 taken in, 1 here already, 0 refused"] {
            let (said, code) = said(on(to).arg("import").arg(&lines));
            assert_eq!((said.trim(), code), (told, Some(0)));
        }
    }
    assert_eq!(export(second.as_os_str()), begun);
    assert!(begun.len() > 20 * answerer.entries().len());
}
