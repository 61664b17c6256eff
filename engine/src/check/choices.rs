//! Every choice of a fact that a call may bring to a step has exactly one line there.

mod brought;
mod later;

use super::{at_line, at_step, steps, way_out};
use crate::finding::{Code, Draft, Findings, On};
use crate::graph::StepGraph;
use crate::paths::{Apart, By, Coming, Paths};
use crate::resolve::Resolved;
use crate::rulebook::{AnswerWay, ChoiceSet, Fact, Line, StepId, Ways};
use std::cell::OnceCell;
use std::collections::BTreeSet;

/// Findings of which is looked for what comes before and behind: it costs a walk, and a fault made everywhere has one
/// cause.
const MOST_TRACED: usize = 16;
/// Lines that are shown by which a choice comes to a step.
const MOST_SHOWN: usize = 3;

pub(super) fn check(resolved: &Resolved, graph: &StepGraph, findings: &mut Findings) {
    for id in steps(resolved) {
        if let Ways::Answers(lines) = &resolved.rules.step(id).ways {
            twice(resolved, id, lines, findings);
        }
    }
    let missing = missing(resolved, graph);
    if missing.is_empty() {
        return;
    }
    let traced = missing.iter().take(MOST_TRACED).map(|(id, _)| resolved.rules.step(*id).fact).collect();
    let coming = Coming::of(&resolved.rules, graph, &traced);
    let traceable = missing.get(..MOST_TRACED).unwrap_or(&missing);
    let later = later::of(resolved, graph, traceable);
    let brought =
        coming.as_ref().map_or_else(Vec::new, |coming| brought::of(resolved, coming, &missing, &later));
    for one in &brought {
        findings.push(one.told(resolved));
    }
    for (at, (id, choices)) in missing.iter().enumerate() {
        if brought.iter().any(|one| one.tells_of(*id)) {
            continue;
        }
        let fact = resolved.rules.step(*id).fact;
        let by = coming.as_ref().filter(|_| at < MOST_TRACED).map(|coming| coming.by(*id, fact, *choices));
        let with: Vec<StepId> = later.iter().filter(|(with, _)| *with == at).map(|(_, step)| *step).collect();
        findings.push(told(resolved, *id, *choices, &by.unwrap_or_default(), &with));
    }
}

/// Every step with choices that may come to it and have no line there.
fn missing(resolved: &Resolved, graph: &StepGraph) -> Vec<(StepId, ChoiceSet)> {
    let proofs =
        Proofs { resolved, graph, reached: OnceCell::new(), quick: OnceCell::new(), whole: OnceCell::new() };
    let open = |id: StepId| {
        let step = resolved.rules.step(id);
        let Ways::Answers(lines) = &step.ways else { return None };
        let open = resolved.rules.fact(step.fact).every_choice().without(covered(lines));
        let may_come = proofs.may_come(id, open);
        (!may_come.is_empty()).then_some((id, may_come))
    };
    steps(resolved).filter_map(open).collect()
}

/// The complaints that some step is told of for having no line for them: what leads to their trees is told of there.
pub(super) fn complaints_without_a_line(resolved: &Resolved, graph: &StepGraph) -> ChoiceSet {
    let complaint = resolved.rules.roles.complaint;
    let missing = missing(resolved, graph).into_iter();
    let own = missing.filter(|(id, _)| resolved.rules.step(*id).fact == complaint);
    own.fold(ChoiceSet::default(), |all, (_, choices)| all.with(choices))
}

/// The choices that have a line.
fn covered(lines: &[AnswerWay]) -> ChoiceSet {
    lines.iter().fold(ChoiceSet::default(), |all, line| all.with(line.is))
}

/// Tells of the lines of a step for a choice that has one already.
fn twice(resolved: &Resolved, id: StepId, lines: &[AnswerWay], findings: &mut Findings) {
    let fact = resolved.rules.fact(resolved.rules.step(id).fact);
    let mut covered = ChoiceSet::default();
    for (index, line) in lines.iter().enumerate() {
        if line.is.meets(covered) {
            let twice = names(fact, line.is.and(covered));
            let draft = at_line(resolved, id, Line::Value(index), |at| {
                at.key("is").draft(Code::ChoiceCoveredTwice, format!("{twice} already has a line"))
            });
            let first = lines.iter().position(|other| other.is.meets(line.is)).unwrap_or_default();
            let (file, pointer) =
                at_line(resolved, id, Line::Value(first), |at| (at.gated().clone(), at.key("is").pointer()));
            let draft = draft.also(&file, pointer, On::Value, "the line it has");
            findings.push(draft.help("leave it to one of the two lines"));
        }
        covered = covered.with(line.is);
    }
}

/// A step that has no line for choices, and the lines by which they come there where others do not bring them.
fn told(resolved: &Resolved, id: StepId, choices: ChoiceSet, by: &[By], later: &[StepId]) -> Draft {
    let rules = &resolved.rules;
    let fact = rules.fact(rules.step(id).fact);
    let mut draft = uncovered(resolved, id, choices);
    for By { step, line, known } in by.iter().take(MOST_SHOWN) {
        let (file, pointer) = way_out(resolved, *step, *line);
        let step = rules.step(*step);
        let from = format!("`{}:{}` comes by", rules.tree(step.tree).id, step.id);
        let text = if *known {
            format!("{from}, where `{}` may be {}", fact.id, names(fact, choices))
        } else {
            format!("{from} without having asked `{}`", fact.id)
        };
        draft = draft.also(&file, pointer, On::Value, text);
    }
    let or = match by {
        [] => "",
        by if by.iter().any(|by| !by.known) => ", or ask for it before the step that comes by",
        _ => ", or send it elsewhere at the step that comes by",
    };
    for step in later {
        let (file, pointer) =
            at_step(resolved, *step, |at| (at.gated().clone(), at.key("answers").pointer()));
        draft = draft.also(&file, pointer, On::Key, "every line that goes on from there comes by here");
    }
    let too = if later.is_empty() { "" } else { ", here and at each of the places below" };
    let tree = rules.trees.iter().find(|tree| {
        rules.step(id).fact == rules.roles.complaint
            && tree.complaint.is_some_and(|complaint| complaint.meets(choices))
    });
    let into =
        tree.map_or_else(String::new, |tree| format!("; its tree is led to by `continue in: {}`", tree.id));
    draft.help(format!("`{}` may be any of these here: give each a line{too}{or}{into}", fact.id))
}

/// The finding at a step that has no line for choices.
fn uncovered(resolved: &Resolved, id: StepId, choices: ChoiceSet) -> Draft {
    let fact = resolved.rules.fact(resolved.rules.step(id).fact);
    let title = format!("no line for {}", names(fact, choices));
    at_step(resolved, id, |at| at.key("answers").draft_key(Code::ChoiceNotCovered, title))
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
        let reached = reached.get_or_init(|| graph.reachable().collect());
        // A step that nothing leads to is told of by another check, and needs its lines once something does. What may
        // come to a tree that nothing leads to, nobody can say before.
        if choices.is_empty() || !reached.contains(&step) {
            let start = resolved.rules.tree(resolved.rules.step(step).tree).start;
            return if reached.contains(&start) { choices } else { ChoiceSet::default() };
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
