//! Steps that a choice comes to once it has its line at a step before: told of together with that one.

use super::covered;
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, Line, StepId, Way, Ways};
use std::collections::BTreeSet;

/// The steps on the same fact that every line on from each of these comes by, where they have no line for what is missing
/// there: each with the place in the list that it is told of with.
pub(super) fn of(
    resolved: &Resolved,
    graph: &StepGraph,
    missing: &[(StepId, ChoiceSet)],
) -> Vec<(usize, StepId)> {
    let mut told: Vec<(StepId, ChoiceSet)> = missing.to_vec();
    let mut open: Vec<(usize, StepId, ChoiceSet)> =
        missing.iter().enumerate().map(|(with, (step, choices))| (with, *step, *choices)).collect();
    let mut found = Vec::new();
    while let Some((with, first, choices)) = open.pop() {
        for next in always_next(resolved, graph, first) {
            let Ways::Answers(lines) = &resolved.rules.step(next).ways else { continue };
            let known = told
                .iter()
                .filter(|(step, _)| *step == next)
                .fold(covered(lines), |all, (_, more)| all.with(*more));
            let more = choices.without(known);
            if more.is_empty() {
                continue;
            }
            found.push((with, next));
            told.push((next, more));
            open.push((with, next, more));
        }
    }
    found
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
