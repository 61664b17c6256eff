//! What was read after a repair and does not prove it.

use crate::call::{Call, Event};
use crate::rulebook::{Answer, Condition, EndingId, FactId, Value};

/// A reading that did not come out as the proof of a repair expects it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Unproved {
    /// The repair.
    pub ending: EndingId,
    /// What was read.
    pub fact: FactId,
    /// What it came out as.
    pub found: Value,
    /// What is expected of it.
    pub wanted: Condition,
}

impl Unproved {
    /// What an event that is just happening tells against the repair that is being proved.
    pub(super) fn by(call: &Call, event: &Event) -> Option<Self> {
        let Event::Told { fact, answer: Answer::Value(found), .. } = *event else { return None };
        let ending = call.being_proved()?;
        let wanted = call.expected_in_proof(ending, fact)?;
        (!wanted.holds(&found)).then_some(Self { ending, fact, found, wanted })
    }
}
