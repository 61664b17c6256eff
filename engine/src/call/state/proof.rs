//! How the proof of a repair stands.

use super::State;
use crate::call::hold_off::{self, Held};
use crate::call::walk::Got;
use crate::rulebook::{Condition, EndingId, FactId, Rulebook, Value};

impl State {
    /// The repair whose deeds are all done and whose proof is open.
    pub(in crate::call) fn being_proved(&self, book: &Rulebook) -> Option<EndingId> {
        self.repair
            .as_ref()
            .filter(|repair| repair.done >= book.ending(repair.ending).deeds.len())
            .map(|repair| repair.ending)
    }

    /// What must be found after a repair: what its ending says, and that the complaint is gone, if there was one.
    pub(in crate::call) fn proof<'b>(
        &self,
        book: &'b Rulebook,
        ending: EndingId,
    ) -> impl Iterator<Item = (FactId, Condition)> + use<'b> {
        let proof = &book.ending(ending).proof;
        let (gone, yes) = book.roles().gone;
        // What says nothing of its own is proved by that even in a check.
        let asked = (!self.is_check(book) || proof.is_empty()).then_some((gone, Condition::Is(yes)));
        proof.iter().copied().chain(asked)
    }

    /// Whether the call is a check, with no complaint that could be gone.
    pub(in crate::call) fn is_check(&self, book: &Rulebook) -> bool {
        let complaint = self.get(book, book.roles().complaint);
        matches!(complaint, Got::Known(Value::Choices(set)) if set.within(book.roles().checks))
    }

    pub(in crate::call) fn proof_so_far(&self, book: &Rulebook, ending: EndingId) -> Proof {
        if matches!(hold_off::held(book, &self.power, &self.ledger), Held::Yes(_)) {
            return Proof::Failed;
        }
        let mut stands = Proof::Held;
        for (fact, wanted) in self.proof(book, ending) {
            match self.get(book, fact) {
                Got::Known(value) if wanted.holds(&value) => {}
                Got::Known(_) => return Proof::Failed,
                Got::Ask(_) => stands = Proof::Open,
                Got::Cannot if stands == Proof::Held => stands = Proof::Unreadable,
                Got::Cannot => {}
            }
        }
        stands
    }
}

/// How a proof stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::call) enum Proof {
    /// Something is still to be read.
    Open,
    /// All read, some of it `cannot`.
    Unreadable,
    /// All as expected.
    Held,
    /// Something is otherwise, or power may not come back at all.
    Failed,
}
