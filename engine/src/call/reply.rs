//! What a person may say at a prompt, and the events it makes.

use super::Call;
use super::event::{DeedResult, Event, Purpose, StepResult};
use super::prompt::{Prompt, Towards, Wants};
use crate::rulebook::{Answer, ChoiceSet, FactId, Value};

/// What was said at a prompt.
#[derive(Clone, PartialEq, Debug)]
pub enum Reply {
    /// The answer to what was asked.
    Answer(Answer),
    /// How the power step went.
    Step(StepResult),
    /// The repair: now, done, not possible, or later.
    Deed(DeedResult),
    /// So many steps of the deed are done, from the first.
    Worked(usize),
    /// The person stands by readings that cannot all be true.
    Insist,
    /// A fact that was not asked for.
    Tell(FactId, Answer),
    /// The newest answer is taken back.
    Back,
    /// A fact is told anew in place of what was told.
    Correct(FactId, Answer),
    /// Danger is seen.
    Danger(ChoiceSet),
    /// A remark for the record.
    Note(String),
    /// The person leaves.
    Leave,
}

/// Why a reply means nothing here.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
pub enum Refusal {
    /// There is nothing to take back.
    #[error("nothing has been answered yet that could be taken back")]
    NothingToTakeBack,
    /// The reply belongs to another kind of prompt.
    #[error("that does not answer what is asked here")]
    DoesNotFit,
    /// The fact does not take such a value.
    #[error("this fact does not take such an answer")]
    WrongKind,
    /// The lock-out is never told, only done.
    #[error("that a unit is dead is never told: the lock-out routine proves it")]
    NeverTold,
}

impl Call {
    /// The events that a reply to a prompt makes; without a prompt, at the end of a call.
    ///
    /// # Errors
    /// When the reply means nothing at this prompt; nothing has happened then.
    pub fn hear(&self, prompt: Option<&Prompt>, reply: Reply) -> Result<Vec<Event>, Refusal> {
        match (reply, prompt.map(Prompt::wants)) {
            (Reply::Answer(answer), Some(Wants::Fact { fact, purpose: Purpose::Second })) => {
                self.fits(*fact, answer).map(|()| one(Event::Again { fact: *fact, answer }))
            }
            // A reading that cannot be taken a second time still stands as it was read first.
            (
                Reply::Answer(Answer::Cannot),
                Some(Wants::Power { towards: Towards::Fact { fact, purpose: Purpose::Second }, .. }),
            ) => Ok(one(Event::Again { fact: *fact, answer: Answer::Cannot })),
            (Reply::Answer(answer), Some(Wants::Fact { fact, purpose })) => {
                self.told(*fact, answer, *purpose).map(one)
            }
            // On the way to a reading: it is given up, and the routine with it.
            (
                Reply::Answer(Answer::Cannot),
                Some(Wants::Power { towards: Towards::Fact { fact, purpose }, .. }),
            ) => self.told(*fact, Answer::Cannot, *purpose).map(one),
            (Reply::Step(result), Some(Wants::Power { step, .. })) => {
                Ok(one(Event::Power { step: step.clone(), result }))
            }
            (
                Reply::Deed(result @ (DeedResult::Now | DeedResult::Later | DeedResult::NotPossible)),
                Some(Wants::Consent { ending }),
            ) => {
                let deeds = &self.book.ending(*ending).deeds;
                let deed = *deeds.first().ok_or(Refusal::DoesNotFit)?;
                Ok(one(Event::Deed { ending: *ending, deed, result }))
            }
            // What was left for this visit has been done since.
            (Reply::Deed(DeedResult::Done), Some(Wants::Consent { ending })) if self.is_planned(*ending) => {
                Ok(one(Event::Earlier { ending: *ending, result: DeedResult::Done, of: None }))
            }
            (
                Reply::Deed(result @ (DeedResult::Done | DeedResult::NotPossible | DeedResult::Later)),
                Some(Wants::Deed { ending, deed }),
            ) => Ok(one(Event::Deed { ending: *ending, deed: *deed, result })),
            // The last step is done with the deed.
            (Reply::Worked(steps), Some(Wants::Deed { ending, deed }))
                if steps < self.book.deed(*deed).steps.len() =>
            {
                Ok(one(Event::Worked { ending: *ending, deed: *deed, steps }))
            }
            (Reply::Insist, Some(Wants::Conflict { relation })) => {
                Ok(one(Event::Insist { relation: *relation }))
            }
            (Reply::Tell(fact, answer), _) => {
                self.told(fact, self.added_up(fact, answer), Purpose::Unasked).map(one)
            }
            (Reply::Back, _) => self
                .newest_telling()
                .map(|event| one(Event::Retract { event }))
                .ok_or(Refusal::NothingToTakeBack),
            (Reply::Correct(fact, answer), _) => self.correct(fact, answer),
            (Reply::Danger(what), _) => self.seen(what).map(one),
            (Reply::Note(text), _) => Ok(one(Event::Note(text))),
            (Reply::Leave, _) => Ok(one(Event::Left)),
            (Reply::Answer(_) | Reply::Step(_) | Reply::Deed(_) | Reply::Worked(_) | Reply::Insist, _) => {
                Err(Refusal::DoesNotFit)
            }
        }
    }

