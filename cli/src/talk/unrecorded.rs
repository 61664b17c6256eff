//! A log that can be written no more in the middle of a call: to go on without it, or to close.

use super::between::{Decided, Question};
use super::screen::Label;
use super::{Stopped, Talk, power, spoken};
use engine::call::{Call, Event};
use engine::rulebook::{Answer, Condition, Signal, Value};

/// Where a call stopped being recorded.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Unrecorded {
    /// The number of the first question whose answer is not on record.
    pub(crate) from: u32,
}

impl Unrecorded {
    /// It, as a sentence.
    pub(crate) fn told(self) -> String {
        format!("This call is NOT RECORDED from question {} on.", self.from)
    }
}

impl Talk<'_> {
    /// Whether the call goes on though this event could not be written down. Somebody has to say so; danger waits for
    /// nobody's word.
    pub(crate) fn goes_on_unrecorded(&mut self, call: &Call, event: &Event, kept: &str, why: &str) -> bool {
        if !self.has_a_clock() {
            return false;
        }
        let unrecorded = Unrecorded { from: call.tally().asked + 1 };
        let goes_on = tells_of_danger(call, event) || self.asked_to_go_on(call, why).unwrap_or(false);
        if goes_on {
            self.seat.unrecorded = Some(unrecorded);
            self.seat.kept = format!("{} What was said before it is kept as {kept}.", unrecorded.told());
            self.again = Some(format!("only what was said before question {}, as {kept}", unrecorded.from));
            // A screen that is gone is found out at the next question.
            let shown = self.screen.row(Label::loud("RECORD"), &unrecorded.told());
            if let Err(error) = shown {
                tracing::debug!(%error, "a call that is not recorded could not be told");
            }
        }
        goes_on
    }

    /// All that was said is on record again, and this is how the call is found.
    pub(crate) fn recorded_again(&mut self, how: String, again: String) {
        self.seat.unrecorded = None;
        self.keep(how, again);
        let shown = self.screen.row(Label::loud("RECORD"), "All that was said is written down again.");
        if let Err(error) = shown {
            tracing::debug!(%error, "a call that is recorded again could not be told");
        }
    }

    fn asked_to_go_on(&mut self, call: &Call, why: &str) -> Result<bool, Stopped> {
        let warning = Label::signal(Signal::Warning);
        self.screen.gap()?;
        self.screen
            .row(Label::loud("RECORD"), &format!("The last answer could not be written down: {why}."))?;
        if power::is_live_and_open(call.power()) {
            self.screen.row(warning, "The unit is live and open. Nobody leaves it so.")?;
        }
        self.screen.row(
            Label::NONE,
            "The call can go on without a record: all before this is kept, and what is said from here on once it can \
             be written down, which is tried at every answer. Till then, copy the note off the screen.",
        )?;
        let question = Question {
            why: "what is said from here on is written down nowhere as long as the log cannot be written",
            how: "make room on the disk, or see why the log cannot be written, in another window; what is said till \
                  then is written down with the next answer",
            wanted: "go on, to go on without a record; or close, to close it here",
        };
        Ok(match self.decided(call, ["go on", "close"], question, spoken::go_on_or_close)? {
            Decided::Said(goes_on) => goes_on,
            Decided::Danger(dangers) => {
                // It is asked about before anything else.
                self.alarm = Some(dangers.unwrap_or_default());
                true
            }
        })
    }
}

/// Whether an event is the word of a danger.
fn tells_of_danger(call: &Call, event: &Event) -> bool {
    let (danger, safe) = call.book().roles().danger;
    match event {
        Event::Danger { .. } => true,
        Event::Told { fact, answer: Answer::Value(value @ Value::Choices(_)), .. } if *fact == danger => {
            !Condition::Is(safe).holds(value)
        }
        Event::Told { fact, answer: Answer::Cannot, .. } => *fact == danger,
        _ => false,
    }
}
