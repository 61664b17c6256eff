//! A repair that comes of what could not be told, where nothing before it decided for it.

use super::repairs::{at_each_step, changed, repairs};
use super::{at_line, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{EndingId, Line, StepId};
use std::collections::BTreeMap;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let mut found: BTreeMap<StepId, EndingId> = BTreeMap::new();
    at_each_step(rules, graph, |id, decided| {
        let fact = rules.fact(rules.step(id).fact);
        if fact.may_be_missing || fact.cannot_means.is_some() {
            return;
        }
        let unread =
            repairs(rules, id).filter(|(line, _)| *line == Line::Otherwise).map(|(_, ending)| ending);
        found.extend(
            unread
                .filter(|ending| !changed(rules, *ending).any(|fact| decided[fact.index()] > 0))
                .map(|ending| (id, ending)),
        );
    });
    for id in steps(resolved) {
        let Some(ending) = found.get(&id) else { continue };
        let (ending, fact) = (&rules.endings[ending.index()].id, &rules.fact(rules.step(id).fact).id);
        let title =
            format!("`{ending}` comes of `{fact}` that nobody could tell, and nothing before decided for it");
        let draft =
            at_line(resolved, id, Line::Otherwise, |at| at.key("end").draft(Code::RepairUnread, title));
        findings.push(draft.help("send it on to the next fact that could tell, or to a hand-over"));
    }
}
