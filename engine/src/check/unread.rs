//! A repair that comes of what could not be told, on a way on which nothing that was told decided for it.

use super::repairs::{changed, repairs};
use super::{at_line, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{EndingId, FactId, Line, Rules, StepId};
use std::collections::{BTreeMap, HashSet};

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let mut untold = BTreeMap::new();
    for id in steps(resolved) {
        let step = rules.step(id);
        if tells(rules, id, Line::Otherwise) {
            continue;
        }
        for (_, ending) in repairs(rules, id).filter(|(line, _)| *line == Line::Otherwise) {
            let untold = untold.entry(ending).or_insert_with(|| come_to_untold(rules, graph, ending));
            if !untold.contains(&id) {
                continue;
            }
            let (ending, fact) = (&rules.endings[ending.index()].id, &rules.fact(step.fact).id);
            let title = format!(
                "`{ending}` comes of `{fact}` that nobody could tell, and nothing before decided for it"
            );
            let draft =
                at_line(resolved, id, Line::Otherwise, |at| at.key("end").draft(Code::RepairUnread, title));
            findings.push(draft.help("send it on to the next fact that could tell, or to a hand-over"));
        }
    }
}

/// The steps that can be come to with nothing told of what a repair changes: each that asked for it was left by its
/// `cannot`. A step that only looks a fact up leaves open what was told in its place.
fn come_to_untold(rules: &Rules, graph: &StepGraph, ending: EndingId) -> HashSet<StepId> {
    let changed: HashSet<FactId> = changed(rules, ending).collect();
    let decides = |id| rules.made_of(rules.step(id).fact).iter().any(|fact| changed.contains(fact));
    let goes_by = |id, line| tells(rules, id, line) || !rules.step(id).asks;
    graph.reachable_by(|id, line| !(goes_by(id, line) && decides(id)))
}

/// Whether whoever goes on by a line was told of its fact.
fn tells(rules: &Rules, id: StepId, line: Line) -> bool {
    let fact = rules.fact(rules.step(id).fact);
    line != Line::Otherwise || fact.may_be_missing || fact.cannot_means.is_some()
}
