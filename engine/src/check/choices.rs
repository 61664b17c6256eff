//! Every choice of a fact that a call may bring to a step has exactly one line there.

use super::{at_line, at_step, steps};
use crate::finding::{Code, Findings, On};
use crate::graph::StepGraph;
use crate::paths::{Apart, Paths};
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, Fact, Line, StepId, Ways};
use std::cell::OnceCell;
use std::collections::BTreeSet;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    let proofs =
        Proofs { resolved, graph, reached: OnceCell::new(), quick: OnceCell::new(), whole: OnceCell::new() };
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
        let missing = proofs.may_come(id, fact.every_choice().without(covered));
        if !missing.is_empty() {
            let title = format!("no line for {}", names(fact, missing));
            let draft =
                at_step(resolved, id, |at| at.key("answers").draft_key(Code::ChoiceNotCovered, title));
            findings.push(draft.help(format!("`{}` may be any of these here: give each a line", fact.id)));
        }
    }
}

/// The proofs that a choice never comes to a step. Each is made only where it is needed: rules in which every choice has
/// its line are read without any.
struct Proofs<'r> {
    resolved: &'r Resolved,
    graph: &'r StepGraph,
    reached: OnceCell<BTreeSet<StepId>>,
    quick: OnceCell<Option<Paths>>,
    whole: OnceCell<Option<Paths>>,
}

impl Proofs<'_> {
    /// Those of the choices that may come to a step.
    fn may_come(&self, step: StepId, choices: ChoiceSet) -> ChoiceSet {
        let Self { resolved, graph, reached, quick, whole } = self;
        // A step that nothing leads to is told of by another check, and needs its lines once something does.
        if choices.is_empty() || !reached.get_or_init(|| graph.reachable().collect()).contains(&step) {
            return choices;
        }
        let mut left = choices;
        for (paths, apart) in [(quick, Apart::Nothing), (whole, Apart::Plates)] {
            let paths = paths.get_or_init(|| Paths::of(&resolved.rules, graph, apart));
            // Where steps lead round in a loop nothing is proved: that is told of, and comes first.
            left = paths.as_ref().map_or_else(ChoiceSet::default, |paths| left.and(paths.choices_at(step)));
            if left.is_empty() {
                break;
            }
        }
        left
    }
}

fn names(fact: &Fact, set: ChoiceSet) -> String {
    set.positions()
        .filter_map(|position| fact.choices().get(position))
        .map(|choice| format!("`{}`", choice.id))
        .collect::<Vec<_>>()
        .join(", ")
}
