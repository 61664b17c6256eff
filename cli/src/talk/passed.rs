//! Whether the time has passed that an answer takes.

use super::between::{Decided, Question};
use super::screen::Label;
use super::{Stopped, Talk, answer, clock, spoken};
use engine::call::{Call, Prompt, Purpose, Reply, Wants};
use engine::rulebook::{Answer, Fact, Time};
use std::time::Duration;

/// What is said of the time.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Passed {
    /// It has passed.
    Yes,
    /// It has not: the answer is not taken.
    No,
    /// Danger was told instead.
    Danger(Reply),
}

impl Talk<'_> {
    /// Until when an answer, or a step of a piece of work, takes its time, by the clock on the wall.
    pub(super) fn until(&self, call: &Call, prompt: &Prompt) -> Option<String> {
        if !self.has_a_clock() {
            return None;
        }
        let (what, minutes) = match prompt.wants() {
            Wants::Fact { fact, purpose } if takes_time(*purpose) => {
                let fact = call.book().fact(*fact);
                let time = fact.waits.iter().max_by(|one, other| one.minutes.total_cmp(&other.minutes))?;
                (named(fact, *time), time.minutes)
            }
            Wants::Deed { deed, .. } => ("this step".to_owned(), call.book().deed(*deed).wait(self.at())?),
            _ => return None,
        };
        let wait = clock::minutes(minutes)?;
        Some(clock::not_before(&what, wait, wait.saturating_sub(self.step_since.elapsed())))
    }

    /// The time that an answer still takes, where it is given before that.
    pub(super) fn still_takes(&self, call: &Call, prompt: &Prompt, answer: &Answer) -> Option<Duration> {
        let Wants::Fact { fact, purpose } = prompt.wants() else { return None };
        let minutes = call.book().fact(*fact).wait(answer).filter(|_| takes_time(*purpose))?;
        let wait = clock::minutes(minutes)?;
        (self.has_a_clock() && self.step_since.elapsed() < wait).then_some(wait)
    }

    /// Asks whether the time has passed all the same: only a plain yes counts.
    pub(super) fn has_passed(&mut self, call: &Call, wait: Duration) -> Result<Passed, Stopped> {
        let passed = self.step_since.elapsed();
        let minutes = clock::in_minutes(wait);
        self.screen.row(Label::quiet("CLOCK"), &clock::too_early(wait, passed))?;
        let say = format!("Have {minutes} passed all the same, since it began?");
        let question = Question {
            why: "what is told too soon may be otherwise once the time is over",
            how: "by a watch, from when the unit began to do what is asked about",
            wanted: "yes, if that time has passed; no, to wait and answer then",
        };
        self.plain_yes(call, &say, question)
    }

    /// Asks what only a plain yes is a yes to.
    pub(super) fn plain_yes(
        &mut self,
        call: &Call,
        say: &str,
        question: Question<'_>,
    ) -> Result<Passed, Stopped> {
        self.screen.row(Label::SAY, say)?;
        let read = |line: &str| spoken::yes_or_no(line).or((spoken::bare(line) == "back").then_some(false));
        loop {
            match self.decided(call, ["yes", "no"], question, read)? {
                Decided::Said(true) => return Ok(Passed::Yes),
                Decided::Said(false) => return Ok(Passed::No),
                Decided::Danger(dangers) => {
                    if let Some(danger) = self.which_danger(call, dangers)? {
                        return Ok(Passed::Danger(danger));
                    }
                }
            }
        }
    }
}

/// A second reading is taken of what has run for its time already.
const fn takes_time(purpose: Purpose) -> bool {
    !matches!(purpose, Purpose::Second | Purpose::Doubted)
}

/// The answers that take a time: by their words, or whatever is read.
fn named(fact: &Fact, time: Time) -> String {
    let words = time.is.map(|is| {
        let ids =
            is.positions().filter_map(|at| fact.choices().get(at)).map(|choice| answer::word(&choice.id));
        ids.collect::<Vec<_>>().join(" or ")
    });
    words.unwrap_or_else(|| "this".to_owned())
}
