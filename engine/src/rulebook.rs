//! The rulebook: every name resolved, every quantity typed, every way out known to lead somewhere.

mod deed;
mod fact;
mod ids;
mod power;
mod relation;
mod tree;
mod value;

pub use deed::{Deed, Ending, EndingKind};
pub use fact::{
    Asking, Caution, Choice, Fact, Given, Kind, Lasts, PanelNeed, PowerNeed, Signal, Time, Working,
};
pub use ids::{DeedId, EndingId, FactId, HoldOffId, RelationId, StationId, StepId, TreeId};
pub use power::{HoldOff, PowerRules, PowerStepKind, PowerWords, Station};
pub use relation::{Holds, Relation};
pub use tree::{AnswerWay, BandWay, Edge, Line, Step, Tree, Upper, Way, Ways};
pub use value::{Answer, ChoiceSet, Condition, Value};

use crate::check;
use crate::finding::{Finding, Reported};
use crate::graph::StepGraph;
use crate::paths::{Apart, Calls, LockOuts, Paths};
use crate::resolve::Resolved;
use std::collections::BTreeSet;

/// Which facts and endings play which part in a call.
#[derive(Clone, Copy, Debug)]
pub struct Roles {
    /// The tree that every call starts in.
    pub start: TreeId,
    /// What the caller says is wrong.
    pub complaint: FactId,
    /// The fact that tells whether the complaint is gone, and the choice that says so.
    pub gone: (FactId, ChoiceSet),
    /// The complaints that are a check: nothing has to be gone, and a repair that is proved is not the end of it.
    pub checks: ChoiceSet,
    /// The fact of danger, and the choice that says there is none.
    pub danger: (FactId, ChoiceSet),
    /// The dangers that show a unit to be live, whatever was tested.
    pub undoes_dead: ChoiceSet,
    /// The ending of a lock-out that failed.
    pub cannot_prove_dead: EndingId,
    /// The ending of the same deeds coming round a second time.
    pub same_fault_again: EndingId,
    /// The ending when too little could be taken.
    pub not_enough_readings: EndingId,
    /// The ending of a person who left.
    pub left: EndingId,
}

/// The rules by themselves, before they are proved fit for a call.
#[derive(Clone, Debug)]
pub(crate) struct Rules {
    pub(crate) facts: Vec<Fact>,
    pub(crate) deeds: Vec<Deed>,
    pub(crate) endings: Vec<Ending>,
    pub(crate) trees: Vec<Tree>,
    pub(crate) steps: Vec<Step>,
    pub(crate) power: PowerRules,
    pub(crate) relations: Vec<Relation>,
    pub(crate) roles: Roles,
}

impl Rules {
    pub(crate) fn step(&self, id: StepId) -> &Step {
        &self.steps[id.index()]
    }

    pub(crate) fn tree(&self, id: TreeId) -> &Tree {
        &self.trees[id.index()]
    }

    pub(crate) fn fact(&self, id: FactId) -> &Fact {
        &self.facts[id.index()]
    }

    /// The facts that a fact may be had from: itself, and what it is worked out of, down to the last reading.
    pub(crate) fn made_of(&self, fact: FactId) -> BTreeSet<FactId> {
        let mut found = BTreeSet::new();
        let mut open = vec![fact];
        while let Some(fact) = open.pop() {
            if found.insert(fact) {
                open.extend(self.fact(fact).working.iter().flat_map(|working| &working.of));
            }
        }
        found
    }

    /// The facts that one comes from directly: those it is worked out of, and those it comes with.
    pub(crate) fn comes_from(&self, fact: FactId) -> impl Iterator<Item = FactId> {
        let fact = self.fact(fact);
        let with = fact.given.iter().flat_map(|given| &given.when).map(|(with, _)| *with);
        fact.working.iter().flat_map(|working| &working.of).copied().chain(with)
    }

    /// The steps that a way out leads to: none for an ending, two for a visit.
    pub(crate) fn targets(&self, way: Way) -> impl Iterator<Item = StepId> {
        let (first, second) = match way {
            Way::Go(step) => (Some(step), None),
            Way::End(_) => (None, None),
            Way::ContinueIn(tree) => (Some(self.tree(tree).start), None),
            Way::Visit { tree, then } => (Some(self.tree(tree).start), Some(then)),
        };
        first.into_iter().chain(second)
    }
}

/// Rules that have passed every check: the only thing a call can be made from.
#[derive(Clone, Debug)]
pub struct Rulebook {
    rules: Rules,
    graph: StepGraph,
}

impl Rulebook {
    /// Checks resolved rules and binds them into a rulebook.
    ///
    /// # Errors
    /// Every finding of the checks.
    pub fn bind(resolved: Resolved) -> Result<Self, Reported> {
        let graph = StepGraph::of(&resolved.rules);
        check::all(&resolved, &graph)?;
        Ok(Self { rules: resolved.rules, graph })
    }

