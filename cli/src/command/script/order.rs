//! Which steps are printed, and in which order: walking order, so that every jump leads forward.

use engine::rulebook::{EndingKind, Rulebook, Step, StepId, TreeId, Way};
use std::collections::{BTreeMap, BTreeSet};

type After = BTreeMap<StepId, BTreeSet<StepId>>;

/// Every step that a tree leads to, itself included, none before one that leads to it.
pub(super) fn steps(book: &Rulebook, tree: TreeId) -> Vec<StepId> {
    let steps: BTreeSet<StepId> = book.graph().ahead(book.tree(tree).start).collect();
    let after: After = steps.iter().map(|step| (*step, targets(book, book.step(*step)))).collect();
    let mut with_visits = after.clone();
    for step in &steps {
        for (inside, then) in ends_of_visits(book, book.step(*step)) {
            with_visits.entry(inside).or_default().insert(then);
        }
    }
    // A visit that comes back to where its own tree can lead has no such order; its jumps still have one.
    let order = walk(book, &with_visits);
    if order.len() == steps.len() { order } else { walk(book, &after) }
}

/// Always the next step of the tree at hand while there is one, so that a tree stays in as few pieces as can be.
fn walk(book: &Rulebook, after: &After) -> Vec<StepId> {
    let mut waits: BTreeMap<StepId, usize> = after.keys().map(|step| (*step, 0)).collect();
    for next in after.values().flatten() {
        if let Some(count) = waits.get_mut(next) {
            *count += 1;
        }
    }
    let mut ready: BTreeSet<StepId> =
        waits.iter().filter(|(_, count)| **count == 0).map(|(step, _)| *step).collect();
    let mut order: Vec<StepId> = Vec::with_capacity(after.len());
    while let Some(step) = next_of(book, &ready, order.last().copied()) {
        ready.remove(&step);
        order.push(step);
        for next in after.get(&step).into_iter().flatten() {
            if let Some(count) = waits.get_mut(next) {
                *count -= 1;
                if *count == 0 {
                    ready.insert(*next);
                }
            }
        }
    }
    order
}

fn next_of(book: &Rulebook, ready: &BTreeSet<StepId>, last: Option<StepId>) -> Option<StepId> {
    let here = last.map(|step| book.step(step).tree);
    ready.iter().copied().find(|step| Some(book.step(*step).tree) == here).or_else(|| ready.first().copied())
}

fn targets(book: &Rulebook, step: &Step) -> BTreeSet<StepId> {
    let mut targets = BTreeSet::new();
    for (_, way) in step.ways_out() {
        match way {
            Way::Go(next) => {
                targets.insert(next);
            }
            Way::End(_) => {}
            Way::ContinueIn(tree) => {
                targets.insert(book.tree(tree).start);
            }
            Way::Visit { tree, then } => {
                targets.extend([book.tree(tree).start, then]);
            }
        }
    }
    targets
}

/// For each visit of a step: the steps that can send it back, and where to.
fn ends_of_visits(book: &Rulebook, step: &Step) -> Vec<(StepId, StepId)> {
    let mut ends = Vec::new();
    for (_, way) in step.ways_out() {
        if let Way::Visit { tree, then } = way {
            let inside = book.graph().ahead(book.tree(tree).start);
            ends.extend(inside.filter(|at| sends_back(book, book.step(*at))).map(|at| (at, then)));
        }
    }
    ends
}

fn sends_back(book: &Rulebook, step: &Step) -> bool {
    step.ways_out()
        .any(|(_, way)| matches!(way, Way::End(ending) if book.ending(ending).kind == EndingKind::InOrder))
}
