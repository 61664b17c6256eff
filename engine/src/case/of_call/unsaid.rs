//! What happened in a call and cannot be said in a case.

use crate::call::{Call, DeedResult, Event, PowerStep, StepResult};
use crate::rulebook::{Answer, DeedId, Fact, FactId, PowerStepKind, Rulebook};

/// The list, each thing once.
#[derive(Debug, Default)]
pub(super) struct Unsaid(Vec<String>);

impl Unsaid {
    /// Adds one thing, if it is not there yet.
    pub(super) fn say(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !self.0.contains(&text) {
            self.0.push(text);
        }
    }

    /// A word that gave way to a later one for which a case has no place beside it.
    pub(super) fn gave_way(&mut self, rule: &Fact, first: Answer, then: Answer) {
        let (first, then) = (shown(rule, first), shown(rule, then));
        self.say(format!("`{}` was told as {first}, and later as {then}: the case has the last", rule.id));
    }

    /// A reading that no case file may hold.
    pub(super) fn out_of_range(&mut self, rule: &Fact, answer: Answer) {
        self.say(format!(
            "`{}` was told as {}, which a case may not say: left out",
            rule.id,
            shown(rule, answer)
        ));
    }

    /// A power step that was not done, or not wholly.
    pub(super) fn power(&mut self, step: &PowerStep, result: StepResult) {
        let name = step.kind.key().replace('-', " ");
        self.say(match (step.kind, result) {
            (PowerStepKind::FitLeads, StepResult::Partly) => {
                "leads could be fitted for one reading only".to_owned()
            }
            (_, StepResult::Partly) => format!("the power step \"{name}\" could be done in part only"),
            _ => format!("the power step \"{name}\" could not be done"),
        });
    }

    /// A deed that was not done. In a case, every deed is.
    pub(super) fn deed(&mut self, book: &Rulebook, deed: DeedId, result: DeedResult) {
        let how = if result == DeedResult::Later { "was left for another visit" } else { "was not possible" };
        self.say(format!("`{}` {how}: in a case it is done", book.deed(deed).id));
    }

    /// A word that was taken back, or told otherwise, after work had been done.
    pub(super) fn taken_back(&mut self, book: &Rulebook, fact: FactId, deed: DeedId) {
        let (fact, deed) = (&book.fact(fact).id, &book.deed(deed).id);
        self.say(format!("what was told first of `{fact}` was taken back after `{deed}` was done"));
    }

    /// What is said of the call as a whole.
    pub(super) fn of_the_whole(&mut self, call: &Call) {
        if call.events().contains(&Event::Resumed) {
            self.say("the call was taken up again on another visit");
        }
        let mut said_since = call.events().iter().skip(super::began_with(call));
        if said_since.any(|event| matches!(event, Event::Earlier { .. })) {
            self.say("that work was done before the call, as was said in the course of it, is not in it");
        }
        if call.ledger().meter().is_some() {
            self.say("the readings were taken with the caller's own meter");
        }
        match call.notes().len() {
            0 => {}
            1 => self.say("one remark for the record is not in it"),
            many => self.say(format!("{many} remarks for the record are not in it")),
        }
    }

    pub(super) fn into_list(self) -> Vec<String> {
        self.0
    }
}

fn shown(rule: &Fact, answer: Answer) -> String {
    match answer {
        Answer::Value(value) => rule.show(&value),
        Answer::Cannot => "cannot".to_owned(),
    }
}
