//! Where trees say which complaint they serve, the tree that a complaint alone leads to says so too: else its lock-outs
//! are not counted.

use super::{steps, way_out};
use crate::finding::{Code, Draft, Findings, On};
use crate::graph::StepGraph;
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, Line, StepId, TreeId, Way};
use std::collections::BTreeMap;

pub(super) fn check(resolved: &Resolved, _: &StepGraph, findings: &mut Findings) {
    let rules = &resolved.rules;
    let serve = rules.trees.iter().filter_map(|tree| tree.complaint);
    let served = serve.fold(ChoiceSet::default(), ChoiceSet::with);
    if served.is_empty() {
        return;
    }
    let complaint = rules.fact(rules.roles.complaint);
    for (tree, lines) in led_to(resolved) {
        let rule = rules.tree(tree);
        let by = lines.iter().fold(ChoiceSet::default(), |all, (_, _, by)| all.with(*by));
        let alone = by.positions().next().filter(|_| by.len() == 1 && !by.meets(served));
        let (None, Some(position), Some((step, line, _))) = (rule.complaint, alone, lines.first()) else {
            continue;
        };
        let word = &complaint.choices()[position].id;
        let title = format!("`{}` is where the complaint `{word}` leads, and does not say so", rule.id);
        let file = &resolved.tree_files[rule.doc];
        let (other, pointer) = way_out(resolved, *step, *line);
        let draft = Draft::new(Code::NoComplaint, file, "/tree", On::Key, title);
        let draft = draft.also(&other, pointer, On::Value, "this line leads there");
        findings.push(draft.help(format!("add a line `complaint: {word}`")));
    }
}

/// A line, and the complaints that it is taken by.
type By = (StepId, Line, ChoiceSet);

/// The trees that lines on the complaint lead into, each with these lines.
fn led_to(resolved: &Resolved) -> BTreeMap<TreeId, Vec<By>> {
    let rules = &resolved.rules;
    let mut found: BTreeMap<TreeId, Vec<By>> = BTreeMap::new();
    for id in steps(resolved).filter(|id| rules.step(*id).fact == rules.roles.complaint) {
        let step = rules.step(id);
        for (line, way) in step.ways_out() {
            if let (Some(by), Way::ContinueIn(tree) | Way::Visit { tree, .. }) = (step.choices(line), way) {
                found.entry(tree).or_default().push((id, line, by));
            }
        }
    }
    found
}
