//! Cases in which one reading is first said wrong, and is taken anew because it cannot be true beside the others.

use crate::cases::kinds::told;
use crate::house::{BOOK, PLAYED, Played, files};
use engine::call::{Call, Event, Purpose};
use engine::case::Case;
use engine::rulebook::FactId;

/// The cases below `cases/slips`.
fn slips() -> impl Iterator<Item = (&'static Case, &'static Played)> {
    let names: Vec<String> = files("cases/slips", "yaml")
        .iter()
        .map(|path| path.file_stem().unwrap().to_str().unwrap().to_owned())
        .collect();
    PLAYED.iter().filter(move |(case, _)| names.contains(&case.name)).map(|(case, played)| (*case, played))
}

/// The facts that a case says first wrong and then right.
fn slipped(case: &Case) -> Vec<FactId> {
    let anew = |(fact, first)| (case.answers.reading(fact, 1) != Some(first)).then_some(fact);
    case.answers.facts().filter_map(anew).collect()
}

/// The facts that were taken anew because of a contradiction.
fn doubted(call: &Call) -> Vec<FactId> {
    let doubted = call.events().iter().filter_map(|event| match event {
        Event::Told { fact, purpose: Purpose::Doubted, .. } => Some(*fact),
        _ => None,
    });
    doubted.collect()
}

fn stood_by(call: &Call) -> bool {
    call.events().iter().any(|event| matches!(event, Event::Insist { .. }))
}

#[test]
fn a_slip_is_taken_anew_and_the_call_ends_where_the_trade_says() {
    let mut unseen = Vec::new();
    for (case, played) in slips() {
        let [slipped] = slipped(case)[..] else { panic!("{}: one reading is first said wrong", case.name) };
        let call = &played.call;
        let expected: Vec<&str> = case.ends.iter().map(|id| BOOK.ending(*id).id.as_str()).collect();
        assert_eq!(played.endings(), expected, "{}", case.name);
        let id = &BOOK.fact(slipped).id;
        if !doubted(call).contains(&slipped) {
            unseen.push(format!("{}: `{id}` was not taken anew", case.name));
        }
        assert!(!stood_by(call), "{}: nobody has to stand by a slip", case.name);
        assert_eq!(call.broken_relations().count(), 0, "{}: all is well in the end", case.name);
    }
    assert!(unseen.is_empty(), "{}", unseen.join("\n"));
}

#[test]
fn every_complaint_has_a_slip_and_there_are_twelve() {
    let complaint = BOOK.roles().complaint;
    let complaints: Vec<&str> = slips().filter_map(|(case, _)| told(case, complaint)).collect();
    assert!(complaints.len() >= 12, "only {complaints:?}");
    for choice in BOOK.fact(complaint).choices() {
        assert!(complaints.contains(&choice.id.as_str()), "no slip in a call about {}", choice.id);
    }
}

/// A recorded unit is one true state: nothing in a case is doubted but what its first line calls a slip.
#[test]
fn no_reading_of_a_case_is_doubted_but_a_slip() {
    let mut doubts = Vec::new();
    for (case, Played { call, .. }) in PLAYED.iter().filter(|(case, _)| slipped(case).is_empty()) {
        let facts: Vec<&str> = doubted(call).iter().map(|fact| BOOK.fact(*fact).id.as_str()).collect();
        if !facts.is_empty() || stood_by(call) {
            doubts.push(format!("{}: {facts:?}", case.name));
        }
    }
    assert!(doubts.is_empty(), "{}", doubts.join("\n"));
}
