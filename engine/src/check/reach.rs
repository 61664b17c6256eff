//! Every tree can be come to, and every step of it.

use super::choices::complaints_without_a_line;
use super::{at_step, steps};
use crate::finding::{Code, Draft, Findings, On};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{StepId, TreeId, Way};
use std::cell::LazyCell;
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let reached: BTreeSet<StepId> = graph.reachable().collect();
    let rules = &resolved.rules;
    let closed = |tree: &crate::rulebook::Tree| !reached.contains(&tree.start);
    // A tree that only such a tree leads to is come to once that one is.
    let led_to: BTreeSet<&str> = rules
        .steps
        .iter()
        .flat_map(|step| step.ways_out().filter_map(|(_, way)| into(way).filter(|tree| *tree != step.tree)))
        .map(|tree| rules.tree(tree).id.as_str())
        .collect();
    // The line that is missing for its complaint is told of, with the way here.
    let without = LazyCell::new(|| complaints_without_a_line(resolved, graph));
    let told =
        |tree: &crate::rulebook::Tree| tree.complaint.is_some_and(|complaint| complaint.meets(*without));
    let alone =
        |tree: &&crate::rulebook::Tree| closed(tree) && !led_to.contains(tree.id.as_str()) && !told(tree);
    for tree in rules.trees.iter().filter(alone) {
        let title = format!("nothing leads to the tree `{}`", tree.id);
        let draft =
            Draft::new(Code::UnreachableStep, &resolved.tree_files[tree.doc], "/tree", On::Value, title);
        findings
            .push(draft.help(format!("send a line of another tree here with `continue in: {}`", tree.id)));
    }
    for id in steps(resolved).filter(|id| !reached.contains(id)) {
        let step = rules.step(id);
        // Of a tree that nothing leads to, its steps need no word of their own.
        if closed(rules.tree(step.tree)) {
            continue;
        }
        let draft = at_step(resolved, id, |at| {
            at.draft_key(Code::UnreachableStep, format!("nothing leads to the step `{}`", step.id))
        });
        findings.push(draft.help("send a line of an earlier step here, or delete it"));
    }
}

/// The tree that a way out leads into.
fn into(way: Way) -> Option<TreeId> {
    match way {
        Way::ContinueIn(tree) | Way::Visit { tree, .. } => Some(tree),
        Way::Go(_) | Way::End(_) => None,
    }
}
