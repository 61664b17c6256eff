//! Every choice of a fact that a call may bring to a step has exactly one line there.

use super::{at_line, at_step, steps};
use crate::finding::{Code, Findings, On};
use crate::graph::StepGraph;
use crate::paths::Paths;
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, Fact, Line, Ways};

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let mut paths = None;
    for id in steps(resolved) {
        let step = resolved.rules.step(id);
        let Ways::Answers(lines) = &step.ways else {
            continue;
        };
        let fact = resolved.rules.fact(step.fact);
        let mut covered = ChoiceSet::default();
        for (index, line) in lines.iter().enumerate() {
            if line.is.meets(covered) {
                let twice = names(fact, line.is.and(covered));
                let draft = at_line(resolved, id, Line::Value(index), |at| {
                    at.key("is").draft(Code::ChoiceCoveredTwice, format!("{twice} already has a line"))
                });
                let first = lines.iter().position(|other| other.is.meets(line.is)).unwrap_or_default();
                let (file, pointer) = at_line(resolved, id, Line::Value(first), |at| {
                    (at.gated().clone(), at.key("is").pointer())
                });
                let draft = draft.also(&file, pointer, On::Value, "the line it has");
                findings.push(draft.help("leave it to one of the two lines"));
            }
            covered = covered.with(line.is);
        }
        let mut missing = fact.every_choice().without(covered);
        if !missing.is_empty() && graph.reachable().any(|step| step == id) {
            // Walked only where it can matter: rules in which every choice has its line need no proof.
            let paths = paths.get_or_insert_with(|| Paths::of(&resolved.rules, graph));
            missing = paths.as_ref().map_or(missing, |paths| missing.and(paths.choices_at(id)));
        }
        if !missing.is_empty() {
            let title = format!("no line for {}", names(fact, missing));
            let draft =
                at_step(resolved, id, |at| at.key("answers").draft_key(Code::ChoiceNotCovered, title));
            findings.push(draft.help(format!("`{}` may be any of these here: give each a line", fact.id)));
        }
    }
}

fn names(fact: &Fact, set: ChoiceSet) -> String {
    set.positions()
        .filter_map(|position| fact.choices().get(position))
        .map(|choice| format!("`{}`", choice.id))
        .collect::<Vec<_>>()
        .join(", ")
}
