//! Which steps are printed, and in which order: walking order, so that every jump leads forward.

use engine::rulebook::{EndingKind, Rulebook, Step, StepId, TreeId, Way};
use std::collections::{BTreeMap, BTreeSet};

type After = BTreeMap<StepId, BTreeSet<StepId>>;

/// Every step that a tree leads to, itself included, none before one that leads to it.
///
/// What a visit comes back to stands behind the tree visited, as far as other trees leave room for that: two that visit
/// one tree, and lead to each other, do not.
pub(super) fn steps(book: &Rulebook, tree: TreeId) -> Vec<StepId> {
    let steps: BTreeSet<StepId> = book.graph().ahead(book.tree(tree).start).collect();
    let after: After = steps.iter().map(|step| (*step, targets(book, book.step(*step)))).collect();
    let mut order = walk(book, &after);
    let mut after = after;
    for (tree, then) in visits(book, &steps) {
        let mut with = after.clone();
        let inside = book.graph().ahead(book.tree(tree).start);
        for back in inside.filter(|at| sends_back(book, book.step(*at))) {
            with.entry(back).or_default().insert(then);
        }
        let better = walk(book, &with);
        if better.len() == steps.len() {
            (order, after) = (better, with);
        }
    }
    order
}

/// Every visit, and where it comes back to.
fn visits(book: &Rulebook, steps: &BTreeSet<StepId>) -> BTreeSet<(TreeId, StepId)> {
    let ways = steps.iter().flat_map(|step| book.step(*step).ways_out());
    let visits = ways.filter_map(|(_, way)| match way {
        Way::Visit { tree, then } => Some((tree, then)),
        _ => None,
    });
    visits.collect()
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

fn sends_back(book: &Rulebook, step: &Step) -> bool {
    step.ways_out()
        .any(|(_, way)| matches!(way, Way::End(ending) if book.ending(ending).kind == EndingKind::InOrder))
}
