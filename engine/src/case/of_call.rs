//! From a call that was made to the case that tells of it.

mod found;
mod times;
mod unsaid;

use super::goes_on::goes_on;
use super::{Case, earlier_word, replay};
use crate::call::{Call, DeedResult, Event, Next, Purpose};
use crate::rulebook::{EndingId, FactId, Rulebook};
use crate::source::is_unseen;
use found::Found;
use unsaid::Unsaid;

/// A call that was made, as a case, with what a case has no words for.
#[derive(Clone, PartialEq, Debug)]
pub struct Recorded {
    /// What was found, and the endings that the call came to. Whether the trade says the same is not judged yet.
    pub case: Case,
    /// What happened in the call and cannot be said in a case, in plain words, without a full stop.
    pub unsaid: Vec<String>,
}

impl Case {
    /// What was found in a call, as a case without a name: to be played by other rules, and not kept. It is not played
    /// back by these, so that what it cannot say is only what is known of the words themselves.
    #[must_use]
    pub fn found_in(call: &Call) -> Recorded {
        let mut unsaid = Unsaid::default();
        let (answers, after) = Found::of(call, &mut unsaid).into_layers(&mut unsaid);
        let (name, earlier) = (String::new(), earlier(call));
        let case = Self { name, about: None, earlier, answers, ends: ends(call, &mut unsaid), after };
        unsaid.of_the_whole(call);
        Recorded { case, unsaid: unsaid.into_list() }
    }

    /// The case that tells of a call, at its end or broken off, under this name.
    ///
    /// In it is what persons told and still stands: no words taken back, nothing that a deed settles or that comes with
    /// a plate. It stands where a case has it read: at first, or once the work for an ending was begun. Its endings are
    /// those that the call came to; of a call that was left or broken off, the last one is the ending of a person who
    /// left, and its player leaves too. For the trade to judge, somebody has to put the right one in its place. Name and description are made one line each, without
    /// characters that cannot be seen.
    #[must_use]
    pub fn of_call(call: &Call, name: &str, about: Option<&str>) -> Recorded {
        let mut unsaid = Unsaid::default();
        let (answers, after) = Found::of(call, &mut unsaid).into_layers(&mut unsaid);
        let name = one_line(name);
        let about = about.map(one_line).filter(|about| !about.is_empty());
        let earlier = earlier(call);
        let mut case = Self { name, about, earlier, answers, ends: ends(call, &mut unsaid), after };
        unsaid.of_the_whole(call);
        readable(call.book(), &mut case, &mut unsaid);
        played_back(call, &case, &mut unsaid);
        Recorded { case, unsaid: unsaid.into_list() }
    }
}

/// What the call began with of earlier ones on the unit.
fn earlier(call: &Call) -> Vec<(EndingId, DeedResult)> {
    let earlier = call.events().iter().take(began_with(call)).filter_map(|event| match event {
        Event::Earlier { ending, result, .. } => earlier_word(*result).map(|_| (*ending, *result)),
        _ => None,
    });
    earlier.collect()
}

/// How many events a call began with, before anything was asked: what earlier ones on the unit told, and came to.
fn began_with(call: &Call) -> usize {
    let carried = |event: &Event| {
        matches!(event, Event::Earlier { .. } | Event::Told { purpose: Purpose::Unasked, .. })
    };
    call.events().iter().take_while(|event| carried(event)).count()
}

/// A text on one line, with nothing in it that cannot be seen.
fn one_line(text: &str) -> String {
    let seen: String = text.chars().filter(|c| !is_unseen(*c)).collect();
    seen.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The endings that a call came to, in order; of one that was broken off, as if the person had left.
fn ends(call: &Call, unsaid: &mut Unsaid) -> Vec<EndingId> {
    const TO_JUDGE: &str = "so the case leaves; the trade's ending goes last in `ends`";
    let left = call.book().roles().left;
    match call.next() {
        Next::Ended(ended) => {
            if ended.last.ending == left {
                unsaid.say(format!("the person left: {TO_JUDGE}"));
            }
            ended.all().map(|reached| reached.ending).collect()
        }
        Next::Prompt(_) => {
            unsaid.say(format!("the call was broken off: {TO_JUDGE}"));
            let mut call = call.clone();
            // The first word has the unit closed up, the second leaves at once.
            call.apply(Event::Left);
            call.apply(Event::Left);
            match call.next() {
                Next::Ended(ended) => ended.all().map(|reached| reached.ending).collect(),
                Next::Prompt(_) => vec![left],
            }
        }
    }
}

/// Leaves out the repairs that a case file may not name before another ending.
fn readable(book: &Rulebook, case: &mut Case, unsaid: &mut Unsaid) {
    let vain = |case: &Case| (1..case.ends.len()).map(|next| next - 1).find(|at| !goes_on(book, case, *at));
    while let Some(at) = vain(case) {
        let id = &book.ending(case.ends.remove(at)).id;
        unsaid.say(format!(
            "the call went on after `{id}`, though nothing that was told after it fails its proof"
        ));
    }
}

/// Plays the case, and says where it comes to something else than the call did.
fn played_back(call: &Call, case: &Case, unsaid: &mut Unsaid) {
    let book = call.book();
    let ended = match replay(book, case) {
        Ok(verdict) if verdict.ok => return,
        Ok(verdict) => verdict.ended,
        Err(halt) => return unsaid.say(format!("it cannot be played back: {halt}")),
    };
    let ids: Vec<String> =
        ended.all().map(|reached| format!("`{}`", book.ending(reached.ending).id)).collect();
    for fact in call.events().iter().filter_map(volunteered) {
        unsaid.say(format!("`{}` was told unasked: a case waits for the question", book.fact(fact).id));
    }
    let ids = ids.join(", then ");
    unsaid.say(format!("played back, it does not come to what the call came to, but to {ids}"));
}

/// The fact that was told without being asked for.
fn volunteered(event: &Event) -> Option<FactId> {
    match event {
        Event::Told { fact, purpose: Purpose::Unasked, .. } => Some(*fact),
        _ => None,
    }
}
