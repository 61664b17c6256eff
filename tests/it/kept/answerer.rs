//! Who types: a case, with slips that are put right, over a second call that runs beside the program's.
//!
//! What it says goes by the call alone, so that it can go on with one that was cut anywhere.

use crate::house::{BOOK, written};
use crate::scene::{WRONG_LINK, choice, fact};
use engine::call::{Answerer as _, Call, DeedResult, Event, Next, Prompt, Reply, StepResult, Wants};
use engine::case::{Case, Player};
use engine::record::{Entry, Names};
use engine::rulebook::{Answer, PowerStepKind};
use std::sync::{Arc, LazyLock};

/// A repair with its proof: two lock-outs, live and dead readings.
static CASE: LazyLock<Case> = LazyLock::new(|| written(WRONG_LINK));

/// Answers that are wrong at first, and put right at the next prompt.
const SLIPS: [(&str, &str); 3] =
    [("breaker_position", "tripped"), ("disconnect_position", "off"), ("connectors_condition", "burnt")];

/// The case, and the call as it must stand in the program.
pub(super) struct Answerer {
    pub(super) call: Call,
    player: Player<'static>,
}

/// What is typed at a prompt, and the events that it makes.
pub(super) struct Typed {
    /// The lines.
    pub(super) lines: Vec<String>,
    /// What they come to.
    pub(super) events: Vec<Event>,
}

impl Answerer {
    /// Goes on with a call.
    pub(super) fn at(call: &Call) -> Self {
        let mut answerer = Self { call: Call::new(Arc::clone(&BOOK)), player: Player::new(&BOOK, &CASE) };
        answerer.take_in(call.events().to_vec());
        answerer
    }

    /// Takes in what happened.
    pub(super) fn take_in(&mut self, events: Vec<Event>) {
        for event in events {
            self.player.happens(&self.call, &event).unwrap();
            self.call.apply(event);
        }
    }

    /// The call so far, as records keep it.
    pub(super) fn entries(&self) -> Vec<Entry> {
        in_words(self.call.events())
    }

    /// What is typed now; none at the end of the call.
    pub(super) fn types(&mut self) -> Option<Typed> {
        let Next::Prompt(prompt) = self.call.next() else { return None };
        let reply = match (self.reply(&prompt), prompt.wants()) {
            // One line for each step of a deed; each but the last is an event of its own.
            (Reply::Deed(DeedResult::Done), Wants::Deed { ending, deed })
                if self.call.steps_done(*ending, *deed) + 1 < BOOK.deed(*deed).steps.len() =>
            {
                Reply::Worked(self.call.steps_done(*ending, *deed) + 1)
            }
            (reply, _) => reply,
        };
        let events = self.call.hear(Some(&prompt), reply.clone()).unwrap();
        Some(Typed { lines: vec![as_typed(&prompt, &reply)], events })
    }

    fn reply(&mut self, prompt: &Prompt) -> Reply {
        if let Some(reply) = self.slip(prompt) {
            return reply;
        }
        if self.call.notes().is_empty() && self.call.events().len() > 6 {
            return Reply::Note("the attic is hot".to_owned());
        }
        loop {
            match self.player.reply(&self.call, prompt).unwrap() {
                // Told before the call was cut.
                Reply::Tell(fact, answer) if self.call.known(fact) == Some(answer) => {}
                reply => return reply,
            }
        }
    }

    /// A wrong answer where the fact was never told; the right one where the wrong one stands.
    fn slip(&self, prompt: &Prompt) -> Option<Reply> {
        SLIPS.iter().find_map(|(id, wrong)| {
            let (slip, wrong) = (fact(id), choice(id, wrong));
            let told = |event: &Event| matches!(event, Event::Told { fact, .. } if *fact == slip);
            let asked = matches!(prompt.wants(), Wants::Fact { fact, .. } if *fact == slip);
            if asked && !self.call.events().iter().any(told) {
                return Some(Reply::Answer(wrong));
            }
            let right = CASE.answers.reading(slip, 0).unwrap();
            (self.call.known(slip) == Some(wrong)).then_some(Reply::Correct(slip, right))
        })
    }
}

/// Events as records keep them.
pub(super) fn in_words(events: &[Event]) -> Vec<Entry> {
    let names = Names::of(&BOOK);
    events.iter().map(|event| names.write(event)).collect()
}

/// A reply as a person would type it.
fn as_typed(prompt: &Prompt, reply: &Reply) -> String {
    let value = |fact, answer: &Answer| match answer {
        Answer::Cannot => "cannot".to_owned(),
        Answer::Value(value) => BOOK.fact(fact).show(value).replace('_', " "),
    };
    match (reply, prompt.wants()) {
        (Reply::Answer(answer), Wants::Fact { fact, .. }) => value(*fact, answer),
        (Reply::Correct(fact, answer), _) => {
            format!("correct {} {}", BOOK.fact(*fact).name, value(*fact, answer))
        }
        (Reply::Tell(fact, answer), _) => format!("tell {} {}", BOOK.fact(*fact).name, value(*fact, answer)),
        (Reply::Step(StepResult::Done), Wants::Power { step, .. })
            if step.kind == PowerStepKind::TestDead =>
        {
            "dead".to_owned()
        }
        (Reply::Step(StepResult::Done) | Reply::Deed(DeedResult::Done) | Reply::Worked(_), _) => {
            "done".to_owned()
        }
        (Reply::Deed(DeedResult::Now), _) => "now".to_owned(),
        (Reply::Note(text), _) => format!("note {text}"),
        (Reply::Insist, _) => "yes".to_owned(),
        other => panic!("nobody says {other:?} here"),
    }
}
