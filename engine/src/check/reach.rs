//! Every step can be come to.

use super::{at_step, steps};
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let reached: BTreeSet<_> = graph.reachable().collect();
    for id in steps(resolved).filter(|id| !reached.contains(id)) {
        let name = &resolved.rules.step(id).id;
        let draft = at_step(resolved, id, |at| {
            at.draft_key(Code::UnreachableStep, format!("nothing leads to the step `{name}`"))
        });
        findings.push(draft.help("send a line of an earlier step here, or delete it"));
    }
}
