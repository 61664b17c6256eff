//! What a call's prompts take, and what happens meanwhile.

use super::Technician;
use engine::call::{Call, Prompt, Reply, Wants};
use engine::rulebook::{Answer, Lasts, Value};

/// Minutes that a prompt takes, as the catalogue says.
pub(super) fn minutes(call: &Call, prompt: &Prompt) -> f64 {
    let book = call.book();
    match prompt.wants() {
        Wants::Fact { fact, .. } => book.fact(*fact).minutes,
        Wants::Deed { deed, .. } => book.deed(*deed).minutes,
        Wants::Power { step, .. } => book.power().words(step.kind).minutes + step.wait.unwrap_or(0.0),
        Wants::Consent { .. } | Wants::Conflict { .. } => 0.0,
    }
}

impl Technician {
    /// "It has just died": whoever is to look at or read a running unit sees that a breaker or a fuse went in the
    /// meantime, and says so first.
    pub(super) fn sees_that_it_died(&mut self, call: &Call, prompt: &Prompt) -> Option<Reply> {
        let book = call.book();
        let Wants::Fact { fact, .. } = prompt.wants() else { return None };
        // Of a unit that is switched off nobody can tell, and a plate is read without looking round.
        let looks = book.fact(*fact).lasts != Lasts::Unit && !self.unit.stand.locked;
        if !self.unit.supply.tripped_unseen || !looks {
            return None;
        }
        self.unit.supply.tripped_unseen = false;
        let (device, is) = if self.unit.supply.fused {
            ("disconnect_position", "fuse_blown")
        } else {
            ("breaker_position", "tripped")
        };
        let device = book.fact_named(device)?;
        let choice = book.fact(device).choice(is)?;
        Some(Reply::Tell(device, Answer::Value(Value::Choices(choice))))
    }
}
