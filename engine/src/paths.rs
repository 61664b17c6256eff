//! What can be known on the way to each step: an abstract walk over all calls at once.
//!
//! A call walks from the start over its current facts each time, so what a step's line says of a fact holds at every
//! step behind it, whatever was told, taken back or mended in between. So the ways of all calls are the conditions
//! that stand along the paths, and one pass in walking order over the graph finds them: for each step, what each fact
//! may be there (`env`), apart for each thing that plates and profiles go by (`parts`).
//!
//! It claims nothing that is not so: where paths meet, the wider of both is kept. It leaves out: what is worked out of
//! measured readings (their doubt has no bound), relations, readings that scatter more than their meter's statement or
//! are taken with a worse one, and what somebody tells in place of what comes with a plate.

mod cell;
mod coming;
mod env;
mod flow;
mod held;
mod lockouts;
mod nodes;
mod parts;
mod refine;
mod shared;
mod unit;

use crate::graph::StepGraph;
use crate::rulebook::{ChoiceSet, FactId, Line, Rules, StepId};
use cell::{Cell, Values};
pub(crate) use coming::{By, Coming};
pub use lockouts::{Calls, LockOuts, MANY, Span, Swap};
pub(crate) use parts::Apart;
use std::collections::{BTreeMap, BTreeSet};

/// What the abstract walk found.
#[derive(Debug, Default)]
pub struct Paths {
    /// The branches that some call may take.
    taken: BTreeSet<(StepId, Line)>,
    /// What the fact of a step may be when the step is come to.
    at: BTreeMap<StepId, Cell>,
}

impl Paths {
    /// Walks all calls at once. `None` where steps lead round in a loop: that is another finding.
    pub(crate) fn of(rules: &Rules, graph: &StepGraph, apart: Apart) -> Option<Self> {
        flow::walk(rules, graph, apart)
    }

    /// Whether some call may go out of a step by this line.
    #[must_use]
    pub fn takes(&self, step: StepId, line: Line) -> bool {
        self.taken.contains(&(step, line))
    }

    /// Whether a step can be come to at all.
    #[must_use]
    pub fn comes_to(&self, step: StepId) -> bool {
        self.at.contains_key(&step)
    }

    /// The choices that a call may bring to a step.
    pub(crate) fn choices_at(&self, step: StepId) -> ChoiceSet {
        match self.at.get(&step).map(|cell| cell.values) {
            Some(Values::Choices(set)) => set,
            Some(Values::Numbers(_)) | None => ChoiceSet::default(),
        }
    }

    /// Whether the fact of a step is always known, or known to be untellable, when the step is come to.
    pub(crate) fn settled(&self, step: StepId) -> bool {
        self.at.get(&step).is_some_and(|cell| !cell.may_be_unknown())
    }

    /// What the fact of a step may be there, in words.
    pub(crate) fn may_be(&self, rules: &Rules, fact: FactId, step: StepId) -> Option<String> {
        self.at.get(&step).map(|cell| cell.in_words(rules.fact(fact)))
    }
}
