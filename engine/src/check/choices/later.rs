//! Steps that a choice comes to once it has its line at a step before: told of together with that one.

use super::{covered, uncovered};
use crate::check::at_step;
use crate::finding::{Draft, On};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, Line, StepId, Way, Ways};
use std::collections::BTreeSet;

/// A step that choices come to once they have their line at the one before.
pub(super) struct Later {
    pub(super) before: StepId,
    pub(super) step: StepId,
    pub(super) choices: ChoiceSet,
}

/// The steps on the same fact that every line on from a step comes by, where they have no line for what is missing
/// there: each behind the one before it.
pub(super) fn of(resolved: &Resolved, graph: &StepGraph, missing: &[(StepId, ChoiceSet)]) -> Vec<Later> {
    let mut told: Vec<(StepId, ChoiceSet)> = missing.to_vec();
    let mut open = missing.to_vec();
    let mut found = Vec::new();
    while let Some((before, choices)) = open.pop() {
        for step in always_next(resolved, graph, before) {
            let Ways::Answers(lines) = &resolved.rules.step(step).ways else { continue };
            let known = told
                .iter()
                .filter(|(other, _)| *other == step)
                .fold(covered(lines), |all, (_, more)| all.with(*more));
            let choices = choices.without(known);
            if choices.is_empty() {
                continue;
            }
            told.push((step, choices));
            open.push((step, choices));
            found.push(Later { before, step, choices });
        }
    }
    found
}

/// What is told of one.
pub(super) fn told(resolved: &Resolved, later: &Later) -> Draft {
    let (file, pointer) =
        at_step(resolved, later.before, |at| (at.gated().clone(), at.key("answers").pointer()));
    let draft = uncovered(resolved, later.step, later.choices);
    let draft = draft.also(&file, pointer, On::Key, "once it has its line here");
    draft.help("every line that goes on from there comes by here: give it a line here too")
}

/// The next steps on the same fact in the same tree, those that every line on from a step comes by.
fn always_next(resolved: &Resolved, graph: &StepGraph, first: StepId) -> BTreeSet<StepId> {
    let rules = &resolved.rules;
    let step = rules.step(first);
    let (fact, tree) = (step.fact, step.tree);
    let between = |id: StepId| rules.step(id).tree == tree && rules.step(id).fact != fact;
    let next = |id: &StepId| rules.step(*id).tree == tree && rules.step(*id).fact == fact;
    let from = |target: StepId| -> BTreeSet<StepId> {
        if !between(target) {
            return BTreeSet::from([target]);
        }
        let passed = graph.ahead_within(target, between);
        let ways = passed.iter().flat_map(|id| rules.step(*id).ways_out());
        ways.flat_map(|(_, way)| rules.targets(way)).filter(next).collect()
    };
    let targets: BTreeSet<StepId> = step
        .ways_out()
        .filter_map(|(line, way)| match (line, way) {
            (Line::Value(_), Way::Go(target)) => Some(target),
            _ => None,
        })
        .collect();
    let mut each = targets.into_iter().map(from);
    let first = each.next().unwrap_or_default();
    each.fold(first, |all, some| all.intersection(&some).copied().collect())
}