    fn told(&self, fact: FactId, answer: Answer, purpose: Purpose) -> Result<Event, Refusal> {
        if fact == self.book.power().proved_dead {
            return Err(Refusal::NeverTold);
        }
        self.fits(fact, answer)?;
        Ok(Event::Told { fact, answer, purpose })
    }

    /// The dangers that were told before and not taken back.
    fn dangers_standing(&self) -> ChoiceSet {
        match self.danger() {
            Some(Answer::Value(Value::Choices(what))) => what.without(self.book.roles().danger.1),
            _ => ChoiceSet::default(),
        }
    }

    /// A further danger, or one that cannot be named, ends none that was told before.
    fn added_up(&self, fact: FactId, answer: Answer) -> Answer {
        let (danger, safe) = self.book.roles().danger;
        let standing = self.dangers_standing();
        if fact != danger || standing.is_empty() {
            return answer;
        }
        match answer {
            Answer::Value(Value::Choices(what)) if !what.within(safe) => {
                Answer::Value(Value::Choices(standing.with(what.without(safe))))
            }
            Answer::Cannot => Answer::Value(Value::Choices(standing)),
            told @ Answer::Value(_) => told,
        }
    }

    fn seen(&self, what: ChoiceSet) -> Result<Event, Refusal> {
        let (fact, safe) = self.book.roles().danger;
        self.fits(fact, Answer::Value(Value::Choices(what)))?;
        if what.within(safe) {
            return Err(Refusal::WrongKind);
        }
        Ok(Event::Danger { what: self.dangers_standing().with(what) })
    }

    fn correct(&self, fact: FactId, answer: Answer) -> Result<Vec<Event>, Refusal> {
        let told = self.told(fact, answer, Purpose::Unasked)?;
        let Some(version) = self.state.ledger.newest(fact) else {
            return Ok(one(told));
        };
        // What a deed settled was not said by anybody, so it cannot be taken back; the new word stands on top.
        let Some(purpose) = version.purpose else {
            return Ok(one(told));
        };
        let event = version.event;
        Ok(vec![Event::Retract { event }, Event::Told { fact, answer, purpose }])
    }

    /// Whether a fact takes such an answer: the right quantity, or choices of its list.
    fn fits(&self, fact: FactId, answer: Answer) -> Result<(), Refusal> {
        let rule = self.book.fact(fact);
        let fits = match answer {
            Answer::Cannot => true,
            Answer::Value(Value::Choices(set)) => {
                !set.is_empty()
                    && set.within(rule.every_choice())
                    && (set.len() == 1 || rule.allows_several())
            }
            Answer::Value(Value::Quantity(quantity)) => {
                rule.expected().is_some_and(|expected| expected.dimension() == quantity.dimension())
            }
        };
        if fits { Ok(()) } else { Err(Refusal::WrongKind) }
    }
}

fn one(event: Event) -> Vec<Event> {
    vec![event]
}
