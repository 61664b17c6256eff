//! Steps of other trees that lack a line for what one line first brings to them: one fault, told of at that line.

use super::{MOST_SHOWN, MOST_TRACED, names};
use crate::check::{at_step, way_out};
use crate::finding::{Code, Draft, On};
use crate::paths::Coming;
use crate::resolve::Resolved;
use crate::rulebook::{ChoiceSet, FactId, Line, StepId};
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// Lines that bring choices to trees which have no line for them.
pub(super) struct Brought {
    fact: FactId,
    choices: ChoiceSet,
    /// The first of the lines, and the others.
    first: (StepId, Line),
    others: Vec<(StepId, Line)>,
    /// Whether the fact is known on every way by them.
    known: bool,
    /// The steps: two or more.
    steps: BTreeSet<StepId>,
}

/// What is missing at several steps, and comes there by the same lines of other trees: with the steps that are told of
/// with one of these, each with its place in the list.
pub(super) fn of(
    resolved: &Resolved,
    coming: &Coming,
    missing: &[(StepId, ChoiceSet)],
    later: &[(usize, StepId)],
) -> Vec<Brought> {
    let rules = &resolved.rules;
    let mut firsts = HashMap::new();
    let mut found = BTreeMap::<(FactId, Vec<(StepId, Line)>), Brought>::new();
    for (step, choices) in missing {
        let fact = rules.step(*step).fact;
        let key = (fact, *choices);
        if !firsts.contains_key(&key) && firsts.len() < MOST_TRACED {
            firsts.insert(key, coming.first(rules, fact, *choices));
        }
        let by: Vec<_> =
            firsts.get(&key).and_then(|of| of.get(step)).into_iter().flatten().copied().collect();
        let tree = rules.step(*step).tree;
        let Some((first, others)) = by.split_first() else { continue };
        if by.iter().any(|(from, _)| rules.step(*from).tree == tree) {
            continue;
        }
        let one = found.entry((fact, by.clone())).or_insert_with(|| Brought {
            fact,
            choices: ChoiceSet::default(),
            first: *first,
            others: others.to_vec(),
            known: by.iter().all(|(step, line)| coming.knows(*step, *line, fact)),
            steps: BTreeSet::new(),
        });
        one.choices = one.choices.with(*choices);
        one.steps.insert(*step);
    }
    let mut found: Vec<Brought> = found.into_values().filter(|one| one.steps.len() > 1).collect();
    for (with, step) in later {
        let before = missing.get(*with).map(|(step, _)| step);
        for one in found.iter_mut().filter(|one| before.is_some_and(|before| one.steps.contains(before))) {
            one.steps.insert(*step);
        }
    }
    found
}

impl Brought {
    /// Whether it tells of what is missing at a step.
    pub(super) fn tells_of(&self, step: StepId) -> bool {
        self.steps.contains(&step)
    }

    /// What is told of it.
    pub(super) fn told(&self, resolved: &Resolved) -> Draft {
        let rules = &resolved.rules;
        let fact = rules.fact(self.fact);
        let choices = names(fact, self.choices);
        let count = self.steps.len();
        let title = if self.known {
            format!("by this line `{}` comes as {choices} to {count} steps that have no line for it", fact.id)
        } else {
            format!("by this line {count} steps are come to that have no line for {choices} of `{}`", fact.id)
        };
        let (step, line) = self.first;
        let (file, pointer) = way_out(resolved, step, line);
        let mut draft = Draft::new(Code::ChoiceNotCovered, &file, pointer, On::Value, title);
        for (step, line) in &self.others {
            let (file, pointer) = way_out(resolved, *step, *line);
            draft = draft.also(&file, pointer, On::Value, "and by this one");
        }
        for step in self.steps.iter().take(MOST_SHOWN) {
            let (file, pointer) =
                at_step(resolved, *step, |at| (at.gated().clone(), at.key("answers").pointer()));
            draft = draft.also(&file, pointer, On::Key, "no line for it here");
        }
        let trees: BTreeSet<&str> =
            self.steps.iter().map(|step| rules.tree(rules.step(*step).tree).id.as_str()).collect();
        let trees = trees.into_iter().map(|id| format!("`{id}`")).collect::<Vec<_>>().join(", ");
        let ask = if self.known { "" } else { "ask for it before this line, or " };
        draft.help(format!(
            "{ask}let this line end or go elsewhere; else each step on `{}` in {trees} needs a line for it",
            fact.id
        ))
    }
}
