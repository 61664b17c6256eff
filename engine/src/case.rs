//! Cases: recorded calls with the endings that each must reach.

mod coverage;
mod doc;
mod goes_on;
mod of_call;
mod play;
mod read;
mod unproved;
mod write;

pub use coverage::Coverage;
pub use of_call::Recorded;
pub use play::{Player, Unanswered, Verdict, replay};
pub use unproved::Unproved;

use crate::call::{Call, DeedResult, Event};
use crate::rulebook::{Answer, EndingId, FactId};
use std::collections::BTreeMap;

/// What is found at one time: each fact with its first reading, its second, and so on.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Layer {
    found: BTreeMap<FactId, Vec<Answer>>,
}

impl Layer {
    /// The reading of a fact, by how often it was read of this layer before; the last one repeats.
    #[must_use]
    pub fn reading(&self, fact: FactId, before: usize) -> Option<Answer> {
        let readings = self.found.get(&fact)?;
        readings.get(before).or(readings.last()).copied()
    }

    /// The facts it has, with their first readings.
    pub fn facts(&self) -> impl Iterator<Item = (FactId, Answer)> + '_ {
        self.found.iter().filter_map(|(fact, readings)| readings.first().map(|first| (*fact, *first)))
    }
}

/// A recorded call.
#[derive(Clone, PartialEq, Debug)]
pub struct Case {
    /// Its name.
    pub name: String,
    /// What it is about.
    pub about: Option<String>,
    /// What earlier calls on the unit came to, oldest first: a repair that was done, or left for this visit; or that the
    /// unit could not be proved dead, and that it was seen to.
    pub earlier: Vec<(EndingId, DeedResult)>,
    /// What is found at first.
    pub answers: Layer,
    /// The endings it must reach, in order.
    pub ends: Vec<EndingId>,
    /// What is found once a deed of an ending is done; the n-th time, the n-th layer.
    pub after: BTreeMap<EndingId, Vec<Layer>>,
}

/// What an earlier call came to, and the word for it in a case.
const EARLIER: [(DeedResult, &str); 2] = [(DeedResult::Done, "done"), (DeedResult::Later, "later")];

fn earlier_word(result: DeedResult) -> Option<&'static str> {
    EARLIER.iter().find(|(known, _)| *known == result).map(|(_, word)| *word)
}

impl Case {
    /// Begins a call with what earlier ones on the unit came to.
    pub fn begin(&self, call: &mut Call) {
        for &(ending, result) in &self.earlier {
            call.apply(Event::Earlier { ending, result, of: None });
        }
    }
}
