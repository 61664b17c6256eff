//! A repair changes something that decided for it, so that a second pass can end elsewhere.

use super::{at_line, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{EndingId, FactId, Rules, StepId, Way};
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let always_before = graph.always_before();
    let reached: BTreeSet<StepId> = graph.reachable().collect();
    for id in steps(resolved).filter(|id| reached.contains(id)) {
        for (line, way) in resolved.rules.step(id).ways_out() {
            let Way::End(ending) = way else { continue };
            let rule = &resolved.rules.endings[ending.index()];
            let changes_one = || {
                decided_by(&resolved.rules, &always_before, id)
                    .into_iter()
                    .any(|fact| changes(&resolved.rules, ending, fact))
            };
            if !rule.is_repair() || changes_one() {
                continue;
            }
            let fact = &resolved.rules.fact(resolved.rules.step(id).fact).id;
            let draft = at_line(resolved, id, line, |at| {
                at.key("end").draft(
                    Code::RepairChangesNothing,
                    format!("`{}` neither sets nor makes stale what decided for it", rule.id),
                )
            });
            findings.push(
                draft.help(format!("let one of its deeds make `{fact}` stale, or a fact of a step before")),
            );
        }
    }
}

/// The facts that every call has gone by when it takes a line of this step.
fn decided_by(rules: &Rules, always_before: &impl Fn(StepId) -> Vec<StepId>, step: StepId) -> Vec<FactId> {
    always_before(step)
        .into_iter()
        .flat_map(|step| rules.made_of(rules.step(step).fact))
        // What a pass asks anew in any case does not count as decided.
        .filter(|&fact| fact != rules.roles.complaint && fact != rules.roles.danger.0)
        .collect()
}

fn changes(rules: &Rules, ending: EndingId, fact: FactId) -> bool {
    rules.endings[ending.index()].deeds.iter().any(|deed| rules.deeds[deed.index()].changes(fact))
}
