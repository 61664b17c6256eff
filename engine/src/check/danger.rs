//! Danger is what a call asks of first.

use super::at_step;
use crate::finding::{Code, Findings};
use crate::graph::StepGraph;
use crate::resolve::Resolved;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let start = rules.tree(rules.roles.start).start;
    let danger = rules.roles.danger.0;
    let step = rules.step(start);
    if step.fact != danger || !step.asks {
        let draft = at_step(resolved, start, |at| {
            at.draft_key(
                Code::DangerNotFirst,
                format!("a call starts here, and does not ask of `{}`", rules.fact(danger).id),
            )
        });
        findings.push(draft.help("make the first step of the start tree ask for danger"));
    }
}
