//! Who answers: somebody typing, or somebody who answers by itself, as a recorded case does.

use super::answer::word;
use super::lines::{self, Lines};
use engine::call::{Answerer, Call, DeedResult, Halt, Prompt, Reply, StepResult, Wants};
use engine::rulebook::{Answer, FactId, PowerStepKind, Value};

/// Who answers.
pub(crate) enum Voice<'v> {
    /// Somebody, in lines.
    Typed(Box<dyn Lines + 'v>),
    /// Whatever answers by itself: a case, or the replies of a call that was made already.
    Played(Box<dyn Answerer + 'v>),
}

impl Voice<'_> {
    pub(super) const fn is_typed(&self) -> bool {
        matches!(self, Self::Typed(_))
    }

    pub(super) fn columns(&mut self) -> Option<usize> {
        match self {
            Self::Typed(lines) => lines.columns(),
            Self::Played(_) => lines::columns(),
        }
    }

    /// What is answered without anybody typing.
    pub(super) fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        match self {
            Self::Typed(_) => Err(Halt("lines are read elsewhere".to_owned())),
            Self::Played(player) => player.reply(call, prompt),
        }
    }
}

/// A reply as a person would have typed it.
pub(super) fn as_typed(call: &Call, prompt: &Prompt, reply: &Reply) -> String {
    let told = |verb: &str, fact: FactId, answer: &Answer| {
        format!("{verb} {} {}", call.book().fact(fact).name, answer_as_typed(call, fact, answer))
    };
    match (reply, prompt.wants()) {
        (Reply::Answer(answer), Wants::Fact { fact, .. }) => answer_as_typed(call, *fact, answer),
        (Reply::Answer(_), _) => String::new(),
        (Reply::Step(StepResult::Done), Wants::Power { step, .. })
            if step.kind == PowerStepKind::TestDead =>
        {
            "dead".to_owned()
        }
        (Reply::Deed(DeedResult::Done), Wants::Consent { .. }) => "already done".to_owned(),
        (Reply::Step(StepResult::Done) | Reply::Deed(DeedResult::Done) | Reply::Worked(_), _) => {
            "done".to_owned()
        }
        (Reply::Step(StepResult::Partly), _) => "only this one".to_owned(),
        (Reply::Step(StepResult::Failed), Wants::Power { step, .. })
            if step.kind == PowerStepKind::FitLeads =>
        {
            "none".to_owned()
        }
        (Reply::Step(StepResult::Failed), _) => "not done".to_owned(),
        (Reply::Deed(DeedResult::Now), _) => "now".to_owned(),
        (Reply::Deed(DeedResult::Later), _) => "later".to_owned(),
        (Reply::Deed(DeedResult::NotPossible), _) => "not possible".to_owned(),
        (Reply::Tell(fact, answer), _) => told("tell", *fact, answer),
        (Reply::Correct(fact, answer), _) => told("correct", *fact, answer),
        (Reply::Danger(what), _) => {
            let danger = call.book().fact(call.book().roles().danger.0);
            format!("danger {}", word(&danger.show(&Value::Choices(*what))))
        }
        (Reply::Note(text), _) => format!("note {text}"),
        (Reply::Insist, _) => "yes".to_owned(),
        (Reply::Back, _) => "back".to_owned(),
        (Reply::Leave, _) => "leave".to_owned(),
    }
}

fn answer_as_typed(call: &Call, fact: FactId, answer: &Answer) -> String {
    match answer {
        Answer::Cannot => "cannot".to_owned(),
        Answer::Value(known) => word(&call.book().fact(fact).show(known)),
    }
}
