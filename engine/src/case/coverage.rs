//! What of the trees a set of cases walks: steps, branches, endings.

use super::{Case, Player};
use crate::call::{Answerer, Call, Event, Halt, Prompt, Refusal, Reply, drive};
use crate::rulebook::{EndingId, Line, Rulebook, StepId};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What was walked so far.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Coverage {
    branches: BTreeSet<(StepId, Line)>,
    endings: BTreeSet<EndingId>,
}

impl Coverage {
    /// Plays a case to its end, and adds what it walks.
    ///
    /// # Errors
    /// [`Halt`] if the case runs longer than any call may: a fault of the rules or the program, not of the case.
    pub fn add(&mut self, book: &Arc<Rulebook>, case: &Case) -> Result<(), Halt> {
        let mut call = Call::new(Arc::clone(book));
        case.begin(&mut call);
        let ended = drive(&mut call, &mut Watched { player: Player::new(book, case), seen: self })?;
        self.walked(&call);
        self.endings.extend(ended.all().map(|reached| reached.ending));
        Ok(())
    }

    fn walked(&mut self, call: &Call) {
        self.branches.extend(call.walk().trail.iter().map(|passed| (passed.step, passed.line)));
    }

    /// Whether a case went out of a step by this line.
    #[must_use]
    pub fn has(&self, step: StepId, line: Line) -> bool {
        self.branches.contains(&(step, line))
    }

    /// Whether a case passed a step.
    #[must_use]
    pub fn has_step(&self, step: StepId) -> bool {
        self.branches.range((step, Line::Value(0))..).next().is_some_and(|(other, _)| *other == step)
    }

    /// Whether a case came to an ending.
    #[must_use]
    pub fn has_ending(&self, ending: EndingId) -> bool {
        self.endings.contains(&ending)
    }
}

/// A case that is watched at every prompt: what is walked at one may be walked no more at the next.
struct Watched<'c, 'w> {
    player: Player<'c>,
    seen: &'w mut Coverage,
}

impl Answerer for Watched<'_, '_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.seen.walked(call);
        self.player.reply(call, prompt)
    }

    fn refused(&mut self, refusal: Refusal) {
        self.player.refused(refusal);
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        self.player.happens(call, event)
    }
}