    /// Resolved rules as they are, with nothing of them checked: what the engine itself never does is tested on these.
    #[cfg(test)]
    pub(crate) fn unchecked(resolved: Resolved) -> Self {
        let graph = StepGraph::of(&resolved.rules);
        Self { rules: resolved.rules, graph }
    }

    /// As [`Rulebook::bind`], with what hinders no call and is still to be mended.
    ///
    /// # Errors
    /// Every finding of the checks that can hinder a call.
    pub(crate) fn prove(resolved: Resolved) -> Result<(Self, Vec<Finding>), Reported> {
        let graph = StepGraph::of(&resolved.rules);
        let found = check::prove(&resolved, &graph)?;
        Ok((Self { rules: resolved.rules, graph }, found))
    }

    /// Every fact, by [`FactId::index`].
    #[must_use]
    pub fn facts(&self) -> &[Fact] {
        &self.rules.facts
    }

    /// Every deed, by [`DeedId::index`].
    #[must_use]
    pub fn deeds(&self) -> &[Deed] {
        &self.rules.deeds
    }

    /// Every ending, by [`EndingId::index`].
    #[must_use]
    pub fn endings(&self) -> &[Ending] {
        &self.rules.endings
    }

    /// Every tree, by [`TreeId::index`].
    #[must_use]
    pub fn trees(&self) -> &[Tree] {
        &self.rules.trees
    }

    /// Every step of every tree, by [`StepId::index`].
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.rules.steps
    }

    /// The fact with this id.
    #[must_use]
    pub fn fact(&self, id: FactId) -> &Fact {
        self.rules.fact(id)
    }

    /// The deed with this id.
    #[must_use]
    pub fn deed(&self, id: DeedId) -> &Deed {
        &self.rules.deeds[id.index()]
    }

    /// The ending with this id.
    #[must_use]
    pub fn ending(&self, id: EndingId) -> &Ending {
        &self.rules.endings[id.index()]
    }

    /// The hand-over where the work of a repair comes round a second time.
    #[must_use]
    pub fn ends_again(&self, repair: EndingId) -> EndingId {
        self.ending(repair).again.unwrap_or(self.roles().same_fault_again)
    }

    /// The tree with this id.
    #[must_use]
    pub fn tree(&self, id: TreeId) -> &Tree {
        self.rules.tree(id)
    }

    /// The step with this id.
    #[must_use]
    pub fn step(&self, id: StepId) -> &Step {
        self.rules.step(id)
    }

    /// The facts that a fact may be had from: itself, and what it is worked out of, down to the last reading.
    #[must_use]
    pub fn made_of(&self, fact: FactId) -> BTreeSet<FactId> {
        self.rules.made_of(fact)
    }

    /// The facts that one comes from directly: those it is worked out of, and those it comes with.
    pub fn comes_from(&self, fact: FactId) -> impl Iterator<Item = FactId> {
        self.rules.comes_from(fact)
    }

    /// The rules of power.
    #[must_use]
    pub fn power(&self) -> &PowerRules {
        &self.rules.power
    }

    /// The relation with this id.
    #[must_use]
    pub fn relation(&self, id: RelationId) -> &Relation {
        &self.rules.relations[id.index()]
    }

    /// What holds of readings that are all true.
    #[must_use]
    pub fn relations(&self) -> &[Relation] {
        &self.rules.relations
    }

    /// Which facts and endings play which part.
    #[must_use]
    pub fn roles(&self) -> &Roles {
        &self.rules.roles
    }

    /// The graph of steps.
    #[must_use]
    pub fn graph(&self) -> &StepGraph {
        &self.graph
    }

    /// What can be known on the way to each step, over all calls.
    #[must_use]
    pub fn paths(&self) -> Paths {
        // A rulebook has no loops.
        Paths::of(&self.rules, &self.graph, Apart::Plates).unwrap_or_default()
    }

    /// The lock-outs on the way to each ending in calls of a kind; `paths` are the rulebook's own.
    #[must_use]
    pub fn lockouts(&self, paths: &Paths, of: Calls) -> LockOuts {
        LockOuts::of(&self.rules, &self.graph, paths, of).unwrap_or_default()
    }

    /// All fact ids.
    pub fn fact_ids(&self) -> impl Iterator<Item = FactId> + use<> {
        (0..self.rules.facts.len()).map(FactId::at)
    }

    /// All step ids, in file order.
    pub fn step_ids(&self) -> impl Iterator<Item = StepId> + use<> {
        (0..self.rules.steps.len()).map(StepId::at)
    }

    /// The fact of this name, as in case files.
    #[must_use]
    pub fn fact_named(&self, id: &str) -> Option<FactId> {
        self.rules.facts.iter().position(|fact| fact.id == id).map(FactId::at)
    }

    /// The ending of this name, as in case files.
    #[must_use]
    pub fn ending_named(&self, id: &str) -> Option<EndingId> {
        self.rules.endings.iter().position(|ending| ending.id == id).map(EndingId::at)
    }
}
