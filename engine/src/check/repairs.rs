//! A repair changes something that decided for it, so that a second pass can end elsewhere. What a deed sets to the very
//! answer that led there stays as it was.

use super::at_line;
use crate::finding::{Code, Findings};
use crate::graph::{Passing, StepGraph};
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, EndingId, FactId, Line, Rules, StepId, Way};
use std::collections::{BTreeSet, HashSet};

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    for (id, line, ending) in changing_nothing(rules, graph) {
        let ending = &rules.endings[ending.index()];
        let fact = &rules.fact(rules.step(id).fact).id;
        let draft = at_line(resolved, id, line, |at| {
            at.key("end").draft(
                Code::RepairChangesNothing,
                format!("`{}` changes nothing of what decided for it", ending.id),
            )
        });
        findings.push(
            draft.help(format!("let one of its deeds make `{fact}` stale, or a fact of a step before")),
        );
    }
}

/// The lines that end in a repair which changes no fact that every call to it has gone by, in file order.
///
/// Where it sets such a fact to what it was, one that only some calls have gone by may be what it changes.
fn changing_nothing(rules: &Rules, graph: &StepGraph) -> BTreeSet<(StepId, Line, EndingId)> {
    let mut found = BTreeSet::new();
    at_each_step(rules, graph, |id, decided| {
        let own = rules.made_of(rules.step(id).fact);
        for (line, ending) in repairs(rules, id) {
            let decides = |fact: &FactId| !decided[fact.index()].is_empty() || own.contains(fact);
            let stays = |fact: &FactId| {
                set_to(rules, ending, *fact)
                    .is_some_and(|set| stays(rules, graph, (*fact, set), (id, line), decided))
            };
            let (gone_by, others): (Vec<_>, Vec<_>) = changed(rules, ending).partition(decides);
            let on_a_way = || others.iter().any(|fact| may_decide(rules, graph, *fact, id));
            if gone_by.iter().all(stays) && (gone_by.is_empty() || !on_a_way()) {
                found.insert((id, line, ending));
            }
        }
    });
    found
}

/// Whether a fact that is set to a value was that before, for whoever comes by a line to what sets it.
pub(super) fn stays(
    rules: &Rules,
    graph: &StepGraph,
    (fact, set): (FactId, ChoiceSet),
    (id, line): (StepId, Line),
    decided: &[Vec<StepId>],
) -> bool {
    let before = decided[fact.index()].iter().map(|step| (*step, leading(rules, graph, *step, id)));
    let mut told = before.chain([(id, vec![line])]);
    told.any(|(step, lines)| is_surely(rules, fact, set, step, &lines))
}

/// Whether a call may have gone by a fact when it comes to a step.
fn may_decide(rules: &Rules, graph: &StepGraph, fact: FactId, to: StepId) -> bool {
    let goes_by = |step: StepId| rules.made_of(rules.step(step).fact).contains(&fact);
    graph.reachable().filter(|step| goes_by(*step)).any(|step| !leading(rules, graph, step, to).is_empty())
}

/// What the last deed of an ending sets a fact to; `None` where one makes it stale.
pub(super) fn set_to(rules: &Rules, ending: EndingId, fact: FactId) -> Option<ChoiceSet> {
    let deeds = || rules.endings[ending.index()].deeds.iter().map(|deed| &rules.deeds[deed.index()]);
    if deeds().any(|deed| deed.stales.contains(&fact)) {
        return None;
    }
    let (_, set) = deeds().flat_map(|deed| &deed.sets).rfind(|(set, _)| *set == fact)?;
    set.choices()
}

/// The lines of a step by which a call comes to a later one.
pub(super) fn leading(rules: &Rules, graph: &StepGraph, from: StepId, to: StepId) -> Vec<Line> {
    leading_to(rules, &graph.behind(to), from)
}

/// The lines of a step by which a call comes to one of these.
pub(super) fn leading_to(rules: &Rules, steps: &HashSet<StepId>, from: StepId) -> Vec<Line> {
    let leads = |way| rules.targets(way).any(|target| steps.contains(&target));
    rules.step(from).ways_out().filter(|(_, way)| leads(*way)).map(|(line, _)| line).collect()
}

/// Whether a fact is this and nothing else for whoever left a step by one of these lines.
fn is_surely(rules: &Rules, fact: FactId, is: ChoiceSet, step: StepId, lines: &[Line]) -> bool {
    let step = rules.step(step);
    let tells = step.fact == fact && !rules.fact(fact).allows_several();
    tells && lines.iter().all(|line| step.choices(*line) == Some(is))
}

/// The lines of a step that end in a repair.
pub(super) fn repairs(rules: &Rules, id: StepId) -> impl Iterator<Item = (Line, EndingId)> {
    rules.step(id).ways_out().filter_map(|(line, way)| match way {
        Way::End(ending) if rules.endings[ending.index()].is_repair() => Some((line, ending)),
        _ => None,
    })
}

/// Calls `each` at every step, with those of the steps that every call passes before it that go by each fact.
pub(super) fn at_each_step(rules: &Rules, graph: &StepGraph, mut each: impl FnMut(StepId, &[Vec<StepId>])) {
    let mut decided = vec![Vec::new(); rules.facts.len()];
    for passing in graph.always_before().walk() {
        match passing {
            Passing::To(id) => {
                each(id, &decided);
                for fact in rules.made_of(rules.step(id).fact) {
                    decided[fact.index()].push(id);
                }
            }
            Passing::From(id) => {
                for fact in rules.made_of(rules.step(id).fact) {
                    decided[fact.index()].pop();
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
