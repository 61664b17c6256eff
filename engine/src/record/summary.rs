//! What a list of calls shows of one, so that it need not be folded for it.

use super::Standing;
use crate::call::{Call, Event, Next, Outcome, Prompt, Purpose, Towards, Wants};
use crate::rulebook::{Answer, FactId};
use serde::{Deserialize, Serialize};

/// A call in a few fields, by the names of its rules.
#[derive(Clone, PartialEq, Debug, Default, Serialize, Deserialize)]
pub struct Summary {
    /// How many events it stands on.
    pub events: u32,
    /// The complaint as it was told last.
    pub complaint: Option<String>,
    /// Every ending that it came to, in order; empty while it is open.
    pub ends: Vec<End>,
    /// Where it stands while it is open, or where the person left it.
    pub stands: Option<Stands>,
    /// Answers that a person gave because a step asked.
    pub asked: u32,
    /// Completed lock-outs.
    pub lockouts: u32,
    /// Minutes for everything, by what the rules say each thing costs.
    pub minutes: f64,
    /// The facts that were asked for and could not be had, and were still not known at the last word; each once.
    pub not_taken: Vec<String>,
    /// The remarks, as they were typed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<String>,
    /// How the unit stood at the last word. None where an older program summed it up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left: Option<Standing>,
}

/// An ending that a call came to.
#[derive(Clone, PartialEq, Eq, Hash, Debug, Serialize, Deserialize)]
pub struct End {
    /// The ending's id.
    pub ending: String,
    /// How it came out: `proved`, `not proved`, `failed`, `not possible`, `later`, `held off`, `handed over`,
    /// `in order` or `left`.
    pub outcome: String,
}

/// What a call was at, to be told and to be counted.
#[derive(Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Debug, Serialize, Deserialize)]
pub struct Stands {
    /// What is wanted: `reading`, `lock-out`, `leads`, `restore`, `close-up`, `agree`, `deed`, `proof` or `conflict`.
    pub at: String,
    /// The id of the reading, the deed, the ending or the relation that it is wanted for.
    pub of: String,
}

impl Summary {
    /// What there is to show of a call.
    #[must_use]
    pub fn of(call: &Call) -> Self {
        let book = call.book();
        let name = |fact: FactId| book.fact(fact).id.clone();
        let complaint = book.roles().complaint;
        let told = call.ledger().newest_value(complaint);
        let mut not_taken = Vec::new();
        for event in call.events() {
            if let Event::Told { fact, answer: Answer::Cannot, purpose } = event
                && *purpose != Purpose::Unasked
                && call.ledger().newest(*fact).is_some_and(|version| version.answer == Answer::Cannot)
                && !not_taken.contains(&name(*fact))
            {
                not_taken.push(name(*fact));
            }
        }
        let mut summary = Self {
            events: u32::try_from(call.events().len()).unwrap_or(u32::MAX),
            complaint: told.map(|(_, value)| book.fact(complaint).show(&value)),
            ends: Vec::new(),
            stands: None,
            asked: call.tally().asked,
            lockouts: call.power().lockouts(),
            minutes: call.tally().minutes,
            not_taken,
            notes: call.notes().to_vec(),
            left: Some(Standing::of(call)),
        };
        match call.next() {
            Next::Prompt(prompt) => summary.stands = Some(Stands::at(call, &prompt)),
            Next::Ended(ended) => {
                let end = |reached: crate::call::Reached| End {
                    ending: book.ending(reached.ending).id.clone(),
                    outcome: outcome_word(reached.outcome).to_owned(),
                };
                summary.ends = ended.all().map(end).collect();
                if ended.last.outcome == Outcome::Left {
                    summary.stands = call.when_left().and_then(|call| match call.next() {
                        Next::Prompt(prompt) => Some(Stands::at(&call, &prompt)),
                        Next::Ended(_) => None,
                    });
                }
            }
        }
        summary
    }

    /// The last ending, if it came to one.
    #[must_use]
    pub fn last(&self) -> Option<&End> {
        self.ends.last()
    }

    /// Whether there is something to go on with: it came to no ending, or the person left.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.last().is_none_or(|end| end.outcome == outcome_word(Outcome::Left))
    }
}

impl Stands {
    fn at(call: &Call, prompt: &Prompt) -> Self {
        let book = call.book();
        let fact = |fact: FactId| book.fact(fact).id.clone();
        let (at, of) = match prompt.wants() {
            Wants::Fact { fact: of, purpose: Purpose::Proof } => ("proof", fact(*of)),
            Wants::Fact { fact: of, .. } => ("reading", fact(*of)),
            Wants::Power { step, towards } => {
                let of = match towards {
                    Towards::Fact { fact: of, .. } => fact(*of),
                    Towards::Deed { deed, .. } => book.deed(*deed).id.clone(),
                    Towards::CloseUp => step.kind.key().to_owned(),
                };
                (step.routine.word(), of)
            }
            Wants::Consent { ending } => ("agree", book.ending(*ending).id.clone()),
            Wants::Deed { deed, .. } => ("deed", book.deed(*deed).id.clone()),
            Wants::Conflict { relation } => ("conflict", book.relation(*relation).id.clone()),
        };
        Self { at: at.to_owned(), of }
    }
}

/// The word of an outcome in a record, such as `handed over`.
#[must_use]
pub const fn outcome_word(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Proved => "proved",
        Outcome::NotProved => "not proved",
        Outcome::Failed => "failed",
        Outcome::NotPossible => "not possible",
        Outcome::Later => "later",
        Outcome::HeldOff(_) => "held off",
        Outcome::HandedOver => "handed over",
        Outcome::InOrder => "in order",
        Outcome::Left => "left",
    }
}
