//! A repair changes something that decided for it, so that a second pass can end elsewhere.

use super::at_line;
use crate::finding::{Code, Findings};
use crate::graph::{Passing, StepGraph};
use crate::resolve::Resolved;
use crate::rulebook::{EndingId, FactId, Line, Rules, StepId, Way};
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for (id, line, ending) in changing_nothing(rules, graph) {
        let ending = &rules.endings[ending.index()];
        let fact = &rules.fact(rules.step(id).fact).id;
        let draft = at_line(resolved, id, line, |at| {
            at.key("end").draft(
                Code::RepairChangesNothing,
                format!("`{}` neither sets nor makes stale what decided for it", ending.id),
            )
        });
        findings.push(
            draft.help(format!("let one of its deeds make `{fact}` stale, or a fact of a step before")),
        );
    }
}

/// The lines that end in a repair which changes no fact that every call to it has gone by, in file order.
fn changing_nothing(rules: &Rules, graph: &StepGraph) -> BTreeSet<(StepId, Line, EndingId)> {
    let mut found = BTreeSet::new();
    at_each_step(rules, graph, |id, decided| {
        let own = rules.made_of(rules.step(id).fact);
        for (line, ending) in repairs(rules, id) {
            if !changed(rules, ending).any(|fact| decided[fact.index()] > 0 || own.contains(&fact)) {
                found.insert((id, line, ending));
            }
        }
    });
    found
}

/// The lines of a step that end in a repair.
pub(super) fn repairs(rules: &Rules, id: StepId) -> impl Iterator<Item = (Line, EndingId)> {
    rules.step(id).ways_out().filter_map(|(line, way)| match way {
        Way::End(ending) if rules.endings[ending.index()].is_repair() => Some((line, ending)),
        _ => None,
    })
}

/// Calls `each` at every step, with how many of the steps that every call passes before it go by each fact.
pub(super) fn at_each_step(rules: &Rules, graph: &StepGraph, mut each: impl FnMut(StepId, &[usize])) {
    let mut decided = vec![0_usize; rules.facts.len()];
    for passing in graph.always_before().walk() {
        match passing {
            Passing::To(id) => {
                each(id, &decided);
                for fact in rules.made_of(rules.step(id).fact) {
                    decided[fact.index()] += 1;
                }
            }
            Passing::From(id) => {
                for fact in rules.made_of(rules.step(id).fact) {
                    decided[fact.index()] -= 1;
                }
            }
        }
    }
}

/// What an ending sets or makes stale, but for what a pass asks anew in any case.
pub(super) fn changed(rules: &Rules, ending: EndingId) -> impl Iterator<Item = FactId> {
    let deeds = rules.endings[ending.index()].deeds.iter().map(|deed| &rules.deeds[deed.index()]);
    deeds
        .flat_map(crate::rulebook::Deed::changed)
        .filter(|fact| ![rules.roles.complaint, rules.roles.danger.0].contains(fact))
}
